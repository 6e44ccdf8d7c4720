"""A contour as plain words of ISO 6983: G0 G1 G2 G3, X and Z, R or I and K. It is no program to run."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from calc.answer.feature import KeyPoint
from calc.contour import Arc, Element, Line
from calc.machining.words import CLOSES, Style, Writer, comment


def words_of(runs: Iterable[Sequence[Element]], style: Style) -> tuple[str, ...]:
    """The lines of words of contiguous runs of elements; each run is gone to with G0.

    >>> from calc.contour import Point
    >>> edge = Arc(Point(0.0, 9.2), Point(-0.8, 10.0), Point(-0.8, 9.2), "ccw")
    >>> words_of([(Line(Point(0.0, 0.0), edge.start), edge)], Style())
    ('G0 X0.0 Z0.0', 'G1 X18.4 Z0.0', 'G3 X20.0 Z-0.8 R0.8')
    """
    writer = Writer(style)
    return tuple(line for run in runs for element in run for line in writer.along(element))


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
    within = f"{CLOSES / 10.0**style.places:.{style.places}f}"
    arcs = "r" if style.arcs == "radius" else "i and k"
    return (
        comment("a contour, not a program to run: no tool, speed, feed or nose compensation"),
        comment(f"{style.says()}, +x away from the axis"),
        comment(f"g2 clockwise with +x up and +z to the right, arcs by {arcs}, within {within}"),
    )
