"""The deepest roughing pass of a plan against what the machine gives, and the machine's fields declared once."""

from __future__ import annotations

from math import acos, hypot, pi
from typing import Any

import pytest

from calc.cutting.machine import Machine
from calc.language.fields import specs
from calc.questions.operations.dish_plan.dish import FEATURE, solve
from calc.questions.operations.dish_plan.inputs import DishPlanInputs
from server.query import read_query

SEAT = dict(FEATURE.example) | {"face_stock": "", "motor_power": "", "base_rpm": "", "chuck_limit": ""}
KW = 60e6


def plan(**texts: str) -> Any:
    """The seat with some fields typed otherwise."""
    query = read_query({**SEAT, **texts}.items(), DishPlanInputs)
    assert not query.faults
    return solve(query.inputs(DishPlanInputs))


def about(answer: Any) -> list[str]:
    return [caution.about for caution in answer.cautions]


def kienzle(depth: float, feed: float, nose: float) -> float:
    """Force of a round edge: b = r acos(1 - a/r), h = f a/b, F = kc1.1 h^-mc b h; C45's 2220 N/mm2 and 0.14."""
    width = nose * acos(1 - depth / nose)
    chip = feed * depth / width
    return float(2220.0 * chip**-0.14 * width * chip)


def test_the_plan_asks_for_the_machine_as_every_question_does_and_keeps_its_own_start() -> None:
    asked = {spec.name: spec for spec in specs(DishPlanInputs) if spec.group == "Machine and chuck"}
    assert list(asked) == [spec.name for spec in specs(Machine)]
    assert asked["max_rpm"].start == (2000.0, 2000.0)
    assert all(spec.start is None for spec in specs(Machine))


def test_without_a_machine_the_plan_tells_the_power_and_nothing_more() -> None:
    answer = plan()
    assert answer.results.force.power == pytest.approx(answer.results.force.cutting_force * 180_000.0)
    load = answer.results.machine_load
    assert (load.spindle_rpm, load.power_available, load.load, load.grip_needed) == (None, None, None, None)
    assert answer.sentences["Force and power"] == ()


def test_the_power_at_the_motor_is_that_of_the_cut_over_the_efficiency() -> None:
    """Kienzle's force of the deepest pass times its speed, over 0.8."""
    answer = plan(motor_power="11")
    depth = answer.results.force.force_depth
    force = kienzle(depth, 0.25, 6.0)
    assert answer.results.force.cutting_force == pytest.approx(force)
    assert answer.results.machine_load.motor_power_needed == pytest.approx(force * 180_000.0 / 0.8)
    assert answer.results.machine_load.load == pytest.approx(force * 180_000.0 / (0.8 * 11 * KW))


def test_below_the_base_speed_the_pass_is_held_against_less_power_at_its_outer_end() -> None:
    """A facing cut begins on the bar of 60, at v / (pi D); the drive gives n / n_b of its power."""
    load = plan(motor_power="11", base_rpm="1500", face_stock="1").results.machine_load
    rpm = 180_000.0 / (pi * 60.0)
    assert load.spindle_rpm == pytest.approx(rpm)
    assert load.power_available == pytest.approx(0.8 * 11 * KW * rpm / 1500.0)


def test_a_motor_too_weak_stalls_and_one_that_is_strong_does_not() -> None:
    weak = plan(motor_power="2")
    assert "load" in about(weak)
    assert "stalls" in " ".join(caution.message.say() for caution in weak.cautions)
    assert "load" not in about(plan(motor_power="11"))


def test_a_grip_too_small_for_the_torque_is_told() -> None:
    """VDI 3106: S F D / (mu D_w), 1.5 and 0.1, on the diameter that is held; friction holds a thrust of 0.7 too."""
    answer = plan(face_stock="1", grip_force="5000")
    assert answer.results.machine_load.grip_needed == pytest.approx(
        15.0 * hypot(1.0, 0.7) * answer.results.force.cutting_force
    )
    assert "grip_force" in about(answer)
    held = {"length_out": "20", "grip_length": "40"}
    assert "grip_force" not in about(plan(face_stock="1", grip_force="30000", **held))


def test_a_speed_held_at_the_tool_point_takes_its_power_at_the_true_speed_of_the_contact() -> None:
    contact, point = (plan(speed_at=where, motor_power="11", max_rpm="6000") for where in ("contact", "point"))
    assert point.results.force.power > 1.2 * contact.results.force.power


def test_the_chuck_is_cautioned_about_once() -> None:
    assert about(plan(max_rpm="4000", chuck_limit="3200", motor_power="11")).count("max_rpm") == 1


def test_without_a_spindle_limit_the_motor_is_held_against_its_full_power() -> None:
    load = plan(max_rpm="", motor_power="11").results.machine_load
    assert load.spindle_rpm is None
    assert load.power_available == pytest.approx(0.8 * 11 * KW)
