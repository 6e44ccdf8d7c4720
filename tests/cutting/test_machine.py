"""The machine's curve, grip and cautions: definitions, limits, and what this case triggers alone."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import (
    Cut,
    Machine,
    Work,
    available_power,
    grip_against_torque,
    limited_rpm,
    load_of,
    power_at_motor,
)
from calc.language.factor import HORSEPOWER, KILOWATT
from calc.language.messages import Caution
from calc.language.quantities import POWER, View

KW = KILOWATT.times(1.0)
LATHE = Machine(motor_power=11 * KW, base_rpm=1000.0, efficiency=0.8, max_rpm=2500.0)


def about(cut: Cut, machine: Machine, work: Work | None = None) -> list[tuple[str, int]]:
    return [(c.about, c.severity) for c in triggered(cut, machine, work)]


def triggered(cut: Cut, machine: Machine, work: Work | None = None) -> list[Caution]:
    turned = None if cut.rpm is None else Running(cut.rpm, cut.rpm)
    return list(limits(Case(running=turned, cut=cut, load=load_of(cut, machine, work)), machine, work))


def cut_of(kilowatts: float, rpm: float, high: float = 1.0) -> Cut:
    return Cut(1000.0, 1000.0 * high, kilowatts * KW, 60.0, rpm)


def test_the_motor_gives_what_the_handbooks_example_asks() -> None:
    # Machinery's Handbook 31, machining power: 5.09 hp at the spindle are 6.36 at the motor with E = .80
    assert power_at_motor(HORSEPOWER.times(5.09134), 0.8) == pytest.approx(HORSEPOWER.times(6.36418), rel=1e-6)


def test_torque_is_constant_up_to_the_base_speed_and_power_above_it() -> None:
    powers = {n: (available_power(LATHE, n) or 0.0) / KW for n in (250.0, 500.0, 1000.0, 1001.0, 2500.0)}
    assert powers[250.0] == pytest.approx(2.2)
    assert powers[500.0] == pytest.approx(4.4)
    assert powers[1000.0] == pytest.approx(8.8)
    assert powers[2500.0] == pytest.approx(8.8)


def test_the_largest_torque_holds_below_and_the_power_above() -> None:
    geared = Machine(motor_power=11 * KW, efficiency=0.8, rated_torque=200_000.0)
    crossing = 8.8 * KW / (2 * math.pi * 200_000)
    assert available_power(geared, crossing / 2) == pytest.approx(4.4 * KW)
    assert available_power(geared, crossing * 2) == pytest.approx(8.8 * KW)


def test_without_a_speed_the_power_alone_counts_and_without_a_machine_nothing_does() -> None:
    assert available_power(LATHE, None) == pytest.approx(8.8 * KW)
    assert available_power(Machine(), 1000.0) is None
    assert available_power(Machine(rated_torque=1e5), None) is None
    assert available_power(Machine(motor_power=10 * KW), None) == pytest.approx(8 * KW)  # 0.8 where none is given


@given(st.floats(1.0, 5000.0), st.floats(1.0, 5000.0))
def test_power_never_falls_with_speed_and_torque_never_rises(one: float, other: float) -> None:
    low, high = sorted((one, other))
    at_low, at_high = available_power(LATHE, low) or 0.0, available_power(LATHE, high) or 0.0
    assert at_low <= at_high * (1 + 1e-12)
    assert at_low / low >= at_high / high * (1 - 1e-12)


@pytest.mark.parametrize(
    ("kilowatts", "high", "expected"),
    [
        (4.0, 1.0, []),
        (7.9, 1.0, []),
        (8.0, 1.0, [("load", 2)]),
        (8.79, 1.0, [("load", 2)]),
        (8.81, 1.0, [("load", 3)]),
        (6.0, 1.6, [("load", 1)]),
        (6.0, 1.4, []),
    ],
)
def test_a_cut_that_stalls_or_nearly_does_is_told(kilowatts: float, high: float, expected: Any) -> None:
    assert about(cut_of(kilowatts, 1500.0, high), LATHE) == expected


def test_the_same_cut_stalls_below_the_base_speed() -> None:
    assert about(cut_of(4.0, 1500.0), LATHE) == []
    assert about(cut_of(4.0, 400.0), LATHE) == [("load", 3)]
    caution = triggered(cut_of(4.0, 400.0), LATHE)[0]
    assert "4.00 kW" in caution.message.say()
    assert "it stalls" in caution.message.say(View("inch"))


def test_grip_against_the_torque_of_the_cut() -> None:
    # VDI 3106: the grip times friction and safety holds the tangential force on its own diameter
    assert grip_against_torque(1.5, 2000.0, 60.0, 0.1, 30.0) == pytest.approx(60_000.0)
    weak, firm = Machine(grip_force=10_000.0), Machine(grip_force=20_000.0)
    work = Work(work_diameter=60.0)
    unjudged = ("grip_force", 1)  # without the length out and that in the jaws tilting is not known, and said to be so
    assert about(cut_of(1.0, 500.0), weak, work) == [("grip_force", 3), unjudged]
    assert about(cut_of(1.0, 500.0), firm, work) == [unjudged]
    assert load_of(cut_of(1.0, 500.0), weak).grip_needed is None


def test_the_chucks_marking_and_the_length_out_are_minded() -> None:
    fast = Machine(max_rpm=4000.0, chuck_limit=3200.0)
    assert about(cut_of(1.0, 500.0), fast) == [("max_rpm", 3)]
    long = Work(work_diameter=20.0, length_out=100.0)
    assert about(cut_of(1.0, 500.0), Machine(), long) == [("length_out", 3)]
    assert about(cut_of(1.0, 500.0), Machine(), Work(work_diameter=20.0, length_out=100.0, held="tailstock")) == []


def test_the_limit_holds_the_speed() -> None:
    assert limited_rpm(3000.0, LATHE) == 2500.0
    assert limited_rpm(1000.0, LATHE) == 1000.0


def test_power_reads_in_both_systems() -> None:
    # 11 kW are 14.75 hp
    assert POWER.shown(11 * KW, View("inch")) == pytest.approx(14.7512, abs=5e-5)


def test_a_cut_above_the_chucks_marking_is_told_though_no_spindle_limit_is_given() -> None:
    # boring 6061-T6 on 20 mm at 595 m/min runs at 9,470 1/min: the chuck's marking binds with or without a limit
    chuck, cut = Machine(chuck_limit=3200.0), cut_of(1.0, 9470.0)
    (caution,) = triggered(cut, chuck)
    told = caution.message.say()
    assert (caution.about, caution.severity) == ("max_rpm", 3)
    assert "At 9470 1/min the chuck is over its marked 3200 1/min" in told
    assert "spindle limit of 3200 1/min or less" in told


@pytest.mark.parametrize(
    ("rpm", "machine"),
    [
        (3200.0, Machine(chuck_limit=3200.0)),
        (1200.0, Machine(chuck_limit=3200.0)),
        (6000.0, Machine()),  # as much as chucks are usually marked for
        (2500.0, Machine(chuck_limit=3200.0, max_rpm=2500.0)),
    ],
)
def test_a_cut_that_keeps_to_the_chucks_marking_is_silent(rpm: float, machine: Machine) -> None:
    assert about(cut_of(1.0, rpm), machine) == []


def test_with_neither_marking_nor_limit_a_speed_that_no_chuck_is_usually_marked_for_is_told() -> None:
    assert about(cut_of(1.0, 9470.0), Machine()) == [("max_rpm", 2)]


def test_the_grip_holds_the_force_along_the_axis_with_the_torque() -> None:
    # friction holds the resultant: 3, 4, 5; alone the torque would need 1.5 x 3000 / 0.1 = 45 kN
    machine, work = Machine(grip_force=1.0), Work(work_diameter=60.0)
    both = load_of(Cut(3000.0, 3000.0, KW, 60.0, 500.0, 4000.0), machine, work).grip_needed
    assert both == pytest.approx(1.5 * 5000.0 / 0.1)


def test_work_that_tilts_out_of_the_jaws_is_told_where_the_length_in_them_is_known() -> None:
    # balance of moments about one jaw's direction: two jaws, each a third of the grip, root 3 / 2 of it across
    grip, out, inside = 24_000.0, 60.0, 20.0
    jaw = grip / 3 * math.sqrt(3) / 2
    held = 2 * jaw * inside / 2 + 2 * 0.1 * jaw * 60.0 / 2
    force = held / out / 1.5
    machine = Machine(grip_force=grip)
    work = Work(work_diameter=60.0, length_out=out, grip_length=inside)
    found = load_of(Cut(force, force, KW, 1.0, 500.0), machine, work)
    assert found.grip_against_tilt == pytest.approx(grip)
    more = Cut(1.01 * force, force, KW, 1.0, 500.0)
    assert about(more, machine, work) == [("grip_force", 3)]
    assert about(more, machine, Work(work_diameter=60.0, length_out=out, grip_length=inside, held="tailstock")) == []
    assert load_of(more, machine, Work(work_diameter=60.0, length_out=out)).grip_against_tilt is None


def test_power_without_a_base_speed_is_not_claimed_at_a_low_speed() -> None:
    """11 kW at the motor are 8.80 kW from the base speed up: what there is at 191 1/min is not known."""
    bare = Machine(motor_power=11 * KW)
    (caution,) = triggered(cut_of(4.0, 191.0), bare)
    assert caution.about == "base_rpm"
    told = caution.message.say()
    for words in ("8.80 kW hold from the base speed up", "at 191 1/min is not known", "420 1/min", "4.00 kW"):
        assert words in told
    assert about(cut_of(1.0, 1500.0), bare) == []
    assert about(cut_of(4.0, 191.0), Machine(motor_power=11 * KW, rated_torque=300_000.0)) == []
