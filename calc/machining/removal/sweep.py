"""What a tool passes over: its outline swept along a path of the nose centre.

The outline is a convex polygon with discs of the nose radius at the corners of its core. Swept along a curve, a disc
gives a ring's sector, and the polygon the strips over which its edges pass: the Minkowski sum of outline and path,
exact on lines and as fine as the chords of arcs.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise

import numpy as np

from calc.contour import Arc, Bounds, Element, Line, Point
from calc.machining.removal.arc_ring import TINY, from_to, ring_along, turned
from calc.machining.removal.polygons import FINE, Area, Places, disc, hull, places_of, polygon, ring, steps_of, united
from calc.machining.removal.stock import Stock


@dataclass(frozen=True)
class Outline:
    """A tool's outline (mm) about its nose centre: the convex `core` grown by `nose`, and convex `holders`."""

    core: tuple[Point, ...]
    nose: float
    holders: tuple[tuple[Point, ...], ...] = ()

    @cached_property
    def corners(self) -> list[complex]:
        """The corners of the core."""
        return [complex(*point) for point in self.core]

    @cached_property
    def is_even(self) -> bool:
        """Whether the half of the insert toward the axis is the mirror image of the other, as of a round one."""
        return {corner.conjugate() for corner in self.corners} == set(self.corners)

    def crosses(self, element: Element) -> bool:
        """Whether the insert can cut beyond the axis what it does not cut on this side, along an element.

        An even one whose centre stays on this side cannot: the mirror image of what is beyond is nearer to its centre.
        """
        return element.bounds().r_min < (-TINY if self.is_even else self.below)

    @cached_property
    def below(self) -> float:
        """How far the insert reaches below its nose's centre, mm."""
        return -float(self.rim.imag.min())

    def corners_along(self, across: complex) -> tuple[complex, complex]:
        """The outermost points of the outline to the left and to the right; `across` (mm) is the nose to the left."""
        off = [(corner * across.conjugate()).real for corner in self.corners]
        return self.corners[off.index(max(off))] + across, self.corners[off.index(min(off))] - across

    @cached_property
    def body(self) -> Places | None:
        """The polygon between the discs: the core's edges moved out by the nose; None for a round insert."""
        if len(self.corners) < 3:
            return None
        found = []
        for a, b in zip(self.corners, [*self.corners[1:], self.corners[0]], strict=True):
            outward = -1j * (b - a) / abs(b - a) * self.nose
            found += [a + outward, b + outward]
        return np.array(found)

    @cached_property
    def holder_bodies(self) -> tuple[Places, ...]:
        """The corners of each holder."""
        return tuple(np.array([complex(*point) for point in each]) for each in self.holders)

    @cached_property
    def rim(self) -> Places:
        """Points along the whole outline, counter-clockwise."""
        return self.rim_within(FINE)

    def rim_within(self, fine: float) -> Places:
        """The same with chords within `fine` (mm) of the arcs."""
        if self.body is None:
            return disc(self.corners[0], self.nose, fine)
        arcs = []
        for index, corner in enumerate(self.corners):
            into, out = self.body[2 * index - 1] - corner, self.body[2 * index] - corner
            turned = cmath.phase(out / into)
            steps = steps_of(self.nose, turned, fine)
            angles = np.concatenate([turned * np.arange(steps + 1) / steps, _along_axes(cmath.phase(into), turned)])
            arcs.append(corner + into * np.exp(1j * np.sort(angles)))
        return np.concatenate(arcs)

    def at(self, centre: Point) -> Area:
        """The insert where its nose centre is."""
        return polygon(self.rim + complex(*centre))

    def holder_at(self, centre: Point) -> Area:
        """The holder where the nose centre is; empty without one."""
        place = complex(*centre)
        return united([polygon(each + place) for each in self.holder_bodies])


def _along_axes(first: float, turned: float) -> list[float]:
    """The angles (rad) after `first`, within `turned`, at which an arc points along an axis.

    >>> _along_axes(0.0, 2.0) == [math.pi / 2], _along_axes(0.0, math.pi / 2), _along_axes(math.pi / 2 - 1e-12, 1.0)
    (True, [], [])
    >>> [round(angle, 9) for angle in _along_axes(-2.0, 5.0)]
    [0.429203673, 2.0, 3.570796327]
    """
    quarter = math.pi / 2.0
    at = quarter * (math.floor(first / quarter) + 1.0) - first
    return [at + quarter * number for number in range(4) if TINY < at + quarter * number < turned - TINY]


@lru_cache(maxsize=64)
def bodies(outline: Outline, clear: float) -> tuple[Places, ...]:
    """Points around each convex body of the tool, insert first, `clear` (mm) larger all round, or smaller if negative.

    >>> found = bodies(Outline((Point(0.0, 0.0),), 1.0), 0.5)
    >>> round(float(found[0].real.max()), 6)
    1.5
    """
    fine = max(clear / 8.0, FINE)
    insert = Outline(outline.core, outline.nose + clear).rim_within(fine)
    square = max(clear, 0.0) * np.array([1 + 1j, 1 - 1j, -1 + 1j, -1 - 1j])
    grown = ((each[:, None] + square).ravel() for each in outline.holder_bodies)
    return (insert, *(ring(hull(np.asarray(each, dtype=complex))) for each in grown))


Box = tuple[float, float, float, float]


@lru_cache(maxsize=64)
def boxes(outline: Outline, clear: float = 0.0) -> tuple[Box, ...]:
    """The bounds about the nose's centre of each body of the tool: least z, least r, greatest z, greatest r (mm).

    >>> boxes(Outline((Point(0.0, 0.0),), 1.0), 0.5)[0][0]
    -1.5
    """
    return tuple(
        (float(body.real.min()), float(body.imag.min()), float(body.real.max()), float(body.imag.max()))
        for body in bodies(outline, clear)
    )


def far_off(box: Box, path: Bounds, stock: Stock) -> bool:
    """Whether a body within `box` about its reference, which stays within a path's bounds, is off those of all slabs.

    On both sides of the axis.

    >>> from calc.machining.removal.stock import stock_of
    >>> path, body = Bounds(-5.0, 5.0, 9.0, 9.0), (-1.0, -1.0, 1.0, 1.0)
    >>> low, high = (stock_of(polygon(np.array([-9.0, 0.0, r * 1j, -9.0 + r * 1j]))) for r in (7.9, 8.1))
    >>> far_off(body, path, low), far_off(body, path, high)
    (True, False)
    """
    low, high = box[1] + path.r_min, box[3] + path.r_max
    r_low, r_high = max(low, -high, 0.0), max(high, -low)
    return not stock.near((box[0] + path.z_min, r_low, box[2] + path.z_max, r_high))


def swept(outline: Outline, path: Sequence[Element]) -> Area:
    """All that the insert passes over while its nose centre goes along contiguous elements.

    >>> area = swept(Outline((Point(0.0, 0.0),), 1.0), [Line(Point(0.0, 5.0), Point(4.0, 5.0))])
    >>> round(area.area, 2)
    11.14
    """
    return united([area for element in path for area in _swept(outline, element)])


@lru_cache(maxsize=8)
def slot(outline: Outline, element: Element) -> Area:
    """The same along one element; that of the pass at hand is kept, which is planned by what it takes and then cut.

    >>> slot(Outline((Point(0.0, 0.0),), 1.0), Line(Point(0.0, 5.0), Point(4.0, 5.0))).bounds
    (-1.0, 4.0, 5.0, 6.0)
    """
    return united(list(_swept(outline, element)))


@lru_cache(maxsize=64)
def round_nose(radius: float) -> Outline:
    """The outline of a nose of a `radius` (mm) alone, about its centre.

    >>> round_nose(0.8).nose
    0.8
    """
    return Outline((Point(0.0, 0.0),), radius)


def cut_along(outline: Outline, element: Element) -> Area:
    """All that the insert cuts along an element: what it passes over beyond the axis on this side, too.

    >>> area = cut_along(Outline((Point(0.0, 0.0),), 1.0), Line(Point(0.0, -0.5), Point(4.0, -0.5)))
    >>> [round(bound, 6) for bound in area.bounds]
    [-1.0, -1.5, 5.0, 1.5]
    """
    cut = slot(outline, element)
    return folded(cut) if outline.crosses(element) else cut


def run_over(body: Places, line: Line, flanks: tuple[complex, complex] | None = None) -> Area:
    """What a convex body, counter-clockwise about its reference, passes over along a line.

    `flanks` are its outermost points to the left and to the right of the line, where they lie between those of `body`.

    >>> square = np.array([0j, 1 + 0j, 1 + 1j, 1j])
    >>> run_over(square, Line(Point(0.0, 0.0), Point(2.0, 0.0))).area
    3.0
    """
    start, end = complex(*line.start), complex(*line.end)
    front, back = _sides(body.tobytes(), complex(*line.direction), flanks)
    return polygon(np.concatenate([front + end, back + start]))


@lru_cache(maxsize=64)
def _sides(body: bytes, way: complex, flanks: tuple[complex, complex] | None) -> tuple[Places, Places]:
    """The points of a body from its right to its left and on to its right again, seen along a unit `way`."""
    places = np.frombuffer(body, dtype=complex)
    across = (places * way.conjugate()).imag
    left, right = int(across.argmax()), int(across.argmin())
    front, back = from_to(places, right, left), from_to(places, left, right)
    if flanks is None:
        return front, back
    return _between(flanks[1], front, flanks[0]), _between(flanks[0], back, flanks[1])


def _between(first: complex, side: Places, last: complex) -> Places:
    """A side from one outermost point to another, in place of its own where those are the same.

    A side that has the same point twice, but for rounding, would cross itself.
    """
    begin, end = int(abs(first - side[0]) <= TINY), len(side) - int(abs(last - side[-1]) <= TINY)
    return np.concatenate([[first], side[begin:end], [last]])


def folded(area: Area) -> Area:
    """What counts on a part that turns: what lies beyond the axis cuts on this side, too."""
    return area if area.is_empty or area.bounds[1] >= 0.0 else united([area, mirrored(area)])


def mirrored(area: Area) -> Area:
    """The area on the other side of the axis."""
    import shapely  # noqa: PLC0415 - loaded on first use

    return shapely.transform(area, lambda places: places * [1.0, -1.0])


def holder_parts(outline: Outline, element: Element) -> list[Area]:
    """All that the holder passes over along one element, in areas that may overlap."""
    areas: list[Area] = []
    for body in outline.holder_bodies:
        areas += body_parts(body, element)
    return areas


def body_parts(body: Places, element: Element) -> list[Area]:
    """All that a convex body passes over along an element, in areas that may overlap."""
    return [run_over(body, element)] if isinstance(element, Line) else list(_strips(body, element))


def around(body: Places, element: Element) -> Area:
    """A convex area that holds all that a convex body passes over along an element, of a line just that.

    >>> square = np.array([0j, 1 + 0j, 1 + 1j, 1j])
    >>> around(square, Arc(Point(0.0, 1.0), Point(-1.0, 0.0), Point(0.0, 0.0), "ccw")).bounds
    (-1.0, 0.0, 1.0, 2.0)
    """
    if isinstance(element, Line):
        return run_over(body, element)
    return hull((places_of(element)[:, None] + body).ravel())


def _swept(outline: Outline, element: Element) -> Iterator[Area]:
    if isinstance(element, Line):
        across = 1j * complex(*element.direction) * outline.nose
        yield run_over(outline.rim, element, outline.corners_along(across))
        return
    ring = ring_along(outline.corners, outline.nose, outline.rim, element)
    if ring is not None:
        yield ring
        return
    yield from (outline.at(end) for end in (element.start, element.end))
    yield from (_sector(element, corner, outline.nose) for corner in outline.corners)
    if outline.body is not None:
        yield from _strips(outline.body, element)


def _sector(arc: Arc, corner: complex, nose: float) -> Area:
    """What a disc about a corner passes over on an arc, without its ends: a ring's sector or two."""
    centre, start = complex(*arc.centre) + corner, complex(*arc.start) + corner
    ray = (start - centre) / abs(start - centre)
    inner = arc.radius - nose
    outside = turned(ray * (arc.radius + nose), arc.sweep)
    if inner >= 0.0:
        return polygon(centre + np.concatenate([outside, turned(ray * inner, arc.sweep)[::-1]]))
    return united([*_fans(centre, outside), *_fans(centre, turned(ray * inner, arc.sweep))])


def _fans(centre: complex, rim: Places) -> Iterator[Area]:
    """The sector under a rim in three parts, none of which turns by half a turn or more."""
    third = (len(rim) - 1) // 3
    for start, end in pairwise([0, third, 2 * third, len(rim) - 1]):
        if end > start:
            yield polygon(centre + np.concatenate([rim[start : end + 1], [0j]]))


def _strips(body: Places, arc: Arc) -> Iterator[Area]:
    """What the leading edges of a convex polygon (counter-clockwise) pass over, with the polygon where it starts."""
    edges = list(zip(body, np.roll(body, -1), strict=True))
    for part in _split_at(arc, [b - a for a, b in edges]):
        path = places_of(part)
        yield polygon(body + path[0])
        for a, b in edges:
            if _cross(b - a, path[-1] - path[0]) < -TINY * abs(b - a):
                yield polygon(np.concatenate([path + a, (path + b)[::-1]]))


def _split_at(arc: Arc, edges: Iterable[complex]) -> list[Arc]:
    """An arc cut where it runs along one of the edges, so that no strip overlaps itself."""
    heading = cmath.phase(complex(*arc.tangent_at(0.0)))
    sign = 1.0 if arc.turn == "ccw" else -1.0
    cuts = []
    for edge in edges:
        turned = (sign * (cmath.phase(edge) - heading)) % math.pi
        cuts += [turned * arc.radius, (turned + math.pi) * arc.radius]
    return arc.split(*cuts)


def _cross(a: complex, b: complex) -> float:
    return (a.conjugate() * b).imag
