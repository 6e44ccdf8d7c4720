"""Pass by pass: what the tool's true outline takes from the stock, how thick the chip is, what it should not hit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from calc.contour import Element
from calc.machining.job import ToolPass
from calc.machining.removal.bites import SLIVER, Bite, Chip
from calc.machining.removal.polygons import FINE, GRID, Area, volume
from calc.machining.removal.stock import Stock, stock_of
from calc.machining.removal.sweep import Outline, around, body_parts, boxes, cut_along, far_off, folded
from calc.tool.nose_path.distances import Distances

GRAZED = 1e-4
"""mm2: a tool that runs along a surface and takes no more than this off it has hit nothing."""

SPARED = 3.0 * FINE
"""mm: what chords of arcs may seem to cut into the part; a gouge is reported from here on."""

THINNEST = 1e-3
"""mm: a stretch that takes no more than this over its length cuts nothing."""

MISSED = 1e-4
"""mm2: what is gone may differ from what tool and stock have in common by so much."""


@dataclass(frozen=True)
class Removal:
    """What one pass did: the stock after it, what it took (mm2, mm3), bite by bite, what it should not have hit.

    `depth` (mm) is the deepest cut, square to the surface that is cut. `gouged`, `rapid` and `holder` are the areas
    (mm2) of the part, and of stock at a rapid move or by the holder, that were hit: 0 as they should be.
    """

    name: str
    stock: Stock
    area: float
    volume: float
    bites: tuple[Bite, ...]
    depth: float
    gouged: float
    rapid: float
    holder: float
    tool_pass: ToolPass

    @property
    def left(self) -> Area:
        """The stock after the pass in one area."""
        return self.stock.whole

    @cached_property
    def chips(self) -> tuple[Chip, ...]:
        """The chips of all bites, in order."""
        return tuple(chip for bite in self.bites for chip in bite.chips())

    @property
    def thickest(self) -> float:
        """The greatest mean width of the chip, mm."""
        return max((chip.width for chip in self.chips), default=0.0)

    @property
    def hits(self) -> float:
        """The area of all that should not have been hit, mm2."""
        return self.gouged + self.rapid + self.holder


def guard_of(finished: Area, corners: int = 0) -> Stock:
    """The part less what chords of arcs may seem to cut into it: a cut that gets at this gouges.

    `corners` is how many corners it has about, for its slabs.
    """
    return stock_of(finished.buffer(-SPARED, join_style="mitre"), corners).prepared()


class Taking:
    """Takes passes off a stock with a tool's outline; what lies beyond the axis cuts on this side."""

    def __init__(self, outline: Outline, guard: Stock) -> None:
        self.outline = outline
        self.guard = guard

    def take(self, stock: Stock, tool_pass: ToolPass, contacts: Sequence[Element] = ()) -> Removal:
        """What the pass does to the stock; `contacts` are the elements that it touches, for the depth."""
        before = stock
        bites: list[Bite] = []
        taken: list[Area] = []
        rapid = gouged = holder = place = 0.0
        for move in tool_pass.moves:
            for element in move.elements:
                start, place = place, place + (element.length if move.kind == "feed" else 0.0)
                if move.why != "cut" and self._is_off(stock, element):
                    continue
                slot = cut_along(self.outline, element)
                common = stock.common_at(slot) if move.why == "cut" or stock.meets(slot) else {}
                here = list(common.values())
                area = sum(each.area for each in here)
                if move.kind == "rapid":
                    rapid += area if area > GRAZED else 0.0
                if move.why == "cut":
                    gouged += self._gouged(slot)
                    bites.append(Bite(self.outline, element, move.feed, start, tuple(here)))
                if area > SLIVER:
                    stock = _without(stock, slot, common, area)
                if move.why == "cut" and area > THINNEST * element.length:
                    taken += here
                holder += self._holder(stock, element)
        depth = deepest(taken, contacts)
        gone = [np.array(each) for each in zip(*_measures(before, stock), strict=True)]
        area, whole = (float(each.sum()) for each in gone) if gone else (0.0, 0.0)
        return Removal(tool_pass.name, stock, area, whole, tuple(bites), depth, gouged, rapid, holder, tool_pass)

    def _gouged(self, slot: Area) -> float:
        """The area of the part (mm2) that a slot gets at."""
        return sum(each.area for each in self.guard.common(slot)) if self.guard.meets(slot) else 0.0

    def _is_off(self, stock: Stock, element: Element) -> bool:
        """Whether the whole tool stays off the bounds of the stock along an element."""
        path = element.bounds()
        return all(far_off(box, path, stock) for box in boxes(self.outline))

    def _holder(self, stock: Stock, element: Element) -> float:
        """The area of stock (mm2) that the holder gets at along an element."""
        bodies, path = zip(self.outline.holder_bodies, boxes(self.outline)[1:], strict=True), element.bounds()
        near = (body for body, box in bodies if not far_off(box, path, stock))
        near = (body for body in near if stock.meets(folded(around(body, element))))
        parts = (folded(part) for body in near for part in body_parts(body, element))
        hit = sum(common.area for part in parts for common in stock.common(part))
        return hit if hit > GRAZED else 0.0


def _without(stock: Stock, slot: Area, slabs: Iterable[int], area: float) -> Stock:
    """The stock without a slot that has `area` (mm2) in common with some `slabs` of it.

    It is taken off again on a grid where that is not what went.
    """
    rest = stock.less(slot, at=slabs)
    gone = sum(stock.slabs[index].area - rest.slabs[index].area for index in slabs)
    return rest if abs(gone - area) <= MISSED else stock.less(slot, GRID)


def _measures(before: Stock, after: Stock) -> Iterator[tuple[float, float]]:
    """Of each slab that has changed the area and the volume that are gone."""
    for old, new in zip(before.slabs, after.slabs, strict=True):
        if old is not new:
            yield old.area - new.area, volume(old) - volume(new)


def deepest(taken: Sequence[Area], contacts: Sequence[Element]) -> float:
    """The largest distance of what is taken from the nearest of the elements that a pass touches, mm; 0 of none.

    >>> import shapely
    >>> from calc.contour import Line, Point
    >>> deepest([shapely.box(-9.0, 5.0, 0.0, 6.5)], [Line(Point(0.0, 5.0), Point(-9.0, 5.0))])
    1.5
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    if not contacts or not taken:
        return 0.0
    rows = shapely.get_coordinates(taken)
    return float(Distances(contacts).nearest_at(rows[:, 0] + 1j * rows[:, 1]).max())
