"""Flats on a round bar: the handbook's constants, another geometry library, and every refusal."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point as ShapelyPoint
from shapely import Polygon

from calc.language.fields import build, specs
from calc.language.given import Given
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.questions.shapes.polygon_stock import SHAPES, PolygonInputs, PolygonResults, SideCount, bars, solve
from tests.tries import tries

SPECS = {spec.name: spec for spec in specs(PolygonInputs)}
NUMBERS = [name for name, spec in SPECS.items() if spec.role == "quantity"]


def results(**values: Any) -> PolygonResults:
    return solve(build(PolygonInputs, values)).results


def refused(**values: Any) -> Problem:
    with pytest.raises(Problem) as caught:
        solve(build(PolygonInputs, values))
    return caught.value


def regular(sides: int, flats: float) -> Polygon:
    corner = flats / 2 / math.cos(math.pi / sides)
    turns = [math.tau * (index + 0.5) / sides for index in range(sides)]
    return Polygon([(corner * math.cos(turn), corner * math.sin(turn)) for turn in turns])


@pytest.mark.parametrize(("shape", "constant"), [("6", 1.154700538), ("4", 1.414213562), ("8", 1.082392200)])
def test_across_corners_is_the_handbooks_constant_times_the_flats(shape: str, constant: float) -> None:
    """Machinery's Handbook prints 1.1547, 1.4142 and 1.0824 (from memory); the digits are 1 / cos(180/n)."""
    assert results(sides=shape, across_flats=100.0).across_corners == pytest.approx(100.0 * constant, abs=1e-6)


@pytest.mark.parametrize(
    ("flats", "corners"), [(10.0, 11.547), (13.0, 15.011), (17.0, 19.630), (24.0, 27.713), (36.0, 41.569)]
)
def test_the_corners_of_usual_spanner_widths(flats: float, corners: float) -> None:
    """ISO 272 widths across flats; the corners are s / cos 30, as tables of sharp hexagon bars print (from memory)."""
    assert results(across_flats=flats).across_corners == pytest.approx(corners, abs=5e-4)


@settings(max_examples=tries(60), deadline=None)
@given(st.sampled_from(sorted(SHAPES)), st.floats(1.0, 500.0), st.floats(1.001, 1.5))
def test_depth_and_width_of_the_flats_are_those_of_another_geometry_library(
    shape: str, flats: float, share: float
) -> None:
    bar = flats * share
    found = results(sides=shape, across_flats=flats, bar_diameter=bar)
    polygon = regular(int(shape), flats)
    assert found.across_corners == pytest.approx(2 * math.dist((0, 0), polygon.exterior.coords[0]))
    assert found.side_length == pytest.approx(polygon.length / int(shape))
    assert found.flat_depth == pytest.approx(bar / 2 - polygon.exterior.distance(ShapelyPoint(0, 0)))
    flat = math.sqrt(bar**2 - flats**2)
    assert found.flat_width == pytest.approx(min(flat, found.side_length), rel=1e-6)


@settings(max_examples=tries(60), deadline=None)
@given(st.sampled_from(sorted(SHAPES)), st.floats(1.0, 500.0))
def test_any_one_width_gives_the_others(shape: str, flats: float) -> None:
    first = results(sides=shape, across_flats=flats)
    assert results(sides=shape, across_corners=first.across_corners).across_flats == pytest.approx(flats)
    assert results(sides=shape, side_length=first.side_length).across_flats == pytest.approx(flats)


def test_the_next_bar_in_stock_holds_corners_and_cleaning_up() -> None:
    """EN 10060 has 42 and 45 (from memory); inch bars have 1-5/8 and 1-11/16 (common practice, no source)."""
    assert results(across_flats=36.0).stock_bar == 42.0
    assert results(across_flats=36.0, clean_up=1.0).stock_bar == 45.0
    assert results(across_flats=36.0, series="inch").stock_bar == pytest.approx(1.6875 * 25.4)
    assert results(across_flats=900.0).stock_bar is None
    assert results(across_flats=900.0).flat_depth is None


@pytest.mark.parametrize("series", ["metric", "inch"])
def test_the_bars_of_a_series_rise(series: str) -> None:
    sizes = bars(series).sizes
    assert list(sizes) == sorted(set(sizes))
    assert bars(series).source


def test_a_bar_below_the_corners_leaves_them_round_and_says_so() -> None:
    answer = solve(PolygonInputs(sides="4", across_flats=36.0, bar_diameter=45.0))
    assert answer.results.flat_width == pytest.approx(27.0)
    assert answer.notes[0].say() == "On Ø45 mm the corners stay round: sharp ones need Ø50.912 mm."


def test_widths_that_disagree_are_named() -> None:
    problem = refused(across_flats=36.0, across_corners=40.0)
    assert isinstance(problem, Contradiction)
    assert problem.fields == ("across_flats", "across_corners")
    assert problem.otherwise["across_corners"].value == pytest.approx(41.5692, abs=5e-5)
    assert results(across_flats=Given(36.0), across_corners=Given(41.6, slack=0.05)).across_flats == pytest.approx(36.0)


def test_one_width_is_asked_for() -> None:
    problem = refused(clean_up=1.0)
    assert isinstance(problem, Missing)
    assert [fault.field for fault in problem.faults] == ["across_flats", "across_corners", "side_length"]
    asked = "Give the width across flats, across corners, or of one side; or the bar, for the largest that it holds."
    assert problem.faults[0].message.say() == asked


def test_a_bar_without_flats_is_refused() -> None:
    problem = refused(across_flats=36.0, bar_diameter=36.0)
    assert isinstance(problem, Impossible)
    assert problem.faults[0].field == "bar_diameter"
    assert "no flats at 36 mm across" in problem.faults[0].message.say()


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf, 1e9])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(bad: float) -> None:
    problem = refused(across_flats=bad)
    assert isinstance(problem, OutOfRange)
    assert problem.faults[0].field == "across_flats"


wild = st.one_of(st.floats(), st.floats(-6.0, 4.0).map(lambda power: 10.0**power))
choices = {name: st.sampled_from(sorted(spec.choices)) for name, spec in SPECS.items() if spec.role == "choice"}


@settings(max_examples=tries(120), deadline=None)
@given(st.fixed_dictionaries({name: st.none() | wild for name in NUMBERS} | choices))
def test_any_floats_give_right_flats_or_a_sentence(values: dict[str, Any]) -> None:
    try:
        found = results(**values)
    except Problem as problem:
        said = [fault.message.say() for fault in problem.faults if fault.field in SPECS]
    else:
        n = int(values["sides"])
        assert found.across_flats == pytest.approx(found.across_corners * math.cos(math.pi / n), rel=1e-9)
        assert found.smallest_bar >= found.across_corners
        assert found.stock_bar is None or found.stock_bar >= found.smallest_bar - 1e-5
        return
    assert said
    assert all(said)


@pytest.mark.parametrize(("shape", "share"), [("4", 0.707106781), ("6", 0.866025404), ("8", 0.923879533)])
def test_the_largest_from_a_bar_is_the_handbooks_constant_times_its_diameter(shape: SideCount, share: float) -> None:
    """Machinery's Handbook, largest square and hexagon from a round: 0.7071 and 0.8660 of it (cos(180/n))."""
    answer = solve(PolygonInputs(sides=shape, bar_diameter=30.0))
    assert answer.headline == "across_flats"
    assert answer.results.across_flats == pytest.approx(30.0 * share, abs=1e-7)
    cleaned = results(sides=shape, bar_diameter=31.0, clean_up=1.0)
    assert cleaned.across_flats == pytest.approx(30.0 * share, abs=1e-7)
    assert cleaned.smallest_bar == pytest.approx(31.0)


def test_the_largest_from_a_bar_and_the_bar_for_it_are_one() -> None:
    largest = results(bar_diameter=42.0, clean_up=0.8).across_flats
    assert results(across_flats=largest, clean_up=0.8).smallest_bar == pytest.approx(42.0)


def test_cleaning_up_may_not_take_the_whole_bar() -> None:
    assert refused(bar_diameter=5.0, clean_up=5.0).faults[0].field == "clean_up"
