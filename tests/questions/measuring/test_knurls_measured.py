"""Knurls of a part as they are measured: the blank, the crests, which of several a check is about."""

from __future__ import annotations

import math

import pytest

from calc.language.problems import Problem
from calc.language.quantities import View
from calc.questions.measuring.check_texts import part_texts
from tests.questions.measuring.test_part_measured import DCMT, answered

KNURLED = {
    "outside": "s_x0_z0*f*c1*t_x42_z-3*t_x42 DIN 82-RKE 1_z-13*t_z-28*f_x45*t_z-40",
    "bar_diameter": "50", "face_stock": "1", "material": "C45",
    "operations": f"kind:face~{DCMT}*kind:finish~{DCMT}*kind:knurl~size:1~knurl_form:crossed~over_knurl:42~from_row:3"
    "~to_row:3~feed:0.2~surface_speed:25",
}  # fmt: skip
"""The blank of a crossed knurl of 1 mm on 42 is 130 teeth: 130 / pi = 41.380 (DIN 82: 42 - 0.67 before they close)."""


def test_a_knurl_is_measured_over_its_crests_and_its_blank_before_it_is_rolled() -> None:
    found = answered(
        KNURLED,
        "what:diameter~nominal:41.38~measured:41.39~spread:0.002",
        "what:over_knurl~nominal:42~measured:42.03",
        "what:diameter~nominal:42~at:-20~measured:42.01~spread:0.002",
        "what:diameter~nominal:42~at:-6~measured:42.02",
        "what:over_knurl",
    )
    rows = found.tables["checks"]
    assert [row.tool for row in rows] == ["T1, finishing", "T2, knurling", "T1, finishing", "T2, knurling", None]
    assert [row.wanted for row in rows] == pytest.approx([130 / math.pi, 42.0, 42.0, 42.0, None], abs=1e-3)
    assert rows[0].what == "outside, blank before it is knurled"
    assert rows[3].what == "outside, diameter over a knurl"
    tools = {row.tool: row for row in found.tables["tools"]}
    assert tools["T1, finishing"].x_change == pytest.approx(-0.005, abs=5e-4)
    assert tools["T2, knurling"].x_change is None, "no offset raises the crests of a knurl"
    assert not any("over the knurl" in each.message.say() for each in found.cautions)


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("what:over_knurl~nominal:42~measured:41.7", "Feed the rolls in until the teeth are full"),
        ("what:over_knurl~nominal:42~measured:42.3", "smaller: Ø41.062 mm has one tooth fewer"),
        ("what:over_knurl~nominal:42~lower:41.9~upper:42~measured:42.03", "0.080 mm too large over the knurl"),
    ],
)
def test_a_knurl_that_is_off_says_what_to_do_with_rolls_and_blank(row: str, said: str) -> None:
    """One tooth of 1 mm is 1 / pi = 0.318 on the diameter: 129 teeth close on 41.062."""
    found = answered(KNURLED, row)
    assert any(said in each.message.say() for each in found.cautions), [each.message.say() for each in found.cautions]
    assert found.tables["checks"][0].verdict in (None, "out of limits")


TWICE = KNURLED | {"outside": KNURLED["outside"].replace("*t_z-28", "*t_z-15*t_x42 DIN 82-RKE 1_z-25*t_z-28")}
"""The same with two equal knurls, the second from Z-15 to Z-25, one operation for each."""
TWICE["operations"] += KNURLED["operations"].rpartition("*")[2].replace("row:3", "row:5").join(("*", ""))


@pytest.mark.parametrize(
    "row", ["what:over_knurl~nominal:42~measured:42.02", "what:diameter~nominal:41.38~measured:41.39"]
)
def test_of_two_equal_knurls_the_check_must_say_by_its_z_which_was_measured(row: str) -> None:
    """Both went to the first knurl, so the rolls of the second were judged by a size that nobody had measured there."""
    with pytest.raises(Problem) as caught:
        answered(TWICE, row)
    fault = caught.value.faults[0]
    assert fault.field == "readings.0.at"
    assert "at Z-8.000 mm and Z-20.000 mm" in fault.message.say()
    tools = [answered(TWICE, f"{row}~at:{z}").tables["checks"][0].tool for z in (-8, -20)]
    assert tools == (["T1, finishing"] * 2 if "41.38" in row else ["T2, knurling", "T2, knurling"])


def test_the_print_s_list_places_knurls_of_one_size() -> None:
    rows = part_texts(TWICE, None, View())["readings"].split("*")
    assert [row.rpartition("~")[2] for row in rows if "over_knurl" in row] == ["at:-8", "at:-20"]
    turned = part_texts(TWICE, None, View(zplus="in"))["readings"]
    assert "what:over_knurl~nominal:42~at:" in turned


def test_a_knurl_over_a_whole_head_needs_no_z_to_be_found() -> None:
    head = {**KNURLED, "outside": "s_x0_z0*f*t_x42 DIN 82-RKE 1_z-13*f_x20*t_z-40"}
    head["operations"] = KNURLED["operations"].replace("row:3", "row:2")
    (row,) = answered(head, "what:diameter~nominal:42~measured:42.02").tables["checks"]
    assert (row.tool, row.wanted) == ("T2, knurling", 42.0)


def test_the_print_s_list_has_the_blank_of_a_knurl_and_the_knurl() -> None:
    texts = part_texts(KNURLED, None, View())["readings"].split("*")
    at = texts.index("what:diameter~nominal:41.38")
    assert texts[at + 1] == "what:over_knurl~nominal:42"
    assert "what:diameter~nominal:45" in texts, "without limits every size is on the list"
    limited = part_texts({"outside": "s_x0_z0*f*t_x42 h11, DIN 82-RKE 1_z-13*f_x20 h7*t_z-40"}, None, View())[
        "readings"
    ]
    assert [each.split("~")[0] for each in limited.split("*")] == ["what:diameter", "what:over_knurl", "what:diameter"]
    assert "lower:41.84~upper:42" in limited
