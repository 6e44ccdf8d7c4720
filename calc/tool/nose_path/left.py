"""What a nose leaves of a stretch of contour that it does not touch: how far it stays off, how thick the rest is."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from calc.contour import Arc, Element, Line, Point, Side, Straight, Vector, meet, toward

PLACES = 16
"""Places on the nose from which the one farthest from the walls is narrowed down."""

NARROWED = 45
"""Steps of that search; each keeps about 62 % of the stretch."""

ROUNDING = 1e-9

GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0


def farthest_off(section: Sequence[Element], centres: Sequence[Point], nose: float, together: float) -> float:
    """The largest distance (mm) of a section of the contour from a nose at one place or two; exact.

    Without a place of the nose, the largest distance from the section's start. Places nearer than `together` (mm) are
    one.
    """
    points = [point for element in section for point in (element.start, element.end)]
    for element in section:
        points += _farthest(element, centres, together)
    if not centres:
        return max(point.distance_to(points[0]) for point in points)
    return max(min(centre.distance_to(point) for centre in centres) for point in points) - nose


def _farthest(element: Element, centres: Sequence[Point], together: float) -> list[Point]:
    """Where inside an element the nearer place of the nose may be farthest: opposite to one, or as far from both."""
    points: list[Point] = []
    if len(centres) == 2 and centres[0].distance_to(centres[1]) > together:
        between = Straight(centres[0].midway_to(centres[1]), centres[0].to(centres[1]).unit().left())
        points += meet(element.carrier, between)
    if isinstance(element, Arc):
        outward = [element.centre.to(centre).times(-1.0) for centre in centres]
        points += [element.centre.moved(way.unit(), element.radius) for way in outward if way.length > together]
    return [point for point in points if element.spans(point)]


def square_to_the_walls(section: Sequence[Element], centre: Point, nose: float, side: Side) -> float:
    """How far (mm) the surface that a nose at `centre` leaves stands off the nearest wall of a section at most; exact.

    The nose touches the section's start and its end, or its start and the far side of the axis.
    """
    if len(section) == 2 and all(isinstance(element, Line) for element in section):
        off = centre.distance_to(section[0].end) - nose
        return nose * off / (nose + off)
    start, turn = _facing(section, centre, side)

    def off_the_walls(angle: float) -> float:
        place = centre.moved(start.turned(angle), nose)
        return min(element.distance_to(place) for element in section)

    angles = [turn * place / PLACES for place in range(PLACES + 1)]
    best = max(range(PLACES + 1), key=lambda place: off_the_walls(angles[place]))
    low, high = angles[max(best - 1, 0)], angles[min(best + 1, PLACES)]
    return max(_most(off_the_walls, low, high), off_the_walls(angles[best]))


def _most(rule: Callable[[float], float], low: float, high: float) -> float:
    """The largest value of a rule with one peak between two places, by golden section."""
    a, b = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    at_a, at_b = rule(a), rule(b)
    for _ in range(NARROWED):
        if at_a >= at_b:
            high, b, at_b = b, a, at_a
            a = high - GOLDEN * (high - low)
            at_a = rule(a)
        else:
            low, a, at_a = a, b, at_b
            b = low + GOLDEN * (high - low)
            at_b = rule(b)
    return max(at_a, at_b)


def _facing(section: Sequence[Element], centre: Point, side: Side) -> tuple[Vector, float]:
    """The direction from the nose's centre to the section's start, and the turn (rad) to its end, or to the axis."""
    ends = [centre.to(section[0].start), centre.to(section[-1].end)]
    near, far = sorted(ends, key=lambda each: each.length)
    if far.length > near.length * (1.0 + ROUNDING):
        far = Vector(math.copysign(1.0, far.z), 0.0)
        ends = [far if each is not near else near for each in ends]
    start, end = (each.unit() for each in ends)
    turn = math.atan2(start.cross(end), start.dot(end))
    if turn * toward(side) < 0.0:
        turn += toward(side) * math.tau
    return start, turn
