"""A size with a tolerance class behind it, as prints write one: `24 g6`, `36 H7`."""

from __future__ import annotations

import math
import re
from typing import NamedTuple

from calc.language.fits import ToleranceClass, aimed_at, read_class, scaled
from calc.language.given import Given
from calc.language.problems import OutOfRange
from calc.language.quantities import Kind
from calc.language.reading.errors import NotANumber

_SIZE = r"(?P<size>.*[0-9](?:\s*(?:mm|inch|in|zoll|\"))?)(?P<space>\s*)"
_CLASS = r"[A-Za-z]{1,2}[0-9]{1,2}"
_CLASSED = re.compile(rf"{_SIZE}(?P<letter>[A-Za-z]{{1,2}})(?P<gap>\s?)(?P<grade>[0-9]{{1,2}})\s*")
_FIT = re.compile(rf"{_SIZE}(?P<hole>{_CLASS})\s*[/-]\s*(?P<shaft>{_CLASS})\s*")
_NEED_A_SPACE = "eExX"  # 24e8 is a number, 2x5 a pair


class Classed(NamedTuple):
    """The size as typed and the class behind it."""

    size: str
    tolerance: ToleranceClass


def split_class(text: str, kind: Kind) -> Classed | None:
    """The size and the class of what was typed for a kind; None where there is no class, or the kind takes none.

    >>> from calc.language.quantities import DIAMETER, FEED
    >>> split_class("Ø24mm g6", DIAMETER)
    Classed(size='Ø24mm', tolerance=ToleranceClass(letter='g', grade=6))
    >>> split_class('1" h 9', DIAMETER).size, split_class("12 x 5", DIAMETER)
    ('1"', None)
    >>> split_class("24e8", DIAMETER), split_class("R8", DIAMETER), split_class("24 g6", FEED)
    (None, None, None)
    """
    match = _CLASSED.fullmatch(text) if kind.fits else None
    if match is None or (match["letter"][0] in _NEED_A_SPACE and (match["gap"] or not match["space"])):
        return None
    try:
        return Classed(match["size"], read_class(match["letter"] + match["grade"]))
    except OutOfRange:
        return None


def sizes_of_fit(text: str, kind: Kind) -> tuple[str, str] | None:
    """The sizes of hole and shaft that a typed fit stands for; None for what is none.

    >>> from calc.language.quantities import DIAMETER
    >>> sizes_of_fit("Ø30 H7/g6", DIAMETER), sizes_of_fit("30 H7", DIAMETER)
    (('Ø30 H7', 'Ø30 g6'), None)
    """
    match = _FIT.fullmatch(text) if kind.fits else None
    return None if match is None else (f"{match['size']} {match['hole']}", f"{match['size']} {match['shaft']}")


def with_class(size: Given, tolerance: ToleranceClass, kind: Kind, text: str) -> Given:
    """A size (internal units) at the middle of the limits of its class; the class of an X is that of the diameter.

    Raises `NotANumber`, about the typed `text`, for a size that the class has no limits for. Source: ISO 286-1:2010.

    >>> from calc.language.quantities import X
    >>> aim = with_class(Given(12.0), read_class("g6"), X, "24 g6")
    >>> aim, aim.nominal, aim.lower, aim.upper
    (11.99325, 12.0, 11.99, 11.9965)
    """
    across = 2.0 if kind.role == "x" else 1.0
    try:
        aim = aimed_at(abs(size) * across, tolerance)
    except OutOfRange as problem:
        message = problem.faults[0].message
        raise NotANumber(text, message.text, (), **message.values) from None
    return scaled(aim, math.copysign(1.0 / across, size))
