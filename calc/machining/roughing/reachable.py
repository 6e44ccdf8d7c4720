"""What of a contour an insert's edges let it cut: valleys steeper than an edge become lines along that edge.

Behind a place that an edge grazes, the contour lies in its shadow, down to where the edge's line meets the contour
again. What stays there is for another tool.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calc.contour import Arc, Chain, Element, Line, Point, Side, Vector, intersections

NEAR = 1e-9
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
    other: Side = "right" if side == "left" else "left"
    elements, shadows = _shaded(chain.elements, side, forward)
    back = Chain(elements).reversed().elements
    elements, more = _shaded(back, other, backward)
    return Reachable(Chain(elements).reversed(), (*shadows, *more))


def _shaded(elements: Sequence[Element], side: Side, edge: float) -> tuple[tuple[Element, ...], list[Shadow]]:
    """The elements with all that lies ahead in the shadow of an edge replaced by lines along it."""
    ray = Vector.at_angle(edge).times(-1.0)
    rest = list(elements)
    kept: list[Element] = []
    shadows: list[Shadow] = []
    heading: Vector | None = None
    while rest:
        element = rest.pop(0)
        grazed = _grazed(heading, element, ray, side)
        if grazed is None:
            kept.append(element)
            heading = element.tangent_at(element.length)
            continue
        if grazed > NEAR:
            kept.append(element.between(0.0, grazed))
        spot = element.point_at(grazed)
        behind = [element.between(grazed, element.length), *rest] if grazed < element.length - NEAR else rest
        end, rest = _landing(spot, ray, behind)
        kept.append(Line(spot, end))
        shadows.append(Shadow(spot, end))
        heading = ray
    return tuple(kept), shadows


def _grazed(before: Vector | None, element: Element, ray: Vector, side: Side) -> float | None:
    """Where on the element (mm) travel turns away from the tool through the ray's direction; 0 is its first joint."""
    away = -1.0 if side == "left" else 1.0
    first = element.tangent_at(0.0)
    falls = away * ray.cross(first) > NEAR and ray.dot(first) > -1.0 + NEAR
    if falls and (before is None or away * before.cross(ray) >= -NEAR) and _turns(before, ray, first, away):
        return 0.0
    if not isinstance(element, Arc) or away * element.curvature <= 0.0:
        return None
    turned = (away * (ray.heading - first.heading)) % math.tau
    return turned * element.radius if NEAR < turned < element.angle - NEAR else None


def _turns(before: Vector | None, ray: Vector, after: Vector, away: float) -> bool:
    """Whether turning from one heading to the next, away from the tool, passes the ray within half a turn."""
    if before is None:
        return ray.dot(after) > 0.0
    whole = (away * math.atan2(before.cross(after), before.dot(after))) % math.tau
    part = (away * math.atan2(before.cross(ray), before.dot(ray))) % math.tau
    return part <= whole + NEAR and whole <= math.pi + NEAR


def _landing(spot: Point, ray: Vector, behind: Sequence[Element]) -> tuple[Point, list[Element]]:
    """Where the ray from a spot first meets what follows, and the rest from there; the axis or far away if nowhere."""
    far = 2.0 * max(element.size for element in [*behind, Line(spot, spot.moved(ray))])
    line = Line(spot, spot.moved(ray, far))
    best: tuple[float, int, Point] | None = None
    for index, element in enumerate(behind):
        for point in intersections(line, element):
            along = line.locate(point)
            if along > NEAR * far and (best is None or along < best[0]):
                best = along, index, point
    if best is None:
        return _far_end(spot, ray, far), []
    _, index, point = best
    struck = behind[index]
    s = struck.locate(point)
    left = [struck.between(s, struck.length)] if s < struck.length - NEAR else []
    return point, [*left, *behind[index + 1 :]]


def _far_end(spot: Point, ray: Vector, far: float) -> Point:
    """The end of a ray that meets nothing: on the axis if it gets there."""
    if ray.r < -NEAR and spot.r > 0.0:
        return Point(spot.z - spot.r * ray.z / ray.r, 0.0)
    return spot.moved(ray, far)
