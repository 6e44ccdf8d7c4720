"""A deep hole in pecks: as many and as deep as add up to its depth, with what the retracts between them take."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from calc.language.quantities import Count, Feed, Length, Ratio, SpindleSpeed, SurfaceSpeed, Time
from calc.language.working import formula

_SLIP: Ratio = 1e-9  # a depth that is a whole number of pecks may miss it by rounding
_EQUAL = "the same depth each, not above the one wanted"


@formula(source=_EQUAL, means="pecks after the first", result="N_p")
def following_pecks(t: Length, p_1: Length, p: Length) -> Count:
    """Pecks that follow the first of `p_1` down to `t` [mm] when none is deeper than `p` [mm]. Source: definition.

    >>> following_pecks(60.0, 30.0, 12.0), following_pecks(54.0, 30.0, 12.0)
    (3, 2)
    """
    return ceil((t - p_1) / p - _SLIP)


@formula(source=_EQUAL, means="depth of each of them", result="p_n")
def equal_peck(t: Length, p_1: Length, N_p: Count) -> Length:
    """Depth [mm] of each of `N_p` pecks that follow the first of `p_1` down to `t` [mm]. Source: definition.

    >>> equal_peck(60.0, 30.0, 3)
    10.0
    """
    return (t - p_1) / N_p


@formula(source="definition of speed", means="out and back at the rapid rate", result="t_r")
def retract_time(l: Length, v_r: SurfaceSpeed) -> Time:  # noqa: E741 - the symbol of a length
    """Time [min] for the length `l` [mm] of all retracts and returns at the rapid rate `v_r` [mm/min].

    Source: definition of speed.

    >>> retract_time(400.0, 8000.0)
    0.05
    """
    return l / v_r


@formula(source="definition of feed per revolution", means="fed again before each bottom", result="t_g")
def gap_time(N_p: Count, g: Length, f: Feed, n: SpindleSpeed) -> Time:
    """Time [min] to feed through the gap `g` [mm] above the bottom after each of `N_p` returns, feed `f` [mm/rev].

    Source: definition of feed; `n` [1/min].

    >>> gap_time(3, 1.0, 0.2, 750.0)
    0.02
    """
    return N_p * g / (f * n)


@dataclass(frozen=True, slots=True)
class Peck:
    """One peck [mm]: from the bottom so far to the next, and the depth back to which the drill is withdrawn."""

    start: float
    end: float
    back_to: float

    @property
    def deep(self) -> float:
        """How deep it goes in one feed."""
        return self.end - self.start


def pecks(depth: float, first: float, following: float) -> tuple[float, ...]:
    """The depths [mm] of the pecks: one of the `first`, then equal ones not deeper than `following`.

    They add up to `depth` [mm] to the last digit. A `first` not below the depth is the only one.

    >>> pecks(60.0, 30.0, 12.0), pecks(20.0, 30.0, 12.0)
    ((30.0, 40.0, 50.0, 60.0), (20.0,))
    """
    if first >= depth:
        return (depth,)
    count = round(following_pecks(depth, first, following))
    each = equal_peck(depth, first, count)
    return (*(first + number * each for number in range(count)), depth)


def pecks_with_retracts(ends: Sequence[float], back_by: float | None) -> tuple[Peck, ...]:
    """The pecks that end at the depths `ends` [mm]: out of the hole after each, or back by `back_by` [mm].

    >>> [peck.back_to for peck in pecks_with_retracts((30.0, 40.0), None)]
    [0.0, 0.0]
    >>> [peck.back_to for peck in pecks_with_retracts((30.0, 40.0), 1.0)]
    [29.0, 0.0]
    """
    starts = (0.0, *ends[:-1])
    last = len(ends) - 1
    return tuple(
        Peck(start, end, 0.0 if back_by is None or index == last else max(end - back_by, 0.0))
        for index, (start, end) in enumerate(zip(starts, ends, strict=True))
    )


def rapid_length(drilled: Sequence[Peck], gap: float, above: float) -> float:
    """The length [mm] of all retracts and returns of a drill, out of the hole to `above` [mm] in front of it.

    It comes back to `gap` [mm] above the last bottom; the last retract has no return.

    >>> rapid_length(pecks_with_retracts((30.0, 40.0), None), 1.0, 2.0)
    105.0
    """
    total = 0.0
    for index, peck in enumerate(drilled):
        out = peck.end - peck.back_to + (above if peck.back_to == 0.0 else 0.0)
        total += out
        if index < len(drilled) - 1:
            total += max(out - gap, 0.0)
    return total
