"""How much of an edge is in the stock of one pass: the edge's line within the layer that the pass takes.

A pass takes a layer of its depth across the feed: along X where the contour runs mostly along Z (levels along Z), along
Z where it runs mostly along X (levels along X). The layer lies between the contour and the contour moved by the depth
across the feed; a wall that stands across the feed has none of its own, there the pass ends.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from calc.contour import Arc, Chain, Element, Line, Point, Straight, Vector, meet, toward
from calc.machining.reach.angles import margins_at
from calc.machining.reach.tool import Tool
from calc.machining.reach.work import Work

ROUNDING = 1e-9
"""Shares of the part's size below which two places are one."""

ARC_PLACES = 8
"""Places on each arc from which the one with most edge in the stock is narrowed down."""

NARROWED = 40
"""Steps of that search; each keeps about 62 % of the stretch."""

GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0


@dataclass(frozen=True, slots=True)
class Engaged:
    """The edge in the stock where most of it is: `length` (mm) of it, over `height` (mm) across the feed.

    `angle` (rad) is between edge and feed, `at` where the nose stands on element `of` of what is cut.
    """

    length: float
    height: float
    angle: float
    at: Point
    of: int


def across_the_feed(work: Work) -> Vector:
    """The unit step across the feed, from the contour toward the tool: along X for a contour that runs along Z.

    >>> shaft = Chain((Line(Point(0.0, 15.0), Point(-50.0, 15.0)), Line(Point(-50.0, 15.0), Point(-50.0, 25.0))))
    >>> across_the_feed(Work(shaft, ("1", "2"), range(2), "right"))
    Vector(z=0.0, r=1.0)
    """
    cut = work.cut
    normal = cut.start.to(cut.end).left().times(toward(work.side))
    bounds = cut.bounds
    if bounds.z_max - bounds.z_min >= bounds.r_max - bounds.r_min:
        return Vector(0.0, math.copysign(1.0, normal.r))
    return Vector(math.copysign(1.0, normal.z), 0.0)


def most_engaged(work: Work, tool: Tool, depth: float) -> Engaged | None:
    """Where the leading edge has most of its length in a pass of `depth` (mm); None for a round insert.

    None, too, where that edge stands clear of the contour nowhere. Source: geometry of a line in a layer.

    >>> from calc.machining.reach.tool import Hold, make_tool
    >>> from calc.tool.insert.tables import shapes
    >>> shaft = Chain((Line(Point(0.0, 15.0), Point(-50.0, 15.0)), Line(Point(-50.0, 15.0), Point(-50.0, 25.0))))
    >>> tool = make_tool(shapes()["C"], 12.7, 0.8, Hold(math.radians(95.0)), None)
    >>> round(most_engaged(Work(shaft, ("1", "2"), range(2), "right"), tool, 2.0).length, 4)
    2.0076
    """
    if tool.low is None or tool.high is None:
        return None
    edge = Vector.at_angle(tool.low if work.side == "left" else tool.high)
    layer = Layer(work.cut, across_the_feed(work), depth)
    elements = layer.cut.elements
    places = [(index, s) for index, element in enumerate(elements) for s in _places(element)]
    tried = (
        (layer.along(elements[index].point_at(s), edge), index, s)
        for index, s in (*places, *layer.below_corners(edge))
        if margins_at(tool, elements[index].heading_at(s), work.side)[0] > -ROUNDING
    )
    best = max(tried, key=lambda each: each[0], default=(0.0, 0, 0.0))
    length, index, s = _narrowed(layer, edge, *best)
    if length <= 0.0:
        return None
    height = length * abs(edge.dot(layer.across))
    angle = math.atan2(abs(edge.dot(layer.across)), abs(edge.cross(layer.across)))
    return Engaged(length, height, angle, elements[index].point_at(s), index)


def _places(element: Element) -> list[float]:
    count = ARC_PLACES if isinstance(element, Arc) else 1
    return [element.length * place / count for place in range(count + 1)]


def _narrowed(layer: Layer, edge: Vector, length: float, index: int, s: float) -> tuple[float, int, float]:
    """On an arc the place near `s` (mm) with most of the edge in the layer, by golden section."""
    element = layer.cut.elements[index]
    if not isinstance(element, Arc):
        return length, index, s
    step = element.length / ARC_PLACES
    low, high = max(s - step, 0.0), min(s + step, element.length)
    for _ in range(NARROWED):
        a, b = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
        at_a, at_b = (layer.along(element.point_at(place), edge) for place in (a, b))
        low, high = (low, b) if at_a >= at_b else (a, high)
    middle = (low + high) / 2.0
    return max((length, index, s), (layer.along(element.point_at(middle), edge), index, middle))


def _struck(places: NDArray[np.complex128], ray: complex, element: Element) -> NDArray[np.float64]:
    """How far (mm) from each place rays in one direction (a unit z + i r) meet the element; infinite where never."""
    if isinstance(element, Line):
        start, step = complex(*element.start), complex(*element.direction)
        sine = (ray.conjugate() * step).imag
        if abs(sine) <= ROUNDING:
            return np.full(places.shape, np.inf)
        out = start - places
        along, s = (out.conjugate() * step).imag / sine, (out.conjugate() * ray).imag / sine
        return np.where((along > 0.0) & (s >= 0.0) & (s <= element.length), along, np.inf)
    centre = complex(*element.centre)
    out = (places - centre) * ray.conjugate()
    half = np.sqrt(np.maximum(element.radius**2 - out.imag**2, 0.0))
    best = np.full(places.shape, np.inf)
    sign, first = (1.0 if element.turn == "ccw" else -1.0), complex(*element.start) - centre
    for along in (-out.real - half, -out.real + half):
        turned = np.mod(sign * np.angle((places + along * ray - centre) / first), math.tau)
        met = (np.abs(out.imag) <= element.radius) & (along > 0.0) & (turned <= element.angle)
        best = np.where(met & (along < best), along, best)
    return best


class Layer:
    """The layer of a pass of `depth` (mm) over the elements that are cut, `across` (a unit step) the feed.

    >>> shaft = Chain((Line(Point(0.0, 15.0), Point(-50.0, 15.0)),))
    >>> Layer(shaft, Vector(0.0, 1.0), 2.0).along(Point(-10.0, 15.0), Vector(0.6, 0.8))
    2.5
    """

    def __init__(self, cut: Chain, across: Vector, depth: float) -> None:
        self.cut = cut
        self.across = across
        self.depth = depth
        self.near = ROUNDING * max(cut.bounds.size, depth)
        self._pieces = [piece for element in cut for piece in self._split(element) if self._width(piece) > self.near]
        ends = np.array([[self._feed(piece.start), self._feed(piece.end)] for piece in self._pieces]).reshape(-1, 2)
        self._low, self._high = ends.min(axis=1) - self.near, ends.max(axis=1) + self.near

    def along(self, point: Point, edge: Vector) -> float:
        """How far (mm) an edge from a point of the contour in the direction `edge` stays in the layer."""
        if abs(edge.cross(self.across)) <= ROUNDING:
            return self.depth
        ray = Straight(point, edge)
        reached = 0.0
        while True:
            feed = self._feed(point.moved(edge, reached))
            over = np.flatnonzero((self._low <= feed) & (feed <= self._high)).tolist()
            spans = [span for index in over for span in self._spans(ray, self._pieces[index])]
            further = max((high for low, high in spans if low <= reached + self.near), default=reached)
            if further <= reached + self.near:
                return reached
            reached = further

    def below_corners(self, edge: Vector) -> Iterator[tuple[int, float]]:
        """The places (element, mm) of the contour from which an edge just meets a corner of the layer's outer side.

        Between them, and the ends of elements, the length in the layer changes steadily along a line.
        """
        joints = (self.cut.start, *(each.end for each in self.cut))
        corners = [joint.moved(self.across, self.depth) for joint in joints]
        places = np.array([complex(*corner) for corner in corners])
        back = -complex(*edge)
        found = np.array([_struck(places, back, element) for element in self.cut])
        nearest = zip(corners, found.argmin(axis=0).tolist(), found.min(axis=0).tolist(), strict=True)
        for corner, column, along in nearest:
            if math.isfinite(along):
                element = self.cut.elements[column]
                s = element.locate(corner.moved(edge, -along))
                yield column, min(max(s, 0.0), element.length)

    def _spans(self, ray: Straight, piece: Element) -> Iterator[tuple[float, float]]:
        """The stretches (mm) of the ray that lie in the layer over one piece."""
        rise = ray.direction.cross(self.across)
        ends = sorted(ray.point.to(end).cross(self.across) / rise for end in (piece.start, piece.end))
        lowered = Straight(ray.point.moved(self.across, -self.depth), ray.direction)
        cuts = {ends[0], ends[1]}
        for line in (ray, lowered):
            for met in meet(line, piece.carrier):
                along = line.direction.dot(line.point.to(met))
                if ends[0] < along < ends[1] and piece.spans(met):
                    cuts.add(along)
        places = sorted(cuts)
        for low, high in pairwise(places):
            middle = ray.point.moved(ray.direction, (low + high) / 2.0)
            if high > 0.0 and any(-self.near <= self._above(middle, foot) <= self.depth + self.near
                                  for foot in self._feet(middle, piece)):  # fmt: skip
                yield max(low, 0.0), high

    def _feet(self, point: Point, piece: Element) -> list[Point]:
        return piece.points_at_z(point.z) if self.across.z == 0.0 else piece.points_at_r(point.r)

    def _above(self, point: Point, foot: Point) -> float:
        return foot.to(point).dot(self.across)

    def _feed(self, point: Point) -> float:
        return point.z if self.across.z == 0.0 else point.r

    def _split(self, element: Element) -> list[Element]:
        along_z = self.across.z == 0.0
        return list(element.split_where_z_turns() if along_z else element.split_where_r_turns())

    def _width(self, piece: Element) -> float:
        return abs(self._feed(piece.end) - self._feed(piece.start))
