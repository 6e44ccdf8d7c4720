"""What is typed with a point into a page whose language has a decimal comma: asked back, or said how it was read."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

GERMAN = {"Accept-Language": "de", "HX-Request-Type": "partial"}
SPINDLE = {"surface_speed": "200", "diameter": "60", "typed": "de"}


def box(page: str, name: str) -> str:
    """What stands in a field."""
    found = re.search(rf'name="{re.escape(name)}" value="([^"]*)"', page)
    return found[1] if found else ""


@pytest.mark.parametrize(
    ("path", "name", "given"),
    [
        ("/spindle", "max_rpm", SPINDLE),
        ("/spindle", "surface_speed", SPINDLE),
        ("/batch", "batch", {"ways.0.part_time": "6,2", "typed": "de"}),
        ("/batch", "ways.0.edge_price", {"batch": "100", "ways.0.part_time": "6,2", "typed": "de"}),
    ],
)
def test_a_point_that_may_group_thousands_of_a_speed_or_a_price_is_asked_back(
    client: TestClient, path: str, name: str, given: dict[str, str]
) -> None:
    """2.500 is two and a half thousand to who writes 2,5: a limit of 2.5 1/min was taken."""
    asked = client.get(path, params={**given, name: "2.500"}, headers=GERMAN)
    assert asked.status_code == 422
    assert "„2.500“ kann 2,500 oder 2500 sein" in asked.text
    assert box(asked.text, name) == "2.500"
    links = re.findall(r'href="([^"]*)">2500</a>', asked.text.replace("<strong>", "").replace("</strong>", ""))
    chosen = client.get(links[0].replace("&amp;", "&"), headers=GERMAN)
    assert (chosen.status_code, box(chosen.text, name)) == (200, "2500")
    assert "typed=" not in chosen.headers["HX-Replace-Url"]


def test_the_address_of_what_is_asked_back_asks_again_in_every_language(client: TestClient) -> None:
    for language in ("de", "es", "en"):
        again = client.get("/spindle", params={**SPINDLE, "max_rpm": "2.500"}, headers={"Accept-Language": language})
        assert again.status_code == 422


@pytest.mark.parametrize(
    ("path", "texts", "rows"),
    [
        ("/batch", {"batch": "1000", "ways": "part_time:6,2~rate:48,125"}, "ways=part_time:6.2~rate:48.125"),
        ("/plan", {"shape": "own", "contour": "s_x20,125_z0*l_z-20,5"}, "contour=s_x20.125_z0*l_z-20.5"),
    ],
)
def test_the_rows_of_what_was_asked_back_have_the_points_of_links(
    client: TestClient, path: str, texts: dict[str, str], rows: str
) -> None:
    """The link with the number that was meant kept the commas of the rows: refused in English, and by a call."""
    page = client.get(path, params={**texts, "typed": "de"}, headers=GERMAN)
    assert rows in page.headers["HX-Replace-Url"]


def test_a_link_and_a_call_keep_the_point_as_the_decimal_mark(client: TestClient) -> None:
    asked = {"surface_speed": "200", "diameter": "60", "max_rpm": "2.500"}
    page = client.get("/spindle", params=asked, headers={"Accept-Language": "de"})
    assert (page.status_code, box(page.text, "max_rpm")) == (200, "2,500")
    call = client.get("/api/speed-feed/spindle", params={**asked, "typed": "de"}).json()
    assert call["results"]["rpm"]["value"] == pytest.approx(2.5)


@pytest.mark.parametrize(
    ("path", "given", "name"),
    [
        ("/spindle", {**SPINDLE, "diameter": "51.176"}, "diameter"),
        ("/contour", {"rows.0.kind": "start", "rows.0.x": "51.176", "rows.0.z": "0", "typed": "de"}, "rows.0.x"),
    ],
)
def test_a_length_with_a_point_is_read_and_the_page_says_how(
    client: TestClient, path: str, given: dict[str, str], name: str
) -> None:
    """Three decimals are usual of a length, and many keyboards have no comma: it is read, not refused."""
    page = client.get(path, params=given, headers=GERMAN).text
    assert box(page, name) == "51,176"
    assert "51,176 mm; für 51176 ohne Punkt eintippen" in page


@pytest.mark.parametrize("text", ["51,176", "51.17", "1234.567", "51"])
def test_what_has_one_meaning_is_read_without_a_word(client: TestClient, text: str) -> None:
    page = client.get("/spindle", params={**SPINDLE, "diameter": text}, headers=GERMAN)
    assert page.status_code == 200
    assert "ohne Punkt" not in page.text


def test_a_number_without_a_point_is_not_said_to_have_one(client: TestClient) -> None:
    """The rows of an address without a start are numbered anew on the page, below a start of their own."""
    given = {"rows.0.x": "20.500", "rows.0.z": "0", "rows.1.kind": "line", "rows.1.z": "-5.500", "typed": "de"}
    assert "für 0 ohne Punkt" not in client.get("/contour", params=given, headers=GERMAN).text


def test_a_form_says_in_which_language_it_was_typed_where_that_has_a_comma(client: TestClient) -> None:
    marks = {
        language: box(client.get("/spindle", headers={"Accept-Language": language}).text, "typed")
        for language in ("de", "es", "en")
    }
    assert marks == {"de": "de", "es": "es", "en": ""}
