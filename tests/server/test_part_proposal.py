"""Operations proposed for the demo's parts: a lead's order, each with its reason, and a plan that runs as it stands."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from calc.language.problems import Problem
from calc.language.quantities import View
from server.part_api import answer
from server.part_proposal_api import answer as proposed
from tests.server.test_whole_parts import PARTS

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


@pytest.mark.parametrize("name", PARTS)
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
