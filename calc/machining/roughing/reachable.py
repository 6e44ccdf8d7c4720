"""What of a contour an insert's edges let it cut: valleys steeper than an edge become lines along that edge.

Behind a place that an edge grazes, the contour lies in its shadow, down to where the edge's line meets the contour
again. What stays there is for another tool.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from calc.contour import Arc, Chain, Element, Line, Point, Side, Vector, intersections, other_side, toward
from calc.contour.boxes import grown
from calc.contour.many import Floats, many_of

NEAR = 1e-9
GROWN = 8.0
"""Boxes are grown by so many times what rounding may be, so that nothing is missed that a line only just meets."""

USUAL_MARGIN = math.radians(2.0)
"""By how much edges are kept off a wall (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Edges:
    """The directions (rad from +Z) of an insert's two edges from its nose: `low`, counter-clockwise of it `high`."""

    low: float
    high: float

    def kept_off(self, margin: float) -> Edges:
        """The edges of an insert that is wider by a margin (rad) on both sides."""
        return Edges(self.low - margin, self.high + margin)


@dataclass(frozen=True, slots=True)
class Shadow:
    """A stretch in the shadow of an edge: from where it grazes to where its line ends."""

    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Reachable:
    """The contour as far as the insert can cut it, and the shadows that are left out."""

    chain: Chain
    shadows: tuple[Shadow, ...]


def reachable(chain: Chain, side: Side, edges: Edges | None) -> Reachable:
    """The contour that an insert with these edges can cut, the tool on the `side` of travel; None is a round insert.

    The edges are taken as endless. Source: geometry of a line that grazes a contour.

    >>> corners = [(9.0, 20.0), (5.0, 20.0), (5.0, 17.0), (0.0, 17.0), (0.0, 20.0), (-9.0, 20.0)]
    >>> chain = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in zip(corners, corners[1:])))
    >>> found = reachable(chain, "right", Edges(math.radians(45.0), math.radians(85.0)))
    >>> [(round(shadow.start.z, 6), round(shadow.end.z, 6)) for shadow in found.shadows]
    [(5.0, 2.0)]
    """
    if edges is None:
        return Reachable(chain, ())
    forward, backward = (edges.high, edges.low) if side == "left" else (edges.low, edges.high)
    elements, shadows = _shaded(chain.elements, side, forward)
    back = Chain(elements).reversed().elements
    elements, more = _shaded(back, other_side(side), backward)
    return Reachable(Chain(elements).reversed(), (*shadows, *more))


def _shaded(elements: Sequence[Element], side: Side, edge: float) -> tuple[tuple[Element, ...], list[Shadow]]:
    """The elements with all that lies ahead in the shadow of an edge replaced by lines along it."""
    ray = Vector.at_angle(edge).times(-1.0)
    rest = _Rest(elements)
    kept: list[Element] = []
    shadows: list[Shadow] = []
    heading: Vector | None = None
    while rest:
        element = rest.taken()
        grazed = _grazed(heading, element, ray, side)
        if grazed is None:
            kept.append(element)
            heading = element.tangent_at(element.length)
            continue
        if grazed:
            kept.append(element.between(0.0, grazed))
        spot = element.point_at(grazed)
        rest.put_back(element.between(grazed, element.length))
        end = rest.cut_by(spot, ray)
        kept.append(Line(spot, end))
        shadows.append(Shadow(spot, end))
        heading = ray
    return tuple(kept), shadows


class _Rest:
    """The elements that are still ahead, in order of travel; of the first there may be an end only."""

    def __init__(self, elements: Sequence[Element]) -> None:
        self._elements = list(elements)
        self._next = 0

    def __bool__(self) -> bool:
        return self._next < len(self._elements)

    def taken(self) -> Element:
        """The next element, which is no longer ahead then."""
        self._next += 1
        return self._elements[self._next - 1]

    def put_back(self, element: Element) -> None:
        """What is left of the element that was taken last is ahead again."""
        self._next -= 1
        self._elements[self._next] = element

    def cut_by(self, spot: Point, ray: Vector) -> Point:
        """Where the ray from a spot first meets what is ahead; the axis or far away if nowhere.

        What lies before that is no longer ahead.
        """
        far = 2.0 * max(float(self._sizes[self._next :].max(initial=0.0)), Line(spot, spot.moved(ray)).size)
        line = Line(spot, spot.moved(ray, far))
        best: tuple[float, int, Point] | None = None
        for entered, index in self._entered(line):
            if best is not None and entered > best[0]:
                break
            met = ((line.locate(point), index, point) for point in intersections(line, self._elements[index]))
            best = min((each for each in (best, *met) if each and each[0] > NEAR * far), default=None)
        if best is None:
            self._next = len(self._elements)
            return _far_end(spot, ray, far)
        _, index, point = best
        struck = self._elements[index]
        self._next = index + 1
        if (s := struck.locate(point)) < struck.length - NEAR:
            self.put_back(struck.between(s, struck.length))
        return point

    def _entered(self, line: Line) -> list[tuple[float, int]]:
        """The elements ahead whose boxes a line meets, and after how many mm it does, the first one first."""
        step = line.tangent_at(0.0)
        boxes = grown(self._boxes[self._next :], GROWN * line.tolerance)
        begin, end = np.zeros(len(boxes)), np.full(len(boxes), np.inf)
        for low, high, start, along in ((0, 1, line.start.z, step.z), (2, 3, line.start.r, step.r)):
            if along:
                times = (boxes[:, low] - start) / along, (boxes[:, high] - start) / along
                begin, end = np.maximum(begin, np.minimum(*times)), np.minimum(end, np.maximum(*times))
            else:
                end = np.where((boxes[:, low] <= start) & (start <= boxes[:, high]), end, -1.0)
        met = np.flatnonzero(begin <= end)
        order = met[np.argsort(begin[met], kind="stable")]
        return list(zip(begin[order].tolist(), (order + self._next).tolist(), strict=True))

    @cached_property
    def _boxes(self) -> Floats:
        return many_of(self._elements).boxes()

    @cached_property
    def _sizes(self) -> Floats:
        """The largest coordinate or radius (mm) of each element, whole."""
        return np.array([each.size for each in self._elements])


def _grazed(before: Vector | None, element: Element, ray: Vector, side: Side) -> float | None:
    """Where on the element (mm) travel turns away from the tool through the ray's direction; 0 is its first joint."""
    away = -toward(side)
    first = element.tangent_at(0.0)
    falls = away * ray.cross(first) > NEAR and ray.dot(first) > -1.0 + NEAR
    if falls and _turns(before, ray, first, away):
        return 0.0
    if not isinstance(element, Arc) or away * element.curvature <= 0.0:
        return None
    turned = (away * (ray.heading - first.heading)) % math.tau
    return turned * element.radius if NEAR < turned < element.angle - NEAR else None


def _turns(before: Vector | None, ray: Vector, after: Vector, away: float) -> bool:
    """Whether turning from one heading to the next, away from the tool, passes the ray within half a turn."""
    if before is None:
        return ray.dot(after) > 0.0
    turned = (away * math.atan2(before.cross(after), before.dot(after))) % math.tau
    return away * before.cross(ray) >= -NEAR and turned <= math.pi + NEAR


def _far_end(spot: Point, ray: Vector, far: float) -> Point:
    """The end of a ray that meets nothing: on the axis if it gets there."""
    if ray.r < -NEAR and spot.r > 0.0:
        return Point(spot.z - spot.r * ray.z / ray.r, 0.0)
    return spot.moved(ray, far)
