"""A tool held against any contour answers as it does on a dish, and names the element that stops it."""

from __future__ import annotations

import math

import pytest

from calc.contour.text import read_rows, rows_of
from calc.language.problems import Missing, Problem
from calc.language.quantities import View
from calc.questions.tools import reach
from calc.questions.tools.reach_asked import HoldInputs, ReachInputs
from calc.questions.tools.reach_contour import ReachContourInputs, solve

CNMG = {"insert": "CNMG 120408", "holder": "PCLNR 2525M12"}


def entered(text: str) -> object:
    given, faults = read_rows(rows_of(text), View())
    assert not faults
    return given


def asked(text: str, **more: object) -> ReachContourInputs:
    return ReachContourInputs(**{**CNMG, "contour": entered(text), **more})  # type: ignore[arg-type]


def test_the_seat_as_a_contour_stops_the_tool_as_the_seat_as_a_dish_does() -> None:
    """The seat without its edge: slope 19.948 degrees at the mouth, 5 degrees free behind an 80 degree insert at 95."""
    dish = reach.solve(ReachInputs(**CNMG, radius=75.0, depth=4.5)).results  # type: ignore[arg-type]
    found = solve(asked("s_x51.17616632769595_z0*a_r75_x0_z-4.5_ccw", side="left")).results
    assert (found.verdict, found.stopped_by) == ("is stopped", "element 1")
    assert found.margin_behind == pytest.approx(dish.margin_behind, abs=1e-6)
    assert math.degrees(found.margin_behind or 0.0) == pytest.approx(5.0 - 19.948, abs=0.001)


@pytest.mark.parametrize(
    ("fall", "verdict"), [("1", "passes"), ("2", "passes"), ("4", "is tight"), ("6", "is stopped")]
)
def test_a_falling_cone_is_held_against_the_edge_behind(fall: str, verdict: str) -> None:
    """95 degrees entering and 80 included leave 5 degrees behind; within 2 of it the edge is tight, beyond it cuts."""
    assert solve(asked(f"s_x40_z0*l_dz-30_ha{fall}_down")).results.verdict == verdict


def test_travel_the_other_way_asks_the_other_edge() -> None:
    there = solve(asked("s_x40_z0*l_dz-30_ha4_down")).results
    back = solve(asked("s_x40_z0*l_dz-30_ha4_down", hold=HoldInputs(travel="out"))).results
    assert (there.margin_ahead, there.margin_behind) == pytest.approx((back.margin_behind, back.margin_ahead))


def test_an_inside_corner_keeps_what_the_nose_leaves() -> None:
    answer = solve(asked("s_x20_z0*t_z-20*f_x40"))
    assert answer.results.verdict == "is tight"
    said = answer.cautions[0].message.say()
    assert said.startswith("The nose leaves R0.8 mm in the inside corner at X20.000 Z-20.000: at most 0.234 mm,")


def test_without_a_contour_the_first_element_is_asked_for() -> None:
    with pytest.raises(Missing) as caught:
        solve(ReachContourInputs(**CNMG))  # type: ignore[arg-type]
    assert [fault.field for fault in caught.value.faults] == ["contour"]


def test_a_wrong_letter_of_a_designation_is_refused_at_its_field() -> None:
    with pytest.raises(Problem) as caught:
        solve(asked("s_x40_z0*t_z-30", insert="1CMT 11T304"))
    assert {fault.field for fault in caught.value.faults} == {"insert"}


@pytest.mark.parametrize("shape", ["stem", "pad", "seat"])
def test_the_example_parts_are_drawn_with_the_tool(shape: str) -> None:
    drawing = solve(ReachContourInputs(**CNMG, shape=shape)).drawn()  # type: ignore[arg-type]
    assert drawing is not None
    assert {outline.role for outline in drawing.outlines} == {"insert", "holder"}


@pytest.mark.parametrize(
    ("insert", "holder"),
    [("CNMG 120408", "PCLNR 2525M12"), ("DNMG 150608", "PDJNR 2525M15"), ("VNMG 160404", "MVJNR 2525M16"),
     ("VBMT 160404", "SVJBR 2525M16")],
)  # fmt: skip
def test_the_commonest_cut_is_not_stopped(insert: str, holder: str) -> None:
    """A cylinder of 30 to Z-50 and a shoulder to 50, 2 mm deep: 2 mm over the sine of 95 or 93 degrees."""
    answer = solve(asked("s_x30_z0*t_z-50*f_x50", insert=insert, holder=holder, pass_depth=2.0))
    assert answer.results.reaches
    assert 2.0 < (answer.results.edge_in_use or 0.0) < 2.01
    assert any("taken along X" in each.say() for each in answer.sentences["Checks"])


@pytest.mark.parametrize(
    ("bore", "insert", "holder", "least"),
    [("14", "CCMT 060204", "S10K-SCLCR06", 12.0), ("25", "CCMT 09T304", "S16R-SCLCR09", 19.0)],
)
def test_ordinary_boring_passes_and_says_which_assumption_decides(
    bore: str, insert: str, holder: str, least: float
) -> None:
    answer = solve(asked(f"s_x{bore}_z0*t_z-20", insert=insert, holder=holder, side="left", pass_depth=1.0))
    assert (answer.results.verdict, answer.results.least_bore_bar) == ("passes", least)
    assert any("The tilt is not known: a bar is ground" in each.say() for each in answer.sentences["Checks"])
