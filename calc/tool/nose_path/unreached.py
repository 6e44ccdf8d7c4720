"""What of the contour the nose does not touch: where, why, and what stays there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, NamedTuple

import numpy as np

from calc.contour import Arc, Chain, Element, Point, Side, plane_area, toward
from calc.contour.boxes import grown, overlapping
from calc.contour.closest import closest
from calc.contour.many import Indices, Many, many, many_of
from calc.tool.nose_path.left import farthest_off, square_to_the_walls

Reason = Literal["corner", "radius", "narrow", "axis"]

VANISHED = 1e-9
"""Share of an arc's radius that stands for none: the path of a nose as large as the arc."""

LEAST = 1e-6
"""What stays, or would be gouged, counts from this share of the contour's size on: prints are rounded far more."""

TOGETHER = 1e-8
"""Places nearer than this share of the contour's size are one."""


class Spot(NamedTuple):
    """A place of the contour: the index of the element, and mm from its start."""

    of: int
    s: float


@dataclass(frozen=True, slots=True)
class Touched:
    """A stretch of the contour that the nose touches, from `first` to `last`, and where its centre is meanwhile.

    `order` sorts stretches as the contour is travelled.
    """

    order: tuple[int, float]
    first: Spot
    last: Spot
    centre_first: Point
    centre_last: Point


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

    def of(self, runs: Sequence[Sequence[Touched]]) -> list[Unreached]:
        """All gaps: before, between and after what the runs touch."""
        touched = [each for run in runs for each in run]
        if not touched:
            whole = self._gap(self._begin, self._finish, [])
            return [whole] if whole else []
        found = [
            self._gap(before.last, after.first, [before.centre_last, after.centre_first])
            for before, after in pairwise(touched)
        ]
        entry, exit_ = touched[0], touched[-1]
        if self.chain.is_closed:
            found.append(self._gap(exit_.last, entry.first, [exit_.centre_last, entry.centre_first]))
        else:
            found.insert(0, self._gap(self._begin, entry.first, [entry.centre_first]))
            found.append(self._gap(exit_.last, self._finish, [exit_.centre_last]))
        return [gap for gap in found if gap is not None]

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
        for index, _ in section:
            element = self.chain.elements[index]
            if (
                isinstance(element, Arc)
                and element.curvature * toward(self.nose.side) > 0.0
                and element.radius < self.nose.radius
            ):
                return "radius"
        if not joined:
            return "axis" if any(abs(centre.r) <= self.together for centre in centres) else "narrow"
        return "corner" if len({index for index, _ in section}) <= 2 else "narrow"

    def gouges(self, gaps: Sequence[Unreached]) -> list[Gouge]:
        """How deep a nose would cut that followed what it does not reach, element by element; none for corners.

        Exact: where the nose centre's path along a part comes nearest to any element.
        """
        narrow = [gap for gap in gaps if gap.reason != "corner"]
        parts = [part for gap in narrow for part in self._section(gap.first, gap.last)]
        return list(self._deepest(parts)) if parts else []

    def _deepest(self, parts: list[tuple[int, Element]]) -> Iterator[Gouge]:
        """For each part the place where a nose that touched it would cut deepest into anything."""
        contacts, shape = many_of([part for _, part in parts]), many_of(self.chain.elements)
        centres = self._followed(contacts)
        reached = grown(centres.boxes(), self.nose.radius)
        part, into = _worth_a_look(centres, shape, *overlapping(reached, shape.boxes()))
        apart, at = closest(centres[part], shape[into])
        share = np.clip(centres[part].locate(at) / centres.length[part], 0.0, 1.0)
        own = into == np.array([of for of, _ in parts])[part]
        order = np.lexsort((into, own, np.round(apart / self.together), part))
        part, first = np.unique(part[order], return_index=True)
        for index, chosen in zip(part.tolist(), order[first].tolist(), strict=True):
            depth = self.nose.radius - float(apart[chosen])
            if depth > self.least:
                of, element = parts[index]
                yield Gouge(of, int(into[chosen]), depth, element.point_at(float(share[chosen]) * element.length))

    def _followed(self, contacts: Many) -> Many:
        """The nose centre's path along parts, also of arcs that are too small for it: about the same centre."""
        step = 1j * self._to_left * contacts.direction
        inward = contacts.sign * self._to_left
        scale = 1.0 - inward / np.where(contacts.is_arc, contacts.radius, np.inf)
        scale = np.where(np.abs(scale) < VANISHED, VANISHED, scale)
        start, end = (
            np.where(contacts.is_arc, contacts.centre + (place - contacts.centre) * scale, place + step)
            for place in (contacts.start, contacts.end)
        )
        return many(start, end, contacts.centre, contacts.sign)

    @property
    def _to_left(self) -> float:
        return toward(self.nose.side) * self.nose.radius


def _worth_a_look(centres: Many, shape: Many, part: Indices, into: Indices) -> tuple[Indices, Indices]:
    """Of the pairs those that may hold the least distance of their part: nearer by boxes than the ends already are."""
    known = np.full(len(centres), np.inf)
    for end in (centres.start, centres.end):
        np.minimum.at(known, part, shape[into].distance(end[part]))
    a, b = centres.boxes()[part], shape.boxes()[into]
    gaps = [np.maximum(np.maximum(a[:, k] - b[:, k + 1], b[:, k] - a[:, k + 1]), 0.0) for k in (0, 2)]
    kept = np.hypot(*gaps) <= known[part]
    return part[kept], into[kept]
