"""Breaking a corner: the arc that joins two elements smoothly, the chamfer of equal legs or as a print has it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, TypeAlias

from calc.contour.arc import Arc, Turn
from calc.contour.carriers import Carrier, Circle, Straight, meet
from calc.contour.chain import heading_change
from calc.contour.elements import Element
from calc.contour.errors import (
    ChamferTooLarge,
    FilletTooLarge,
    JoinsSmoothly,
    NeverMeet,
    NoFillet,
    NotFinite,
    NotPositive,
)
from calc.contour.line import Line
from calc.contour.points import Point, Vector
from calc.contour.tolerance import GAP, SMOOTH

Along: TypeAlias = Literal["z", "element"]
"""What the size of a chamfer is measured along."""


@dataclass(frozen=True)
class TrimmedCorner:
    """A corner replaced by ``between``; ``before`` or ``after`` is None where nothing of it is left."""

    before: Element | None
    between: Element
    after: Element | None

    @property
    def elements(self) -> tuple[Element, ...]:
        """What is left, in order of travel."""
        return tuple(element for element in (self.before, self.between, self.after) if element is not None)


def fillet(a: Element, b: Element, radius: float) -> list[TrimmedCorner]:
    """The arcs of ``radius`` mm that lead smoothly from ``a`` into ``b``, the most plausible first.

    Inside and outside corners alike, between any two elements. Both elements are trimmed to the tangent points; if they
    do not meet yet they may be prolonged toward each other. Plausible is an arc of less than half a turn, then the one
    nearest to the corner.

    Raises `JoinsSmoothly` where there is no corner, `FilletTooLarge` with the largest radius that fits, `NoFillet` if
    none does, `NotPositive` and `NotFinite` for the radius.

    >>> face, side = Line(Point(0.0, 0.0), Point(0.0, 30.0)), Line(Point(0.0, 30.0), Point(-20.0, 30.0))
    >>> rounded = fillet(face, side, 2.0)[0]
    >>> rounded.between.start, rounded.between.end
    (Point(z=0.0, r=28.0), Point(z=-2.0, r=30.0))
    """
    _require_size("radius", radius)
    _require_corner(a, b)
    found = _fillets(a, b, radius)
    if found:
        return found
    largest = _largest_fillet(a, b, radius)
    raise FilletTooLarge(radius, largest) if largest else NoFillet(radius)


def chamfer(a: Element, b: Element, leg: float) -> TrimmedCorner:
    """The straight line between two points that are ``leg`` mm from the sharp corner, one on ``a``, one on ``b``.

    The leg is the straight distance from the corner: along a line, as a chord on an arc. Elements that do not meet are
    first prolonged or cut to the nearest corner that they would make.

    Raises `JoinsSmoothly` or `NeverMeet` where there is no corner, `ChamferTooLarge` with the longest leg that fits,
    `NotPositive` and `NotFinite` for the leg.

    >>> face, side = Line(Point(0.0, 0.0), Point(0.0, 30.0)), Line(Point(0.0, 30.0), Point(-20.0, 30.0))
    >>> chamfer(face, side, 1.0).between
    Line(start=Point(z=0.0, r=29.0), end=Point(z=-1.0, r=30.0))
    """
    _require_size("leg", leg)
    _require_corner(a, b)
    a, b = _brought_together(a, b)
    back, ahead = a.reversed(), b
    longest = min(_reach(back), _reach(ahead))
    if leg > longest + max(a.tolerance, b.tolerance):
        raise ChamferTooLarge(leg, longest)
    s_before, s_after = (_position_of_chord(element, leg) for element in (back, ahead))
    line = Line(back.point_at(s_before), ahead.point_at(s_after))
    return TrimmedCorner(_up_to(a, line.start), line, _from(b, line.end))


def chamfer_at(a: Element, b: Element, size: float, angle: float, along: Along = "z") -> TrimmedCorner:
    """The chamfer that a print writes as ``size`` x ``angle`` (mm, rad): 1x45°, 2x30°.

    The size is measured from the sharp corner to where the chamfer ends on the element that runs more along Z: along
    Z itself, or along that ``element``; the angle is the one to Z, or to that element. Common practice, no source.

    Raises as `chamfer`, and `ChamferTooLarge` where it does not come to the other element.

    >>> face, taper = Line(Point(0.0, 0.0), Point(0.0, 9.9)), Line(Point(0.0, 9.9), Point(-22.0, 11.0))
    >>> cuts = chamfer_at(face, taper, 1.0, math.pi / 4.0), chamfer(face, taper, 1.0)
    >>> [round(cut.between.start.r, 9) for cut in cuts]
    [8.95, 8.9]
    """
    _require_size("leg", size)
    _require_corner(a, b)
    a, b = _brought_together(a, b)
    back, ahead = a.reversed(), b
    is_before = abs(back.tangent_at(0.0).z) > abs(ahead.tangent_at(0.0).z)
    axial, other = (back, ahead) if is_before else (ahead, back)
    on_axial = _end_of_chamfer(axial, size, along)
    on_other = _reached(axial, other, on_axial, angle, along)
    if on_other is None:
        raise ChamferTooLarge(size, min(_reach(back), _reach(ahead)))
    first, second = (on_axial, on_other) if is_before else (on_other, on_axial)
    return TrimmedCorner(_up_to(a, first), Line(first, second), _from(b, second))


def _end_of_chamfer(axial: Element, size: float, along: Along) -> Point:
    """Where a chamfer ends on the element that runs more along Z."""
    corner = axial.start
    if along == "element":
        found = [axial.point_at(_position_of_chord(axial, size))] if size <= _reach(axial) + axial.tolerance else []
    else:
        away = math.copysign(size, axial.tangent_at(0.0).z)
        upright = Straight(Point(corner.z + away, corner.r), Vector(0.0, 1.0))
        found = [point for point in meet(axial.carrier, upright) if axial.distance_to(point) <= axial.tolerance]
    if not found:
        raise ChamferTooLarge(size, _reach(axial))
    return min(found, key=corner.distance_to)


def _reached(axial: Element, other: Element, start: Point, angle: float, along: Along) -> Point | None:
    """Where the chamfer that leaves ``start`` at an angle comes to the other element."""
    out = axial.tangent_at(0.0) if along == "element" else Vector(math.copysign(1.0, axial.tangent_at(0.0).z), 0.0)
    side = math.copysign(1.0, out.cross(other.tangent_at(0.0)))
    way = out.times(-1.0).turned(-side * angle)
    found = [p for p in meet(other.carrier, Straight(start, way)) if start.to(p).dot(way) > 0.0]
    on_it = [point for point in found if other.distance_to(point) <= other.tolerance]
    return min(on_it, key=start.distance_to, default=None)


def are_joined(a: Element, b: Element) -> bool:
    """Whether ``b`` starts where ``a`` ends.

    >>> are_joined(Line(Point(0.0, 0.0), Point(0.0, 5.0)), Line(Point(0.0, 5.0), Point(-9.0, 5.0)))
    True
    """
    return a.end.distance_to(b.start) <= GAP * max(a.size, b.size)


def _fillets(a: Element, b: Element, radius: float) -> list[TrimmedCorner]:
    turns: tuple[Turn, Turn] = ("ccw", "cw")
    tried = (
        _fillet_about(a, b, centre, radius, turn)
        for turn in turns
        for centre in meet(_centres(a, radius, turn), _centres(b, radius, turn))
    )
    corner = _corner_or_between(a, b)
    return sorted((c for c in tried if c), key=lambda c: (_is_long(c.between), c.between.distance_to(corner)))


def _is_long(arc: Element) -> bool:
    return abs(arc.sweep) > math.pi


def _centres(element: Element, radius: float, turn: Turn) -> Carrier:
    """Where the centre of an arc must lie that leaves, or enters, the element smoothly."""
    to_left = radius if turn == "ccw" else -radius
    if isinstance(element, Line):
        return Straight(element.start.moved(element.direction.left(), to_left), element.direction)
    return Circle(element.centre, abs(_parallel_radius(element, to_left)))


def _parallel_radius(arc: Arc, to_left: float) -> float:
    """Radius of the parallel; negative once it has passed through the centre."""
    return arc.radius - math.copysign(to_left, to_left * arc.sweep)


def _fillet_about(a: Element, b: Element, centre: Point, radius: float, turn: Turn) -> TrimmedCorner | None:
    to_left = radius if turn == "ccw" else -radius
    leave, enter = _tangent_point(a, centre, to_left), _tangent_point(b, centre, to_left)
    if leave is None or enter is None or leave.distance_to(enter) <= max(a.tolerance, b.tolerance):
        return None
    if not _within(a, b, leave, enter):
        return None
    return TrimmedCorner(_up_to(a, leave), Arc(leave, enter, centre, turn), _from(b, enter))


def _tangent_point(element: Element, centre: Point, to_left: float) -> Point | None:
    if isinstance(element, Line):
        return element.carrier.foot_of(centre)
    out, side = element.centre.to(centre), _parallel_radius(element, to_left)
    if out.length <= element.tolerance:
        return None
    return element.centre.moved(out, math.copysign(element.radius, side) / out.length)


def _within(a: Element, b: Element, leave: Point, enter: Point) -> bool:
    """Whether the tangent points lie on the elements; only elements that do not meet are prolonged."""
    s_leave, s_enter = a.locate(leave), b.locate(enter)
    if s_leave < -a.tolerance or s_enter > b.length + b.tolerance:
        return False
    return not are_joined(a, b) or (s_leave <= a.length + a.tolerance and s_enter >= -b.tolerance)


def _largest_fillet(a: Element, b: Element, too_large: float) -> float:
    """The largest radius that fits, found by halving; 0 if none does."""
    low, high = too_large, too_large
    for _ in range(64):
        low /= 2.0
        if _fillets(a, b, low):
            break
    else:
        return 0.0
    while (middle := (low + high) / 2.0) not in (low, high):
        low, high = (middle, high) if _fillets(a, b, middle) else (low, middle)
    return low


def _corner_or_between(a: Element, b: Element) -> Point:
    """The sharp corner; where there is none, the middle of the gap."""
    between = a.end.midway_to(b.start)
    if are_joined(a, b):
        return between
    return min(meet(a.carrier, b.carrier), key=between.distance_to, default=between)


def _brought_together(a: Element, b: Element) -> tuple[Element, Element]:
    if are_joined(a, b):
        return a, b
    between = a.end.midway_to(b.start)
    corner = min(meet(a.carrier, b.carrier), key=between.distance_to, default=None)
    if corner is None:
        raise NeverMeet(a.end.distance_to(b.start))
    before, after = _up_to(a, corner), _from(b, corner)
    if before is None or after is None:
        raise NeverMeet(a.end.distance_to(b.start))
    return before, after


def _up_to(element: Element, end: Point) -> Element | None:
    if element.locate(end) <= element.tolerance:
        return None
    return element.with_ends(element.start, end)


def _from(element: Element, start: Point) -> Element | None:
    if element.locate(start) >= element.length - element.tolerance:
        return None
    return element.with_ends(start, element.end)


def _reach(element: Element) -> float:
    """The largest straight distance from the start to a point of the element."""
    return 2.0 * element.radius if isinstance(element, Arc) and _is_long(element) else element.chord


def _position_of_chord(element: Element, chord: float) -> float:
    """How far to travel, mm, until the start is ``chord`` mm away."""
    if isinstance(element, Line):
        return min(chord, element.length)
    return min(2.0 * element.radius * math.asin(min(chord / 2.0 / element.radius, 1.0)), element.length)


def _require_size(name: Literal["radius", "leg"], value: float) -> None:
    if not math.isfinite(value):
        raise NotFinite(name, str(value))
    if value <= 0.0:
        raise NotPositive(name, value)


def _require_corner(a: Element, b: Element) -> None:
    if are_joined(a, b) and abs(heading_change(a, b)) <= SMOOTH:
        raise JoinsSmoothly(a.end)
