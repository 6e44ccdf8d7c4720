"""One question asked on two pages gets one answer: pages about the nose, about reach and about a plan."""

from __future__ import annotations

import math
from typing import Any

import pytest

from calc.answer.feature import Answer, Feature
from calc.language.problems import Impossible
from calc.questions.operations.contour_plan.feature import FEATURE as PLAN
from calc.questions.shapes.dish import FEATURE as DISH
from calc.questions.tools.nose_contour import FEATURE as NOSE
from calc.questions.tools.reach import FEATURE as REACH
from calc.questions.tools.reach_contour import FEATURE as REACH_CONTOUR
from server.query import read_query

SHOULDER = "s_x0_z0*f_x30*t_z-50*f_x50*t_z-60"
DISH_CONTOUR = "s_x51.17616632769595_z0*a_r75_x0_z-4.5_ccw"
ROUGHED = {"pass_depth": "2", "surface_speed": "180", "feed": "0.2", "max_rpm": "2500"}


def ask(feature: Feature[Any, Any], **query: str) -> Answer[Any]:
    read = read_query(list(query.items()), feature.inputs)
    assert not read.faults
    answer, _ = feature.answer(read.inputs(feature.inputs))
    return answer


def said(answer: Answer[Any]) -> str:
    return " ".join(caution.message.say() for caution in answer.cautions)


@pytest.mark.parametrize(("insert", "nose"), [("CNMG 120404", 0.4), ("CNMG 120408", 0.8), ("CNMG 120412", 1.2)])
def test_what_stays_in_the_corner_is_one_number_on_three_pages(insert: str, nose: float) -> None:
    tool = {"insert": insert, "holder": "PCLNR 2525M12", "side": "right", "contour": SHOULDER}
    plan = ask(PLAN, where="outside", bar_diameter="52", face_stock="1", **tool, **ROUGHED)
    on_nose = ask(NOSE, contour=SHOULDER, side="right", nose_radius=str(nose))
    reach = ask(REACH_CONTOUR, **tool)
    assert plan.results.left.proud_most == pytest.approx(on_nose.results.way.largest_left, abs=1e-6)
    assert plan.results.left.left_in_corner == pytest.approx(on_nose.results.way.largest_unreached, abs=1e-6)
    assert on_nose.results.way.largest_left == pytest.approx(nose * (1.0 - 1.0 / math.sqrt(2.0)), abs=1e-9)
    sentence = f"The nose leaves R{nose} mm in the inside corner at X30.000 Z-50.000: at most"
    assert all(sentence in said(answer) for answer in (plan, on_nose, reach))


def test_a_dish_and_the_same_dish_as_a_contour_are_reached_alike() -> None:
    for insert, holder in (("DCMT 11T304", "SDUCR 2020K11"), ("CNMG 120408", "PCLNR 2525M12")):
        tool = {"insert": insert, "holder": holder, "pass_depth": "1"}
        dish = ask(REACH, radius="75", depth="4.5", bar_diameter="60", **tool).results
        contour = ask(REACH_CONTOUR, contour=DISH_CONTOUR, side="left", **tool).results
        assert dish.verdict == contour.verdict
        for name in ("margin_ahead", "margin_behind", "edge_in_use", "least_bore_flank", "free_angle"):
            assert getattr(dish, name) == pytest.approx(getattr(contour, name), abs=1e-6), name


def test_the_noses_path_over_a_dish_ends_where_the_dish_page_says() -> None:
    dish = ask(DISH, radius="75", depth="4.5").results
    nose = ask(NOSE, contour=DISH_CONTOUR, side="left", nose_radius="6", tool_point="3")
    last = nose.tables["key_points"][-1]
    assert last.print_z == pytest.approx(-dish.depth)
    assert (last.key_x, last.key_z) == pytest.approx((-6.0, -dish.depth), abs=1e-9)
    assert nose.results.compensation.smallest_hollow == pytest.approx(dish.radius)


@pytest.mark.parametrize(
    ("bore", "hole", "insert", "holder", "least"),
    [("16", "13", "CCMT 060204", "S10K-SCLCR06", "Ø12.000"), ("25", "22", "CCMT 09T304", "S16R-SCLCR09", "Ø19.000")],
)
def test_ordinary_boring_passes_on_reach_and_on_the_plan_by_the_same_assumption(
    bore: str, hole: str, insert: str, holder: str, least: str
) -> None:
    tool = {"insert": insert, "holder": holder, "side": "left", "contour": f"s_x{bore}_z0*t_z-20"}
    reach = ask(REACH_CONTOUR, **tool)
    plan = ask(PLAN, where="bore", bar_diameter="50", face_stock="0", stock_bore=hole, **tool, **ROUGHED)
    assert reach.results.verdict == "passes"
    assert "flank" not in said(plan)
    for answer in (reach, plan):
        remarks = " ".join(each.say() for group in answer.sentences.values() for each in group)
        assert f"clears the bar's smallest bore, here {least} mm, so that decides" in remarks


def test_a_bore_below_the_bars_own_is_refused_on_both_pages() -> None:
    tool = {"insert": "CCMT 09T304", "holder": "S16R-SCLCR09", "side": "left", "contour": "s_x18.5_z0*t_z-20"}
    reach = ask(REACH_CONTOUR, **tool)
    assert not reach.results.reaches
    assert "less than the bar's own smallest bore Ø19.000 mm" in said(reach)
    with pytest.raises(Impossible, match="the holder would run into the stock"):
        ask(PLAN, where="bore", bar_diameter="50", face_stock="0", stock_bore="17", **tool, **ROUGHED)
