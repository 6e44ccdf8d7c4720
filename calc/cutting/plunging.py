"""Plunging an insert straight in, as parting and grooving do: chip, force, thrust, number of plunges, time.

The whole width of the insert cuts, and the chip is as thick as the feed; it is squeezed in its own groove, which the
factor of the operation stands for.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import ceil

from calc.contour import Line, Point
from calc.cutting.components import ratio_of_thrust, thrust
from calc.cutting.force import Chip, CutForce, cutting_power, force_of, removal_rate
from calc.cutting.materials import Material
from calc.cutting.speed import limit_diameter
from calc.cutting.time import CuttingTime, Leg, total_time
from calc.cutting.tools import habits, operations
from calc.language.messages import Message, Quantity, Value
from calc.language.quantities import FEED, Count, Feed, Length, Ratio, SpindleSpeed, Time
from calc.language.working import formula

w_p: Length = 3.0  # up to here an insert's starting feed grows with its width [mm]; common practice, from memory
q: Ratio = 0.62  # its exponent above, as for drills
_LEVELS_OFF = "common practice, from memory: in proportion up to 3 mm, levelling off above"

STEP = 0.8  # of the insert's width from plunge to plunge; common practice, no source


@formula(source=_LEVELS_OFF, means="feed to start with", result="f", symbols={"w_p": "w_p", "q": "q"})
def plunge_feed(c: Ratio, w: Length) -> Feed:
    """Feed [mm/rev] to start an insert of width `w` [mm] with: the share `c` of it, above 3 mm levelling off.

    Source: common practice, from memory.

    >>> [round(plunge_feed(0.04, w), 2) for w in (2.0, 3.0, 6.0, 10.0)]
    [0.08, 0.12, 0.18, 0.25]
    """
    return c * w if w <= w_p else c * w_p * (w / w_p) ** q


@formula(source="plunges side by side, each overlapping the last", means="plunges", result="N")
def plunges(B: Length, w: Length, s: Ratio) -> Count:
    """Plunges for a groove `B` [mm] wide with an insert `w` [mm] wide, stepping by `s` of its width. Source: geometry.

    >>> plunges(3.0, 3.0, 0.8), plunges(8.0, 3.0, 0.8)
    (1, 4)
    """
    return ceil((B - w) / (s * w)) + 1


@formula(source="definition of spindle speed", means="dwell at the bottom", result="t_d")
def dwell_time(N: Count, u: Count, n: SpindleSpeed) -> Time:
    """Time [min] for `u` turns at the bottom of each of `N` plunges at `n` [1/min]. Source: definition.

    >>> dwell_time(2, 3, 600.0)
    0.01
    """
    return N * u / n


@dataclass(frozen=True, slots=True)
class Plunge:
    """A plunge from one diameter to another [mm]: insert width [mm], feed [mm/rev], surface speed [mm/min].

    From `slow_from` on toward the axis the feed is `slow_feed`; both None or both given.
    """

    start: float
    end: float
    width: float
    feed: float
    speed: float
    slow_from: float | None = None
    slow_feed: float | None = None


@dataclass(frozen=True, slots=True)
class PlungeLoad:
    """What a plunge takes: force [N] and its range, thrust [N], power [N mm/min], removal rate [mm3/min]."""

    force: CutForce
    thrust: float
    power: float
    removal: float


def load_of_plunge(cut: Plunge, work: Material, operation: str) -> PlungeLoad:
    """The force of a plunge, corrected for the operation ("part", "groove"), with its thrust and power.

    Source: Kienzle formula; factor of the operation as `data/operations.toml` states it.

    >>> from calc.cutting.materials import material
    >>> found = load_of_plunge(Plunge(60.0, 0.0, 3.0, 0.12, 126_000.0), material("C45"), "part")
    >>> round(found.force.force, 1) == round(1.3 * 2220 * 0.12**-0.14 * 3.0 * 0.12, 1)
    True
    """
    force = force_of(Chip(cut.feed, cut.width), work, operations()[operation].force_factor)
    return PlungeLoad(
        force=force,
        thrust=thrust(ratio_of_thrust(work.group).usual, force.force),
        power=cutting_power(force.force, cut.speed),
        removal=removal_rate.at("", a="w")(cut.speed, cut.feed, cut.width),
    )


def time_of_plunge(cut: Plunge, max_rpm: float | None) -> CuttingTime:
    """The time [min] of a plunge at constant surface speed with a limit; `max_rpm` None is no limit.

    Source: closed-form integral, as for facing.

    >>> round(60 * time_of_plunge(Plunge(100.0, 0.0, 3.0, 0.2, 200_000.0), 3000.0).total, 6)
    12.311489
    """
    bounds = [cut.start, cut.end]
    if cut.slow_from is not None and min(bounds) < cut.slow_from < max(bounds):
        bounds.insert(1, cut.slow_from)
    legs = []
    for outer, inner in pairwise(bounds):
        slow = cut.slow_from is not None and max(outer, inner) <= cut.slow_from
        feed = cut.slow_feed if slow and cut.slow_feed is not None else cut.feed
        path = Line(Point(0.0, outer / 2), Point(0.0, inner / 2))
        legs.append(Leg(path, abs(outer - inner) / 2, feed))
    return total_time(legs, cut.speed, max_rpm)


def settle_feed(given: float | None, width: float, work: Material) -> tuple[float, tuple[Message, ...]]:
    """The `given` feed [mm/rev], or the usual one for the insert's width [mm], with the note that says so.

    >>> from calc.cutting.materials import material
    >>> round(settle_feed(None, 3.0, material("C45"))[0], 3)
    0.12
    """
    if given is not None:
        return given, ()
    usual = habits(work.group).plunge_feed
    values: dict[str, Value] = {
        "low": Quantity(plunge_feed.function(usual.low, width), FEED),
        "high": Quantity(plunge_feed.function(usual.high, width), FEED),
        "source": usual.source,
    }
    said = Message("Feed to start with from the range {low} to {high} for this width ({source}).", values)
    return plunge_feed(usual.usual, width), (said,)


def limit_takes_over(cut: Plunge, max_rpm: float | None) -> float | None:
    """The diameter [mm] at which the spindle limit takes over, None without one.

    >>> round(limit_takes_over(Plunge(60.0, 0.0, 3.0, 0.1, 220_000.0), 2000.0), 4)
    35.0141
    """
    return None if max_rpm is None else limit_diameter(cut.speed, max_rpm)
