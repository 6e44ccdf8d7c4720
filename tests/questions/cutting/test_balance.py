"""Balance of odd pieces: vectors by complex numbers, printed force of a turning mass, refusals."""

from __future__ import annotations

import cmath
from math import pi, radians
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.fields import build
from calc.language.problems import Missing, OutOfRange
from calc.questions.cutting.balance import BalanceInputs, solve

PIECE = st.tuples(st.floats(0.1, 50.0), st.floats(0.0, 500.0), st.floats(-6.0, 6.0))


def balanced(*pieces: tuple[float, float, float], **values: Any) -> Any:
    listed = [{"piece_mass": mass, "off_axis": radius, "at_angle": angle} for mass, radius, angle in pieces]
    return solve(build(BalanceInputs, {"pieces": listed, **values}))


@given(pieces=st.lists(PIECE, min_size=1, max_size=6), radius=st.floats(20.0, 300.0))
def test_with_its_counterweight_nothing_is_out_of_balance(
    pieces: list[tuple[float, float, float]], radius: float
) -> None:
    found = balanced(*pieces, counter_radius=radius).results
    total = sum(mass * off * cmath.exp(1j * angle) for mass, off, angle in pieces)
    if found.counter_angle is not None:
        total += found.counter_mass * radius * cmath.exp(1j * found.counter_angle)
    assert abs(total) <= 1e-9 * (1.0 + sum(mass * off for mass, off, _ in pieces))


def test_the_pull_is_that_of_a_mass_in_a_circle() -> None:
    """F = m r omega^2: 2 kg on 100 mm at 600 1/min pull 789.6 N, worked out by hand."""
    assert balanced((2.0, 100.0, 0.0), rpm=600.0).results.pull == pytest.approx(2 * 0.1 * (600 * pi / 30) ** 2)


def test_two_equal_pieces_opposite_each_other_need_nothing() -> None:
    found = balanced((2.0, 100.0, 0.0), (1.0, 200.0, radians(180.0)), counter_radius=100.0).results
    assert found.unbalance == 0.0
    assert found.counter_angle is None


def test_a_pull_that_is_much_of_the_grip_and_a_speed_above_the_marking_are_said() -> None:
    answer = balanced((6.0, 40.0, 0.0), rpm=1500.0, grip_force=20_000.0, chuck_limit=1200.0)
    assert {"pull", "max_rpm", "unbalance"} <= {caution.about for caution in answer.cautions}


@pytest.mark.parametrize(
    ("values", "problem"),
    [
        ({"pieces": []}, Missing),
        ({"pieces": [{"piece_mass": 1.0}]}, Missing),
        ({"pieces": [{"piece_mass": -1.0, "off_axis": 10.0}]}, OutOfRange),
        ({"pieces": [{"piece_mass": 1.0, "off_axis": float("nan")}]}, OutOfRange),
        ({"pieces": [{"piece_mass": 1.0, "off_axis": 10.0}], "counter_radius": 0.0}, OutOfRange),
    ],
)
def test_what_cannot_be_is_refused(values: dict[str, Any], problem: type[Exception]) -> None:
    with pytest.raises(problem):
        solve(build(BalanceInputs, values))
