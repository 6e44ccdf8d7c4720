"""A batch: sums by hand, a published example, whole edges and bars, the batch at which two ways are equal, refusals."""

from __future__ import annotations

from math import pi
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.fields import build
from calc.language.kinds import COST_RATE
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.questions.cutting.tool_life import LifeInputs
from calc.questions.cutting.tool_life import solve as solve_life
from calc.questions.operations.bar_economy import BarEconomyInputs
from calc.questions.operations.bar_economy import solve as solve_bar
from calc.questions.operations.batch import FEATURE, BatchInputs, solve

ONE: dict[str, Any] = {"part_time": 2.0, "set_up_time": 60.0, "rate": 0.5}


def batch(count: float, *ways: dict[str, Any]) -> Any:
    return solve(build(BatchInputs, {"batch": count, "ways": list(ways)}))


def test_a_batch_is_set_up_parts_edges_and_bars_counted_out_by_hand() -> None:
    """100 parts of 2 min, 60 min set-up; 4 edges of 25 parts at 4, changed 3 times for 1.5 min; 4 bars of 30 at 20."""
    way = {
        **ONE,
        "parts_per_edge": 25.0,
        "edge_change": 1.5,
        "edge_price": 4.0,
        "parts_per_bar": 30.0,
        "bar_cost": 20.0,
    }
    row = batch(100.0, way).tables["compared"][0]
    assert (row.edges, row.bars, row.over) == (4.0, 4.0, 20.0)
    assert row.time == pytest.approx(60 + 200 + 4.5)
    assert row.price == pytest.approx(264.5 * 0.5 + 4 * 4 + 4 * 20)
    assert row.price_per_part == pytest.approx(row.price / 100)


LIFE = {"known_speed": 200_000.0, "known_life": 15.0, "exponent": 0.25}
BAR = {"bar_length": 3000.0, "part_length": 40.0, "face_stock": 1.0, "blade_width": 3.0, "remnant": 80.0}


def taken(**values: Any) -> Any:
    return solve(build(BatchInputs, {"batch": 200.0, "ways": [dict(ONE), dict(ONE)], **values}))


@pytest.mark.parametrize("speed", [120_000.0, 200_000.0, 260_000.0])
def test_the_parts_for_one_edge_are_those_of_the_tool_life_question(speed: float) -> None:
    """A part that its own cut keeps busy as long: the length is chosen so that both are the same minutes."""
    diameter, feed, in_cut = 50.0, 0.2, 1.5
    rpm = speed / (pi * diameter)
    alone = solve_life(
        build(
            LifeInputs,
            {
                **LIFE,
                "surface_speed": speed,
                "diameter": diameter,
                "feed": feed,
                "cut_length": in_cut * feed * rpm,
                "change_time": 1.0,
            },
        )
    ).results
    row = taken(**LIFE, ways=[{**ONE, "surface_speed": speed, "time_in_cut": in_cut}]).tables["compared"][0]
    assert row.parts_per_edge == alone.parts_per_edge
    assert row.edges == -(-200.0 // alone.parts_per_edge)


def test_the_parts_from_a_bar_are_those_of_the_bar_question_and_a_way_may_have_its_own() -> None:
    alone = solve_bar(build(BarEconomyInputs, BAR)).results
    rows = taken(**BAR, bar_price=42.0, ways=[dict(ONE), {**ONE, "parts_per_bar": 30.0, "bar_cost": 20.0}]).tables[
        "compared"
    ]
    assert (rows[0].parts_per_bar, rows[0].bars) == (alone.parts, -(-200.0 // alone.parts))
    assert (rows[1].parts_per_bar, rows[1].bars) == (30.0, 7.0)
    plain = taken(ways=[dict(ONE)]).tables["compared"][0]
    assert rows[0].price - plain.price == pytest.approx(42.0 * rows[0].bars)
    assert rows[1].price - plain.price == pytest.approx(20.0 * 7)


def test_a_faster_way_takes_more_edges_for_less_time() -> None:
    slow = {**ONE, "surface_speed": 180_000.0, "time_in_cut": 1.5}
    fast = {**ONE, "part_time": 1.7, "surface_speed": 220_000.0, "time_in_cut": 1.2}
    one, other = taken(**LIFE, ways=[slow, fast]).tables["compared"]
    assert (one.edges < other.edges, one.time > other.time) == (True, True)


@pytest.mark.parametrize(
    ("values", "field", "problem"),
    [
        ({"ways": [{**ONE, "surface_speed": 2e5}]}, "known_speed", Missing),
        ({"ways": [{**ONE, "surface_speed": 2e5, "parts_per_edge": 9.0}]}, "ways.0.parts_per_edge", Contradiction),
        ({**LIFE, "ways": [{**ONE, "surface_speed": 2e5, "time_in_cut": 3.0}]}, "ways.0.time_in_cut", Impossible),
        ({"bar_length": 3000.0, "part_length": 40.0}, "blade_width", Missing),
        ({**BAR, "bar_length": 60.0}, "bar_length", Impossible),
    ],
)
def test_what_the_other_questions_lack_is_said_at_its_field(
    values: dict[str, Any], field: str, problem: type[Problem]
) -> None:
    with pytest.raises(problem) as refused:
        taken(**values)
    assert field in [fault.field for fault in refused.value.faults]


def test_the_published_cost_of_a_part_comes_out() -> None:
    """Fundamentals of Modern Manufacturing, machining economics, from memory: 5 min handling, 12.566 min in cut, one
    part for an edge, 2 min to change it, 30 $/h, 3 $/edge: 12.783 $ (printed 12.79), the changes shared by all parts.
    """
    way = {
        "part_time": 5.0 + 12.566,
        "rate": COST_RATE.internal(30.0),
        "parts_per_edge": 1.0,
        "edge_change": 2.0,
        "edge_price": 3.0,
    }
    assert batch(1_000_000.0, way).results.price_per_part == pytest.approx(12.783, abs=0.001)


@given(count=st.integers(1, 5000), life=st.integers(1, 300), bar=st.integers(1, 80))
def test_edges_and_bars_are_whole_and_just_enough(count: int, life: int, bar: int) -> None:
    row = batch(float(count), {**ONE, "parts_per_edge": float(life), "parts_per_bar": float(bar)}).tables["compared"][0]
    assert (row.edges - 1) * life < count <= row.edges * life
    assert (row.bars - 1) * bar < count <= row.bars * bar
    assert row.over == row.bars * bar - count


def test_below_the_equal_batch_the_one_way_is_cheaper_and_above_it_the_other() -> None:
    slow, fast = {**ONE, "way": "slow", "part_time": 6.0}, {**ONE, "way": "fast", "set_up_time": 180.0}
    equal = batch(10.0, slow, fast).results.equal_batch
    assert equal == pytest.approx((180 - 60) * 0.5 / ((6 - 2) * 0.5))
    assert batch(equal - 1, slow, fast).results.best_way == "slow"
    assert batch(equal + 1, slow, fast).results.best_way == "fast"
    assert batch(10.0, slow, {**slow, "way": "worse", "set_up_time": 70.0}).results.equal_batch is None


def test_without_prices_the_quickest_way_is_the_best_and_it_is_said() -> None:
    answer = batch(10.0, {"part_time": 3.0}, {"part_time": 2.0})
    assert (answer.headline, answer.results.best_way, answer.results.batch_time) == ("batch_time", "method 2", 20.0)
    assert answer.results.price_per_part is None
    assert "only times" in answer.cautions[0].message.say()


def test_an_edge_that_takes_no_time_to_change_is_pointed_out() -> None:
    said = [each.message.say() for each in batch(100.0, {**ONE, "parts_per_edge": 25.0}).cautions]
    assert any("With method 1 an edge is changed (parts per edge: 25)" in each for each in said)


@pytest.mark.parametrize(
    ("count", "ways", "problem"),
    [
        (None, [ONE], Missing),
        (10.0, [], Missing),
        (10.0, [{"rate": 0.5}], Missing),
        (10.5, [ONE], Impossible),
        (10.0, [{**ONE, "parts_per_bar": 2.5}], Impossible),
        (-1.0, [ONE], OutOfRange),
        (10.0, [{**ONE, "part_time": float("nan")}], OutOfRange),
    ],
)
def test_what_cannot_be_is_refused(count: Any, ways: list[dict[str, Any]], problem: type[Exception]) -> None:
    with pytest.raises(problem):
        batch(count, *ways)


def test_the_names_in_an_example_are_of_no_language() -> None:
    """A link bears no language: English names of methods stood on German and Spanish pages."""
    for case in (FEATURE.example, *FEATURE.examples.values()):
        names = [
            part.partition(":")[2] for row in case["ways"].split("*") for part in row.split("~") if part[:4] == "way:"
        ]
        assert all(name.isdigit() for name in names)
