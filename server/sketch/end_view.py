"""A bar seen from its end: its flats, what the round bar leaves of the corners, and the three sizes across."""

from __future__ import annotations

import math
from collections.abc import Iterator

from calc.answer.drawing import Dimension, EndView
from calc.language.quantities import View
from server.sketch.boxes import HEIGHT, Box, level_box, level_text, text_width, upright_box, upright_text
from server.sketch.dimensions import GAP, LIFT, OVERSHOOT, dimension_markup, dimension_text
from server.sketch.markup import arrow, circle, line, num, path
from server.sketch.room import Room
from server.sketch.scale_bar import scale_bar

RIGHT, AROUND = 74.0, 40.0
"""Room for the dimension at the right, and around the bar on the other sides, px."""

LANE = 34.0
"""Distance of the dimension line from the bar, px."""

ALONG = (-0.32, -0.45, -0.6, 0.32, 0.45, 0.6)
"""Where along the distance across corners its text may stand, as shares of half of it."""

Spot = tuple[float, float]


def end_view(shown: EndView, view: View, width: float, height: float) -> tuple[str, float]:
    """The view as markup in a room of `width` by `height` px, and how high it comes out."""
    largest = max(shown.bar, shown.flats / math.cos(math.pi / shown.sides)) / 2.0
    scale = min(width - AROUND - RIGHT, height - 2.0 * AROUND) / 2.0 / largest
    middle = AROUND + (width - AROUND - RIGHT) / 2.0, height / 2.0
    bar, flat = shown.bar / 2.0 * scale, shown.flats / 2.0 * scale
    body = path("o", _outline(shown, middle, scale)) + (circle("s", *middle, bar) if bar > flat else "")
    body += _centre_lines(middle, largest * scale + 8.0)
    room = Room(Box(2.0, 2.0, width - 2.0, height - 2.0))
    body += _across_flats(shown.across_flats, middle, flat, middle[0] + largest * scale + LANE, view, room)
    room.note(body)
    labels = _across_corners(shown, middle, scale, view, room) + _bar(shown.bar_diameter, middle, bar, view, room)
    around = largest * scale
    solid = Box(middle[0] - around, middle[1] - around, middle[0] + around, middle[1] + around)
    labels += scale_bar(scale, view, room, solid) if shown.bar_diameter.is_known else ""
    return body + labels, max(height, room.whole.bottom + 2.0)


def _outline(shown: EndView, middle: Spot, scale: float) -> str:
    """Path data of the flats, joined by corners, or by what is left of the round bar."""
    ends = list(_flats(shown, middle, scale))
    radius = num(shown.bar / 2.0 * scale)
    data = f"M{_at(ends[0][0])}"
    for index, (_, end) in enumerate(ends):
        following = ends[(index + 1) % len(ends)][0]
        data += f"L{_at(end)}"
        if math.dist(end, following) > 0.01:
            data += f"A{radius} {radius} 0 0 0 {_at(following)}"
    return data + "z"


def _flats(shown: EndView, middle: Spot, scale: float) -> Iterator[tuple[Spot, Spot]]:
    """Both ends of each flat, counter-clockwise from the upper one."""
    half = shown.flats / 2.0 * math.tan(math.pi / shown.sides)
    if shown.bar > shown.flats:
        half = min(half, math.sqrt(shown.bar**2 - shown.flats**2) / 2.0)
    for index in range(shown.sides):
        angle = math.pi / 2.0 + index * math.tau / shown.sides
        c, s = math.cos(angle), math.sin(angle)
        yield tuple(  # type: ignore[misc]  # two spots, which a generator in tuple() cannot tell
            (
                middle[0] + scale * (shown.flats / 2.0 * c - side * half * s),
                middle[1] - scale * (shown.flats / 2.0 * s + side * half * c),
            )
            for side in (-1.0, 1.0)
        )


def _at(spot: Spot) -> str:
    return f"{num(spot[0])} {num(spot[1])}"


def _centre_lines(middle: Spot, reach: float) -> str:
    x, y = middle
    return path("c", line(x - reach, y, x + reach, y) + line(x, y - reach, x, y + reach))


def _across_flats(dimension: Dimension, middle: Spot, half: float, x: float, view: View, room: Room) -> str:
    top, bottom = middle[1] - half, middle[1] + half
    lines = "".join(line(middle[0] + GAP, y, x + OVERSHOOT, y) for y in (top, bottom)) + line(x, top, x, bottom)
    words = dimension_text(dimension, view)
    room.take(upright_box(words, x - LIFT, middle[1]))
    arrows = arrow(x, top, 0, -1) + arrow(x, bottom, 0, 1)
    return dimension_markup(dimension, lines, arrows, upright_text(words, x - LIFT, middle[1]))


def _across_corners(shown: EndView, middle: Spot, scale: float, view: View, room: Room) -> str:
    """Through the middle, from the first corner above the centre line to the one opposite; the text along it."""
    corner = shown.flats / 2.0 / math.cos(math.pi / shown.sides) * scale
    turn = math.pi / 2.0 - math.pi / shown.sides
    turn -= math.tau / shown.sides * (shown.sides // 4)
    turn += math.tau / shown.sides if turn < 1e-9 else 0.0
    c, s = math.cos(turn), -math.sin(turn)
    (x1, y1), (x2, y2) = ((middle[0] + sign * corner * c, middle[1] + sign * corner * s) for sign in (1.0, -1.0))
    text, lines = dimension_text(shown.across_corners, view), line(x1, y1, x2, y2)
    width = text_width(text)
    room.draw(lines)
    spots = (
        (middle[0] + along * corner * c + aside * (0.5 * width * abs(s) + 3.0), middle[1] + along * corner * s - LIFT)
        for along in ALONG
        for aside in (-1.0, 1.0)
    )
    at = room.place((level_box(width, *spot), spot) for spot in spots) or room.anywhere(width, middle)
    arrows = arrow(x1, y1, c, s) + arrow(x2, y2, -c, -s)
    return dimension_markup(shown.across_corners, lines, arrows, level_text(text, *at))


def _bar(dimension: Dimension, middle: Spot, radius: float, view: View, room: Room) -> str:
    """A leader from outside, above at the left where there is room."""
    text = dimension_text(dimension, view)
    width = text_width(text)
    found = room.place_led(_bar_places(middle, radius, width), clean=True)
    tip, c, s, spot = found or (middle, 1.0, 0.0, room.anywhere(width, middle))
    lines = line(*tip, *level_box(width, *spot).nearest(*tip))
    return dimension_markup(dimension, lines, arrow(*tip, -c, -s), level_text(text, *spot))


def _bar_places(
    middle: Spot, radius: float, width: float
) -> Iterator[tuple[Box, str, tuple[Spot, float, float, Spot]]]:
    for degrees in (125.0, 140.0, 110.0, 235.0, 220.0, 250.0, 55.0, 305.0):
        c, s = math.cos(math.radians(degrees)), -math.sin(math.radians(degrees))
        tip = middle[0] + radius * c, middle[1] + radius * s
        for reach in (24.0, 36.0, 14.0):
            spot = tip[0] + reach * c + math.copysign(width / 2.0, c), tip[1] + reach * s + HEIGHT / 4.0
            box = level_box(width, *spot)
            yield box, line(*tip, *box.nearest(*tip)), (tip, c, s, spot)
