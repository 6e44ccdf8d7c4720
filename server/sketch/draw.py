"""The drawer: a drawing becomes SVG markup, as a print would show it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from calc.answer.drawing import Dimension, Drawing
from calc.language.quantities import View
from server.sketch.above import above_body
from server.sketch.angles import angle
from server.sketch.boxes import Box
from server.sketch.dimensions import Lane, diameter, lane_at, lane_lines, length
from server.sketch.end_view import end_view
from server.sketch.frame import MARGIN, Frame, main_frame
from server.sketch.leaders import radius
from server.sketch.marks import (
    axes,
    detail_circles,
    detail_letters,
    nose_labels,
    nose_marks,
    outline_marks,
    paths,
    spot_dots,
    spot_names,
    tool_points,
)
from server.sketch.markup import Plane, num, words
from server.sketch.part import centre_line, definitions, raw_stock, section, window, work_zero
from server.sketch.room import Room
from server.sketch.scale_bar import scale_bar
from server.sketch.scene import Scene
from server.sketch.thread_profile import thread_profile
from server.sketch.worded import worded_drawing

LED = ("radius", "chamfer", "taper")
"""Dimensions that stand on a leader."""

WIDTH, HEIGHT = 480.0, 320.0
"""Natural size of the main view, px: at it text is 18 px; the view may come out a little lower or higher."""

SWING = 6.0
"""Room for the swing of a break line beside the window, px."""


def draw(drawing: Drawing, view: View, width: float = WIDTH, height: float = HEIGHT, key: str = "sketch") -> str:
    """The main view of `drawing` as an SVG element.

    `width` and `height` are px at which the text has its natural size; the result is exactly as wide and about as
    high. Every id begins with `key`, which must be unique on the page. Raises `ValueError` for a key that is no name.
    """
    check_key(key)
    drawing = worded_drawing(drawing, view)
    if drawing.end_view is not None:
        body, high = end_view(drawing.end_view, view, width, height)
        return svg(key, drawing.title, drawing.description, (width, high), body)
    if drawing.profile is not None:
        body, high = thread_profile(drawing.profile, view, key, width, height)
        return svg(key, drawing.title, drawing.description, (width, high), body)
    if drawing.seen_from_above:
        body, size = above_body(drawing, view, width, height)
        return svg(key, drawing.title, drawing.description, size, body)
    return _section(Scene(drawing), view, width, height, key)


def _section(scene: Scene, view: View, width: float, height: float, key: str) -> str:
    """The part in section with all that is drawn on it."""
    drawing, frame = scene.drawing, main_frame(scene, width, height)
    plane, content = frame.plane, frame.content
    room = Room(Box(2.0, 2.0, frame.width - 2.0, frame.height - 2.0))
    cut = content._replace(left=content.left - SWING, top=content.top + 2.0)
    inside = section(key, scene, frame) + outline_marks(drawing.outlines, plane)
    inside += nose_marks(drawing.noses, plane, content) + raw_stock(scene, frame)
    inside += paths(drawing.paths, plane) + tool_points(drawing.noses, plane)
    marks = centre_line(frame) + work_zero(plane)
    marks += detail_circles(scene.details, plane) + spot_dots(scene.spots, plane)
    room.note(inside, cut)
    room.note(marks)
    labels = draw_dimensions(scene.dimensions, drawing, frame, room, view)
    labels += axes(view, room, _corners(frame), _solid(scene, plane))
    labels += detail_letters(scene.details, plane, room)
    labels += spot_names(scene.spots, plane, room)
    labels += nose_labels(drawing.noses, plane, room, content)
    labels += scale_bar(plane.scale, view, room, _solid(scene, plane)) if drawing.is_to_scale else ""
    body = f'<g clip-path="url(#{key}-c)">{inside}</g>{marks}{labels}'
    size = frame.width, max(frame.height, room.whole.bottom + 2.0)
    return svg(key, drawing.title, drawing.description, size, definitions(key, window(cut)) + body)


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
    for each, at in _in_lanes(frame):
        room.draw(lane_lines(each, at, lane))
    drawn = [_in_lane(each, at, lane, drawing) for each, at in _in_lanes(frame)]
    drawn += [radius(d, drawing.part, lane) for d in dimensions if d.shape in LED]
    drawn += [angle(d, lane) for d in dimensions if d.shape == "angle"]
    return "".join(drawn)


def _in_lane(dimension: Dimension, at: float, lane: Lane, drawing: Drawing) -> str:
    """A dimension in its lane; one that is there only if there is room, and finds none, stands on a leader instead."""
    if dimension.shape == "diameter":
        return diameter(dimension, at, lane)
    middle = dimension.a.shifted((dimension.b.z - dimension.a.z) / 2.0, 0.0)
    pointed = replace(dimension, a=middle, b=middle.shifted(0.0, middle.r))
    return length(dimension, at, lane) or radius(pointed, drawing.part, lane)


def _solid(scene: Scene, plane: Plane) -> Box:
    """Where the part is, its hollows included."""
    bounds, outer = scene.shown, scene.outer_radius
    return Box(0.0, plane.y(outer), plane.x(bounds.z_max), plane.y(-outer))


def _in_lanes(frame: Frame) -> Iterator[tuple[Dimension, float]]:
    """The dimensions that have a lane, each with the place of its line."""
    content, lanes = frame.content, frame.lanes
    for edge, sign, those in (
        (content.right - MARGIN, 1.0, lanes.right),
        (content.top, -1.0, lanes.top),
        (content.bottom, 1.0, lanes.bottom),
    ):
        for index, each in enumerate(those):
            yield each, lane_at(edge, index, sign)


def _corners(frame: Frame) -> list[tuple[float, float]]:
    """Where the arrows of the axes may stand: right of the part below the axis first, then the other corners."""
    high, low = 62.0, frame.height - 9.0
    right, left = frame.width - 84.0, MARGIN
    level = min(frame.content.bottom - 4.0, low)
    return [(right, level), (right - 40.0, level), (right, low), (right, high), (left, low), (left, high)]
