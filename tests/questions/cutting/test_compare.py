"""Two inputs compared, from the declared inputs."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.cutting.compare import ShownName
from calc.language.factor import KILOWATT
from calc.language.problems import Impossible, Missing, OutOfRange, Problem
from calc.questions.cutting.compare import solve
from calc.questions.cutting.compare_inputs import BarOfCut, CompareInputs, LimitInputs, RestInputs
from calc.questions.cutting.force import ForceInputs
from calc.questions.cutting.force import solve as solve_force
from tests.asking import asked
from tests.tries import tries

KW = float(KILOWATT)
CUT = CompareInputs(
    material="C45", surface_speed=180_000.0, feed=0.1, feed_to=0.5, depth=0.5, depth_to=4.0, nose_radius=0.8,
    entering_angle=math.radians(95.0), rest=RestInputs(steps=21.0),
)  # fmt: skip
anything = st.none() | st.floats(-1e300, 1e300) | st.sampled_from([math.nan, math.inf])


def field(inputs: CompareInputs) -> Any:
    (plot,) = solve(inputs).plots
    assert plot.field is not None
    return plot.field


def test_the_field_is_the_cutting_force_pages_answer_at_each_place() -> None:
    found = field(replace(CUT, shown="force"))
    for row, column in ((0, 0), (20, 20), (7, 13)):
        one = ForceInputs(
            material="C45", depth=found.ups[row], feed=found.acrosses[column], surface_speed=180_000.0,
            entering_angle=math.radians(95.0), nose_radius=0.8,
        )  # fmt: skip
        assert found.values[row][column] == pytest.approx(solve_force(one).results.cutting_force)


def test_the_best_place_keeps_every_limit_and_removes_most() -> None:
    limits = LimitInputs(power_limit=5 * KW, ra_limit=0.0032, chip_least=0.08)
    found = solve(replace(CUT, limits=limits, shown="removal"))
    results = found.results
    assert results.power is not None
    assert results.power <= 5 * KW
    assert (results.ra or 1.0) <= 0.0032
    assert (results.chip_thickness or 0.0) >= 0.08
    (plot,) = found.plots
    assert plot.field is not None
    broken = np.any([np.array(bound.excess) > 0.0 for bound in plot.field.bounds], axis=0)
    assert results.removal_rate == np.where(broken, 0.0, np.array(plot.field.values)).max()
    assert results.allowed_share == pytest.approx(1.0 - broken.mean())


@pytest.mark.parametrize(
    ("limits", "names"),
    [
        (LimitInputs(power_limit=5 * KW), ["power"]),
        (LimitInputs(ra_limit=0.0032), ["finish", "nose"]),
        (LimitInputs(chip_least=0.05, chip_most=0.3), ["thin", "thick"]),
        (LimitInputs(deflection_limit=0.05), ["bar"]),
        (LimitInputs(), []),
    ],
)
def test_each_limit_that_is_given_bounds_the_field(limits: LimitInputs, names: list[str]) -> None:
    bar = BarOfCut(tool_bar_diameter=25.0, stick_out=80.0)
    assert [bound.name for bound in field(replace(CUT, limits=limits, bar=bar)).bounds] == names


def test_a_bar_that_the_cut_pulls_in_has_no_deflection_and_it_is_said() -> None:
    """An edge at 107.5° and a depth five times the nose: the thrust turns from the wall into it (geometry)."""
    cut = replace(CUT, depth=2.0, nose_radius=0.4, entering_angle=math.radians(107.5))
    found = solve(replace(cut, bar=BarOfCut(tool_bar_diameter=25.0, stick_out=80.0)))
    assert (found.results.bar_deflection, found.results.power is None) == (None, False)
    assert "pulls the edge into the wall" in found.notes[-1].say()
    assert "pulls" not in solve(cut).notes[-1].say()


def test_a_limit_is_met_exactly_on_its_line() -> None:
    """The excess is 0 where the power is the limit, below it negative."""
    found = field(replace(CUT, limits=LimitInputs(power_limit=5 * KW)))
    excess, power = np.array(found.bounds[0].excess), np.array(found.values)
    assert excess == pytest.approx(power / (5 * KW) - 1)


def test_where_nothing_is_allowed_it_is_said_and_no_number_is_offered() -> None:
    found = solve(replace(CUT, limits=LimitInputs(power_limit=0.01 * KW)))
    assert found.headline == "allowed_share"
    assert found.results.allowed_share == 0.0
    assert found.results.removal_rate is None
    assert "power is broken everywhere" in found.cautions[0].message.say()


def test_a_range_given_downward_is_the_same_field() -> None:
    downward = replace(CUT, feed=0.5, feed_to=0.1)
    assert field(downward).values == field(CUT).values


def test_the_table_tells_a_few_places_of_the_field_and_which_limits_they_break() -> None:
    (plot,) = solve(replace(CUT, limits=LimitInputs(power_limit=5 * KW, chip_least=0.08))).plots
    assert plot.field is not None
    assert len(plot.rows) == len(plot.columns) - 1 == 5
    top: Any = plot.rows[0]
    assert top[0] == 4.0
    assert top[-1].value == plot.field.values[-1][-1]
    assert top[-1].note == "no (1)"
    assert plot.rows[-1][1].note == "no (2)"  # type: ignore[union-attr]


def test_a_round_insert_deeper_than_its_nose_is_cautioned() -> None:
    found = solve(replace(CUT, entering_angle=None, nose_radius=3.0))
    assert "depth" in [caution.about for caution in found.cautions]


@pytest.mark.parametrize(
    ("inputs", "problem", "field_name", "words"),
    [
        (replace(CUT, feed_to=None, depth_to=None), Missing, "feed_to", "Give a second value to two of the inputs"),
        (replace(CUT, feed_to=None), Missing, "feed_to", "Give a second value to two of the inputs"),
        (replace(CUT, nose_radius_to=1.0), Missing, "nose_radius_to", "Only two inputs can be compared"),
        (replace(CUT, feed_to=0.1), Impossible, "feed_to", "Give two different values for feed."),
        (
            replace(CUT, feed_to=None, diameter_to=50.0),
            Missing,
            "diameter",
            "Give the diameter to start from.",
        ),
        (replace(CUT, shown="time"), Missing, "diameter", "For the time give the diameter and the length of cut."),
        (replace(CUT, shown="deflection"), Missing, "tool_bar_diameter", "For the bar's deflection give its diameter"),
        (replace(CUT, shown="ra", nose_radius=0.0), Missing, "nose_radius", "For the finish give the nose radius"),
        (replace(CUT, nose_radius=0.0, entering_angle=None), Missing, "entering_angle", "Give the entering angle"),
        (replace(CUT, rest=RestInputs(steps=20.5)), Impossible, "steps", "must be a whole one"),
        (replace(CUT, material="unobtainium"), OutOfRange, "material", "No material here is called"),
        (replace(CUT, feed=-0.1), OutOfRange, "feed", "Feed must be more than 0"),
    ],
)
def test_what_is_missing_or_impossible_is_said_at_its_field(
    inputs: CompareInputs, problem: type[Problem], field_name: str, words: str
) -> None:
    with pytest.raises(problem, match=words) as raised:
        solve(inputs)
    assert raised.value.faults[0].field == field_name


@settings(max_examples=tries(60), deadline=None)
@given(anything, anything, anything, anything, st.sampled_from(["power", "force", "ra", "chip", "removal"]))
def test_any_floats_give_a_field_or_a_sentence(a: Any, b: Any, c: Any, d: Any, shown: ShownName) -> None:
    asked = replace(CUT, feed=a, feed_to=b, depth=c, depth_to=d, shown=shown, rest=RestInputs(steps=5.0))
    try:
        found = solve(asked)
    except Problem:
        return
    assert 0.0 <= found.results.allowed_share <= 1.0


@settings(max_examples=tries(60), deadline=None)
@given(
    st.floats(0.001, 10.0),
    st.floats(0.001, 10.0),
    st.floats(0.001, 100.0),
    st.floats(0.001, 100.0),
    st.floats(0.0, 50.0),
)
def test_any_sound_values_give_a_finite_field(a: float, b: float, c: float, d: float, nose: float) -> None:
    asked = replace(CUT, feed=a, feed_to=b, depth=c, depth_to=d, nose_radius=nose, rest=RestInputs(steps=5.0))
    try:
        found = field(asked)
    except Impossible:
        assert min(abs(a - b) / max(a, b), abs(c - d) / max(c, d)) < 1e-8
        return
    assert np.isfinite(np.array(found.values)).all()
    assert np.array(found.values).min() > 0.0


def test_a_cut_asks_for_what_it_needs() -> None:
    with pytest.raises(Missing) as raised:
        asked(CompareInputs)
    assert [fault.field for fault in raised.value.faults] == ["material", "surface_speed", "feed", "depth"]
