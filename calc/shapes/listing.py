"""What every contour feature lists in the same way: its points in order, and which way an arc turns."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from calc.answer.feature import KeyPoint
from calc.contour import Arc, Element
from calc.language.messages import Message


def key_points(elements: Iterable[Element], labels: Sequence[str]) -> tuple[KeyPoint, ...]:
    """The points of elements in a row to key in: one label for its start and one for the end of each element.

    >>> from calc.contour import Chain, Line, Point
    >>> face = Chain((Line(Point(0.0, 10.0), Point(0.0, 0.0)),))
    >>> [(point.label, point.move) for point in key_points(face, ("outside", "axis"))]
    [('outside', ''), ('axis', 'line')]
    """
    points = [KeyPoint(labels[0], next(iter(elements)).start)]
    for element, label in zip(elements, labels[1:], strict=True):
        if isinstance(element, Arc):
            points.append(KeyPoint(label, element.end, element.turn, element.radius, element.centre))
        else:
            points.append(KeyPoint(label, element.end, "line"))
    return tuple(points)


def both_ways(start: str, end: str, *, side: str = "left", arcs: bool = True) -> Message:
    """On which side the tool stands as listed, and what changes the other way; `side` is that of the direction listed.

    >>> both_ways("the edge", "the axis", arcs=False).say()[:77]
    'As listed, from the edge to the axis: tool on the left of travel, G41. In the'
    """
    comp, other, other_comp = ("G41", "right", "G42") if side == "left" else ("G42", "left", "G41")
    text = (
        "As listed, from {start} to {end}: tool on the {side} of travel, {comp}. In the other direction G2 and G3 "
        "swap, tool on the {other}, {comp_back}. All for +X up and +Z to the right, away from the chuck."
        if arcs
        else "As listed, from {start} to {end}: tool on the {side} of travel, {comp}. In the other direction tool on "
        "the {other}, {comp_back}. All for +X up and +Z to the right, away from the chuck."
    )
    values = {
        "start": start,
        "end": end,
        "side": side,
        "comp": comp,
        "other": other,
        "comp_back": other_comp,
    }
    return Message(text, values)
