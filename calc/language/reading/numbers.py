"""Digits and their marks as an exact number, and what else they could have meant.

One decimal mark, point or comma, is read; a comma before exactly three digits may as well group thousands, so both
readings are offered and none is taken. Marks that can only group thousands are asked back too: nobody types them on
purpose twice, and a slip would be a thousand times too large.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple

LARGEST_EXPONENT = 300  # what a float holds; larger ones are never typed on purpose


class Number(NamedTuple):
    """An exact number and the worth of its last typed decimal, None where no decimal was typed."""

    value: Fraction
    place: Fraction | None = None


_ONE_MARK = re.compile(r"\d*[.,]?\d*")
_COMMA_OR_GROUP = re.compile(r"[1-9]\d{0,2},\d{3}")
_GROUPED = re.compile(r"(\d{1,3}(?:([.,'])\d{3})(?:\2\d{3})*)(?:(?!\2)[.,](\d*))?")


def other_readings(digits: str) -> tuple[str, ...]:
    """The readings to choose from where marks may group thousands, () where the digits have one meaning or none.

    >>> other_readings("1,500"), other_readings("1.500,25"), other_readings("0,500"), other_readings("1,2,3")
    (('1.500', '1500'), ('1500.25',), (), ())
    """
    mantissa, exponent = _parts(digits)
    if _COMMA_OR_GROUP.fullmatch(mantissa):
        return mantissa.replace(",", ".") + exponent, mantissa.replace(",", "") + exponent
    grouped = None if _ONE_MARK.fullmatch(mantissa) else _GROUPED.fullmatch(mantissa)
    if grouped is None:
        return ()
    decimals = f".{grouped[3]}" if grouped[3] else ""
    return (re.sub("[.,']", "", grouped[1]) + decimals + exponent,)


def number(digits: str) -> Number | None:
    """The number that the digits mean, None where the marks make no number.

    >>> number("2,50"), number("5."), number("1..2")
    (Number(value=Fraction(5, 2), place=Fraction(1, 100)), Number(value=Fraction(5, 1), place=None), None)
    """
    mantissa, exponent = _parts(digits)
    if not _ONE_MARK.fullmatch(mantissa):
        return None
    whole, _, decimals = mantissa.replace(",", ".").partition(".")
    scale = Fraction(10) ** (int(exponent[1:] or "0") - len(decimals))
    return Number(int(whole + decimals) * scale, scale if decimals and scale < 1 else None)


def too_extreme(digits: str) -> bool:
    """Whether the power of ten is beyond what can be computed with.

    >>> too_extreme("1e9"), too_extreme("1e999")
    (False, True)
    """
    exponent = _parts(digits)[1][1:].lstrip("+-").lstrip("0")
    return len(exponent) > 3 or int(exponent or "0") > LARGEST_EXPONENT


def is_whole(digits: str) -> bool:
    """Whether these are digits only, as above and below the line of a fraction.

    >>> is_whole("16"), is_whole("1.6")
    (True, False)
    """
    return digits.isascii() and digits.isdigit()


def decimal_digits(value: Fraction) -> str:
    """A number as somebody would type it: exact where ten decimals are enough.

    >>> decimal_digits(Fraction(121, 2)), decimal_digits(Fraction(1, 16)), decimal_digits(Fraction(60))
    ('60.5', '0.0625', '60')
    """
    scaled = round(abs(value) * 10**10)
    whole, decimals = divmod(scaled, 10**10)
    text = f"{whole}.{decimals:010d}".rstrip("0").rstrip(".")
    return f"-{text}" if value < 0 and scaled else text


def _parts(digits: str) -> tuple[str, str]:
    mantissa, mark, exponent = digits.lower().partition("e")
    return mantissa, mark + exponent
