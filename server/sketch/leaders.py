"""Radii as a print draws them: a leader with its arrow on the arc, in line with the centre; chamfers and tapers too."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from calc.answer.drawing import Dimension
from calc.contour import Arc, Chain, Point
from server.sketch.boxes import ASCENT, DESCENT, HEIGHT, level_box, level_text, text_width
from server.sketch.dimensions import Lane, dimension_markup, dimension_text
from server.sketch.markup import ARROW_LENGTH, Plane, arrow, line, num
from server.sketch.room import Room

REACHES = (34.0, 48.0, 64.0, 84.0, 110.0, 140.0, 180.0)
"""Lengths of a leader to try, px."""

TIPS = (0.45, 0.6, 0.3, 0.75, 0.15, 0.9)
"""Where on the arc the arrow may stand, as shares of its length."""

SHORTEST = ARROW_LENGTH + 4.0
"""A leader is longer than this, so that its arrow stands clear of the text, px."""

FLAT = 0.5
"""A leader lies flat when its level share is more than this."""

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Leader:
    """A leader from a tip on the arc to a tail, with the middle of the text behind the tail."""

    tip: Spot
    tail: Spot
    text: Spot
    to_centre: bool


def radius(dimension: Dimension, part: Chain, lane: Lane) -> str:
    """A radius: the arrow on the arc, the leader in line with the centre, broken when the centre is out of view."""
    room, text, centre = lane.room, dimension_text(dimension, lane.view), lane.plane.xy(*dimension.b)
    leaders = partial(_leaders, dimension, part, lane.plane, text_width(text))
    is_far = dimension.shape == "radius" and not room.is_inside(*centre)
    chosen = _chosen(leaders, text_width(text), room, is_far=is_far, if_room=dimension.if_room)
    if chosen is None:
        return ""
    (x1, y1), (x2, y2) = chosen.tip, chosen.tail
    size = math.dist(chosen.tip, chosen.tail) or 1.0
    lines = _lines(chosen, is_far=is_far)
    if dimension.shape == "radius" and math.dist(centre, chosen.tail) < 0.5:
        lines += line(x2 - 4.0, y2, x2 + 4.0, y2) + line(x2, y2 - 4.0, x2, y2 + 4.0)
    arrows = arrow(x1, y1, (x1 - x2) / size, (y1 - y2) / size)
    room.draw(arrows)
    return dimension_markup(dimension, lines, arrows, level_text(text, *chosen.text))


def _chosen(
    leaders: Callable[[], Iterator[_Leader]], width: float, room: Room, *, is_far: bool, if_room: bool
) -> _Leader | None:
    """The first leader whose text covers nothing; else the text where there is room, and a leader bent to it.

    None for one that is there only `if_room`, where there is none.
    """

    def placed(tried: Iterator[_Leader]) -> _Leader | None:
        places = ((level_box(width, *each.text), _lines(each, is_far=is_far), each) for each in tried)
        return room.place_led(places, clean=True)

    found = placed(leaders())
    if found is None:
        straight = list(leaders())
        found = placed(_bent(straight, width, room))
        if found is None and not if_room:
            x, y = room.below(width / 2.0)
            found = _Leader(straight[0].tip, (x, y - ASCENT - 2.0), (x, y), to_centre=False)
    return found


def _bent(straight: Sequence[_Leader], width: float, room: Room) -> Iterator[_Leader]:
    """Leaders from the tips of straight ones to wherever there may be room, nearest to the first text first."""
    for spot in room.nearest(width, straight[0].text):
        for first in straight[:: len(straight) // len(TIPS) or 1]:
            tail = level_box(width, *spot).nearest(*first.tip)
            if math.dist(tail, first.tip) > SHORTEST:
                yield _Leader(first.tip, tail, spot, to_centre=False)


def _lines(leader: _Leader, *, is_far: bool) -> str:
    """Path data of a leader; with a jog in its middle where the centre is farther than can be shown."""
    (x1, y1), (x2, y2) = leader.tip, leader.tail
    if not (is_far and leader.to_centre):
        return line(x1, y1, x2, y2)
    size = math.dist(leader.tip, leader.tail) or 1.0
    ux, uy = (x2 - x1) / size, (y2 - y1) / size
    data = f"M{num(x1)} {num(y1)}"
    for along, aside in ((-5.0, 0.0), (-2.0, 5.0), (2.0, -5.0), (5.0, 0.0)):
        at = size / 2.0 + along
        data += f"L{num(x1 + at * ux - aside * uy)} {num(y1 + at * uy + aside * ux)}"
    return data + f"L{num(x2)} {num(y2)}"


def _leaders(dimension: Dimension, part: Chain, plane: Plane, width: float) -> Iterator[_Leader]:
    """Leaders to try, best first: near the middle of the arc, short, from the side of the air."""
    arc = _arc_of(dimension, part) if dimension.shape == "radius" else None
    hollow = arc is None or arc.turn == "ccw"
    cx, cy = plane.xy(*dimension.b)
    is_radius = dimension.shape == "radius"
    for inward in (hollow, not hollow):
        for tip_spot in _tips(dimension, arc):
            x, y = plane.xy(*tip_spot)
            size = math.hypot(cx - x, cy - y) or 1.0
            sign = 1.0 if inward else -1.0
            ux, uy = sign * (cx - x) / size, sign * (cy - y) / size
            for reach in REACHES:
                at_centre = inward and is_radius and 40.0 < size < reach
                run = size if at_centre else reach
                tail = x + run * ux, y + run * uy
                for text in _behind(tail, ux, uy, width):
                    yield _Leader((x, y), tail, text, to_centre=inward)


def _behind(tail: Spot, ux: float, uy: float, width: float) -> Iterator[Spot]:
    """Where the text may stand behind the tail: beside it when the leader lies rather flat, else above or below."""
    (x, y), level, aside = tail, HEIGHT / 2.0 - DESCENT, width / 2.0 + 4.0
    over = x, (y + ASCENT + 3.0 if uy > 0.0 else y - DESCENT - 3.0)
    if abs(ux) > FLAT:
        yield x + math.copysign(aside, ux), y + level
        yield over
    else:
        yield over
        yield x + aside, y + level
        yield x - aside, y + level


def _tips(dimension: Dimension, arc: Arc | None) -> list[Point]:
    if arc is None:
        return [dimension.a]
    return [arc.point_at(share * arc.length) for share in TIPS]


def _arc_of(dimension: Dimension, part: Chain) -> Arc | None:
    """The part's arc about the dimension's centre, if it is one of the part's."""
    near = 1e-6 * max(part.bounds.size, 1e-9)
    arcs = [e for e in part.elements if isinstance(e, Arc) and e.centre.distance_to(dimension.b) <= near]
    return min(arcs, key=lambda arc: arc.distance_to(dimension.a), default=None)
