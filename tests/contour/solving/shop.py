"""Random contours as shops turn them, from the end to the chuck, and prints that leave some of their values out."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, field, replace

from calc.contour import Arc, Chain, Element, Line, Point
from calc.contour.solving import GivenElement
from tests.contour.solving.made import Print, print_of
from tests.contour.strategies import next_arc, next_line

TO_CHUCK, OUT, IN = math.pi, math.pi / 2.0, -math.pi / 2.0
RADII = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0)
CONES = (5.0, 7.5, 10.0, 15.0, 20.0, 30.0, 45.0, 60.0)
"""Radii (mm) and half angles (deg) that prints have (common practice, no source)."""


@dataclass
class _Turning:
    """A contour as it grows: ``heading`` is where a smooth element would go on."""

    chance: random.Random
    elements: list[Element] = field(default_factory=list)
    tangent: list[bool] = field(default_factory=list)
    here: Point = field(default_factory=lambda: Point(0.0, 0.0))
    heading: float = OUT

    def line(self, heading: float, length: float) -> None:
        smooth = bool(self.elements) and abs(math.remainder(heading - self.heading, math.tau)) < 1e-9
        if smooth and isinstance(self.elements[-1], Line):
            return
        self._add(next_line(self.here, heading, length), smooth)

    def arc(self, heading: float, radius: float, sweep: float) -> None:
        smooth = bool(self.elements) and abs(math.remainder(heading - self.heading, math.tau)) < 1e-9
        self._add(next_arc(self.here, heading, radius, sweep), smooth)

    def _add(self, element: Element, smooth: bool) -> None:
        self.elements.append(element)
        self.tangent.append(smooth)
        self.here, self.heading = element.end, element.end_heading

    def size(self, least: float, most: float) -> float:
        return round(self.chance.uniform(least, most) * 2.0) / 2.0

    def radius(self) -> float:
        return self.chance.choice(RADII)

    def lean(self) -> float:
        return math.radians(self.chance.choice(CONES))


def _cylinder(turning: _Turning) -> None:
    turning.line(TO_CHUCK, turning.size(4.0, 40.0))


def _shoulder(turning: _Turning) -> None:
    turning.line(OUT, turning.size(2.0, 12.0))
    turning.line(TO_CHUCK, turning.size(4.0, 30.0))


def _cone(turning: _Turning) -> None:
    turning.line(TO_CHUCK - turning.lean(), turning.size(6.0, 30.0))
    turning.line(TO_CHUCK, turning.size(4.0, 30.0))


def _fillet_to_cone(turning: _Turning) -> None:
    lean = turning.lean()
    turning.line(TO_CHUCK, turning.size(5.0, 20.0))
    turning.arc(TO_CHUCK, turning.radius(), -lean)
    turning.line(TO_CHUCK - lean, turning.size(4.0, 20.0))


def _fillet_to_shoulder(turning: _Turning) -> None:
    turning.line(TO_CHUCK, turning.size(5.0, 20.0))
    turning.arc(TO_CHUCK, turning.radius(), OUT - TO_CHUCK)
    turning.line(OUT, turning.size(2.0, 8.0))


def _edge_radius(turning: _Turning) -> None:
    turning.line(OUT, turning.size(2.0, 8.0))
    turning.arc(OUT, turning.radius(), TO_CHUCK - OUT)
    turning.line(TO_CHUCK, turning.size(5.0, 20.0))


def _neck(turning: _Turning) -> None:
    """Two arcs from one diameter smoothly to the next."""
    sweep = math.radians(turning.chance.choice((20.0, 30.0, 45.0, 60.0)))
    turning.line(TO_CHUCK, turning.size(5.0, 15.0))
    turning.arc(TO_CHUCK, turning.radius(), -sweep)
    turning.arc(TO_CHUCK - sweep, turning.radius(), sweep)
    turning.line(TO_CHUCK, turning.size(5.0, 15.0))


def _hollow(turning: _Turning) -> None:
    """A concave arc between two cylinders of one diameter."""
    turning.line(TO_CHUCK, turning.size(5.0, 15.0))
    half = math.radians(turning.chance.choice((20.0, 30.0, 40.0)))
    if turning.here.r > 8.0:
        turning.arc(TO_CHUCK + half, turning.chance.choice((4.0, 5.0, 6.0, 8.0)), -2.0 * half)
        turning.line(TO_CHUCK, turning.size(5.0, 15.0))


def _bulge(turning: _Turning) -> None:
    """A convex arc from one cylinder to a wider one."""
    turning.line(TO_CHUCK, turning.size(3.0, 10.0))
    turning.arc(OUT + math.radians(turning.chance.choice((10.0, 20.0, 30.0))), turning.radius(), math.radians(50.0))
    turning.line(TO_CHUCK, turning.size(5.0, 15.0))


def _end_face(turning: _Turning) -> None:
    turning.line(OUT, turning.size(5.0, 20.0))


def _ball_end(turning: _Turning) -> None:
    turning.arc(OUT, turning.chance.choice((8.0, 10.0, 12.0, 15.0)), math.radians(turning.chance.choice((50, 70, 90))))


ENDS: Sequence[Callable[[_Turning], None]] = (_end_face, _end_face, _end_face, _ball_end)
FORMS: Sequence[Callable[[_Turning], None]] = (
    _cylinder, _shoulder, _cone, _fillet_to_cone, _fillet_to_shoulder, _edge_radius, _neck, _hollow, _bulge,
)  # fmt: skip


def shop_print(seed: int, forms: int = 3) -> Print:
    """The print of an outside contour of an end and some forms, the same for the same seed."""
    chance = random.Random(seed)
    while True:
        turning = _Turning(chance)
        chance.choice(ENDS)(turning)
        for form in chance.choices(FORMS, k=forms):
            form(turning)
        if not Chain(tuple(turning.elements)).faults():
            return print_of(turning.elements, turning.tangent, chance, said_first=_rows_say(turning.elements))


def _rows_say(elements: Sequence[Element]) -> set[tuple[int, str]]:
    """What a face or a cylinder says by its name, and where the contour starts."""
    along_axis = (OUT, IN, TO_CHUCK)
    straight = [(i, e.start_heading) for i, e in enumerate(elements) if not isinstance(e, Arc)]
    found = {(i, "angle") for i, heading in straight if any(abs(heading - one) < 1e-9 for one in along_axis)}
    return found | {(-1, "z"), (-1, "r")}


def tangent_arcs(
    count: int, known: Collection[int] = (), line_every: int = 0
) -> tuple[tuple[Element, ...], list[GivenElement]]:
    """A wavy profile of smoothly joined arcs, every so many-th a line; a print of radii, turns, every Z and few X.

    The X are given that are at the end of the ``known`` elements, counted from 1; of none said, of the last.
    """
    here, heading, sweep = Point(0.0, 20.0), 0.75 * math.pi, -0.9
    made: list[Element] = []
    for i in range(count):
        if line_every and i % line_every == line_every - 1:
            made.append(next_line(here, heading, 3.0 + i % 4))
        else:
            made.append(next_arc(here, heading, 6.0 + i % 5, sweep))
            sweep = -sweep
        here, heading = made[-1].end, made[-1].end_heading
    return tuple(made), chain_print(made, known or (count,))


def chain_print(made: Sequence[Element], known: Collection[int]) -> list[GivenElement]:
    """A print of radii, turns, every Z, and the X at the end of the ``known`` elements, counted from 1."""
    given = []
    for number, one in enumerate(made, 1):
        row = GivenElement("line", z=one.end.z, r=one.end.r if number in known else None, tangent=number > 1)
        given.append(replace(row, kind="arc", radius=one.radius, turn=one.turn) if isinstance(one, Arc) else row)
    return given


def handle(seed: int, count: int, lines: float = 0.0) -> tuple[Element, ...]:
    """A random profile toward the chuck of smoothly joined arcs, with lines between them so often."""
    chance = random.Random(seed)
    least, most = math.radians(95.0), math.radians(265.0)
    here, heading, side = Point(0.0, chance.uniform(15.0, 40.0)), math.radians(chance.uniform(120.0, 240.0)), 1.0
    made: list[Element] = []
    while len(made) < count:
        room = most - heading if side > 0.0 else heading - least
        if made and isinstance(made[-1], Arc) and chance.random() < lines:
            made.append(next_line(here, heading, chance.uniform(2.0, 15.0)))
        elif room > 0.15:
            made.append(next_arc(here, heading, chance.choice(RADII[4:]), side * chance.uniform(0.12, min(room, 1.6))))
            side = side if chance.random() < 0.15 else -side
        else:
            side = -side
            continue
        here, heading = made[-1].end, made[-1].end_heading % math.tau
    below = min(one.bounds().r_min for one in made)
    return tuple(made) if below > 1.0 else handle(seed + 100_003, count, lines)
