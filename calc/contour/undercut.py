"""An undercut between a cylinder and a face: what a standard calls by its name, set into the corner of a contour."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from calc.contour.arc import Arc, opposite
from calc.contour.carriers import Straight, meet
from calc.contour.chain import Chain
from calc.contour.elements import Element
from calc.contour.errors import NotSquare, ShoulderOtherWay, UndercutTooLarge
from calc.contour.line import Line
from calc.contour.points import Point, Vector
from calc.contour.tolerance import GAP

SQUARE = 1e-6
"""rad: a cylinder and a face are this close to their axes."""


@dataclass(frozen=True, slots=True)
class Undercut:
    """An undercut as drawn before a shoulder toward -Z at Z0, on a cylinder at r 0 (mm).

    `profile` runs from the cylinder onto the face; below the cylinder its r is negative. `words` is its designation.
    One that belongs to a thread is drawn on its `diameter` (mm) and keeps its bottom where the cylinder is turned to
    its limits; `outside` is the side that such a thread has.
    """

    words: str
    profile: Chain
    diameter: float | None = None
    outside: bool = True


@dataclass(frozen=True, slots=True)
class Cut:
    """A corner replaced by `between`; `before` or `after` is None where nothing of it is left."""

    before: Element | None
    between: tuple[Element, ...]
    after: Element | None


def undercut_at(a: Element, b: Element, undercut: Undercut) -> Cut:
    """The corner from ``a`` to ``b`` with the ``undercut`` in it, in the direction of travel.

    Raises `NotSquare` unless one is a cylinder and the other a face, `UndercutTooLarge` where one is too short,
    `ShoulderOtherWay` where the face goes to the wrong side for the thread.

    >>> low = Chain((Line(Point(2.0, 0.0), Point(1.0, -0.3)), Line(Point(1.0, -0.3), Point(0.0, -0.3))))
    >>> side, face = Line(Point(0.0, 12.0), Point(-60.0, 12.0)), Line(Point(-60.0, 12.0), Point(-60.0, 15.5))
    >>> cut = undercut_at(side, face, Undercut("own", low))
    >>> cut.before.end, cut.after.start
    (Point(z=-58.0, r=12.0), Point(z=-60.0, r=11.7))
    """
    if not (isinstance(a, Line) and isinstance(b, Line)) or a.end.distance_to(b.start) > max(a.tolerance, b.tolerance):
        raise NotSquare
    begins_on_cylinder = abs(a.direction.z) > abs(a.direction.r)
    cylinder, face = (a.reversed(), b) if begins_on_cylinder else (b, a.reversed())
    if abs(cylinder.direction.r) > SQUARE or abs(face.direction.z) > SQUARE:
        raise NotSquare
    placed = _placed(cylinder, face, undercut)
    _require_room(placed, cylinder, face)
    between = placed if begins_on_cylinder else placed.reversed()
    return Cut(_part_of(a.start, between.start), between.elements, _part_of(between.end, b.end))


def _placed(cylinder: Line, face: Line, undercut: Undercut) -> Chain:
    """The profile in the corner, from the cylinder onto the face."""
    corner, outward = cylinder.start, math.copysign(1.0, face.direction.r)
    profile = undercut.profile
    if undercut.diameter is not None:
        if (outward > 0.0) != undercut.outside:
            raise ShoulderOtherWay("an outside" if undercut.outside else "an inside")
        profile = _lowered(profile, outward * (corner.r - undercut.diameter / 2.0))
    along = math.copysign(1.0, cylinder.direction.z)

    def there(point: Point) -> Point:
        return Point(corner.z + along * point.z, corner.r + outward * point.r)

    return Chain(tuple(_moved(element, there, is_turned=along != outward) for element in profile))


def _lowered(profile: Chain, level: float) -> Chain:
    """The profile from a cylinder at this r, seen from it: its slope begins there, its bottom stays."""
    slope = profile.elements[0]
    on_cylinder = meet(slope.carrier, Straight(Point(0.0, level), Vector(1.0, 0.0)))[0]
    return Chain((slope.with_ends(on_cylinder, slope.end), *profile.elements[1:])).shifted(0.0, -level)


def _moved(element: Element, there: Callable[[Point], Point], *, is_turned: bool) -> Element:
    start, end = there(element.start), there(element.end)
    if isinstance(element, Line):
        return Line(start, end)
    return Arc(start, end, there(element.centre), opposite(element.turn) if is_turned else element.turn)


def _require_room(placed: Chain, cylinder: Line, face: Line) -> None:
    corner = cylinder.start
    for line, end, what in ((cylinder, placed.start, "cylinder"), (face, placed.end, "face")):
        needed = corner.to(end).dot(line.direction)
        if needed > line.length + line.tolerance:
            raise UndercutTooLarge(needed, what, line.length)


def _part_of(start: Point, end: Point) -> Line | None:
    line = Line(start, end) if start != end else None
    return None if line is None or line.length <= GAP * line.size else line
