"""The cutting force from its declared inputs."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.corrections import rake_factor, rake_of_tables, speed_factor
from calc.cutting.machine import Machine, Work
from calc.language.problems import Missing, OutOfRange, Problem
from calc.language.quantities import POWER, View
from calc.questions.cutting.force import FEATURE, EdgeInputs, ForceInputs, solve
from tests.asking import asked

anything = st.none() | st.floats(allow_nan=True, allow_infinity=True) | st.floats(0.005, 50.0)
CUT: dict[str, Any] = {"material": "C45", "depth": 3.0, "feed": 0.3, "surface_speed": 200_000.0}
KAPPA = math.radians(95.0)


def test_c45_with_a_straight_edge_takes_its_known_force_and_power() -> None:
    found = solve(ForceInputs(**CUT, entering_angle=KAPPA, diameter=50.0)).results
    assert found.chip_thickness == pytest.approx(0.2988584, abs=5e-8)
    assert found.chip_width == pytest.approx(3.0114595, abs=5e-8)
    assert found.cutting_force == pytest.approx(2366.08, abs=0.006)
    assert POWER.shown(found.power) == pytest.approx(7.88695, abs=6e-6)
    assert found.torque == pytest.approx(2366.08 * 25, rel=1e-5)
    assert found.removal_rate == pytest.approx(180_000.0)
    assert found.cutting_force_low == pytest.approx(1760.89, abs=0.006)
    assert found.power_high == pytest.approx(found.cutting_force_high * 200_000.0)


def test_torque_and_spindle_speed_give_the_power() -> None:
    found = solve(ForceInputs(**CUT, entering_angle=KAPPA, diameter=50.0)).results
    rpm = 200_000.0 / (math.pi * 50.0)
    assert found.torque is not None
    assert found.torque * 2 * math.pi * rpm == pytest.approx(found.power)


def test_a_round_insert_is_told_by_its_nose_alone() -> None:
    found = solve(ForceInputs(**{**CUT, "depth": 0.84, "feed": 0.25, "surface_speed": 180_000.0}, nose_radius=6.0))
    assert found.results.chip_thickness * found.results.chip_width == pytest.approx(0.84 * 0.25)
    assert found.results.torque is None
    assert found.cautions == ()
    assert "published values span" in found.notes[0].say()
    assert "lbf" in found.notes[0].say(View("inch"))


def test_without_nose_or_angle_one_of_them_is_asked_for() -> None:
    for nose in (None, 0.0):
        with pytest.raises(Missing, match="entering angle, or the nose radius"):
            solve(ForceInputs(**CUT, nose_radius=nose))


def test_each_missing_value_is_asked_for_at_its_field() -> None:
    with pytest.raises(Missing) as raised:
        solve(asked(ForceInputs))
    assert [fault.field for fault in raised.value.faults] == ["material", "depth", "feed", "surface_speed"]


def test_an_unknown_material_is_refused_at_its_field() -> None:
    with pytest.raises(OutOfRange, match=r"called “C46”. Give its kind and hardness or its force") as raised:
        solve(ForceInputs(**{**CUT, "material": "C46"}, entering_angle=KAPPA))
    assert raised.value.faults[0].field == "material"
    assert raised.value.faults[0].offers == ()


def test_a_case_outside_the_tables_is_told_once_and_an_ordinary_one_not_at_all() -> None:
    assert solve(ForceInputs(**CUT, entering_angle=KAPPA)).cautions == ()
    thin = solve(ForceInputs(**{**CUT, "feed": 0.02}, entering_angle=KAPPA))
    assert [caution.about for caution in thin.cautions] == ["cutting_force"]
    fast = solve(ForceInputs(**{**CUT, "surface_speed": 900_000.0}, entering_angle=KAPPA))
    assert [caution.about for caution in fast.cautions] == ["surface_speed"]
    assert "between 150 m/min and 260 m/min" in fast.cautions[0].message.say()
    buried = solve(ForceInputs(**CUT, nose_radius=2.0))
    assert [caution.about for caution in buried.cautions] == ["depth"]


@pytest.mark.parametrize("name", ["depth", "feed", "surface_speed", "entering_angle", "nose_radius", "diameter"])
@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 1e9])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(name: str, bad: float) -> None:
    with pytest.raises(OutOfRange) as raised:
        solve(ForceInputs(**{**CUT, "entering_angle": KAPPA, name: bad}))
    assert raised.value.faults[0].field == name


@given(st.text(max_size=20) | st.just("C45"), anything, anything, anything | st.just(2e5), anything, anything, anything)
def test_any_values_give_a_right_answer_or_a_sentence(
    work: str, depth: Any, feed: Any, v: Any, angle: Any, nose: Any, diameter: Any
) -> None:
    cut = {"depth": depth, "feed": feed, "surface_speed": v}
    edge = {"entering_angle": angle, "nose_radius": nose, "diameter": diameter}
    try:
        found = solve(asked(ForceInputs, material=work, **cut, **edge)).results
    except Problem:
        return
    assert found.chip_thickness * found.chip_width == pytest.approx(depth * feed)
    assert 0.0 < found.cutting_force_low <= found.cutting_force * (1 + 1e-9) <= found.cutting_force_high * (1 + 2e-9)
    assert math.isfinite(found.power)


def test_the_working_shows_chip_force_power_and_removal() -> None:
    _, steps = FEATURE.answer(ForceInputs(**CUT, entering_angle=KAPPA, diameter=50.0))
    shown = [step.symbols[0] for step in steps]
    assert shown == ["b", "h", "k_c", "F_c", "P", "F_t", "F_f", "F_p", "Q", "M", "P_u", "d"]


def test_rake_speed_and_wear_correct_the_force_as_their_sources_state() -> None:
    plain = solve(ForceInputs(**CUT, entering_angle=KAPPA)).results
    edge = EdgeInputs(rake_angle=math.radians(-6.0), wear="worn", correct_speed="yes")
    found = solve(ForceInputs(**CUT, entering_angle=KAPPA, edge=edge)).results
    expected = rake_factor(math.radians(-6.0), rake_of_tables("P")) * speed_factor(200_000.0) * 1.3
    assert plain.correction is None
    assert found.correction == pytest.approx(expected)
    assert found.cutting_force == pytest.approx(expected * plain.cutting_force)
    assert found.cutting_force_low == pytest.approx(expected * plain.cutting_force_low)


def test_the_cut_is_held_against_the_machine_at_its_spindle_speed() -> None:
    lathe = Machine(motor_power=11 * 60e6, base_rpm=1000.0, efficiency=0.8)
    found = solve(ForceInputs(**CUT, entering_angle=KAPPA, diameter=100.0, machine=lathe))
    load = found.results.machine_load
    rpm = 200_000.0 / (math.pi * 100.0)
    assert load.spindle_rpm == pytest.approx(rpm)
    assert load.power_available == pytest.approx(11 * 60e6 * 0.8 * rpm / 1000)
    assert load.motor_power_needed == pytest.approx(found.results.power / 0.8)
    assert [(c.about, c.severity) for c in found.cautions] == [("load", 3)]


def test_the_works_diameter_serves_where_no_other_is_given() -> None:
    found = solve(ForceInputs(**CUT, entering_angle=KAPPA, work=Work(work_diameter=50.0))).results
    assert found.torque == pytest.approx(2366.08 * 25, rel=1e-5)


def test_where_the_limit_holds_speed_and_power_fall() -> None:
    slow = solve(ForceInputs(**CUT, entering_angle=KAPPA, diameter=20.0, machine=Machine(max_rpm=1000.0)))
    assert slow.results.power == pytest.approx(slow.results.cutting_force * math.pi * 20 * 1000)
    assert [c.about for c in slow.cautions] == ["surface_speed"]
    assert "63 m/min, not 200 m/min" in slow.cautions[0].message.say()


def test_unit_power_stands_beside_and_the_difference_is_said() -> None:
    answer = solve(ForceInputs(**CUT, entering_angle=KAPPA))
    compared = answer.results.compared
    assert compared.unit_power_difference == pytest.approx(
        (compared.power_by_unit_power or 0.0) / answer.results.power - 1
    )
    assert "than by the cutting force" in answer.sentences["By unit power"][0].say()
    hard = solve(ForceInputs(**{**CUT, "material": "100Cr6 60 HRC", "surface_speed": 140_000.0}, nose_radius=6.0))
    assert hard.results.compared.power_by_unit_power is None
    assert "gives no unit power" in hard.sentences["By unit power"][0].say()


def test_another_tool_material_has_its_own_usual_speeds() -> None:
    slow = ForceInputs(**{**CUT, "surface_speed": 25_000.0}, entering_angle=KAPPA, edge=EdgeInputs(tool="HSS"))
    assert solve(slow).cautions == ()
    fast = ForceInputs(**CUT, entering_angle=KAPPA, edge=EdgeInputs(tool="HSS"))
    assert "with HSS" in solve(fast).cautions[0].message.say()


def test_hard_steel_pushes_the_tool_away_harder_than_it_is_cut() -> None:
    # common practice, from memory: the passive force of hard turning exceeds the cutting force
    cut = {**CUT, "material": "100Cr6 60 HRC", "depth": 0.15, "feed": 0.15, "surface_speed": 140_000.0}
    found = solve(ForceInputs(**cut, nose_radius=6.0)).results
    assert (found.components.passive_force or 0.0) > found.cutting_force


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 0.0])
@pytest.mark.parametrize(
    "name", ["max_rpm", "motor_power", "efficiency", "base_rpm", "rated_torque", "chuck_limit", "grip_force"]
)
def test_a_machine_that_cannot_be_meant_is_refused_at_its_field(name: str, bad: float) -> None:
    with pytest.raises(OutOfRange) as raised:
        solve(ForceInputs(**CUT, entering_angle=KAPPA, machine=Machine(**{name: bad})))
    assert raised.value.faults[0].field == name


def test_power_reads_in_horsepower_of_33000_foot_pounds() -> None:
    # 1 hp is 745.69987 W
    found = solve(ForceInputs(**CUT, entering_angle=KAPPA)).results
    assert POWER.shown(found.power, View("inch")) == pytest.approx(7.88695 / 0.74569987, rel=1e-6)


def test_a_round_inserts_designation_says_its_nose() -> None:
    cut = {**CUT, "depth": 0.84, "feed": 0.25}
    named = solve(ForceInputs(**cut, insert="RCMT 1204M0")).results
    assert named.cutting_force == solve(ForceInputs(**cut, nose_radius=6.0)).results.cutting_force


def test_a_pointed_inserts_designation_still_needs_the_entering_angle() -> None:
    with pytest.raises(Missing) as caught:
        solve(ForceInputs(**CUT, insert="CNMG 120408"))
    assert [fault.field for fault in caught.value.faults] == ["entering_angle"]
    named = solve(ForceInputs(**CUT, insert="CNMG 120408", entering_angle=KAPPA)).results
    assert (
        named.chip_thickness == solve(ForceInputs(**CUT, nose_radius=0.8, entering_angle=KAPPA)).results.chip_thickness
    )
