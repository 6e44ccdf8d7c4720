"""Spindle speed of threading, and the room that the feed drive needs to come into step with the spindle and to stop.

While a thread is cut the feed follows the spindle, so the speed is the same in every pass and never follows the surface
speed. A drive that follows with a first-order lag T runs v T behind; while it picks up, the lead is short by the share
exp(-t/T).
"""

from __future__ import annotations

from fractions import Fraction
from math import log
from typing import Annotated

from calc.language.factor import INCH, ONE
from calc.language.kinds import SECONDS
from calc.language.quantities import Count, Kind, Length, Ratio, SpindleSpeed, Time
from calc.language.unit import Unit
from calc.language.working import formula

FEED_RATE = Kind(
    "feed rate",
    "surface speed",
    Unit("mm/min", "mm/min", ONE, 0),
    Unit("in/min", "in/min", INCH, 1),
)
FeedRate = Annotated[float, FEED_RATE]
Lag = Annotated[float, SECONDS]

USUAL_LAG = float(Fraction(1, 30) / 60)  # min: T = 1/30 s, the time constant in handbooks of numerical control
USUAL_ERROR = 0.01  # share of the lead that the first full turn may be short; common practice, no source
_LAG = "first-order lag of the feed drive; handbooks of numerical control with T = 1/30 s"


@formula(source="one lead each turn", means="feed rate", result="v_f")
def feed_rate(P_h: Length, n: SpindleSpeed) -> FeedRate:
    """Feed rate [mm/min] of a lead `P_h` [mm] at `n` [1/min]. Source: definition.

    >>> feed_rate(2.0, 800.0)
    1600.0
    """
    return P_h * n


@formula(source="one lead each turn", means="spindle speed that the feed drive allows", result="n_f")
def speed_of_feed(v_max: FeedRate, P_h: Length) -> SpindleSpeed:
    """Spindle speed [1/min] at which a lead `P_h` [mm] takes the feed rate `v_max` [mm/min]. Source: definition.

    >>> speed_of_feed(8000.0, 10.0)
    800.0
    """
    return v_max / P_h


@formula(source=_LAG, means="run-up until the lead is true", result="l_1")
def run_up(v_f: FeedRate, T: Lag, e: Ratio) -> Length:
    """Travel [mm] from rest at the feed rate `v_f` [mm/min] until the lead is short by no more than the share `e`.

    `T` is the drive's time constant [min]. Source: first-order lag, v T (ln(1/e) - 1).

    >>> round(run_up(2000.0, 1 / 1800, 0.01), 3)
    4.006
    """
    return v_f * T * (log(1 / e) - 1)


@formula(source=_LAG, means="run-out until the feed stands", result="l_2")
def run_out(v_f: FeedRate, T: Lag) -> Length:
    """Travel [mm] by which the feed runs on from the rate `v_f` [mm/min] with the time constant `T` [min].

    Source: first-order lag, v T.

    >>> round(run_out(2000.0, 1 / 1800), 3)
    1.111
    """
    return v_f * T


@formula(source=_LAG, means="highest speed that stops in the room given", result="n_r")
def speed_to_stop(l: Length, T: Lag, P_h: Length) -> SpindleSpeed:  # noqa: E741 (the symbol of a length)
    """Spindle speed [1/min] at which the feed of the lead `P_h` [mm] stops within `l` [mm], time constant `T` [min].

    Source: first-order lag.

    >>> round(speed_to_stop(1.0, 1 / 1800, 2.0))
    900
    """
    return l / (T * P_h)


@formula(source="every pass the same travel in step with the spindle", means="time in cut", result="t_c")
def time_in_cut(z: Count, l_p: Length, v_f: FeedRate) -> Time:
    """Time [min] of `z` passes, each `l_p` [mm] long with run-up and run-out, at the feed rate `v_f` [mm/min].

    Source: definition.

    >>> time_in_cut(8.0, 40.0, 1600.0)
    0.2
    """
    return z * l_p / v_f


@formula(source="back to the start after each pass", means="time of the returns", result="t_r")
def time_of_returns(z: Count, l_p: Length, v_r: FeedRate) -> Time:
    """Time [min] of `z` returns over `l_p` [mm] at the rapid rate `v_r` [mm/min], without ramps. Source: definition.

    >>> time_of_returns(8.0, 40.0, 8000.0)
    0.04
    """
    return z * l_p / v_r
