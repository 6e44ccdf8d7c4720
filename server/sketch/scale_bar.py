"""A bar of a round length at the sketch's own scale: true on every screen and on paper, however large it is shown."""

from __future__ import annotations

import math
from collections.abc import Iterator

from calc.language.quantities import LENGTH, View
from calc.language.translating import marked
from server.sketch.boxes import DESCENT, HEIGHT, Box, level_box, level_text, text_width
from server.sketch.markup import line, path
from server.sketch.room import Room
from server.sketch.strokes import Spot

LONGEST = 90.0
"""The most that a bar may take, px; it is at least two fifths of that."""

BUTTON = 84.0
"""The corner that the button takes, px, with some more where the sketch is shown smaller than it is drawn."""

ROUND = (5.0, 2.0, 1.0)
GAP, TICK = 5.0, 4.0


def bar_length(scale: float, view: View) -> tuple[float, str]:
    """The longest round length that fits, mm, and its words; `scale` is px per mm.

    >>> bar_length(4.0, View()), bar_length(4.0, View(units="inch"))[1]
    ((20.0, '20 mm'), '.5 in')
    """
    unit = LENGTH.unit(view)
    most = unit.shown(LONGEST / scale)
    power = 10.0 ** math.floor(math.log10(most))
    size = next(each * power for each in ROUND if each * power <= most * (1.0 + 1e-9))
    digits = f"{size:g}" if unit.has_leading_zero else f"{size:g}".removeprefix("0")
    return unit.internal(size), f"{marked(digits, view.language)} {unit.label}"


def scale_bar(scale: float, view: View, room: Room, solid: Box) -> str:
    """The bar with its length, near the lower left corner but beside the button there that enlarges a sketch.

    It stands beside the `solid` part, else where there is room.
    """
    length, words = bar_length(scale, view)
    wide = length * scale
    width = 2.0 * math.ceil((wide + GAP + text_width(words)) / 2.0 + 1.0)
    left, bottom = room.whole.left, room.whole.bottom
    covered = (solid, Box(left, bottom - BUTTON, left + BUTTON, bottom))
    corner = (left + BUTTON + width / 2.0, bottom)
    open_ = (place for place in _places(room, width, corner) if not any(map(place[0].meets, covered)))
    x, y = (
        room.place(open_, clean=True) or room.place(_places(room, width, corner), clean=True) or room.below(width / 2.0)
    )
    return bar(x - width / 2.0 + 1.0, y, wide, words)


def _places(room: Room, width: float, corner: Spot) -> Iterator[tuple[Box, Spot]]:
    return ((level_box(width, *at), at) for at in room.nearest(width, corner))


def bar(left: float, y: float, wide: float, words: str) -> str:
    """The bar from `left`, its length written after it on the base line `y`."""
    level = y + DESCENT - HEIGHT / 2.0
    ticks = "".join(line(x, level - TICK, x, level + TICK) for x in (left, left + wide))
    drawn = path("t sb", line(left, level, left + wide, level) + ticks)
    return drawn + level_text(words, round(left + wide + GAP + text_width(words) / 2.0), y)
