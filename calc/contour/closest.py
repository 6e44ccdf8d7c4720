"""How far elements are apart, and where they come nearest: pair by pair, for many pairs at once."""

from __future__ import annotations

import numpy as np

from calc.contour.elements import Element
from calc.contour.many import Floats, Many, Places, many_of, meeting
from calc.contour.tolerance import ROUNDING


def closest(some: Many, others: Many, touching: float = 1e-12) -> tuple[Floats, Places]:
    """The least distance (mm) of each pair, and the place on the one of `some` where it is; exact.

    It is at an end of one of them, between two places where both have one normal, or 0 where they meet: within
    `touching` (mm) of each other. Source: geometry.
    """
    best, at = np.full(len(some), np.inf), some.start.copy()
    for places in (some.start, some.end, *_foot_points(some, others)):
        _take(best, at, others.distance(places), places)
    for places in (others.start, others.end, *_foot_points(others, some)):
        near = some.at(np.clip(some.locate(places), 0.0, some.length))
        _take(best, at, np.abs(near - places), near)
    places, there = meeting(some, others)
    for column in (0, 1):
        met = places[:, column]
        on = there[:, column] & some.spans(met, touching) & others.spans(met, touching)
        _take(best, at, np.where(on, 0.0, np.inf), met)
    return best, at


def _take(best: Floats, at: Places, found: Floats, places: Places) -> None:
    nearer = found < best
    best[nearer], at[nearer] = found[nearer], places[nearer]


def _foot_points(some: Many, others: Many) -> list[Places]:
    """Places on arcs whose normal is one of the other element's, too; elsewhere, and off the arc, its start.

    Arcs about one centre have all normals in common: there the ends tell.
    """
    if not some.sign.any():
        return []
    step = others.centre - some.centre
    apart = np.abs(step)
    is_apart = apart > ROUNDING * np.maximum(some.radius, others.radius)
    normal = np.where(others.is_arc, step / np.where(is_apart, apart, 1.0), 1j * others.direction)
    found = []
    for sign in (1.0, -1.0):
        place = some.centre + sign * some.radius * normal
        on = some.is_arc & some.spans(place, 0.0) & (~others.is_arc | is_apart)
        found.append(np.where(on, place, some.start))
    return found


def clearance(a: Element, b: Element) -> float:
    """The least distance (mm) between two elements, 0 where they meet; exact.

    >>> from calc.contour.arc import Arc
    >>> from calc.contour.line import Line
    >>> from calc.contour.points import Point
    >>> arc = Arc(Point(-5.0, 0.0), Point(5.0, 0.0), Point(0.0, 0.0), "cw")
    >>> clearance(Line(Point(-9.0, 8.0), Point(9.0, 8.0)), arc)
    3.0
    """
    return float(closest(many_of([a]), many_of([b]))[0][0])
