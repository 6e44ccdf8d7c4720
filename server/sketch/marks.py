"""What stands on the sketch beside part and dimensions: noses, paths, named points, where +X and +Z point."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import partial
from itertools import chain

from calc.answer.drawing import Detail, Nose, Outline, Path
from calc.contour import Point
from calc.language.quantities import View
from server.sketch.boxes import ASCENT, DESCENT, HEIGHT, Box, level_box, level_text, text_box, text_width
from server.sketch.markup import Plane, arrow, circle, group, line, num, path
from server.sketch.part import chain_path
from server.sketch.room import Room

CROSS = 5.0
TOLERATED = 12.0
"""How much of a nose may be cut off before its name would be misleading, px."""

DOT = 3.0
ARM = 28.0
"""Length of the arrows that show where +X and +Z point, px."""

HIGHEST = 350.0
"""A sketch that is higher than this would have to be shown with too small a text, px."""

AXES_WIDE, AXES_HIGH = ARM + 34.0, ARM + HEIGHT
"""The room of these arrows with their names, px."""

CLOSE, APART = 14.0, 4.0
"""A name stands by its point when it is this close to it, and any other point this much farther away, px."""

Spot = tuple[float, float]

PATH_CLASSES = {
    "nose centre": "nc",
    "tool point": "tp",
    "left": "lf",
    "turned": "lf",
    "stock": "s",
    "mate": "nc",
    "work": "nc",
}


def paths(drawn: Sequence[Path], plane: Plane) -> str:
    """Every path as its role's line; passes alternate between two lines, so that they can be counted."""
    passes = [p for p in drawn if p.role == "pass"]
    data = [chain_path(p.chain, plane) for p in passes]
    lines = path("p1", "".join(data[::2])) + path("p2", "".join(data[1::2]))
    for role, cls in PATH_CLASSES.items():
        lines += path(cls, "".join(chain_path(p.chain, plane) for p in drawn if p.role == role))
    return lines


OUTLINE_CLASSES = {"holder": "hd", "insert": "in", "inscribed circle": "t"}


def outline_marks(outlines: Sequence[Outline], plane: Plane) -> str:
    """The tool where it stands, the holder below the insert."""
    return "".join(
        path(cls, "".join(f"{chain_path(each.chain, plane)}z" for each in outlines if each.role == role))
        for role, cls in OUTLINE_CLASSES.items()
    )


def nose_marks(noses: Sequence[Nose], plane: Plane, content: Box) -> str:
    """Each nose as its circle, filled when it is seen whole, with a cross at the centre."""
    return "".join(_nose(nose, plane, "t" if _is_cut(nose, plane, content) else "n") for nose in noses)


def _nose(nose: Nose, plane: Plane, cls: str) -> str:
    x, y = plane.xy(*nose.centre)
    cross = line(x - CROSS, y, x + CROSS, y) + line(x, y - CROSS, x, y + CROSS)
    return circle(cls, x, y, nose.radius * plane.scale) + path("t", cross)


def tool_points(noses: Sequence[Nose], plane: Plane) -> str:
    """The tool point of each nose as a filled mark."""
    marks = ""
    for nose in noses:
        x, y = plane.xy(*nose.tool_point)
        marks += f"M{num(x)} {num(y - 4.5)}l4.5 4.5l-4.5 4.5l-4.5 -4.5z"
    return path("m", marks)


def nose_labels(noses: Sequence[Nose], plane: Plane, room: Room, content: Box) -> str:
    """The noses' names, inside the circle when they fit; a name without room is left to the legend."""
    texts = []
    for nose in noses:
        if nose.label:
            places = [] if _is_cut(nose, plane, content) else _nose_places(nose, plane)
            at = room.place(places, clean=True)
            texts.append(level_text(nose.label, *at) if at else "")
    return "".join(texts)


def _is_cut(nose: Nose, plane: Plane, content: Box) -> bool:
    (x, y), size = plane.xy(*nose.centre), nose.radius * plane.scale
    return x + size > content.right or y - size < content.top - TOLERATED or y + size > content.bottom + TOLERATED


def _nose_places(nose: Nose, plane: Plane) -> list[tuple[Box, Spot]]:
    x, y = plane.xy(*nose.centre)
    size, half = nose.radius * plane.scale, text_width(nose.label) / 2.0
    level = HEIGHT / 2.0 - DESCENT
    inside = [(x, y + 0.5 * size + level - 2.0), (x, y - 0.5 * size + level + 2.0)] if half < 0.8 * size else []
    outside = [(x + size + half + 5.0, y + level), (x, y - size - DESCENT - 3.0), (x, y + size + ASCENT + 3.0)]
    return [(text_box(nose.label, *at), at) for at in inside + outside]


def spot_dots(spots: Sequence[tuple[str, Point]], plane: Plane) -> str:
    """A dot for each named point."""
    dots = (circle("", *plane.xy(*spot), DOT).replace(' class=""', "") for _, spot in spots)
    return group("pt", "".join(dots))


def spot_names(spots: Sequence[tuple[str, Point]], plane: Plane, room: Room) -> str:
    """The name of each named point: close to its own dot, or led to it by a thin line."""
    dots = [plane.xy(*spot) for _, spot in spots]
    named = ((label, dot) for (label, _), dot in zip(spots, dots, strict=True) if label)
    return group("pn", "".join(_name(label, dot, dots, room) for label, dot in named))


def _name(label: str, dot: Spot, dots: Sequence[Spot], room: Room) -> str:
    width = text_width(label)
    places = chain(_around(width, dot), room.nearest(width, dot))
    boxes = ((level_box(width, *at), at) for at in places)
    led = ((box, _lead(box, dot, dots), at) for box, at in boxes if room.is_open(box))
    found = room.place_led(((box, lead, (lead, at)) for box, lead, at in led), clean=True)
    return path("t", found[0]) + level_text(label, *found[1]) if found else ""


def _around(width: float, dot: Spot) -> Iterator[Spot]:
    """Places around a dot, the nearest first; above at the right before all others."""
    (x, y), half, level = dot, width / 2.0, HEIGHT / 2.0 - DESCENT
    for away in (6.0, 11.0, 17.0, 26.0, 38.0, 52.0, 70.0):
        aside, over, under = away + half, -away - DESCENT + 2.0, away + ASCENT - 3.0
        for dy, across in ((over, (aside, 0.0, -aside)), (level, (aside, -aside)), (under, (aside, 0.0, -aside))):
            yield from ((x + dx, y + dy) for dx in across)
        yield from ((x + dx, y + dy) for dy in (over, under) for dx in (half, -half))


def _lead(box: Box, dot: Spot, dots: Sequence[Spot]) -> str:
    """Path data of the line from a dot to its name: none where the name is close to this dot and to no other."""
    near = box.nearest(*dot)
    away = math.dist(near, dot)
    if away <= CLOSE and all(math.dist(box.nearest(*other), other) > away + APART for other in dots if other != dot):
        return ""
    share = min(DOT / (away or 1.0), 1.0)
    return line(dot[0] + share * (near[0] - dot[0]), dot[1] + share * (near[1] - dot[1]), *near)


def detail_circles(details: Sequence[Detail], plane: Plane) -> str:
    """Around each enlarged detail a thin circle."""
    return group("dt", "".join(circle("t", *plane.xy(*each.spot), _size(each, plane)) for each in details))


def _size(detail: Detail, plane: Plane) -> float:
    return max(detail.size / 2.0 * plane.scale, 9.0)


def detail_letters(details: Sequence[Detail], plane: Plane, room: Room) -> str:
    """The letter of each enlarged detail, beside its circle."""
    inner = ""
    for letter, detail in lettered(details):
        at = room.place(_letter_places(letter, *plane.xy(*detail.spot), _size(detail, plane)), clean=True)
        inner += level_text(letter, *(at or room.anywhere(text_width(letter), plane.xy(*detail.spot))))
    return group("dt", inner)


def _letter_places(letter: str, x: float, y: float, size: float) -> Iterator[tuple[Box, Spot]]:
    half = text_width(letter) / 2.0 + 2.0
    for away in (0.0, 8.0, 16.0, 28.0):
        near, level = 0.7 * size + 3.0 + away, HEIGHT / 2.0 - DESCENT
        for dx, dy in ((1.0, -1.0), (-1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)):
            at = x + dx * (near + half), y + (dy * near if dy < 0.0 else dy * (near + ASCENT))
            yield text_box(letter, *at), at
        for dx in (1.0, -1.0):
            at = x + dx * (size + away + 3.0 + half), y + level
            yield text_box(letter, *at), at


def lettered(details: Iterable[Detail]) -> list[tuple[str, Detail]]:
    """The details with their letters A, B, ..."""
    return [(chr(ord("A") + index % 26), detail) for index, detail in enumerate(details)]


def axes(view: View, room: Room, corners: Sequence[Spot], solid: Box) -> str:
    """Two arrows that show where +X and +Z point; +Z as the reader has it.

    They stand at the first free of the `corners`, else anywhere beside the `solid` part, else below it, else upon it.
    """
    places = partial(_axes_places, room, corners)
    beside = room.place((place for place in places() if not place[0].meets(solid)), clean=True)
    is_low = room.whole.bottom + AXES_HIGH < HIGHEST
    x, y = beside or (None if is_low else room.place(places(), clean=True)) or _axes_below(room)
    outward = view.zplus == "out"
    x += 10.0 if outward else ARM + 12.0
    sign = 1.0 if outward else -1.0
    tip = x + sign * ARM
    lines = line(x, y, tip, y) + line(x, y, x, y - ARM)
    arrows = arrow(tip, y, sign, 0) + arrow(x, y - ARM, 0, -1)
    half_z, half_x = text_width("+Z") / 2.0, text_width("+X") / 2.0
    texts = level_text("+Z", tip - sign * (half_z - 8.0), y - 6.0) + level_text("+X", x + half_x - 8.0, y - ARM - 5.0)
    return group("ax", path("t", lines) + path("a", arrows) + texts)


def _axes_places(room: Room, corners: Sequence[Spot]) -> Iterator[tuple[Box, Spot]]:
    """The corners, then all over the sketch from the lower right."""
    whole = room.whole
    anywhere = ((x - AXES_WIDE / 2.0, y) for x, y in room.nearest(AXES_WIDE, (whole.right, whole.bottom)))
    for x, y in chain(corners, anywhere):
        yield Box(x, y - AXES_HIGH, x + AXES_WIDE, y + 5.0), (x, y)


def _axes_below(room: Room) -> Spot:
    """Make the sketch higher for the arrows."""
    x, y = room.whole.right - AXES_WIDE, room.whole.bottom + AXES_HIGH
    room.whole = room.whole._replace(bottom=y + 6.0)
    room.take(Box(x, y - AXES_HIGH, x + AXES_WIDE, y + 5.0))
    return x, y
