"""Holding: thin rings against Roark's printed cases and Fourier series, bars that whip against printed frequencies."""

from __future__ import annotations

from math import cos, pi
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.rings import bending_stress, bulges_out, half_spacing, pressed_in
from calc.language.problems import Impossible, Missing, OutOfRange
from calc.questions.cutting.bar_whip import BarWhipInputs
from calc.questions.cutting.bar_whip import solve as solve_bar
from calc.questions.cutting.thin_ring import ThinRingInputs
from calc.questions.cutting.thin_ring import solve as solve_ring
from tests.asking import asked

RING: dict[str, Any] = {"outer_diameter": 100.0, "ring_bore": 90.0, "ring_width": 20.0, "grip_force": 6000.0}
BAR: dict[str, Any] = {"stock_diameter": 25.0, "free_length": 1000.0}


def ring(**values: Any) -> Any:
    return solve_ring(asked(ThinRingInputs, **{**RING, **values}))


def bar(**values: Any) -> Any:
    return solve_bar(asked(BarWhipInputs, **{**BAR, **values}))


@pytest.mark.parametrize(
    ("jaws", "inward", "outward"),
    [
        (2, 0.1488 / 2, 0.1366 / 2),  # 0.149 and 0.137 W R^3/(E I) on the diameter, Roark's, case 1; from memory
        (3, 0.016, 0.014),  # Roark's, equal radial loads, from memory
    ],
)
def test_a_ring_bends_as_the_printed_cases(jaws: int, inward: float, outward: float) -> None:
    theta = half_spacing(jaws)
    assert pressed_in(1.0, 1.0, 1.0, 1.0, theta) == pytest.approx(inward, abs=5e-4)
    assert bulges_out(1.0, 1.0, 1.0, 1.0, theta) == pytest.approx(outward, abs=5e-4)


@pytest.mark.parametrize("jaws", [2, 3, 4, 6, 8, 12])
def test_a_ring_bends_as_the_sum_of_its_waves(jaws: int) -> None:
    """A ring that bends and does not stretch, w = sum a_k cos(k phi) over k = jaws, 2 jaws and on: energy of bending
    and work of the loads give a_k = n W R^3 / (pi E I (k^2 - 1)^2) (Timoshenko, Strength of Materials, by series).
    """
    waves = [k * jaws for k in range(1, 4000)]
    inward = sum(jaws / (pi * (k * k - 1) ** 2) for k in waves)
    outward = -sum(jaws * cos(k * pi / jaws) / (pi * (k * k - 1) ** 2) for k in waves)
    theta = half_spacing(jaws)
    assert pressed_in(1.0, 1.0, 1.0, 1.0, theta) == pytest.approx(inward, rel=1e-5)
    assert bulges_out(1.0, 1.0, 1.0, 1.0, theta) == pytest.approx(outward, rel=1e-5)


def test_the_moment_under_a_load_is_the_printed_one() -> None:
    # 0.318 W R for two loads, Roark's case 1, from memory; stress is 6 M / (L t^2)
    assert bending_stress(1.0, 1.0, 6.0, 1.0, pi / 2) == pytest.approx(0.3183, abs=5e-5)


def test_six_jaws_press_a_ring_far_less_out_of_round_than_three_with_the_same_grip() -> None:
    rows = {row.jaws: row for row in ring().tables["by_jaws"]}
    assert rows[6.0].share == pytest.approx(1 / 19.1, rel=0.02)
    assert rows[3.0].out_of_round == pytest.approx(ring().results.out_of_round)


@given(grip=st.floats(100.0, 1e5), allowed=st.floats(0.001, 1.0))
def test_the_grip_that_keeps_it_round_does(grip: float, allowed: float) -> None:
    found = ring(grip_force=grip, roundness=allowed).results
    again = ring(grip_force=found.grip_for_roundness).results
    assert again.out_of_round == pytest.approx(allowed)


def test_a_wall_twice_as_thick_bends_about_an_eighth() -> None:
    thin, thick = ring(ring_bore=95.0).results, ring(ring_bore=90.0).results
    assert thin.out_of_round / thick.out_of_round == pytest.approx(8 * (48.75 / 47.5) ** 3)


def test_an_ordinary_sleeve_in_three_jaws_is_out_by_hundredths_to_tenths() -> None:
    """A ring of 100 x 90, 20 wide, gripped with 6 kN: a setter knows that it comes out visibly three-cornered."""
    answer = ring(roundness=0.02)
    assert 0.05 < answer.results.out_of_round < 0.3
    assert {"out_of_round", "grip_force"} <= {caution.about for caution in answer.cautions}


def test_a_free_bar_whips_at_the_printed_frequency_of_a_beam() -> None:
    """Steel rod of 25, 100 long: 1808.946 Hz (1.8751^2 / 2 pi sqrt(E I / rho A L^4), handbooks); 1,000: a hundredth."""
    found = bar().results
    assert found.critical_rpm == pytest.approx(1808.946 * 60 / 100, rel=1e-6)
    assert found.allowed_rpm == pytest.approx(found.critical_rpm / 2)


def test_the_length_that_is_allowed_at_a_speed_just_keeps_the_share() -> None:
    found = bar(rpm=2000.0).results
    again = bar(rpm=2000.0, free_length=found.longest).results
    assert again.share == pytest.approx(0.5)
    assert found.longest < 1000.0


def test_guiding_the_far_end_raises_the_critical_speed_more_than_four_times() -> None:
    assert bar(supported="tailstock").results.critical_rpm > 4 * bar().results.critical_rpm
    assert bar(supported="centres").results.critical_rpm == pytest.approx(
        bar().results.critical_rpm * (pi / 1.8751040687) ** 2
    )


def test_a_bar_that_whips_is_said_and_a_free_end_always() -> None:
    assert next(caution.about for caution in bar().cautions if caution.severity == 3) == "free_length"
    abouts = [caution.about for caution in bar(rpm=1000.0, max_rpm=4000.0, chuck_limit=3200.0).cautions]
    assert {"rpm", "max_rpm"} <= set(abouts)
    assert "liner_bore" in [caution.about for caution in bar(liner_bore=30.0).cautions]


def test_a_bow_grows_without_bound_toward_the_critical_speed() -> None:
    critical = bar().results.critical_rpm
    bows = [bar(rpm=share * critical, bow=0.1).results.bow_at_speed for share in (0.1, 0.5, 0.9, 0.999)]
    assert bows == sorted(bows)
    assert bows[-1] > 40.0
    assert bar(rpm=1.5 * critical, bow=0.1).results.bow_at_speed is None


@pytest.mark.parametrize(
    ("ask", "values", "problem"),
    [
        (ring, {"ring_bore": 100.0}, Impossible),
        (ring, {"jaw_count": 3.5}, Impossible),
        (ring, {"grip_force": None}, Missing),
        (ring, {"ring_width": 0.0}, OutOfRange),
        (ring, {"roundness": float("nan")}, OutOfRange),
        (bar, {"stock_bore": 25.0}, Impossible),
        (bar, {"liner_bore": 20.0}, Impossible),
        (bar, {"free_length": None}, Missing),
        (bar, {"share_allowed": 1.5}, OutOfRange),
    ],
)
def test_what_cannot_be_is_refused(ask: Any, values: dict[str, Any], problem: type[Exception]) -> None:
    with pytest.raises(problem):
        ask(**values)
