"""Where on the contour a reading is taken, and what it measures there when the tool stands off."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from calc.contour import Arc, Chain, Element, Line, Point, Side, Vector
from calc.measuring.causes import State
from calc.tool.point import STEPS

What = Literal["diameter", "length", "depth", "radius", "over_wires", "over_knurl", "runout", "taper", "point"]
ANYWHERE = 0.0
"""mm: where a check stands whose place changes nothing, over wires or for runout."""
STEEPEST = 0.05
"""Below this share of its normal along the gauge a surface gives no reading there: the gauge would slide along it."""
NEAR = 0.002
"""mm: a Z that a print rounded still means the place."""
ALONG_Z, ALONG_R = Vector(1.0, 0.0), Vector(0.0, 1.0)
DEFAULT_STEP = Vector(-1.0, -1.0)


@dataclass(frozen=True, slots=True)
class Place:
    """A place of the contour (mm) with the direction from it to the nose; `element` None where no contour is needed.

    `spring` is the share of the free end's deflection that the work has there, `late` is 1 on the second part. `other`
    is the second place of a taper, whose diameter is taken from that of the first. With a `ball` (its radius) the spot
    is the centre of the ball that touches the surface.
    """

    what: What
    spot: Point
    normal: Vector
    element: Element | None = None
    spring: float = 0.0
    late: float = 0.0
    other: Place | None = None
    ball: float = 0.0

    @property
    def follows_offsets(self) -> bool:
        """Whether the size moves with the offsets of its tool: a runout does not, nor do crests that rolls raise.

        >>> [Place(what, Point(0.0, 9.0), ALONG_R).follows_offsets for what in ("diameter", "runout", "over_knurl")]
        [True, False, False]
        """
        return self.what not in ("runout", "over_knurl")

    def standing(self, held_at: float | None, late: float, round_at: float | None = None) -> Place:
        """The place on work held at a z (mm), None for work that stands firm; `late` is 1 on the second part.

        Work that is turned round at `round_at` (mm, its far end) has its z, and that where it is held, from there.
        """
        z = self.spot.z if round_at is None else round_at - self.spot.z
        spring = 0.0 if held_at is None else spring_share(z, held_at)
        other = None if self.other is None else self.other.standing(held_at, late, round_at)
        return replace(self, spring=spring, late=late, other=other)


def tool_side(chain: Chain, tool_point: int) -> Side:
    """The side of travel on which the tool stands, by its tool point: a tool of point 3 comes from +X and +Z.

    Points 0 and 9 are taken as an outside tool, which stands there too.

    >>> turned = Chain((Line(Point(0.0, 9.0), Point(-5.0, 9.0)),))
    >>> tool_side(turned, 3), tool_side(turned.reversed(), 3), tool_side(turned, 2)
    ('right', 'left', 'left')
    """
    step = STEPS[tool_point] if STEPS[tool_point].length else DEFAULT_STEP
    left = sum(element.start.to(element.end).left().dot(step) for element in chain)
    return "right" if left > 0.0 else "left"


def find(chain: Chain, side: Side, what: What, z: float | None, nominal: float | None) -> Place | None:
    """Where such a reading is taken: at `z`, and of several places there the one whose size is nearest `nominal`.

    A blank `z` of a length or depth is its nominal behind Z 0; of a diameter or radius the element that has it. None
    where the contour has no such place. All in mm.

    >>> chain = Chain((Line(Point(0.0, 9.0), Point(-5.0, 9.0)), Line(Point(-5.0, 9.0), Point(-5.0, 12.0))))
    >>> find(chain, "right", "diameter", -2.0, 18.0).spot, find(chain, "right", "length", None, 5.0).spot
    (Point(z=-2.0, r=9.0), Point(z=-5.0, r=10.5))
    """
    if what in ("over_wires", "over_knurl", "runout"):
        return Place(what, Point(ANYWHERE if z is None else z, ANYWHERE if nominal is None else nominal / 2.0), ALONG_R)
    if what in ("length", "depth") and z is None:
        z = None if nominal is None else -nominal
    found = [place for element in chain for place in _on(element, side, what, z)]
    if not found or (z is None and nominal is None):
        return None
    return min(found, key=lambda place: _unlikeness(place, nominal))


def find_taper(chain: Chain, side: Side, z: float, to_z: float) -> Place | None:
    """Where a taper is measured, as the diameter at `z` less that at `to_z` (mm); None where one of them is not there.

    >>> chain = Chain((Line(Point(0.0, 9.0), Point(-20.0, 10.0)),))
    >>> round(size(find_taper(chain, "right", -18.0, -2.0), State(), 3), 6)
    1.6
    """
    found = [find(chain, side, "diameter", each, None) for each in (z, to_z)]
    first, other = found
    return None if first is None or other is None else replace(first, what="taper", other=other)


def _unlikeness(place: Place, nominal: float | None) -> tuple[float, float]:
    """How far the size there is from the nominal, then how much the surface leans away from the gauge."""
    off = 0.0 if nominal is None else abs(size(place, State(), 0) - nominal)
    return round(off, 3), -abs(place.normal.dot(_gauged(place.what)))


def _gauged(what: What) -> Vector:
    return ALONG_R if what == "diameter" else ALONG_Z


def _on(element: Element, side: Side, what: What, z: float | None) -> Iterator[Place]:
    """The places of one element at which such a reading can be taken."""
    if what == "radius":
        if isinstance(element, Arc) and (z is None or _holds(element, z)):
            yield _at(element, side, what, element.point_at(element.length / 2.0))
        return
    for point in _points(element, z):
        place = _at(element, side, what, point)
        if point.r >= -NEAR and abs(place.normal.dot(_gauged(what))) > STEEPEST:
            yield place


def _holds(element: Element, z: float) -> bool:
    bounds = element.bounds()
    return bounds.z_min - NEAR <= z <= bounds.z_max + NEAR


def _points(element: Element, z: float | None) -> list[Point]:
    if z is None:
        return [element.point_at(element.length / 2.0)] if isinstance(element, Line) else []
    ends = [end for end in (element.start, element.end) if abs(end.z - z) <= NEAR]
    if len(ends) == 2 and isinstance(element, Line):
        return [element.point_at(element.length / 2.0)]
    return element.points_at_z(z) or ends


def _at(element: Element, side: Side, what: What, point: Point) -> Place:
    left = element.tangent_at(element.locate(point)).left()
    return Place(what, point, left if side == "left" else left.times(-1.0), element)


def size(place: Place, state: State, tool_point: int) -> float:
    """What the gauge reads there (mm) when the tool is in that state; exact for lines and arcs.

    The tool was set by touching off: a nose that is larger by d moves its centre by d away from the tool point, and the
    surface by d along its normal toward the work. A tool at the height h cuts at the radius sqrt(x2 + h2).
    Source: disc led by its tool point, right triangle of radius and height.

    >>> face = Line(Point(0.0, 9.0), Point(-5.0, 9.0))
    >>> place = Place("diameter", Point(-2.0, 9.0), Vector(0.0, 1.0), face)
    >>> size(place, State(x=0.01), 3), size(place, State(nose=-0.1), 3), size(place, State(taper=0.001), 3)
    (18.02, 18.0, 17.998)
    """
    if not place.follows_offsets:
        return 0.0 if place.what == "runout" else 2.0 * place.spot.r
    if place.what == "taper" and place.other is not None:
        first = replace(place, what="diameter", other=None)
        return size(first, state, tool_point) - size(place.other, state, tool_point)
    if place.what == "radius":
        return _radius(place, state)
    if place.what == "over_wires":
        return 2.0 * _turned(place.spot.r + state.x, place, state)
    moved = _moved(place, state, tool_point)
    if place.what == "diameter":
        return 2.0 * _turned(_r_at(place, place.spot.z, moved, state.nose), place, state)
    z = _z_at(place, _keyed(place, state), moved, state.nose)
    return -z if place.spot.z <= 0.0 or place.what == "point" else z


def _moved(place: Place, state: State, tool_point: int) -> Vector:
    """By how much the nose centre stands off."""
    step = STEPS[tool_point]
    return Vector(state.z + place.late * state.growth - step.z * state.nose, state.x - step.r * state.nose)


def _turned(r: float, place: Place, state: State) -> float:
    """The radius that comes out where the tool goes to the radius r."""
    return math.sqrt(max(r * r + state.height_squared, 0.0)) + _leaning(place, state)


def _leaning(place: Place, state: State) -> float:
    """What taper and deflection of the work add to the radius."""
    return state.taper * place.spot.z / 2.0 + place.spring * state.deflection


def _keyed(place: Place, state: State) -> float:
    """The radius to which the tool goes where the radius of the place comes out; on the axis it goes there."""
    r = place.spot.r - _leaning(place, state)
    change = r - math.sqrt(max(r * r - abs(state.height_squared), 0.0))
    return r - math.copysign(change, state.height_squared)


def _radius(place: Place, state: State) -> float:
    arc = place.element
    assert isinstance(arc, Arc)
    hollow = place.spot.to(arc.centre).dot(place.normal) > 0.0
    larger = state.nose - place.ball
    return arc.radius + (larger if hollow else -larger)


def _r_at(place: Place, z: float, moved: Vector, nose: float) -> float:
    """The radius at `z` of the surface that the nose cuts."""
    element = place.element
    if isinstance(element, Arc):
        centre = element.centre.moved(moved)
        return _other(centre.r, _radius(place, State(nose=nose)), z - centre.z, place.spot.r - element.centre.r)
    assert element is not None
    point, along = place.spot.moved(moved).moved(place.normal, -nose), element.tangent_at(0.0)
    return point.r + (z - point.z) * along.r / along.z


def _z_at(place: Place, r: float, moved: Vector, nose: float) -> float:
    """The z at radius `r` of the surface that the nose cuts."""
    element = place.element
    if isinstance(element, Arc):
        centre = element.centre.moved(moved)
        return _other(centre.z, _radius(place, State(nose=nose)), r - centre.r, place.spot.z - element.centre.z)
    assert element is not None
    point, along = place.spot.moved(moved).moved(place.normal, -nose), element.tangent_at(0.0)
    return point.z + (r - point.r) * along.z / along.r


def _other(centre: float, radius: float, across: float, toward: float) -> float:
    """The second coordinate of a point on a circle whose first one is `across` from the centre."""
    return centre + math.copysign(math.sqrt(max(radius * radius - across * across, 0.0)), toward)


def spring_share(z: float, held_at: float) -> float:
    """The share of the free end's (Z 0) deflection that work held at `held_at` has at `z` (mm): the cube of the length.

    A tool that pushes there with one force bends a bar by its free length cubed. Source: a beam held at one end.

    >>> spring_share(0.0, -50.0), spring_share(-25.0, -50.0), spring_share(-60.0, -50.0)
    (1.0, 0.125, 0.0)
    """
    return max((z - held_at) / -held_at, 0.0) ** 3


def candidates(chain: Chain, side: Side, tool_point: int) -> Iterator[Place]:
    """Places at which one more reading could be taken, the easiest for a gauge first (mm).

    The tool point (`tool_point`, 0 to 9) tells outside from inside.

    Cylinders come first, at both ends; where the contour has none, one that is turned for the purpose; then faces, the
    radius of arcs, tapers and depths.
    """
    lines = [element for element in chain if isinstance(element, Line)]
    round_ = [line for line in lines if abs(line.direction.r) < STEEPEST]
    for line in sorted(round_, key=lambda line: -line.length):
        for share in (0.1, 0.9):
            yield _at(line, side, "diameter", line.point_at(share * line.length))
    if not round_:
        yield turned_for_it(chain.bounds.r_max, chain.bounds.z_min, tool_point)
    for line in lines:
        if abs(line.direction.z) < STEEPEST:
            yield _at(line, side, "length", line.point_at(line.length / 2.0))
    for arc in chain:
        if isinstance(arc, Arc):
            yield _at(arc, side, "radius", arc.point_at(arc.length / 2.0))
    for element in chain:
        for share in (0.1, 0.9):
            for what in _sloping(element):
                place = _at(element, side, what, element.point_at(share * element.length))
                if abs(place.normal.dot(_gauged(what))) > 4.0 * STEEPEST:
                    yield place


def _sloping(element: Element) -> Sequence[What]:
    slopes = not isinstance(element, Line) or STEEPEST <= abs(element.direction.r) <= 1.0 - STEEPEST
    return ("diameter", "depth") if slopes else ()


def turned_for_it(r: float, z: float, tool_point: int) -> Place:
    """A cylinder of radius `r` at `z` (mm), turned with the tool of that tool point (0 to 9) only to be measured.

    >>> turned_for_it(30.0, -10.0, 3).normal.r, turned_for_it(12.0, -10.0, 2).normal.r
    (1.0, -1.0)
    """
    start = Point(z, r)
    out = -1.0 if STEPS[tool_point].r > 0.0 else 1.0
    return Place("diameter", start, Vector(0.0, out), Line(start, start.shifted(1.0, 0.0)))


def faced_for_it(z: float, r: float, tool_point: int) -> Place:
    """A face at `z` from the radius `r` outward (mm), turned with the tool of that tool point (0 to 9).

    >>> faced_for_it(-20.0, 15.0, 3).normal.z, faced_for_it(-20.0, 15.0, 4).normal.z
    (1.0, -1.0)
    """
    start = Point(z, r)
    out = -1.0 if STEPS[tool_point].z > 0.0 else 1.0
    return Place("length", start, Vector(out, 0.0), Line(start, start.shifted(0.0, 1.0)))
