"""Readings kept with a saved part: a step of its sheet that names the revision, read by its link."""

from __future__ import annotations

import html
import re
from urllib.parse import parse_qsl, urlsplit

import pytest
from starlette.testclient import TestClient

from calc.questions.part.examples import SLEEVE
from server.links import address
from tests.sheets.test_a_whole_part import LOCAL, opened, save_again, saved, with_rows

READ = "what:diameter~nominal:42~lower:41.95~upper:42.05~measured:42.08~spread:0.004"


def measuring(client: TestClient, sheet: str) -> str:
    """The address of the readings' page that the saved part's page leads to."""
    page = html.unescape(client.get(opened(client, sheet)).text)
    return str(re.findall(r'href="(/part-measured\?[^"]+)"', page)[0])


def kept(client: TestClient, page: str, readings: str) -> int:
    """Press the button of the readings' page, with these readings; the status."""
    texts = dict(parse_qsl(urlsplit(page).query))
    asked = address("/part-measured", {**texts, "readings": readings})
    shown = html.unescape(client.get(asked).text)
    sent = re.findall(r'form="save" name="address" value="([^"]+)"', shown)[0]
    to = re.findall(r'formaction="([^"]+/readings)">Keep these readings with the part', shown)[0]
    return int(client.post(to, data={"address": sent, "place": texts["saved"]}).status_code)


def test_readings_are_kept_in_the_parts_next_revision_and_read_by_its_link(client: TestClient) -> None:
    """On both databases."""
    sheet = saved(client)
    assert kept(client, measuring(client, sheet), READ) == 303
    client.cookies.clear()
    page = html.unescape(client.get(sheet).text)
    for words in ("revision 2", "Measured, revision 1 of the part", "1 to rework", "42.080", "T2, finishing"):
        assert words in page, words
    assert "Open these readings" in page
    assert len(client.get(f"/api{sheet.replace('/sheet/', '/sheets/')}").json()["sheet"]["steps"]) == 2


@LOCAL
def test_readings_stay_with_the_revision_that_was_measured(client: TestClient) -> None:
    sheet = saved(client)
    assert kept(client, measuring(client, sheet), READ) == 303
    assert save_again(client, opened(client, sheet), with_rows("feed:0.12", "feed:0.15")).status_code == 303
    assert kept(client, measuring(client, sheet), READ.replace("42.08", "42.01")) == 303
    page = html.unescape(client.get(sheet).text)
    assert page.index("Measured, revision 1 of the part") < page.index("Measured, revision 3 of the part")
    assert "1 to rework" in page
    told = html.unescape(client.get(f"{sheet}/revisions").text)
    assert "Measured, revision 3 of the part" in told


@LOCAL
def test_readings_that_are_opened_from_there_are_changed_in_their_place(client: TestClient) -> None:
    sheet = saved(client)
    assert kept(client, measuring(client, sheet), READ) == 303
    page = html.unescape(client.get(sheet).text)
    again = re.findall(r'href="(/part-measured[^"]+)">Change these readings', page)[0]
    assert kept(client, again, READ.replace("42.08", "42.01")) == 303
    page = html.unescape(client.get(sheet).text)
    assert len(re.findall("Measured, revision 1 of the part</h2>", page)) == 1
    assert "all within limits" in page
    assert "1 to rework" not in page


@LOCAL
def test_only_the_owner_keeps_readings_and_only_readings_are_kept_so(client: TestClient) -> None:
    sheet = saved(client)
    page = measuring(client, sheet)
    place = dict(parse_qsl(urlsplit(page).query))["saved"]
    other = client.post(f"{sheet}/readings", data={"address": address("/part", SLEEVE), "place": place})
    assert other.status_code == 422
    assert "Only readings of a part" in html.unescape(other.text)
    unknown = client.post(f"{sheet}/readings", data={"address": "/part-measured?madeup=1", "place": place})
    assert unknown.status_code == 422
    client.cookies.clear()
    assert client.post(f"{sheet}/readings", data={"address": page, "place": place}).status_code == 403


@LOCAL
def test_a_part_that_is_not_saved_offers_no_place_for_its_readings(client: TestClient) -> None:
    page = html.unescape(client.get(address("/part", SLEEVE)).text)
    link = re.findall(r'href="(/part-measured\?[^"]+)"', page)[0]
    assert "saved=" not in link
    assert "Keep these readings" not in client.get(link).text


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
def test_the_revision_of_the_drawing_goes_along_to_the_readings(client: TestClient) -> None:
    page = html.unescape(client.get(address("/part", {**SLEEVE, "drawing_revision": "C"})).text)
    link = re.findall(r'href="(/part-measured\?[^"]+)"', page)[0]
    assert dict(parse_qsl(urlsplit(link).query))["revision"] == "C"
