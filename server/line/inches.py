"""What of a typed line is written in inch units: the spellings are those of the fields' table of units."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from calc.language.quantities import Kind
from calc.language.reading.units import UNITS, accepted, folded

RULER = "2|4|8|16|32|64"
"""The parts that a ruler divides an inch into."""
FRACTION = re.compile(rf"(?:\d+[ -])?\d+/(?:{RULER})")
"""A size as a ruler has it, without its unit."""
_HAS_FRACTION = re.compile(rf"\d/(?:{RULER})(?![\d:])")
_ANGLE = re.compile(r"\d\s?°\s?(?:\d[\d.,]*\s?'\s?)?(?:\d[\d.,]*\s?\")?")
"""Degrees with their minutes and seconds, whose marks are those of feet and inches too."""


def has_inch_unit(text: str, kinds: Iterable[Kind]) -> bool:
    """Whether a number in the text bears an inch unit of one of the kinds; `"` after degrees is none.

    >>> from calc.language.quantities import LENGTH, MASS
    >>> has_inch_unit('2-1/2" 600 sfm', [LENGTH]), has_inch_unit("40 lb", [LENGTH]), has_inch_unit("40 lb", [MASS])
    (True, False, True)
    >>> has_inch_unit("8°30'15\\" Ø40", [LENGTH])
    False
    """
    dimensions = frozenset(dimension for kind in kinds for dimension in accepted(kind))
    return _pattern(dimensions).search(_ANGLE.sub(" ", folded(text))) is not None


def has_ruler_fraction(text: str) -> bool:
    """Whether a fraction of a ruler's inch stands in it.

    >>> has_ruler_fraction("3-1/4 round"), has_ruler_fraction("taper 1/20")
    (True, False)
    """
    return _HAS_FRACTION.search(text) is not None


@cache
def _pattern(dimensions: frozenset[str]) -> re.Pattern[str]:
    named = (name for dimension in dimensions for name, unit in UNITS[dimension].items() if unit.system == "inch")
    longest_first = sorted(named, key=lambda name: (-len(name), name))
    return re.compile(rf"\d\s?(?:{'|'.join(map(re.escape, longest_first))})(?![\w/])")
