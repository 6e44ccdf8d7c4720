"""The page of a whole part in process: both contours by their buttons, a picture for every operation."""

from __future__ import annotations

import re
from urllib.parse import parse_qsl, urlsplit

from starlette.testclient import TestClient

from calc.questions.part.examples import SLEEVE
from server.links import address


def test_both_contours_grow_by_their_own_buttons_without_a_script(client: TestClient) -> None:
    """A form sent as a browser sends it comes back as one address; a button of the bore leaves the outside alone."""
    form = {
        "rows.0.kind": "start", "rows.0.x": "0", "rows.0.z": "0", "rows.1.kind": "face", "rows.1.x": "42",
        "inside.0.kind": "start", "inside.0.x": "25", "inside.0.z": "0", "do": "inside:add-cylinder",
    }  # fmt: skip
    answer = client.get("/part", params=form, follow_redirects=False)
    assert answer.status_code == 303
    texts = dict(parse_qsl(urlsplit(answer.headers["location"]).query))
    assert (texts["outside"], texts["inside"]) == ("s_x0_z0*f_x42", "s_x25_z0*t")
    assert urlsplit(answer.headers["location"]).fragment == "inside.1"


def test_the_page_plays_every_pass_and_names_every_operation(client: TestClient) -> None:
    page = client.get(address("/part", SLEEVE)).text
    assert len(re.findall(r"<figure><svg", page)) == 10
    assert len(re.findall(r'<label for="step-\d+">\d [a-z]+, first end', page)) == 5
    assert "spindle limit" in page


def test_a_link_opens_the_step_that_it_names(client: TestClient) -> None:
    for step, opened in (("3", "3"), ("", "9"), ("77", "9"), ("x", "9")):
        page = client.get(address("/part", {**SLEEVE, "shown_step": step})).text
        assert re.findall(r'id="step-(\d+)" checked', page) == [opened]


def test_a_step_says_where_how_deep_and_how_fast_beside_the_limit(client: TestClient) -> None:
    """The numbers are those of the demonstration part: 180 m/min, 0.25 mm/rev, at most 2500 1/min."""
    page = client.get(address("/part", SLEEVE)).text
    caption = re.findall(r"<figcaption>2 rough, first end: ([^<]*)", page)[0]
    assert "speed 180 m/min; feed 0.250 mm/rev" in caption
    assert "(limit 2500 1/min)" in caption


def test_the_operators_sheet_holds_what_runs_the_job(client: TestClient) -> None:
    sheet = client.get(address("/part/operator", SLEEVE)).text
    for words in ("C45", "Spindle limit 2500 1/min", "CNMG 120408", "PCLNR 2525M12", "Measured", "25.000", "25.021"):
        assert words in sheet, words
    assert "180" in sheet
    assert sheet.count("<figure>") == 6


def test_a_sheet_without_an_answer_says_what_is_missing(client: TestClient) -> None:
    sheet = client.get("/part/operator?bar_diameter=45")
    assert "Give the outside of the print" in sheet.text


def test_only_a_part_has_an_operators_sheet(client: TestClient) -> None:
    assert client.get("/dish/operator").status_code == 404


def test_points_stand_one_a_screen(client: TestClient) -> None:
    """The dish's mouth by Pythagoras: R 75, 4.5 deep is Ø51.176."""
    page = client.get("/dish/one-by-one?radius=75&depth=4.5").text
    assert "51.176" in page
    assert page.count('name="done"') == page.count('name="point"') >= 2
    assert "Next" in page
