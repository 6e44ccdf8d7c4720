"""What of the contour the nose does not touch: where, why, and what stays there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from calc.contour import Arc, Chain, Element, Point, Side, plane_area
from calc.tool.nose_path.distances import Distances
from calc.tool.nose_path.left import farthest_off, square_to_the_walls
from calc.tool.nose_path.stretches import Stretch

Reason = Literal["corner", "radius", "narrow", "axis"]

REFINED = 4
"""How often the sampling for the deepest gouge is refined, each time by a factor of 4."""

LEAST = 1e-6
"""What stays, or would be gouged, counts from this share of the contour's size on: prints are rounded far more."""

TOGETHER = 1e-8
"""Places nearer than this share of the contour's size are one."""


class Spot(NamedTuple):
    """A place of the contour: the index of the element, and mm from its start."""

    of: int
    s: float


@dataclass(frozen=True, slots=True)
class Unreached:
    """A stretch of the contour that the nose does not touch.

    `elements` are the indices of the elements concerned, `first` and `last` the last places touched before and after.
    `size` (mm) is how far the nose stays from it at most: to the sharp point of a corner. `left` (mm) is how thick what
    stays is at most, square to the nearest wall, and `area` (mm2) its section in the half plane; both are None where
    the path is broken off there. `centre` is where the nose stands when it touches both ends, None likewise.
    `reason`: a concave "corner" keeps the nose's radius, an arc's "radius" is smaller than the nose, a place is too
    "narrow" (with the far wall beyond the axis: "axis").
    """

    elements: tuple[int, ...]
    first: Spot
    last: Spot
    size: float
    left: float | None
    area: float | None
    centre: Point | None
    reason: Reason


@dataclass(frozen=True, slots=True)
class Gouge:
    """A nose that touched element `of` at `contact` would cut `depth` mm into the contour, into element `into`."""

    of: int
    into: int
    depth: float
    contact: Point


@dataclass(frozen=True, slots=True)
class _Nose:
    radius: float
    side: Side


class Gaps:
    """Finds the gaps that a run of the nose leaves on the contour."""

    def __init__(self, chain: Chain, nose: float, side: Side) -> None:
        self.chain = chain
        self.nose = _Nose(nose, side)
        self.size = max(chain.bounds.size, nose)
        self.least = LEAST * self.size
        self.together = TOGETHER * self.size

    def of(self, runs: Sequence[Sequence[Stretch]]) -> list[Unreached]:
        """All gaps: before, between and after the stretches of the runs."""
        touched = [stretch for run in runs for stretch in run]
        if not touched:
            whole = self._gap(self._begin, self._finish, [])
            return [whole] if whole else []
        found = []
        for before, after in pairwise(touched):
            centres = [before.end, after.start]
            found.append(self._gap(self.spot(before, before.end), self.spot(after, after.start), centres))
        entry, exit_ = self.spot(touched[0], touched[0].start), self.spot(touched[-1], touched[-1].end)
        if self.chain.is_closed:
            found.append(self._gap(exit_, entry, [touched[-1].end, touched[0].start]))
        else:
            found.insert(0, self._gap(self._begin, entry, [touched[0].start]))
            found.append(self._gap(exit_, self._finish, [touched[-1].end]))
        return [gap for gap in found if gap is not None]

    def spot(self, stretch: Stretch, centre: Point) -> Spot:
        """What the nose touches when its centre is at an end of a stretch."""
        element = self.chain.elements[stretch.raw.of]
        if stretch.raw.around is not None:
            return Spot(stretch.raw.of, element.length)
        return Spot(stretch.raw.of, min(max(element.locate(centre), 0.0), element.length))

    @property
    def _begin(self) -> Spot:
        return Spot(0, 0.0)

    @property
    def _finish(self) -> Spot:
        return Spot(len(self.chain) - 1, self.chain.elements[-1].length)

    def _gap(self, first: Spot, last: Spot, centres: list[Point]) -> Unreached | None:
        section = list(self._section(first, last))
        if not section:
            return None
        parts = [element for _, element in section]
        size = farthest_off(parts, centres, self.nose.radius, self.together)
        if size <= self.least:
            return None
        joined = len(centres) == 2 and centres[0].distance_to(centres[1]) <= self.together
        centre = centres[0] if joined else None
        area = self._area(parts, centre) if centre else None
        elements = tuple(dict.fromkeys(index for index, _ in section))
        reason = self._reason(section, centres, joined=joined)
        left = self._left(parts, centre or (centres[0] if reason == "axis" else None))
        return Unreached(elements, first, last, size, left, area, centre, reason)

    def _left(self, parts: Sequence[Element], centre: Point | None) -> float | None:
        return None if centre is None else square_to_the_walls(parts, centre, self.nose.radius, self.nose.side)

    def _section(self, first: Spot, last: Spot) -> Iterator[tuple[int, Element]]:
        """The contour from one spot to another, element by element; of a closed one over its start if need be."""
        if self.chain.is_closed and first > last:
            yield from self._section(first, self._finish)
            yield from self._section(self._begin, last)
            return
        for index in range(first.of, last.of + 1):
            element = self.chain.elements[index]
            start = first.s if index == first.of else 0.0
            end = last.s if index == last.of else element.length
            if end - start >= element.length:
                yield index, element
            elif end - start > 1e-9 * self.size:
                yield index, element.between(start, end)

    def _area(self, section: list[Element], centre: Point) -> float:
        start, end = section[0].start, section[-1].end
        if start.distance_to(end) <= 1e-9 * self.size:
            return abs(plane_area(section))
        start, end = (centre.moved(centre.to(point).unit(), self.nose.radius) for point in (start, end))
        nose = Arc(start, end, centre, "ccw" if self.nose.side == "left" else "cw")
        return abs(plane_area([*section, nose.reversed()]))

    def _reason(self, section: list[tuple[int, Element]], centres: list[Point], *, joined: bool) -> Reason:
        toward = 1.0 if self.nose.side == "left" else -1.0
        for index, _ in section:
            element = self.chain.elements[index]
            if isinstance(element, Arc) and element.curvature * toward > 0.0 and element.radius < self.nose.radius:
                return "radius"
        if not joined:
            return "axis" if any(abs(centre.r) <= self.together for centre in centres) else "narrow"
        return "corner" if len({index for index, _ in section}) <= 2 else "narrow"

    def gouges(self, gaps: Sequence[Unreached]) -> list[Gouge]:
        """How deep a nose would cut that followed what it does not reach, element by element; none for corners.

        Found by sampling each element ever finer about the deepest place.
        """
        narrow = [gap for gap in gaps if gap.reason != "corner"]
        parts = [part for gap in narrow for part in self._section(gap.first, gap.last)]
        return list(self._deepest(parts, Distances(self.chain.elements))) if parts else []

    def _deepest(self, parts: list[tuple[int, Element]], distances: Distances) -> Iterator[Gouge]:
        """For each part the place where a nose that touched it would cut deepest into anything."""
        low = np.zeros(len(parts))
        high = length = np.array([part.length for _, part in parts])
        for share in (np.linspace(0.0, 1.0, 17), *[np.linspace(0.0, 1.0, 9)] * REFINED):
            places = low[:, None] + (high - low)[:, None] * share
            centres = [self._centres(part, row) for (_, part), row in zip(parts, places, strict=True)]
            depths = self.nose.radius - distances.nearest_at(np.array(centres))
            best = depths.argmax(axis=1)
            at = np.take_along_axis(places, best[:, None], axis=1)[:, 0]
            step = (high - low) * share[1]
            low, high = np.maximum(at - step, 0.0), np.minimum(at + step, length)
        deepest = depths.max(axis=1)
        for (index, part), s, depth in zip(parts, at.tolist(), deepest.tolist(), strict=True):
            if depth > self.least:
                yield Gouge(index, self._hit(self._centre(part, s)), depth, part.point_at(s))

    def _hit(self, centre: Point) -> int:
        return min((element.distance_to(centre), index) for index, element in enumerate(self.chain.elements))[1]

    def _centres(self, part: Element, places: NDArray[np.float64]) -> NDArray[np.complex128]:
        """Where the nose centre is, as z + i r, while the nose touches the part at those places (mm from its start)."""
        to_left = self._to_left
        start = complex(*part.start)
        if isinstance(part, Arc):
            centre, sign = complex(*part.centre), 1.0 if part.turn == "ccw" else -1.0
            turned = np.exp(1j * sign * places / part.radius)
            return np.asarray(centre + (start - centre) * (1.0 - sign * to_left / part.radius) * turned)
        along = complex(*part.direction)
        return np.asarray(start + along * (places + 1j * to_left))

    def _centre(self, part: Element, s: float) -> Point:
        return part.point_at(s).moved(part.tangent_at(s).left(), self._to_left)

    @property
    def _to_left(self) -> float:
        return self.nose.radius if self.nose.side == "left" else -self.nose.radius
