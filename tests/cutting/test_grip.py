"""What speed takes from a chuck's grip, against the set of values printed for VDI 3106 and against mechanics."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.grip import (
    LARGEST_LOSS,
    grip_for_cut,
    grip_left_inside,
    grip_left_outside,
    grip_loss,
    grip_to_set,
    moment_of_jaws,
    speed_at_largest_loss,
    speed_for_grip,
    speed_limit_of_grip,
)
from calc.language.kinds import INERT_MASS, MASS_MOMENT
from calc.language.problems import Impossible

MOMENT = MASS_MOMENT.internal(2.668)  # kg m: VDI 3106, as in the printed manual of a lathe chuck (p. 25)


def test_the_jaws_moment_is_the_printed_one() -> None:
    """5.33 kg at 0.107 m give 0.57031 kg m a jaw: VDI 3106, as in the printed manual of a lathe chuck (p. 25)."""
    assert MASS_MOMENT.shown(moment_of_jaws(1, 0.0, INERT_MASS.internal(5.33), 107.0)) == pytest.approx(0.57031)


def test_the_loss_at_1200_is_the_printed_one() -> None:
    """2.668 kg m at 1200 1/min: 42 131 N by VDI 3106."""
    assert grip_loss(MOMENT, 1200.0) == pytest.approx(42_131.37, abs=5e-3)


def test_the_grip_to_set_is_the_printed_one_and_its_inverse_gives_the_speed_back() -> None:
    """3000 N needed, both safeties 1.5: 69 947 N at rest, and from it 1200 1/min again, by VDI 3106."""
    grip = grip_to_set(1.5, 3000.0, 1.5, grip_loss(MOMENT, 1200.0))
    assert grip == pytest.approx(69_947.05, abs=1e-2)
    assert speed_for_grip(grip, 1.5, 3000.0, 1.5, MOMENT) == pytest.approx(1200.0)


def test_the_loss_is_mass_times_radius_times_angular_speed_squared_in_si_units() -> None:
    per_second = 2 * pi * 1800.0 / 60
    assert grip_loss(MASS_MOMENT.internal(0.5), 1800.0) == pytest.approx(0.5 * per_second**2)


@given(st.floats(5e3, 3e5), st.floats(0.0, 2e4), st.floats(0.05, 10.0), st.floats(1.0, 3.0), st.floats(1.0, 3.0))
def test_at_the_speed_found_just_what_is_needed_is_left_or_two_thirds_are_lost(
    grip: float, needed: float, moment: float, safety: float, of_cut: float
) -> None:
    held = MASS_MOMENT.internal(moment)
    try:
        limit = speed_limit_of_grip(grip, safety, needed, of_cut, held)
    except Impossible:
        assert grip <= safety * of_cut * needed
        return
    loss = grip_loss(held, limit)
    assert loss <= LARGEST_LOSS * grip * (1 + 1e-9)
    assert grip / safety - loss >= of_cut * needed - 1e-6 * grip
    assert loss == pytest.approx(min(LARGEST_LOSS * grip, grip / safety - of_cut * needed), abs=1e-6 * grip)


def test_heavier_jaws_and_a_weaker_grip_allow_less_speed() -> None:
    base = speed_limit_of_grip(60_000.0, 1.5, 3000.0, 1.5, MOMENT)
    assert speed_limit_of_grip(60_000.0, 1.5, 3000.0, 1.5, 2 * MOMENT) < base
    assert speed_limit_of_grip(40_000.0, 1.5, 3000.0, 1.5, MOMENT) < base


def test_held_from_outside_speed_takes_and_in_a_bore_it_adds() -> None:
    loss = grip_loss(MOMENT, 1000.0)
    assert grip_left_outside(50_000.0, loss) == pytest.approx(50_000.0 - loss)
    assert grip_left_inside(50_000.0, loss) == pytest.approx(50_000.0 + loss)


def test_friction_at_the_jaws_holds_the_turning_moment() -> None:
    needed = grip_for_cut(2000.0, 80.0, 0.12, 120.0)
    assert needed * 0.12 * 120.0 / 2 == pytest.approx(2000.0 * 80.0 / 2)


def test_a_grip_that_is_too_little_at_rest_is_told() -> None:
    with pytest.raises(Impossible, match="Even at rest the grip of 5000 N is no more than the 6750 N"):
        speed_limit_of_grip(5000.0, 1.5, 3000.0, 1.5, MOMENT)


def test_two_thirds_are_lost_at_the_speed_that_says_so() -> None:
    assert grip_loss(MOMENT, speed_at_largest_loss(69_947.05, MOMENT)) == pytest.approx(0.67 * 69_947.05)
