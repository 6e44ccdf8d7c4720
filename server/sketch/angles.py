"""Angles as a print draws them: a bow between the legs at the vertex, arrows from outside when the bow is short."""

from __future__ import annotations

import math
from collections.abc import Iterator

from calc.answer.drawing import Dimension
from calc.contour import Point
from server.sketch.boxes import DESCENT, HEIGHT, level_box, level_text, text_width
from server.sketch.dimensions import GAP, OUTSIDE, OVERSHOOT, Lane, dimension_markup, dimension_text
from server.sketch.markup import ARROW_LENGTH, arrow, line, num

SIZES = (48.0, 64.0, 84.0, 110.0, 34.0, 140.0)
"""Radii of a bow to try, px."""

BESIDE = 30.0
"""How far along the bow a text stands beside a leg, px."""

Spot = tuple[float, float]


def angle(dimension: Dimension, lane: Lane) -> str:
    """An angle at its vertex: a bow between the legs, arrows from outside when the bow is short."""
    plane, room = lane.plane, lane.room
    text = dimension_text(dimension, lane.view)
    vertex = dimension.vertex or dimension.a
    x, y = plane.xy(*vertex)
    first, turn = _legs(dimension, vertex)
    width = text_width(text)
    tried = [(size, _drawn((x, y), size, first, turn)) for size in SIZES]
    bow = room.place_led(
        (
            (level_box(width, *spot), "".join(drawn), (drawn, spot))
            for size, drawn in tried
            for spot in _spots((x, y), size, first, turn, width)
        ),
        clean=True,
    )
    if bow is None and dimension.if_room:
        return ""
    if bow is None:
        room.draw("".join(tried[0][1]))
        bow = tried[0][1], room.anywhere(width, (x + SIZES[0], y))
    (lines, arrows), at = bow
    room.draw(arrows)
    return dimension_markup(dimension, lines, arrows, level_text(text, *at))


def _drawn(at: Spot, size: float, first: float, turn: float) -> tuple[str, str]:
    """Path data of bow and legs, and of the arrows, for a bow of a size about the vertex."""
    x, y = at
    ends = [(x + size * math.cos(t), y - size * math.sin(t), t) for t in (first, first + turn)]
    lines, arrows = _bow(ends, size, turn, abs(turn) * size > 3.0 * ARROW_LENGTH)
    for ex, ey, t in ends:
        c, s = math.cos(t), -math.sin(t)
        lines += line(x + GAP * c, y + GAP * s, ex + OVERSHOOT * c, ey + OVERSHOOT * s)
    return lines, arrows


def _legs(dimension: Dimension, vertex: Point) -> tuple[float, float]:
    """Direction of the first leg and the turn to the second, rad, seen with X up."""
    first, second = (math.atan2(s.r - vertex.r, s.z - vertex.z) for s in (dimension.a, dimension.b))
    return first, math.remainder(second - first, math.tau)


def _spots(at: Spot, size: float, first: float, turn: float, width: float) -> Iterator[Spot]:
    """Where the text may stand: outside the bow, between the legs first, then beside them; last within the bow."""
    x, y = at
    beside = math.copysign(BESIDE / size, turn)
    for t in (first + turn / 2.0, first + turn + beside, first - beside, first + turn / 4.0, first + 0.75 * turn):
        c, s = math.cos(t), -math.sin(t)
        half = abs(c) * width / 2.0 + abs(s) * HEIGHT / 2.0
        for away in (size + 6.0 + half, size - 6.0 - half):
            yield x + away * c, y + away * s + HEIGHT / 2.0 - DESCENT


def _bow(ends: list[tuple[float, float, float]], size: float, turn: float, inside: bool) -> tuple[str, str]:
    """Path data of the bow and its arrows; from outside it runs on behind each arrow."""
    (x1, y1, t1), (x2, y2, t2) = ends
    sweep = int(turn < 0.0)
    lines = f"M{num(x1)} {num(y1)}A{num(size)} {num(size)} 0 0 {sweep} {num(x2)} {num(y2)}"
    way = math.copysign(1.0, turn) * (1.0 if inside else -1.0)
    arrows = "".join(
        arrow(x, y, sign * way * math.sin(t), sign * way * math.cos(t))
        for x, y, t, sign in ((x1, y1, t1, 1.0), (x2, y2, t2, -1.0))
    )
    if not inside:
        for x, y, t, sign in ((x1, y1, t1, 1.0), (x2, y2, t2, -1.0)):
            lines += line(x, y, x - sign * way * OUTSIDE * math.sin(t), y - sign * way * OUTSIDE * math.cos(t))
    return lines, arrows
