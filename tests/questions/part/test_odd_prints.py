"""Prints as people type them whose plans were refused, crashed, or warned of what is none: found at random."""

from __future__ import annotations

import math

import pytest

from calc.language.problems import Problem
from calc.machining.blades import Blade, walls
from calc.machining.job import Contour
from calc.questions.part.feature import FEATURE
from server.query import read_query
from tests.questions.part.test_kinds import chain
from tests.questions.part.test_proposed_for_shop_parts import LATHE, proposed

BAR = {"material": "C45", "bar_diameter": "50", "face_stock": "1", **LATHE}
VANISHED = "s_x0_z0*f*c1*t_x34_z-1*l_x36_z-8*t_z-20"
"""The chamfer takes all of the cylinder that follows it."""


def grave(texts: dict[str, str]) -> list[str]:
    return [each.message.say() for each in proposed(texts)[1].cautions if each.severity == 3]


@pytest.mark.parametrize(("thread", "drill"), [("M8-6H", "6.8 mm"), ("M5-6H", "4.2 mm"), ("M12-6H", "10.2 mm")])
def test_a_tap_drill_within_the_limits_of_the_core_cuts_nothing_of_the_part(thread: str, drill: str) -> None:
    """Ø6.8 for M8 (ISO 2306) is within 6.647 to 6.912 (ISO 965-1) and above their middle, 6.78, to which a print's core
    is drawn: every M8 was said to be drilled into the part by a hundredth, and not to be run.
    """
    texts = {**BAR, "outside": "s_x0_z0*f*t_x46_z-14", "inside": f"s_z0*h_named{thread}_z-14"}
    rows, answer = proposed(texts)
    assert [row["size"] for row in rows if row["kind"] == "drill"] == [drill]
    assert grave(texts) == []
    assert answer.results.cut_too_deep == 0.0


def test_a_drill_beyond_the_limits_of_the_core_still_cuts_into_it() -> None:
    """Ø7 for an M8, whose core may be 6.912."""
    texts = {**BAR, "outside": "s_x0_z0*f*t_x46_z-14", "inside": "s_z0*h_namedM8-6H_z-14"}
    drill = "kind:drill~size:7 mm~surface_speed:20 m/min~feed:0.1 mm/rev"
    tap = "kind:tap~thread:M8-6H~surface_speed:8 m/min~from_row:1~to_row:1"
    query = read_query({**texts, "operations": f"{drill}*{tap}"}.items(), FEATURE.inputs)
    answer = FEATURE.answer(query.inputs(FEATURE.inputs))[0]
    assert any("cuts 0.11" in each.message.say() for each in answer.cautions)


def test_a_cylinder_that_its_chamfer_takes_whole_leaves_the_other_rows_their_numbers() -> None:
    """Its rows were numbered anew, and the table of points asked for one too many."""
    rows, answer = proposed({**BAR, "outside": VANISHED})
    assert next(row for row in rows if row["kind"] == "finish")["to_row"] == "4"
    assert [str(point.label) for point in answer.points] == ["start", "row 1", "row 1", "row 3", "row 4"]


def test_an_operation_on_a_row_of_which_nothing_is_left_is_refused_in_words() -> None:
    rough = "kind:rough~nose_radius:0.8~surface_speed:180 m/min~feed:0.2 mm/rev~depth:1 mm~from_row:2~to_row:2"
    query = read_query({**BAR, "outside": VANISHED, "operations": rough}.items(), FEATURE.inputs)
    with pytest.raises(Problem, match="Nothing is left of this row between its corners"):
        FEATURE.answer(query.inputs(FEATURE.inputs))


def test_walls_of_a_stepped_groove_meet_on_its_deepest_flat() -> None:
    """Ø26.9 over 11.4 and Ø25 over 8.7 between Ø32 and Ø29: led to the longer flat, one corner cut into the other."""
    whole = chain(
        (0, 0), (32, 0), (32, -35.6), (26.9, -35.6), (26.9, -47), (25, -47), (25, -55.7), (29, -55.7), (29, -60)
    )
    groove = chain((32, -35.6), (26.9, -35.6), (26.9, -47), (25, -47), (25, -55.7), (29, -55.7))
    fore, back = walls(Blade(3.0, 0.2, "outside"), Contour(whole.chain, "right"), groove.chain, 0.1)
    ends = [pieces[-1].path.end for pieces in (fore, back)]
    assert [end.r for end in ends] == pytest.approx([12.5 + 0.2] * 2)
    assert [end.z for end in ends] == pytest.approx([(-55.7 + 0.2 - 47.0 - 3.0 + 0.2) / 2.0] * 2)


def test_a_neck_behind_a_ball_is_grooved_though_its_diameter_is_rounded() -> None:
    """Ø10 at Z-29.142 on a ball of SR 15 is Ø10.0008: it was taken for no cylinder, and its groove for 0 wide."""
    texts = {**BAR, "bar_diameter": "32", "outside": "s_x0_z0*a_r15_cx0_cz-15_x10_z-29.142_ccw*t_x10_z-35*f_x24*t_z-45"}
    rows, answer = proposed(texts)
    groove = next(row for row in rows if row["kind"] == "groove")
    assert (groove["from_row"], groove["to_row"], groove["size"]) == ("2", "3", "3 mm")
    assert answer.results.material_left == pytest.approx(0.2 * (math.sqrt(2.0) - 1.0) / math.sqrt(2.0), abs=0.01)


def test_a_chamfer_that_looks_back_is_not_followed_into_the_bar_behind() -> None:
    """Ø3.7 with 1 x 45 degrees at its far end: led on down at 3 degrees, the finish cut the bar through at Z-53."""
    texts = {**BAR, "bar_diameter": "6", "outside": "s_x0_z0*f*c0.5*t_x3.7_z-18.8*c1*f_x0"}
    rows, answer = proposed(texts)
    assert [row["kind"] for row in rows[:4]] == ["face", "rough", "finish", "part-off"]
    assert not any("comes free" in each for each in grave(texts))
    (rough,) = (row for row in answer.tables["done"] if row.operation == "2 rough, first end")
    turned, bar = 1.85 + 0.3, 3.0
    assert rough.removed == pytest.approx(math.pi * (bar**2 - turned**2) * 18.8, rel=0.05)


def test_a_drill_with_inserts_turns_no_faster_than_the_motor_drives_it() -> None:
    """Ø30.5 from the solid in 42CrMo4 at its usual speed takes 10.3 of 8.8 kW: a fifth of these stays in hand."""
    texts = {**BAR, "material": "42CrMo4", "bar_diameter": "58", "outside": "s_x0_z0*f*t_x55_z-80",
             "inside": "s_x33.9_z0*l_x32.9_z-0.5*t_z-61.8*f_x0"}  # fmt: skip
    rows, answer = proposed(texts)
    drill = next(row for row in rows if row["kind"] == "drill")
    assert (drill["size"], drill["drill_material"]) == ("30.5 mm", "indexable")
    power = next(row.power_max for row in answer.tables["done"] if row.operation == "2 drill, first end")
    assert 0.76 * 8.8 * 60e6 < power <= 0.8 * 8.8 * 60e6
    assert not any("stalls" in each for each in grave(texts))
    rows, _ = proposed({**texts, "motor_power": "30"})
    assert "surface_speed" not in next(row for row in rows if row["kind"] == "drill")
