"""A field of two inputs: darker where it is more, lines of equal value with their numbers, limits, and what is not
allowed hatched, so that nothing depends on a colour.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from typing import TypeAlias

import numpy as np

from calc.answer.plotting import Field
from calc.language.quantities import View
from server.plots.isolines import Grid, Spot, isolines, regions
from server.plots.scale import Scale, Tick, ticks
from server.sketch.boxes import Box, level_text, text_box
from server.sketch.markup import path
from server.sketch.polyline import polyline
from server.sketch.room import Room

LEVELS = 6
"""About how many lines of equal value there are."""

CUTS = 60
"""Level cuts by which a region is followed; the plot is some 250 px high."""

STYLES = 6
"""How many kinds of limit there are; the drawer's classes are b1 to b6."""


Levels: TypeAlias = "list[tuple[Tick, list[list[Spot]]]]"


class Sheet:
    """A field on its scales."""

    def __init__(self, field: Field, x: Scale, y: Scale) -> None:
        self.field = field
        self.values = np.array(field.values, dtype=float)
        self.columns, self.rows = len(field.acrosses) - 1, len(field.ups) - 1
        self.x, self.y = x, y
        self.bounds = [np.array(bound.excess, dtype=float) for bound in field.bounds]

    @cached_property
    def limit_lines(self) -> list[list[list[Spot]]]:
        """For each limit the lines in px along which it is just kept."""
        return [self.lines(excess, 0.0) for excess in self.bounds]

    def levels(self, view: View) -> Levels:
        """The values that get lines, round numbers in the reader's unit, each with its lines in px."""
        low, high = float(np.nanmin(self.values)), float(np.nanmax(self.values))
        if not high - low > 1e-9 * max(abs(low), abs(high)):
            return []
        found = ticks(low, high, self.field.kind.unit(view), LEVELS)
        return [(tick, self.lines(self.values, tick.value)) for tick in found if low < tick.value < high]

    def px(self, spots: Iterable[Spot]) -> list[Spot]:
        """Places of the grid in px; its inputs are evenly spaced."""
        return [
            (
                self.x.start + column / self.columns * (self.x.end - self.x.start),
                self.y.start + row / self.rows * (self.y.end - self.y.start),
            )
            for column, row in spots
        ]

    def lines(self, grid: Grid, level: float) -> list[list[Spot]]:
        """The lines of equal value in px."""
        return [self.px(chain) for chain in isolines(grid, level)]


def draw_field(sheet: Sheet, levels: Levels, key: str) -> tuple[str, str]:
    """The definitions that a field needs and the field itself, without words."""
    whole = path("b0", _area([[(0, 0), (0, sheet.rows), (sheet.columns, sheet.rows), (sheet.columns, 0)]], sheet))
    bands = "".join(path("b0", _area(regions(sheet.values - tick.value, CUTS), sheet)) for tick, _ in levels)
    lines = path("bv", "".join(polyline(one) for _, lines in levels for one in lines))
    bounds = "".join(
        path(f"b{index % STYLES + 1}", "".join(map(polyline, lines))) for index, lines in enumerate(sheet.limit_lines)
    )
    forbidden = _area(regions(np.max(sheet.bounds, axis=0), CUTS), sheet) if sheet.bounds else ""
    hatched = path("bh", forbidden, f' fill="url(#{key}-no)"')
    return _hatch(key) if forbidden else "", whole + bands + lines + hatched + bounds


def _hatch(key: str) -> str:
    return (
        f'<defs><pattern id="{key}-no" width="8" height="8" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><path class="h" d="M0 0V8"/></pattern></defs>'
    )


def _area(outlines: Sequence[Sequence[Spot]], sheet: Sheet) -> str:
    return "".join(polyline(_closed(sheet.px(outline))) + "z" for outline in outlines)


def _closed(outline: list[Spot]) -> list[Spot]:
    return [*outline, outline[0]]


def field_words(sheet: Sheet, levels: Levels, room: Room) -> str:
    """The names of the limits along their lines, then the numbers along the lines of equal value."""
    named = zip(sheet.field.bounds, sheet.limit_lines, strict=True)
    drawn = "".join(_named(f"{number} {bound.name}", lines, room) for number, (bound, lines) in enumerate(named, 1))
    return drawn + "".join(_named(tick.text, lines, room) for tick, lines in levels)


def _named(text: str, lines: Sequence[Sequence[Spot]], room: Room) -> str:
    """A text on the longest of its lines, from the middle outward; nothing where there is no room for it."""
    if not lines:
        return ""
    longest = max(lines, key=lambda one: sum(abs(b[0] - a[0]) + abs(b[1] - a[1]) for a, b in pairwise(one)))
    spots = [(x, y + 6.0) for x, y in _outward(longest)]
    spot = room.place((_roomy(text_box(text, *spot)), spot) for spot in spots)
    return level_text(text, *spot) if spot else ""


def _roomy(box: Box) -> Box:
    return Box(box.left - 8.0, box.top - 2.0, box.right + 8.0, box.bottom + 2.0)


def _outward(line: Sequence[Spot]) -> Iterator[Spot]:
    middle = len(line) // 2
    for away in range(middle + 1):
        for index in dict.fromkeys((middle + away, middle - away)):
            if 0 <= index < len(line):
                yield line[index]
