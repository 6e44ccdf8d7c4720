"""How far two elements are apart."""

from __future__ import annotations

from collections.abc import Iterator

from calc.contour.arc import Arc
from calc.contour.elements import Element
from calc.contour.intersect import intersections
from calc.contour.points import Point


def clearance(a: Element, b: Element) -> float:
    """The least distance (mm) between two elements, 0 where they meet; exact.

    It is at an end of one of them, or between two places where both have one normal. Source: geometry.

    >>> from calc.contour.line import Line
    >>> arc = Arc(Point(-5.0, 0.0), Point(5.0, 0.0), Point(0.0, 0.0), "cw")
    >>> clearance(Line(Point(-9.0, 8.0), Point(9.0, 8.0)), arc)
    3.0
    """
    if intersections(a, b):
        return 0.0
    from_a = [a.start, a.end, *_facing(a, b)]
    from_b = [b.start, b.end, *_facing(b, a)]
    return min(*(b.distance_to(point) for point in from_a), *(a.distance_to(point) for point in from_b))


def _facing(element: Element, other: Element) -> Iterator[Point]:
    """Places inside an arc whose normal is one of the other element's, too."""
    if not isinstance(element, Arc):
        return
    if isinstance(other, Arc):
        toward = element.centre.to(other.centre)
        if toward.length <= element.tolerance:
            return
        normal = toward.unit()
    else:
        normal = other.direction.left()
    for outward in (normal, normal.times(-1.0)):
        place = element.centre.moved(outward, element.radius)
        if element.spans(place):
            yield place
