"""Spindle speed against printed values, and the relations that hold for every lathe."""

import math
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.speed import limit_diameter, spindle_at, spindle_speed, surface_speed
from calc.language.problems import Impossible
from calc.language.quantities import DIAMETER, SPINDLE_SPEED, SURFACE_SPEED, View

speeds = st.floats(1_000.0, 1_000_000.0)
diameters = st.floats(0.5, 2_000.0)
limits = st.floats(50.0, 20_000.0)


def test_surface_speed_agrees_with_the_general_catalogue_2020_page_L030() -> None:
    printed = 117.0  # m/min, truncated in print, for 250 1/min on 150 mm
    assert printed <= SURFACE_SPEED.shown(surface_speed(150.0, 250.0)) < printed + 1


def test_surface_speed_agrees_with_the_example_of_the_turned_rod_in_manufacturing_processes() -> None:
    # Manufacturing Processes for Engineering Materials: 12.5 mm at 400 1/min
    assert surface_speed(12.5, 400.0) / 1000 == pytest.approx(15.71, abs=0.005)


@pytest.mark.parametrize(("inches", "rpm"), [(6.5, 587.649), (6.0, 636.620), (5.5, 694.494), (5.0, 763.944)])
def test_inch_speeds_follow_twelve_v_over_pi_d(inches: float, rpm: float) -> None:
    v = SURFACE_SPEED.internal(1000.0, View("inch"))
    d = DIAMETER.internal(inches, View("inch"))
    assert SPINDLE_SPEED.shown(spindle_speed(v, d), View("inch")) == pytest.approx(rpm, abs=0.0006)
    assert rpm == pytest.approx(12 * 1000 / (math.pi * inches), abs=0.0006)


@pytest.fixture(scope="module")
def units() -> Any:
    return pint.UnitRegistry()


@given(feet=st.floats(3.0, 3_000.0), inches=st.floats(0.02, 80.0))
def test_spindle_speed_in_feet_and_inches_agrees_with_a_units_library(units: Any, feet: float, inches: float) -> None:
    v, d = feet * units.foot / units.minute, inches * units.inch
    ours = spindle_speed(SURFACE_SPEED.internal(feet, View("inch")), DIAMETER.internal(inches, View("inch")))
    assert ours == pytest.approx((v / (math.pi * d)).to("1/minute").magnitude, rel=1e-12)


@given(speeds, diameters, limits)
def test_the_spindle_never_passes_its_limit_and_says_when_it_is_held(v: float, d: float, n_max: float) -> None:
    state = spindle_at(d, v, n_max)
    assert state.rpm <= n_max
    assert state.limited == (spindle_speed(v, d) > n_max)


@given(speeds, limits)
def test_at_the_limit_diameter_the_speed_is_the_limit(v: float, n_max: float) -> None:
    d = limit_diameter(v, n_max)
    assert spindle_speed(v, d) == pytest.approx(n_max, rel=1e-12)
    assert spindle_at(d * 1.001, v, n_max).limited is False
    assert spindle_at(d * 0.999, v, n_max).limited is True


@given(speeds, diameters)
def test_speed_and_surface_speed_undo_each_other(v: float, d: float) -> None:
    assert surface_speed(d, spindle_speed(v, d)) == pytest.approx(v, rel=1e-12)


@pytest.mark.parametrize("diameter", [0.0, 5e-324])
def test_on_the_axis_the_limit_holds_and_without_one_there_is_no_answer(diameter: float) -> None:
    assert spindle_at(diameter, 220_000.0, 2000.0) == (2000.0, True)
    with pytest.raises(Impossible, match="spindle limit"):
        spindle_at(diameter, 220_000.0, None)
