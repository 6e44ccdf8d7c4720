"""What each element of a pass bites off the stock, and its chips: worked out where somebody asks for them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from calc.contour import Element, Line
from calc.machining.removal.polygons import Area, areas_behind
from calc.machining.removal.sweep import Outline, cut_along

SLIVER = 1e-6
"""mm2: areas below this are rounding."""

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


@dataclass(frozen=True, slots=True)
class Bite:
    """The areas that an outline takes along an element at a feed (mm/rev), `place` mm of feed after the pass begins."""

    outline: Outline
    element: Element
    feed: float | None
    place: float
    taken: tuple[Area, ...]

    def chips(self) -> Iterator[Chip]:
        """The chips along the element, one for each stretch.

        >>> import shapely
        >>> from calc.contour import Point
        >>> way = Line(Point(0.0, 6.0), Point(-2.0, 6.0))
        >>> taken = (shapely.box(-3.0, 5.0, -1.0, 6.0),)
        >>> [chip] = Bite(Outline((Point(0.0, 0.0),), 1.0), way, 0.25, 3.0, taken).chips()
        >>> chip.place, chip.width, chip.section
        (3.0, 1.0, 0.25)
        """
        length, area = self.element.length, self.area
        count = min(math.ceil(length / STRETCH), STRETCHES) if area > SLIVER else 1
        cuts = [length * index / count for index in range(count + 1)]
        shares = self._shares(cuts) if count > 1 else [area]
        for (start, end), share in zip(pairwise(cuts), shares, strict=True):
            width = share / (end - start)
            yield Chip(self.place + start, end - start, width, None if self.feed is None else width * self.feed)

    @property
    def area(self) -> float:
        """All that is taken, mm2."""
        return float(sum(part.area for part in self.taken))

    def _shares(self, cuts: Sequence[float]) -> list[float]:
        """How much of what is taken each stretch between the cuts takes, mm2."""
        if isinstance(self.element, Line) and 0.0 in self.element.direction:
            return self._straight_shares(self.element, cuts)
        shares, rest = [], list(self.taken)
        for start, end in pairwise(cuts[:-1]):
            before = sum(part.area for part in rest)
            slot = cut_along(self.outline, self.element.between(start, end))
            rest = [part.difference(slot) for part in rest]
            shares.append(before - sum(part.area for part in rest))
        return [*shares, sum(part.area for part in rest)]

    def _straight_shares(self, line: Line, cuts: Sequence[float]) -> list[float]:
        """The same along an axis: windows that go along with the tool; the last stretch by the tool's own front."""
        import shapely  # noqa: PLC0415 - loaded on first use

        slot = cut_along(self.outline, line.between(0.0, cuts[-2]))
        final = float(shapely.area(shapely.difference(np.array(self.taken, dtype=object), slot)).sum())
        inner = np.diff(areas_behind(self.taken, line, [cut + self.outline.nose for cut in cuts[1:-1]])).tolist()
        return [self.area - final - sum(inner), *inner, final]
