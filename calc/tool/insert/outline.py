"""The insert seen from above: its true outline, straight edges and rounded corners."""

from __future__ import annotations

import math
from collections.abc import Sequence

from calc.contour import Arc, Chain, Element, Line, Point, Vector
from calc.contour.tolerance import GAP
from calc.tool.insert.tables import Shape


def insert_core(shape: Shape, size: float, nose: float, body: float = 0.0) -> tuple[Point, ...]:
    """The outline less its nose radius all round: the polygon (mm) on which a disc of the nose radius rolls.

    `size` is the inscribed circle, `body` the direction (rad) from the cutting nose to the insert's middle. The first
    corner is the cutting nose's centre, at z = r = 0; the others follow counter-clockwise. A round insert has the one.

    >>> from calc.tool.insert.tables import shapes
    >>> [(round(p.z, 3), round(p.r, 3)) for p in insert_core(shapes()["S"], 12.7, 0.0)]
    [(0.0, 0.0), (8.98, -8.98), (17.961, 0.0), (8.98, 8.98)]
    """
    if shape.angle is None:
        return (Point(0.0, 0.0),)
    inner = size / 2 - nose
    corners = [_corner(inner / math.sin(half), turn) for half, turn in _corners(shape)]
    first = corners[0]
    others = (Point(*first.to(corner).turned(body - math.pi)) for corner in corners[1:])
    return (Point(0.0, 0.0), *others)


def insert_outline(shape: Shape, size: float, nose: float, body: float = 0.0) -> Chain:
    """The outline, mm, counter-clockwise, with the cutting nose's centre at z = r = 0; `body` as in `insert_core`.

    >>> from calc.tool.insert.tables import shapes
    >>> outline = insert_outline(shapes()["D"], 9.525, 0.4)
    >>> outline.is_closed, len(outline), round(outline.bounds.z_min, 6)
    (True, 8, -0.4)
    """
    core = insert_core(shape, size, nose, body)
    if len(core) == 1:
        right, left = Point(nose, 0.0), Point(-nose, 0.0)
        return Chain((Arc(right, left, core[0], "ccw"), Arc(left, right, core[0], "ccw")))
    return rolled(core, nose)


def rolled(core: Sequence[Point], nose: float) -> Chain:
    """The outline of a convex polygon (mm, counter-clockwise) grown by `nose` all round.

    >>> triangle = (Point(0.0, 0.0), Point(3.0, 0.0), Point(0.0, 4.0))
    >>> round(rolled(triangle, 1.0).length, 6)
    18.283185
    """
    elements: list[Element] = []
    for before, corner, after in zip((core[-1], *core[:-1]), core, (*core[1:], core[0]), strict=True):
        into, out = _outward(before, corner), _outward(corner, after)
        start, end = corner.moved(into, nose), corner.moved(out, nose)
        if start.distance_to(end) > GAP:
            elements.append(Arc(start, end, corner, "ccw"))
        elements.append(Line(end, after.moved(out, nose)))
    return Chain(tuple(elements))


def _outward(start: Point, end: Point) -> Vector:
    return start.to(end).unit().left().times(-1.0)


def _corner(distance: float, turn: float) -> Point:
    return Point(distance * math.cos(turn), distance * math.sin(turn))


def _corners(shape: Shape) -> list[tuple[float, float]]:
    """Half the included angle of each corner, and its direction from the middle, counter-clockwise from the nose."""
    angle = shape.included
    if shape.corners:
        return [(angle / 2, math.tau * index / shape.corners) for index in range(shape.corners)]
    if shape.kind == "trigon":
        blunt = math.radians(120.0) - angle / 2
        return [(blunt if index % 2 else angle / 2, math.pi / 3 * index) for index in range(6)]
    other = (math.pi - angle) / 2
    return [(other if index % 2 else angle / 2, math.pi / 2 * index) for index in range(4)]
