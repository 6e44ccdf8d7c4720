"""A length with a tolerance class behind it, as prints write one (`24 g6`): read at the middle of its limits."""

from __future__ import annotations

import math
import re

from calc.contour.fits import ToleranceClass, aimed_at, read_class
from calc.language.problems import OutOfRange
from calc.language.quantities import Given, Kind, View
from calc.language.reading import read, rewrite_for_switch, strip_unit

_CLASSED = re.compile(r"(?P<size>.*[0-9](?:\s*(?:mm|in))?)(?P<space>\s*)(?P<class>[A-Za-z]{1,2}[0-9]{1,2})\s*")
_NEED_A_SPACE = "eExX"  # 24e8 is a number, 2x5 a pair


def read_fitted(text: str, kind: Kind, view: View) -> Given | None:
    """The value of what was typed, in internal units, None for a blank: as `read`, and lengths with a tolerance class.

    A class aims at the middle of its limits; the class of an X is that of the diameter. Raises `ReadingError` as
    `read`, and `OutOfRange` for a size that the class has no limits for. Source of the limits: ISO 286-1:2010.

    >>> from calc.language.quantities import X
    >>> aimed = read_fitted("24 g6", X, View())
    >>> float(aimed), aimed.nominal, read_fitted("24", X, View()) == 12.0
    (11.99325, 12.0, True)
    """
    found = split_class(text) if kind.dimension == "length" else None
    if found is None:
        return read(text, kind, view)
    size = read(found[0], kind, view)
    if size is None or size.nominal is not None:
        return read(text, kind, view)
    across = 2.0 if kind.role == "x" else 1.0
    aimed = aimed_at(abs(size) * across, found[1])
    return Given(math.copysign(aimed, size) / across, aimed.slack / across, float(size))


def rewrite_fitted(text: str, kind: Kind, old: View, new: View) -> str:
    """The text for a page whose conventions change, the class kept behind it.

    >>> from calc.language.quantities import X
    >>> rewrite_fitted("24 g6", X, View(), View("inch")), rewrite_fitted("24 g6", X, View(), View(x="radius"))
    ('24mm g6', 'Ø24 g6')
    """
    found = split_class(text)
    if found is None:
        return rewrite_for_switch(text, kind, old, new)
    return f"{rewrite_for_switch(found[0], kind, old, new)} {found[1]}"


def strip_fitted(text: str, kind: Kind, view: View) -> str:
    """The text without the other system's unit, the class kept behind it.

    >>> from calc.language.quantities import X
    >>> strip_fitted("24mm g6", X, View("inch"))
    '24 g6'
    """
    found = split_class(text)
    return strip_unit(text, kind, view) if found is None else f"{strip_unit(found[0], kind, view)} {found[1]}"


def split_class(text: str) -> tuple[str, ToleranceClass] | None:
    """The size as typed and the class behind it; None where there is none.

    >>> split_class("Ø24mm g6"), split_class("24e8"), split_class("R8")
    (('Ø24mm', ToleranceClass(letter='g', grade=6)), None, None)
    """
    match = _CLASSED.fullmatch(text)
    if match is None or (match["class"][0] in _NEED_A_SPACE and not match["space"]):
        return None
    try:
        return match["size"], read_class(match["class"])
    except OutOfRange:
        return None
