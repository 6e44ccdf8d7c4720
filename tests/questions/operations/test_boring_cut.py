"""A boring cut: Kienzle with boring's factor, forces by the nose, the bar's cautions, refusals."""

import dataclasses
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.machine import Machine, ToolBar
from calc.cutting.materials import materials
from calc.cutting.stiffness import BarOf
from calc.language.problems import Impossible, Missing, OutOfRange
from calc.language.quantities import View
from calc.questions.cutting.compare import solve as compare
from calc.questions.cutting.compare_inputs import BarOfCut, CompareInputs, LimitInputs
from calc.questions.cutting.force import ForceInputs
from calc.questions.cutting.force import solve as turn
from calc.questions.operations.boring_cut import FEATURE, BoringInputs, solve
from tests.asking import asked
from tests.drawn import mostly, mostly_answered

anything = st.none() | st.floats(allow_nan=True, allow_infinity=True) | st.floats(0.005, 80.0)
CUT: dict[str, Any] = {"material": "C45", "bore_diameter": 40.0, "depth": 1.0, "feed": 0.15, "nose_radius": 0.4}


def test_the_force_is_that_of_turning_times_the_factor_of_boring() -> None:
    # Praxis der Zerspantechnik, from memory: 1.2 for turning inside
    bored = solve(BoringInputs(**CUT, entering_angle=math.radians(95.0))).results
    turned = turn(
        ForceInputs(
            material="C45",
            depth=1.0,
            feed=0.15,
            nose_radius=0.4,
            surface_speed=187_000.0,
            entering_angle=math.radians(95.0),
        )
    ).results
    assert bored.cutting_force == pytest.approx(1.2 * turned.cutting_force)
    assert bored.components.passive_force == pytest.approx(1.2 * (turned.components.passive_force or 0.0))


def test_speed_time_and_torque_follow_from_the_bore() -> None:
    found = solve(BoringInputs(**CUT, bore_length=50.0)).results
    rpm = 153_000 / (math.pi * 40)  # 0.85 times the 180 m/min that roughing outside usually starts with
    assert found.rpm == pytest.approx(rpm)
    assert found.time == pytest.approx(50 / (0.15 * rpm))
    assert found.torque * 2 * math.pi * found.rpm == pytest.approx(found.power)


def test_a_larger_nose_turns_the_thrust_against_the_bar() -> None:
    passive = [
        solve(BoringInputs(**{**CUT, "nose_radius": r})).results.components.passive_force or 0.0
        for r in (0.2, 0.4, 0.8)
    ]
    assert passive == sorted(passive)
    shallow = solve(BoringInputs(**{**CUT, "depth": 0.2, "nose_radius": 0.8}))
    assert [c.about for c in shallow.cautions] == ["depth"]


def test_the_bar_is_held_against_its_material() -> None:
    def about(made: BarOf, out: float, **changes: Any) -> list[tuple[str, int]]:
        bar = ToolBar(tool_bar_diameter=16.0, stick_out=out, tool_bar_material=made)
        return [(c.about, c.severity) for c in solve(BoringInputs(**{**CUT, **changes}, bar=bar)).cautions]

    assert about("steel", 60.0) == []
    assert about("steel", 80.0) == [("stick_out", 2)]
    assert about("steel", 110.0) == [("stick_out", 3)]
    assert about("heavy", 80.0) == []
    assert about("carbide", 110.0) == []
    assert about("steel", 40.0, bore_length=50.0) == [("stick_out", 3)]
    assert about("steel", 60.0, bore_diameter=22.0) == [("tool_bar_diameter", 1)]


def test_bars_and_cuts_that_do_not_go_are_refused() -> None:
    with pytest.raises(Impossible, match="does not go into the hole"):
        solve(BoringInputs(**CUT, bar=ToolBar(tool_bar_diameter=38.0)))
    with pytest.raises(Impossible, match="drill first"):
        solve(BoringInputs(**{**CUT, "depth": 20.0}))


def test_the_machine_is_held_against_the_cut() -> None:
    weak = Machine(motor_power=1.0 * 60e6, max_rpm=1000.0)
    answer = solve(BoringInputs(**CUT, machine=weak))
    assert answer.results.rpm == 1000.0
    assert answer.results.machine_load.load is not None
    assert answer.results.machine_load.load > 1.0
    assert [c.about for c in answer.cautions] == ["load"]


def test_each_missing_value_is_asked_for_at_its_field() -> None:
    with pytest.raises(Missing) as raised:
        solve(asked(BoringInputs))
    assert [fault.field for fault in raised.value.faults] == [
        "material",
        "bore_diameter",
        "depth",
        "feed",
        "nose_radius",
    ]


@pytest.mark.parametrize("name", ["bore_diameter", "depth", "feed", "nose_radius", "entering_angle", "bore_length"])
@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 1e9])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(name: str, bad: float) -> None:
    with pytest.raises(OutOfRange) as raised:
        solve(BoringInputs(**{**CUT, name: bad}))
    assert raised.value.faults[0].field == name


@mostly_answered
@given(
    st.sampled_from(materials()),
    mostly(st.floats(8.0, 80.0), anything),
    mostly(st.floats(0.1, 3.0), anything),
    mostly(st.floats(0.05, 0.4), anything),
    mostly(st.floats(0.1, 1.2), anything),
    mostly(st.none() | st.floats(5.0, 32.0), anything),
    mostly(st.none() | st.floats(5.0, 160.0), anything),
)
def test_any_values_give_a_right_answer_or_a_sentence(
    work: Any, bore: Any, depth: Any, feed: Any, nose: Any, bar: Any, out: Any
) -> None:
    values = {"bore_diameter": bore, "depth": depth, "feed": feed, "nose_radius": nose}
    answer = solve(asked(BoringInputs, material=work.code, **values, tool_bar_diameter=bar, stick_out=out))
    found = answer.results
    assert found.chip_thickness * found.chip_width == pytest.approx(depth * feed)
    assert found.cutting_force_low <= found.cutting_force * (1 + 1e-9) <= found.cutting_force_high * (1 + 2e-9)
    for message in (*answer.notes, *(caution.message for caution in answer.cautions)):
        assert "{" not in message.say(View("inch"))


def test_the_working_shows_speed_chip_and_forces() -> None:
    bar = ToolBar(tool_bar_diameter=16.0, stick_out=60.0)
    _, steps = FEATURE.answer(BoringInputs(**CUT, bore_length=50.0, bar=bar))
    shown = [step.symbols[0] for step in steps]
    assert shown == [
        *("n", "b", "h_m", "k_c", "F_c", "F_c", "P", "kappa_e", "F_t", "F_f", "F_p", "q_L", "t_n", "M", "Q"),
        *("I", "delta", "dD", "f_1"),
    ]


def test_a_bar_that_the_cut_pulls_in_has_no_deflection_and_it_is_said() -> None:
    """An edge at 107.5° and a depth five times the nose: the thrust turns from the wall into it (geometry)."""
    cut = {**CUT, "depth": 2.0, "entering_angle": math.radians(107.5)}
    found: Any = solve(BoringInputs(**cut, bar=ToolBar(tool_bar_diameter=25.0, stick_out=75.0)))
    assert found.results.components.passive_force < 0.0
    assert found.results.bar.bar_deflection is None
    assert [note for note in found.notes if "pulls the edge into the wall" in note.say()]
    assert not [note for note in solve(BoringInputs(**cut)).notes if "pulls" in note.say()]


def test_cut_force_bar_and_diameter_are_one_answer() -> None:
    bar = ToolBar(tool_bar_diameter=25.0, stick_out=100.0)
    found: Any = solve(BoringInputs(**CUT, bar=bar)).results
    # beam theory, F L^3 / (3 E I); and 8 times as far at twice the stick-out
    inertia = math.pi * 25.0**4 / 64
    assert found.bar.bar_deflection == pytest.approx(found.components.passive_force * 100.0**3 / (3 * 210e3 * inertia))
    assert found.bar.diameter_error == pytest.approx(2 * found.bar.bar_deflection)
    assert found.bar.diameter_error_high > found.bar.diameter_error
    # check value, computed: a steel rod of 25 by 100 rings at 1808.946 Hz
    assert found.bar.frequency / 60 == pytest.approx(1808.95, abs=0.01)
    longer: Any = solve(BoringInputs(**CUT, bar=ToolBar(tool_bar_diameter=25.0, stick_out=200.0))).results
    assert longer.bar.bar_deflection == pytest.approx(8 * found.bar.bar_deflection)
    assert solve(BoringInputs(**CUT)).results.bar.bar_deflection is None


@pytest.mark.parametrize("nose", [0.4, 0.8, 1.2, 2.0])
def test_two_inputs_compared_have_the_same_bar_deflection_as_this_page(nose: float) -> None:
    shared: dict[str, Any] = {"material": "C45", "depth": 1.0, "surface_speed": 150_000.0, "nose_radius": nose}
    bored = BoringInputs(**shared, bore_diameter=60.0, feed=0.15, bar=ToolBar(tool_bar_diameter=25.0, stick_out=100.0))
    kappa = bored.entering_angle or math.radians(95.0)
    compared = CompareInputs(
        **shared, feed=0.15, feed_to=0.3, surface_speed_to=151_000.0, entering_angle=kappa, shown="deflection",
        bar=BarOfCut(tool_bar_diameter=25.0, stick_out=100.0), limits=LimitInputs(chip_most=0.15),
    )  # fmt: skip
    found = compare(compared).results
    here = solve(dataclasses.replace(bored, feed=found.at_feed or 0.0, entering_angle=kappa)).results.bar.bar_deflection
    assert found.bar_deflection == pytest.approx(here)
