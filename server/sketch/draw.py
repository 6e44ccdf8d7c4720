"""The drawer: a drawing becomes SVG markup, as a print would show it."""

from __future__ import annotations

import re

from calc.answer.drawing import Dimension, Drawing
from calc.contour import Point
from calc.language.quantities import View
from server.sketch.above import above_body
from server.sketch.boxes import Box, Room
from server.sketch.dimensions import Lane, angle, diameter, lane_at, length, radius
from server.sketch.end_view import end_view
from server.sketch.frame import MARGIN, Frame, main_frame
from server.sketch.marks import (
    axes,
    detail_marks,
    mark_boxes,
    nose_labels,
    nose_marks,
    outline_marks,
    paths,
    spot_marks,
    tool_points,
)
from server.sketch.markup import num, words
from server.sketch.part import centre_line, definitions, raw_stock, section, window, work_zero
from server.sketch.scene import Scene
from server.sketch.thread_profile import thread_profile

WIDTH, HEIGHT = 400.0, 390.0
"""Natural size of the main view, px: at it text is 18 px; the view may come out a little lower or higher."""

WORK_ZERO = Point(0.0, 0.0)

SWING = 6.0
"""Room for the swing of a break line beside the window, px."""


def draw(drawing: Drawing, view: View, width: float = WIDTH, height: float = HEIGHT, key: str = "sketch") -> str:
    """The main view of `drawing` as an SVG element.

    `width` and `height` are px at which the text has its natural size; the result is exactly as wide and about as
    high. Every id begins with `key`, which must be unique on the page. Raises `ValueError` for a key that is no name.
    """
    check_key(key)
    if drawing.end_view is not None:
        body = end_view(drawing.end_view, view, width, height)
        return svg(key, drawing.title, drawing.description, (width, height), body)
    if drawing.profile is not None:
        body, high = thread_profile(drawing.profile, view, key, width, height)
        return svg(key, drawing.title, drawing.description, (width, high), body)
    if drawing.seen_from_above:
        body, size = above_body(drawing, view, width, height)
        return svg(key, drawing.title, drawing.description, size, body)
    scene = Scene(drawing)
    frame = main_frame(scene, width, height)
    plane, content = frame.plane, frame.content
    room = Room(Box(2.0, 2.0, frame.width - 2.0, frame.height - 2.0))
    room.avoid(*mark_boxes(drawing.noses, [*scene.spots, ("zero", WORK_ZERO)], plane))
    room.avoid(Box(content.left, content.top, plane.x(scene.bounds.z_min), content.bottom))
    dimensions = draw_dimensions(scene.dimensions, drawing, frame, room, view)
    labels = axes(view, room, _corners(frame))
    labels += detail_marks(scene.details, plane, room)
    labels += spot_marks(scene.spots, plane, room)
    labels += nose_labels(drawing.noses, plane, room, content)
    cut = content._replace(left=content.left - SWING, top=content.top + 2.0)
    inside = section(key, scene, frame) + outline_marks(drawing.outlines, plane)
    inside += nose_marks(drawing.noses, plane, content) + raw_stock(scene, frame)
    inside += paths(drawing.paths, plane) + tool_points(drawing.noses, plane)
    body = f'<g clip-path="url(#{key}-c)">{inside}</g>{centre_line(frame)}{work_zero(plane)}{dimensions}{labels}'
    high = max(frame.height, room.whole.bottom + 2.0)
    return svg(key, drawing.title, drawing.description, (frame.width, high), definitions(key, window(cut)) + body)


def check_key(key: str) -> None:
    """Raise `ValueError` unless `key` can begin an id."""
    if not re.fullmatch(r"[A-Za-z][A-Za-z0-9_-]*", key):
        raise ValueError(f"a sketch's key must be a name, not {key!r}")


def svg(key: str, title: str, description: str, size: tuple[float, float], body: str) -> str:
    """The whole element, named and described for those who hear it."""
    width, height = map(num, size)
    return (
        f'<svg class="sketch" xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="{key}-t" '
        f'aria-describedby="{key}-d" viewBox="0 0 {width} {height}" width="{width}" height="{height}">'
        f'<title id="{key}-t">{words(title)}</title><desc id="{key}-d">{words(description)}</desc>{body}</svg>'
    )


def draw_dimensions(dimensions: list[Dimension], drawing: Drawing, frame: Frame, room: Room, view: View) -> str:
    """Every dimension once: those in lanes first, then those that look for room."""
    lane = Lane(frame.plane, room, view, frame.content)
    content, lanes = frame.content, frame.lanes
    drawn = [diameter(d, lane_at(content.right - MARGIN, i, 1.0), lane) for i, d in enumerate(lanes.right)]
    drawn += [length(d, lane_at(content.top, i, -1.0), lane) for i, d in enumerate(lanes.top)]
    drawn += [length(d, lane_at(content.bottom, i, 1.0), lane) for i, d in enumerate(lanes.bottom)]
    drawn += [radius(d, drawing.part, lane) for d in dimensions if d.shape == "radius"]
    drawn += [angle(d, lane) for d in dimensions if d.shape == "angle"]
    return "".join(drawn)


def _corners(frame: Frame) -> list[tuple[float, float]]:
    """Where the arrows of the axes may stand: right of the part below the axis first, then the other corners."""
    high, low = 62.0, frame.height - 9.0
    right, left = frame.width - 84.0, MARGIN
    level = min(frame.content.bottom - 4.0, low)
    return [(right, level), (right - 40.0, level), (right, low), (right, high), (left, low), (left, high)]
