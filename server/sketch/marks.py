"""What stands on the sketch beside part and dimensions: noses, paths, named points, where +X and +Z point."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from calc.answer.drawing import Detail, Nose, Outline, Path
from calc.contour import Point
from calc.language.quantities import View
from server.sketch.boxes import ASCENT, DESCENT, HEIGHT, Box, Room, level_box, level_text, text_box, text_width
from server.sketch.markup import Plane, arrow, circle, group, line, num, path
from server.sketch.part import chain_path

CROSS = 5.0
TOLERATED = 12.0
"""How much of a nose may be cut off before its name would be misleading, px."""

DOT = 3.0
ARM = 28.0
"""Length of the arrows that show where +X and +Z point, px."""

PATH_CLASSES = {"nose centre": "nc", "tool point": "tp", "left": "lf", "turned": "lf", "stock": "s", "mate": "nc"}


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


def mark_boxes(noses: Sequence[Nose], spots: Sequence[tuple[str, Point]], plane: Plane) -> Iterator[Box]:
    """Where small marks stand that no word should cover."""
    for nose in noses:
        yield _around(*plane.xy(*nose.centre), CROSS)
        yield _around(*plane.xy(*nose.tool_point), 5.0)
    for _, spot in spots:
        yield _around(*plane.xy(*spot), DOT + 1.0)


def _around(x: float, y: float, size: float) -> Box:
    return Box(x - size, y - size, x + size, y + size)


def nose_labels(noses: Sequence[Nose], plane: Plane, room: Room, content: Box) -> str:
    """The noses' names, inside the circle when they fit; a name without room is left to the legend."""
    texts = []
    for nose in noses:
        if nose.label:
            places = [] if _is_cut(nose, plane, content) else _nose_places(nose, plane)
            places = [(box, at) for box, at in places if not room.covers_lines(box)]
            at = room.place(places)
            texts.append(level_text(nose.label, *at) if at else "")
    return "".join(texts)


def _is_cut(nose: Nose, plane: Plane, content: Box) -> bool:
    (x, y), size = plane.xy(*nose.centre), nose.radius * plane.scale
    return x + size > content.right or y - size < content.top - TOLERATED or y + size > content.bottom + TOLERATED


def _nose_places(nose: Nose, plane: Plane) -> list[tuple[Box, tuple[float, float]]]:
    x, y = plane.xy(*nose.centre)
    size, half = nose.radius * plane.scale, text_width(nose.label) / 2.0
    level = HEIGHT / 2.0 - DESCENT
    inside = [(x, y + 0.5 * size + level - 2.0), (x, y - 0.5 * size + level + 2.0)] if half < 0.8 * size else []
    outside = [(x + size + half + 5.0, y + level), (x, y - size - DESCENT - 3.0), (x, y + size + ASCENT + 3.0)]
    return [(text_box(nose.label, *at), at) for at in inside + outside]


def spot_marks(spots: Sequence[tuple[str, Point]], plane: Plane, room: Room) -> str:
    """Named points: a dot each, the name beside it where there is room."""
    inner = ""
    for label, spot in spots:
        x, y = plane.xy(*spot)
        inner += circle("", x, y, DOT).replace(' class=""', "")
        at = room.place(_spot_places(label, x, y))
        if at:
            inner += level_text(label, *at)
    return group("pt", inner)


def _spot_places(label: str, x: float, y: float) -> Iterator[tuple[Box, tuple[float, float]]]:
    half = text_width(label) / 2.0
    level = HEIGHT / 2.0 - DESCENT
    for away in (6.0, 16.0, 28.0):
        aside = away + half
        over, under = -away - DESCENT + 2.0, away + ASCENT - 3.0
        for dx, dy in ((aside, over), (aside, level), (aside, under), (0.0, over), (-aside, over), (-aside, level),
                       (0.0, under), (-aside, under)):  # fmt: skip
            at = x + dx, y + dy
            yield level_box(2.0 * half, *at), at


def detail_marks(details: Sequence[Detail], plane: Plane, room: Room) -> str:
    """Around each enlarged detail a thin circle with its letter."""
    inner = ""
    for letter, detail in lettered(details):
        x, y = plane.xy(*detail.spot)
        size = max(detail.size / 2.0 * plane.scale, 9.0)
        inner += circle("t", x, y, size)
        at = room.place(_letter_places(letter, x, y, size))
        if at:
            inner += level_text(letter, *at)
    return group("dt", inner)


def _letter_places(letter: str, x: float, y: float, size: float) -> Iterator[tuple[Box, tuple[float, float]]]:
    half, near = text_width(letter) / 2.0 + 2.0, 0.7 * size + 3.0
    for dx, dy in ((1.0, -1.0), (-1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)):
        at = x + dx * (near + half), y + (dy * near if dy < 0.0 else dy * (near + ASCENT))
        yield text_box(letter, *at), at


def lettered(details: Iterable[Detail]) -> list[tuple[str, Detail]]:
    """The details with their letters A, B, ..."""
    return [(chr(ord("A") + index % 26), detail) for index, detail in enumerate(details)]


def axes(view: View, room: Room, corners: Sequence[tuple[float, float]]) -> str:
    """Two arrows that show where +X and +Z point, at the freest of the `corners` given; +Z as the reader has it."""
    outward = view.zplus == "out"
    places = [(Box(x, y - ARM - HEIGHT, x + ARM + 34.0, y + 5.0), (x, y)) for x, y in corners]
    at = room.place(places)
    if at is None:
        return ""
    x, y = (at[0] + (10.0 if outward else ARM + 12.0)), at[1]
    sign = 1.0 if outward else -1.0
    tip = x + sign * ARM
    lines = line(x, y, tip, y) + line(x, y, x, y - ARM)
    arrows = arrow(tip, y, sign, 0) + arrow(x, y - ARM, 0, -1)
    half_z, half_x = text_width("+Z") / 2.0, text_width("+X") / 2.0
    texts = level_text("+Z", tip - sign * (half_z - 8.0), y - 6.0) + level_text("+X", x + half_x - 8.0, y - ARM - 5.0)
    return group("ax", path("t", lines) + path("a", arrows) + texts)
