"""Tool life and cost from the declared inputs."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.language.problems import Missing, OutOfRange, Problem
from calc.questions.cutting.tool_life import CostInputs, LifeInputs, PartInputs, solve
from tests.asking import asked
from tests.tries import tries

# 'Fundamentals of Modern Manufacturing', machining economics, from memory (see tests/cutting/test_life.py).
CUT = PartInputs(diameter=100.0, cut_length=500.0, feed=0.25)
COSTS = CostInputs(change_time=2.0, handling_time=5.0, machine_rate=0.5, edge_cost=3.0)
BOOK = LifeInputs(known_speed=70_000.0, known_life=1.0, exponent=0.125, cut=CUT, costs=COSTS)
anything = st.none() | st.floats(allow_nan=True, allow_infinity=True)


def test_the_textbook_example_comes_out_with_both_best_speeds_and_the_judged_one() -> None:
    found = solve(replace(BOOK, surface_speed=50_000.0, cut=replace(CUT, batch=100.0)))
    assert found.results.speed_lowest_cost == pytest.approx(42_322.8, abs=0.05)
    assert found.results.speed_most_parts == pytest.approx(50_330.6, abs=0.05)
    assert found.results.cost_per_part == pytest.approx(12.783, abs=5e-4)
    assert [row.name for row in found.tables["speeds"]] == ["to judge", "lowest cost", "most parts"]
    assert found.tables["speeds"][0].edges == 100


def test_the_curves_have_their_lowest_point_at_the_marks() -> None:
    cost, time = solve(BOOK).plots
    assert [mark.label.say() for mark in cost.marks] == ["lowest cost", "most parts"]
    assert cost.marks[0].y <= min(cost.curves[0].ys) * (1 + 1e-9)
    assert time.marks[1].y <= min(time.curves[0].ys) * (1 + 1e-9)


def test_every_mark_stands_in_the_table() -> None:
    for plot in solve(BOOK).plots:
        for mark in plot.marks:
            assert any(row[0] == mark.x and row[-1] == pytest.approx(mark.y) for row in plot.rows)


def test_without_costs_only_most_parts_is_found() -> None:
    found = solve(replace(BOOK, costs=CostInputs(change_time=2.0)))
    assert found.headline == "speed_most_parts"
    assert found.results.speed_lowest_cost is None
    assert [plot.key for plot in found.plots] == ["time"]


def test_one_cost_alone_asks_for_the_other() -> None:
    with pytest.raises(Missing, match="edge_cost: For the lowest cost give both"):
        solve(replace(BOOK, costs=CostInputs(change_time=2.0, machine_rate=0.5)))


def test_an_edge_that_lasts_less_than_a_part_and_a_speed_beyond_the_spindle_are_told() -> None:
    found = solve(replace(BOOK, surface_speed=70_000.0, cut=replace(CUT, max_rpm=200.0)))
    assert [(caution.about, caution.severity) for caution in found.cautions] == [
        ("surface_speed", 3), ("surface_speed", 2),
    ]  # fmt: skip


def test_what_is_missing_is_asked_for_at_its_field() -> None:
    with pytest.raises(Missing) as raised:
        solve(asked(LifeInputs, known_speed=70_000.0, known_life=1.0))
    missing = [fault.field for fault in raised.value.faults]
    assert missing == ["diameter", "cut_length", "feed", "change_time"]
    with pytest.raises(Missing, match="exponent, or a second speed") as raised:  # two ways lead to it
        solve(replace(BOOK, exponent=None))
    assert [fault.field for fault in raised.value.faults] == ["exponent"]


@pytest.mark.parametrize("bad", [0.0, 1.0, -0.2, math.nan])
def test_an_exponent_that_cannot_be_is_refused(bad: float) -> None:
    with pytest.raises(OutOfRange, match="exponent"):
        solve(replace(BOOK, exponent=bad))


@settings(max_examples=tries(60))
@given(anything, anything, anything, anything, anything, anything)
def test_any_floats_give_finite_numbers_or_a_sentence(v: Any, t: Any, n: Any, d: Any, f: Any, c: Any) -> None:
    values = {
        "known_speed": v, "known_life": t, "exponent": n, "diameter": d, "cut_length": d, "feed": f,
        "change_time": c, "machine_rate": c, "edge_cost": t,
    }  # fmt: skip
    try:
        found = solve(asked(LifeInputs, **values))
    except Problem:
        return
    assert math.isfinite(found.results.speed_most_parts)
    assert all(math.isfinite(y) for plot in found.plots for curve in plot.curves for y in curve.ys)


SPEEDS, MINUTES = st.floats(1000.0, 1e7), st.floats(0.01, 1000.0)


@settings(max_examples=tries(60))
@given(SPEEDS, MINUTES, st.floats(0.05, 0.9), st.floats(0.1, 1000.0), st.floats(0.001, 5.0), st.floats(0.01, 100.0))
def test_any_sound_values_give_finite_numbers(v: float, t: float, n: float, d: float, f: float, c: float) -> None:
    costs = CostInputs(change_time=c, machine_rate=c, edge_cost=t)
    cut = PartInputs(diameter=d, cut_length=d, feed=f)
    found = solve(LifeInputs(known_speed=v, known_life=t, exponent=n, cut=cut, costs=costs))
    assert 0.0 < (found.results.speed_lowest_cost or 0.0) <= found.results.speed_most_parts * (1 + 1e-9)
    assert all(math.isfinite(y) for plot in found.plots for curve in plot.curves for y in curve.ys)


def test_two_lives_that_were_seen_give_taylors_exponent() -> None:
    # Fundamentals of Modern Manufacturing, worked example: n 0.125, C 70 m/min; 14.758 min at 50, 59.537 at 42
    two = LifeInputs(
        known_speed=50_000.0, known_life=14.758, second_speed=42_000.0, second_life=59.537, parts_wanted=3.0,
        cut=CUT, costs=CostInputs(change_time=2.0),
    )  # fmt: skip
    found: Any = solve(two).results
    assert found.exponent_seen == pytest.approx(0.125, abs=1e-4)
    assert found.one_minute_speed == pytest.approx(70_000.0, rel=1e-3)
    # and the edge lasts for just three parts at this speed: life over time in cut
    in_cut = math.pi * 100 * 500 / (found.speed_for_parts * 0.25)
    assert found.life_for_parts / in_cut == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("speed", "life", "exponent", "field"),
    [
        (42_000.0, 5.0, None, "second_life"),
        (42_000.0, 59.537, 0.25, "exponent"),
        (49_999.0, 900.0, None, "second_life"),
    ],
)
def test_lives_that_cannot_be_are_refused(speed: float, life: float, exponent: float | None, field: str) -> None:
    asked = LifeInputs(
        known_speed=50_000.0, known_life=14.758, second_speed=speed, second_life=life, exponent=exponent,
        cut=CUT, costs=CostInputs(change_time=2.0),
    )  # fmt: skip
    with pytest.raises(Problem) as raised:
        solve(asked)
    assert raised.value.faults[0].field == field
