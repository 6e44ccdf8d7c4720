"""How a thread's hand comes about, seen from above: the helix, how the work turns, where the tool stands and is fed."""

from __future__ import annotations

import math

from calc.answer.drawing import Turning
from server.sketch.boxes import level_text
from server.sketch.markup import arrow, line, num, path

HIGH = 132.0
"""Height of a figure, px."""

SIDE, CHUCK, BODY, TOP = 8.0, 22.0, 50.0, 12.0
"""Beside the figure, the chuck's width, the diameter of the thread, above it, px."""

SEEN = "Seen from above, the operator in front, the chuck at the left: how the work turns and where the tool is fed."

TURNS = 7.0
"""How many crests are drawn; their lean is that of the thread, never less than can be seen."""

LEAST_LEAN, MOST_LEAN = 3.0, 12.0
"""From the top to the bottom of the figure a crest moves this far along the axis, px."""

FEED = 34.0
"""Length of the arrow of the feed, px."""


def hand(turning: Turning, way: tuple[bool, bool, tuple[str, ...]], width: float) -> str:
    """The figure of one way to cut the thread, `width` px wide."""
    forward, to_chuck, said = way
    left, top = SIDE, TOP
    x1, x2, bottom = left + CHUCK, width - 44.0, top + BODY
    chuck = f"M{num(left)} {num(top - 10.0)}H{num(x1)}V{num(bottom + 10.0)}H{num(left)}z"
    body = f"M{num(x1)} {num(top)}H{num(x2)}V{num(bottom)}H{num(x1)}"
    lines = chuck + _helix(turning, x1, x2, top, bottom)
    texts = "".join(level_text(text, width / 2, bottom + 42.0 + 21.0 * index) for index, text in enumerate(said))
    marks = _rotation(turning, forward, x2 + 14.0, top, bottom) + _tool(turning, to_chuck, x1, x2, bottom)
    return path("t", lines) + path("o", body) + marks + texts


def _helix(turning: Turning, x1: float, x2: float, top: float, bottom: float) -> str:
    """The crests. Seen from above those of a right-hand thread lean from the upper left to the lower right.

    In a bore the lower half is seen, whose crests lean the other way.
    """
    lean = min(max(BODY * math.tan(turning.lead_angle), LEAST_LEAN), MOST_LEAN) / 2.0
    side = lean if turning.left != turning.outside else -lean
    step = (x2 - x1) / (TURNS + 1.0)
    places = (x1 + step * (index + 1.0) for index in range(int(TURNS)))
    return "".join(line(x - side, top, x + side, bottom) for x in places)


def _rotation(turning: Turning, forward: bool, x: float, top: float, bottom: float) -> str:
    """An arrow beside the work, the way that the side in view moves: forward, the top comes toward the operator."""
    down = forward == turning.outside
    start, end = (top + 6.0, bottom - 6.0) if down else (bottom - 6.0, top + 6.0)
    sweep = 1 if down else 0
    radius = num(BODY / 1.4)
    bow = f"M{num(x)} {num(start)}A{radius} {radius} 0 0 {sweep} {num(x)} {num(end)}"
    return path("t", bow) + path("a", arrow(x, end, -0.42, 0.91 if down else -0.91))


def _tool(turning: Turning, to_chuck: bool, x1: float, x2: float, wall: float) -> str:
    """The tool in front of the work, or against the front wall of a bore, and the arrow of its feed."""
    x = x2 - 26.0 if to_chuck else x1 + 26.0
    outward = 14.0 if turning.outside else -14.0
    tip = f"M{num(x)} {num(wall)}l-7 {num(outward)}h14z"
    sign = -1.0 if to_chuck else 1.0
    y = wall + 20.0
    return path("m", tip) + path("t", line(x, y, x + sign * FEED, y)) + path("a", arrow(x + sign * FEED, y, sign, 0.0))
