"""The cutting calls over HTTP: one answer in both systems, examples that answer, pages that show what is found."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from starlette.testclient import TestClient

from calc.language.factor import HORSEPOWER, INCH, KILOWATT, POUND_FORCE
from server.catalogue import FEATURES

Ask = Callable[..., Any]
ROOMS = ("calc.questions.cutting.", "calc.questions.operations.")
OF_A_CUT = [
    feature
    for feature in FEATURES
    if (module := feature.solve.__module__).startswith(ROOMS) and "_plan" not in module and "along" not in module
]
EACH = pytest.mark.parametrize("feature", OF_A_CUT, ids=lambda feature: feature.path)
SIZES = {
    "N": 1.0,
    "lbf": float(POUND_FORCE),
    "kW": float(KILOWATT),
    "hp": float(HORSEPOWER),
    "mm": 1.0,
    "in": float(INCH),
}
QUESTIONS = {
    "speed-feed/force": {
        "material": "C45",
        "depth": "3mm",
        "feed": "0.3mm",
        "surface_speed": "200m/min",
        "entering_angle": "95",
    },
    "speed-feed/chip": {"depth": "0.9mm", "feed": "0.14mm", "nose_radius": "3mm"},
    "speed-feed/drilling": {"material": "1045", "drill_diameter": "12mm", "hole_depth": "30mm"},
    "speed-feed/parting": {"material": "1045", "outer_diameter": "42mm", "insert_width": "3mm"},
    "speed-feed/unit-power": {"material": "4130", "depth": "2mm", "feed": "0.3mm", "surface_speed": "180m/min"},
}


@pytest.mark.parametrize("path", QUESTIONS)
def test_one_question_in_both_systems_is_one_answer(ask: Ask, path: str) -> None:
    metric, inch = (ask(path, **QUESTIONS[path], units=units)["results"] for units in ("mm", "inch"))
    compared = 0
    for name, value in metric.items():
        if isinstance(value, dict) and value["unit"] in SIZES and value["unit"] != inch[name]["unit"]:
            one, other = (v["value"] * SIZES[v["unit"]] for v in (value, inch[name]))
            assert one == pytest.approx(other), name
            compared += 1
    assert compared


@EACH
def test_each_example_answers_on_page_and_in_the_api(client: TestClient, feature: Any) -> None:
    page = client.get(feature.page, params=dict(feature.example))
    assert page.status_code == 200
    assert 'class="headline"' in page.text
    answer = client.get(f"/api/{feature.path}", params=dict(feature.example))
    assert answer.status_code == 200
    assert answer.json()["working"]


@EACH
def test_a_bare_page_asks_for_what_is_missing(client: TestClient, feature: Any) -> None:
    page = client.get(feature.page)
    assert page.status_code == 200
    assert "Give " in page.text
    assert client.get(f"/api/{feature.path}").status_code == 422


def test_a_part_of_a_materials_name_lists_what_fits_on_the_page(client: TestClient) -> None:
    page = client.get("/material", params={"material": "crmo4"})
    assert page.status_code == 200
    assert "These fit: " in page.text
    assert '<a href="/material?material=25CrMo4' in page.text
    assert client.get("/material", params={"material": "<b>"}).status_code == 200
    assert client.get("/material", params={"material": "<cheese>"}).status_code == 422
    assert "<cheese>" not in client.get("/material", params={"material": "<cheese>"}).text


def test_the_hard_seats_page_says_which_limit_decides(client: TestClient) -> None:
    question = {"ra": "0.4", "nose_radius": "6", "surface": "concave", "surface_radius": "75", "depth": "0.15"}
    assert "but the depth of cut decides" in client.get("/finish-feed", params=question).text
