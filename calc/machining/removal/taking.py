"""Pass by pass: what the tool's true outline takes from the stock, how thick the chip is, what it should not hit."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from calc.contour import Element, Line
from calc.machining.job import Move, ToolPass
from calc.machining.removal.polygons import FINE, GRID, Area, areas_behind, volume
from calc.machining.removal.stock import Stock, stock_of
from calc.machining.removal.sweep import Outline, around, body_parts, boxes, far_off, folded, swept
from calc.tool.nose_path.distances import Distances

SLIVER = 1e-6
"""mm2: areas below this are rounding."""

GRAZED = 1e-4
"""mm2: a tool that runs along a surface and takes no more than this off it has hit nothing."""

SPARED = 3.0 * FINE
"""mm: what chords of arcs may seem to cut into the part; a gouge is reported from here on."""

THINNEST = 1e-3
"""mm: a stretch that takes no more than this over its length cuts nothing."""

MISSED = 1e-4
"""mm2: what is gone may differ from what tool and stock have in common by so much."""

STRETCH = 8.0
"""mm: there is a chip for every stretch of about this length, but no more than `STRETCHES` along an element."""

STRETCHES = 16


@dataclass(frozen=True, slots=True)
class Chip:
    """What one stretch of a pass takes: at `place` (mm of feed from its start), width along the normal, and section.

    `width` (mm) is the mean over the stretch of the area taken per length of the nose centre's path; `section` (mm2) is
    that times the feed, None without one.
    """

    place: float
    length: float
    width: float
    section: float | None


@dataclass(frozen=True)
class Removal:
    """What one pass did: the stock after it, what it took (mm2, mm3), its chips, what it should not have hit.

    `depth` (mm) is the deepest cut, square to the surface that is cut. `gouged`, `rapid` and `holder` are the areas
    (mm2) of the part, and of stock at a rapid move or by the holder, that were hit: 0 as they should be.
    """

    name: str
    stock: Stock
    area: float
    volume: float
    chips: tuple[Chip, ...]
    depth: float
    gouged: float
    rapid: float
    holder: float
    tool_pass: ToolPass

    @property
    def left(self) -> Area:
        """The stock after the pass in one area."""
        return self.stock.whole

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
        chips: list[Chip] = []
        taken: list[Area] = []
        rapid = gouged = holder = place = 0.0
        for move in tool_pass.moves:
            for element in move.elements:
                start, place = place, place + (element.length if move.kind == "feed" else 0.0)
                if move.why != "cut" and self._is_off(stock, element):
                    continue
                slot = self._swept(element)
                common = stock.common_at(slot) if move.why == "cut" or stock.meets(slot) else {}
                here = list(common.values())
                area = sum(each.area for each in here)
                if move.kind == "rapid":
                    rapid += area if area > GRAZED else 0.0
                if move.why == "cut":
                    gouged += self._gouged(slot)
                    chips += self._chips(here, area, element, move, start)
                if area > SLIVER:
                    stock = _without(stock, slot, common, area)
                if move.why == "cut" and area > THINNEST * element.length:
                    taken += here
                holder += self._holder(stock, element)
        depth = deepest(taken, contacts)
        gone = [np.array(each) for each in zip(*_measures(before, stock), strict=True)]
        area, whole = (float(each.sum()) for each in gone) if gone else (0.0, 0.0)
        return Removal(tool_pass.name, stock, area, whole, tuple(chips), depth, gouged, rapid, holder, tool_pass)

    def _gouged(self, slot: Area) -> float:
        """The area of the part (mm2) that a slot gets at."""
        return sum(each.area for each in self.guard.common(slot)) if self.guard.meets(slot) else 0.0

    def _is_off(self, stock: Stock, element: Element) -> bool:
        """Whether the whole tool stays off the bounds of the stock along an element."""
        path = element.bounds()
        return all(far_off(box, path, stock) for box in boxes(self.outline))

    def _swept(self, element: Element) -> Area:
        slot = swept(self.outline, [element])
        return folded(slot) if self.outline.crosses(element) else slot

    def _holder(self, stock: Stock, element: Element) -> float:
        """The area of stock (mm2) that the holder gets at along an element."""
        bodies, path = zip(self.outline.holder_bodies, boxes(self.outline)[1:], strict=True), element.bounds()
        near = (body for body, box in bodies if not far_off(box, path, stock))
        near = (body for body in near if stock.meets(folded(around(body, element))))
        parts = (folded(part) for body in near for part in body_parts(body, element))
        hit = sum(common.area for part in parts for common in stock.common(part))
        return hit if hit > GRAZED else 0.0

    def _chips(self, here: Sequence[Area], area: float, element: Element, move: Move, place: float) -> Iterator[Chip]:
        """The chips along an element, of which `here` is taken: `area` in all."""
        count = min(math.ceil(element.length / STRETCH), STRETCHES) if area > SLIVER else 1
        cuts = [element.length * index / count for index in range(count + 1)]
        shares = self._shares(here, element, cuts) if count > 1 else [area]
        for (start, end), share in zip(pairwise(cuts), shares, strict=True):
            width = share / (end - start)
            yield Chip(place + start, end - start, width, None if move.feed is None else width * move.feed)

    def _shares(self, here: Sequence[Area], element: Element, cuts: Sequence[float]) -> list[float]:
        """How much of what is taken each stretch between the cuts takes, mm2."""
        if isinstance(element, Line) and 0.0 in element.direction:
            return self._straight_shares(here, element, cuts)
        shares, rest = [], list(here)
        for start, end in pairwise(cuts[:-1]):
            before = sum(part.area for part in rest)
            slot = self._swept(element.between(start, end))
            rest = [part.difference(slot) for part in rest]
            shares.append(before - sum(part.area for part in rest))
        return [*shares, sum(part.area for part in rest)]

    def _straight_shares(self, here: Sequence[Area], line: Line, cuts: Sequence[float]) -> list[float]:
        """The same along an axis: windows that go along with the tool; the last stretch by the tool's own front."""
        import shapely  # noqa: PLC0415 - loaded on first use

        slot = self._swept(line.between(0.0, cuts[-2]))
        final = float(shapely.area(shapely.difference(np.array(here, dtype=object), slot)).sum())
        inner = np.diff(areas_behind(here, line, [cut + self.outline.nose for cut in cuts[1:-1]])).tolist()
        return [sum(part.area for part in here) - final - sum(inner), *inner, final]


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
    >>> from calc.contour import Point
    >>> deepest([shapely.box(-9.0, 5.0, 0.0, 6.5)], [Line(Point(0.0, 5.0), Point(-9.0, 5.0))])
    1.5
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    if not contacts or not taken:
        return 0.0
    rows = shapely.get_coordinates(taken)
    return float(Distances(contacts).nearest_at(rows[:, 0] + 1j * rows[:, 1]).max())
