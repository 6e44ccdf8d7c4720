"""What a batch takes: time and price from set-up, parts, edges and bars, and the batch at which two ways are equal."""

from __future__ import annotations

from calc.language.kinds import Cost, CostRate
from calc.language.quantities import Count, Time
from calc.language.working import formula

SUM = "sum of its shares"


@formula(source=SUM, means="time of the batch", result="t_B")
def batch_time(t_s: Time, N: Count, t_1: Time, k: Count, t_e: Time) -> Time:
    """Time [min] for set-up `t_s`, `N` parts of `t_1` and `k` changes of an edge of `t_e` [min] each. Source: sum.

    >>> batch_time(60.0, 100, 2.0, 4, 1.5)
    266.0
    """
    return t_s + N * t_1 + k * t_e


@formula(source=SUM, means="price of the batch", result="P_B")
def batch_price(t_B: Time, c_m: CostRate, z: Count, c_e: Cost, b: Count, c_b: Cost) -> Cost:
    """Price of a batch that takes `t_B` [min] at `c_m` for a minute, `z` edges of `c_e` and `b` bars of `c_b` each.

    Source: sum.

    >>> batch_price(266.0, 0.5, 5, 4.0, 3, 20.0)
    213.0
    """
    return t_B * c_m + z * c_e + b * c_b


@formula(source="definition", means="price of a part", result="P_1")
def price_of_a_part(P_B: Cost, N: Count) -> Cost:
    """Price of each of `N` parts of a batch that costs `P_B`. Source: definition.

    >>> price_of_a_part(213.0, 100)
    2.13
    """
    return P_B / N


@formula(source="definition", means="time of a part with its share of all else", result="t_P")
def time_of_a_part(t_B: Time, N: Count) -> Time:
    """Time [min] of each of `N` parts of a batch that takes `t_B` [min]. Source: definition.

    >>> time_of_a_part(266.0, 100)
    2.66
    """
    return t_B / N


@formula(source="two straight lines meet", means="batch at which both cost the same", result="N_e")
def equal_batch(P_1: Cost, P_2: Cost, p_1: Cost, p_2: Cost) -> Count:
    """Batch at which two ways cost the same: `P_1` and `P_2` once for a batch, `p_1` and `p_2` for each part.

    Source: crossing of two straight lines.

    >>> equal_batch(10.0, 110.0, 3.0, 1.0)
    50.0
    """
    return (P_2 - P_1) / (p_1 - p_2)
