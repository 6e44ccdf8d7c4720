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
    assert list(tools) == ["T2, finishing", "T3, boring"]
    assert tools["T2, finishing"].x_change == pytest.approx(-0.016, abs=2e-4)
    assert tools["T3, boring"].x_change == pytest.approx(0.01, abs=2e-4)
    assert [row.tool for row in found.tables["checks"]] == ["T2, finishing", "T3, boring", "T3, boring"]
    assert [row.verdict for row in found.tables["checks"]] == [None, "rework", None]


def test_a_thread_goes_to_the_threading_tool_and_its_cylinder_to_the_turning_tool() -> None:
    """Over wires 24.5034 at mid-limit (M24x3-6g, best wire): 0.04 too much is X -0.02 of the threading tool."""
    found = answered(
        SHAFT,
        "what:over_wires~thread:M24x3-6g~measured:24.5434~spread:0.002",
        "what:diameter~nominal:31~at:-45~lower:30.975~upper:31~measured:30.9875~spread:0.002",
    )
    tools = {row.tool: row for row in found.tables["tools"]}
    assert tools["T2, threading"].x_change == pytest.approx(-0.02, abs=1e-3)
    assert tools["T1, finishing"].x_change == pytest.approx(0.0, abs=2e-4)


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
    second, first = rows["T1, finishing, second end"], rows["T1, finishing"]
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


TWO_TOOLS = {
    **SHAFT,
    "outside": "s_x0_z0*f*t_x20_z-30*f_x31*t_z-60*f_x40*t_z-90",
    "operations": f"kind:face~{DCMT}*kind:finish~{DCMT}~to_row:3*kind:finish~insert:VBMT 160404~holder:SVJBR 2525M16"
    "~surface_speed:220~feed:0.1~from_row:4~to_row:6",
}
"""One tool finishes the front and 20, another 31 and 40."""


def test_tools_of_one_clamping_share_the_taper_of_the_work_and_keep_their_own_offsets() -> None:
    """0.0001 per length toward the chuck for both tools, which stand off by 0.010 and -0.005: 2 x and -taper z."""
    rows = [
        f"what:diameter~nominal:{size}~at:{z}~measured:{size + 2.0 * off - 0.0001 * z:.4f}~spread:0.001"
        for size, z, off in ((20, -2, 0.01), (20, -28, 0.01), (31, -32, -0.005), (31, -58, -0.005), (40, -88, -0.005))
    ]
    found = answered(TWO_TOOLS, *rows)
    tools = {row.tool: row for row in found.tables["tools"]}
    assert set(tools) == {"T1, finishing", "T2, finishing"}
    assert [row.taper for row in tools.values()] == pytest.approx([-0.0001, -0.0001], abs=1e-5)
    assert tools["T1, finishing"].x_change == pytest.approx(-0.01, abs=1e-3)
    assert tools["T2, finishing"].x_change == pytest.approx(0.005, abs=1e-3)
    alone = answered(TWO_TOOLS, rows[0], rows[2])
    assert all(row.taper is None for row in alone.tables["tools"])


def test_growth_of_the_spindle_is_one_for_all_tools() -> None:
    """The first tool's shoulder shows 0.03 between the parts, the second tool was measured on the second part alone."""
    found = answered(
        TWO_TOOLS,
        "what:length~nominal:30~measured:30.03~spread:0.002~operation:2",
        "what:length~nominal:30~measured:30.00~spread:0.002~operation:2~part:second",
        "what:length~nominal:60~measured:60.01~spread:0.002~part:second",
    )
    tools = {row.tool: row for row in found.tables["tools"]}
    assert [row.growth for row in tools.values()] == pytest.approx([0.03, 0.03], abs=1e-3)
    assert tools["T1, finishing"].z_change == pytest.approx(0.03, abs=1e-3)
    assert tools["T2, finishing"].z_change == pytest.approx(0.04, abs=2e-3)


def test_the_pip_and_where_it_is_held_are_asked_for_the_whole_part_too() -> None:
    """A tool 0.2 from centre: 2 sqrt(r2 + 0.04); work held at Z-90 springs away by 0.03 at Z 0, by the cube."""
    small = {**TWO_TOOLS, "outside": "s_x0_z0*f*t_x2_z-5*f_x6*t_z-10*f_x24*t_z-90"}
    small["operations"] = f"kind:face~{DCMT}*kind:finish~{DCMT}"
    rows = [
        f"what:diameter~nominal:{2 * r}~at:{z}~measured:{2 * (r * r + 0.04) ** 0.5:.5f}~spread:0.0005"
        for r, z in ((1, -3), (3, -8), (12, -15))
    ]
    (tool,) = answered({**small, "pip": "stub"}, *rows).tables["tools"]
    assert tool.centre_height == pytest.approx(-0.2, abs=2e-3)
    bar = {**small, "outside": "s_x0_z0*f*t_x16_z-85", "held_at": "-90"}
    sprung = [
        f"what:diameter~nominal:16~at:{z}~measured:{16.04 + 0.06 * ((z + 90) / 90) ** 3:.4f}~spread:0.002"
        for z in (-2, -20, -40, -60, -84)
    ]
    (tool,) = answered(bar, *sprung).tables["tools"]
    assert tool.deflection == pytest.approx(0.03, abs=3e-3)
    assert tool.x_change == pytest.approx(-0.02, abs=4e-3)


def test_the_pip_and_where_it_is_held_are_asked_for_the_second_end_too() -> None:
    """The same tool 0.2 from centre, and the same deflection by the cube, turned round: Z counts from the far face."""
    far = {**TWO_TOOLS, "outside": "s_x0_z0*f*t_x24_z-80*f_x6*t_z-85*f_x2*t_z-90*f_x0"}
    far["operations"] = f"kind:face~{DCMT}*kind:face~end:second~{DCMT}*kind:finish~end:second~{DCMT}"
    rows = [
        f"what:diameter~nominal:{2 * r}~at:{z}~measured:{2 * (r * r + 0.04) ** 0.5:.5f}~spread:0.0005"
        for r, z in ((1, -87), (3, -82), (12, -75))
    ]
    (tool,) = answered({**far, "second_pip": "stub", "pip": "cone"}, *rows).tables["tools"]
    assert tool.centre_height == pytest.approx(-0.2, abs=2e-3)
    bar = {**far, "outside": "s_x0_z0*f*t_x16_z-85*f_x0", "second_held_at": "-84", "held_at": "-80"}
    sprung = [
        f"what:diameter~nominal:16~at:{z}~measured:{16.04 + 0.06 * ((z + 1) / -84) ** 3:.4f}~spread:0.002"
        for z in (-2, -20, -40, -60, -84)
    ]
    (tool,) = answered(bar, *sprung).tables["tools"]
    assert tool.deflection == pytest.approx(0.03, abs=3e-3)
    assert tool.x_change == pytest.approx(-0.02, abs=4e-3)
    with pytest.raises(Problem) as caught:
        answered({**bar, "second_held_at": "5"}, *sprung)
    assert [fault.field for fault in caught.value.faults] == ["second_held_at"]


def test_what_is_left_for_grinding_is_measured_as_it_is_turned() -> None:
    """0.2 per side left on Ø20: turned to Ø20.4; a gauge of 20.43 is 0.03 off, not 0.43."""
    found = answered(
        {**TWO_TOOLS, "left_on": "from_row:2~to_row:2~per_side:0.2"},
        "what:diameter~nominal:20.4~at:-5~measured:20.43~spread:0.002",
    )
    (check,) = found.tables["checks"]
    assert (check.wanted, check.deviation) == pytest.approx((20.4, 0.03))
    assert found.tables["tools"][0].x_change == pytest.approx(-0.015, abs=2e-3)


def test_the_tool_with_the_reading_that_does_not_fit_is_named_alone() -> None:
    rows = [f"what:diameter~nominal:20~at:{z}~measured:20.{size}~spread:0.002" for z, size in ((-2, "02"), (-9, "52"),
            (-20, "02"), (-28, "02"))]  # fmt: skip
    found = answered(TWO_TOOLS, *rows, "what:diameter~nominal:31~at:-50~measured:31.0~spread:0.002")
    said = [caution.message.say() for caution in found.cautions if "disagree" in caution.message.say()]
    assert len(said) == 1
    assert said[0].startswith("T1, finishing: ")
    assert "reading 2 most" in said[0]


def test_points_and_runouts_are_checks_of_a_whole_part_too() -> None:
    """A face touched with a ball of 2 at Ø25: its centre stands 29 from Z 0; runouts keep the numbers of their rows."""
    found = answered(
        TWO_TOOLS,
        "what:diameter~nominal:20~at:-5~measured:20.02~spread:0.002",
        "what:point_z~on_diameter:25~ball_diameter:2~measured:29.03~spread:0.002",
        "what:runout~at:-50~measured:0.04~surface:turned",
        "what:runout~measured:0.001~surface:before",
    )
    assert [row.tool for row in found.tables["checks"]][:3] == ["T1, finishing", "T1, finishing", "T2, finishing"]
    assert found.tables["checks"][1].wanted == pytest.approx(29.0)
    runout, other = found.tables["runouts"]
    assert "nothing is proved" in other.means
    assert (runout.number, runout.off_axis) == (3.0, 0.02)
    assert "spindle" in runout.means


def test_measured_sizes_come_in_as_csv_by_the_numbers_of_their_checks_and_go_out_as_csv(client: TestClient) -> None:
    rows = "what:diameter~nominal:20~at:-5*what:diameter~nominal:31~at:-45*what:diameter~nominal:40~at:-70~measured:40"
    pasted = {**TWO_TOOLS, "pasted": "check;size\n1;20,03\n2;31.01\n3;41"}
    found = answered(pasted, *rows.split("*"))
    assert [row.measured for row in found.tables["checks"]] == pytest.approx([20.03, 31.01, 40.0])
    inches = answered({**pasted, "pasted": "1;0.79", "pasted_in": "inch"}, *rows.split("*"))
    assert inches.tables["checks"][0].measured == pytest.approx(20.066)
    file = client.get(address("/part-measured/tables.csv", {**pasted, "readings": rows})).text
    assert "20.030" in file
    assert "T1, finishing" in file


@pytest.mark.parametrize("line", ["4;20", "1;2;3", "1.5;20"])
def test_a_pasted_line_that_is_of_no_check_is_said_at_its_field(line: str) -> None:
    with pytest.raises(Problem) as caught:
        answered({**TWO_TOOLS, "pasted": line}, "what:diameter~nominal:20~at:-5")
    assert [fault.field for fault in caught.value.faults] == ["pasted"]
