"""The spindle question from its declared inputs."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.questions.cutting.spindle import FEATURE, SpindleInputs, solve
from tests.asking import asked

anything = st.none() | st.floats(allow_nan=True, allow_infinity=True)


def test_the_limit_holds_inside_its_diameter_and_the_surface_speed_falls() -> None:
    found = solve(SpindleInputs(surface_speed=220_000.0, diameter=20.0, max_rpm=2000.0))
    assert found.results.rpm == 2000.0
    assert found.results.limited is True
    assert found.results.limit_diameter == pytest.approx(35.0141, abs=5e-5)
    assert found.results.true_speed == pytest.approx(math.pi * 20 * 2000)
    assert [caution.about for caution in found.cautions] == ["rpm"]


def test_without_a_limit_there_is_no_limit_diameter_and_a_grave_caution() -> None:
    found = solve(SpindleInputs(surface_speed=220_000.0, diameter=60.0))
    assert found.results.limit_diameter is None
    assert found.results.limited is False
    assert [(caution.about, caution.severity) for caution in found.cautions] == [("max_rpm", 3)]


def test_a_limit_above_the_chucks_marking_and_long_work_are_told() -> None:
    given_ = SpindleInputs(surface_speed=220_000.0, diameter=30.0, max_rpm=4000.0, chuck_limit=3200.0, length_out=120.0)
    assert [caution.about for caution in solve(given_).cautions] == ["max_rpm", "length_out"]
    fine = SpindleInputs(surface_speed=220_000.0, diameter=60.0, max_rpm=2000.0, chuck_limit=3200.0, length_out=60.0)
    assert solve(fine).cautions == ()


def test_each_missing_value_is_asked_for_at_its_field() -> None:
    with pytest.raises(Missing) as raised:
        solve(asked(SpindleInputs))
    assert [(f.field, f.message.say()) for f in raised.value.faults] == [
        ("surface_speed", "Give the surface speed."),
        ("diameter", "Give the diameter."),
    ]


def test_on_the_axis_a_limit_is_needed() -> None:
    with pytest.raises(Impossible, match="spindle limit"):
        solve(SpindleInputs(surface_speed=220_000.0, diameter=0.0))


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf, -1.0, 0.0])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(bad: float) -> None:
    with pytest.raises(OutOfRange) as raised:
        solve(SpindleInputs(surface_speed=bad, diameter=60.0))
    assert raised.value.faults[0].field == "surface_speed"


@given(anything, anything, anything, anything, anything)
def test_any_floats_give_a_right_answer_or_a_sentence(v: Any, d: Any, n: Any, chuck: Any, out: Any) -> None:
    try:
        found = solve(
            asked(SpindleInputs, surface_speed=v, diameter=d, max_rpm=n, chuck_limit=chuck, length_out=out)
        ).results
    except Problem:
        return
    assert 0.0 < found.rpm <= (n or 100_000.0)
    assert found.limited or found.rpm * math.pi * d == pytest.approx(v)
    assert 0.0 <= found.true_speed <= v * (1 + 1e-9)


def test_the_working_shows_each_step() -> None:
    _, steps = FEATURE.answer(SpindleInputs(surface_speed=220_000.0, diameter=60.0, max_rpm=2000.0))
    assert [step.formula.means for step in steps] == [
        "spindle speed",
        "spindle speed with the limit",
        "diameter at which the spindle limit takes over",
    ]


def test_a_spindle_speed_gives_the_surface_speed_at_a_diameter() -> None:
    """By its definition pi D n: 50 mm at 1200 1/min is 188.5 m/min; back again it is the same spindle speed."""
    found = solve(SpindleInputs(diameter=50.0, rpm_set=1200.0))
    assert found.headline == "true_speed"
    assert found.results.true_speed == pytest.approx(math.pi * 50.0 * 1200.0)
    assert solve(SpindleInputs(diameter=50.0, surface_speed=found.results.true_speed)).results.rpm == pytest.approx(
        1200
    )


def test_a_limit_holds_a_spindle_speed_that_is_set_too() -> None:
    found = solve(SpindleInputs(diameter=50.0, rpm_set=1200.0, max_rpm=1000.0)).results
    assert (found.rpm, found.limited) == (1000.0, True)
    assert found.true_speed == pytest.approx(math.pi * 50.0 * 1000.0)


def test_both_speeds_are_one_too_many() -> None:
    with pytest.raises(Contradiction) as raised:
        solve(SpindleInputs(diameter=50.0, surface_speed=200_000.0, rpm_set=1200.0))
    assert raised.value.fields == ("surface_speed", "rpm_set")


def test_a_spindle_speed_that_is_set_does_not_run_up() -> None:
    """At a constant 1000 1/min Ø20 runs at 62.8 m/min, and nothing turns faster toward the axis."""
    answer = solve(SpindleInputs(diameter=20.0, rpm_set=1000.0))
    assert answer.cautions == ()
    above = solve(SpindleInputs(diameter=20.0, rpm_set=4000.0, chuck_limit=3200.0)).cautions
    assert [each.severity for each in above] == [3]
