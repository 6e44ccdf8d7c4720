"""A thread's profile to scale: the metal hatched, the tolerance as a band, the three diameters with their limits."""

from __future__ import annotations

from calc.answer.drawing import Level, Profile
from calc.contour import Chain
from calc.language.limited import Limited, aimed
from calc.language.messages import Message
from calc.language.quantities import DIAMETER, LENGTH, View
from server.sketch.boxes import DESCENT, HEIGHT, level_text, text_width
from server.sketch.dimensions import GAP, LIFT, OVERSHOOT
from server.sketch.markup import Plane, arrow, circle, elements_path, group, line, move, num, path, words
from server.sketch.part import definitions
from server.sketch.scale_bar import BUTTON, bar, bar_length

LEFT, ABOVE, BELOW, TEXT_ROOM = 12.0, 62.0, 62.0, 158.0
"""Room beside, above and below the profile, and for the words at its right, px."""

FOOT = 24.0
"""Room below all of it for the bar of the scale, px."""

METAL = 46.0
"""How much of the metal behind the profile is shown, px."""

PAST = 8.0
"""How far the line of a diameter runs past the profile, px."""

STEP = HEIGHT + 3.0
"""From one line of words to the next, px."""


def thread_profile(shown: Profile, view: View, key: str, width: float, height: float) -> tuple[str, float]:
    """The profile as markup in a room `width` px wide and at most `height` px high, and how high it comes out.

    Ids begin with `key`.
    """
    bounds = shown.most.bounds if shown.least is None else shown.most.bounds.joined(shown.least.bounds)
    deep = bounds.r_max - bounds.r_min
    scale = min((width - LEFT - TEXT_ROOM) / shown.pitch, (height - ABOVE - BELOW - FOOT) / deep)
    plane = Plane(scale, LEFT, ABOVE + bounds.r_max * scale)
    far = plane.y(bounds.r_min) + METAL if shown.outside else plane.y(bounds.r_max) - METAL
    body = (
        _metal(shown, plane, far, key) + _wire(shown, plane) + _levels(shown, plane, view) + _pitch(shown, plane, view)
    )
    high = ABOVE + deep * scale + BELOW + FOOT
    length, size = bar_length(scale, view)
    known = shown.levels[0].size is not None
    return body + (bar(LEFT + BUTTON, high - DESCENT - 2.0, length * scale, size) if known else ""), high


def _metal(shown: Profile, plane: Plane, deep: float, key: str) -> str:
    """Hatched below the profile with the least metal, the band of the tolerance, both outlines."""
    inner = shown.most if shown.least is None else shown.least
    fill = f"{_open(inner, plane)}V{num(deep)}H{num(_start(inner, plane)[0])}z"
    body = definitions(key, "") + path("f", fill, f' fill="url(#{key}-h)"')
    if shown.least is not None:
        turned = shown.least.reversed()
        x, y = _start(turned, plane)
        back = f"L{num(x)} {num(y)}{elements_path(turned, plane)}z"
        body += path("in f", _open(shown.most, plane) + back) + path("s", _open(shown.least, plane))
    return body + path("o", _open(shown.most, plane))


def _start(chain: Chain, plane: Plane) -> tuple[float, float]:
    return plane.xy(*chain.start)


def _open(chain: Chain, plane: Plane) -> str:
    return move(*_start(chain, plane)) + elements_path(chain, plane)


def _wire(shown: Profile, plane: Plane) -> str:
    if shown.wire is None:
        return ""
    centre, diameter = shown.wire
    x, y = plane.xy(centre.z, centre.r)
    return circle("n", x, y, diameter / 2 * plane.scale) + path(
        "c", line(x - 9.0, y, x + 9.0, y) + line(x, y - 9.0, x, y + 9.0)
    )


def _levels(shown: Profile, plane: Plane, view: View) -> str:
    """The lines of the diameters, and their words at the right, each next to its line or as near as there is room."""
    right = plane.x(shown.pitch)
    left = plane.x(0.0)
    found, lowest = "", 0.0
    for level, y in zip(shown.levels, _heights(shown, plane), strict=True):
        texts = _texts(level, view)
        first = max(y - STEP * len(texts) / 2 + HEIGHT * 0.75, lowest)
        lowest = first + STEP * len(texts)
        elbow = right + PAST + 14.0
        middle = first + STEP * (len(texts) - 1) / 2 - HEIGHT / 4
        lead = line(left, y, right + PAST, y) + line(right + PAST, y, elbow, middle)
        said = "".join(
            level_text(text, elbow + 4.0 + text_width(text) / 2, first + STEP * index)
            for index, text in enumerate(texts)
        )
        found += group("dim", path("t", lead) + said, f' data-field="{words(level.field)}"')
    return found


def _heights(shown: Profile, plane: Plane) -> list[float]:
    """Where the lines of the three diameters run: crest and root with the most metal, the pitch line in the middle."""
    r_max, r_min = shown.most.bounds.r_max, shown.most.bounds.r_min
    middle = shown.levels[1].size
    pitch = aimed(middle) / 2 if middle is not None else (r_max + r_min) / 2
    return [plane.y(r_max), plane.y(pitch), plane.y(r_min)]


def _texts(level: Level, view: View) -> tuple[str, ...]:
    if level.size is None:
        return (level.symbol,)
    if isinstance(level.size, Limited):
        upper, lower = DIAMETER.text(level.size.upper, view), DIAMETER.text(level.size.lower, view)
        return f"{level.symbol} Ø{upper}", Message("to Ø{lower}", {"lower": lower}).say(view)
    return (f"{level.symbol} Ø{DIAMETER.text(level.size, view)}",)


def _pitch(shown: Profile, plane: Plane, view: View) -> str:
    """The pitch, from crest to crest, on the side where there is no metal."""
    x1, x2 = plane.x(0.0), plane.x(shown.pitch)
    edge = plane.y(shown.most.bounds.r_max if shown.outside else shown.most.bounds.r_min)
    away = -1.0 if shown.outside else 1.0
    y = edge + away * (26.0 if shown.outside else 40.0)
    unknown = shown.levels[0].size is None
    text = "P" if unknown else f"P {LENGTH.text(shown.pitch, view)}"
    lines = "".join(line(x, edge + away * GAP, x, y + away * OVERSHOOT) for x in (x1, x2)) + line(x1, y, x2, y)
    marks = arrow(x1, y, -1, 0) + arrow(x2, y, 1, 0)
    said = level_text(text, (x1 + x2) / 2, y - LIFT)
    return group("dim", path("t", lines) + path("a", marks) + said, ' data-field="pitch"')
