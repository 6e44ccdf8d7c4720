"""Passes as plain words of ISO 6983: each under its name, rapid moves and feeds as they are planned."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from calc.contour import Vector
from calc.language.quantities import View
from calc.machining.job import ToolPass
from calc.machining.words import Style, Writer, comment


class PassWords:
    """Writes passes for a reader; `step` leads from the nose centre to the tool point."""

    def __init__(self, view: View, step: Vector) -> None:
        self.writer = Writer(Style(view, arcs="centre"))
        self.to_point = step

    def lines(self, passes: Iterable[ToolPass]) -> Iterator[str]:
        """The whole text line by line, with a heading that says what it is."""
        yield comment("passes over a contour, not a program to run: no speed, tool, coolant or safe moves")
        yield comment(f"tool point. {self.writer.style.says()}, feed per revolution")
        yield from self.moves(passes)

    def moves(self, passes: Iterable[ToolPass]) -> Iterator[str]:
        """The passes alone, each under its name."""
        for each in passes:
            yield comment(each.name)
            for move in each.moves:
                for element in move.elements:
                    at_point = element.shifted(self.to_point.z, self.to_point.r)
                    yield from self.writer.along(at_point, move.feed, rapid=move.kind == "rapid")


def written(passes: Sequence[ToolPass], step: Vector, view: View) -> tuple[str, float]:
    """The text of the passes, and how badly its worst arc closes, mm; `step` leads from nose centre to tool point.

    >>> from calc.contour import Line, Point
    >>> from calc.machining.job import Move
    >>> cut = ToolPass("finish", (Move((Line(Point(2.0, 10.0), Point(-5.0, 10.0)),), 0.2),))
    >>> print(written([cut], Vector(0.0, 0.0), View())[0].split(")")[-1].strip())
    G0 X20.0 Z2.0
    G1 X20.0 Z-5.0 F0.2
    """
    words = PassWords(view, step)
    text = "\n".join(words.lines(passes))
    return text, words.writer.worst
