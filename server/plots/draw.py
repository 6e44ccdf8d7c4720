"""The drawer of plots: a plot becomes SVG markup whose text reads at arm's length, without a colour of its own."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from calc.answer.plotting import Axis, Curve, Level, Plot
from calc.language.quantities import View
from server.plots.field import Sheet, draw_field, field_words
from server.plots.scale import Scale, Tick, ends_of, ticks
from server.sketch.boxes import ASCENT, HEIGHT, Box, level_text, text_box, text_width
from server.sketch.draw import check_key, svg
from server.sketch.markup import circle, group, line, num, path
from server.sketch.polyline import polyline
from server.sketch.room import Room

WIDTH, PLOT_HEIGHT = 370.0, 320.0
"""Natural size, px: at it text is 18 px."""

MARGIN, GAP = 6.0, 8.0
MOST_X, MOST_Y = 5, 5
STYLES = 4
"""How many kinds of curve there are; the drawer's classes are k1 to k4."""


@dataclass(frozen=True, slots=True)
class Frame:
    """The scales of both axes and the numbers on them."""

    x: Scale
    y: Scale
    x_ticks: list[Tick]
    y_ticks: list[Tick]

    @property
    def box(self) -> Box:
        """The room between the axes."""
        return Box(self.x.start, self.y.end, self.x.end, self.y.start)


def draw_plot(plot: Plot, view: View, key: str = "plot") -> str:
    """The plot as an SVG element. Every id begins with `key`. Raises `ValueError` for a key that is no name."""
    check_key(key)
    frame = _frame(plot, view)
    room = Room(Box(2.0, 2.0, WIDTH - 2.0, PLOT_HEIGHT - 2.0))
    texts = _axes_texts(plot, frame, view, room)
    definitions = ""
    if plot.field is not None:
        sheet = Sheet(plot.field, frame.x, frame.y)
        levels = sheet.levels(view)
        definitions, drawn = draw_field(sheet, levels, key)
        texts += field_words(sheet, levels, room)
    else:
        room.avoid(*_curve_boxes(plot.curves, frame))
        drawn = "".join(_curve(curve, index, frame) for index, curve in enumerate(plot.curves))
    drawn += "".join(_level(level, frame) for level in plot.levels)
    room.avoid(*(_level_box(level, frame) for level in plot.levels))
    marks = "".join(circle("pm", frame.x.px(mark.x), frame.y.px(mark.y), 5.0) for mark in plot.marks)
    room.avoid(*(_around(frame.x.px(mark.x), frame.y.px(mark.y), 6.0) for mark in plot.marks))
    texts += "".join(_labels(plot, frame, view, room))
    body = definitions + _grid(frame) + drawn + marks + group("pw", texts)
    return svg(key, plot.title, plot.description.say(view), (WIDTH, PLOT_HEIGHT), body)


def _frame(plot: Plot, view: View) -> Frame:
    x_unit, y_unit = plot.x.kind.unit(view), plot.y.kind.unit(view)
    x_low, x_high = ends_of(_along_x(plot), x_unit, MOST_X, tight=True)
    y_low, y_high = ends_of(_along_y(plot), y_unit, MOST_Y, tight=plot.field is not None)
    y_ticks = ticks(y_low, y_high, y_unit, MOST_Y)
    x_ticks = next(
        found for most in range(MOST_X, 0, -1) if _fits(found := ticks(x_low, x_high, x_unit, most)) or most == 1
    )
    left = MARGIN + max((text_width(tick.text) for tick in y_ticks), default=0.0) + GAP
    right = WIDTH - MARGIN - max(text_width(x_ticks[-1].text) / 2 - 4.0 if x_ticks else 0.0, 4.0)
    top, bottom = MARGIN + HEIGHT + GAP, PLOT_HEIGHT - MARGIN - 2 * HEIGHT - GAP
    flipped = x_unit.shown(x_low) > x_unit.shown(x_high)
    x = Scale(x_low, x_high, right, left) if flipped else Scale(x_low, x_high, left, right)
    return Frame(x, Scale(y_low, y_high, bottom, top), x_ticks, y_ticks)


def _fits(found: list[Tick]) -> bool:
    """Whether the numbers of the x axis stand apart."""
    return sum(text_width(tick.text) + 2 * GAP for tick in found) <= WIDTH - 90.0


def _along_x(plot: Plot) -> Iterator[float]:
    yield from (x for curve in plot.curves for x in curve.xs)
    yield from (mark.x for mark in plot.marks)
    yield from (level.value for level in plot.levels if level.axis == "x")
    yield from plot.x.shows
    yield from plot.field.acrosses if plot.field else ()


def _along_y(plot: Plot) -> Iterator[float]:
    yield from (y for curve in plot.curves for y in curve.ys)
    yield from (mark.y for mark in plot.marks)
    yield from (level.value for level in plot.levels if level.axis == "y")
    yield from plot.y.shows
    yield from plot.field.ups if plot.field else ()


def _grid(frame: Frame) -> str:
    box = frame.box
    left, right = min(box.left, box.right), max(box.left, box.right)
    across = "".join(line(left, frame.y.px(tick.value), right, frame.y.px(tick.value)) for tick in frame.y_ticks)
    upright = "".join(
        line(frame.x.px(tick.value), box.top, frame.x.px(tick.value), box.bottom) for tick in frame.x_ticks
    )
    return path("pg", across + upright) + path("pa", f"M{num(left)} {num(box.top)}V{num(box.bottom)}H{num(right)}")


def _axes_texts(plot: Plot, frame: Frame, view: View, room: Room) -> str:
    box = frame.box
    left, right = min(box.left, box.right), max(box.left, box.right)
    drawn = ""
    for tick in frame.y_ticks:
        x, y = left - GAP - text_width(tick.text) / 2, frame.y.px(tick.value) + 6.0
        drawn += _text(tick.text, x, y, room)
    level = box.bottom + GAP + ASCENT
    for tick in frame.x_ticks:
        half = text_width(tick.text) / 2
        x = min(max(frame.x.px(tick.value), MARGIN + half), WIDTH - MARGIN - half)
        drawn += _text(tick.text, x, level, room)
    x_name, y_name = axis_name(plot.x, view), axis_name(plot.y, view)
    drawn += _text(x_name, max(right - text_width(x_name) / 2, MARGIN + text_width(x_name) / 2), level + HEIGHT, room)
    return drawn + _text(y_name, MARGIN + text_width(y_name) / 2, MARGIN + ASCENT, room)


def axis_name(axis: Axis, view: View) -> str:
    """What runs along an axis, with its unit.

    >>> from calc.language.quantities import SPINDLE_SPEED, METRIC
    >>> axis_name(Axis("Spindle speed", SPINDLE_SPEED, "n"), METRIC)
    'Spindle speed, 1/min'
    """
    unit = axis.kind.unit(view).label
    return f"{axis.label}, {unit}" if unit else axis.label


def _text(text: str, x: float, y: float, room: Room) -> str:
    room.take(text_box(text, x, y))
    return level_text(text, x, y)


def _points(curve: Curve, frame: Frame) -> Iterator[list[tuple[float, float]]]:
    """The runs of a curve in px, broken where there is no value."""
    run: list[tuple[float, float]] = []
    for x, y in zip(curve.xs, curve.ys, strict=True):
        if math.isfinite(y):
            run.append((frame.x.px(x), frame.y.px(y)))
        elif run:
            yield run
            run = []
    if run:
        yield run


def _curve(curve: Curve, index: int, frame: Frame) -> str:
    return path(f"k{index % STYLES + 1}", "".join(polyline(run) for run in _points(curve, frame) if len(run) > 1))


def _curve_boxes(curves: Iterable[Curve], frame: Frame) -> Iterator[Box]:
    for curve in curves:
        for run in _points(curve, frame):
            for (x1, y1), (x2, y2) in pairwise(run):
                steps = int(max(abs(x2 - x1), abs(y2 - y1)) / 12.0) + 1
                for step in range(steps + 1):
                    share = step / steps
                    yield _around(x1 + share * (x2 - x1), y1 + share * (y2 - y1), 2.0)


def _around(x: float, y: float, reach: float) -> Box:
    return Box(x - reach, y - reach, x + reach, y + reach)


def _level(level: Level, frame: Frame) -> str:
    box = frame.box
    left, right = min(box.left, box.right), max(box.left, box.right)
    if level.axis == "y":
        y = frame.y.px(level.value)
        return path("pl", line(left, y, right, y))
    x = frame.x.px(level.value)
    return path("pl", line(x, box.top, x, box.bottom))


def _level_box(level: Level, frame: Frame) -> Box:
    box = frame.box
    if level.axis == "y":
        y = frame.y.px(level.value)
        return Box(min(box.left, box.right), y - 1.0, max(box.left, box.right), y + 1.0)
    x = frame.x.px(level.value)
    return Box(x - 1.0, box.top, x + 1.0, box.bottom)


def _labels(plot: Plot, frame: Frame, view: View, room: Room) -> Iterator[str]:
    box = _inside(frame)
    for level in plot.levels:
        text = level.label.say(view)
        yield _placed(text, _beside_level(level, text_width(text), frame, box), room, box)
    for mark in plot.marks:
        text = mark.label.say(view)
        near = (frame.x.px(mark.x), frame.y.px(mark.y))
        yield _placed(text, _beside_mark(near, text_width(text)), room, box)


def _inside(frame: Frame) -> Box:
    """Where labels may stand: between the axes."""
    box = frame.box
    return Box(min(box.left, box.right), box.top - 2.0, max(box.left, box.right) + GAP, box.bottom - 2.0)


def _beside_level(level: Level, width: float, frame: Frame, box: Box) -> Iterator[tuple[float, float]]:
    """Places along a level, close to it: from its right end leftward, or from the top downward."""
    if level.axis == "y":
        y = frame.y.px(level.value)
        for x in _from_to(box.right - GAP - width / 2, box.left + width / 2 + 4.0, -15.0):
            yield from ((x, y - 6.0), (x, y + ASCENT + 4.0))
    else:
        x = frame.x.px(level.value)
        for y in _from_to(box.top + ASCENT + 2.0, box.bottom - 6.0, 12.0):
            yield from ((x - 6.0 - width / 2, y), (x + 6.0 + width / 2, y))


def _from_to(first: float, last: float, step: float) -> Iterator[float]:
    count = max(int((last - first) / step), 0)
    return (first + index * step for index in range(count + 1))


def _beside_mark(near: tuple[float, float], width: float) -> Iterator[tuple[float, float]]:
    """Places around a mark, the nearest first."""
    x, y = near
    for away in (0.0, 14.0, 30.0, 50.0, 75.0):
        for side in (1, -1):
            for dy in (-8.0, 22.0, 6.0):
                yield x + side * (12.0 + away + width / 2), y + dy
        yield from ((x, y - 14.0 - away), (x, y + 26.0 + away))


def _placed(text: str, spots: Iterator[tuple[float, float]], room: Room, box: Box) -> str:
    """A level text at the first of the spots that is free and covers fewest lines; anywhere near where none is."""
    listed = list(spots)
    fitting = ((found, spot) for spot in listed if (found := text_box(text, *spot)).within(box))
    spot = room.place(fitting) or room.anywhere(text_width(text), listed[0])
    return level_text(text, *spot)
