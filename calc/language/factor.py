"""Exact numbers that units are the size of: fractions times powers of pi, so that nothing is lost in a round trip."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Factor:
    """An exact positive or negative number: a fraction times a power of pi.

    >>> Factor(Fraction(1, 180), 1) * Factor(Fraction(180), -1)
    Factor(ratio=Fraction(1, 1), pi_power=0)
    """

    ratio: Fraction
    pi_power: int = 0

    def __mul__(self, other: Factor) -> Factor:
        return Factor(self.ratio * other.ratio, self.pi_power + other.pi_power)

    def __truediv__(self, other: Factor) -> Factor:
        return Factor(self.ratio / other.ratio, self.pi_power - other.pi_power)

    def __pow__(self, exponent: int) -> Factor:
        return Factor(self.ratio**exponent, self.pi_power * exponent)

    def __float__(self) -> float:
        return float(self.ratio) * math.pi**self.pi_power

    @property
    def is_one(self) -> bool:
        """Whether the factor changes nothing."""
        return self.ratio == 1 and self.pi_power == 0

    def times(self, value: float) -> float:
        """`value` times this factor, rounded as late as floats allow.

        >>> Factor(Fraction(127, 5)).times(1.0)
        25.4
        """
        product = value * self.ratio.numerator / self.ratio.denominator
        return product if self.pi_power == 0 else product * math.pi**self.pi_power

    def over(self, value: float) -> float:
        """`value` divided by this factor, rounded as late as floats allow.

        >>> Factor(Fraction(127, 5)).over(25.4)
        1.0
        """
        quotient = value * self.ratio.denominator / self.ratio.numerator
        return quotient if self.pi_power == 0 else quotient / math.pi**self.pi_power


ONE = Factor(Fraction(1))
THOUSAND = Factor(Fraction(1000))
INCH = Factor(Fraction(254, 10))
FOOT = Factor(Fraction(3048, 10))
DEGREE = Factor(Fraction(1, 180), 1)
POUND = Factor(Fraction(45359237, 100_000_000))  # kg, exact by definition
POUND_FORCE = POUND * Factor(Fraction(980665, 100_000))  # N, exact by definition
KILOWATT = Factor(Fraction(60_000_000))  # N mm/min
HORSEPOWER = FOOT * POUND_FORCE * Factor(Fraction(33_000))  # 33 000 lbf ft/min, exact by definition
