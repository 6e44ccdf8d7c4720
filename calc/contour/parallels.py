"""The raw parallel of a run of elements: what a nose centre must keep to, before what does not fit is cut away."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from calc.contour.arc import Arc
from calc.contour.elements import Element
from calc.contour.errors import ArcVanishes
from calc.contour.line import signed_distance
from calc.contour.points import Point
from calc.contour.sides import Side
from calc.contour.tolerance import SMOOTH


class Parallel(NamedTuple):
    """One element of a raw parallel.

    ``of`` is the index of the element that it runs along; the arc around a convex joint bears that of the element that
    ends there, and ``around`` is the joint.
    """

    element: Element
    of: int
    around: Point | None = None


def parallels(elements: Sequence[Element], turns: Sequence[float], distance: float, side: Side) -> list[Parallel]:
    """Exact parallels of the elements and arcs around the convex joints, in order of travel, nothing trimmed.

    ``turns`` are the heading changes (rad) at the joints, one more than gaps between elements if the last one closes a
    loop. An arc of radius ``distance`` or less has no parallel toward its centre and leaves none: no point of the
    parallel of the whole can come from it. Raises `NotPositive` and `NotFinite` for the distance.

    >>> from calc.contour.line import Line
    >>> side, face = Line(Point(-9.0, 5.0), Point(0.0, 5.0)), Line(Point(0.0, 5.0), Point(0.0, 0.0))
    >>> around = parallels([side, face], [-math.pi / 2], 1.0, "left")[1]
    >>> around.element.start, around.element.end, around.around
    (Point(z=0.0, r=6.0), Point(z=1.0, r=5.0), Point(z=0.0, r=5.0))
    """
    found = []
    for index, element in enumerate(elements):
        found += _along(element, index, distance, side)
        if index < len(turns) and distance > 0.0:
            after = elements[(index + 1) % len(elements)]
            found += _around(element, after, turns[index], index, signed_distance(distance, side))
    return found


def _along(element: Element, index: int, distance: float, side: Side) -> list[Parallel]:
    try:
        return [Parallel(element.offset(distance, side), index)]
    except ArcVanishes:
        return []


def _around(before: Element, after: Element, turn: float, index: int, to_left: float) -> list[Parallel]:
    """The arc around a joint that turns away from the parallel; a reversal is convex on both sides."""
    reverses = abs(turn) >= math.pi - SMOOTH
    if abs(turn) <= SMOOTH or (turn * to_left > 0.0 and not reverses):
        return []
    joint = after.start
    start = joint.moved(before.tangent_at(before.length).left(), to_left)
    end = joint.moved(after.tangent_at(0.0).left(), to_left)
    return [Parallel(Arc(start, end, joint, "cw" if to_left > 0.0 else "ccw"), index, joint)]
