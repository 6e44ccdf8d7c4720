"""Enlarged details: a round window around a spot, at a round scale, with its own dimensions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache

from calc.answer.drawing import Detail, Drawing, Nose, Turning
from calc.contour import Chain, Element, Point
from calc.language.messages import Message, say_text
from calc.language.quantities import View
from server.sketch.boxes import ASCENT, HEIGHT, Box, level_text, text_width
from server.sketch.draw import check_key, draw_dimensions, svg
from server.sketch.frame import MARGIN, TEXT_ABOVE, UPRIGHT_TEXT, Frame, lanes_room, sort_into_lanes
from server.sketch.marks import lettered, nose_marks, paths, spot_dots, spot_names, tool_points
from server.sketch.markup import Plane, circle, elements_path, group, line, move, path
from server.sketch.part import definitions, rims
from server.sketch.room import Room
from server.sketch.scene import Scene, is_inside
from server.sketch.thread_hand import HIGH as HAND_HIGH
from server.sketch.thread_hand import SEEN as HAND_SEEN
from server.sketch.thread_hand import hand
from server.sketch.worded import worded_drawing

WIDTH, HAND_WIDTH = 240.0, 300.0
"""Natural width of a detail and of a figure of a thread's hand, px."""

PX_PER_MM = 96.0 / 25.4
"""A CSS px is 1/96 in: at its natural size and in print a detail has the scale that it names."""

AHEAD = 1e-6
"""A contour that leaves the window with more than this slope toward +Z has the part below it, not behind it; one that
enters it with more than this slope toward the chuck has the part above it."""

STEPS = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0)
"""Scales are one of these times a power of ten; 1, 2 and 5 are those of ISO 5455."""


def detail_count(drawing: Drawing) -> int:
    """How many figures can stand beside the main view: those too, that are not drawn because they show nothing larger.

    A page keeps their room, so that the main view stays where it is.
    """
    return len(drawing.details) + (len(drawing.turning.ways) if drawing.turning else 0)


def draw_details(drawing: Drawing, view: View, width: float = WIDTH, key: str = "sketch") -> list[str]:
    """Each detail of `drawing` as an SVG element of its own, lettered as in the main view; ways to cut a thread too.

    `width` is px at which the text has its natural size and the scale named is true. Ids begin with `key` and the
    detail's letter. Raises `ValueError` for a key that is no name.
    """
    check_key(key)
    drawing = worded_drawing(drawing, view)
    scene = Scene(drawing)
    found = [
        _draw_detail(scene, detail, letter, view, width, f"{key}-{letter.lower()}")
        for letter, detail in lettered(scene.details)
    ]
    return found if drawing.turning is None else [*found, *_hands(drawing.turning, view, HAND_WIDTH, f"{key}-hand")]


def _hands(turning: Turning, view: View, width: float, key: str) -> Iterator[str]:
    """A figure for each way to cut a thread of this hand."""
    for index, way in enumerate(turning.ways):
        text = "Left-hand thread: {way}" if turning.left else "Right-hand thread: {way}"
        title = Message(text, {"way": ", ".join(way[2])}).say(view)
        yield svg(f"{key}{index}", title, say_text(HAND_SEEN, view), (width, HAND_HIGH), hand(turning, way, width))


def detail_scale(size: float, room: float) -> tuple[str, float]:
    """The largest round scale at which `size` mm takes at most `room` px: its words and its px per mm.

    >>> detail_scale(3.0, 240.0)[0], detail_scale(300.0, 240.0)[0]
    ('20:1', '1:5')
    """
    most = room / (size * PX_PER_MM)
    factor, word = max((f, w) for f, w in _scales() if f <= most)
    return word, factor * PX_PER_MM


@cache
def _scales() -> list[tuple[float, str]]:
    enlarged = [(step * 10.0**power, f"{step * 10.0**power:g}:1") for power in range(5) for step in STEPS]
    reduced = [(1.0 / (step * 10.0**power), f"1:{step * 10.0**power:g}") for power in range(6) for step in STEPS]
    return sorted(enlarged + reduced)


def _draw_detail(scene: Scene, detail: Detail, letter: str, view: View, width: float, key: str) -> str:
    drawing = scene.drawing
    dimensions = [d for d in drawing.dimensions if d.detail == detail.label]
    lanes = sort_into_lanes(dimensions, detail.spot.r)
    right = lanes_room(len(lanes.right), 2.0)
    word, scale = detail_scale(detail.size, width - MARGIN - right)
    caption = _caption(letter, detail.label, word, width)
    above = len(caption) * (HEIGHT + 3.0) + MARGIN
    above += lanes_room(len(lanes.top), 0.0) - MARGIN + (TEXT_ABOVE if lanes.top else 0.0)
    size = detail.size / 2.0 * scale
    x = MARGIN + (width - MARGIN - right) / 2.0
    y = above + size
    plane = Plane(scale, x - detail.spot.z * scale, y + detail.spot.r * scale)
    bottom = max(y + size, y - size + UPRIGHT_TEXT) if lanes.right else y + size
    content = Box(x - size, y - size, x + size, bottom)
    frame = Frame(plane, width, content.bottom + lanes_room(len(lanes.bottom), 2.0), content, lanes)
    room = Room(Box(2.0, 2.0, width - 2.0, frame.height - 2.0))
    room.take(Box(0.0, 0.0, width, len(caption) * (HEIGHT + 3.0)))
    spots = _inside(drawing, detail)
    inside, round_ = _cut(scene, detail, plane, key, content), circle("t", x, y, size)
    marks = round_ + spot_dots(spots, plane)
    room.note(inside, content)
    room.note(marks)
    outside = draw_dimensions(dimensions, drawing, frame, room, view)
    outside += spot_names(spots, plane, room)
    lines = "".join(level_text(text, width / 2.0, i * (HEIGHT + 3.0) + ASCENT + 2.0) for i, text in enumerate(caption))
    body = f'<g clip-path="url(#{key}-c)">{inside}</g>{marks}'
    whole = width, max(frame.height, room.whole.bottom + 2.0)
    body = definitions(key, circle("", x, y, size).replace(' class=""', "")) + body + outside + group("cap", lines)
    return svg(key, f"{letter}: {detail.label}, {word}", drawing.title, whole, body)


def _caption(letter: str, label: str, scale: str, width: float) -> list[str]:
    """The caption in as many lines as the width needs."""
    lines = [letter]
    for word in [*label.split(), f"({scale})"]:
        if text_width(f"{lines[-1]} {word}") <= width - 2.0 * MARGIN:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def _inside(drawing: Drawing, detail: Detail) -> list[tuple[str, Point]]:
    return [(name, spot) for name, spot in drawing.spots if is_inside(spot, detail)]


def _cut(scene: Scene, detail: Detail, plane: Plane, key: str, content: Box) -> str:
    """What the round window shows: the elements near it, so that no path is drawn from far outside."""
    drawing = scene.drawing
    near = near_elements(drawing.part, detail)
    ways = [replace(way, chain=Chain(part)) for way in drawing.paths if (part := near_elements(way.chain, detail))]
    noses = [nose for nose in drawing.noses if _touches(nose, detail)]
    lines = _section(scene, detail, near, plane, key) + nose_marks(noses, plane, content)
    if drawing.stock_face is not None:
        lines += path("s", _upright(drawing.stock_face, detail, plane))
    return lines + paths(ways, plane) + tool_points(noses, plane) + _axis(detail, plane)


def near_elements(chain: Chain, detail: Detail) -> tuple[Element, ...]:
    """The run of elements that the window shows, its ends shortened to what lies near; empty when all is far away."""
    elements, reach = chain.elements, 0.55 * detail.size
    touched = [i for i, element in enumerate(elements) if element.distance_to(detail.spot) <= reach]
    if not touched:
        return ()
    run = list(elements[touched[0] : touched[-1] + 1])
    run[0] = _shortened(run[0], detail)
    if len(run) > 1:
        run[-1] = _shortened(run[-1], detail)
    return tuple(run)


def _shortened(element: Element, detail: Detail) -> Element:
    at = min(max(element.locate(detail.spot), 0.0), element.length)
    first, last = max(at - 2.0 * detail.size, 0.0), min(at + 2.0 * detail.size, element.length)
    return element if first == 0.0 and last == element.length else element.between(first, last)


def _touches(nose: Nose, detail: Detail) -> bool:
    away = nose.centre.distance_to(detail.spot)
    return abs(away - nose.radius) < 0.5 * detail.size or away < nose.radius


def _section(scene: Scene, detail: Detail, near: Sequence[Element], plane: Plane, key: str) -> str:
    """Outline and hatch within the window; over the axis the contour goes on as its mirror image."""
    if not near:
        return ""
    left = plane.x(detail.spot.z - 2.0 * detail.size)
    x, y = plane.xy(*near[0].start)
    contour = elements_path(near, plane)
    if abs(near[-1].end.r) < 1e-9:
        contour += elements_path([e.reversed() for e in reversed(near)], plane, mirrored=True)
    elif near[-1].tangent_at(near[-1].length).z > AHEAD:
        contour += f"V{plane.y(detail.spot.r - 2.0 * detail.size):.0f}"
    top = plane.y(detail.spot.r + 2.0 * detail.size)
    is_bore = near[0].tangent_at(0.0).z < -AHEAD
    open_start = is_bore or (scene.is_open and near[0].start == scene.face[0].start)
    outline = (move(x, y) if open_start else line(left, y, x, y)) + contour + f"H{left:.0f}"
    fill = (move(left, top) + f"H{x:.0f}V{y:.2f}" if is_bore else line(left, y, x, y)) + contour + f"H{left:.0f}z"
    return path("f", fill, f' fill="url(#{key}-h)"') + path("t", rims(scene, plane)) + path("o", outline)


def _upright(z: float, detail: Detail, plane: Plane) -> str:
    x, reach = plane.x(z), detail.size
    return line(x, plane.y(detail.spot.r + reach), x, plane.y(detail.spot.r - reach))


def _axis(detail: Detail, plane: Plane) -> str:
    if abs(detail.spot.r) > detail.size:
        return ""
    (z, _), reach = detail.spot, detail.size
    return path("c", line(plane.x(z - reach), plane.y0, plane.x(z + reach), plane.y0))
