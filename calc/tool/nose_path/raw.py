"""The raw way of the nose centre: the parallel of each element, the swings round convex joints."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc.contour import Arc, ArcVanishes, Chain, Element, Point, Side, meet

SMOOTH = 1e-9
"""rad: below this two elements join smoothly, and their parallels do."""

SHALLOW = 0.05
"""rad: concave joints that turn by less are trimmed by themselves, where distances could hardly tell."""


@dataclass(frozen=True, slots=True)
class Raw:
    """One piece of the raw way: along element `of`, or round the joint `around` at the end of that element."""

    element: Element
    of: int
    around: Point | None = None


def raw_way(chain: Chain, nose: float, side: Side) -> list[Raw]:
    """The raw way of a nose centre (radius `nose`, mm) on the `side` of travel, in order, not trimmed.

    Arcs too small for the nose leave none. Source: parallels of lines and circles.

    >>> from calc.contour import Line
    >>> corner = Chain((Line(Point(-9.0, 5.0), Point(0.0, 5.0)), Line(Point(0.0, 5.0), Point(0.0, 0.0))))
    >>> [raw.of for raw in raw_way(corner, 1.0, "left")]
    [0, 0, 1]
    """
    elements = chain.elements
    found: list[Raw] = []
    for index, element in enumerate(elements):
        along = _along(element, nose, side)
        if along is not None:
            piece = Raw(along, index)
            found = [*_joined(found, piece, chain, index, nose)] if found else [piece]
        if index < len(chain.joints):
            after = elements[(index + 1) % len(elements)]
            found += _around(element, after, chain.joints[index].turn, index, nose if side == "left" else -nose)
    return found


def _along(element: Element, nose: float, side: Side) -> Element | None:
    try:
        return element.offset(nose, side)
    except ArcVanishes:
        return None


def _around(before: Element, after: Element, turn: float, index: int, to_left: float) -> list[Raw]:
    """The swing round a joint that turns away from the nose; a reversal is convex on both sides."""
    reverses = abs(turn) >= math.pi - SMOOTH
    if abs(turn) <= SMOOTH or (turn * to_left > 0.0 and not reverses):
        return []
    joint = after.start
    start = joint.moved(before.tangent_at(before.length).left(), to_left)
    end = joint.moved(after.tangent_at(0.0).left(), to_left)
    if start == end:
        return []
    return [Raw(Arc(start, end, joint, "cw" if to_left > 0.0 else "ccw"), index, joint)]


def _joined(found: list[Raw], piece: Raw, chain: Chain, index: int, nose: float) -> Sequence[Raw]:
    """The pieces with the new one, the two trimmed where they cross right beside a shallow concave joint."""
    last = found[-1]
    turn = abs(chain.joints[index - 1].turn)
    if last.of != index - 1 or last.around is not None or not SMOOTH < turn < SHALLOW:
        return [*found, piece]
    before, after = last.element, piece.element
    middle = before.end.midway_to(after.start)
    corner = min(meet(before.carrier, after.carrier), key=middle.distance_to, default=None)
    if corner is None or corner.distance_to(middle) > nose * turn:
        return [*found, piece]
    end, start = before.locate(corner), after.locate(corner)
    if not (before.tolerance < end <= before.length and 0.0 <= start < after.length - after.tolerance):
        return [*found, piece]
    trimmed = replace(last, element=before.with_ends(before.start, corner))
    return [*found[:-1], trimmed, replace(piece, element=after.with_ends(corner, after.end))]
