"""Judgement of a proposal: a case that a lead would try beside each rule, with its numbers."""

from __future__ import annotations

import math

import pytest

from calc.language.problems import Problem
from calc.language.quantities import View
from calc.questions.part.declared import OperationRow
from calc.questions.part.feature import FEATURE
from calc.questions.part.reasons import REASONS, Reason, reason_of
from server.query import read_query
from server.row_texts import rewritten
from tests.questions.part.test_proposed_for_shop_parts import LATHE, proposed

BAR = {"material": "C45", "bar_diameter": "50", "face_stock": "1", **LATHE}
PIN = {**BAR, "outside": "s_x0_z0*f*t_x46_z-12"}
"""A pin whose holes are what is looked at."""


def kinds_of(texts: dict[str, str]) -> list[str]:
    return [row["kind"] for row in proposed(texts)[0]]


@pytest.mark.parametrize(
    ("bore", "kinds", "sizes"),
    [
        ("s_x5_z0*t_z-12", ["drill"], ["5 mm"]),
        ("s_x5 H9_z0*t_z-12", ["drill", "ream"], ["4.8 mm", "5.015 mm"]),
        ("s_x5 H13_z0*t_z-12", ["drill"], ["5 mm"]),
        ("s_z0*h_namedM6-6H_z-12", ["drill", "tap"], ["5 mm"]),
        ("s_z0*h_namedM10-6H_z-12", ["drill", "tap"], ["8.5 mm"]),
        ("s_z0*h_namedM30x1.5-6H_z-12", ["drill", "bore", "bore"], ["7.9 mm", "26.5 mm"]),
    ],
)
def test_a_hole_that_no_bar_goes_into_is_made_by_what_does(bore: str, kinds: list[str], sizes: list[str]) -> None:
    """5 was drilled 4 and left; M6 was drilled 4 for a threading tool. Tap drills 5 and 8.5: ISO 2306; a twist drill
    holds no better than IT11 to IT12, and threads above M16 are turned: common practice, no source.
    """
    rows, answer = proposed({**PIN, "inside": bore})
    hole = [row for row in rows if row["kind"] in ("drill", "ream", "tap", "bore")]
    of_one_size = [row["size"] for row in hole if "size" in row]
    assert [row["kind"] for row in hole if row["kind"] != "drill" or row is hole[len(hole) - len(kinds)]] == kinds
    assert of_one_size[-len(sizes) :] == sizes
    said = [each.message.say() for each in answer.cautions]
    assert not [each for each in said if "Stock still stands" in each or "runs into" in each]


def test_the_chamfer_of_a_tapped_hole_is_made_by_the_spotting_tool() -> None:
    """1 x 45 degrees on the core of an M10 of 8.5 is Ø10.5 at the mouth."""
    rows, _ = proposed({**PIN, "inside": "s_x10.526_z0*l_x8.526_z-1*h_namedM10-6H_z-12"})
    spot = next(row for row in rows if row["kind"] == "countersink")
    assert float(spot["size"].removesuffix(" mm")) == pytest.approx(10.526, abs=0.01)


def test_a_hole_with_a_drawn_point_is_drilled_to_its_full_depth_and_one_with_a_flat_bottom_named() -> None:
    """118 degrees on 8.5 are 2.55 deep: with the point in the print the full 18 are drilled, the tap has its room."""
    deep = 20.0 + 4.25 / math.tan(math.radians(59.0))
    long = {**BAR, "outside": "s_x0_z0*f*t_x46_z-40", "inside": f"s_z0*h_namedM10-6H_z-10*t_z-20*l_x0_z-{deep:.4f}"}
    drill = [row for row in proposed(long)[0] if row["kind"] == "drill"][-1]
    assert drill["hole_depth"] == "20 mm"
    flat = {**long, "inside": "s_z0*h_namedM10-6H_z-10*t_z-20*f_x0"}
    drill = [row for row in proposed(flat)[0] if row["kind"] == "drill"][-1]
    assert drill["hole_depth"] == "17.3 mm"


def test_a_thread_up_to_a_shoulder_ends_three_pitches_before_it() -> None:
    """M20x1.5 over 22 without a relief was refused as a plan; DIN 76-1 has 3 pitches, 4.5 (from memory)."""
    rows, answer = proposed({**BAR, "outside": "s_x0_z0*f*h_namedM20x1.5-6g_z-22*f_x30*t_z-40"})
    thread = next(row for row in rows if row["kind"] == "thread")
    assert thread["hole_depth"] == "17.5 mm"
    assert thread["why"] == "thread-runs-out_threadM20x1.5-6g_rest4.5"
    assert answer.results.cut_too_deep == 0.0


def test_a_groove_in_the_face_is_plunged_and_no_tool_is_looked_for_that_turns_it() -> None:
    """Ø30 to Ø36, 3 deep: two turning tools were proposed for it and 1.5 of it stayed, unnamed."""
    rows, answer = proposed({**BAR, "outside": "s_x0_z0*f_x30*t_z-3*f_x36*t_z0*f_x46*t_z-20"})
    assert [row["kind"] for row in rows] == ["face", "rough", "finish", "groove", "part-off"]
    assert (rows[3]["where"], rows[3]["size"], rows[3]["why"]) == ("face", "2.5 mm", "face-groove_width2.5_d36")
    assert answer.results.material_left < 0.2 * (math.sqrt(2.0) - 1.0)  # of a blade's corner of 0.2 in a sharp one


TWO_ENDS = {
    **BAR,
    "outside": "s_x0_z0*f*c1*t_x28 h6_z-50*uE 0.8x0.3*f_x45*t_z-62*f_x30 k6*uF 0.6x0.3*t_z-92*c1*f_x0",
}


def test_an_undercut_that_the_finish_reaches_is_not_left_to_a_form_tool() -> None:
    """E 0.8 x 0.3 and F 0.6 x 0.3 on both sides of a collar: of both it was said that a form tool must be chosen."""
    rows, answer = proposed(TWO_ENDS)
    assert "groove" not in [row["kind"] for row in rows]
    assert answer.results.material_left < 0.1


def test_the_second_end_takes_the_tools_of_the_first_where_they_reach() -> None:
    """A ring's back face and chamfer were given to a square insert, though the one in the turret reaches them."""
    rows, _ = proposed({**BAR, "outside": "s_x20_z0*f_x46*t_z-26*c1*f_x20", "inside": "s_x20_z0*t_z-26"})
    ends = [{row["holder"] for row in rows if row.get("end", "") == end and row["kind"] != "bore" and "holder" in row}
            for end in ("", "second")]  # fmt: skip
    assert ends[1] <= ends[0]


@pytest.mark.parametrize(("power", "depth"), [("11", "1.9 mm"), ("30", "2.4 mm"), ("", "2.4 mm")])
def test_roughing_leaves_a_fifth_of_the_power_in_hand(power: str, depth: str) -> None:
    """2.4 x 0.48 in C45 at 180 m/min took 8.54 of the 8.8 kW of an 11 kW motor: a worn edge stalls that."""
    rows, answer = proposed({**BAR, "outside": "s_x0_z0*f*t_x28_z-50*f_x46*t_z-60", "motor_power": power})
    assert next(row for row in rows if row["kind"] == "rough")["depth"] == depth
    assert answer.results.power_max < 0.8 * 8.8 * 60e6 or power != "11"


def test_what_has_no_speed_to_start_with_is_left_out_and_the_rest_can_be_planned() -> None:
    """Parting off at 60 HRC: with it the plan of everything else was refused."""
    kinds = kinds_of({**BAR, "outside": "s_x0_z0*f*t_x46 h6_z-20", "material": "100Cr6 60 HRC"})
    assert kinds == ["face", "rough", "measure", "finish"]


@pytest.mark.parametrize(
    ("more", "warned"),
    [({}, 1), ({"tailstock_diameter": "8"}, 0), ({"bar_diameter": "90", "outside": "s_x0_z0*f*t_x86_z-200"}, 0)],
)
def test_a_long_thin_pin_out_of_a_chuck_is_warned_of_though_nobody_gave_its_length(
    more: dict[str, str], warned: int
) -> None:
    """Ø8 by 200 out of a bar of Ø10 is 20 diameters without a centre: it was planned without a word."""
    _, answer = proposed({**BAR, "bar_diameter": "10", "outside": "s_x0_z0*f*t_x8_z-200", **more})
    said = [each for each in answer.cautions if "diameters, more than 3 without a tailstock" in each.message.say()]
    assert len(said) == warned


def test_a_reason_follows_its_readers_language_and_units() -> None:
    """It was kept as an English sentence in mm: a German in inches read that."""
    code = Reason("face-to-finish", {"front": 1.0, "keep": 0.1}).code
    found = reason_of(code)
    assert found is not None
    assert found.say() == "The stock stands 1 mm in front of the face: face it first, leaving 0.1 mm for the finish."
    assert found.say(View(language="de")).startswith("Das Rohteil steht 1 mm vor")
    assert ".0394 in" in found.say(View("inch"))
    text = f"kind:face~why:{code}"
    assert rewritten(text, OperationRow, View(), View("inch")) == text


@pytest.mark.parametrize(
    "code", ["", "by hand", "face", "part-off_width", "part-off_wide3", "face-to-finish_front1", "x_y"]
)
def test_a_code_that_is_no_reason_is_none(code: str) -> None:
    assert reason_of(code) is None


def test_every_reason_comes_back_as_it_was() -> None:
    values: dict[str, float | str] = {"tool": "VNMG 160408", "thread": "M20x1.5-6g"}
    for key, text in REASONS.items():
        own = {name: values.get(name, 1.25) for name in _places(text)}
        assert reason_of(Reason(key, own).code) == Reason(key, own).message


def _places(text: str) -> list[str]:
    return [part.partition("}")[0] for part in text.split("{")[1:]]


def test_a_ball_that_runs_into_a_cylinder_with_limits_makes_no_groove_of_it() -> None:
    """R 19.9 and 39.8 h9 (ISO 286-2: 0/-0.062) leave a crest of 6 nm: the cylinder to its undercut was plunged, into
    the part.
    """
    ball = "s_x0_z0*a_r19.9_cx0_cz-19.9_x39.8_z-19.9_ccw*t_x39.8 h9_z-32.7*uE 0.6x0.3*f_x44.5*t_z-45"
    rows, answer = proposed({**BAR, "outside": ball})
    assert "groove" not in [row["kind"] for row in rows]
    assert answer.results.cut_too_deep == 0.0


def test_the_blade_of_a_stepped_groove_goes_into_its_deepest_step() -> None:
    """7 wide to Ø33, in it 2 wide to Ø30: a blade of 3 was proposed by the longest flat, and cut 1.5 into the step."""
    stepped = "s_x0_z0*f_x40*t_z-8*f_x33*t_z-10.5*f_x30*t_z-12.5*f_x33*t_z-15*f_x40*t_z-30"
    rows, answer = proposed({**BAR, "outside": stepped})
    assert [row["size"] for row in rows if row["kind"] == "groove"] == ["1.5 mm"]
    assert answer.results.cut_too_deep == 0.0


def test_a_groove_with_a_rib_at_its_bottom_is_named_rather_than_cut_into() -> None:
    """Two grooves of 2 with a rib of 2 between them that lies below the surface: the blade went through the rib."""
    ribbed = "s_x0_z0*f_x40*t_z-8*f_x36*t_z-10*f_x38*t_z-12*f_x36*t_z-14*f_x40*t_z-30"
    with pytest.raises(Problem) as asked:
        FEATURE.answer(read_query({**BAR, "outside": ribbed}.items(), FEATURE.inputs).inputs(FEATURE.inputs))
    said = asked.value.faults[0].message.say()
    assert "rows 3 to 9 without cutting into its steps" in said


@pytest.mark.parametrize(("wide", "most"), [(4, 0.012), (3, 0.024), (2, 0.04)])
def test_a_groove_flush_with_a_shoulder_is_come_to_at_rapid(wide: int, most: float) -> None:
    """Down the shoulder from Ø61.4 to Ø26 at the groove's feed took 0.15, 0.18 and 0.30 min, nearly all in air.

    At most: from 0.7 above Ø30 to Ø26, half the bottom, 0.5 aside, at 0.08 mm/rev or less where the blade is narrow.
    """
    bar = {**BAR, "bar_diameter": "62"}
    _, answer = proposed({**bar, "outside": f"s_x0_z0*f_x30*t_z-20*f_x26*t_z-{20 + wide}*f_x60*t_z-40"})
    walls = [row.time for row in answer.tables["passes"] if "wall 2" in str(row.operation)]
    assert 0.0 < walls[0] < most
    assert answer.results.cut_too_deep == 0.0


def test_the_steps_of_a_narrow_groove_are_passed_over_too() -> None:
    """A step 1.15 wide leaves 0.15 beside a blade of 1: plunges alone left up to 0.6 of the step before it."""
    stepped = "s_x0_z0*f_x40*t_z-8*f_x38*t_z-10.42*f_x34*t_z-11.57*f_x38*t_z-13.5*f_x40*t_z-30"
    rows, answer = proposed({**BAR, "outside": stepped})
    assert [row["size"] for row in rows if row["kind"] == "groove"] == ["1 mm"]
    assert answer.results.cut_too_deep == 0.0
    assert answer.results.material_left < 0.2 * (math.sqrt(2.0) - 1.0)  # of a blade's corner of 0.2 in a sharp one
