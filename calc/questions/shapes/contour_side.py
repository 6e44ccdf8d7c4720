"""A contour seen from the tool's side: what it asks of an insert, and its sketch with material on the other side."""

from __future__ import annotations

import math

from calc.answer.drawing import Drawing
from calc.contour import Arc, Chain, Element, Line, Point

ON_AXIS = 1e-9  # mm: a contour that begins within this of the axis begins on it
LEAST_DRAWN = 1e-3  # mm


def smallest_concave_radius(chain: Chain, side: str) -> float | None:
    """The smallest radius (mm) of the arcs whose centre is on the tool's side of travel; None without one.

    >>> hollow = Chain((Arc(Point(0.0, 10.0), Point(-10.0, 20.0), Point(0.0, 20.0), "cw"),))
    >>> smallest_concave_radius(hollow, "right"), smallest_concave_radius(hollow, "left")
    (10.0, None)
    """
    turn = "cw" if side == "right" else "ccw"
    return min((element.radius for element in chain if isinstance(element, Arc) and element.turn == turn), default=None)


def steepest_fall(chain: Chain, side: str) -> float | None:
    """The steepest angle (rad, from the axis) at which the contour falls away from the tool on its way to the chuck.

    Outside it falls toward the axis, in a bore away from it. None where it never falls; a face straight down counts as
    90 degrees, a wall that hangs over as more.

    >>> cone = Chain((Line(Point(0.0, 10.0), Point(-10.0, 0.0)),))
    >>> math.degrees(steepest_fall(cone, "right")), steepest_fall(cone, "left")
    (45.0, None)
    """
    inward = chain if _goes_to_the_chuck(chain) else chain.reversed()
    down = 1.0 if is_bored(chain, side) else -1.0
    falls = [fall for element in inward for s in (0.0, element.length) if (fall := _fall(element, s, down)) > 0.0]
    return max(falls, default=None)


def _fall(element: Element, s: float, down: float) -> float:
    ahead = element.tangent_at(s)
    return math.atan2(ahead.r * down, -ahead.z) if ahead.r * down > 1e-9 else 0.0


def can_be_drawn(chain: Chain) -> bool:
    """Whether there is material to show: not of a contour that stays on the axis or beyond it."""
    return chain.bounds.r_max > LEAST_DRAWN


def drawing(chain: Chain, side: str, bar: float | None) -> Drawing:
    """The sketch of a contour with material on the side away from the tool, in a bar of this radius (mm)."""
    ends = [chain.start, *(element.end for element in chain)]
    inside = is_bored(chain, side)
    around = chain.bounds.r_max if bar is None else max(bar, chain.bounds.r_max)
    return Drawing(
        title="The contour",
        description="Half section with the axis across the page, the chuck at the left.",
        part=_bored(chain, bar) if inside else _turned(chain),
        bar_radius=bar if inside else around,
        spots=tuple((f"P{number}", point) for number, point in enumerate(ends, 1)),
    )


def is_bored(chain: Chain, side: str) -> bool:
    """Whether the tool stands between the contour and the axis: on the left of travel toward the chuck.

    >>> outside = Chain((Line(Point(0.0, 10.0), Point(-5.0, 10.0)),))
    >>> is_bored(outside, "right"), is_bored(outside, "left"), is_bored(outside.reversed(), "right")
    (False, True, True)
    """
    return (side == "right") != _goes_to_the_chuck(chain)


def _goes_to_the_chuck(chain: Chain) -> bool:
    step = chain.start.to(chain.end)
    return step.z < 0.0 or (step.z == 0.0 and step.r > 0.0)


def _turned(chain: Chain) -> Chain:
    """The end of the part for the sketch, from outside to the axis: a contour that begins beside it gets its face."""
    inward = chain.reversed() if _goes_to_the_chuck(chain) else chain
    end = inward.end
    return Chain((*inward, Line(end, Point(end.z, 0.0)))) if end.r > ON_AXIS else inward


def _bored(chain: Chain, bar: float | None) -> Chain:
    """The mouth of a bore for the sketch, from outside the bar into the hole."""
    inward = chain if _goes_to_the_chuck(chain) else chain.reversed()
    start = inward.start
    return Chain((Line(Point(start.z, bar), start), *inward)) if bar and bar > start.r else inward
