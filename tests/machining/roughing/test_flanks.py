"""Levels that begin inside the stock are led in down their flank: engaged no deeper than is set, or it is said."""

from __future__ import annotations

import re
from typing import Any

import pytest

from calc.answer.feature import Answer
from calc.questions.part.feature import FEATURE
from server.query import read_query

BORED = {
    "outside": "s_x0_z0*f*t_x50_z-45", "material": "C45", "bar_diameter": "50", "stock_bore": "19",
    "max_rpm": "2500", "chuck_limit": "3200", "motor_power": "11",
}  # fmt: skip
NECK = {**BORED, "stock_bore": "", "outside": "s_x40_z0*t_z-10*f_x30*t_z-30*f_x40*t_z-40", "bar_diameter": "40"}
CCMT, DCMT = "CCMT 060204~holder:S10K-SCLCR06", "DCMT 11T304~holder:S16R-SDUCR11"
ROUND = "RCMT 1204M0~holder:SRDCN 2525M12"


def roughed(texts: dict[str, str], kind: str, tool: str) -> Answer[Any]:
    row = f"kind:{kind}~insert:{tool}~surface_speed:180~feed:0.15~depth:1.2~allowance_z:0.1~allowance_x:0.3"
    query = read_query({**texts, "operations": row}.items(), FEATURE.inputs)
    return FEATURE.answer(query.inputs(FEATURE.inputs))[0]


def engaged(answer: Answer[Any]) -> list[str]:
    said = (each.message.say() for each in answer.cautions)
    return [
        found[0] for each in said if (found := re.search(r"engaged over [\d.]+ mm where a depth of [\d.]+ mm", each))
    ]


@pytest.mark.parametrize("tool", [CCMT, DCMT])
@pytest.mark.parametrize("bore", ["s_x20_z0*l_x40_z-40*t_z-45", "s_x20_z0*t_z-10*l_x34_z-24*t_z-45"])
def test_a_widening_bore_is_cut_no_deeper_than_is_set_down_its_flank(bore: str, tool: str) -> None:
    """At half a right angle onto its level the bar cut 5.95 deep with its other edge, and 1.8 with a slim one."""
    answer = roughed({**BORED, "inside": bore}, "bore", tool)
    depths = [row.depth for row in answer.tables["passes"]]
    assert depths
    assert 0.8 < max(depths) < 1.2 + 1e-3
    assert not any("down a wall" in each.message.say() for each in answer.cautions)


def test_a_round_insert_led_in_down_a_steep_wall_says_over_how_much_it_is_engaged() -> None:
    """By hand: straight in by 1.2 the nose of 6 cuts over a chord that grows to 2 sqrt(2 6 1.2 - 1.2^2) = 7.2, two
    thirds of that in the mean: 4.8.
    """
    (said,) = engaged(roughed(NECK, "rough", ROUND))
    assert said.endswith("where a depth of 1.200 mm")
    assert float(said.split()[2]) == pytest.approx(4.8, rel=0.03)


def test_a_level_that_goes_on_behind_a_land_has_the_depth_that_it_cuts() -> None:
    """Bar 85 to 80 with a flat V behind a land: 2.36 deep, not the 8.08 to the beginning of the second stretch."""
    shaft = {**BORED, "stock_bore": "", "bar_diameter": "85", "face_stock": "1"}
    shaft["outside"] = "s_x0_z0*f*t_x80_z-6*l_ha17_x64_down*t_dz-4*l_ha17_x80*t_dz-6"
    answer = roughed(shaft, "rough", "CNMG 120412~holder:PCLNR 2525M12")
    assert max(row.depth for row in answer.tables["passes"]) < 1.3
