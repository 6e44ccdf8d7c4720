"""A hole on the axis: pecks that add up, allowances, depths, what the other questions say, refusals."""

from __future__ import annotations

import re
from math import isclose, pi, radians, tan
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.holes import drill_below, ream_allowance
from calc.cutting.materials import material
from calc.cutting.pecking import pecks
from calc.cutting.starting import starting_cut
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.questions.operations.boring_cut import BoringInputs
from calc.questions.operations.boring_cut import solve as solve_boring
from calc.questions.operations.drilling import DrillingInputs
from calc.questions.operations.drilling import solve as solve_drilling
from calc.questions.operations.hole.feature import FEATURE
from calc.questions.operations.hole.fields import HoleInputs
from calc.questions.threads.tapping import TappingInputs
from calc.questions.threads.tapping import solve as solve_tapping
from server.query import read_query
from tests.asking import asked

HOLE: dict[str, Any] = {"material": "C45", "bore_diameter": 10.0, "hole_depth": 60.0}


def solve(**values: Any) -> Any:
    return FEATURE.solve(asked(HoleInputs, **{**HOLE, **values}))


@given(depth=st.floats(0.5, 2000.0), first=st.floats(0.1, 300.0), following=st.floats(0.1, 100.0))
def test_pecks_add_up_to_the_depth_and_none_is_deeper_than_asked(depth: float, first: float, following: float) -> None:
    ends = pecks(depth, first, following)
    assert ends[-1] == depth
    steps = [end - start for start, end in zip((0.0, *ends), ends, strict=False)]
    assert sum(steps) == pytest.approx(depth)
    assert all(0.0 < step <= following * (1 + 1e-6) + 1e-9 for step in steps[1:])
    assert steps[0] == pytest.approx(min(first, depth))


@pytest.mark.parametrize(
    ("changes", "count"),
    [
        ({"hole_depth": 30.0}, 1),  # three diameters: in one go, as handbooks of drilling have it, from memory
        ({"hole_depth": 60.0}, 5),
        ({"hole_depth": 60.0, "coolant": "through"}, 1),
        ({"hole_depth": 60.0, "retract": "none"}, 1),
        ({"hole_depth": 60.0, "drill_material": "coated carbide", "coolant": "through"}, 1),
        ({"hole_depth": 60.0, "material": "1.4301"}, 9),  # long chips: half a diameter each
    ],
)
def test_ordinary_holes_are_pecked_as_a_setter_would(changes: dict[str, Any], count: int) -> None:
    answer = solve(**changes)
    assert answer.results.peck_count == count
    assert sum(row.deep for row in answer.tables["pecks"]) == pytest.approx(answer.results.tip_depth)


def test_the_tip_is_deeper_by_the_point() -> None:
    # handbooks print 0.3 of the diameter for 118 degrees
    assert solve().results.tip_depth == pytest.approx(60.0 + 10.0 * 0.3004303)
    assert solve(drill_material="coated carbide").results.tip_depth == pytest.approx(60 + 5 / tan(radians(70)))
    assert solve(through="through").results.tip_depth == pytest.approx(60.0 + 3.004303 + 2.0)


def test_speed_feed_force_are_those_of_the_question_of_drilling() -> None:
    here = solve().results
    there = solve_drilling(
        DrillingInputs(material="C45", drill_diameter=10.0, hole_depth=60.0, point_angle=radians(118.0))
    ).results
    assert (here.rpm, here.feed, here.torque, here.thrust, here.power) == (
        there.rpm,
        there.feed,
        there.torque,
        there.thrust,
        there.power,
    )
    assert here.drill_time > there.time


def test_the_time_has_every_retract_in_it() -> None:
    """Counted out by hand: 12 deep, pecks 6, 3, 3 to the tip, 8 m/min rapid, 1 mm fed again after each return."""
    answer = solve(
        hole_depth=12.0, bore_diameter=4.0, first_peck=6.0, following_peck=3.7, retract="out", drill_point=pi - 1e-9
    )
    found = answer.results
    assert [round(row.tip, 6) for row in answer.tables["pecks"]] == [6.0, 9.0, 12.0]
    rapid = (6 + 2) + (9 + 2) + (12 + 2) + (6 + 2 - 1) + (9 + 2 - 1)
    fed = 12 + 2 + 2 * 1
    assert found.drill_time == pytest.approx(rapid / 8000 + fed / (found.feed * found.rpm), rel=1e-6)


def test_breaking_the_chip_is_quicker_than_coming_out() -> None:
    assert solve(retract="break").results.time < solve(retract="out").results.time


@pytest.mark.parametrize(
    ("material", "diameter", "low", "high"),
    [  # trade handbook tables of reaming allowances, from memory
        ("C45", 5.0, 0.1, 0.2),
        ("C45", 12.0, 0.2, 0.3),
        ("C45", 25.0, 0.3, 0.4),
        ("6061-T6", 16.0, 0.3, 0.4),
        ("1.4301", 16.0, 0.2, 0.25),
    ],
)
def test_the_drill_leaves_what_a_reamer_takes(material: str, diameter: float, low: float, high: float) -> None:
    found = solve(material=material, bore_diameter=diameter, hole_depth=2 * diameter, finished="reamed").results
    assert low - 1e-9 <= found.depths.left <= high + 0.25 + 1e-9  # the shelf may lack the drill that leaves just that
    assert found.depths.full_depth == 2 * diameter + 2.0


@given(diameter=st.floats(0.3, 120.0))
def test_a_drill_of_the_shelf_is_never_above_what_was_asked_and_at_most_one_step_below(diameter: float) -> None:
    found = drill_below(diameter)
    assert diameter - 1.0 <= found <= diameter + 1e-6
    assert isclose(found * 20, round(found * 20), abs_tol=1e-6)


def test_allowances_are_ordered() -> None:
    for group in "PMKNSH":
        for diameter in (3.0, 8.0, 15.0, 25.0, 60.0):
            left = ream_allowance(group, diameter)
            assert 0.0 < left.low <= left.usual <= left.high < 1.0


def test_a_tapped_hole_is_the_tapping_questions_own() -> None:
    answer = solve(bore_diameter=None, finished="tapped", designation="M10-6H", hole_depth=20.0)
    there = solve_tapping(TappingInputs(designation="M10-6H", length=20.0, material="C45")).results
    assert answer.results.drill_diameter == there.tap_drill == 8.5
    assert answer.results.depths.full_depth == there.drill_depth
    tap = answer.tables["tools"][-1]
    assert (tap.tool, tap.diameter, tap.rpm, tap.torque) == ("Tap", 10.0, there.rpm, there.torque)


def test_a_flat_bottom_keeps_the_drills_tip_above_it() -> None:
    found = solve(bore_diameter=30.0, hole_depth=40.0, finished="bored", bottom="flat").results
    assert found.tip_depth == pytest.approx(40.0 - 0.3)
    assert found.depths.per_side == pytest.approx(0.75)


def test_a_spot_of_ninety_degrees_makes_the_countersink_too() -> None:
    answer = solve(countersink_diameter=12.0)
    assert [row.tool for row in answer.tables["tools"]] == ["Spot, 90°", "Drill"]
    assert answer.results.depths.spot_depth == pytest.approx(6.0)
    assert answer.results.depths.countersink_depth == pytest.approx(1.0)
    other = solve(countersink_diameter=12.0, countersink_angle=radians(60.0))
    assert [row.tool for row in other.tables["tools"]] == ["Spot, 90°", "Drill", "Countersink"]
    assert other.results.depths.countersink_depth == pytest.approx(1.0 / tan(radians(30.0)))


def test_a_large_drill_of_high_speed_steel_gets_a_pilot_and_carbide_none() -> None:
    large = {"bore_diameter": 40.0, "hole_depth": 80.0}
    assert [row.tool for row in solve(**large).tables["tools"]][1] == "Pilot drill"
    assert [row.tool for row in solve(**large, pilot_diameter=0.0).tables["tools"]][1] == "Drill"
    assert [row.tool for row in solve(**large, drill_material="indexable").tables["tools"]] == ["Drill"]


def test_the_time_of_all_tools_is_the_sum_of_their_rows() -> None:
    answer = solve(finished="reamed", bore_diameter=12.0, counterbore_diameter=20.0, counterbore_depth=8.0)
    assert [row.tool for row in answer.tables["tools"]] == ["Drill", "Counterbore", "Reamer"]
    assert answer.results.time == pytest.approx(sum(row.time for row in answer.tables["tools"]))


def test_a_boring_bar_has_the_cut_of_the_boring_question_and_the_time_of_its_passes() -> None:
    """38 bored 40 deep after a drill of 36: 1 mm per side in one pass; length and approach over feed and speed."""
    answer = solve(finished="bored", bore_diameter=38.0, hole_depth=40.0, drill_at_hand=36.0, bore_feed=0.1)
    row = answer.tables["tools"][-1]
    alone = solve_boring(
        asked(BoringInputs, material="C45", bore_diameter=38.0, depth=1.0, feed=0.1, nose_radius=0.4)
    ).results
    assert (row.tool, row.rpm, row.torque, row.power) == ("Boring bar", alone.rpm, alone.torque, alone.power)
    assert row.time == pytest.approx(42.0 / (0.1 * alone.rpm) + 42.0 / 8000.0)
    assert answer.results.time == pytest.approx(sum(each.time for each in answer.tables["tools"]))


def test_what_is_too_much_for_one_pass_is_taken_in_equal_ones() -> None:
    once = solve(finished="bored", bore_diameter=38.0, hole_depth=40.0, drill_at_hand=36.0, bore_feed=0.1)
    often = solve(finished="bored", bore_diameter=60.0, hole_depth=40.0, drill_at_hand=36.0, bore_feed=0.1)
    tool = often.tables["tools"][-1]
    passes = int(re.findall(r"(\d+) passes", tool.tool)[0])
    depth = starting_cut(material("C45"), "bore", 0.4)
    assert depth is not None
    assert 12.0 / passes <= depth.depth.high < 12.0 / (passes - 1)
    assert tool.time > once.tables["tools"][-1].time


def test_a_flat_bottom_takes_the_bar_across_it_too() -> None:
    cone, flat = (
        solve(finished="bored", bore_diameter=38.0, drill_at_hand=36.0, bottom=bottom) for bottom in ("cone", "flat")
    )
    row = flat.tables["tools"][-1]
    assert row.time - cone.tables["tools"][-1].time == pytest.approx(19.0 / (row.feed * row.rpm))


def test_a_bar_turning_above_the_marking_or_fed_too_much_is_pointed_out() -> None:
    about = [each.about for each in solve(finished="bored", bore_diameter=20.0, bore_feed=1.5).cautions]
    assert "bore_feed" in about
    fast = solve(finished="bored", bore_diameter=20.0, chuck_limit=1500.0)
    assert any("1500" in each.message.say() for each in fast.cautions if each.about == "max_rpm")


@pytest.mark.parametrize(
    ("changes", "problem"),
    [
        ({"bore_diameter": None}, Missing),
        ({"hole_depth": None}, Missing),
        ({"finished": "tapped"}, Missing),
        ({"counterbore_diameter": 20.0}, Missing),
        ({"hole_depth": -1.0}, OutOfRange),
        ({"hole_depth": float("nan")}, OutOfRange),
        ({"drill_at_hand": 9.0}, Contradiction),
        ({"drill_at_hand": 11.0, "finished": "reamed"}, Impossible),
        ({"left_for_finish": 10.5, "finished": "reamed"}, Impossible),
        ({"countersink_diameter": 8.0}, Impossible),
        ({"countersink_diameter": 500.0}, Impossible),
        ({"counterbore_diameter": 20.0, "counterbore_depth": 60.0}, Impossible),
        ({"bore_diameter": 30.0, "hole_depth": 5.0, "finished": "bored", "bottom": "flat"}, Impossible),
        ({"following_peck": 0.001}, Impossible),
    ],
)
def test_what_cannot_be_is_refused(changes: dict[str, Any], problem: type[Exception]) -> None:
    with pytest.raises(problem):
        solve(**changes)


def test_a_reamer_left_too_little_or_too_much_is_pointed_out() -> None:
    def about(drill: float) -> list[str]:
        answer = solve(finished="reamed", bore_diameter=12.0, hole_depth=20.0, drill_at_hand=drill)
        return [caution.message.say() for caution in answer.cautions if caution.about == "left"]

    assert any("it rubs" in said for said in about(11.95))
    assert any("cuts oversize" in said for said in about(11.0))
    assert about(11.75) == []


def test_a_spot_that_turns_faster_than_the_chuck_is_marked_for_is_pointed_out() -> None:
    slow = {"bore_diameter": 4.0, "hole_depth": 8.0}
    answer = solve(**slow, chuck_limit=2500.0)
    assert answer.results.rpm < 2500.0 < answer.tables["tools"][0].rpm
    assert "max_rpm" in [caution.about for caution in answer.cautions]
    assert "max_rpm" not in [caution.about for caution in solve(**slow, chuck_limit=5000.0).cautions]


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"bore_diameter": 304.0}, "bore_diameter"),
        (
            {"bore_diameter": 304.0, "finished": "reamed", "drill_at_hand": 150.0, "pilot_diameter": 290.0},
            "pilot_diameter",
        ),
        ({"finished": "tapped", "designation": "M10-6H", "drill_at_hand": 3.0}, "drill_at_hand"),
    ],
)
def test_what_another_question_refuses_is_told_at_a_field_of_this_one(changes: dict[str, Any], field: str) -> None:
    with pytest.raises(Problem) as refused:
        solve(**changes)
    assert [fault.field for fault in refused.value.faults] == [field]


@pytest.mark.parametrize(
    ("size", "finished", "is_said"),
    [("20 H7", "drilled", True), ("20 H13", "drilled", False), ("20 H7", "reamed", False), ("20", "drilled", False)],
)
def test_a_drill_is_not_trusted_with_a_close_hole(size: str, finished: str, is_said: bool) -> None:
    """20 H7 has 0.021 (ISO 286-2); twist drills hold IT11 to IT12, about 0.1: common practice, no source."""
    given = {"material": "C45", "bore_diameter": size, "hole_depth": "40", "finished": finished}
    answer, _ = FEATURE.answer(read_query(given.items(), FEATURE.inputs).inputs(FEATURE.inputs))
    assert any("ream or bore it" in each.message.say() for each in answer.cautions) == is_said
