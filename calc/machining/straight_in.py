"""Tools that go straight in: drills along the axis and blades square to a surface, their outlines and their moves."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from calc.contour import Line, Point, Vector
from calc.cutting.drilling import point_length
from calc.machining.job import Kind, Move, Where, Why
from calc.machining.passes import not_too_many
from calc.machining.reach.tool import SHANK_LENGTH
from calc.machining.removal.sweep import Outline

SHARP = 1e-3
"""mm: what rounds the corners of a drill in its outline; its diameter is not changed by it."""

PECK_CLEAR = 0.5
"""mm: after a peck the drill comes back to so far above the bottom (common practice, no source)."""

ACROSS: dict[Where, Vector] = {"outside": Vector(1.0, 0.0), "bore": Vector(1.0, 0.0), "face": Vector(0.0, 1.0)}
"""Along the width of a blade, from its reference corner to the other."""

INTO: dict[Where, Vector] = {"outside": Vector(0.0, -1.0), "bore": Vector(0.0, 1.0), "face": Vector(-1.0, 0.0)}
"""The direction in which a blade is fed in."""


def drill_outline(diameter: float, point_angle: float) -> Outline:
    """The outline of a drill of a diameter (mm) with a point angle (rad), about its tip; a reamer's point is flat.

    >>> outline = drill_outline(10.0, math.radians(118.0))
    >>> round(float(outline.rim.imag.max()), 9)
    5.0
    """
    with_point = point_angle < math.pi - 1e-9
    height = point_length.function(diameter, point_angle) if with_point else 0.0
    inset = SHARP * (1.0 / math.sin(point_angle / 2.0) if with_point else 1.0)
    r, back = diameter / 2.0 - SHARP, height + SHANK_LENGTH + diameter
    shoulder = inset + (r / math.tan(point_angle / 2.0) if with_point else 0.0)
    tip = (Point(inset, 0.0),) if with_point else ()
    return Outline((*tip, Point(shoulder, -r), Point(back, -r), Point(back, r), Point(shoulder, r)), SHARP)


def blade_outline(
    width: float, corner: float, where: Where, height: float = SHANK_LENGTH, lead: float = 0.0
) -> Outline:
    """The outline of a blade (mm) about the centre of the corner toward the chuck, on a face of that toward the axis.

    `height` (mm) is how far its body goes back from the edge, `lead` (mm) how far its other corner leads.

    >>> rim = blade_outline(3.0, 0.2, "outside").rim
    >>> round(float(rim.real.min()), 9), round(float(rim.real.max()), 9)
    (-0.2, 2.8)
    """
    across, back = ACROSS[where].times(width - 2.0 * corner), INTO[where].times(-height)
    here = Point(0.0, 0.0)
    ahead = here.moved(across).moved(INTO[where].times(lead))
    corners = (here, ahead, here.moved(across).moved(back), here.moved(back))
    return Outline(corners if across.cross(back) > 0.0 else corners[::-1], corner)


@dataclass(frozen=True, slots=True)
class Leg:
    """A straight move to a place (mm) with its feed (mm/rev, None at a rapid move)."""

    end: Point
    feed: float | None
    kind: Kind = "feed"
    why: Why = "cut"


def moves_of(start: Point, legs: Sequence[Leg]) -> tuple[Move, ...]:
    """The legs as moves, each from where the one before ends; those of no length are left out.

    >>> [move.length for move in moves_of(Point(2.0, 0.0), [Leg(Point(-3.0, 0.0), 0.1), Leg(Point(-3.0, 0.0), 0.1)])]
    [5.0]
    """
    places = [start, *(leg.end for leg in legs)]
    return tuple(
        Move((Line(a, b),), leg.feed, leg.kind, leg.why)
        for (a, b), leg in zip(pairwise(places), legs, strict=True)
        if a.distance_to(b) > 0.0
    )


def pecks(top: float, bottom: float, step: float | None, feed: float) -> Iterator[Leg]:
    """From above a hole down to its bottom (z of the tip, mm), drawn out between pecks of `step` (mm); then out.

    Raises `OutOfRange` at `pass_depth` for more pecks than passes are planned.

    >>> [leg.end.z for leg in pecks(2.0, -8.0, 6.0, 0.2)]
    [-4.0, 2.0, -3.5, -8.0, 2.0]
    """
    count = 1 if step is None else max(1, math.ceil((top - bottom) / step * (1.0 - 1e-12)))
    not_too_many(count)
    depths = [top - step * number for number in range(1, count)] if step is not None else []
    for end in depths:
        yield Leg(Point(end, 0.0), feed)
        yield Leg(Point(top, 0.0), None, "rapid", "retract")
        yield Leg(Point(min(end + PECK_CLEAR, top), 0.0), None, "rapid", "approach")
    yield Leg(Point(bottom, 0.0), feed)
    yield Leg(Point(top, 0.0), None, "rapid", "return")
