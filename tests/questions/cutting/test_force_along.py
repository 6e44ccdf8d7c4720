"""Force and power over a whole pass, from the declared inputs."""

from __future__ import annotations

from dataclasses import replace
from math import acos, hypot, pi
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.cutting.machine import Machine, Work
from calc.language.fields import flat
from calc.language.problems import Impossible, Missing, OutOfRange, Problem
from calc.questions.cutting import force
from calc.questions.cutting.force_along import EdgeInputs, ForceAlongInputs, solve
from calc.questions.cutting.force_along_results import HARDEST
from calc.questions.cutting.tool_path import PointsInputs, ShapeInputs
from tests.asking import asked
from tests.tries import tries

KW = 60e6
SEAT = ForceAlongInputs(
    shape="dish",
    material="C45",
    pass_depth=0.84,
    depth_along="z",
    nose_radius=6.0,
    feed=0.25,
    surface_speed=180_000.0,
    sizes=ShapeInputs(radius=75.0, depth=4.5),
    machine=Machine(max_rpm=2000.0),
)
FACE = replace(SEAT, shape="face", sizes=ShapeInputs(outer_diameter=60.0))
anything = st.none() | st.floats(allow_nan=True, allow_infinity=True)


def about(inputs: ForceAlongInputs) -> list[str]:
    return [caution.about for caution in solve(inputs).cautions]


def test_a_face_takes_the_force_and_power_of_the_single_cut() -> None:
    one = force.solve(
        force.ForceInputs(material="C45", depth=0.84, feed=0.25, surface_speed=180_000.0, nose_radius=6.0)
    ).results
    found = solve(FACE).results.largest
    assert found.largest_force == pytest.approx(one.cutting_force)
    assert found.largest_power == pytest.approx(one.power)
    assert found.largest_torque == pytest.approx(one.cutting_force * 30.0)
    assert found.largest_torque_x == pytest.approx(30.0)


def test_the_seats_largest_power_stands_where_the_limit_takes_over() -> None:
    """The depth grows toward the axis while the speed is held; inside v / (pi n) the speed falls (definitions)."""
    found = solve(SEAT).results.largest
    assert found.largest_power_x == pytest.approx(180_000.0 / (2 * pi * 2000.0))
    assert found.largest_force_x == pytest.approx(0.0, abs=1e-9)
    assert found.deepest == pytest.approx(0.84)
    assert found.shallowest == pytest.approx(0.84 * (1 - 4.5 / 75.0))


def test_the_cut_stalls_where_the_machine_gives_less_and_the_caution_names_both() -> None:
    weak = replace(SEAT, machine=Machine(max_rpm=2000.0, motor_power=2.0 * KW, base_rpm=1500.0))
    answer = solve(weak)
    assert answer.results.machine_load.load is not None
    assert answer.results.machine_load.load > 1.0
    (caution,) = [caution for caution in answer.cautions if caution.about == "load"]
    assert "stalls" in caution.message.say()
    strong = replace(SEAT, machine=Machine(max_rpm=2000.0, motor_power=11.0 * KW, base_rpm=1500.0))
    assert "load" not in about(strong)


def test_the_hardest_place_is_where_the_machine_has_least_in_hand_not_where_the_power_is_largest() -> None:
    """Outside, the spindle turns slowest; below the base speed it gives power in proportion."""
    machine = Machine(max_rpm=2000.0, motor_power=11.0 * KW, base_rpm=4000.0)
    found = solve(replace(FACE, machine=machine)).results.machine_load
    rpm = 180_000.0 / (pi * 60.0)
    assert found.spindle_rpm == pytest.approx(rpm)
    assert found.power_available == pytest.approx(11.0 * KW * 0.8 * rpm / 4000.0)


def test_a_sentence_names_the_place_where_the_machine_has_least_in_hand() -> None:
    machine = Machine(max_rpm=2000.0, motor_power=11.0 * KW, base_rpm=4000.0)
    (sentence,) = solve(replace(FACE, machine=machine)).sentences[HARDEST]
    assert sentence.say().startswith("At X60.000 mm, Z0.000 mm the cut takes ")
    assert solve(FACE).sentences[HARDEST] == ()


def test_the_grip_is_held_against_the_largest_torque() -> None:
    """VDI 3106: S F D / (mu D_w) with 1.5 and 0.1, largest at the rim; friction holds a thrust of 0.7 too."""
    gripped = replace(FACE, machine=Machine(max_rpm=2000.0, grip_force=1000.0), work=Work(work_diameter=60.0))
    found = solve(gripped).results
    assert found.machine_load.grip_needed == pytest.approx(1.5 * hypot(1.0, 0.7) * found.largest.largest_force / 0.1)
    assert "grip_force" in about(gripped)


def test_a_speed_held_at_the_tool_point_takes_more_power_at_the_mouth() -> None:
    """Tool point 3 of nose 6 stands 6 (1 + sin) nearer to the axis than the contact (geometry)."""
    point = replace(SEAT, edge=EdgeInputs(speed_at="point"), machine=Machine(max_rpm=6000.0))
    mouth = 75.0 * (1 - (1 - 4.5 / 75.0) ** 2) ** 0.5
    held = mouth * 69.0 / 75.0 - 6.0
    first = solve(point).tables["places"][0]
    assert first.true_speed == pytest.approx(180_000.0 * mouth / held)
    assert "largest_power" in about(point)


def test_a_worn_edge_takes_its_factor_more() -> None:
    """1.3 at the end of an edge's life (Praxis der Zerspantechnik, from memory)."""
    worn = solve(replace(SEAT, edge=EdgeInputs(wear="worn"))).results.largest
    assert worn.largest_force == pytest.approx(1.3 * solve(SEAT).results.largest.largest_force)


def test_a_bore_and_an_outside_are_cut_alike_where_their_diameters_are() -> None:
    points = PointsInputs(x_1=20.0, z_1=0.0, x_2=20.0, z_2=-30.0)
    outside, bore = (solve(replace(SEAT, shape=shape, points=points, depth_along="x")) for shape in ("lines", "bore"))
    assert outside.results.largest == bore.results.largest
    assert [plot.key for plot in bore.plots] == ["power-along", "force-along"]  # X stays along a cylinder


def test_every_largest_value_is_in_the_table_beside_the_curves() -> None:
    answer = solve(SEAT)
    assert max(row.power for row in answer.tables["places"]) == pytest.approx(answer.results.largest.largest_power)
    for plot in answer.plots:
        assert all(len(row) == len(plot.columns) for row in plot.rows)
    xs = [row.x for row in answer.tables["places"]]
    assert xs == sorted(xs, reverse=True)


def test_what_stretches_the_tables_is_told() -> None:
    assert "pass_depth" in about(replace(SEAT, pass_depth=7.0, depth_along="normal"))
    assert "pass_depth" not in about(
        replace(SEAT, pass_depth=7.0, depth_along="normal", edge=EdgeInputs(entering_angle=acos(0.0)))
    )
    assert "largest_force" in about(replace(SEAT, pass_depth=0.05))


def test_what_cannot_be_is_refused_in_words() -> None:
    with pytest.raises(Missing, match="Give the depth per pass"):
        solve(asked(ForceAlongInputs, material="C45", nose_radius=0.8, feed=0.2, surface_speed=180_000.0))
    with pytest.raises(Impossible, match="not cut anywhere"):
        solve(replace(FACE, depth_along="x"))
    with pytest.raises(Impossible, match="give the spindle limit"):
        solve(replace(FACE, machine=Machine()))
    with pytest.raises(Impossible, match="does not fit into the concave"):
        solve(replace(SEAT, nose_radius=80.0))
    with pytest.raises(OutOfRange):
        solve(replace(SEAT, material="cheese"))


@settings(max_examples=tries(80), deadline=None)
@given(st.fixed_dictionaries(dict.fromkeys(("pass_depth", "nose_radius", "feed", "surface_speed"), anything)))
def test_any_numbers_are_answered_or_refused(values: dict[str, Any]) -> None:
    try:
        kept = {name: value for name, value in flat(SEAT).items() if name not in values}
        found = solve(asked(ForceAlongInputs, **kept, **values)).results
    except Problem:
        return
    assert found.largest.largest_power > 0.0
    assert 0.0 < found.mean.mean_power <= found.largest.largest_power * (1 + 1e-9)


@pytest.mark.parametrize("diameter", [60.0, 50.8, 47.4])
def test_places_that_tie_are_the_first_of_them(diameter: float) -> None:
    """Above the diameter of the limit a face takes one power and force everywhere: it stands at the outside."""
    found = solve(replace(FACE, sizes=ShapeInputs(outer_diameter=diameter))).results.largest
    assert found.largest_power_x == pytest.approx(diameter / 2)
    assert found.largest_force_x == pytest.approx(diameter / 2)
