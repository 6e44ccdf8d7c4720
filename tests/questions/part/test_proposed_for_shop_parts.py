"""Operations proposed for parts as shops have them: roughed by a strong tool, drilled and parted deep enough."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest

from calc.answer.feature import Answer
from calc.contour import Chain, Line, Point
from calc.language.problems import Problem
from calc.questions.part.feature import FEATURE
from calc.questions.part.undercuts import without_undercuts
from server.query import read_query

LATHE = {"max_rpm": "2500", "chuck_limit": "3200", "motor_power": "11"}
SHAFT = {
    "outside": "s_x0_z0*f*h_namedM20x1.5-6g_z-22_reliefA_br1.5*f_x25 k6*t_z-60*uF 0.6x0.3*f_x32*t_z-75*f_x40*t_z-90",
    "material": "42CrMo4", "bar_diameter": "42", "face_stock": "1.5", **LATHE,
}  # fmt: skip
"""A stepped shaft with a thread and its relief, an undercut of DIN 509 behind a bearing seat."""
BUSH = {
    "outside": "s_x0_z0*f*c1*t_x50_z-15*g_w3_dep2.5*t_dz-10*g_w3_dep2.5*t_z-37*f_x70*t_z-45",
    "inside": "s_x30 H7_z0*t_z-45", "material": "1.4305", "bar_diameter": "75", "face_stock": "1", **LATHE,
}  # fmt: skip
"""A flanged bush with two grooves and a bore H7, from the solid."""


def proposed(texts: dict[str, str]) -> tuple[list[dict[str, str]], Answer[Any]]:
    """The proposed operations by their fields, and the answer with them as they stand."""
    with pytest.raises(Problem) as caught:
        FEATURE.answer(read_query(texts.items(), FEATURE.inputs).inputs(FEATURE.inputs))
    text = str(caught.value.faults[0].offers[0])
    query = read_query({**texts, "operations": text}.items(), FEATURE.inputs)
    rows = [dict(each.split(":", 1) for each in row.split("~")) for row in text.split("*")]
    return rows, FEATURE.answer(query.inputs(FEATURE.inputs))[0]


def test_undercuts_do_not_choose_the_roughing_tool() -> None:
    """An 80 degree corner roughs past relief and undercut, a 55 degree one finishes them: common practice, no source.

    Roughed by the tool that gets into the undercut, some passes were 6.5 mm deep and the finish took 2.3.
    """
    rows, answer = proposed(SHAFT)
    by_kind = {row["kind"]: row for row in rows}
    assert by_kind["rough"]["insert"] == by_kind["face"]["insert"] == "CNMG 120412"
    assert by_kind["finish"]["insert"].startswith("DNMG")
    assert sum(row["kind"] == "rough" for row in rows) == 1
    deepest = {
        kind: max(row.depth for row in answer.tables["passes"] if kind in row.operation) for kind in ("rough", "finish")
    }
    assert deepest["rough"] < 2.4
    assert deepest["finish"] < 1.0
    in_the_corner = 0.4 * (1.0 - 1.0 / math.sqrt(2.0))  # of a nose of 0.4 in the sharp one at Z-75, square to a wall
    assert answer.results.material_left == pytest.approx(in_the_corner)
    assert not any("stalls" in each.message.say() for each in answer.cautions)


@pytest.mark.parametrize("texts", [SHAFT, BUSH])
def test_the_blade_is_as_wide_as_the_bar_asks(texts: dict[str, str]) -> None:
    """Eight widths deep at most (common practice, no source): through the raw bar, not the finished diameter."""
    rows, answer = proposed(texts)
    bar, hole = float(texts["bar_diameter"]), 28.0 if "inside" in texts else 0.0
    assert float(rows[-1]["size"].removesuffix(" mm")) >= (bar - hole) / 2.0 / 8.0
    assert not any("more than 8 widths" in each.message.say() for each in answer.cautions)


def test_a_bush_is_drilled_past_the_parting_cut() -> None:
    """45 long and a blade of 3: full diameter to 48 at least, so that no cone is left in the way of the blade."""
    rows, answer = proposed(BUSH)
    drill = [row for row in rows if row["kind"] == "drill"][-1]
    assert drill["hole_depth"] == "48 mm"
    assert drill["why"] == "drill-to-parting_d28_rest2"
    parting = next(row for row in answer.tables["passes"] if "part off" in row.operation)
    assert parting.depth < (75.0 - 28.0) / 2.0 + 0.5


def test_a_large_drill_has_a_spot_and_a_pilot_before_it_and_a_small_one_a_spot_alone() -> None:
    """From the solid a twist drill of 29 pushed with 9,890 N; its web is taken by a pilot above 20, both as a hole by
    itself has them; the pilot goes 5.5 diameters deep in pecks: common practice, no source.
    """
    rows, answer = proposed(BUSH)
    hole = [(row["kind"], row["size"], row.get("depth")) for row in rows if row["kind"] in ("countersink", "drill")]
    assert hole == [("countersink", "4.2 mm", None), ("drill", "8.4 mm", "4.2 mm"), ("drill", "28 mm", None)]
    assert [row["why"] for row in rows[1:3]] == ["spot_d8.4", "pilot_d28"]
    assert not any("from the solid pushes" in each.message.say() for each in answer.cautions)
    small = {**BUSH, "inside": "s_x16_z0*t_z-45"}
    kinds = [row["kind"] for row in proposed(small)[0]]
    assert kinds[1:3] == ["countersink", "drill"]
    assert kinds.count("drill") == 1


def test_the_point_of_a_drill_stays_above_the_bottom_of_a_blind_bore() -> None:
    """118 degrees on 15 are 4.51 mm of point: drilled to the bottom at full diameter it would run into the part."""
    rows, answer = proposed({**BUSH, "inside": "s_x16_z0*t_z-30*f_x0"})
    drill = [row for row in rows if row["kind"] == "drill"][-1]
    assert (drill["size"], drill["hole_depth"]) == ("15 mm", "25.3 mm")
    assert 30.0 - 25.3 - 7.5 / math.tan(math.radians(59.0)) == pytest.approx(0.19, abs=0.01)
    assert answer.results.cut_too_deep == 0.0
    assert not any("runs into the" in each.message.say() for each in answer.cautions)


@pytest.mark.parametrize("texts", [SHAFT, BUSH])
def test_facing_leaves_the_finish_its_allowance(texts: dict[str, str]) -> None:
    """Faced to Z0 at 0.43 mm/rev, the finish had nothing to take there: it now goes over the face at its own feed."""
    rows, answer = proposed(texts)
    assert rows[0]["allowance_z"] == rows[[row["kind"] for row in rows].index("rough")]["allowance_z"] == "0.1 mm"
    last = {row["kind"]: row for row in rows}["finish"]
    (faced,) = (row for row in answer.tables["passes"] if row.operation.endswith("finish face"))
    assert faced.depth == pytest.approx(0.1)
    assert f"{faced.feed:.3f}".rstrip("0") + " mm/rev" == last["feed"]


def test_what_a_proposal_leaves_open_is_said_before_it_is_taken_and_after() -> None:
    """A nozzle of Ø8 that opens to Ø24 behind: no common bar goes through the Ø7 before it, so nobody bored it, and
    the page of the finished plan said that 0 is left.
    """
    nozzle = {**BUSH, "outside": "s_x0_z0*f*t_x36_z-40", "inside": "s_x8_z0*t_z-6*l_x24_z-40"}
    with pytest.raises(Problem) as caught:
        FEATURE.answer(read_query(nozzle.items(), FEATURE.inputs).inputs(FEATURE.inputs))
    assert "No common bar goes into the bore" in caught.value.faults[0].message.say()
    said = "No operation cuts these rows of the bore, and stock still stands on them: 1 and 2."
    assert any(said in each.message.say() for each in proposed(nozzle)[1].cautions)
    for whole in (SHAFT, BUSH):
        assert not any("stock still stands" in each.message.say() for each in proposed(whole)[1].cautions)


def chain(*corners: tuple[float, float]) -> Chain:
    points = [Point(*corner) for corner in corners]
    return Chain(tuple(Line(a, b) for a, b in pairwise(points)))


UNDERCUT = [(0.0, 9.0), (-5.0, 9.0), (-6.0, 8.7), (-7.0, 8.7), (-7.2, 9.4), (-7.0, 11.0), (-7.0, 12.0), (-9.0, 12.0)]


def test_a_cylinder_is_led_on_over_its_undercut_whichever_way_the_contour_runs() -> None:
    """Into the cylinder and into the face, as form F goes; a bore is the same outside in."""
    wanted = [(0.0, 9.0), (-5.0, 9.0), (-7.0, 9.0), (-7.0, 12.0), (-9.0, 12.0)]
    there = without_undercuts(chain(*UNDERCUT), "outside")
    assert [(each.end.z, each.end.r) for each in there] == wanted[1:]
    back = without_undercuts(chain(*UNDERCUT[::-1]), "outside")
    assert [(each.start.z, each.start.r) for each in back.reversed()] == wanted[:-1]
    bore = without_undercuts(chain(*((z, 20.0 - r) for z, r in UNDERCUT)), "bore")
    assert [(each.end.z, each.end.r) for each in bore] == [(z, 20.0 - r) for z, r in wanted[1:]]


def test_what_is_no_undercut_stays() -> None:
    """A groove of 2 mm, an inside chamfer, a step down."""
    for corners in (
        [(0.0, 9.0), (-5.0, 9.0), (-5.0, 7.0), (-7.0, 7.0), (-7.0, 12.0)],
        [(0.0, 9.0), (-5.0, 9.0), (-6.0, 10.0), (-6.0, 12.0)],
        [(0.0, 9.0), (-5.0, 9.0), (-5.0, 8.8), (-30.0, 8.8), (-30.0, 12.0)],
    ):
        assert without_undercuts(chain(*corners), "outside") == chain(*corners)
