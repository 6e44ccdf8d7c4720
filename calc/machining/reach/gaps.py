"""Distances between a moving outline and the part, exact at each position: segments against lines and arcs.

A convex outline with a rounded rim is its core grown by the nose radius, so it clears the part as long as the core is
at least one nose radius away.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from calc.contour import Point
from calc.contour.boxes import grown, overlapping
from calc.contour.closest import closest
from calc.contour.many import Floats, Indices, Many, Places, many

BLOCKS = 12
"""Stretches of the path that are looked at first for the least room."""

AT_ONCE = 8192
"""Pairs whose distances are worked out at once: more takes memory and no less time."""

SPLIT = 4
"""Parts into which a stretch is cut that may have less room than what is known."""


class Rim:
    """The edges (mm, about the nose centre) of one or more convex outlines; a single point is an edge by itself."""

    def __init__(self, cores: Sequence[Sequence[Point]]) -> None:
        rims = [[complex(*corner) for corner in core] for core in cores]
        self.start = np.array([corner for rim in rims for corner in rim])
        self.end = np.array([corner for rim in rims for corner in (*rim[1:], rim[0])])
        corners = [self.start.real, self.end.real, self.start.imag, self.end.imag]
        low, high = np.minimum(corners[0::2], corners[1::2]), np.maximum(corners[0::2], corners[1::2])
        self.boxes: Floats = np.stack([low[0], high[0], low[1], high[1]], axis=1)

    def __len__(self) -> int:
        return len(self.start)

    def gaps(self, edge: Indices, places: Places, others: Many) -> Floats:
        """The distance (mm) of each edge, its nose centre at a place, from the element beside it."""
        parts = range(0, len(edge), AT_ONCE)
        found = [
            self._gaps(edge[at : at + AT_ONCE], places[at : at + AT_ONCE], others[at : at + AT_ONCE]) for at in parts
        ]
        return np.concatenate(found) if found else np.zeros(0)

    def _gaps(self, edge: Indices, places: Places, others: Many) -> Floats:
        start, end = self.start[edge] + places, self.end[edge] + places
        if len(self) == 1:
            return others.distance(start)
        return closest(many(start, end, np.zeros_like(start), np.zeros(len(start))), others)[0]

    def near(self, places: Places, boxes: Floats, limit: float | Floats) -> tuple[Indices, Indices, Indices]:
        """Places, edges and elements (indices) whose boxes come within `limit` (mm, one for all or for each place)."""
        at = np.stack([places.real, places.real, places.imag, places.imag], axis=1)
        room = grown(at, np.broadcast_to(limit, len(places))[:, None])
        moved = (room[:, None, :] + self.boxes).reshape(-1, 4)
        which, element = overlapping(moved, boxes)
        return which // len(self), which % len(self), element

    def least(self, places: Places, shape: Many, boxes: Floats, limit: float) -> tuple[Floats, Indices]:
        """For each place the least gap (mm) and the element that has it; beyond `limit` infinite and -1."""
        place, edge, element = self.near(places, boxes, limit)
        best, of = _least(self.gaps(edge, places[place], shape[element]), place, element, len(places))
        return np.where(best <= limit, best, np.inf), np.where(best <= limit, of, -1)

    def comes_within(self, places: Places, shape: Many, boxes: Floats, limit: float) -> bool:
        """Whether the gap is `limit` (mm) or less at any of the places along a path.

        Of a stretch of the path only those edges and elements are looked at again whose gap at its middle is not more
        than the stretch is long.
        """
        along = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(places)))])
        size = max(
            self.boxes[:, 1].max() - self.boxes[:, 0].min(), self.boxes[:, 3].max() - self.boxes[:, 2].min(), 1.0
        )
        blocks = min(len(places), max(BLOCKS, math.ceil(along[-1] / size)))
        cuts = np.linspace(0, len(places), blocks + 1).astype(np.intp)
        middle, reach = _middles(along, cuts[:-1], cuts[1:])
        parts = _Parts(cuts[:-1], cuts[1:], *self.near(places[middle], boxes, limit + reach))
        while len(middle):
            gaps = self.gaps(parts.edge, places[middle[parts.of]], shape[parts.element])
            if (gaps <= limit).any():
                return True
            parts = parts.split(np.unique(parts.of[gaps <= limit + reach[parts.of]]), along, gaps, limit)
            middle, reach = _middles(along, parts.low, parts.high)
        return False

    def least_room(self, places: Places, shape: Many, boxes: Floats) -> tuple[float, int, int]:
        """The least gap (mm) at any of the places along a path, the place, and the element.

        A stretch of the path whose middle is farther from everything than the stretch is long cannot have less; of a
        stretch that can, only those edges and elements are looked at again that can have it.
        """
        along = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(places)))])
        cuts = np.linspace(0, len(places), min(BLOCKS, len(places)) + 1).astype(np.intp)
        best, at, of = self._at_first(places, shape)
        middle, reach = _middles(along, cuts[:-1], cuts[1:])
        parts = _Parts(cuts[:-1], cuts[1:], *self.near(places[middle], boxes, best + float(reach.max())))
        while len(middle):
            gaps = self.gaps(parts.edge, places[middle[parts.of]], shape[parts.element])
            least, elements = _least(gaps, parts.of, parts.element, len(middle))
            nearest = int(least.argmin())
            if least[nearest] < best:
                best, at, of = float(least[nearest]), int(middle[nearest]), int(elements[nearest])
            parts = parts.split(np.flatnonzero(least - reach < best), along, gaps, best)
            middle, reach = _middles(along, parts.low, parts.high)
        return self._first_cut(places, along, shape, boxes, at, of) if best <= 0.0 else (best, at, of)

    def _first_cut(
        self, places: Places, along: Floats, shape: Many, boxes: Floats, at: int, of: int
    ) -> tuple[float, int, int]:
        """The first place along the path with no gap, once one is known, and the element."""
        low, high = np.array([0]), np.array([at + 1])
        while len(low):
            middle, reach = _middles(along, low, high)
            gaps, elements = self.least(places[middle], shape, boxes, float(reach.max()))
            for place, element in zip(middle[gaps <= 0.0].tolist(), elements[gaps <= 0.0].tolist(), strict=True):
                if place < at:
                    at, of = place, element
            open_ = (gaps - reach <= 0.0) & (high - low > 1) & (low < at)
            low, high, _ = _split(low[open_], high[open_])
        return 0.0, at, of

    def _at_first(self, places: Places, shape: Many) -> tuple[float, int, int]:
        """What is known at the first place: every edge against every element."""
        edge, element = (grid.ravel() for grid in np.meshgrid(range(len(self)), range(len(shape)), indexing="ij"))
        gaps = self.gaps(edge, np.full(len(edge), places[0]), shape[element])
        nearest = int(gaps.argmin())
        return float(gaps[nearest]), 0, int(element[nearest])


def _least(gaps: Floats, group: Indices, element: Indices, count: int) -> tuple[Floats, Indices]:
    """Of each of `count` groups of pairs the least gap (mm), and the element that has it; infinite and -1 of none."""
    best, of = np.full(count, np.inf), np.full(count, -1)
    order = np.lexsort((element, gaps, group))
    first, at = np.unique(group[order], return_index=True)
    best[first], of[first] = gaps[order[at]], element[order[at]]
    return best, of


def _middles(along: Floats, low: Indices, high: Indices) -> tuple[Indices, Floats]:
    """The middle place of each stretch, and how far (mm) the stretch reaches from there."""
    middle = (low + high - 1) // 2
    return middle, np.maximum(along[high - 1] - along[middle], along[middle] - along[low])


class _Parts(NamedTuple):
    """Stretches of a path, each from `low` up to `high`, and the pairs to look at: `of` which one, edge and element."""

    low: Indices
    high: Indices
    of: Indices
    edge: Indices
    element: Indices

    def split(self, open_: Indices, along: Floats, gaps: Floats, limit: float) -> _Parts:
        """The `open_` ones in parts, with the pairs of each whose `gaps` (mm) can come within `limit` there."""
        open_ = open_[self.high[open_] - self.low[open_] > 1]
        middle, _ = _middles(along, self.low[open_], self.high[open_])
        low, high, part_of = _split(self.low[open_], self.high[open_])
        before = along[middle[part_of]]
        far = np.maximum(along[high - 1] - before, before - along[low])
        pair, of = _handed_down(self.of, gaps, open_[part_of], limit + far)
        return _Parts(low, high, of, self.edge[pair], self.element[pair])


def _split(low: Indices, high: Indices) -> tuple[Indices, Indices, Indices]:
    """The stretches cut into parts, and which of them each part is of."""
    cuts = [low + (high - low) * part // SPLIT for part in range(SPLIT + 1)]
    starts, ends = np.concatenate(cuts[:-1]), np.concatenate(cuts[1:])
    filled = ends > starts
    return starts[filled], ends[filled], np.tile(np.arange(len(low)), SPLIT)[filled]


def _handed_down(stretch: Indices, gaps: Floats, part_of: Indices, limit: Floats) -> tuple[Indices, Indices]:
    """The pairs of each stretch that its parts have to look at again, and for which part: those below its `limit`.

    >>> gaps, limit = np.array([3.0, 5.0, 4.0]), np.array([4.0, 6.0])
    >>> pair, part = _handed_down(np.array([0, 0, 1]), gaps, np.array([0, 0]), limit)
    >>> pair.tolist(), part.tolist()
    ([0, 0, 1], [0, 1, 1])
    """
    begin, end = np.searchsorted(stretch, part_of, "left"), np.searchsorted(stretch, part_of, "right")
    count = end - begin
    part = np.repeat(np.arange(len(part_of)), count)
    pair = np.arange(len(part)) + np.repeat(begin - np.cumsum(count) + count, count)
    kept = gaps[pair] < limit[part]
    return pair[kept], part[kept]
