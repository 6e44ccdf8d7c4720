"""Dimensions as a print draws them: what they all have, and the lanes for diameters and lengths."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calc.answer.drawing import Dimension
from calc.language.quantities import ANGLE, RATIO, Kind, View
from server.sketch.boxes import (
    Box,
    level_text,
    text_box,
    text_width,
    upright_box,
    upright_text,
)
from server.sketch.frame import FIRST_LANE, NEXT_LANE
from server.sketch.markup import ARROW_LENGTH, Plane, arrow, group, line, path, words
from server.sketch.room import EDGE, Room

GAP, OVERSHOOT = 4.0, 6.0
"""An extension line begins this far from what it belongs to and runs this far past its dimension line, px."""

PAST_AXIS = 12.0
"""How far the line of a diameter runs on past the axis, px."""

LIFT = 6.0
"""Height of a text's base line above its dimension line, px."""

BESIDE_LANES = 8.0
"""How far past the part's room the text of a diameter may reach without meeting the lanes of lengths, px."""

SLIDE = 6.0
"""How far apart the places are that a text is tried at along its dimension line, px."""

OUTSIDE = 16.0
"""Length of line behind an arrow that stands outside of what it measures, px."""


@dataclass(frozen=True, slots=True)
class Lane:
    """What a dimension is laid out in: the plane, the room for words, the reader's view, the room of the part."""

    plane: Plane
    room: Room
    view: View
    content: Box


def dimension_text(dimension: Dimension, view: View) -> str:
    """What stands on the dimension: sign and value as the reader's prints write it, or the symbol when not known.

    A metric print drops idle zeros after the point, an inch print keeps its places (ASME Y14.5, decimal dimensions). A
    chamfer is written 2 × 45°, or by its legs, a groove by its width and depth or bottom, 3 × 2 or 1.3 × Ø23.9, a
    taper 1:10 (ISO 129-1, ISO 3040); an auxiliary dimension stands in brackets (ISO 129-1).
    """
    if dimension.value is None or not dimension.is_known:
        return dimension.symbol or "?"
    text = _number(dimension.kind, dimension.value, view)
    if dimension.shape == "taper":
        text = f"1:{_number(RATIO, 1.0 / dimension.value, view)}"
    if dimension.shape == "angle":
        text += "°"
    if dimension.shape == "chamfer":
        text += f" × {text if dimension.angle is None else _number(ANGLE, dimension.angle, view) + '°'}"
    if dimension.by is not None:
        size, kind = dimension.by
        text += f" × {_number(kind, size, view)}"
    return f"({text})" if dimension.auxiliary else text


def _number(kind: Kind, value: float, view: View) -> str:
    unit = kind.unit(view)
    digits = unit.text(value)
    if unit.leading_zero and ("." in digits or "," in digits):
        digits = digits.rstrip("0").rstrip(".,")
    return kind.sign + digits


def dimension_markup(dimension: Dimension, lines: str, arrows: str, text: str) -> str:
    """The group of one dimension, which bears the field that it belongs to."""
    field = f' data-field="{words(dimension.field)}"' if dimension.field else ""
    return group("dim", path("t", lines) + path("a", arrows) + text, field)


def lane_at(edge: float, index: int, sign: float) -> float:
    """Where lane `index` runs, counted away from `edge`."""
    return edge + sign * (FIRST_LANE + NEXT_LANE * index)


def lane_lines(dimension: Dimension, at: float, lane: Lane) -> str:
    """Path data of what a diameter or a length in a lane draws wherever its text stands."""
    if dimension.shape == "diameter":
        return _across(dimension, at, lane)[0]
    (x1, y1), (x2, y2) = _ends(dimension, lane)
    sign = 1.0 if at > y1 else -1.0
    upright = (line(x, spot + sign * GAP, x, at + sign * OVERSHOOT) for x, spot in ((x1, y1), (x2, y2)))
    return "".join(upright) + line(x1, at, x2, at)


def _across(dimension: Dimension, x: float, lane: Lane) -> tuple[str, float, float, bool]:
    """A diameter's lines, its upper and lower end without a text, and whether its arrow stands inside."""
    plane, half = lane.plane, text_width(dimension_text(dimension, lane.view)) / 2.0
    from_x, y = plane.x(dimension.a.z), plane.y(abs(dimension.a.r))
    foot = min(max(plane.y0 + PAST_AXIS, y + ARROW_LENGTH), lane.content.bottom)
    inside = foot - y > 2.0 * half + ARROW_LENGTH + 4.0
    head, tail = y if inside else y - OUTSIDE, foot
    return line(from_x + GAP, y, x + OVERSHOOT, y) + line(x, head, x, tail), head, tail, inside


def diameter(dimension: Dimension, x: float, lane: Lane) -> str:
    """A diameter in a half view: one arrow at the part, the line running on past the axis and along its text."""
    y, text = lane.plane.y(abs(dimension.a.r)), dimension_text(dimension, lane.view)
    half = text_width(text) / 2.0
    lines, head, tail, inside = _across(dimension, x, lane)
    highest, lowest = lane.content.top - BESIDE_LANES + half, lane.content.bottom + BESIDE_LANES - half
    wanted = (y + ARROW_LENGTH + tail) / 2.0 if inside else y - ARROW_LENGTH - 4.0 - half
    if not inside and wanted < highest:
        wanted = tail + 4.0 + half
    slid = _along(max(min(wanted, lowest), highest), highest, lowest)
    slid += _along(slid[0], lane.room.whole.top + half, lane.room.whole.bottom - half)
    middle = _placed_upright(text, x - LIFT, slid, lane.room)
    along = line(x, min(head, middle - half), x, max(tail, middle + half))
    lane.room.draw(along)
    arrows = arrow(x, y, 0, -1 if inside else 1)
    lane.room.draw(arrows)
    return dimension_markup(dimension, lines + along, arrows, upright_text(text, x - LIFT, middle))


def _placed_upright(text: str, x: float, slid: Sequence[float], room: Room) -> float:
    """Where the middle of an upright text stands: at the first clean place, else below in a sketch made higher."""
    found = room.place(((_upright(text, x, at), at) for at in slid), clean=True)
    if found is not None:
        return found
    low, half = room.whole.bottom, text_width(text) / 2.0
    room.whole = room.whole._replace(bottom=low + 2.0 * half)
    deeper = _along(low - half, low - half, low + half)
    found = room.place((_upright(text, x, at), at) for at in deeper) or low
    room.whole = room.whole._replace(bottom=max(low, found + half))
    return found


def _upright(text: str, x: float, at: float) -> Box:
    """The room of an upright text, whose signs reach to both of its ends."""
    left, top, right, bottom = upright_box(text, x, at)
    return Box(left, top - EDGE, right, bottom + EDGE)


def _along(wanted: float, first: float, last: float) -> list[float]:
    """Places along a dimension line, the one that is wanted first and then the nearest to it."""
    count = int(max(last - first, 0.0) / SLIDE)
    return [wanted, *sorted((first + SLIDE * i for i in range(count + 1)), key=lambda at: abs(at - wanted))]


def _ends(dimension: Dimension, lane: Lane) -> tuple[tuple[float, float], tuple[float, float]]:
    a, b = sorted((dimension.a, dimension.b), key=lambda spot: spot.z)
    return lane.plane.xy(*a), lane.plane.xy(*b)


def length(dimension: Dimension, y: float, lane: Lane) -> str:
    """A length along z, its line at the height `y`, extension lines from its two spots."""
    (x1, _), (x2, _) = _ends(dimension, lane)
    text, whole = dimension_text(dimension, lane.view), lane.room.whole
    width = text_width(text)
    inside = x2 - x1 > width + 2.0 * ARROW_LENGTH + 4.0
    wanted = (x1 + x2) / 2.0 if inside else _beside(x1, x2, width, whole)
    slid = _along(wanted, whole.left + width / 2.0, whole.right - width / 2.0)
    left, right = (x1, x2) if inside else (x1 - OUTSIDE, x2 + OUTSIDE)
    tried = ((x, line(min(left, x - width / 2.0), y, max(right, x + width / 2.0), y)) for x in slid)
    led = ((text_box(text, x, y - LIFT), drawn, (x, drawn)) for x, drawn in tried)
    found = lane.room.place_led(led, clean=dimension.if_room)
    if found is None and dimension.if_room:
        return ""
    middle, along = found or (wanted, line(min(left, wanted - width / 2.0), y, max(right, wanted + width / 2.0), y))
    if found is None:
        lane.room.take(text_box(text, middle, y - LIFT))
        lane.room.draw(along)
    out = -1 if inside else 1
    arrows = arrow(x1, y, out, 0) + arrow(x2, y, -out, 0)
    lane.room.draw(arrows)
    return dimension_markup(
        dimension, lane_lines(dimension, y, lane) + along, arrows, level_text(text, middle, y - LIFT)
    )


def _beside(x1: float, x2: float, width: float, whole: Box) -> float:
    """Middle of the text for a length too short for it: right if there is room."""
    right = x2 + ARROW_LENGTH + 6.0 + width / 2.0
    if right + width / 2.0 <= whole.right:
        return right
    return max(x1 - ARROW_LENGTH - 6.0 - width / 2.0, whole.left + width / 2.0)
