"""What the main view shows and how large: the interesting end fills the view, the bar is cut short."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import dropwhile

from calc.contour import Bounds, Element
from calc.drawing import Dimension, Drawing
from server.sketch.boxes import Box
from server.sketch.markup import Plane

MARGIN = 8.0
FIRST_LANE, NEXT_LANE = 30.0, 26.0
"""Distance of the first dimension line from what is drawn, and of the next from it: room for a line of text, px."""

TEXT_ABOVE = 16.0
"""Room above the uppermost line for its text, px."""

STUB, LONGEST_STUB = 52.0, 110.0
"""What is drawn of the bar to the left of the contour, px."""

BELOW_AXIS, ABOVE, RIGHT = 26.0, 8.0, 14.0
"""Least room around what is drawn, px; diameters run on a little below the axis."""

NOSE_SHARE = 0.9
"""How far a large nose may widen the view, as a share of the part's radius."""


@dataclass(frozen=True, slots=True)
class Lanes:
    """The dimensions that stand in lanes around the main view, the nearest lane first."""

    right: tuple[Dimension, ...]
    top: tuple[Dimension, ...]
    bottom: tuple[Dimension, ...]


@dataclass(frozen=True, slots=True)
class Frame:
    """The mapping to px, the size of the sketch, and the room within which the part is drawn."""

    plane: Plane
    width: float
    height: float
    content: Box
    lanes: Lanes
    open_top: bool = False


def sort_into_lanes(dimensions: Sequence[Dimension], middle: float) -> Lanes:
    """Diameters go to the right, lengths above or below the view, whichever side of radius `middle` they are on."""
    diameters = sorted((d for d in dimensions if d.shape == "diameter"), key=lambda d: abs(d.a.r))
    lengths = sorted((d for d in dimensions if d.shape == "length"), key=lambda d: abs(d.a.z - d.b.z))
    top = tuple(d for d in lengths if min(d.a.r, d.b.r) >= middle)
    return Lanes(tuple(diameters), top, tuple(d for d in lengths if min(d.a.r, d.b.r) < middle))


def lanes_room(count: int, bare: float) -> float:
    """Room that `count` lanes take beside the view, px."""
    return MARGIN + (FIRST_LANE + NEXT_LANE * (count - 1) if count else bare)


def outer_radius(drawing: Drawing) -> float:
    """The radius up to which the part is drawn: the bar's, or a little beyond the contour when there is no bar."""
    reach = drawing.part.bounds.r_max
    return max(drawing.bar_radius, reach) if drawing.bar_radius else 1.15 * reach


def main_frame(drawing: Drawing, width: float, height: float) -> Frame:
    """The frame of the main view, `width` px wide and at most about `height` px high."""
    top_r = outer_radius(drawing)
    lanes = sort_into_lanes([d for d in drawing.dimensions if not d.detail], top_r / 2.0)
    shown = _shown(drawing, top_r)
    right = lanes_room(len(lanes.right), RIGHT)
    above = lanes_room(len(lanes.top), 2.0) + (TEXT_ABOVE if lanes.top else 0.0)
    below = lanes_room(len(lanes.bottom), 2.0)
    room_x = width - MARGIN - STUB - RIGHT - right
    room_y = height - above - below - ABOVE - BELOW_AXIS
    scale = min(room_x / (shown.z_max - shown.z_min), room_y / (shown.r_max - shown.r_min))
    spare = max(room_x - scale * (shown.z_max - shown.z_min), 0.0)
    stub = min(STUB + 0.6 * spare, LONGEST_STUB)
    aside = (spare - (stub - STUB)) / 2.0
    plane = Plane(scale, MARGIN + aside + stub - shown.z_min * scale, above + ABOVE + shown.r_max * scale)
    content = Box(MARGIN + aside, above, plane.x(shown.z_max) + RIGHT, plane.y(shown.r_min) + BELOW_AXIS)
    return Frame(plane, width, content.bottom + below, content, lanes, open_top=not drawing.bar_radius)


def _shown(drawing: Drawing, top_r: float) -> Bounds:
    """What must be seen: the contour without its cylinder to the left, the raw face, the noses within reason."""
    part = _interesting(drawing.part.elements)
    z_max = max(part.z_max, drawing.stock_face or part.z_max, 0.0)
    z_min = min(part.z_min, 0.0)
    extent = Bounds(z_min, z_max, 0.0, top_r)
    for path in drawing.paths:
        if path.role in ("pass", "left"):
            extent = extent.joined(path.chain.bounds)
    reach = NOSE_SHARE * top_r
    for nose in drawing.noses:
        (z, r), size = nose.centre, nose.radius
        extent = extent.joined(Bounds(z - size, z + size, r - size, r + size))
    return Bounds(
        min(z_min, max(extent.z_min, z_min - reach / 2.0)),
        min(extent.z_max, z_max + reach),
        max(extent.r_min, -reach / 2.0),
        min(extent.r_max, 1.2 * top_r),
    )


def _interesting(elements: Sequence[Element]) -> Bounds:
    face = list(dropwhile(lambda element: element.start.r == element.end.r and not element.curvature, elements))
    bounds = Bounds.around(elements[-1].end)
    for element in face or elements:
        bounds = bounds.joined(element.bounds())
    return bounds
