"""The round nose on a contour in JSON."""

import json
from typing import Any

import pytest
from starlette.testclient import TestClient

from server.posting import MOST_BODY

CORNER = {
    "start": {"x": 40, "z": 0},
    "elements": [{"kind": "line", "x": 20, "z": 0}, {"kind": "line", "x": 20, "z": 9}],
}


def post(client: TestClient, body: Any, status: int = 200, query: str = "") -> Any:
    answer = client.post(f"/api/nose-radius/path{query}", content=body if isinstance(body, str) else json.dumps(body))
    assert answer.status_code == status, answer.text
    return answer.json()


def test_it_answers_both_ways_with_the_contours_indices(client: TestClient) -> None:
    found = post(client, {"contour": CORNER, "nose_radius": 2, "tool_point": 3, "side": "left"})
    assert [(each["kind"], each["of"]) for each in found["nose_centre"]] == [("line", 0), ("line", 1)]
    first, tip = found["nose_centre"][0], found["tool_point"][0]
    assert (first["x1"], first["z1"], first["x2"], first["z2"]) == (40.0, 2.0, 24.0, 2.0)
    assert (tip["x1"], tip["z1"]) == (36.0, 0.0)
    (gap,) = found["unreached"]
    assert gap["elements"] == [0, 1]
    assert gap["reason"] == "corner"
    assert found["gouges"] == []
    assert gap["size"] == {"value": pytest.approx(0.828427, abs=1e-6), "unit": "mm"}


def test_conventions_stand_in_the_query_and_change_what_is_read_and_shown(client: TestClient) -> None:
    body = {
        "contour": {"start": {"x": 1, "z": 0}, "elements": [{"kind": "line", "x": 0.5, "z": 0}]},
        "nose_radius": "1/16",
        "side": "right",
    }
    found = post(client, body, query="?units=inch&x=radius&zplus=in")
    assert found["nose_centre"][0]["x1"] == pytest.approx(1.0)
    assert found["nose_centre"][0]["z1"] == pytest.approx(0.0625)
    assert found["conventions"] == {"units": "inch", "x": "radius", "zplus": "in"}


def test_a_contour_with_blanks_is_solved_when_it_means_one_thing(client: TestClient) -> None:
    blank = {
        "start": {"x": 0, "z": 0},
        "elements": [
            {"kind": "line", "z": 0, "angle": 90, "corner": {"kind": "radius", "size": 1}},
            {"kind": "line", "x": 30, "z": -20, "angle": 180},
        ],
    }
    found = post(client, {"contour": blank, "nose_radius": 0.8, "side": "right"})
    assert [each["kind"] for each in found["elements"]] == ["line", "arc", "line"]


@pytest.mark.parametrize(
    ("change", "field", "said"),
    [
        ({"nose_radius": None}, "nose_radius", "Give the nose radius"),
        ({"nose_radius": -1}, "nose_radius", "more than 0"),
        ({"nose_radius": "abc"}, "nose_radius", "abc"),
        ({"nose_radius": True}, "nose_radius", "must be a number"),
        ({"tool_point": 12}, "tool_point", "one of"),
        ({"side": "up"}, "side", "left, right"),
        ({"contour": None}, "contour", "object with start"),
        ({"contour": {"start": {"x": 1, "z": 0}, "elements": []}}, "contour.elements", "at least one element"),
        ({"sides": "left"}, "sides", "no such name"),
    ],
)
def test_what_is_wrong_is_said_at_its_field(client: TestClient, change: Any, field: str, said: str) -> None:
    body = {"contour": CORNER, "nose_radius": 2, "tool_point": 3, "side": "left"} | change
    (error,) = post(client, body, 422)["errors"]
    assert error["field"] == field
    assert said in error["message"]


def test_a_wrong_radius_of_an_element_is_named_in_full(client: TestClient) -> None:
    bad = {**CORNER, "elements": [*CORNER["elements"], {"kind": "arc", "x": 30, "z": 20, "radius": -2, "turn": "cw"}]}
    errors = post(client, {"contour": bad, "nose_radius": 0.4}, 422)["errors"]
    assert errors[0]["field"].startswith("contour.elements.2")


def test_an_element_of_no_kind_is_refused(client: TestClient) -> None:
    bad = {**CORNER, "elements": [{"x": 5, "z": 5}]}
    errors = post(client, {"contour": bad, "nose_radius": 0.4}, 422)["errors"]
    assert [error["field"] for error in errors] == ["contour.elements.0.kind"]


def test_a_contour_that_crosses_itself_is_refused(client: TestClient) -> None:
    points = [(60, 0), (40, -10), (60, -10), (40, 0)]
    elements = [{"kind": "line", "x": x, "z": z} for x, z in points[1:]]
    body = {"contour": {"start": {"x": 60, "z": 0}, "elements": elements}, "nose_radius": 0.4}
    assert "meet at" in post(client, body, 422)["errors"][0]["message"]


@pytest.mark.parametrize("body", ["", "[]", "{", '{"nose_radius": NaN}', "[" * 5000])
def test_a_body_that_is_no_json_object_is_refused(client: TestClient, body: str) -> None:
    assert post(client, body, 422)["errors"][0]["field"] == ""


def test_a_body_that_is_too_large_is_refused(client: TestClient) -> None:
    assert "at most" in post(client, " " * (MOST_BODY + 1), 413)["errors"][0]["message"]


def test_it_is_described(client: TestClient) -> None:
    described = client.get("/api/openapi.json").json()["paths"]["/api/nose-radius/path"]
    assert set(described) == {"get", "post"}
    assert "contour" in described["post"]["requestBody"]["content"]["application/json"]["schema"]["properties"]


@pytest.mark.parametrize(("x", "shown"), [("diameter", 1.6), ("radius", 0.8)])
def test_the_lead_in_along_x_is_shown_as_x_is(client: TestClient, x: str, shown: float) -> None:
    query = {"shape": "stem", "nose_radius": "0.8", "x": x}
    results = client.get("/api/nose-radius/path", params=query).json()["results"]
    assert results["least_lead_in_x"]["value"] == pytest.approx(shown)


@pytest.mark.parametrize(("zplus", "z", "off"), [("out", "-10", -0.8), ("in", "10", 0.8)])
def test_z_is_off_toward_the_readers_plus(client: TestClient, zplus: str, z: str, off: float) -> None:
    """Led by its centre a nose cuts the face 0.8 too deep: toward the chuck, minus out, plus in."""
    query = {"contour": f"s_x20_z{z}*f_x40", "nose_radius": "0.8", "tool_point": "0", "side": "right", "zplus": zplus}
    (row,) = client.get("/api/nose-radius/path", params=query).json()["measured"]
    assert row["z_off"]["value"] == pytest.approx(off)
