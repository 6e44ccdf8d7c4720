"""Taylor's line and the economics of machining, against textbook examples and a numeric search."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from calc.cutting.life import (
    Economy,
    Taylor,
    Turned,
    edge_life,
    edges_for,
    life_for_lowest_cost,
    life_for_most_parts,
    one_minute_speed,
    per_part,
    speed_for_life,
)

# 'Fundamentals of Modern Manufacturing', machining economics, from memory: n 0.125, C 70 m/min, 500 long, 100 across,
# f 0.25, handling 5 and change 2 min, 30 an hour, 3 an edge. The book rounds 50.33 and 42.32 m/min to 50 and 42.
BOOK = Taylor(70_000.0, 0.125)
CUT = Turned(100.0, 500.0, 0.25)
ECONOMY = Economy(5.0, 2.0, 0.5, 3.0)


@pytest.mark.parametrize(
    ("exponent", "speed_by", "life_by"),
    [(0.25, 0.5, 16.0), (0.5, 0.5, 4.0), (0.5, 0.25, 16.0), (0.4, 0.8, 1.746928), (0.4, 1.3, 0.518969)],
)
def test_a_change_of_speed_changes_the_life_as_textbooks_have_it(
    exponent: float, speed_by: float, life_by: float
) -> None:
    """'Manufacturing Engineering and Technology', ch. 21, questions on Taylor's equation, computed at 30 digits."""
    before, after = edge_life(400_000.0, 100_000.0, exponent), edge_life(400_000.0, 100_000.0 * speed_by, exponent)
    assert after / before == pytest.approx(life_by, rel=1e-6)


def test_both_best_speeds_are_those_of_the_textbook_example() -> None:
    lowest = speed_for_life(BOOK.speed, life_for_lowest_cost(BOOK.exponent, 2.0, 3.0, 0.5), BOOK.exponent)
    most = speed_for_life(BOOK.speed, life_for_most_parts(BOOK.exponent, 2.0), BOOK.exponent)
    assert lowest == pytest.approx(42_322.8, abs=0.05)
    assert most == pytest.approx(50_330.6, abs=0.05)


@pytest.mark.parametrize(
    ("v", "life", "in_cut", "parts", "time", "cost"),
    [(50_000.0, 14.758, 12.566, 1.0, 19.566, 12.783), (42_000.0, 59.537, 14.960, 3.0, 20.627, 11.313)],
)
def test_a_part_takes_and_costs_what_the_textbook_example_says(
    v: float, life: float, in_cut: float, parts: float, time: float, cost: float
) -> None:
    found = per_part(v, BOOK, CUT, ECONOMY)
    assert found.life == pytest.approx(life, abs=5e-4)
    assert found.in_cut == pytest.approx(in_cut, abs=5e-4)
    assert found.parts_per_edge == parts
    assert found.time == pytest.approx(time, abs=5e-4)
    assert found.cost == pytest.approx(cost, abs=5e-4)


def test_the_hss_problem_of_the_textbook_comes_out() -> None:
    """'Fundamentals of Modern Manufacturing', problem: n 0.13, C 80, change 3 min, 3.33 an edge, 0.667 a minute."""
    life = life_for_lowest_cost(0.13, 3.0, 3.33, 0.667)
    assert life == pytest.approx(53.488, abs=2e-3)
    assert speed_for_life(80_000.0, life, 0.13) == pytest.approx(47_689, abs=1.0)


@given(
    st.floats(0.08, 0.6),
    st.floats(0.2, 10.0),
    st.floats(0.5, 20.0),
    st.floats(0.1, 3.0),
    st.floats(20_000.0, 900_000.0),
)
def test_the_best_speeds_are_the_minima_of_time_and_cost(
    exponent: float, change: float, edge: float, rate: float, speed: float
) -> None:
    taylor, economy = Taylor(speed, exponent), Economy(1.0, change, rate, edge)

    def lowest(of: str) -> float:
        def at(share: float) -> float:
            found = per_part(share * speed, taylor, CUT, economy, whole=False)
            return found.time if of == "time" else found.cost or 0.0

        return float(minimize_scalar(at, bounds=(0.05, 3.0), method="bounded", options={"xatol": 1e-9}).x) * speed

    for of, life in (
        ("time", life_for_most_parts(exponent, change)),
        ("cost", life_for_lowest_cost(exponent, change, edge, rate)),
    ):
        best = speed_for_life(speed, life, exponent)
        if 0.06 * speed < best < 2.9 * speed:
            assert lowest(of) == pytest.approx(best, rel=1e-3)


@given(st.floats(20_000.0, 900_000.0), st.floats(0.05, 0.9), st.floats(0.5, 200.0))
def test_life_and_speed_are_each_others_inverse(speed: float, exponent: float, life: float) -> None:
    v = speed_for_life(speed, life, exponent)
    assert edge_life(speed, v, exponent) == pytest.approx(life)
    assert one_minute_speed(v, life, exponent) == pytest.approx(speed)


def test_an_edge_that_lasts_less_than_a_part_is_counted_in_fractions() -> None:
    found = per_part(70_000.0, BOOK, CUT, ECONOMY)
    assert found.parts_per_edge == pytest.approx(1.0 / found.in_cut)
    assert found.parts_per_edge < 1.0


def test_three_parts_exactly_are_three_and_not_two() -> None:
    in_cut = CUT.time(50_000.0)
    speed = one_minute_speed(50_000.0, 3 * in_cut, 0.25)
    assert per_part(50_000.0, Taylor(speed, 0.25), CUT, ECONOMY).parts_per_edge == 3.0


@pytest.mark.parametrize(("batch", "parts", "edges"), [(100, 3.0, 34), (99, 3.0, 33), (1, 50.0, 1), (10, 0.5, 20)])
def test_edges_for_a_batch_are_rounded_up(batch: float, parts: float, edges: int) -> None:
    assert edges_for(batch, parts) == edges


def test_without_costs_there_is_a_time_and_no_cost() -> None:
    assert per_part(50_000.0, BOOK, CUT, Economy(5.0, 2.0)).cost is None
