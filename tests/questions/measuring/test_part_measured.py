"""A whole part measured: each reading goes to the tool that cut there, and its changes lead back to what was wrong."""

from __future__ import annotations

import html
import re
from collections.abc import Mapping
from typing import Any
from urllib.parse import parse_qsl, urlsplit

import pytest
from starlette.testclient import TestClient

from calc.answer.feature import Answer
from calc.language.problems import Problem
from calc.language.quantities import View
from calc.questions.measuring.check_texts import part_texts
from calc.questions.measuring.made_by import mirrored
from calc.questions.measuring.part_measured import FEATURE
from calc.questions.part.examples import SLEEVE
from server.links import address
from server.sheets.addresses import question_at

BARE = {name: text for name, text in FEATURE.example.items() if name != "readings"}
DCMT = "insert:DCMT 11T304~holder:SDJCR 2020K11~surface_speed:220~feed:0.1"
SHAFT = {
    "outside": "s_x0_z0*f*h_namedM24x3-6g_z-30_reliefA_br2x45°*f_x31 h7*t_z-60 +0.1/0*f_x40*t_z-80*f_x30*t_z-90",
    "bar_diameter": "45", "stock_length": "91", "face_stock": "1", "material": "C45",
    "operations": f"kind:face~{DCMT}*kind:finish~{DCMT}~to_row:6*kind:thread~thread:M24x3-6g~from_row:2~to_row:2"
    f"*kind:finish~end:second~{DCMT}~from_row:7~to_row:8",
}  # fmt: skip


def answered(part: Mapping[str, str], *rows: str) -> Answer[Any]:
    question = question_at(address("/part-measured", {**part, "readings": "*".join(rows)}))
    assert not isinstance(question, str)
    assert question.query.faults == ()
    return FEATURE.answer(question.query.inputs(FEATURE.inputs))[0]


def test_each_reading_belongs_to_the_tool_that_cut_there_last_and_leads_back_to_what_was_wrong() -> None:
    """Finishing tool off by X +0.016: diameters 0.032 larger; boring bar X -0.01: a bore 0.02 too small."""
    found = answered(
        BARE,
        "what:diameter~nominal:42~at:-10~measured:42.032~spread:0.002",
        "what:diameter~where:inside~nominal:25~lower:25~upper:25.021~measured:24.9905~spread:0.002",
        "what:length~where:inside~nominal:19~measured:19~spread:0.002",
    )
    tools = {row.tool: row for row in found.tables["tools"]}
    assert list(tools) == ["T2, finish", "T3, bore"]
    assert tools["T2, finish"].x_change == pytest.approx(-0.016, abs=2e-4)
    assert tools["T3, bore"].x_change == pytest.approx(0.01, abs=2e-4)
    assert [row.tool for row in found.tables["checks"]] == ["T2, finish", "T3, bore", "T3, bore"]
    assert [row.verdict for row in found.tables["checks"]] == [None, "rework", None]


def test_a_thread_goes_to_the_threading_tool_and_its_cylinder_to_the_turning_tool() -> None:
    """Over wires 24.5034 at mid-limit (M24x3-6g, best wire): 0.04 too much is X -0.02 of the threading tool."""
    found = answered(
        SHAFT,
        "what:over_wires~thread:M24x3-6g~measured:24.5434~spread:0.002",
        "what:diameter~nominal:31~at:-45~lower:30.975~upper:31~measured:30.9875~spread:0.002",
    )
    tools = {row.tool: row for row in found.tables["tools"]}
    assert tools["T2, thread"].x_change == pytest.approx(-0.02, abs=1e-3)
    assert tools["T1, finish"].x_change == pytest.approx(0.0, abs=2e-4)


def test_at_the_second_end_z_counts_the_other_way() -> None:
    """A back shoulder 80.03 from Z 0 where 80 is wanted: the tool stood 0.03 too far out there, so Z -0.03; the print's
    own Z would say +0.03. The same tool at the first end: shoulder 60.03 for 60.05, off by +0.02, so Z -0.02.
    """
    found = answered(
        SHAFT,
        "what:length~nominal:80~measured:80.03~spread:0.002",
        "what:diameter~nominal:30~at:-85~measured:30.02~spread:0.002",
        "what:length~nominal:60~lower:60~upper:60.1~measured:60.03~spread:0.002",
        "what:diameter~nominal:31~at:-45~lower:30.975~upper:31~measured:30.9875~spread:0.002",
    )
    rows = {row.tool: row for row in found.tables["tools"]}
    second, first = rows["T1, finish, second end"], rows["T1, finish"]
    assert (second.x_change, second.z_change) == pytest.approx((-0.01, -0.03), abs=1e-3)
    assert (first.x_change, first.z_change) == pytest.approx((0.0, -0.02), abs=1e-3)
    assert [mirrored(number) for number in range(10)] == [0, 2, 1, 4, 3, 7, 6, 5, 8, 9]


def test_what_is_not_measured_stays_on_the_list_and_is_counted() -> None:
    found = answered(BARE, "what:diameter~nominal:42~measured:42.0", "what:length~nominal:28")
    assert (found.results.measured_count, len(found.tables["checks"])) == (1.0, 2)
    assert any("not measured yet: 1" in note.say() for note in found.notes)


def test_the_print_makes_the_list() -> None:
    """h7 of 31: -0.025 (ISO 286-2); the thread over wires; lengths by their limits."""
    texts = part_texts(SHAFT, None, View())["readings"].split("*")
    assert "what:diameter~nominal:31~lower:30.975~upper:31" in texts
    assert "what:length~nominal:60~lower:60~upper:60.1" in texts
    assert "what:over_wires~thread:M24x3-6g" in texts
    assert any(each.startswith("what:diameter~nominal:24~lower:23.577") for each in texts)


def test_an_inch_page_gets_the_prints_sizes_with_their_unit() -> None:
    texts = part_texts({"outside": "s_x0mm_z0mm*f*t_x24mm_z-28mm"}, None, View("inch"))["readings"]
    assert texts == "what:length~nominal:28mm*what:diameter~nominal:24mm"


def test_the_parts_page_leads_there_with_its_checks_filled_in(client: TestClient) -> None:
    page = html.unescape(client.get(address("/part", SLEEVE)).text)
    link = re.findall(r'href="(/part-measured\?[^"]+)"', page)[0]
    texts = dict(parse_qsl(urlsplit(link).query))
    assert texts["outside"] == SLEEVE["outside"]
    assert "what:diameter~where:inside~nominal:25~lower:25~upper:25.021" in texts["readings"]
    asking = client.get(link)
    assert asking.status_code == 200
    assert "Enter what was measured" in html.unescape(asking.text)


@pytest.mark.parametrize(
    ("part", "row", "field"),
    [
        (BARE, "what:diameter~nominal:42", "readings.0.measured"),
        (BARE, "what:diameter~at:-500~measured:42", "readings.0.at"),
        (SHAFT, "what:diameter~where:inside~nominal:25~measured:25", "readings.0.where"),
        (SHAFT, "what:over_wires~thread:M12-6g~measured:12.3", "readings.0.operation"),
        (BARE, "what:diameter~nominal:42~measured:42~operation:9", "readings.0.operation"),
        (BARE, "what:pitch_diameter~measured:42", "readings.0.thread"),
        ({**BARE, "operations": ""}, "what:diameter~nominal:42~measured:42", "operations"),
    ],
)
def test_what_cannot_be_is_said_at_its_field(part: Mapping[str, str], row: str, field: str) -> None:
    with pytest.raises(Problem) as caught:
        answered(part, row)
    assert [fault.field for fault in caught.value.faults] == [field]
