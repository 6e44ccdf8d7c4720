"""The contour with allowances in front of it: along Z and along X, on whatever side of a wall the tool stands."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from calc.contour import Chain, ContourError, Element, Line, Point, Side, Vector, meet, toward

LEVEL = 1e-9
"""A normal with less than this of a component has none of it."""

JOINED = 1e-9
"""mm: ends nearer than this are one."""


def kept(chain: Chain, side: Side, along_z: float, along_x: float) -> Chain | None:
    """The contour moved toward the tool by allowances (mm) along Z and, of a radius, along X.

    Each wall moves to the side on which its material is cut, so both walls of a groove move into the groove. None where
    the allowances leave nothing of it. Source: Minkowski sum of the part and the allowances' rectangle.

    >>> corners = [(0.0, 9.0), (-5.0, 9.0), (-5.0, 7.0), (-9.0, 7.0), (-9.0, 9.0), (-12.0, 9.0)]
    >>> groove = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))
    >>> found = kept(groove, "right", 0.1, 0.3)
    >>> [(round(each.end.z, 6), round(each.end.r, 6)) for each in found][1:4]
    [(-5.1, 7.3), (-8.9, 7.3), (-8.9, 9.3)]
    """
    if max(along_z, along_x) <= JOINED:
        return chain
    pieces = [part for element in chain for part in _of_one_sign(element)]
    normals = [piece.normal_at(piece.length / 2.0, side) for piece in pieces]
    shifts = [Vector(_sign(n.z) * along_z, _sign(n.r) * along_x) for n in normals]
    try:
        moved = Chain(tuple(_straightened(_joined(pieces, shifts, toward(side)))))
    except ContourError:
        return None
    return None if moved.self_intersections() else moved


def _of_one_sign(element: Element) -> Iterator[Element]:
    for part in element.split_where_r_turns():
        yield from part.split_where_z_turns()


def _sign(value: float) -> float:
    return math.copysign(1.0, value) if abs(value) > LEVEL else 0.0


def _joined(pieces: Sequence[Element], shifts: Sequence[Vector], to_tool: float) -> Iterator[Element]:
    """The pieces moved: trimmed where they now cross, bridged along the axes where they now gape."""
    moved = [piece.shifted(shift.z, shift.r) for piece, shift in zip(pieces, shifts, strict=True)]
    bridges: list[list[Point]] = []
    for index, (before, after) in enumerate(pairwise(pieces)):
        first, second = moved[index], moved[index + 1]
        turn = to_tool * before.tangent_at(before.length).cross(after.tangent_at(0.0))
        if first.end.distance_to(second.start) <= JOINED:
            bridges.append([first.end])
        elif turn > LEVEL or (abs(turn) <= LEVEL and _bends_in(before, after, to_tool)):
            spot = min(meet(first.carrier, second.carrier), key=before.end.distance_to, default=None)
            if spot is None:
                raise ContourError
            bridges.append([spot])
        else:
            around = _around(before.end, shifts[index], shifts[index + 1], first.end, second.start)
            bridges.append(_without_what_goes_on(first, second, around))
    starts = [moved[0].start, *(bridge[-1] for bridge in bridges)]
    ends = [*(bridge[0] for bridge in bridges), moved[-1].end]
    for index, (piece, start, end) in enumerate(zip(moved, starts, ends, strict=True)):
        yield _between(piece, start, end)
        yield from (Line(a, b) for a, b in pairwise(bridges[index] if index < len(bridges) else ()))


def _straightened(elements: Iterable[Element]) -> list[Element]:
    """The elements with lines that go straight on in one."""
    found: list[Element] = []
    for element in elements:
        last = found[-1] if found else None
        if isinstance(last, Line) and isinstance(element, Line) and last.direction.dot(element.direction) > 1.0 - LEVEL:
            found[-1] = Line(last.start, element.end)
        else:
            found.append(element)
    return found


def _bends_in(before: Element, after: Element, to_tool: float) -> bool:
    """Whether a smooth joint bends toward the tool."""
    return to_tool * (before.curvature + after.curvature) > 0.0


def _around(joint: Point, first: Vector, second: Vector, start: Point, end: Point) -> list[Point]:
    """The corners of the rectangle between two shifts, from where one piece ends to where the next begins."""
    via = joint.moved(Vector(second.z or first.z, first.r or second.r))
    points = [start]
    for point in (via, end):
        if points[-1].distance_to(point) > JOINED:
            points.append(point)
    return points


def _without_what_goes_on(first: Element, second: Element, around: list[Point]) -> list[Point]:
    """The corners of a bridge without the legs that are its lines led straight on: so a low step keeps its wall."""
    if _goes_on(first, around[0], around[1]):
        around = around[1:]
    return around[:-1] if len(around) > 1 and _goes_on(second, around[-2], around[-1]) else around


def _goes_on(piece: Element, start: Point, end: Point) -> bool:
    return isinstance(piece, Line) and piece.direction.dot(start.to(end)) > (1.0 - LEVEL) * start.distance_to(end)


def _between(piece: Element, start: Point, end: Point) -> Element:
    """The piece from one of its places to another. Raises `ContourError` where nothing is left of it."""
    ahead = piece.locate(end) - piece.locate(start)
    if isinstance(piece, Line):
        ahead = piece.direction.dot(start.to(end))
    if ahead <= JOINED:
        raise ContourError
    return piece.with_ends(start, end)
