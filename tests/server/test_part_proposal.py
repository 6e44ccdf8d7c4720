"""Operations proposed for the demo's parts: a lead's order, each with its reason, and a plan that runs as it stands."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from calc.language.problems import Missing, Problem
from calc.language.quantities import View
from calc.questions.part.declared import OperationRow
from calc.questions.part.feature import FEATURE as PART
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
        ["face", "drill", "rough", "bore", "bore", "finish", "groove", "groove", "thread", "part-off"],
        ["face", "rough", "finish"],
    ],
}
"""Face before all else, holes from the solid first, roughing before finishing, threads and parting off last: common
practice, no source."""


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
    assert "drill Ø24 mm from the solid" in reasons[1]


def test_the_drill_leaves_the_bore_a_millimetre_at_least() -> None:
    """A bore of 25 H7 is drilled 24 and then bored: common practice, no source."""
    body, view = asked("sleeve")
    drill = next(row for row in proposed(body, view)["setups"][0]["operations"] if row["kind"] == "drill")
    assert drill["tool"]["diameter"] == 24.0


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
    assert "Ø24 mm allows 0.013 mm" in rows[stop]["note"]


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
