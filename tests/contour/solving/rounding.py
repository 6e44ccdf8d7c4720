"""Prints whose numbers are rounded as a draughtsman rounds them, and prints that give more than is needed."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from dataclasses import replace

from calc.contour import Element
from calc.contour.solving import GivenElement, Start
from calc.language.given import Given
from tests.contour.solving.made import Print, full_print

Known = tuple[Start, tuple[GivenElement, ...]]

ENDS_AND_SIZES = ("z", "r", "radius")
ENDS_AND_CENTRES = ("z", "r", "centre_z", "centre_r")
EVERYTHING = ("z", "r", "dz", "dr", "angle", "length", "radius", "centre_z", "centre_r")


def rounded_print(elements: Sequence[Element], tangent: Sequence[bool], names: Sequence[str], decimals: int) -> Known:
    """A print that gives these dimensions of every element, each correctly rounded (diameters, degrees)."""
    start, given = full_print(elements, tangent)
    rows = [replace(one, **{n: None for n in EVERYTHING if n not in names}) for one in given]  # type: ignore[arg-type]
    return _start(start, decimals), tuple(_rounded(one, decimals) for one in rows)


def over_given(made: Print, chance: random.Random, more: int = 1, decimals: int = 6) -> Known:
    """The print with some more of its own dimensions, finely rounded."""
    _, everything = full_print(made.original, [one.tangent for one in made.elements])
    rows = list(made.elements)
    blanks = [(i, n) for i, one in enumerate(everything) for n in EVERYTHING if _is_spare(one, rows[i], n)]
    for i, name in chance.sample(blanks, min(more, len(blanks))):
        rows[i] = replace(rows[i], **{name: getattr(everything[i], name)})
    return _start(made.start, decimals), tuple(_rounded(row, decimals) for row in rows)


def _is_spare(whole: GivenElement, row: GivenElement, name: str) -> bool:
    return getattr(whole, name) is not None and getattr(row, name) is None


def _start(start: Start, decimals: int) -> Start:
    return Start(*(None if v is None else _of(name, decimals)(v) for name, v in (("z", start.z), ("r", start.r))))


def _rounded(one: GivenElement, decimals: int) -> GivenElement:
    given = {name: getattr(one, name) for name in EVERYTHING}
    changed = {name: _of(name, decimals)(value) for name, value in given.items() if value is not None}
    return replace(one, **changed)  # type: ignore[arg-type]  # by name


def _of(name: str, decimals: int) -> Callable[[float], Given]:
    """Rounds a dimension as a print gives it: diameters, degrees, mm."""
    factor = 2.0 if name in ("r", "dr", "centre_r") else math.degrees(1.0) if name == "angle" else 1.0
    step = 10.0**-decimals

    def rounded(value: float) -> Given:
        least = 0.0005 if name != "angle" else math.radians(0.0005)
        return Given(round(value * factor, decimals) / factor, max(step / 2.0 / factor, least))

    return rounded
