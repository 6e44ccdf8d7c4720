"""Close sizes of a print: which are measured before the finish, which bore is reamed, with what and how fast."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

from calc.contour import Chain
from calc.cutting.drilling import starting_feed
from calc.cutting.holes import drill_before_reaming, drill_below, ream_allowance, runs
from calc.cutting.materials import Material
from calc.cutting.operation import starting_speed
from calc.cutting.tools import habits
from calc.language.working import recording
from calc.machining.job import Cut

CLOSE = 0.05
"""mm on the diameter: a size that allows no more is measured before it is finished (common practice, no source)."""

REAMED = 20.0
"""mm: bores up to this diameter are reamed, larger ones bored (common practice, no source)."""

REAMER_MAKES = 0.03
"""mm on the diameter: a limit this narrow, or narrower, is worth a reamer (common practice, no source)."""

SAME = 1e-6


@dataclass(frozen=True, slots=True)
class Close:
    """A diameter with limits: the row of the print that gives it, on which contour, nominal and width (mm)."""

    row: int
    where: Literal["outside", "bore"]
    nominal: float
    width: float


class Reamed(NamedTuple):
    """A bore that is reamed: the diameter at the middle of its limits (mm), the limits."""

    diameter: float
    limits: Close


def reamed_bore(inside: Chain, close: tuple[Close, ...]) -> Reamed | None:
    """The bore that a reamer makes: one cylinder all through, small, with close limits; None where it is another.

    >>> from calc.contour import Line, Point
    >>> bore = Chain((Line(Point(0.0, 6.0), Point(-20.0, 6.0)),))
    >>> reamed_bore(bore, (Close(1, "outside", 24.0, 0.013), Close(1, "bore", 12.0, 0.018)))
    Reamed(diameter=12.0, limits=Close(row=1, where='bore', nominal=12.0, width=0.018))
    >>> reamed_bore(bore, ())
    """
    bounds = inside.bounds
    even, diameter = bounds.r_max - bounds.r_min < SAME, 2.0 * bounds.r_min
    limits = next((each for each in close if each.where == "bore" and each.width <= REAMER_MAKES), None)
    return Reamed(diameter, limits) if even and limits and diameter <= REAMED else None


def drill_for_reamer(work: Material, diameter: float) -> float:
    """The drill (mm) before a reamer of a diameter (mm): one that is made, with the usual allowance.

    >>> from calc.cutting.materials import material
    >>> drill_for_reamer(material("C45"), 12.0)
    11.7
    """
    with recording():
        return drill_below(drill_before_reaming(diameter, ream_allowance(work.group, diameter).usual))


def cut_on_axis(tool: str, work: Material, diameter: float) -> Cut:
    """Speed and feed of a `tool` on the axis of a diameter (mm): the shares of a drill's that a hole by itself takes.

    `tool` is "spot", "ream", "countersink" or "counterbore". Source: as the hole on the axis.

    >>> from calc.cutting.materials import material
    >>> cut_on_axis("ream", material("C45"), 12.0).surface_speed
    12000.0
    """
    how, speed = runs(tool), starting_speed(work, "drill", "HSS", None).speed
    feed = starting_feed.function(how.feed * habits(work.group).drill_feed.usual, diameter)
    return Cut(feed=feed, surface_speed=how.speed * speed)
