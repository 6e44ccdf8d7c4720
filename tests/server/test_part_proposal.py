"""Operations proposed for the demo's parts: a lead's order, each with its reason, and a plan that runs as it stands."""

from __future__ import annotations

import copy
import math
from typing import Any

import pytest

from calc.language.problems import Missing, Problem
from calc.language.quantities import View
from calc.questions.part.declared import OperationRow
from calc.questions.part.feature import FEATURE as PART
from calc.questions.part.reasons import reason_of
from server.part_api import answer
from server.part_proposal_api import answer as proposed
from server.query import read_query
from server.row_texts import texts_of
from tests.server.whole_parts import PARTS

THREAD = {"thread": "M30x1.5-6H", "from": 2, "to": 2, "where": "inside"}
ORDER = {
    "seat": [["face", "rough", "rough", "finish", "finish", "part-off"]],
    "pad": [["face", "rough", "finish", "part-off"]],
    "stem": [["face", "rough", "finish", "part-off"]],
    "sleeve": [
        [
            "face",
            "countersink",
            "drill",
            "drill",
            "rough",
            "bore",
            "bore",
            "finish",
            "groove",
            "groove",
            "thread",
            "part-off",
        ],
        ["face", "rough", "finish"],
    ],
}
"""Face before all else, holes from the solid first (spot, pilot, drill), roughing before finishing, threads and
parting off last: common practice, no source."""


def asked(name: str) -> tuple[dict[str, Any], View]:
    body, view = PARTS[name]
    print_ = {key: copy.deepcopy(value) for key, value in body.items() if key != "setups"}
    return print_ | ({"threads": [THREAD]} if name == "sleeve" else {}), view


@pytest.mark.parametrize("name", ORDER)
def test_the_operations_come_in_a_lead_s_order_and_can_be_planned_as_they_stand(name: str) -> None:
    body, view = asked(name)
    setups = proposed(body, view)["setups"]
    kinds = [[operation["kind"] for operation in setup["operations"]] for setup in setups]
    assert [sorted(each) for each in kinds] == [sorted(each) for each in ORDER[name]]
    assert kinds[0][0] == "face"
    assert kinds[0][-1] == "part-off"
    body.pop("threads", None)
    found = answer({**body, "setups": setups}, view)
    assert (found["collisions"], found["left_out"]) == ([], [])
    assert [row["cut_too_deep"]["value"] for row in found["operations"]] == [0.0] * sum(map(len, kinds))


def test_every_operation_says_why() -> None:
    body, view = asked("sleeve")
    reasons = [row["reason"] for setup in proposed(body, view)["setups"] for row in setup["operations"]]
    assert all(reason.endswith(".") for reason in reasons)
    assert "drill Ø23 mm from the solid" in reasons[3]


def test_the_drill_leaves_a_large_bore_two_millimetres_at_least() -> None:
    """A bore of 25 H7 is drilled 23: of 24 the first pass of the bar took 0.2, less than a nose of 0.8 cuts well."""
    body, view = asked("sleeve")
    drills = [row for row in proposed(body, view)["setups"][0]["operations"] if row["kind"] == "drill"]
    assert [row["tool"]["diameter"] for row in drills] == [6.9, 23.0]


def test_a_tube_is_not_drilled_and_a_bar_sawn_to_length_is_not_parted_off() -> None:
    body, view = asked("sleeve")
    body["stock"] |= {"bore_diameter": 22, "length": 42}
    kinds = [row["kind"] for setup in proposed(body, view)["setups"] for row in setup["operations"]]
    assert "drill" not in kinds
    assert "part-off" not in kinds


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"part": {"outside": PARTS["stem"][0]["part"]["outside"]}}, "part.material"),
        ({"threads": [{"thread": "M24x2"}]}, "threads.0.from"),
        ({"threads": "M24"}, "threads"),
        ({"setups": []}, "setups"),
    ],
)
def test_what_is_wrong_is_said_at_its_field(change: dict[str, Any], field: str) -> None:
    body, view = asked("stem")
    with pytest.raises(Problem) as caught:
        proposed(body | change, view)
    assert field in [fault.field for fault in caught.value.faults]


def page_proposal(**texts: str) -> list[dict[str, str]]:
    """The rows that a part's page offers to start from."""
    given = {"material": "C45", "bar_diameter": "45", "face_stock": "1", "max_rpm": "2500", **texts}
    query = read_query(given.items(), PART.inputs)
    with pytest.raises(Missing) as caught:
        PART.answer(query.inputs(PART.inputs))
    rows = texts_of(caught.value.faults[0].offers[0], OperationRow)
    assert PART.answer(read_query({**given, "operations": caught.value.faults[0].offers[0]}.items(), PART.inputs)
                       .inputs(PART.inputs))[0].results.cut_too_deep == 0.0  # fmt: skip
    return [dict(row) for row in rows]


def test_close_sizes_are_measured_before_they_are_finished() -> None:
    """24 g6 allows 0.013 and 25 H7 0.021 (ISO 286-2); 42 without limits is not stopped for."""
    rows = page_proposal(outside="s_x0_z0*f*t_x24 g6_z-20*f_x42*t_z-40", inside="s_x16_z0*t_z-40")
    kinds = [row["kind"] for row in rows]
    assert kinds.count("measure") == 1
    stop = kinds.index("measure")
    assert kinds[stop + 1] == "finish"
    assert "rough" in kinds[:stop]
    reason = reason_of(rows[stop]["why"])
    assert reason is not None
    assert "Ø24 mm allows 0.013 mm" in reason.say()


def test_a_straight_bore_with_close_limits_is_reamed_and_a_larger_one_bored() -> None:
    """12 H7: drilled 11.7, as a hole by itself takes it, then reamed; 25 H7 is bored, with a stop to measure."""
    small = page_proposal(outside="s_x0_z0*f*t_x42_z-40", inside="s_x12 H7_z0*t_z-40")
    kinds = [row["kind"] for row in small]
    assert (kinds[kinds.index("drill") :].count("bore"), kinds.count("ream")) == (0, 1)
    assert next(row for row in small if row["kind"] == "drill")["size"] == "11.7 mm"
    large = [row["kind"] for row in page_proposal(outside="s_x0_z0*f*t_x42_z-40", inside="s_x25 H7_z0*t_z-40")]
    assert large.count("ream") == 0
    first = large.index("bore")
    assert large[first : first + 3] == ["bore", "measure", "bore"]


def test_a_bore_that_opens_toward_the_second_end_is_bored_from_there() -> None:
    """Ø20 to Z-25, then Ø30 through: a bar from the first end does not get behind the narrow part."""
    rows = page_proposal(outside="s_x0_z0*f*t_x42_z-40", inside="s_x20_z0*t_z-25*f_x30*t_z-40")
    second = [row for row in rows if row.get("end") == "second"]
    assert [row["kind"] for row in second if row["kind"] == "bore"] == ["bore", "bore"]
    assert {(row["from_row"], row["to_row"]) for row in second if row["kind"] == "bore"} == {("2", "3")}


def knurled() -> dict[str, Any]:
    corners = [(42, 0), (42, -3), (42, -13), (42, -28)]
    lines = [{"kind": "line", "x": x, "z": z} for x, z in corners]
    return {
        "part": {"material": "C45", "outside": {"start": {"x": 0, "z": 0}, "elements": lines}},
        "stock": {"bar_diameter": 45, "face_stock": 1},
        "machine": {"max_rpm": 2500},
    }


def test_a_knurl_of_the_print_is_proposed_on_its_blank_and_planned_as_it_stands() -> None:
    """DIN 82 has a blank of 42 - 0.67 = 41.33 for a crossed knurl of 1 mm; 130 teeth close on 130 / pi = 41.380."""
    body = knurled()
    body["part"]["knurls"] = [{"row": 3, "pitch": 1.0, "form": "crossed"}]
    found = proposed(body, View())
    operations = found["setups"][0]["operations"]
    kinds = [row["kind"] for row in operations]
    assert kinds == ["face", "rough", "finish", "knurl", "part-off"]
    assert operations[3]["tool"] == {"pitch": 1.0, "form": "crossed", "over_diameter": 42.0}
    planned = answer({**body, "setups": found["setups"]}, View())
    assert not any("needs a blank" in each for each in planned["cautions"])
    without = answer({**knurled(), "setups": found["setups"]}, View())
    assert any("needs a blank of Ø41.380" in each for each in without["cautions"])
    before, blank = (each["operations"][2]["volume_after"]["value"] for each in (without, planned))
    ring = math.pi / 4.0 * (42.0**2 - (130.0 / math.pi) ** 2)
    assert 8.0 * ring < before - blank < 10.0 * ring  # its ends lean up to the surface beside it


def test_a_knurl_in_inches_has_its_sizes_in_inches() -> None:
    body = knurled()
    body["part"]["outside"]["elements"] = [{"kind": "line", "x": 1.65, "z": z} for z in (0, -0.12, -0.5, -1.1)]
    body["part"]["knurls"] = [{"row": 3, "pitch": "1mm", "form": "diamond"}]
    body["stock"] = {"bar_diameter": 1.75, "face_stock": 0.04}
    rolled = next(row for row in proposed(body, View("inch"))["setups"][0]["operations"] if row["kind"] == "knurl")
    assert rolled["tool"]["over_diameter"] == pytest.approx(1.65)
    assert rolled["tool"]["pitch"] == pytest.approx(1.0 / 25.4)


@pytest.mark.parametrize(
    ("knurl", "field"),
    [
        ({"row": 9, "pitch": 1.0}, "part.knurls.0.row"),
        ({"row": 3}, "part.knurls.0.pitch"),
        ({"row": 3, "pitch": 1.0, "form": "round"}, "part.knurls.0.form"),
        ({"row": 1, "pitch": 1.0}, "part.knurls.0.row"),
        ({"row": 2, "pitch": 4.9}, "part.knurls.0.row"),
        ({"row": 3, "pitch": 1.0, "over": 42}, "part.knurls.0.over"),
        ({"row": 3, "pitch": -1.0}, "part.knurls.0.pitch"),
    ],
)
def test_a_knurl_that_cannot_be_is_said_at_its_place(knurl: dict[str, Any], field: str) -> None:
    body = knurled()
    body["part"]["knurls"] = [knurl]
    with pytest.raises(Problem) as caught:
        proposed(body, View())
    assert field in [fault.field for fault in caught.value.faults]
