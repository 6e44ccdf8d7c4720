"""What was measured, sent as JSON."""

import math
from typing import Any

import pytest
from starlette.testclient import TestClient


def test_the_call_takes_the_published_points_and_any_convention(client: TestClient) -> None:
    """Gander, Golub, Strebel, BIT 34 (1994): centre (4.739782, 2.983533), radius 4.714226."""
    points = [(1, 7), (2, 6), (5, 8), (7, 7), (9, 5), (3, 7)]
    body = {"readings": [{"x": x, "z": z} for x, z in points]}
    found = client.post("/api/measure/arc?x=radius&units=inch", json=body).json()
    assert found["results"]["radius"] == {"value": pytest.approx(4.714226, abs=5e-7), "unit": "in"}
    assert found["results"]["centre_x"]["value"] == pytest.approx(4.739782, abs=5e-7)
    assert found["results"]["centre_z"]["value"] == pytest.approx(2.983533, abs=5e-7)
    # a body that names both directions asks for neither
    assert client.post("/api/measure/arc?x=radius&units=inch", json={**body, "along": "x,z"}).json() == found
    doubled = {"readings": [{"x": 2 * x, "z": -z} for x, z in points]}
    turned = client.post("/api/measure/arc?zplus=in", json=doubled).json()["results"]
    assert turned["centre_x"]["value"] == pytest.approx(2 * 4.739782, abs=1e-6)
    assert turned["centre_z"]["value"] == pytest.approx(-2.983533, abs=5e-7)


def test_the_call_names_what_is_wrong_in_a_reading(client: TestClient) -> None:
    body = {"readings": [{"x": 1, "z": 2}, {"x": "abc", "z": 1}, {"x": 3}]}
    answer = client.post("/api/measure/arc", json=body)
    assert answer.status_code == 422
    assert {error["field"] for error in answer.json()["errors"]} & {"readings.1.x", "readings.2.z"}


MOUTH = 2 * math.sqrt(75.0**2 - 70.5**2)
SEAT = {
    "start": {"x": 0, "z": -4.5},
    "elements": [
        {"kind": "arc", "x": MOUTH, "z": 0, "radius": 75, "turn": "cw"},
        {"kind": "line", "x": 60, "z": 0},
        {"kind": "line", "x": 60, "z": -20},
    ],
}


def depth(at: float) -> dict[str, Any]:
    """A depth of the dish turned with a nose 0.1 too small and X off by 0.02: R74.9 about X-0.18 Z70.4."""
    r = math.sqrt(75.0**2 - (70.5 - at) ** 2)
    z = 70.4 - math.sqrt(74.9**2 - (r + 0.09) ** 2)
    return {"what": "depth", "at": at, "nominal": -at, "upper": -at + 0.05, "lower": -at - 0.05, "measured": -z}


def ask_first_part(client: TestClient, readings: Any, spread: float, query: str = "", **more: Any) -> Any:
    told = [{**reading, "spread": spread} for reading in readings]
    body = {"contour": SEAT, "nose_radius": 6, "tool_point": 3, "readings": told, **more}
    answer = client.post(f"/api/measure/first-part{query}", json=body)
    assert answer.status_code == 200, answer.text
    return answer.json()


FOUR = [depth(z) for z in (-4.5, -3.0, -1.5, -0.2)]


def test_the_seats_readings_lead_back_to_nose_and_offset(client: TestClient) -> None:
    found = ask_first_part(client, FOUR, 1e-5)
    assert found["results"]["offset_x"]["value"] == pytest.approx(-0.02, abs=1e-5)
    assert found["results"]["nose_radius_change"]["value"] == pytest.approx(-0.1, abs=1e-5)
    assert found["results"]["true_nose"]["value"] == pytest.approx(5.9, abs=1e-5)
    assert found["not_told_apart"] == []


def test_with_the_gauges_spread_they_are_null_and_a_cylinder_is_asked_for(client: TestClient) -> None:
    found = ask_first_part(client, FOUR, 0.002)
    assert found["results"]["offset_x"] is None
    assert found["results"]["nose_radius_change"] is None
    (row,) = found["not_told_apart"]
    assert row["causes"] == found["results"]["not_told_apart"] == "offset_x, nose_radius_change"
    assert (row["what"], row["sentence"]) == ("diameter", "a diameter on a cylinder turned with this tool")
    cylinder = {"what": "diameter", "at": -10, "nominal": 60, "measured": 60.02}
    parted = ask_first_part(client, [*FOUR, cylinder], 0.002)["results"]
    assert parted["offset_x"]["value"] == pytest.approx(-0.02, abs=0.002)
    assert parted["nose_radius_change"]["value"] == pytest.approx(-0.1, abs=0.01)
    assert 0.0 < parted["nose_radius_change"]["spread"] < 0.03


def test_what_comes_after_the_change_and_the_verdict_stand_at_each_reading(client: TestClient) -> None:
    cylinder = {"what": "diameter", "at": -10, "nominal": 60, "upper": 60.01, "lower": 59.99, "measured": 60.02}
    found = ask_first_part(client, [*FOUR, cylinder, {"what": "runout", "nominal": 0, "measured": 0.01}], 0.001)
    last, runout = found["readings"][4:]
    assert last["verdict"] == "rework"
    assert last["after_change"] == {"value": pytest.approx(60.0, abs=1e-4), "unit": "mm"}
    assert abs(last["residual"]["value"]) < 1e-4
    assert (runout["verdict"], runout["residual"]) == (None, None)
    assert found["results"]["state"] == "1 to rework"


def test_conventions_change_what_is_read_and_shown_and_nothing_else(client: TestClient) -> None:
    """The same part, plus Z into it, X as radius, inches: offsets change sign or size, spreads have no sign."""
    inch = [
        {
            **each,
            **{key: value / 25.4 for key, value in each.items() if isinstance(value, float)},
            "at": -each["at"] / 25.4,
        }
        for each in FOUR
    ]
    contour = {
        "start": {"x": 0, "z": 4.5 / 25.4},
        "elements": [
            {"kind": "arc", "x": MOUTH / 50.8, "z": 0, "radius": 75 / 25.4, "turn": "cw"},
            {"kind": "line", "x": 30 / 25.4, "z": 0},
            {"kind": "line", "x": 30 / 25.4, "z": 20 / 25.4},
        ],
    }
    query = "?units=inch&x=radius&zplus=in"
    found = ask_first_part(client, inch, 1e-5 / 25.4, query, contour=contour, nose_radius=6 / 25.4)["results"]
    plain = ask_first_part(client, FOUR, 1e-5)["results"]
    assert found["offset_x"]["value"] == pytest.approx(plain["offset_x"]["value"] / 50.8, abs=1e-7)
    assert found["offset_x"]["spread"] == pytest.approx(plain["offset_x"]["spread"] / 50.8, rel=1e-3)
    assert found["offset_z"]["value"] == pytest.approx(-plain["offset_z"]["value"] / 25.4, abs=1e-7)
    assert found["offset_z"]["spread"] > 0.0


def test_a_warm_part_is_read_at_20_degrees(client: TestClient) -> None:
    """Steel, 11.5e-6 per kelvin (common handbooks): a part at 40 is 0.0138 larger on 60 than it will be at 20."""
    cylinder = {"what": "diameter", "at": -10, "nominal": 60, "measured": 60.0138}
    found = ask_first_part(client, [cylinder], 0.001, part_temperature=40, gauge_temperature=20)
    assert found["readings"][0]["measured"]["value"] == pytest.approx(60.0, abs=1e-5)
    both = ask_first_part(client, [cylinder], 0.001, part_temperature=40)
    assert both["readings"][0]["measured"]["value"] == pytest.approx(60.0138, abs=1e-9)


def test_a_gauges_own_error_is_taken_off(client: TestClient) -> None:
    cylinder = {"what": "diameter", "at": -10, "nominal": 60, "measured": 60.05, "gauge_offset": 0.01}
    assert ask_first_part(client, [cylinder], 0.001)["readings"][0]["measured"]["value"] == pytest.approx(60.04)


@pytest.mark.parametrize(
    ("reading", "field", "said"),
    [
        ({"what": "diameter", "at": -10, "measured": None}, "readings.0.measured", "Give the measured"),
        ({"what": "diameter", "at": -50, "measured": 60}, "readings.0.at", "no place for a diameter"),
        ({"what": "depth", "at": -50, "nominal": 50, "measured": 50}, "readings.0.at", "no place for a depth"),
        ({"what": "diameter", "measured": 60}, "readings.0.at", "give the Z"),
        ({"what": "diameter", "at": -10, "nominal": 50, "measured": 50}, "readings.0.nominal", "10.000 mm from"),
        ({"what": "over_wires", "at": -10, "measured": 25}, "readings.0.nominal", "over wires"),
        ({"what": "weight", "measured": 1}, "readings.0.what", "one of"),
        ({"what": "depth", "at": -3, "measured": 3, "spread": -1}, "readings.0.spread", "at least 0"),
        ({"what": "depth", "at": "nan", "measured": 3}, "readings.0.at", ""),
        (None, "readings", "Give a reading"),
    ],
)
def test_a_reading_that_cannot_be_is_named(client: TestClient, reading: Any, field: str, said: str) -> None:
    body = {"contour": SEAT, "tool_point": 3, "readings": [reading] if reading else []}
    answer = client.post("/api/measure/first-part", json=body)
    assert answer.status_code == 422
    errors = {error["field"]: error["message"] for error in answer.json()["errors"]}
    assert said in errors[field]


def test_a_part_past_its_limit_where_metal_is_gone_is_scrap(client: TestClient) -> None:
    small = {"what": "diameter", "at": -10, "nominal": "60 ±0.02", "measured": 59.95}
    found = ask_first_part(client, [small], 0.002)
    assert found["readings"][0]["verdict"] == "scrap"
    assert "this part is scrap" in found["cautions"][0]


def test_a_cylinder_that_is_not_on_the_contour_counts_when_its_size_is_given(client: TestClient) -> None:
    beside = {"what": "diameter", "at": -50, "nominal": 60, "measured": 60.02}
    found = ask_first_part(client, [*FOUR, beside], 0.001)
    assert found["results"]["offset_x"]["value"] == pytest.approx(-0.02, abs=0.002)
    assert "not on the contour" in " ".join(found["notes"])


def test_a_face_that_ends_the_contour_counts_when_its_length_is_given(client: TestClient) -> None:
    """The cylinder of the seat ends at Z-20: a length of 20 that measures 19.95 wants Z minus 0.05."""
    face = {"what": "length", "nominal": 20, "measured": 19.95}
    found = ask_first_part(client, [face], 0.004)
    assert found["results"]["offset_z"]["value"] == pytest.approx(-0.05, abs=0.001)
    assert "taken as a face" in " ".join(found["notes"])


def test_x_taken_as_radius_is_no_wear(client: TestClient) -> None:
    far = {"what": "diameter", "at": -10, "nominal": 60, "measured": 58.5}
    assert "taken as radius or diameter" in " ".join(ask_first_part(client, [far], 0.002)["cautions"])


def test_page_and_call_show_both_limits(client: TestClient) -> None:
    asked = {"radius": "75 ±0.1", "depth": "4.5 ±0.05"}
    found = client.get("/api/geometry/dish", params=asked).json()
    assert found["results"]["mouth_diameter"]["lower"] == pytest.approx(2 * math.sqrt(2 * 74.9 * 4.45 - 4.45**2))
    assert found["results"]["mouth_diameter"]["upper"] == pytest.approx(2 * math.sqrt(2 * 75.1 * 4.55 - 4.55**2))
    assert {row["of"] for row in found["limits_through"]} >= {"Mouth diameter, sharp"}
    taper = {"large_diameter": "22", "length": "22 +0.1/0", "taper_ratio": "1:10"}
    headline = client.get("/taper", params=taper).text.partition('class="headline"')[2].partition("</div>")[0]
    assert "19.790 to 19.800 mm" in headline


def test_the_page_sets_the_change_to_key_in_and_else_says_how_the_part_stands(client: TestClient) -> None:
    rows = "what:diameter~at:-10~nominal:60 ±0.02~measured:{}~spread:0.004"
    for measured, wanted in (("60.04", "X-0.040"), ("60.001", "all within limits")):
        asked = {"shape": "seat", "nose_radius": "6", "readings": rows.format(measured)}
        headline = client.get("/first-part", params=asked).text.partition('class="headline"')[2].partition("</div>")[0]
        assert wanted in headline.replace("<small>", "")
