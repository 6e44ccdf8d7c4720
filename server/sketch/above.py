"""An insert seen from above: outline, inscribed circle, nose, dimensions; no axis, no section."""

from __future__ import annotations

from calc.answer.drawing import Dimension, Drawing
from calc.language.quantities import View
from server.sketch.angles import angle
from server.sketch.boxes import Box, upright_box, upright_text
from server.sketch.dimensions import (
    GAP,
    LIFT,
    OVERSHOOT,
    Lane,
    dimension_markup,
    dimension_text,
    lane_at,
    lane_lines,
    length,
)
from server.sketch.leaders import radius
from server.sketch.marks import outline_marks
from server.sketch.markup import Plane, arrow, circle, line, path
from server.sketch.part import chain_path
from server.sketch.room import Room
from server.sketch.scale_bar import scale_bar

MARGIN = 12.0
LEFT, RIGHT, BELOW = 84.0, 52.0, 62.0
"""Room for the radius at the nose, the inscribed circle's dimension and the edge's, px."""


def above_body(drawing: Drawing, view: View, width: float, height: float) -> tuple[str, tuple[float, float]]:
    """The inside of the SVG element, and its width and height, px."""
    plane, content, high = _framed(drawing, width, height)
    room = Room(Box(2.0, 2.0, width - 2.0, high - 2.0))
    lane = Lane(plane, room, view, content)
    lines = path("o", chain_path(drawing.part, plane)) + outline_marks(drawing.outlines, plane)
    for nose in drawing.noses:
        lines += circle("n", *plane.xy(*nose.centre), nose.radius * plane.scale)
    room.note(lines)
    for each in drawing.dimensions:
        if each.shape == "length":
            room.draw(lane_lines(each, lane_at(content.bottom, 0, 1.0), lane))
    drawn = [_dimension(each, drawing, lane) for each in sorted(drawing.dimensions, key=_placed_last)]
    if drawing.is_to_scale:
        drawn.append(scale_bar(plane.scale, view, room, content))
    return lines + "".join(drawn), (width, max(high, room.whole.bottom + 2.0))


def _framed(drawing: Drawing, width: float, height: float) -> tuple[Plane, Box, float]:
    bounds = drawing.part.bounds
    wide, tall = bounds.z_max - bounds.z_min, bounds.r_max - bounds.r_min
    scale = min((width - LEFT - RIGHT) / wide, (height - BELOW - MARGIN) / tall)
    high = scale * tall + BELOW + MARGIN
    spare = (width - LEFT - RIGHT - scale * wide) / 2.0
    plane = Plane(scale, LEFT + spare - bounds.z_min * scale, MARGIN + bounds.r_max * scale)
    content = Box(plane.x(bounds.z_min), MARGIN, plane.x(bounds.z_max), plane.y(bounds.r_min))
    return plane, content, high


def _placed_last(dimension: Dimension) -> bool:
    """Those that look for room come after those that have their place."""
    return dimension.shape in ("radius", "angle")


def _dimension(dimension: Dimension, drawing: Drawing, lane: Lane) -> str:
    if dimension.shape == "diameter":
        return across(dimension, lane.content.right + 26.0, lane)
    if dimension.shape == "length":
        return length(dimension, lane_at(lane.content.bottom, 0, 1.0), lane)
    return radius(dimension, drawing.part, lane) if dimension.shape == "radius" else angle(dimension, lane)


def across(dimension: Dimension, x: float, lane: Lane) -> str:
    """A diameter from side to side, its line upright at `x`."""
    plane, text = lane.plane, dimension_text(dimension, lane.view)
    upper, lower = plane.y(abs(dimension.a.r)), plane.y(-abs(dimension.a.r))
    middle = (upper + lower) / 2.0
    lane.room.take(upright_box(text, x - LIFT, middle))
    lane.room.avoid(Box(x - 1.0, upper, x + 1.0, lower))
    edge = lane.content.right
    lines = line(x, upper, x, lower) + "".join(line(edge + GAP, y, x + OVERSHOOT, y) for y in (upper, lower))
    arrows = arrow(x, upper, 0, -1) + arrow(x, lower, 0, 1)
    return dimension_markup(dimension, lines, arrows, upright_text(text, x - LIFT, middle))
