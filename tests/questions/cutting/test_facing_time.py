"""The facing time from its declared inputs."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.problems import Impossible, Missing, OutOfRange, Problem
from calc.questions.cutting.facing_time import FEATURE, FacingTimeInputs, solve
from tests.asking import asked

anything = st.none() | st.floats(allow_nan=True, allow_infinity=True)
sensible = st.floats(0.001, 10_000.0)


def question(**changed: float | None) -> FacingTimeInputs:
    values: dict[str, Any] = {"surface_speed": 200_000.0, "outer_diameter": 100.0, "feed": 0.2, "max_rpm": 3000.0}
    return FacingTimeInputs(**{**values, **changed})


def test_facing_to_the_axis_agrees_with_the_catalogue_2021_2022_page_1069() -> None:
    found = solve(question()).results
    assert 60 * found.time == pytest.approx(12.311489, abs=1e-6)
    assert found.limit_diameter == pytest.approx(21.220659, abs=1e-6)
    assert found.time_at_limit == pytest.approx(21.220659 / 2 / (0.2 * 3000))


def test_without_a_limit_the_axis_is_reached_in_finite_time() -> None:
    found = solve(question(max_rpm=None, inner_diameter=0.0))
    assert 60 * found.results.time == pytest.approx(11.780972, abs=1e-6)
    assert found.results.limit_diameter is None
    assert [caution.severity for caution in found.cautions] == [3]


@pytest.mark.parametrize("inner", [100.0, 120.0])
def test_the_inner_diameter_must_be_the_smaller(inner: float) -> None:
    with pytest.raises(Impossible, match="smaller than the outer") as raised:
        solve(question(inner_diameter=inner))
    assert raised.value.faults[0].field == "inner_diameter"


def test_each_missing_value_is_asked_for_at_its_field() -> None:
    with pytest.raises(Missing) as raised:
        solve(asked(FacingTimeInputs))
    assert [fault.field for fault in raised.value.faults] == ["surface_speed", "outer_diameter", "feed"]
    assert raised.value.faults[2].message.say() == "Give the feed."


@pytest.mark.parametrize("name", ["surface_speed", "outer_diameter", "inner_diameter", "feed", "max_rpm"])
@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(name: str, bad: float) -> None:
    with pytest.raises(OutOfRange) as raised:
        solve(question(**{name: bad}))
    assert raised.value.faults[0].field == name


@given(anything | sensible, anything | sensible, anything | sensible, anything | sensible, anything)
def test_any_floats_give_a_right_answer_or_a_sentence(v: Any, outer: Any, inner: Any, f: Any, n: Any) -> None:
    try:
        found = solve(
            asked(FacingTimeInputs, surface_speed=v, outer_diameter=outer, inner_diameter=inner, feed=f, max_rpm=n)
        ).results
    except Problem:
        return
    ring = math.pi * (outer**2 - (inner or 0.0) ** 2) / (4 * v * f)
    slow = 0.0 if n is None else (outer - (inner or 0.0)) / (2 * f * n)
    assert max(ring, slow) * (1 - 1e-9) <= found.time <= (ring + slow) * (1 + 1e-9)


def test_the_working_shows_both_parts() -> None:
    _, steps = FEATURE.answer(question())
    assert [step.formula.means for step in steps] == [
        "diameter at which the spindle limit takes over",
        "mean diameter along a line",
        "time at constant surface speed",
        "time at constant spindle speed",
    ]
