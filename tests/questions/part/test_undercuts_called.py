"""Undercuts that a print calls in a part: what their sizes rest on, and which diameter the standard means them for."""

from __future__ import annotations

from typing import Any

import pytest

from calc.answer.feature import Answer
from calc.language.messages import Message
from tests.questions.part.test_proposed_for_shop_parts import LATHE, proposed

BAR = {"material": "C45", "bar_diameter": "42", "face_stock": "1", **LATHE}


def answered(d: float, undercut: str) -> Answer[Any]:
    """A shaft whose seat of a diameter has an undercut before a collar of Ø40."""
    return proposed({**BAR, "outside": f"s_x0_z0*f*t_x{d:g}_z-30*{undercut}*f_x40*t_z-50"})[1]


def said(answer: Answer[Any]) -> list[str]:
    return [each.message.say() for each in answer.cautions]


@pytest.mark.parametrize(
    ("d", "undercut", "other"),
    [
        (24.0, "uF 0.8x0.3", ""),
        (24.0, "uE 0.6x0.3", ""),
        (24.0, "uF 1.2x0.2", ""),  # of raised fatigue strength: above 18 to 50
        (18.0, "uF 0.6x0.2", ""),
        (24.0, "uF 0.4x0.2", "0.8 x 0.3, 0.6 x 0.3, 1.2 x 0.2, 1 x 0.2"),
        (16.0, "uE 0.8x0.3", "0.4 x 0.2, 0.6 x 0.2"),
        (20.0, "uG 0.4x0.2", ""),  # which the table gives no diameter
    ],
)
def test_an_undercut_is_held_against_the_diameters_that_the_standard_means_it_for(
    d: float, undercut: str, other: str
) -> None:
    """DIN 509:1998: 0.4 x 0.2 above 3 to 18, 0.6 x 0.2 above 10 to 18, 0.6 and 0.8 x 0.3 above 18 to 80."""
    found = [each for each in said(answered(d, undercut)) if "DIN 509" in each]
    name = f"{undercut[1]} {undercut[3:].replace('x', ' x ')}"
    text = f"The undercut {name} is not for Ø{d:g} mm in DIN 509, which has {other} there: check the print."
    assert found == ([text] if other else [])


def test_what_an_undercut_rests_on_is_said_once_and_only_where_there_is_one() -> None:
    rests = "Undercuts have the sizes of DIN 509:1998; their run-outs, 15° and 8°, are from memory."
    assert _notes(answered(24.0, "uF 0.8x0.3")).count(rests) == 1
    assert rests not in _notes(answered(24.0, "e0.8"))


def test_an_undercut_is_no_groove_for_a_grooving_tool_and_a_thread_relief_is_one() -> None:
    """Roughing went over F 0.6 x 0.3 and left it to a grooving tool, while the finish cut it."""
    outside = "s_x0_z0*f*h_namedM20x1.5-6g_z-22_reliefA_br1.5*f_x25*t_z-40*uF 0.6x0.3*f_x32*t_z-55"
    rows, answer = proposed({**BAR, "outside": outside})
    assert [row["from_row"] for row in rows if row["kind"] == "groove"] == ["2"]
    left = [each for each in _notes(answer) if "left to a grooving tool" in each]
    assert left == ["The groove of row 2 is left to a grooving tool."]


def _notes(answer: Answer[Any]) -> list[str]:
    return [each.say() for each in answer.notes if isinstance(each, Message)]
