"""The plan of a contour over the API and on its page."""

import html
import re

from starlette.testclient import TestClient

from calc.cutting.materials import material
from calc.language.fields import build
from calc.questions.operations.contour_plan.feature import FEATURE
from calc.questions.operations.contour_plan.inputs import ContourPlanInputs
from calc.questions.operations.contour_plan.starting import settled

CONTOUR = {
    "start": {"x": 0, "z": 0},
    "elements": [
        {"kind": "line", "x": 30, "z": 0, "corner": {"kind": "radius", "size": 1}},
        {"kind": "line", "x": 30, "z": -20},
        {"kind": "line", "x": 40, "z": -20},
    ],
}
ASKED = {"contour": CONTOUR, "bar_diameter": 42, "nose_radius": 0.8, "pass_depth": 1.5, "feed": 0.2}
SEAT = "shape=seat&where=face&nose_radius=6&pass_depth=1&roughing=contour&feed=0.2&surface_speed=200&allowance_z=0.3"


def test_a_contour_in_json_is_planned(client: TestClient) -> None:
    found = client.post("/api/plan/contour", json=ASKED).json()
    assert found["results"]["gouged_most"]["value"] == 0.0
    assert [row["hit"] for row in found["removals"]] == ["nothing"] * len(found["removals"])
    assert found["words"].startswith("(passes over a contour, not a program to run")


def test_units_of_the_query_hold_for_the_body(client: TestClient) -> None:
    scaled = {
        "start": {"x": 0, "z": 0},
        "elements": [{"kind": "line", "x": 1, "z": 0}, {"kind": "line", "x": 1, "z": -1}],
    }
    body = {"contour": scaled, "bar_diameter": 1.125, "nose_radius": "1/32", "pass_depth": 0.06, "feed": 0.006}
    found = client.post("/api/plan/contour?units=inch", json=body).json()
    assert found["results"]["volume"]["unit"] == "in3"
    assert "g20" in found["words"]


def test_wrong_fields_of_the_body_are_named(client: TestClient) -> None:
    answer = client.post("/api/plan/contour", json={**ASKED, "bar_diameter": -1, "speling": 2})
    assert answer.status_code == 422
    assert {error["field"] for error in answer.json()["errors"]} == {"speling"}
    answer = client.post("/api/plan/contour", json={**ASKED, "bar_diameter": -1})
    assert {error["field"] for error in answer.json()["errors"]} == {"bar_diameter"}


def test_the_page_steps_through_the_passes_without_scripting(client: TestClient) -> None:
    link = re.search(r'href="(/plan/shown[?][^"]+)#section-pictures"', client.get(f"/plan?{SEAT}").text)
    page = client.get(html.unescape(link[1]) if link else "").text
    steps = re.findall(r'<input type="radio" name="step" id="(step-\d+)"', page)
    assert len(steps) >= 4
    assert [re.search(f'<label for="{step}">', page) is not None for step in steps] == [True] * len(steps)
    assert page.count("<animateMotion") == len(steps) - 2
    assert " style=" not in page
    assert "not a program to run" in page


def test_a_swap_brings_the_pictures_with_it(client: TestClient) -> None:
    part = client.get(f"/plan?{SEAT}", headers={"HX-Request-Type": "partial"}).text
    assert '<hx-partial hx-target="#pictures"' in part
    assert "/plan/shown?" in part
    assert "<animateMotion" not in part


def test_other_pages_have_no_pictures(client: TestClient) -> None:
    assert "pictures.css" not in client.get("/dish?radius=75&depth=4.5").text


def test_a_material_gives_the_plan_its_speeds_and_offers_feed_and_depth_with_reasons(client: TestClient) -> None:
    """The ranges are those of the material's page; where a speed is given it stays."""
    asked = {name: text for name, text in FEATURE.example.items() if "speed" not in name and name != "rough_feed"}
    answer = client.get("/api/plan/contour", params=asked | {"material": "C45", "rough_surface_speed": "150"}).json()
    notes = " ".join(answer["notes"])
    usual = material("C45").speed("finish")
    assert usual is not None
    assert f"{usual.usual / 1000:.0f} m/min to start with, from the range" in notes
    assert "times the nose of R0.400 mm" in notes
    assert answer["results"]["total_time"]["value"] is not None
    page = client.get("/plan", params=asked | {"material": "C45"}).text
    assert re.search(r'href="[^"]*rough_feed=0\.\d+mm', page)


def test_a_bore_is_started_as_a_bore_is() -> None:
    bored, usual = (
        settled(build(ContourPlanInputs, {"where": "bore", "material": "C45"})),
        material("C45").speed("bore"),
    )
    assert usual is not None
    assert bored.inputs.cut.surface_speed == usual.usual
