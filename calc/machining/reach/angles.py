"""Edges against slopes: how many degrees stand between the insert's edges and the contour, ahead of and behind it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from calc.contour import Chain, Element, Point, Side, heading_change
from calc.machining.reach.tool import Hold, Tool

USUAL_MARGIN = math.radians(2.0)
"""Common practice, no source: keep 2 to 3 degrees between edge and wall."""

GENEROUS_MARGIN = math.radians(3.0)
ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Margins:
    """Angles (rad) between edge and contour where they are least on an element, and the points where that is.

    `ahead` is also the entering angle there: between the direction of travel and the edge that leads.
    """

    ahead: float
    ahead_at: Point
    behind: float
    behind_at: Point


def margins_at(tool: Tool, heading: float, side: Side) -> tuple[float, float]:
    """Angles (rad) ahead of and behind the nose where the contour runs at `heading`; below 0 the edge cuts the wall.

    A round insert has no edges: half a turn on each side.

    >>> from calc.tool.insert.tables import shapes
    >>> from calc.machining.reach.tool import make_tool
    >>> tool = make_tool(shapes()["C"], 12.7, 0.8, Hold(math.radians(95.0)), None)
    >>> [round(math.degrees(angle), 2) for angle in margins_at(tool, math.radians(-90.0 - 19.95), "left")]
    [114.95, -14.95]
    """
    if tool.low is None or tool.angle is None:
        return math.pi, math.pi
    turned = tool.low - heading if side == "left" else heading - tool.low - tool.angle
    ahead = math.remainder(turned, math.tau)
    if ahead < -math.pi / 2 - tool.angle / 2:
        ahead += math.tau
    return ahead, math.pi - tool.angle - ahead


def element_margins(tool: Tool, element: Element, side: Side) -> Margins:
    """The least margins on an element: they change steadily along it, so its ends decide."""
    ends = [(margins_at(tool, element.heading_at(s), side), element.point_at(s)) for s in (0.0, element.length)]
    ahead = min(ends, key=lambda end: end[0][0])
    behind = min(ends, key=lambda end: end[0][1])
    return Margins(ahead[0][0], ahead[1], behind[0][1], behind[1])


@dataclass(frozen=True, slots=True)
class Opening:
    """The directions (rad) free of the contour at every point of it: from `low` counter-clockwise to `high`."""

    low: float
    high: float

    @property
    def width(self) -> float:
        """The angle between them; an insert that passes has a smaller one."""
        return self.high - self.low

    def admits(self, hold: Hold, angle: float, margin: float = USUAL_MARGIN) -> bool:
        """Whether an insert of included `angle` (rad) in this hold keeps `margin` from the contour everywhere.

        >>> opening = Opening(math.radians(-90.0), math.radians(70.05))
        >>> opening.admits(Hold(math.radians(95.0)), math.radians(80.0))
        False
        >>> opening.admits(Hold(math.radians(93.0), "end"), math.radians(55.0))
        True
        """
        spare = self.width - angle - 2 * margin
        off_middle = math.remainder(hold.low(angle) - self.low - margin - spare / 2, math.tau)
        return spare >= -ROUNDING and abs(off_middle) <= spare / 2 + ROUNDING


def opening_of(cut: Chain, side: Side) -> Opening:
    """The free directions along a whole contour.

    >>> from calc.contour import Line
    >>> groove = Chain((Line(Point(0.0, 9.0), Point(-2.0, 5.0)), Line(Point(-2.0, 5.0), Point(-6.0, 5.0))))
    >>> round(math.degrees(opening_of(groove, "left").width), 2)
    116.57
    """
    headings = list(_headings(cut))
    if side == "left":
        return Opening(max(headings), min(headings) + math.pi)
    return Opening(max(headings) - math.pi, min(headings))


def _headings(cut: Chain) -> Iterator[float]:
    """Headings at the ends of every element, followed around without a jump."""
    heading = cut.elements[0].start_heading
    for index, element in enumerate(cut):
        if index:
            heading += heading_change(cut.elements[index - 1], element)
        yield heading
        heading += element.sweep
        yield heading
