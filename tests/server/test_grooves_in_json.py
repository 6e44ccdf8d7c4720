"""Grooves as elements of a contour in JSON, by their sizes and by name, into a call and out of it."""

from typing import Any

import pytest
from starlette.testclient import TestClient

SHAFT: list[dict[str, Any]] = [{"kind": "line", "x": 25, "z": -20}, {"kind": "line", "x": 25, "z": -40}]


def body(*grooves: dict[str, Any]) -> dict[str, Any]:
    return {"start": {"x": 25, "z": 0}, "elements": [SHAFT[0], *grooves, SHAFT[1]]}


def test_a_groove_is_three_elements_of_one_place(client: TestClient) -> None:
    groove = {"kind": "groove", "width": 3, "depth": 2}
    answer = client.post("/api/geometry/contour", json=body(groove)).json()
    elements = answer["solutions"][0]["elements"]
    assert [each["of"] for each in elements] == [0, 1, 1, 1, 2]
    assert [each["groove"] for each in elements] == [False, True, True, True, False]
    assert [(each["x2"], each["z2"]) for each in elements[1:4]] == [(21.0, -20.0), (21.0, -23.0), (25.0, -23.0)]


def test_the_groove_of_a_ring_is_called_by_name(client: TestClient) -> None:
    """DIN 471, from memory: Ø25 has a groove of Ø23.9 h12, 1.3 H13 wide; the points aim at the middles."""
    answer = client.post("/api/geometry/contour", json=body({"kind": "groove", "designation": "DIN 471"})).json()
    elements = answer["solutions"][0]["elements"]
    assert (elements[2]["x1"], elements[2]["z2"]) == pytest.approx((23.795, -21.37))


@pytest.mark.parametrize(
    ("groove", "field", "said"),
    [
        ({"kind": "groove", "width": 3}, "elements.1", "needs its width and its depth"),
        ({"kind": "groove", "width": -3, "depth": 1}, "elements.1", "must be more than 0"),
        ({"kind": "groove", "designation": "DIN 471 40"}, "elements.1.designation", "is for Ø40 mm"),
        ({"kind": "groove", "designation": "DIN 999"}, "elements.1.designation", "is not a standard groove"),
        ({"kind": "groove", "width": 3, "depth": 1, "turn": "cw"}, "elements.1.turn", "nothing of this name"),
    ],
)
def test_a_groove_that_cannot_be_read_is_told_at_its_place(
    client: TestClient, groove: dict[str, Any], field: str, said: str
) -> None:
    answer = client.post("/api/geometry/contour", json=body(groove))
    assert answer.status_code == 422
    assert any(each["field"] == field and said in each["message"] for each in answer.json()["errors"]), answer.text


def test_what_lacks_behind_a_groove_is_told_at_the_bodys_own_place(client: TestClient) -> None:
    asked = body({"kind": "groove", "width": 3, "depth": 2})
    asked["elements"][2] = {"kind": "line", "z": -40}
    answer = client.post("/api/geometry/contour", json=asked).json()
    assert {each["element"] for each in answer["missing"]} == {2}


def test_a_whole_part_takes_a_contour_with_a_groove(client: TestClient) -> None:
    named = {"kind": "groove", "designation": "DIN 471"}
    outside = {
        "start": {"x": 0, "z": 0},
        "elements": [{"kind": "line", "x": 25, "z": 0}, SHAFT[0], named, SHAFT[1]],
    }
    operation = {
        "kind": "rough",
        "tool": {"insert": "CNMG 120408", "holder": "PCLNR 2525M12"},
        "cut": {"surface_speed": 180, "feed": 0.25, "depth": 1.5},
    }
    asked = {
        "part": {"material": "C45", "outside": outside},
        "stock": {"bar_diameter": 28, "face_stock": 1, "length": 42},
        "machine": {"max_rpm": 2500},
        "setups": [{"end": "first", "operations": [operation]}],
    }
    answer = client.post("/api/plan/part", json=asked)
    assert answer.status_code == 200, answer.text[:400]
    (row,) = answer.json()["operations"]
    assert row["volume_after"]["value"] < row["volume_before"]["value"]
