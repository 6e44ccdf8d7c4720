"""Lists of declared rows: in an address, on a page without a script, in a JSON body."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from calc.answer.feature import Answer, Feature
from calc.language.fields import Declared, choice, given, needed, result, rows, specs
from calc.language.quantities import COUNT, LENGTH, X, Z
from server.api import mount_api
from server.bodies import post_of
from server.computing.asking import Asking
from server.posting import mount_posts
from server.row_texts import BadRow, gathered, text_of, texts_of
from server.settings import Settings
from server.sheets.mounting import Sheets
from server.site import Site

KINDS = {"depth": "depth", "over_wires": "over wires"}


class Reading(Declared):
    what: str = choice("What", KINDS, "depth")
    x: float = needed(X, "X")
    z: float | None = given(Z, "Z")


class Asked(Declared):
    readings: tuple[Reading, ...] = rows(Reading, "Readings", one="Reading", begin=2, fewest=2, most=4)
    ball: float = needed(LENGTH, "Ball", above=0.0)


class Found(Declared):
    largest: float | None = result(LENGTH, "Largest")
    count: float | None = result(COUNT, "Count")


def solve(inputs: Asked) -> Answer[Found]:
    """The largest X and how many there are."""
    found = Found(largest=max(each.x for each in inputs.readings), count=float(len(inputs.readings)))
    return Answer(results=found)


FEATURE = Feature(
    path="measure/made-up",
    title="Made up",
    summary="For these tests.",
    solve=solve,
    page="/made-up",
)


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A server with this one question."""
    app = FastAPI()
    settings = Settings(data=tmp_path_factory.mktemp("data"))
    asking = Asking(settings)
    mount_api(app, [FEATURE], asking)
    mount_posts(app, [post_of(FEATURE)], asking)
    site = Site(app, settings, asking, Sheets(settings).shelf)
    site.mount(app, FEATURE)
    with TestClient(app, base_url="http://shop.example") as client:
        yield client


def test_rows_go_into_an_address_and_come_back_to_the_letter() -> None:
    texts = [{"what": "over_wires", "x": "1:10 ~ 2*3", "z": "-5 +0.1/0"}, {}, {"x": "7"}]
    there = text_of(texts)
    assert "*" not in there.replace("*", "", 2)
    assert text_of(texts_of(there, Reading)) == there
    assert texts_of(there, Reading)[1] == {}


def test_the_call_reads_the_compact_text_in_the_readers_conventions(shop: TestClient) -> None:
    query = {"readings": "x:10~z:-5*x:25.4mm*", "ball": "1", "units": "inch"}
    answer = shop.get("/api/measure/made-up", params=query).json()
    assert answer["results"]["largest"] == {"value": pytest.approx(5.0), "unit": "in"}
    assert answer["results"]["count"]["value"] == 2.0
    first, second = answer["inputs"]["readings"]
    assert (first["what"], first["x"]["value"], second["x"]["value"]) == ("depth", 10.0, 1.0)


def test_a_body_asks_the_same_question(shop: TestClient) -> None:
    body = {"readings": [{"x": 10, "z": -5}, {"x": "25.4mm", "what": "over_wires"}], "ball": 1}
    answer = shop.post("/api/measure/made-up?units=inch", json=body).json()
    assert answer["results"]["largest"] == {"value": pytest.approx(5.0), "unit": "in"}
    assert answer["inputs"]["readings"][1]["what"] == "over_wires"


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"readings": [{"x": 1}, {"z": 2}], "ball": 1}, "readings.1.x"),
        ({"readings": [{"x": 1}, {"x": "two"}], "ball": 1}, "readings.1.x"),
        ({"readings": [{"x": 1}, {"x": 2, "y": 3}], "ball": 1}, "readings.1.y"),
        ({"readings": [{"x": 1}], "ball": 1}, "readings"),
        ({"readings": 5, "ball": 1}, "readings"),
        ({"readings": [{"x": 1}] * 5, "ball": 1}, "readings"),
        ({"readings": [{"x": 1}, {"x": 2, "what": "width"}], "ball": 1}, "readings.1.what"),
        ({"readings": [{"x": 1}, {"x": 2}], "ball": -1}, "ball"),
        ({"readings": [{"x": 1}, {"x": 2}]}, "ball"),
    ],
)
def test_what_is_wrong_in_a_body_is_said_at_its_own_name(shop: TestClient, body: dict[str, object], field: str) -> None:
    answer = shop.post("/api/measure/made-up", json=body)
    assert answer.status_code == 422
    assert field in [error["field"] for error in answer.json()["errors"]]


@pytest.mark.parametrize("text", ["x:1*x:two", "x:1*y:2", "x", "x:1*x:2*x:3*x:4*x:5"])
def test_what_is_wrong_in_an_address_is_said(shop: TestClient, text: str) -> None:
    for path in ("/api/measure/made-up", "/made-up"):
        assert shop.get(path, params={"readings": text, "ball": "1"}).status_code == 422


def test_a_bare_page_shows_as_many_empty_rows_as_it_begins_with(shop: TestClient) -> None:
    page = shop.get("/made-up").text
    assert re.findall(r'name="(readings\.\d\.x)"', page) == ["readings.0.x", "readings.1.x"]


def test_a_form_without_a_script_is_led_to_the_compact_address(shop: TestClient) -> None:
    form = {
        "readings.0.what": "depth",
        "readings.0.x": "10",
        "readings.1.what": "depth",
        "readings.1.x": "",
        "ball": "1",
    }
    led = shop.get("/made-up", params=form, follow_redirects=False)
    assert (led.status_code, led.headers["location"]) == (303, "/made-up?ball=1&readings=what:depth~x:10*")


def test_a_button_adds_a_row_and_another_removes_one(shop: TestClient) -> None:
    form = {"readings.0.x": "10", "readings.1.x": "20", "ball": "1"}
    added = shop.get("/made-up", params={**form, "do": "readings.add"}, follow_redirects=False)
    assert added.headers["location"] == "/made-up?ball=1&readings=x:10*x:20*#readings.2"
    removed = shop.get("/made-up", params={**form, "do": "readings.0.remove"}, follow_redirects=False)
    assert removed.headers["location"] == "/made-up?ball=1&readings=x:20#readings.0"
    page = shop.get(added.headers["location"]).text
    assert page.count("<fieldset") == 3


def test_an_error_in_a_row_stands_at_its_field_and_names_the_row(shop: TestClient) -> None:
    page = shop.get("/made-up", params={"readings": "x:1*x:two", "ball": "1"}).text
    assert '<a href="#readings.1.x">' in page
    assert 'id="readings.1.x-note"><span class="over error" tabindex="-1">' in page


def test_switching_units_keeps_what_the_rows_mean(shop: TestClient) -> None:
    page = shop.get("/made-up", params={"readings": "x:10*x:20", "ball": "1"}).text
    assert "readings=x:10mm*x:20mm" in page


def test_a_row_that_lacks_something_makes_the_page_wait_for_it(shop: TestClient) -> None:
    page = shop.get("/made-up", params={"readings": "x:1*z:2", "ball": "1"})
    assert page.status_code == 200
    assert "Give the X." in page.text


def test_a_text_without_end_is_refused() -> None:
    with pytest.raises(BadRow):
        texts_of("*" * 30_000, Reading)


class Step(Declared):
    x: float = needed(X, "X")
    use: str = choice("It is", {"": "done", "off": "left out"}, "")


class Steps(Declared):
    steps: tuple[Step, ...] = rows(Step, "Steps", one="Step", most=3, ordered=True, switch="use")


@pytest.mark.parametrize(
    ("wish", "left", "focus"),
    [
        ("steps.1.up", "x:2*x:1", "steps.0"),
        ("steps.0.down", "x:2*x:1", "steps.1"),
        ("steps.0.up", "x:1*x:2", "steps.0"),
        ("steps.1.down", "x:1*x:2", "steps.1"),
        ("steps.0.copy", "x:1*x:1*x:2", "steps.1"),
        ("steps.1.switch", "x:1*x:2~use:off", "steps.1"),
        ("steps.7.copy", "x:1*x:2*", "steps.2"),
        ("steps.0.burn", "x:1*x:2", ""),
    ],
)
def test_a_button_moves_copies_or_leaves_out_a_row(wish: str, left: str, focus: str) -> None:
    spec = specs(Steps)[0]
    asked = [("steps.0.x", "1"), ("steps.1.x", "2"), ("do", wish)]
    found = gathered(asked, {"steps": spec})
    assert dict(found.items)["steps"] == left
    assert found.focus == focus


def test_a_switch_turned_over_twice_is_as_it_was() -> None:
    asked = [("steps", "x:1~use:off"), ("do", "steps.0.switch")]
    assert dict(gathered(asked, {"steps": specs(Steps)[0]}).items)["steps"] == "x:1"
