"""Blind bores: drilled flat so that every pass of the bar can be made, and what is said where some cannot."""

from __future__ import annotations

import pytest

from calc.questions.part.feature import FEATURE
from server.query import read_query
from tests.questions.part.test_proposed_for_shop_parts import LATHE, proposed

POT = {"material": "C45", "bar_diameter": "60", "face_stock": "1", "outside": "s_x0_z0*f*t_x56_z-60", **LATHE}
LEFT_OUT, TAKEN_AT_ONCE = "passes left out", "it takes what the passes that are left out would have taken"


@pytest.mark.parametrize(
    ("inside", "drill"),
    [
        ("s_x24_z0*t_z-30*f_x0", "22 mm"),
        ("s_x40_z0*t_z-40*f_x0", "38 mm"),
        ("s_x40_z0*t_z-20*f_x26*t_z-40*f_x0", "24 mm"),
        ("s_x36_z0*t_z-25*e2*f_x0", "30 mm"),
    ],
)
def test_an_ordinary_blind_bore_is_made_without_a_pass_left_out(inside: str, drill: str) -> None:
    """From the cone of a twist drill up to three passes were left out, and the next cut 3.5 instead of 1.2; a drill
    with inserts leaves the bottom flat, and the bar's back stays in the hole to the axis: common practice, no source.
    """
    rows, answer = proposed({**POT, "inside": inside})
    hole = [(row["size"], row["drill_material"]) for row in rows if row["kind"] == "drill"]
    assert hole == [(drill, "indexable")]
    said = " ".join(each.message.say() for each in answer.cautions)
    assert LEFT_OUT not in said
    assert TAKEN_AT_ONCE not in said
    deepest = max(row.depth for row in answer.tables["passes"] if "bore" in row.operation or "rough" in row.operation)
    assert deepest < 2.0
    assert answer.results.cut_too_deep == 0.0


def test_a_pass_that_takes_what_others_would_have_taken_is_named_with_its_depth() -> None:
    """Ø40 blind, drilled 38 with a point: a bar of 16 does not get to the axis in its cone, three passes are left out.

    The fourth is engaged over 3.49 where 1.2 is set: three levels of 1.16 at once.
    """
    bore = "kind:bore~insert:CCMT 09T308~holder:S16R-SCLCR09~surface_speed:150~feed:0.2~depth:1.2"
    face = "kind:face~insert:CNMG 120408~holder:PCLNR 2525M12~surface_speed:180~feed:0.2~depth:1"
    drilled = f"{face}*kind:drill~size:38~hole_depth:28.4*{bore}~allowance_z:0.1~allowance_x:0.3"
    texts = {**POT, "inside": "s_x40_z0*t_z-40*f_x0", "operations": drilled}
    answer, _ = FEATURE.answer(read_query(texts.items(), FEATURE.inputs).inputs(FEATURE.inputs))
    said = [each.message.say() for each in answer.cautions]
    assert any(LEFT_OUT in each and ": 3." in each for each in said)
    (deep,) = (each for each in said if TAKEN_AT_ONCE in each)
    assert "is engaged over 3.48" in deep
    assert "a depth of 1.200 mm is set" in deep
