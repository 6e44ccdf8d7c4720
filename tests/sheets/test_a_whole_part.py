"""A whole part as saved work: its sheet is the operator's, its page saves back, changes are told and joined by rows."""

from __future__ import annotations

import html
import re
from typing import Any
from urllib.parse import parse_qsl, urlsplit

import pytest
from starlette.testclient import TestClient

from calc.questions.part.examples import SEAT as SEAT_PART
from calc.questions.part.examples import SLEEVE
from calc.questions.part.job import VERSION
from server.links import address
from server.sheets.addresses import question_at
from server.sheets.differences import differences
from server.sheets.merging import merge
from server.sheets.model import Sheet, Step
from server.sheets.practice import Case, case_of
from tests.sheets.test_api import create

LOCAL = pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
PART = address("/part", SLEEVE)


def with_rows(old: str, new: str) -> str:
    """The sleeve with other words in its operations."""
    assert old in SLEEVE["operations"]
    return address("/part", {**SLEEVE, "operations": SLEEVE["operations"].replace(old, new, 1)})


def saved(client: TestClient, part: str = PART) -> str:
    """The address of the sheet that a part's page saves it as, with this browser as its owner."""
    page = html.unescape(client.get(part).text)
    sent = re.findall(r'form="save" name="address" value="([^"]+)"', page)[0]
    answer = client.post("/sheet/part", data={"address": sent})
    assert answer.status_code == 303, answer.text
    return str(answer.headers["Location"])


def opened(client: TestClient, sheet: str) -> str:
    """The address of the part's page that its sheet leads to."""
    page = html.unescape(client.get(sheet).text)
    return str(re.findall(r'href="(/part[^"]+)">Change this part', page)[0])


def save_again(client: TestClient, page: str, part: str) -> Any:
    """Press the save of the page at an address once its question is another."""
    place = dict(parse_qsl(urlsplit(page).query))["saved"]
    return client.post(f"/sheet/{place.split('.')[0]}/part", data={"address": part, "place": place})


def test_a_part_with_long_notes_is_a_step_of_a_sheet(client: TestClient) -> None:
    operations = SLEEVE["operations"].replace("kind:face", f"kind:face~note:{'mind the chips ' * 120}")
    step = {"title": "Sleeve", "address": address("/part", {**SLEEVE, "operations": operations})}
    assert len(step["address"]) > 2500
    made = client.post("/api/sheets", json={"format": "chuckside sheet", "version": 1, "steps": [step]})
    assert made.status_code == 201, made.text
    kept = client.get(f"/api/sheets/{made.json()['id']}").json()["sheet"]["steps"][0]
    assert kept["address"] == step["address"]
    assert "1. Sleeve" in client.get(f"/sheet/{made.json()['id']}").text


@LOCAL
def test_a_saved_part_reads_as_the_operators_sheet(client: TestClient) -> None:
    """Its heading is filled from the part; operations, tools, points and checks stand there, nothing is retyped."""
    sheet = saved(client)
    page = html.unescape(client.get(sheet).text)
    for words in ("Sleeve, plain", "C45", "Spindle limit 2500 1/min", "CNMG 120408", "PCLNR 2525M12", "25.021"):
        assert words in page, words
    for key in ("tools", "cuts", "points", "checks", "strip"):
        assert len(re.findall(rf'<h2 id="[a-z0-9]+-{key}"', page)) == 1, key
    assert "too long for a QR code" not in page
    assert f'src="{sheet}/qr.svg"' in page


@LOCAL
def test_a_changed_part_is_saved_as_the_next_revision_and_the_change_is_said(client: TestClient) -> None:
    sheet = saved(client)
    page = opened(client, sheet)
    shown = client.get(page).text
    assert "Save as the next revision" in shown
    answer = save_again(client, page, with_rows("feed:0.12", "feed:0.15"))
    assert (answer.status_code, answer.headers["Location"]) == (303, sheet)
    assert "revision 2" in client.get(sheet).text
    told = html.unescape(client.get(f"{sheet}/revisions").text)
    assert "operation 3 finishing: feed 0.15 (was 0.12)" in told


@LOCAL
def test_what_somebody_else_saved_meanwhile_is_joined_operation_by_operation(client: TestClient) -> None:
    sheet = saved(client)
    page = opened(client, sheet)
    assert save_again(client, page, with_rows("feed:0.12", "feed:0.15")).status_code == 303
    answer = save_again(client, page, with_rows("depth:1.5", "depth:2"))
    assert answer.status_code == 409
    joined = html.unescape(re.findall(r'name="steps\.0\.address"[^>]*value="([^"]+)"', answer.text)[0])
    operations = dict(parse_qsl(urlsplit(joined).query))["operations"]
    assert "feed:0.15" in operations
    assert "depth:2~" in operations
    assert "operation 3 finishing: feed 0.15 (was 0.12)" in html.unescape(answer.text)


@LOCAL
def test_only_its_owner_saves_a_part_and_only_from_our_own_page(client: TestClient) -> None:
    sheet = saved(client)
    page = opened(client, sheet)
    client.cookies.clear()
    assert "Change this part" not in client.get(sheet).text
    assert save_again(client, page, PART).status_code == 403
    place = dict(parse_qsl(urlsplit(page).query))["saved"]
    foreign = {"Origin": "http://elsewhere.example"}
    assert client.post(f"{sheet}/part", data={"address": PART, "place": place}, headers=foreign).status_code == 403
    assert client.post("/sheet/part", data={"address": PART}, headers=foreign).status_code == 403


@LOCAL
@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("/dish?radius=75&depth=4.5", "Only a whole part can be saved this way"),
        ("/part?madeup=1", "does not know"),
        (f"/part?version={VERSION + 1}&bar_diameter=45", f"newer version than {VERSION}"),
        ("/part?bar_diameter=no", "bar_diameter"),
        ("", "This must be the address of a page here"),
    ],
)
def test_what_is_no_part_is_refused_in_words(client: TestClient, address: str, words: str) -> None:
    answer = client.post("/sheet/part", data={"address": address})
    assert answer.status_code == 422
    assert words in html.unescape(answer.text)


@LOCAL
def test_a_part_of_the_first_version_is_read(client: TestClient) -> None:
    """Saved before versions were counted: no mark, opened as it was; what is saved now bears its version."""
    made = create(client, {"format": "chuckside sheet", "version": 1, "steps": [{"address": PART}]})
    assert "Spindle limit 2500 1/min" in client.get(f"/sheet/{made['id']}").text
    kept = client.get(f"/api/sheets/{saved(client).removeprefix('/sheet/')}").json()["sheet"]
    assert dict(parse_qsl(urlsplit(kept["steps"][0]["address"]).query))["version"] == str(VERSION)


@LOCAL
def test_a_sheet_of_the_first_edition_opens_and_practises_as_before(client: TestClient, seat: dict[str, Any]) -> None:
    made = create(client, seat)
    page = client.get(f"/sheet/{made['id']}").text
    assert "51.176" in page  # 2 sqrt(4.5 (150 - 4.5)), by hand
    assert "operator.css" not in page
    practise = client.get(f"/sheet/{made['id']}/practise/dsh222?seed=own").text
    assert "51.176" not in practise
    assert "Check my answers" in practise


def test_practice_draws_from_the_part() -> None:
    """The spindle speed of each operation in turn: at Ø45 with 180 m/min it is 1273 1/min, by hand."""
    own = case_of(PART, None)
    assert isinstance(own, Case), own
    assert own.question.feature.page == "/spindle"
    assert own.expected(own.asked[0]) == pytest.approx(180_000 / (3.14159265 * 45), rel=1e-6)
    pages = {case.question.parameters for seed in range(4) if isinstance(case := case_of(PART, seed), Case)}
    assert len(pages) > 2


def test_changes_of_contour_and_operations_are_said_row_by_row() -> None:
    old = Sheet(steps=(Step("a", "Seat", address("/part", SEAT_PART)),))
    wider = {**SEAT_PART, "outside": SEAT_PART["outside"].replace("r75", "r80"), "bar_diameter": "62"}
    wider["operations"] = "*".join(wider["operations"].split("*")[:2])
    said = differences(old, Sheet(steps=(Step("a", "Seat", address("/part", wider)),)))
    assert said == [
        "step 1 “Seat”: page: outside of the print, row 1 arc: R 80 (was 75), bar diameter 62 (was 60), "
        "operation 3 finishing: removed"
    ]


@pytest.mark.parametrize(
    ("saved_rows", "my_rows", "joined"),
    [
        ("kind:face~feed:0.3*kind:finish", "kind:face~feed:0.2*kind:finish~feed:0.1",
         "kind:face~feed:0.3*kind:finish~feed:0.1"),
        ("kind:face~feed:0.2~depth:2*kind:finish", "kind:face~feed:0.3*kind:finish",
         "kind:face~feed:0.3~depth:2*kind:finish"),
        ("kind:rough*kind:face~feed:0.2*kind:finish", "kind:face~feed:0.2*kind:finish*kind:knurl",
         "kind:rough*kind:face~feed:0.2*kind:finish*kind:knurl"),
        ("kind:finish", "kind:face~feed:0.2*kind:finish~feed:0.1", "kind:finish~feed:0.1"),
        ("kind:face~feed:0.3*kind:finish", "kind:face~feed:0.4*kind:finish", None),
        ("kind:finish", "kind:face~feed:0.4*kind:finish", None),
    ],
)  # fmt: skip
def test_two_changes_of_operations_meet_only_in_one_field(saved_rows: str, my_rows: str, joined: str | None) -> None:
    three = [
        Sheet(steps=(Step("a", "Part", address("/part", {"bar_diameter": "45", "operations": rows})),))
        for rows in ("kind:face~feed:0.2*kind:finish", saved_rows, my_rows)
    ]
    found = merge(*three)
    question = question_at(found.sheet.steps[0].address)
    assert not isinstance(question, str)
    assert bool(found.conflicts) is (joined is None)
    assert question.query.texts["operations"] == (joined or saved_rows)
