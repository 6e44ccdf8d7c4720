"""Smooth paths onto a finished contour and off it: a quarter of an arc, or a line along the contour's end."""

from __future__ import annotations

from collections.abc import Iterator

from calc.contour import Arc, Element, Line, Vector
from calc.cutting.nouns import Lead


def smooth_in(lead: Lead, first: Element, away: Vector, size: float) -> Iterator[Element]:
    """The path in that joins `first` smoothly; none for a straight one. `away` (unit) is off the surface, `size` mm.

    >>> from calc.contour import Point
    >>> [arc] = smooth_in("arc", Line(Point(0.0, 5.0), Point(-9.0, 5.0)), Vector(0.0, 1.0), 2.0)
    >>> arc.start, round(arc.tangent_at(arc.length).z, 9)
    (Point(z=2.0, r=7.0), -1.0)
    """
    along, place = first.tangent_at(0.0), first.start
    if lead == "tangent":
        yield Line(place.moved(along, -size), place)
    elif lead == "arc":
        centre = place.moved(away, size)
        yield Arc(centre.moved(along, -size), place, centre, "ccw" if along.left().dot(away) > 0.0 else "cw")


def smooth_out(lead: Lead, last: Element, away: Vector, size: float) -> Iterator[Element]:
    """The path off that leaves `last` smoothly, as `smooth_in`.

    >>> from calc.contour import Point
    >>> [line] = smooth_out("tangent", Line(Point(0.0, 5.0), Point(-9.0, 5.0)), Vector(0.0, 1.0), 2.0)
    >>> line.end
    Point(z=-11.0, r=5.0)
    """
    along, place = last.tangent_at(last.length), last.end
    if lead == "tangent":
        yield Line(place, place.moved(along, size))
    elif lead == "arc":
        centre = place.moved(away, size)
        yield Arc(place, centre.moved(along, size), centre, "ccw" if along.left().dot(away) > 0.0 else "cw")
