"""A groove in a face: what a straight blade clears, the order of the plunges, printed force, refusals."""

from __future__ import annotations

from math import hypot, pi
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.blade import smallest_first_diameter
from calc.language.problems import Impossible, Missing, OutOfRange
from calc.questions.operations.face_groove import FaceGrooveInputs, solve
from tests.asking import asked

GROOVE: dict[str, Any] = {
    "material": "C45",
    "groove_outer": 60.0,
    "groove_inner": 44.0,
    "face_depth": 6.0,
    "insert_width": 3.0,
}


def grooved(**values: Any) -> Any:
    return solve(asked(FaceGrooveInputs, **{**GROOVE, **values}))


@given(below=st.floats(2.0, 40.0), set_in=st.floats(0.05, 10.0))
def test_the_lower_edge_of_the_blade_just_touches_the_wall(below: float, set_in: float) -> None:
    radius = smallest_first_diameter(below, set_in) / 2
    assert hypot(radius - set_in, below) == pytest.approx(radius)


def test_the_plunges_go_from_the_outer_wall_to_the_inner_one_and_take_it_all() -> None:
    rows = grooved().tables["order"]
    assert rows[0].diameter == 60.0
    assert min(row.diameter for row in rows) == pytest.approx(44.0 + 2 * 3.0)
    assert sum(row.chip_width for row in rows) == pytest.approx(8.0)


def test_force_and_time_follow_from_the_printed_formulas() -> None:
    # Praxis der Zerspantechnik, from memory: Kienzle's force times 1.3; time by the definition of feed, 2 turns each
    found = grooved(feed=0.1, max_rpm=600.0).results
    assert found.cutting_force == pytest.approx(1.3 * 2220 * 0.1**-0.14 * 3.0 * 0.1)
    assert found.surface_speed == pytest.approx(pi * 60.0 * 600.0)
    assert found.time == pytest.approx(4 * (7.0 / (0.1 * 600.0) + 2 / 600.0))


@pytest.mark.parametrize(
    ("values", "about"),
    [
        ({}, "first_from"),
        ({"first_from": 70.0}, "first_from"),
        ({"first_to": 50.0}, "first_to"),
        ({"blade_below": 20.0, "blade_set_in": 1.0}, "smallest_first"),
        ({"first_from": 50.0, "face_depth": 14.0}, "face_depth"),
    ],
)
def test_a_blade_that_does_not_clear_is_said(values: dict[str, float], about: str) -> None:
    assert about in [caution.about for caution in grooved(max_rpm=2000.0, **values).cautions]


def test_an_ordinary_groove_with_its_own_tool_needs_no_caution() -> None:
    assert grooved(max_rpm=2000.0, first_from=50.0, first_to=80.0).cautions == ()


@pytest.mark.parametrize(
    ("values", "problem"),
    [
        ({"groove_inner": 60.0}, Impossible),
        ({"groove_inner": 56.0}, Impossible),
        ({"face_depth": None}, Missing),
        ({"groove_outer": -1.0}, OutOfRange),
        ({"blade_set_in": float("nan")}, OutOfRange),
        ({"insert_width": 0.3, "groove_outer": 400.0, "groove_inner": 10.0}, Impossible),
    ],
)
def test_what_cannot_be_is_refused(values: dict[str, Any], problem: type[Exception]) -> None:
    with pytest.raises(problem):
        grooved(**values)


def test_a_groove_down_to_the_axis_is_drawn() -> None:
    assert grooved(groove_inner=0.0).drawn() is not None
