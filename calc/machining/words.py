"""Passes as plain words of ISO 6983: rounded to a control's decimals so that every arc still closes.

ISO signs (+Z away from the chuck), I and K from an arc's start, I a radius also where X is a diameter. What comes out
is a list of points with moves, not a program: no speeds, no tool, no coolant, no safety.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import product

from calc.contour import Arc, Element, Point, Vector
from calc.language.quantities import FEED, LENGTH, View
from calc.machining.job import Move, ToolPass

CLOSES = {"mm": 0.002, "inch": 0.0001 * 25.4}
"""mm: how far an arc's rounded end may be from its rounded radius. Controls usually allow more (common practice)."""


class Words:
    """Writes words for a reader's units and meaning of X; `worst` is how badly an arc closes at most, mm."""

    def __init__(self, view: View, step: Vector) -> None:
        self.view = view
        self.to_point = step
        self.decimals = LENGTH.unit(view).decimals
        self.step = LENGTH.unit(view).internal(10.0**-self.decimals)
        self.worst = 0.0
        self._here: tuple[float, float] | None = None
        self._feed: float | None = None

    def lines(self, passes: Iterable[ToolPass]) -> Iterator[str]:
        """The whole text line by line, with a heading that says what it is."""
        units = "G21, mm" if self.view.units == "mm" else "G20, inch"
        x = "diameter" if self.view.x == "diameter" else "radius"
        yield "(PASSES OVER A CONTOUR, NOT A PROGRAM TO RUN: NO SPEED, TOOL, COOLANT OR SAFE MOVES)"
        yield f"(TOOL POINT. {units}, X AS {x.upper()}, I AS RADIUS, +Z AWAY FROM THE CHUCK, FEED PER REVOLUTION)"
        yield from self.moves(passes)

    def moves(self, passes: Iterable[ToolPass]) -> Iterator[str]:
        """The passes alone, each under its name."""
        for each in passes:
            yield f"({''.join(c for c in each.name.upper() if c.isalnum() or c == ' ')})"
            for move in each.moves:
                for element in move.elements:
                    yield from self._element(element.shifted(self.to_point.z, self.to_point.r), move)

    def _element(self, element: Element, move: Move) -> Iterator[str]:
        start, end = self._rounded(element.start), self._rounded(element.end)
        if self._here is None:
            yield f"G0 {self._place(start)}"
        self._here = end
        if start == end:
            return
        if isinstance(element, Arc):
            yield self._arc(element, start, end) + self._fed(move.feed)
        elif move.kind == "rapid":
            yield f"G0 {self._place(end)}"
        else:
            yield f"G1 {self._place(end)}" + self._fed(move.feed)

    def _fed(self, feed: float | None) -> str:
        if feed is None or feed == self._feed:
            return ""
        self._feed = feed
        return f" F{FEED.unit(self.view).text(feed)}"

    def _arc(self, arc: Arc, start: tuple[float, float], end: tuple[float, float]) -> str:
        """The arc with the rounded centre that closes best: of the nearest one and its neighbours."""
        i, k = (self._grid(value) for value in (arc.centre.r - start[1], arc.centre.z - start[0]))
        near = [(i + a * self.step, k + b * self.step) for a, b in product((0, -1, 1), repeat=2)]
        best = min(near, key=lambda ik: round(_gap(start, end, *ik) / self.step, 3))
        self.worst = max(self.worst, _gap(start, end, *best))
        turn = "G2" if arc.turn == "cw" else "G3"
        return f"{turn} {self._place(end)} I{self._number(best[0])} K{self._number(best[1])}"

    def _rounded(self, point: Point) -> tuple[float, float]:
        """A point (z, r) as it stands in the words, mm."""
        per_side = 2.0 if self.view.x == "diameter" else 1.0
        return self._grid(point.z), self._grid(point.r * per_side) / per_side

    def _grid(self, value: float) -> float:
        return round(value / self.step) * self.step

    def _place(self, point: tuple[float, float]) -> str:
        x = point[1] * (2.0 if self.view.x == "diameter" else 1.0)
        return f"X{self._number(x)} Z{self._number(point[0])}"

    def _number(self, value: float) -> str:
        """Digits with a point, as every control reads them; never "-0."."""
        text = f"{LENGTH.unit(self.view).shown(value):.{self.decimals}f}".rstrip("0")
        return "0." if text in ("-0.", "0.") else text


def _gap(start: tuple[float, float], end: tuple[float, float], i: float, k: float) -> float:
    """By how much the radii to start and end differ, mm."""
    return abs(math.hypot(i, k) - math.hypot(end[1] - start[1] - i, end[0] - start[0] - k))


def written(passes: Sequence[ToolPass], step: Vector, view: View) -> tuple[str, float]:
    """The text of the passes, and how badly its worst arc closes, mm; `step` leads from nose centre to tool point.

    >>> from calc.contour import Line
    >>> cut = ToolPass("finish", (Move((Line(Point(2.0, 10.0), Point(-5.0, 10.0)),), 0.2),))
    >>> print(written([cut], Vector(0.0, 0.0), View())[0].split(")")[-1].strip())
    G0 X20. Z2.
    G1 X20. Z-5. F0.200
    """
    words = Words(view, step)
    text = "\n".join(words.lines(passes))
    return text, words.worst
