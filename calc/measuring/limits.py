"""A size with its limits as a print gives them, and how a measured value stands to them."""

from __future__ import annotations

from typing import NamedTuple


class Limits(NamedTuple):
    """The smallest and the largest size allowed (mm), None where the print gives none on that side."""

    lower: float | None = None
    upper: float | None = None

    def allows(self, size: float) -> bool:
        """Whether a size (mm) lies within the limits.

        >>> Limits(9.9, 10.1).allows(10.1), Limits(None, 10.0).allows(10.2)
        (True, False)
        """
        return not (self.is_below(size) or self.is_above(size))

    def is_below(self, size: float) -> bool:
        """Whether a size (mm) is under the lower limit by more than rounding."""
        return self.lower is not None and size < self.lower - ROUNDED

    def is_above(self, size: float) -> bool:
        """Whether a size (mm) is over the upper limit by more than rounding."""
        return self.upper is not None and size > self.upper + ROUNDED

    def in_doubt(self, size: float, spread: float) -> bool:
        """Whether a size known to `spread` (mm) could lie on the other side of a limit.

        Source: ISO 14253-1, conformity is proved only inside the limits less the uncertainty.

        >>> Limits(9.9, 10.1).in_doubt(10.097, 0.005), Limits(9.9, 10.1).in_doubt(10.0, 0.005)
        (True, False)
        """
        return any(limit is not None and abs(size - limit) < spread for limit in self)

    def verdict(self, size: float, spread: float | None) -> str:
        """In words how a size (mm) known to `spread` (mm, None where not known) stands to the limits.

        >>> Limits(9.9, 10.1).verdict(10.0, 0.01), Limits(9.9, 10.1).verdict(9.8, None)
        ('within the limits', 'below the lower limit')
        """
        if not self.allows(size):
            return "below the lower limit" if self.is_below(size) else "above the upper limit"
        doubt = spread is None or self.in_doubt(size, spread)
        return "within the limits, but not proved by this spread" if doubt else "within the limits"


ROUNDED = 1e-9
"""mm: what rounding in inches leaves of a limit."""


def read_limits(nominal: float, lower: float | None, upper: float | None) -> Limits:
    """The limits (mm) that go with a nominal size: given as sizes, or as what is allowed below and above it.

    Numbers nearer to zero than to the nominal size are deviations from it. Swapped ones are put in order.

    >>> read_limits(28.0, 28.0, 28.1), read_limits(75.0, -0.125, 0.125), read_limits(24.0, -0.25, None)
    (Limits(lower=28.0, upper=28.1), Limits(lower=74.875, upper=75.125), Limits(lower=23.75, upper=None))
    """
    told = [limit for limit in (lower, upper) if limit is not None]
    middle = sum(told) / len(told) if told else nominal
    base = nominal if abs(middle) < abs(middle - nominal) else 0.0
    if lower is not None and upper is not None and lower > upper:
        lower, upper = upper, lower
    return Limits(None if lower is None else base + lower, None if upper is None else base + upper)
