"""What the main view shows and how large: the interesting end fills the view, the bar is cut short."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calc.answer.drawing import Dimension
from server.sketch.boxes import Box
from server.sketch.markup import Plane
from server.sketch.scene import Scene

MARGIN = 8.0
FIRST_LANE, NEXT_LANE = 30.0, 26.0
"""Distance of the first dimension line from what is drawn, and of the next from it: room for a line of text, px."""

TEXT_ABOVE = 16.0
"""Room above the uppermost line for its text, px."""

STUB, LONGEST_STUB = 52.0, 110.0
"""What is drawn of the bar to the left of the contour, px."""

BELOW_AXIS, ABOVE, RIGHT = 30.0, 8.0, 14.0
"""Least room around what is drawn, px; diameters run on a little below the axis."""

BESIDE_FACE = 80.0
"""Room to the right of the face for the text of a radius, where there is room to spare, px."""

LEAST_ROOM, LEAST_HIGH, UPRIGHT_TEXT = 80.0, 130.0, 120.0
"""Room kept for the part however many dimensions surround it, and for the text of a diameter, px."""


FEW, BELOW_CROWD = 3, 84.0
"""Beside more diameters than a few their extension lines leave no room for texts but below the axis; that room, px."""


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


def sort_into_lanes(dimensions: Sequence[Dimension], middle: float) -> Lanes:
    """Diameters go to the right, lengths above or below the view, whichever side of radius `middle` they are on."""
    diameters = sorted((d for d in dimensions if d.shape == "diameter"), key=lambda d: abs(d.a.r))
    lengths = sorted((d for d in dimensions if d.shape == "length"), key=lambda d: abs(d.a.z - d.b.z))
    top = tuple(d for d in lengths if min(d.a.r, d.b.r) >= middle)
    return Lanes(tuple(diameters), top, tuple(d for d in lengths if min(d.a.r, d.b.r) < middle))


def lanes_room(count: int, bare: float) -> float:
    """Room that `count` lanes take beside the view, px."""
    return MARGIN + (FIRST_LANE + NEXT_LANE * (count - 1) if count else bare)


def main_frame(scene: Scene, width: float, height: float) -> Frame:
    """The frame of the main view, `width` px wide and at most about `height` px high.

    It grows beyond that only when so many dimensions stand around the part that little would be left for it.
    """
    lanes = sort_into_lanes(scene.dimensions, scene.outer_radius / 2.0)
    shown = scene.shown
    right = lanes_room(len(lanes.right), RIGHT)
    above = lanes_room(len(lanes.top), 2.0) + (TEXT_ABOVE if lanes.top else 0.0)
    below = lanes_room(len(lanes.bottom), 2.0)
    room_x = max(width - MARGIN - STUB - RIGHT - right, LEAST_ROOM)
    room_y = max(height - above - below - ABOVE - BELOW_AXIS, LEAST_HIGH)
    scale = min(room_x / (shown.z_max - shown.z_min or 1e-9), room_y / (shown.r_max - shown.r_min))
    spare = max(room_x - scale * (shown.z_max - shown.z_min), 0.0)
    stub = min(STUB + 0.6 * spare, LONGEST_STUB)
    spare -= stub - STUB
    beside = min(spare, max(BESIDE_FACE - shown.z_max * scale, 0.0))
    aside = (spare - beside) / 2.0
    plane = Plane(scale, MARGIN + aside + stub - shown.z_min * scale, above + ABOVE + shown.r_max * scale)
    bottom = max(plane.y(shown.r_min) + BELOW_AXIS, above + (UPRIGHT_TEXT if lanes.right else 0.0))
    if len(lanes.right) > FEW:
        bottom = max(bottom, plane.y0 + BELOW_CROWD)
    content = Box(MARGIN + aside, above, plane.x(shown.z_max) + RIGHT + beside, bottom)
    return Frame(plane, max(width, MARGIN + STUB + room_x + RIGHT + right), bottom + below, content, lanes)
