"""The start page, and the switch between pages that answer nearly the same question."""

from __future__ import annotations

import re
from urllib.parse import urlencode, urlsplit

import pytest
from starlette.testclient import TestClient

from server.catalogue import FEATURES, GROUPS
from server.start import FIRST, SKETCHES


def switch(page: str) -> dict[str, str]:
    """The addresses of the switch of near twins, by their words."""
    part = page[page.index('id="family"') :].partition("</nav>")[0]
    return {
        words: address.replace("&amp;", "&") for address, words in re.findall(r'href="([^"]*)"[^>]*>([^<]+)<', part)
    }


def test_every_question_stands_in_one_group_with_a_sketch() -> None:
    assert len(FEATURES) == len(set(map(id, FEATURES)))
    assert set(SKETCHES) == set(GROUPS)


def test_the_most_asked_pages_stand_open_and_all_of_them_unfold(client: TestClient) -> None:
    """Every group: all its tiles inside the fold, the first of them once more beside it."""
    page = client.get("/").text
    for part in page.split("<details>")[1:]:
        folded, _, beside = part.partition("</details>")
        inside, outside = (re.findall(r'<li><a href="([^"]+)"', each) for each in (folded, beside))
        assert inside[:FIRST] == outside
        assert "<svg" in folded


def test_a_near_twin_is_opened_with_what_was_typed(client: TestClient) -> None:
    """Peak height from feed 0.2 and nose 0.8 is 6.25 um by f2/8r; the twin has the nose already."""
    page = client.get("/finish?feed=0.2&nose_radius=0.8&units=mm").text
    other = switch(page)["Feed for it"]
    assert "nose_radius=0.8" in other
    assert 'value="0.8"' in client.get(other).text


@pytest.mark.parametrize("units", ["mm", "inch"])
@pytest.mark.parametrize("insert", ["RCMT 1204M0", "CNMG 120408"])
def test_the_dish_is_taken_along_as_the_rows_of_a_contour(client: TestClient, insert: str, units: str) -> None:
    """The tool that reaches the dish reaches its rows, and the one that it stops is stopped; without a dish no rows."""
    asked = {"insert": insert, "entering_angle": "95", "radius": "75mm", "depth": "4.5mm", "units": units}
    page = client.get("/reach", params=asked).text
    other = urlsplit(switch(page)["Any contour"])
    assert "contour=s_x" in other.query
    verdicts = [
        client.get(f"/api/nose-radius/{name}?{query}").json()["results"]["reaches"]
        for name, query in (("reach", urlencode(asked)), ("reach-contour", other.query))
    ]
    assert verdicts == [insert == "RCMT 1204M0"] * 2
    assert "contour" not in switch(client.get("/reach?insert=RCMT%201204M0").text)["Any contour"].partition("?")[2]


@pytest.mark.parametrize("typed", ["", "?units=inch"])
def test_a_bare_page_leads_to_a_bare_twin_so_that_it_begins_as_it_does_by_itself(
    client: TestClient, typed: str
) -> None:
    assert switch(client.get(f"/force{typed}").text)["By unit power"] == "/unit-power"


def test_the_switch_follows_what_is_typed(client: TestClient) -> None:
    part = client.get("/finish?feed=0.2&nose_radius=1.2", headers={"HX-Request-Type": "partial"}).text
    fragment = part[part.index('hx-target="#family"') :].partition("</hx-partial>")[0]
    assert "nose_radius=1.2" in fragment


def test_a_mistyped_address_is_led_to_the_page_that_it_means(client: TestClient) -> None:
    answer = client.get("/boring")
    assert answer.status_code == 404
    assert '<a class="act" href="/boring-cut">Boring cut</a>' in answer.text
    assert "You may have meant" not in client.get("/qwertz").text
