"""Dimensions as a print draws them: lanes for diameters and lengths, leaders for radii, bows for angles."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from calc.answer.drawing import Dimension
from calc.contour import Arc, Chain, Point
from calc.language.quantities import View
from server.sketch.boxes import (
    ASCENT,
    DESCENT,
    HEIGHT,
    Box,
    Room,
    level_box,
    level_text,
    text_box,
    text_width,
    upright_box,
    upright_text,
)
from server.sketch.frame import FIRST_LANE, NEXT_LANE
from server.sketch.markup import ARROW_LENGTH, Plane, arrow, group, line, num, path, words

GAP, OVERSHOOT = 4.0, 6.0
"""An extension line begins this far from what it belongs to and runs this far past its dimension line, px."""

PAST_AXIS = 12.0
"""How far the line of a diameter runs on past the axis, px."""

LIFT = 5.0
"""Height of a text's base line above its dimension line, px."""

BESIDE_LANES = 8.0
"""How far past the part's room the text of a diameter may reach without meeting the lanes of lengths, px."""

OUTSIDE = 16.0
"""Length of line behind an arrow that stands outside of what it measures, px."""


@dataclass(frozen=True, slots=True)
class Lane:
    """What a dimension is laid out in: the plane, the room for words, the reader's view, the room of the part."""

    plane: Plane
    room: Room
    view: View
    content: Box


def dimension_text(dimension: Dimension, view: View) -> str:
    """What stands on the dimension: sign and value as the reader's prints write it, or the symbol when not known.

    A metric print drops idle zeros after the point, an inch print keeps its places (ASME Y14.5, decimal dimensions).
    """
    if dimension.value is None or not dimension.is_known:
        return dimension.symbol or "?"
    unit = dimension.kind.unit(view)
    digits = unit.text(dimension.value)
    if unit.leading_zero and "." in digits:
        digits = digits.rstrip("0").rstrip(".")
    return dimension.kind.sign + digits + ("°" if dimension.shape == "angle" else "")


def dimension_markup(dimension: Dimension, lines: str, arrows: str, text: str) -> str:
    """The group of one dimension, which bears the field that it belongs to."""
    field = f' data-field="{words(dimension.field)}"' if dimension.field else ""
    return group("dim", path("t", lines) + path("a", arrows) + text, field)


def lane_at(edge: float, index: int, sign: float) -> float:
    """Where lane `index` runs, counted away from `edge`."""
    return edge + sign * (FIRST_LANE + NEXT_LANE * index)


def diameter(dimension: Dimension, x: float, lane: Lane) -> str:
    """A diameter in a half view: one arrow at the part, the line running on past the axis."""
    plane, room = lane.plane, lane.room
    from_x, y = plane.x(dimension.a.z), plane.y(abs(dimension.a.r))
    foot = min(max(plane.y0 + PAST_AXIS, y + ARROW_LENGTH), lane.content.bottom)
    text = dimension_text(dimension, lane.view)
    half = text_width(text) / 2.0
    inside = foot - y > 2.0 * half + ARROW_LENGTH + 4.0
    middle = (y + ARROW_LENGTH + foot) / 2.0 if inside else y - ARROW_LENGTH - 4.0 - half
    highest, lowest = lane.content.top - BESIDE_LANES + half, lane.content.bottom + BESIDE_LANES - half
    if not inside and middle < highest:
        middle = foot + 4.0 + half
    middle = max(min(middle, lowest), highest)
    room.take(upright_box(text, x - LIFT, middle))
    head = y if inside else min(y - OUTSIDE, middle - half)
    tail = max(foot, middle + half if middle > y else foot)
    room.avoid(Box(x - 1.0, head, x + 1.0, tail), Box(min(from_x, x), y - 1.0, max(from_x, x), y + 1.0))
    lines = line(from_x + GAP, y, x + OVERSHOOT, y) + line(x, head, x, tail)
    return dimension_markup(dimension, lines, arrow(x, y, 0, -1 if inside else 1), upright_text(text, x - LIFT, middle))


def length(dimension: Dimension, y: float, lane: Lane) -> str:
    """A length along z, its line at the height `y`, extension lines from its two spots."""
    plane, room = lane.plane, lane.room
    a, b = sorted((dimension.a, dimension.b), key=lambda spot: spot.z)
    (x1, y1), (x2, y2) = plane.xy(*a), plane.xy(*b)
    text = dimension_text(dimension, lane.view)
    width = text_width(text)
    inside = x2 - x1 > width + 2.0 * ARROW_LENGTH + 4.0
    middle, left, right = (x1 + x2) / 2.0, x1, x2
    if not inside:
        middle, left, right = _beside(x1, x2, width, room.whole)
    room.take(text_box(text, middle, y - LIFT))
    sign = 1.0 if y > y1 else -1.0
    lines = "".join(line(x, spot + sign * GAP, x, y + sign * OVERSHOOT) for x, spot in ((x1, y1), (x2, y2)))
    room.avoid(Box(left, y - 1.0, right, y + 1.0))
    out = -1 if inside else 1
    arrows = arrow(x1, y, out, 0) + arrow(x2, y, -out, 0)
    return dimension_markup(dimension, lines + line(left, y, right, y), arrows, level_text(text, middle, y - LIFT))


def _beside(x1: float, x2: float, width: float, whole: Box) -> tuple[float, float, float]:
    """Middle of the text and both ends of the line for a length too short for its text, right if there is room."""
    start, end = x1 - OUTSIDE, x2 + OUTSIDE
    if x2 + ARROW_LENGTH + 6.0 + width <= whole.right:
        middle = x2 + ARROW_LENGTH + 6.0 + width / 2.0
        return middle, start, max(end, middle + width / 2.0)
    middle = max(x1 - ARROW_LENGTH - 6.0 - width / 2.0, whole.left + width / 2.0)
    return middle, min(start, middle - width / 2.0), end


@dataclass(frozen=True, slots=True)
class _Leader:
    """A leader from a tip on the arc to a tail, with the middle of the text behind the tail."""

    tip: tuple[float, float]
    tail: tuple[float, float]
    text: tuple[float, float]
    to_centre: bool


def radius(dimension: Dimension, part: Chain, lane: Lane) -> str:
    """A radius: the arrow on the arc, the leader in line with the centre, broken when the centre is out of view."""
    room = lane.room
    text = dimension_text(dimension, lane.view)
    width = text_width(text)
    chosen = room.place(
        (level_box(width, *leader.text), leader) for leader in _leaders(dimension, part, lane.plane, width)
    )
    if chosen is None:
        first = next(_leaders(dimension, part, lane.plane, width))
        x, y = room.anywhere(width, first.text)
        chosen = _Leader(first.tip, (x, y - ASCENT - 2.0), (x, y), to_centre=False)
    (x1, y1), (x2, y2) = chosen.tip, chosen.tail
    size = math.hypot(x2 - x1, y2 - y1) or 1.0
    ux, uy = (x2 - x1) / size, (y2 - y1) / size
    centre = lane.plane.xy(*dimension.b)
    out_of_view = not room.is_inside(*centre) and chosen.to_centre
    lines = _jogged(chosen, ux, uy, size) if out_of_view else line(x1, y1, x2, y2)
    if math.dist(centre, chosen.tail) < 0.5:
        lines += line(x2 - 4.0, y2, x2 + 4.0, y2) + line(x2, y2 - 4.0, x2, y2 + 4.0)
    return dimension_markup(dimension, lines, arrow(x1, y1, -ux, -uy), level_text(text, *chosen.text))


def _leaders(dimension: Dimension, part: Chain, plane: Plane, width: float) -> Iterator[_Leader]:
    """Leaders to try, best first: near the middle of the arc, short, from the side of the air."""
    arc = _arc_of(dimension, part)
    hollow = arc is None or arc.turn == "ccw"
    cx, cy = plane.xy(*dimension.b)
    for tip_spot in _tips(dimension, arc):
        x, y = plane.xy(*tip_spot)
        size = math.hypot(cx - x, cy - y) or 1.0
        sign = 1.0 if hollow else -1.0
        ux, uy = sign * (cx - x) / size, sign * (cy - y) / size
        for reach in (34.0, 48.0, 64.0, 84.0, 110.0, 140.0):
            at_centre = hollow and 40.0 < size < reach
            run = size if at_centre else reach
            tail = x + run * ux, y + run * uy
            yield _Leader((x, y), tail, _behind(tail, ux, uy, width), to_centre=hollow)


def _behind(tail: tuple[float, float], ux: float, uy: float, width: float) -> tuple[float, float]:
    """Where the text stands behind the tail: beside it when the leader lies rather flat, else above or below."""
    (x, y), level = tail, HEIGHT / 2.0 - DESCENT
    if abs(ux) > 0.5:
        return x + math.copysign(width / 2.0 + 4.0, ux), y + level
    return x, (y + ASCENT + 3.0 if uy > 0.0 else y - DESCENT - 3.0)


def _tips(dimension: Dimension, arc: Arc | None) -> list[Point]:
    if arc is None:
        return [dimension.a]
    return [arc.point_at(share * arc.length) for share in (0.45, 0.6, 0.3, 0.75, 0.15, 0.9)]


def _arc_of(dimension: Dimension, part: Chain) -> Arc | None:
    """The part's arc about the dimension's centre, if it is one of the part's."""
    near = 1e-6 * max(part.bounds.size, 1e-9)
    arcs = [e for e in part.elements if isinstance(e, Arc) and e.centre.distance_to(dimension.b) <= near]
    return min(arcs, key=lambda arc: arc.distance_to(dimension.a), default=None)


def _jogged(leader: _Leader, ux: float, uy: float, size: float) -> str:
    """Path data of a leader with a jog near its tail: the centre is farther than can be shown."""
    (x1, y1), (x2, y2) = leader.tip, leader.tail
    data = f"M{num(x1)} {num(y1)}"
    for along, aside in ((-13.0, 0.0), (-10.0, 5.0), (-6.0, -5.0), (-3.0, 0.0)):
        at = size + along
        data += f"L{num(x1 + at * ux - aside * uy)} {num(y1 + at * uy + aside * ux)}"
    return data + f"L{num(x2)} {num(y2)}"


def angle(dimension: Dimension, lane: Lane) -> str:
    """An angle at its vertex: a bow between the legs, arrows from outside when the bow is short."""
    plane, room = lane.plane, lane.room
    text = dimension_text(dimension, lane.view)
    vertex = dimension.vertex or dimension.a
    x, y = plane.xy(*vertex)
    first, turn = _legs(dimension, vertex)
    width = text_width(text)
    bow = room.place(_bows(width, (x, y), first, turn))
    if bow is None:
        bow = 48.0, room.anywhere(width, (x + 48.0, y))
    size, at = bow
    ends = [(x + size * math.cos(t), y - size * math.sin(t), t) for t in (first, first + turn)]
    inside = abs(turn) * size > 3.0 * ARROW_LENGTH
    lines, arrows = _bow(ends, size, turn, inside)
    for ex, ey, t in ends:
        c, s = math.cos(t), -math.sin(t)
        lines += line(x + GAP * c, y + GAP * s, ex + OVERSHOOT * c, ey + OVERSHOOT * s)
    return dimension_markup(dimension, lines, arrows, level_text(text, *at))


def _legs(dimension: Dimension, vertex: Point) -> tuple[float, float]:
    """Direction of the first leg and the turn to the second, rad, seen with X up."""
    first, second = (math.atan2(s.r - vertex.r, s.z - vertex.z) for s in (dimension.a, dimension.b))
    return first, math.remainder(second - first, math.tau)


def _bows(
    width: float, at: tuple[float, float], first: float, turn: float
) -> Iterator[tuple[Box, tuple[float, tuple[float, float]]]]:
    x, y = at
    for size in (48.0, 64.0, 84.0, 110.0, 34.0):
        for t in (first + turn / 2.0, first + turn + math.copysign(30.0 / size, turn)):
            c, s = math.cos(t), -math.sin(t)
            away = size + 6.0 + abs(c) * width / 2.0 + abs(s) * HEIGHT / 2.0
            spot = x + away * c, y + away * s + HEIGHT / 2.0 - DESCENT
            yield level_box(width, *spot), (size, spot)


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
