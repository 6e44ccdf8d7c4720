"""A contour as plain words of ISO 6983: G0 G1 G2 G3, X and Z, R or I and K.

Words are always in ISO signs: +X away from the axis, +Z away from the chuck; G2 turns clockwise seen with +X up and +Z
to the right. I is a radius though X may be a diameter. They describe a contour; they are no program to run.

Rounding. Each point is rounded by itself, so nothing adds up along the contour. An arc is then written so that it fits
the rounded points: with R it stays within `CLOSES` last digits of the true arc, split where a single R could not (R
alone means the arc below half a turn, and near half a turn its centre moves far for a little rounding); with I and K
the centre is at the same distance from both rounded ends within `CLOSES` last digits.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

from calc.answer.feature import KeyPoint
from calc.contour import Arc, Element, Line, Point
from calc.language.quantities import METRIC, View

SOURCE = "ISO 6983-1:2009"
CLOSES = 2
"""Digits of the last place by which a written arc may miss the true one, and its two radii may differ."""

_MOST_SPLITS = 6
_INCH = 25.4
Arcs = Literal["radius", "centre"]


@dataclass(frozen=True, slots=True)
class Style:
    """How words are written: units and what X means come from the view; arcs with R or with I and K."""

    view: View = METRIC
    arcs: Arcs = "radius"
    decimals: int = 3

    @property
    def step(self) -> float:
        """The last digit, mm."""
        return (_INCH if self.view.units == "inch" else 1.0) / 10.0**self.decimals

    @property
    def step_r(self) -> float:
        """The last digit of an X as a radius, mm."""
        return self.step / (2.0 if self.view.x == "diameter" else 1.0)

    def rounded(self, point: Point) -> Point:
        """The point that is written for this one."""
        return Point(round(point.z / self.step) * self.step, round(point.r / self.step_r) * self.step_r)

    def word(self, letter: str, value: float, step: float) -> str:
        """One word: the letter and `value` (mm) in last digits of `step` (mm).

        >>> Style().word("Z", -4.5, 0.001), Style(decimals=4).word("X", -1e-9, 0.0001)
        ('Z-4.500', 'X0.0000')
        """
        digits = round(value / step)
        text = f"{abs(digits):0{self.decimals + 1}d}"
        cut = len(text) - self.decimals
        shown = f"{text[:cut]}.{text[cut:]}" if self.decimals else text
        return f"{letter}{'-' if digits < 0 else ''}{shown}"


def words_of(runs: Iterable[Sequence[Element]], style: Style) -> tuple[str, ...]:
    """The lines of words of contiguous runs of elements; each run is gone to with G0.

    >>> edge = Arc(Point(0.0, 9.2), Point(-0.8, 10.0), Point(-0.8, 9.2), "ccw")
    >>> words_of([(Line(Point(0.0, 0.0), edge.start), edge)], Style())
    ('G0 X0.000 Z0.000', 'G1 X18.400 Z0.000', 'G3 X20.000 Z-0.800 R0.800')
    >>> words_of([(edge,)], Style(arcs="centre"))[-1]
    'G3 X20.000 Z-0.800 I0.000 K-0.800'
    """
    lines: list[str] = []
    for run in runs:
        if run:
            lines += [_line("G0", style.rounded(run[0].start), style), *_run_words(run, style)]
    return tuple(lines)


def runs_of(points: Sequence[KeyPoint]) -> tuple[tuple[Element, ...], ...]:
    """The runs of elements that key points describe; a point without a move begins a new one."""
    runs: list[list[Element]] = []
    for before, point in zip([None, *points], points, strict=False):
        if before is None or not point.move:
            runs.append([])
        elif point.move == "line" or point.centre is None:
            runs[-1].append(Line(before.spot, point.spot))
        else:
            runs[-1].append(Arc(before.spot, point.spot, point.centre, "cw" if point.move == "cw" else "ccw"))
    return tuple(tuple(run) for run in runs if run)


def heading(style: Style) -> tuple[str, ...]:
    """Comment lines to stand above the words: what they are, in which units and signs, how near they come."""
    units = "INCH" if style.view.units == "inch" else "MM"
    x = "DIAMETER" if style.view.x == "diameter" else "RADIUS"
    step = f"{CLOSES / 10.0**style.decimals:.{style.decimals}f}"
    arcs = f"ARCS BY R, WITHIN {step}" if style.arcs == "radius" else f"ARCS BY I AND K AS RADIUS, CLOSED WITHIN {step}"
    return (
        "(A CONTOUR, NOT A PROGRAM TO RUN: NO TOOL, SPEED, FEED OR NOSE COMPENSATION)",
        f"({units}, X AS {x}, +Z AWAY FROM THE CHUCK, +X AWAY FROM THE AXIS)",
        f"(G2 CLOCKWISE WITH +X UP AND +Z TO THE RIGHT, {arcs})",
    )


def _run_words(run: Sequence[Element], style: Style) -> Iterator[str]:
    for element in run:
        start, end = style.rounded(element.start), style.rounded(element.end)
        if start == end and element.length < math.pi * style.step:
            continue  # too short to be written: the next one goes on from here
        if isinstance(element, Line):
            yield _line("G1", end, style)
        elif style.arcs == "centre":
            yield _by_centre(element, start, end, style)
        else:
            yield from _by_radius(element, style, _MOST_SPLITS)


def _line(code: str, end: Point, style: Style) -> str:
    return f"{code} {style.word('X', end.r, style.step_r)} {style.word('Z', end.z, style.step)}"


def _code(arc: Arc) -> str:
    return "G2" if arc.turn == "cw" else "G3"


def _by_radius(arc: Arc, style: Style, splits: int) -> Iterator[str]:
    start, end = style.rounded(arc.start), style.rounded(arc.end)
    chord = start.distance_to(end)
    radius = max(round(arc.radius / style.step), math.ceil(chord / 2.0 / style.step - 1e-9)) * style.step
    if splits and (arc.angle > 0.95 * math.pi or _misses(arc, start, end, radius) > CLOSES * style.step):
        for half in _halves(arc):
            yield from _by_radius(half, style, splits - 1)
    elif start != end:
        yield f"{_line(_code(arc), end, style)} {style.word('R', radius, style.step)}"


def _halves(arc: Arc) -> tuple[Arc, Arc]:
    middle = arc.point_at(arc.length / 2.0)
    return replace(arc, end=middle), replace(arc, start=middle)


def _misses(arc: Arc, start: Point, end: Point, radius: float) -> float:
    """By how much (mm) the minor arc of `radius` from `start` to `end` leaves the true one, midway."""
    half = start.distance_to(end) / 2.0
    if half == 0.0:
        return 0.0
    height = math.sqrt(max(radius * radius - half * half, 0.0))
    side = 1.0 if arc.turn == "ccw" else -1.0  # the centre of a ccw arc lies to the left of its chord
    toward = start.to(end)
    across = (-toward.r / (2 * half) * side, toward.z / (2 * half) * side)
    middle = Point((start.z + end.z) / 2.0, (start.r + end.r) / 2.0)
    centre = Point(middle.z + across[0] * height, middle.r + across[1] * height)
    return max(abs(centre.distance_to(arc.point_at(arc.length * part)) - radius) for part in (0.25, 0.5, 0.75))


def _by_centre(arc: Arc, start: Point, end: Point, style: Style) -> str:
    """The centre nearest to the true one, in last digits, from which both rounded ends are as far to one last digit."""
    step = style.step
    i0, k0 = round((arc.centre.r - start.r) / step), round((arc.centre.z - start.z) / step)

    def gap(offset: tuple[int, ...]) -> tuple[float, int]:
        centre = Point(start.z + (k0 + offset[1]) * step, start.r + (i0 + offset[0]) * step)
        off = abs(centre.distance_to(start) - centre.distance_to(end))
        return (max(off / step, 1.0), abs(offset[0]) + abs(offset[1]))

    di, dk = min(product((0, 1, -1), repeat=2), key=gap)
    i, k = style.word("I", (i0 + di) * step, step), style.word("K", (k0 + dk) * step, step)
    return f"{_line(_code(arc), end, style)} {i} {k}"
