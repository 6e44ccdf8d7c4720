"""A line that turns corners, each of which may be rounded."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from calc.contour import Arc, Chain, Element, Line, Point, Vector

NOTHING = 1e-9  # mm: a piece of line shorter than this is none


class DoesNotFit(ValueError):
    """The radius at corner `index` (from 0) is larger than `largest` (mm), which its two lines leave room for."""

    def __init__(self, index: int, largest: float) -> None:
        self.index = index
        self.largest = largest
        super().__init__(f"the radius at corner {index} must be at most {largest} mm")


def rounded(points: Sequence[Point], radii: Sequence[float]) -> Chain:
    """The lines through `points` with an arc of each of `radii` (mm, 0: sharp) at the inner points.

    Raises `DoesNotFit` where an arc and its neighbour need more than the line between them.

    >>> chain = rounded((Point(0.0, 0.0), Point(5.0, 0.0), Point(5.0, 9.0)), (2.0,))
    >>> [round(element.length, 6) for element in chain]
    [3.0, 3.141593, 7.0]
    """
    headings = [a.to(b).unit() for a, b in pairwise(points)]
    shares = [_half_turn(a, b) for a, b in pairwise(headings)]
    legs = [0.0, *(radius * share for radius, share in zip(radii, shares, strict=True)), 0.0]
    _require_room(points, legs, radii, shares)
    elements: list[Element] = []
    at = points[0]
    for index, corner in enumerate(points[1:-1]):
        begin = corner.moved(headings[index], -legs[index + 1])
        _add_line(elements, at, begin)
        at = corner.moved(headings[index + 1], legs[index + 1])
        if radii[index] > 0.0 and shares[index] > 0.0:
            elements.append(_arc(begin, at, headings[index], headings[index + 1], radii[index]))
    _add_line(elements, at, points[-1])
    return Chain(tuple(elements))


def _half_turn(a: Vector, b: Vector) -> float:
    """The leg of a radius of 1 at the corner between two directions."""
    return math.tan(math.atan2(abs(a.cross(b)), a.dot(b)) / 2)


def _require_room(
    points: Sequence[Point], legs: Sequence[float], radii: Sequence[float], shares: Sequence[float]
) -> None:
    rooms = [a.distance_to(b) for a, b in pairwise(points)]
    for index, (radius, share) in enumerate(zip(radii, shares, strict=True)):
        before, after = rooms[index] - legs[index], rooms[index + 1] - legs[index + 2]
        same = index + 1 < len(radii) and radii[index + 1] == radius
        if same:  # the next corner has the same radius: the two share the line between them
            after = rooms[index + 1] * share / (share + shares[index + 1])
        if legs[index + 1] > min(before, after) + NOTHING:
            raise DoesNotFit(index, max(min(before, after), 0.0) / share)


def _add_line(elements: list[Element], start: Point, end: Point) -> None:
    if start.distance_to(end) > NOTHING:
        elements.append(Line(start, end))


def _arc(start: Point, end: Point, before: Vector, after: Vector, radius: float) -> Arc:
    is_left = before.cross(after) > 0.0
    centre = start.moved(before.left(), radius if is_left else -radius)
    return Arc(start, end, centre, "ccw" if is_left else "cw")
