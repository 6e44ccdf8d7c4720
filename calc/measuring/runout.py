"""What a runout means: the axis of the work stands off that of the spindle, and which further reading shows why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from math import hypot
from typing import Literal

from calc.language.quantities import Length
from calc.language.working import formula

Surface = Literal["", "turned", "before", "apart"]
Cause = Literal["spindle", "tilted", "off_centre", "in_two_clampings", "one_reading", "not_said"]


@formula(means="axis off by", source="ISO 1101, circular runout of a round surface: twice its eccentricity", result="e")
def eccentricity(t: Length) -> Length:
    """By how much (mm) the axis of a round surface stands off the one it turns about, from its runout t (mm).

    Source: ISO 1101, circular runout.

    >>> eccentricity(0.04)
    0.02
    """
    return t / 2


@dataclass(frozen=True, slots=True)
class Runout:
    """A runout that was read: at z, full reading and half width of its spread (mm), what kind of surface it is.

    `turned`: in this clamping, still in the chuck; `before`: there before, in the chuck; `apart`: out of the chuck,
    against another diameter; "" where that is not said.
    """

    z: float | None
    full: float
    spread: float
    surface: Surface


def cause_of(one: Runout, every: Sequence[Runout]) -> Cause:
    """Why a surface runs out, as far as these readings of the part show.

    What was turned in this clamping runs true by itself: the spindle, or work that moved. A surface that was there
    before stands off by the same all along where the jaws are off, by more with the distance where the work is tilted
    or bent; that takes two readings apart. Source: common practice.

    >>> near, far = Runout(-10.0, 0.04, 0.002, "before"), Runout(-60.0, 0.01, 0.002, "before")
    >>> cause_of(near, [near]), cause_of(near, [near, far])
    ('one_reading', 'tilted')
    """
    if one.surface == "turned":
        return "spindle"
    if one.surface == "apart":
        return "in_two_clampings"
    if not one.surface:
        return "not_said"
    there = [each for each in every if each.surface == "before" and each.z is not None]
    pairs = [(a, b) for a, b in combinations(there, 2) if a.z != b.z]
    if not pairs:
        return "one_reading"
    differ = any(abs(a.full - b.full) > hypot(a.spread, b.spread) for a, b in pairs)
    return "tilted" if differ else "off_centre"


def is_seen(one: Runout) -> bool:
    """Whether a runout is more than its spread (mm).

    >>> is_seen(Runout(None, 0.001, 0.002, "before"))
    False
    """
    return one.full > one.spread
