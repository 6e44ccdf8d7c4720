"""A contour of which each element is moved square to itself by a distance of its own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calc.contour.carriers import meet
from calc.contour.chain import Chain
from calc.contour.elements import Element
from calc.contour.errors import ContourError
from calc.contour.line import Line
from calc.contour.points import Point
from calc.contour.sides import Side, other_side

JOINED = 1e-9
"""mm: ends nearer than this are one."""

TIED = 1e-6
"""mm: places that are as near as this to a corner are as near."""

FARTHEST = 8.0
"""A corner moves at most so many times as far as the elements beside it; else a step joins them."""


def moved(chain: Chain, side: Side, distances: Sequence[float]) -> tuple[Chain, tuple[int, ...]]:
    """The chain moved toward a side by `distances` (mm, negative: away from it), and of which element each part is.

    Neighbours are trimmed or made longer to where they now meet; smooth ones that part are joined by a step. Raises
    `ContourError` where an element vanishes or the contour crosses itself. Source: geometry.

    >>> from itertools import pairwise
    >>> corners = [Point(0.0, 0.0), Point(0.0, 6.0), Point(-3.0, 6.0), Point(-3.0, 9.0)]
    >>> found, of = moved(Chain(tuple(Line(a, b) for a, b in pairwise(corners))), "right", [0.0, 0.5, 0.0])
    >>> found.elements[1], of
    (Line(start=Point(z=0.0, r=6.5), end=Point(z=-3.0, r=6.5)), (0, 1, 2))
    """
    led = [
        each.offset(abs(by), side if by > 0.0 else other_side(side)) if by else each
        for each, by in zip(chain, distances, strict=True)
    ]
    parts = list(_joined(chain, led, distances))
    found = Chain(tuple(part for part, _ in parts))
    if found.self_intersections():
        raise ContourError
    return found, tuple(of for _, of in parts)


def _joined(chain: Chain, led: Sequence[Element], distances: Sequence[float]) -> Iterator[tuple[Element, int]]:
    joints = [_joint(chain.elements[i].end, led[i : i + 2], distances[i : i + 2]) for i in range(len(led) - 1)]
    starts = [led[0].start, *(end for _, end in joints)]
    ends = [*(start for start, _ in joints), led[-1].end]
    for index, (each, start, end) in enumerate(zip(led, starts, ends, strict=True)):
        yield _between(each, start, end), index
        if index < len(joints) and end.distance_to(starts[index + 1]) > JOINED:
            yield Line(end, starts[index + 1]), index


def _joint(corner: Point, pair: Sequence[Element], distances: Sequence[float]) -> tuple[Point, Point]:
    """Where the first of two neighbours ends and the second begins.

    Where the two meet at two places as near, as smooth ones do, the one that moves less is cut short: what is left on
    the other, or taken off it, is so all along it.
    """
    first, second = pair
    if first.end.distance_to(second.start) <= JOINED:
        return first.end, first.end
    far = FARTHEST * max(map(abs, distances))
    spots = [spot for spot in meet(first.carrier, second.carrier) if spot.distance_to(corner) <= far]
    if not spots:
        return first.end, second.start
    nearest = min(map(corner.distance_to, spots))
    shortened = first if abs(distances[0]) < abs(distances[1]) else second
    spot = min(
        (spot for spot in spots if spot.distance_to(corner) <= nearest + TIED),
        key=lambda spot: abs(shortened.locate(spot) - shortened.length / 2.0),
    )
    return spot, spot


def _between(each: Element, start: Point, end: Point) -> Element:
    """The element from one of its places to another. Raises `ContourError` where nothing is left of it."""
    ahead = each.direction.dot(start.to(end)) if isinstance(each, Line) else each.locate(end) - each.locate(start)
    if ahead <= JOINED:
        raise ContourError
    return each.with_ends(start, end)
