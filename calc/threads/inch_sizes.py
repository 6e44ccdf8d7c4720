"""Sizes of inch threads as they are written: numbers, fractions and decimals of an inch."""

from __future__ import annotations

from fractions import Fraction

from calc.threads.refusing import refused

NUMBERED = {number: 0.060 + 0.013 * number for number in (0, 1, 2, 3, 4, 5, 6, 8, 10, 12)}


def inch_size(text: str, number: str | None, per_inch: float) -> tuple[str, float]:
    """The name and the inches of the size written in `text`.

    A small whole number is a numbered size when it is said to be a `number` or has many threads `per_inch`. Raises
    `OutOfRange` for a text that is no size.

    >>> inch_size("10", None, 32.0)
    ('#10', 0.19)
    """
    if "/" not in text and "." not in text:
        whole = int(text)
        least = 36.0 if whole <= 4 else 24.0
        if whole in NUMBERED and (number or whole == 0 or per_inch >= least):
            return f"#{whole}", NUMBERED[whole]
    inches = inches_of(text)
    named = next((name for name, value in NUMBERED_BY_NAME.items() if abs(value - inches) < 5e-5), None)
    return named or as_fraction(inches), inches


NUMBERED_BY_NAME = {f"#{number}": inches for number, inches in NUMBERED.items()}


def inches_of(text: str) -> float:
    """Inches of a `text` like `1 1/4`, `1-1/4`, `3/4` or `.75`. Raises `OutOfRange` for a fraction over 0.

    >>> inches_of("1 1/4")
    1.25
    """
    whole, _, fraction = text.replace("-", " ").rpartition(" ")
    try:
        return float(Fraction(fraction) + Fraction(whole or "0"))
    except ZeroDivisionError:
        raise refused("“{typed}” is not a size: its fraction has 0 below the line.", text) from None


def as_fraction(inches: float) -> str:
    """A size in `inches` as a fraction, in decimals where it is no fraction of 64.

    >>> as_fraction(1.25)
    '1 1/4'
    """
    exact = Fraction(inches).limit_denominator(64)
    if abs(float(exact) - inches) > 1e-6:
        return f"{inches:g}"
    whole, rest = divmod(exact, 1)
    return " ".join(part for part in (str(whole) if whole else "", str(rest) if rest else "") if part) or "0"
