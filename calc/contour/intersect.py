"""Where two bounded elements share points."""

from __future__ import annotations

from calc.contour.arc import Arc
from calc.contour.carriers import meet
from calc.contour.elements import Element
from calc.contour.line import Line
from calc.contour.points import Point


def intersections(a: Element, b: Element) -> list[Point]:
    """The points that two elements (mm) share, ends included, in the order of travel along ``a``.

    A touch is one point. Elements that lie on one another share the two ends of the common stretch. For the endless
    lines and whole circles that carry the elements use ``meet(a.carrier, b.carrier)``.

    >>> a, b = Line(Point(0.0, 0.0), Point(8.0, 0.0)), Arc(Point(8.0, 4.0), Point(-2.0, 4.0), Point(3.0, 4.0), "cw")
    >>> intersections(a, b)
    [Point(z=0.0, r=0.0), Point(z=6.0, r=0.0)]
    """
    tolerance = max(a.tolerance, b.tolerance)
    shared = _distinct([*_ends_on(a, b, tolerance), *_ends_on(b, a, tolerance)], tolerance)
    for point in meet(a.carrier, b.carrier):
        is_new = not any(same_contact(a, b, point, other, 2.0 * tolerance) for other in shared)
        if is_new and a.spans(point) and b.spans(point):
            shared.append(point)
    return sorted(shared, key=a.locate)


def same_carrier(a: Element, b: Element) -> bool:
    """Whether two elements lie on one endless line or one circle, within rounding.

    >>> same_carrier(Line(Point(0.0, 1.0), Point(1.0, 1.0)), Line(Point(9.0, 1.0), Point(5.0, 1.0)))
    True
    """
    tolerance = max(a.tolerance, b.tolerance)
    if isinstance(a, Line) and isinstance(b, Line):
        distances = [a.carrier.distance_to(b.start), a.carrier.distance_to(b.end)]
        distances += [b.carrier.distance_to(a.start), b.carrier.distance_to(a.end)]
        return max(map(abs, distances)) <= tolerance
    if isinstance(a, Arc) and isinstance(b, Arc):
        return a.centre.distance_to(b.centre) + abs(a.radius - b.radius) <= tolerance
    return False


def same_contact(a: Element, b: Element, p: Point, q: Point, tolerance: float) -> bool:
    """Whether between two shared points the elements never part by more than ``tolerance`` mm: one contact, not two.

    >>> arc = Arc(Point(-5.0, 0.0), Point(5.0, 0.0), Point(0.0, 0.0), "cw")
    >>> same_contact(Line(Point(-5.0, 3.0), Point(5.0, 3.0)), arc, Point(-4.0, 3.0), Point(4.0, 3.0), 1e-9)
    False
    """
    if p.distance_to(q) <= tolerance:
        return True
    midway = a.point_at((a.locate(p) + a.locate(q)) / 2.0)
    return b.distance_to(midway) <= tolerance


def _ends_on(a: Element, b: Element, tolerance: float) -> list[Point]:
    return [end for end in (a.start, a.end) if b.distance_to(end) <= tolerance]


def _distinct(points: list[Point], tolerance: float) -> list[Point]:
    kept: list[Point] = []
    for point in points:
        if all(point.distance_to(other) > tolerance for other in kept):
            kept.append(point)
    return kept
