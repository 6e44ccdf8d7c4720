"""The API keeps its names, its units and its form of errors."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from starlette.testclient import TestClient

Ask = Callable[..., Any]

CALLS = {
    "geometry/dish": {"radius": "90", "depth": "4.5"},
    "speed-feed/spindle": {"surface_speed": "220", "diameter": "60", "max_rpm": "2000"},
    "speed-feed/facing-time": {
        "surface_speed": "200",
        "outer_diameter": "100",
        "inner_diameter": "0",
        "feed": "0.2",
        "max_rpm": "3000",
    },
    "speed-feed/force": {
        "material": "C45",
        "depth": "3",
        "feed": "0.3",
        "surface_speed": "200",
        "entering_angle": "95",
    },
    "nose-radius/finish": {"feed": "0.2", "nose_radius": "0.8", "surface": "flat"},
    "nose-radius/feed": {"ra": "1.6", "nose_radius": "0.8"},
    "plan/dish": {"radius": "75", "depth": "4.5"},
}
RESULTS = {
    "geometry/dish": "radius depth mouth_diameter arc_centre_x arc_centre_z mouth_angle arc_length volume",
    "speed-feed/spindle": "rpm limited limit_diameter",
    "speed-feed/facing-time": "time limit_diameter",
    "speed-feed/force": "chip_thickness chip_width cutting_force power torque removal_rate",
    "nose-radius/finish": "peak_height peak_height_rule ra grade",
    "nose-radius/feed": "feed feed_limit limited_by",
    "plan/dish": "radius depth mouth_diameter",
}


@pytest.mark.parametrize("path", CALLS)
def test_every_call_answers_with_inputs_results_working_and_cautions(ask: Ask, path: str) -> None:
    body = ask(path, **CALLS[path])
    assert {"inputs", "results", "working", "cautions", "points"} <= body.keys()
    assert body["working"], "an answer shows how it was found"
    assert all(step["head"] for step in body["working"])
    assert set(RESULTS[path].split()) <= body["results"].keys()


@pytest.mark.parametrize("path", CALLS)
def test_every_number_among_the_results_bears_its_unit(ask: Ask, path: str) -> None:
    for name, value in ask(path, **CALLS[path])["results"].items():
        if isinstance(value, dict):
            assert value.keys() == {"value", "unit"}, name
            assert isinstance(value["value"], float), name
        else:
            assert value is None or isinstance(value, (str, bool)), name


@pytest.mark.parametrize("path", CALLS)
def test_a_blank_question_says_at_which_fields_something_is_missing(ask: Ask, path: str) -> None:
    errors = ask(path, status=422)["errors"]
    assert errors
    assert all(error.keys() == {"field", "message"} for error in errors)
    assert all(error["field"] and error["message"].endswith((".", "?")) for error in errors)


def test_the_plan_has_points_passes_times_finish_force_and_cautions(ask: Ask) -> None:
    body = ask("plan/dish", **CALLS["plan/dish"])
    assert {"points", "passes", "times", "finish", "force", "cautions"} <= body.keys()


def test_a_broken_edge_brings_its_own_results(ask: Ask) -> None:
    """R 90, depth 4.5, edge radius 0.8: common practice, no source; recomputed with mpmath in tests/shapes/dish."""
    results = ask("geometry/dish", radius="90", depth="4.5", break_kind="radius", break_size="0.8")["results"]
    assert results["break_face_diameter"]["value"] == pytest.approx(56.46061, abs=5e-6)
    assert results["break_arc_diameter"]["value"] == pytest.approx(55.96316, abs=5e-6)
    assert results["break_arc_z"]["value"] == pytest.approx(-0.03965, abs=5e-6)


def test_an_inch_question_is_answered_in_inches(ask: Ask) -> None:
    """R 3.000 in, 0.400 in deep: common practice, no source."""
    results = ask("geometry/dish", radius="3", depth="0.4", units="inch")["results"]
    assert results["mouth_diameter"] == {"value": pytest.approx(2.9933, abs=5e-5), "unit": "in"}
    assert results["arc_centre_z"]["value"] == pytest.approx(2.6)
    assert results["volume"]["unit"] == "in3"


def test_a_typed_unit_wins_over_the_units_of_the_question(ask: Ask) -> None:
    typed = ask("geometry/dish", radius="3in", depth="2/5 in")["results"]["mouth_diameter"]
    assert typed == {"value": pytest.approx(2 * (0.4 * (6 - 0.4)) ** 0.5 * 25.4), "unit": "mm"}


def test_the_conventions_change_coordinates_and_nothing_else(ask: Ask) -> None:
    question = {**CALLS["geometry/dish"], "hole_diameter": "10"}
    plain = ask("geometry/dish", **question)
    turned = ask("geometry/dish", **question, x="radius", zplus="in")
    assert turned["results"]["mouth_diameter"] == plain["results"]["mouth_diameter"]
    assert turned["results"]["arc_centre_z"]["value"] == -plain["results"]["arc_centre_z"]["value"]
    for new, old in zip(turned["points"], plain["points"], strict=True):
        assert (new["x"], new["z"]) == (old["x"] / 2, -old["z"] if old["z"] else 0.0)
        assert new.get("turn") == old.get("turn"), "turns are as seen in the sketch"


def test_spindle_speed_at_the_limit_says_so(ask: Ask) -> None:
    results = ask("speed-feed/spindle", surface_speed="220", diameter="20", max_rpm="2000")["results"]
    assert results["rpm"] == {"value": 2000.0, "unit": "1/min"}
    assert results["limited"] is True
    assert results["limit_diameter"]["value"] == pytest.approx(35.0141, abs=5e-5)


def test_without_a_limit_there_is_no_limit_diameter(ask: Ask) -> None:
    assert ask("speed-feed/spindle", surface_speed="220", diameter="20")["results"]["limit_diameter"] is None


def test_contradicting_dimensions_say_by_how_much(ask: Ask) -> None:
    errors = ask("geometry/dish", status=422, radius="90", depth="4.5", mouth_diameter="60")["errors"]
    assert errors == [
        {
            "field": "mouth_diameter",
            "message": "R90 mm and a depth of 4.5 mm give a mouth of Ø56.205 mm; Ø60 mm differs from that "
            "by 3.795 mm. Leave out the one that is not on the print.",
        }
    ]


@pytest.mark.parametrize(
    ("name", "typed", "part"),
    [
        ("depth", "95", "deeper than its radius"),
        ("radius", "0", "more than 0"),
        ("radius", "-3", "more than 0"),
        ("radius", "abc", "“abc”"),
        ("radius", "1e9", "at most R10000 mm"),
        ("radius", "NaN", "“NaN”"),
        ("radius", "inf", "“inf”"),
        ("radius", "1,500", "1,500"),
        ("radius", "220 m/min", "m/min"),
        ("break_kind", "round", "none, chamfer, radius"),
        ("units", "cm", "mm or inch"),
    ],
)
def test_each_bad_value_has_its_own_sentence_at_its_field(ask: Ask, name: str, typed: str, part: str) -> None:
    question = {**CALLS["geometry/dish"], name: typed}
    errors = ask("geometry/dish", status=422, **question)["errors"]
    assert [error["field"] for error in errors] == [name]
    assert part in errors[0]["message"]


def test_a_nose_larger_than_the_dish_is_refused_at_the_nose(ask: Ask) -> None:
    errors = ask("plan/dish", status=422, radius="75", depth="4.5", nose_radius="80")["errors"]
    assert [error["field"] for error in errors] == ["nose_radius"]


def test_a_parameter_given_twice_is_an_error(client: TestClient) -> None:
    answer = client.get("/api/geometry/dish?radius=90&radius=80&depth=4.5")
    assert answer.status_code == 422
    assert answer.json()["errors"] == [{"field": "radius", "message": "This is given twice; give it once."}]


def test_an_unknown_name_is_told_not_swallowed(ask: Ask) -> None:
    notes = ask("geometry/dish", **CALLS["geometry/dish"], deepth="9")["notes"]
    assert any("deepth" in note for note in notes)


def test_markup_in_a_value_is_refused_like_any_other_text(ask: Ask) -> None:
    errors = ask("geometry/dish", status=422, radius="<script>alert(1)</script>", depth="4.5")["errors"]
    assert [error["field"] for error in errors] == ["radius"]


def test_the_description_names_every_call_and_its_inputs(client: TestClient) -> None:
    description = client.get("/api/openapi.json").json()
    for path, question in CALLS.items():
        operation = description["paths"][f"/api/{path}"]["get"]
        named = {parameter["name"] for parameter in operation["parameters"]}
        assert set(question) | {"units", "x", "zplus"} <= named


def test_health_answers(client: TestClient) -> None:
    assert client.get("/health").json()["status"] == "ok"


def test_an_unknown_call_is_a_404_in_our_own_form(client: TestClient) -> None:
    answer = client.get("/api/nothing")
    assert answer.status_code == 404
    assert answer.json()["errors"][0]["message"]
