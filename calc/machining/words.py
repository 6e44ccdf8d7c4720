"""Lines and arcs as plain words of ISO 6983: the one writer of passes, contours and whole parts.

Words are always in ISO signs: +X away from the axis, +Z away from the chuck; G2 turns clockwise seen with +X up and +Z
to the right. I and K lead from an arc's start to its centre; I is a radius also where X is a diameter. What comes out
is a list of points with moves, not a program: no tool, no coolant, no safety.

Rounding. Each point is rounded by itself, so nothing adds up along the path. An arc is then written so that it fits the
rounded points and stays within `CLOSES` last digits of the true arc. With R it is split where a single R could not (R
alone means the arc below half a turn, and near half a turn its centre moves far for a little rounding). With I and K
the centre is one near the true one: of those from which both rounded ends are equally far to one last digit, the one
whose arc is nearest to the true one. Each of 30,000 random arcs had such a centre, at most 1.4 last digits from the
true arc.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product
from typing import Literal

import numpy as np

from calc.contour import Arc, Element, Point
from calc.language.quantities import FEED, LENGTH, METRIC, View

CLOSES = 2
"""Digits of the last place by which a written arc may miss the true one, and its two radii may differ."""

MOST_SPLITS = 6
NEARLY_HALF_A_TURN = 0.95 * math.pi
SPOTS = tuple(share / 8 for share in range(9))
"""Shares of an arc's length at which the written one is held against it."""

BESIDE = np.array([complex(along, out) for out, along in product((0, 1, -1, 2, -2), repeat=2)])
"""Steps along Z and X, in last digits, to the centres that are tried beside the rounded one."""

Arcs = Literal["radius", "centre"]


def plain(text: str) -> str:
    """A decimal without idle zeros, with a point and a digit behind it.

    >>> [plain(text) for text in ("59.000", "-0.250", "0.200", "7", "-0.0")]
    ['59.0', '-0.25', '0.2', '7.0', '0.0']
    """
    whole, _, rest = text.partition(".")
    shown = f"{whole}.{rest.rstrip('0') or '0'}"
    return "0.0" if shown == "-0.0" else shown


def comment(text: str) -> str:
    """A text as a comment, in small letters.

    >>> comment("Face 1 (inward)")
    '(face 1 inward)'
    """
    return f"({text.replace('(', '').replace(')', '').lower()})"


def feed_digits(feed: float, view: View) -> str:
    """A feed per revolution (mm) as digits of a word for a reader with `view`.

    >>> feed_digits(0.2, View()), feed_digits(0.2, View("inch"))
    ('0.2', '0.0079')
    """
    return plain(f"{FEED.unit(view).shown(feed):.{FEED.unit(view).decimals}f}")


@dataclass(frozen=True)
class Style:
    """How words are written: units and what X means come from the view; arcs with R or with I and K.

    `decimals` of a length, None for those that the view's units are shown with.
    """

    view: View = METRIC
    arcs: Arcs = "radius"
    decimals: int | None = None

    @cached_property
    def places(self) -> int:
        """Decimals of a length."""
        return LENGTH.unit(self.view).decimals if self.decimals is None else self.decimals

    @cached_property
    def step(self) -> float:
        """The last digit, mm."""
        return LENGTH.unit(self.view).internal(10.0**-self.places)

    @cached_property
    def step_r(self) -> float:
        """The last digit of an X as a radius, mm."""
        return self.step / (2.0 if self.view.x == "diameter" else 1.0)

    def rounded(self, point: Point) -> Point:
        """The point that is written for this one."""
        return Point(round(point.z / self.step) * self.step, round(point.r / self.step_r) * self.step_r)

    def word(self, letter: str, value: float, step: float) -> str:
        """One word: the letter and `value` (mm) in last digits of `step` (mm).

        >>> Style().word("Z", -4.5, 0.001), Style(decimals=4).word("X", -1e-9, 0.0001)
        ('Z-4.5', 'X0.0')
        """
        return letter + plain(f"{round(value / step) / 10.0**self.places:.{self.places}f}")

    def place(self, point: Point) -> str:
        """The words of a point.

        >>> Style().place(Point(-12.0, 29.5))
        'X59.0 Z-12.0'
        """
        return f"{self.word('X', point.r, self.step_r)} {self.word('Z', point.z, self.step)}"

    def says(self) -> str:
        """Units, what X and I are, and the signs, for a comment."""
        units = "g20, inch" if self.view.units == "inch" else "g21, mm"
        centre = ", i as radius" if self.arcs == "centre" else ""
        return f"{units}, x as {self.view.x}{centre}, +z away from the chuck"


class Writer:
    """Writes one element after the other; `worst` is how badly an arc has closed at most, mm."""

    def __init__(self, style: Style) -> None:
        self.style = style
        self.worst = 0.0
        self._stands: tuple[Point, Point] | None = None  # where the tool is, and where the words say that it is
        self._feed: float | None = None

    def lead_to(self, point: Point) -> Iterator[str]:
        """A rapid move to a point, unless the tool stands there.

        >>> writer = Writer(Style())
        >>> [*writer.lead_to(Point(0.0, 10.0)), *writer.lead_to(Point(0.0, 10.0))]
        ['G0 X20.0 Z0.0']
        """
        if self._stands is None or self._stands[0].distance_to(point) > self.style.step:
            self._stands = point, self.style.rounded(point)
            yield f"G0 {self.style.place(point)}"

    def along(self, element: Element, feed: float | None = None, *, rapid: bool = False) -> Iterator[str]:
        """The words of one element; `feed` (mm/rev) is written where it changes.

        >>> edge = Arc(Point(0.0, 9.2), Point(-0.8, 10.0), Point(-0.8, 9.2), "ccw")
        >>> list(Writer(Style()).along(edge, 0.12)), list(Writer(Style(arcs="centre")).along(edge))[-1]
        (['G0 X18.4 Z0.0', 'G3 X20.0 Z-0.8 R0.8 F0.12'], 'G3 X20.0 Z-0.8 I0.0 K-0.8')
        """
        yield from self.lead_to(element.start)
        start = self._stands[1] if self._stands else element.start
        end = self.style.rounded(element.end)
        if start == end and element.length < math.pi * self.style.step:
            return  # too short to be written: the next one goes on from here
        self._stands = element.end, end
        code = "G0" if rapid else "G1"
        moves = self._arc(element, start) if isinstance(element, Arc) else [f"{code} {self.style.place(end)}"]
        for line in moves:
            yield line + self._changed(None if rapid else feed)

    def _changed(self, feed: float | None) -> str:
        if feed is None or feed == self._feed:
            return ""
        self._feed = feed
        return f" F{feed_digits(feed, self.style.view)}"

    def _arc(self, arc: Arc, start: Point) -> Iterator[str]:
        if self.style.arcs == "centre":
            yield self._by_centre(arc, start)
        else:
            yield from _by_radius(arc, start, self.style, MOST_SPLITS)

    def _by_centre(self, arc: Arc, start: Point) -> str:
        style, end = self.style, self.style.rounded(arc.end)
        centre = _written_centre(arc, start, end, style.step)
        self.worst = max(self.worst, _gap(start, end, centre))
        offset = start.to(centre)
        i, k = style.word("I", offset.r, style.step), style.word("K", offset.z, style.step)
        return f"{_code(arc)} {style.place(end)} {i} {k}"


def _code(arc: Arc) -> str:
    return "G2" if arc.turn == "cw" else "G3"


def _gap(start: Point, end: Point, centre: Point) -> float:
    """By how much the radii to start and end differ, mm."""
    return abs(centre.distance_to(start) - centre.distance_to(end))


def _written_centre(arc: Arc, start: Point, end: Point, step: float) -> Point:
    """Of the centres whole last digits from the start that are near the true one, the one that fits best."""
    k, i = (round(offset / step) for offset in start.to(arc.centre))
    centres = complex(*start) + (complex(k, i) + BESIDE) * step
    spots = np.array([complex(*arc.point_at(arc.length * share)) for share in SPOTS])
    radii = np.abs(centres - complex(*start))
    gaps = np.maximum(np.abs(np.abs(centres - complex(*end)) - radii) / step, 1.0)
    misses = np.abs(np.abs(centres[:, None] - spots) - radii[:, None]).max(axis=1)
    best = np.lexsort([np.where(gaps > CLOSES, 0.0, misses), gaps])[0]
    return Point(float(centres[best].real), float(centres[best].imag))


def _misses(spots: list[Point], centre: Point, radius: float) -> float:
    """By how much (mm) places of an arc are off a circle, at most."""
    return max(abs(centre.distance_to(spot) - radius) for spot in spots)


def _by_radius(arc: Arc, start: Point, style: Style, splits: int) -> Iterator[str]:
    end = style.rounded(arc.end)
    chord = start.distance_to(end)
    radius = max(round(arc.radius / style.step), math.ceil(chord / 2.0 / style.step - 1e-9)) * style.step
    if splits and (arc.angle > NEARLY_HALF_A_TURN or _off_by_radius(arc, start, end, radius) > CLOSES * style.step):
        before, after = _halves(arc)
        yield from _by_radius(before, start, style, splits - 1)
        yield from _by_radius(after, style.rounded(before.end), style, splits - 1)
    elif start != end:
        yield f"{_code(arc)} {style.place(end)} {style.word('R', radius, style.step)}"


def _halves(arc: Arc) -> tuple[Arc, Arc]:
    middle = arc.point_at(arc.length / 2.0)
    return replace(arc, end=middle), replace(arc, start=middle)


def _off_by_radius(arc: Arc, start: Point, end: Point, radius: float) -> float:
    """By how much (mm) the minor arc of `radius` from `start` to `end` leaves the true one between its ends."""
    half = start.distance_to(end) / 2.0
    if half == 0.0:
        return 0.0
    height = math.sqrt(max(radius * radius - half * half, 0.0))
    side = 1.0 if arc.turn == "ccw" else -1.0  # the centre of a ccw arc lies to the left of its chord
    toward = start.to(end)
    across = (-toward.r / (2 * half) * side, toward.z / (2 * half) * side)
    middle = Point((start.z + end.z) / 2.0, (start.r + end.r) / 2.0)
    centre = Point(middle.z + across[0] * height, middle.r + across[1] * height)
    return _misses([arc.point_at(arc.length * part) for part in (0.25, 0.5, 0.75)], centre, radius)
