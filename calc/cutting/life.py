"""How long an edge lasts at a surface speed, and the speeds that cost least and give most parts (Taylor, Gilbert)."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, inf, log

from calc.cutting.speed import spindle_speed
from calc.cutting.time import time_at_limit
from calc.language.kinds import Cost, CostRate
from calc.language.quantities import Count, Diameter, Feed, Length, Ratio, SurfaceSpeed, Time
from calc.language.working import formula

TAYLOR = "Taylor's tool life equation, as in handbooks of machining"
ECONOMY = "economics of machining (Gilbert), as in 'Fundamentals of Modern Manufacturing', machining economics"
T_0: Time = 1.0  # the life that the surface speed C belongs to [min]
ROUNDING: Ratio = 1e-9  # parts: a life of exactly three parts is not two because of rounding


@formula(source=TAYLOR, means="life of an edge", result="T", symbols={"n_T": "n", "T_0": "T_0"})
def edge_life(C: SurfaceSpeed, v: SurfaceSpeed, n_T: Ratio) -> Time:
    """Life [min] of an edge at `v` [mm/min], where `C` [mm/min] gives one minute and `n_T` is Taylor's exponent.

    Source: Taylor's tool life equation, v T**n = C.

    >>> round(edge_life(70_000.0, 50_000.0, 0.125), 3)
    14.758
    """
    return T_0 * (C / v) ** (1 / n_T)  # type: ignore[no-any-return]  # a broken power may be complex to a checker


@formula(
    source="an edge is changed after whole parts; a part that outlasts it takes several edges",
    means="parts for one edge",
    result="N",
    symbols={"ROUNDING": "ε"},
)
def parts_of_an_edge(T: Time, t_m: Time) -> Ratio:
    """Parts that one edge makes which lasts `T` [min], each `t_m` [min] in cut. Source: definition.

    >>> parts_of_an_edge(15.0, 2.0), parts_of_an_edge(1.0, 2.0)
    (7, 0.5)
    """
    return floor(T / t_m * (1 + ROUNDING)) if t_m <= T else T / t_m


@formula(source=TAYLOR, means="surface speed for a life", result="v", symbols={"n_T": "n", "T_0": "T_0"})
def speed_for_life(C: SurfaceSpeed, T: Time, n_T: Ratio) -> SurfaceSpeed:
    """Surface speed [mm/min] at which an edge lasts `T` [min]. Source: Taylor's tool life equation.

    >>> round(speed_for_life(70_000.0, 56.0, 0.125))
    42323
    """
    return C * (T / T_0) ** -n_T  # type: ignore[no-any-return]  # a broken power may be complex to a checker


@formula(source=TAYLOR, means="surface speed for one minute", result="C", symbols={"n_T": "n", "T_0": "T_0"})
def one_minute_speed(v: SurfaceSpeed, T: Time, n_T: Ratio) -> SurfaceSpeed:
    """Taylor's `C` [mm/min] from one known life `T` [min] at `v` [mm/min]. Source: Taylor's tool life equation.

    >>> round(one_minute_speed(50_000.0, 14.758, 0.125))
    70000
    """
    return v * (T / T_0) ** n_T  # type: ignore[no-any-return]  # a broken power may be complex to a checker


@formula(source=TAYLOR, means="exponent from two lives", result="n")
def exponent_of_lives(v_1: SurfaceSpeed, T_1: Time, v_2: SurfaceSpeed, T_2: Time) -> Ratio:
    """Taylor's exponent from an edge's lives `T_1`, `T_2` [min] at two surface speeds `v_1`, `v_2` [mm/min].

    Source: Taylor's tool life equation at both.

    >>> round(exponent_of_lives(50_000.0, 14.758, 42_000.0, 59.537), 3)
    0.125
    """
    return log(v_1 / v_2) / log(T_2 / T_1)


@formula(source=TAYLOR, means="time in cut over the life, at C", result="q_K", symbols={"T_0": "T_0"})
def time_over_life(K: Count, t_m: Time) -> Ratio:
    """How many one-minute lives `K` parts of `t_m` [min] in cut take at the speed for one minute. Source: definition.

    >>> time_over_life(3.0, 9.0)
    27.0
    """
    return K * t_m / T_0


@formula(source=TAYLOR, means="surface speed for so many parts", result="v_K", symbols={"n_T": "n"})
def speed_for_parts(C: SurfaceSpeed, q_K: Ratio, n_T: Ratio) -> SurfaceSpeed:
    """Surface speed [mm/min] at which one edge lasts for just the parts that take `q_K` lives at `C` [mm/min].

    Source: Taylor's tool life equation with the life equal to the time in cut, which falls with the speed.

    >>> from math import pi
    >>> q = time_over_life(3.0, pi * 100 * 500 / (70_000.0 * 0.25))
    >>> v = speed_for_parts(70_000.0, q, 0.125)
    >>> round(v), round((70_000.0 / v) ** 8 / (pi * 100 * 500 / (v * 0.25)), 6)
    (43730, 3.0)
    """
    return C * q_K ** (-n_T / (1 - n_T))  # type: ignore[no-any-return]  # a broken power may be complex to a checker


@formula(source=ECONOMY, means="life for the lowest cost", result="T_cost", symbols={"n_T": "n"})
def life_for_lowest_cost(n_T: Ratio, t_t: Time, c_e: Cost, c_m: CostRate) -> Time:
    """Life [min] of an edge at which a part costs least.

    `t_t` [min] is the time to change an edge, `c_e` the cost of one, `c_m` [per min] that of machine and operator.
    Source: economics of machining.

    >>> life_for_lowest_cost(0.125, 2.0, 3.0, 0.5)
    56.0
    """
    return (1 / n_T - 1) * (t_t + c_e / c_m)


@formula(source=ECONOMY, means="life for most parts", result="T_most", symbols={"n_T": "n"})
def life_for_most_parts(n_T: Ratio, t_t: Time) -> Time:
    """Life [min] of an edge at which most parts are made in a shift. Source: economics of machining.

    >>> life_for_most_parts(0.125, 2.0)
    14.0
    """
    return (1 / n_T - 1) * t_t


@formula(source=ECONOMY, means="time for a part", result="t_part")
def time_per_part(t_h: Time, t_m: Time, t_t: Time, N: Ratio) -> Time:
    """Time [min] for a part: handling, in cut, and its share of an edge change after `N` parts. Source: as above.

    >>> round(time_per_part(5.0, 12.566, 2.0, 1.0), 3)
    19.566
    """
    return t_h + t_m + t_t / N


@formula(source=ECONOMY, means="cost of a part", result="c_part")
def cost_per_part(c_m: CostRate, t_part: Time, c_e: Cost, N: Ratio) -> Cost:
    """Cost of a part: machine time and its share of an edge that lasts `N` parts. Source: as above.

    >>> round(cost_per_part(0.5, 19.566, 3.0, 1.0), 3)
    12.783
    """
    return c_m * t_part + c_e / N


@dataclass(frozen=True, slots=True)
class Taylor:
    """Taylor's line: the surface speed [mm/min] for one minute of life, and the exponent."""

    speed: float
    exponent: float


@dataclass(frozen=True, slots=True)
class Turned:
    """One part's cut along a cylinder: diameter, length [mm], feed [mm/rev]."""

    diameter: Diameter
    length: Length
    feed: Feed

    def time(self, v: SurfaceSpeed) -> float:
        """Time in cut [min] at `v` [mm/min]; noted as two steps."""
        return time_at_limit.at("in cut", n_max="n", result="t_m")(
            self.length, self.feed, spindle_speed(v, self.diameter)
        )


@dataclass(frozen=True, slots=True)
class Economy:
    """What a part takes beside the cut: handling and edge change [min], cost of machine [per min] and of an edge."""

    handling: float
    change: float
    rate: float | None = None
    edge: float | None = None


@dataclass(frozen=True, slots=True)
class PerPart:
    """What one surface speed comes to: life, time in cut, parts for one edge, time and cost of a part."""

    speed: float
    life: float
    in_cut: float
    parts_per_edge: float
    time: float
    cost: float | None


def per_part(v: float, taylor: Taylor, cut: Turned, economy: Economy, *, whole: bool = True) -> PerPart:
    """What `v` [mm/min] comes to. An edge is changed after `whole` parts only, unless it lasts less than one.

    Source: Taylor's equation and the economics of machining.

    >>> found = per_part(42_000.0, Taylor(70_000.0, 0.125), Turned(100.0, 500.0, 0.25), Economy(5.0, 2.0, 0.5, 3.0))
    >>> found.parts_per_edge, round(found.time, 3), round(found.cost, 3)
    (3.0, 20.627, 11.313)
    """
    life, in_cut = edge_life(taylor.speed, v, taylor.exponent), cut.time(v)
    parts = float(parts_of_an_edge.function(life, in_cut)) if whole else life / in_cut
    time = time_per_part(economy.handling, in_cut, economy.change, parts)
    cost = None
    if economy.rate is not None and economy.edge is not None:
        cost = cost_per_part(economy.rate, time, economy.edge, parts)
    return PerPart(v, life, in_cut, parts, time, cost)


def edges_for(batch: float, parts_per_edge: float) -> int:
    """How many edges a batch takes.

    >>> edges_for(100, 3.0), edges_for(10, 0.5)
    (34, 20)
    """
    return ceil(batch / parts_per_edge * (1 - ROUNDING)) if parts_per_edge > 0.0 else int(inf)
