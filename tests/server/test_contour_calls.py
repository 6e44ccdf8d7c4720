"""`/api/geometry/contour`: a contour in JSON and as text, the blanks solved, what is missing or wrong at its field."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from starlette.testclient import TestClient

Post = Callable[..., Any]

S_CURVE = {
    "start": {"x": 30, "z": 0},
    "elements": [
        {"kind": "line", "x": 30, "z": None, "angle": 180},
        {"kind": "arc", "radius": 5, "tangent": True, "x": None, "z": None},
        {"kind": "arc", "radius": 8, "tangent": True, "x": 50, "z": -25},
        {"kind": "line", "x": 50, "z": -30, "tangent": True},
    ],
}


@pytest.fixture
def post(client: TestClient) -> Post:
    """Post a body and take the answer's JSON: `post(body, units="inch")`."""

    def posted(body: Any, status: int = 200, **query: str) -> Any:
        answer = client.post("/api/geometry/contour", json=body, params=query)
        assert answer.status_code == status, answer.text
        return answer.json()

    return posted


def test_the_blanks_of_an_s_are_solved(post: Post) -> None:
    """R5 on diameter 30 and R8 up to diameter 50 at Z -25, all tangent: centres 13 apart, at radius 20 and 17."""
    body = post(S_CURVE)
    solution = body["solutions"][0]
    first, second = solution["elements"][1:3]
    assert (first["x1"], first["z1"]) == pytest.approx((30, -25 + math.sqrt(160)), abs=1e-9)
    assert (first["x2"], first["z2"]) == pytest.approx((37.69231, -17.21593), abs=5e-6)
    assert (first["radius"], first["centre_x"], first["turn"]) == (pytest.approx(5), pytest.approx(40), "cw")
    assert (second["radius"], second["centre_x"], second["turn"]) == (pytest.approx(8), pytest.approx(34), "ccw")
    assert [element["of"] for element in solution["elements"]] == [0, 1, 2, 3]
    assert len(body["solutions"]) == 1
    assert body["more"] is False
    assert solution["label"]


def test_corners_are_elements_that_bear_the_index_they_end(post: Post) -> None:
    corner = {"kind": "radius", "size": 2}
    elements = [{"kind": "line", "x": 20, "z": 0, "corner": corner}, {"kind": "line", "x": 20, "z": -10}]
    found = post({"start": {"x": 0, "z": 0}, "elements": elements})["solutions"][0]["elements"]
    assert [(element["kind"], element["of"], element["corner"]) for element in found] == [
        ("line", 0, False),
        ("arc", 0, True),
        ("line", 1, False),
    ]
    assert (found[1]["x1"], found[1]["z2"]) == pytest.approx((16, -2))


def test_the_same_part_in_other_conventions_is_the_same_part(post: Post) -> None:
    plain = post(S_CURVE)["solutions"][0]["elements"]
    turned = {
        "start": {"x": 15 / 25.4, "z": 0},
        "elements": [
            {"kind": "line", "x": 15 / 25.4, "angle": 180},
            {"kind": "arc", "radius": 5 / 25.4, "tangent": True},
            {"kind": "arc", "radius": "8mm", "tangent": True, "x": 25 / 25.4, "z": 25 / 25.4},
            {"kind": "line", "x": 25 / 25.4, "z": 30 / 25.4, "tangent": True},
        ],
    }
    other = post(turned, units="inch", x="radius", zplus="in")["solutions"][0]["elements"]
    for one, two in zip(plain, other, strict=True):
        assert two["x2"] * 25.4 * 2 == pytest.approx(one["x2"], abs=1e-9)
        assert two["z2"] * -25.4 == pytest.approx(one["z2"], abs=1e-9)


def test_several_contours_come_with_labels_that_tell_them_apart(post: Post) -> None:
    body = post(
        {
            "start": {"x": 20, "z": 0},
            "elements": [{"kind": "line", "x": 20, "z": -10}, {"kind": "arc", "radius": 10, "x": 30, "z": -14}],
        }
    )
    labels = [solution["label"] for solution in body["solutions"]]
    assert len(set(labels)) == len(labels) > 1
    for solution in body["solutions"]:
        arc = solution["elements"][-1]
        for end in ("1", "2"):
            off = math.hypot((arc["x" + end] - arc["centre_x"]) / 2, arc["z" + end] - arc["centre_z"])
            assert off == pytest.approx(10, abs=1e-9)


def test_what_is_missing_is_told_with_the_fields_that_would_do(post: Post) -> None:
    elements = [{"kind": "line", "x": 30, "z": -10}, {"kind": "arc", "x": 40, "z": -20, "turn": "cw"}]
    body = post({"start": {"x": 30, "z": 0}, "elements": elements}, status=422)
    assert {"field": "elements.1.radius", "element": 1, "dimension": "radius"} in body["missing"]
    assert body["missing_count"] == 1
    assert body["errors"][0]["field"].startswith("elements.1.")
    elements[1]["radius"] = 12
    assert post({"start": {"x": 30, "z": 0}, "elements": elements})["solutions"]


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"elements": [{"kind": "line", "x": "abc"}]}, "elements.0.x"),
        ({"start": {"x": 1, "z": 0}, "elements": [{"kind": "curve"}]}, "elements.0.kind"),
        ({"start": {"x": 1, "z": 0}, "elements": [{"kind": "arc", "radius": -2}]}, "elements.0.radius"),
        ({"elements": [{"kind": "line", "z": -1}, {"kind": "arc", "radius": 0}]}, "elements.1.radius"),
        ({"start": {"x": 1, "z": 0}, "elements": []}, "elements"),
        ({"start": {"x": 1, "z": 0}, "elements": [{"kind": "line", "z": -1}], "sides": 1}, "sides"),
        ({"start": {"x": 1, "z": 0}, "elements": [{"kind": "line", "z": -1}], "side": "up"}, "side"),
        ({"start": {"x": 1, "z": 0}, "elements": [{"kind": "line", "z": -1}], "material": "cheese"}, "material"),
        ({"start": {"x": 1, "z": 0}, "elements": [{"kind": "line", "z": -1}], "bar_diameter": 0}, "bar_diameter"),
        ([], ""),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_at_its_field(post: Post, body: Any, field: str) -> None:
    errors = post(body, status=422)["errors"]
    assert field in [error["field"] for error in errors]
    assert all(error["message"].endswith((".", "?")) for error in errors)


def test_dimensions_that_disagree_are_named_with_the_amount(post: Post) -> None:
    elements = [{"kind": "line", "x": 30, "z": -10, "dz": -12}]
    errors = post({"start": {"x": 30, "z": 0}, "elements": elements}, status=422)["errors"]
    assert errors[0]["field"].startswith("elements.0.")
    assert "2.000 mm" in errors[0]["message"]


def test_a_typed_size_may_bear_its_tolerance_class(post: Post) -> None:
    """24 g6 is 23.980 to 23.993: ISO 286-1:2010."""
    elements = [{"kind": "line", "x": "24 g6", "z": 0}, {"kind": "line", "x": "900 g6", "z": -5}]
    assert post({"start": {"x": 0, "z": 0}, "elements": elements}, status=422)["errors"][0]["field"] == "elements.1.x"
    body = post({"start": {"x": 0, "z": 0}, "elements": elements[:1]})
    assert body["solutions"][0]["elements"][0]["x2"] == pytest.approx(23.9865, abs=1e-12)
    assert "middle of its limits" in body["notes"][0]


def test_results_and_points_are_those_of_the_likeliest(post: Post) -> None:
    body = post({**S_CURVE, "side": "left", "material": "C45"})
    assert body["results"]["smallest_concave_radius"] == {"value": pytest.approx(8), "unit": "mm"}
    assert body["results"]["mass"]["unit"] == "kg"
    assert [point["label"] for point in body["points"]] == ["start", "end of 1", "end of 2", "end of 3", "end of 4"]
    assert body["conventions"] == {"units": "mm", "x": "diameter", "zplus": "out"}


def test_text_and_json_give_one_contour(client: TestClient, post: Post) -> None:
    text = "s_x30_z0*t*a_r5_smooth*a_r8_x50_z-25_smooth*t_z-30_smooth"
    got = client.get("/api/geometry/contour", params={"contour": text}).json()
    posted = post(S_CURVE)
    for one, two in zip(got["points"], posted["points"], strict=True):
        assert (one["x"], one["z"]) == pytest.approx((two["x"], two["z"]), abs=1e-9)
    assert [element["kind"] for element in got["elements"]] == ["line", "arc", "arc", "line"]
    for name in ("length", "volume", "surface", "largest_diameter"):
        assert got["results"][name]["value"] == pytest.approx(posted["results"][name]["value"], abs=1e-6)


def test_a_text_that_lacks_something_says_so_at_its_row(client: TestClient) -> None:
    answer = client.get("/api/geometry/contour", params={"contour": "s_x30_z0*t*a_r5_x40_z-20_cw*l"})
    assert answer.status_code == 422
    assert {error["field"] for error in answer.json()["errors"]} >= {"contour"}


def test_both_calls_are_described(client: TestClient) -> None:
    paths = client.get("/api/openapi.json").json()["paths"]["/api/geometry/contour"]
    assert {"get", "post"} <= paths.keys()
    assert "contour" in [parameter["name"] for parameter in paths["get"]["parameters"]]
    body = paths["post"]["requestBody"]["content"]["application/json"]["schema"]["properties"]
    element = body["elements"]["items"]["properties"]
    assert {"kind", "x", "z", "angle", "length", "radius", "centre_x", "centre_z", "turn", "tangent", "corner"} <= set(
        element
    )


def test_undercuts_reliefs_and_threads_are_given_by_their_designations(post: Post) -> None:
    """ISO 965-2: M24x2-6g 23.682 to 23.962; DIN 76-1: bottom Ø21; DIN 509 F 0.8 x 0.3 under Ø31."""
    elements = [
        {"kind": "line", "x": "M24x2-6g", "z": 0},
        {"kind": "line", "dx": 0, "z": -30, "corner": {"kind": "relief", "designation": "A M24x2-6g"}},
        {"kind": "line", "x": 31, "z": -30},
        {"kind": "line", "x": 31, "z": -60, "corner": {"kind": "undercut", "designation": "F 0.8x0.3"}},
        {"kind": "line", "x": 40, "z": -60},
    ]
    found = post({"start": {"x": 0, "z": 0}, "elements": elements})
    ends = found["solutions"][0]["elements"]
    assert ends[0]["x2"] == pytest.approx((23.682 + 23.962) / 2)
    assert min(each["x2"] for each in ends if each["of"] == 1 and each["corner"]) == pytest.approx(21.0)
    assert min(each["x2"] for each in ends if each["of"] == 3 and each["corner"]) == pytest.approx(30.4)


@pytest.mark.parametrize(
    ("corner", "says"),
    [
        ({"kind": "undercut"}, "Which one is it?"),
        ({"kind": "undercut", "designation": "F 9x9"}, "Its sizes are"),
        ({"kind": "relief", "designation": "A"}, "Whose relief is it?"),
    ],
)
def test_a_designation_that_is_none_is_refused_at_its_name(post: Post, corner: dict[str, str], says: str) -> None:
    elements = [{"kind": "line", "x": 24, "z": -60, "corner": corner}, {"kind": "line", "x": 31, "z": -60}]
    error = post({"start": {"x": 24, "z": 0}, "elements": elements}, status=422)["errors"][0]
    assert error["field"] == "elements.0.corner.designation"
    assert says in error["message"]
