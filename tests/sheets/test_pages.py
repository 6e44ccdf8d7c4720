"""The pages of the sheets without scripting: begun, filled, moved about, merged, restored, copied, ended, read."""

from __future__ import annotations

import html
import json
from typing import Any

import pytest
from starlette.testclient import TestClient

from tests.sheets.forms import dangers_in, form_in
from tests.sheets.hostile import KEPT, text_fields
from tests.sheets.test_api import create
from tests.sheets.test_documents import put

pytestmark = pytest.mark.parametrize("settings", ["sqlite"], indirect=True)

DISH, TAPER = "/dish?radius=75&depth=4.5&nose_radius=6", "/taper?large_diameter=22&length=22&taper_ratio=0.1"


@pytest.fixture
def sheet(client: TestClient) -> str:
    """The address of a sheet that this browser begun with a dish."""
    answer = client.post("/sheet", data={"heading.part": "Seat", "heading.units": "mm", "address": DISH})
    assert answer.status_code == 303, answer.text
    return str(answer.headers["Location"]).removesuffix("/edit")


@pytest.fixture
def owned(client: TestClient, seat: dict[str, Any]) -> str:
    """The address of the seat's sheet, with this browser as its owner."""
    body = create(client, seat)
    client.get(body["owner_address"])
    return f"/sheet/{body['id']}"


def document(client: TestClient, sheet: str) -> dict[str, Any]:
    found: dict[str, Any] = client.get(f"/api/sheets/{sheet.rsplit('/', 1)[1]}").json()["sheet"]
    return found


def send(client: TestClient, sheet: str, **changed: str) -> Any:
    """Press a button of the owner's page after changing some fields, those with "__" for a dot."""
    form = form_in(client.get(f"{sheet}/edit").text, f"{sheet}/edit")
    return client.post(
        f"{sheet}/edit", data={**form, **{name.replace("__", "."): text for name, text in changed.items()}}
    )


def test_a_question_begins_a_sheet_and_another_joins_it(client: TestClient, sheet: str) -> None:
    page = client.get("/sheet", params={"put": TAPER}).text
    assert f'action="{sheet}/add"' in page
    answer = client.post(f"{sheet}/add", data={"address": f"http://shop.example{TAPER}"})
    assert answer.status_code == 303
    assert [step["address"] for step in document(client, sheet)["steps"]] == [DISH, TAPER]


def test_a_question_is_put_on_a_sheet_whose_link_is_typed(client: TestClient, sheet: str) -> None:
    typed = f" http://shop.example{sheet.upper().replace('/SHEET/', '/sheet/')}?seen=1 "
    answer = client.post("/sheet/add", data={"address": TAPER, "sheet": typed}, follow_redirects=True)
    assert answer.status_code == 200
    assert len(document(client, sheet)["steps"]) == 2


@pytest.mark.parametrize("address", ["https://elsewhere.example/", "/gone", "/dish?radius=x"])
def test_what_is_no_question_of_ours_is_not_put_anywhere(client: TestClient, sheet: str, address: str) -> None:
    assert client.post(f"{sheet}/add", data={"address": address}).status_code == 422
    assert len(document(client, sheet)["steps"]) == 1


def test_the_owners_form_sends_back_what_it_shows(client: TestClient, owned: str, seat: dict[str, Any]) -> None:
    assert send(client, owned).status_code == 303
    assert document(client, owned) == seat
    assert client.get(f"/api/sheets/{owned[7:]}").json()["revision"] == 1  # nothing changed, so nothing was saved


def test_steps_are_renamed_moved_doubled_and_removed(client: TestClient, owned: str) -> None:
    answer = send(client, owned, steps__1__title="The taper", do="up:tpr222")
    assert (answer.status_code, answer.headers["Location"]) == (303, f"{owned}/edit#row-tpr222")
    assert [step["title"] for step in document(client, owned)["steps"]] == ["The taper", "The dish"]
    send(client, owned, do="double:dsh222")
    assert [step["title"] for step in document(client, owned)["steps"]] == ["The taper", "The dish", "The dish"]
    send(client, owned, do="remove:dsh222")
    assert len(document(client, owned)["steps"]) == 2
    send(client, owned, do="down:tpr222")
    assert document(client, owned)["steps"][1]["key"] == "tpr222"
    send(client, owned, do="add:checks")
    send(client, owned, new=DISH)
    found = document(client, owned)
    assert (len(found["checks"]), found["steps"][-1]["address"]) == (2, DISH)


def test_a_wrong_field_is_told_and_nothing_typed_is_lost(client: TestClient, owned: str) -> None:
    answer = send(client, owned, setup__soft_jaw_diameter="about 60", steps__0__note="Long typed")
    assert answer.status_code == 422
    assert "Error:" in answer.text.split("</title>")[0]
    form = form_in(answer.text, f"{owned}/edit")
    assert (form["setup.soft_jaw_diameter"], form["steps.0.note"]) == ("about 60", "Long typed")
    assert 'href="#setup.soft_jaw_diameter"' in answer.text
    assert 'aria-invalid="true"' in answer.text


def test_the_second_of_two_saves_gets_both_changes_joined_and_their_words(client: TestClient, owned: str) -> None:
    form = form_in(client.get(f"{owned}/edit").text, f"{owned}/edit")
    send(client, owned, heading__machine="Lathe 1", steps__0__note="Theirs")
    mine = {**form, "heading.material": "42CrMo4", "steps.0.note": "Mine"}
    answer = client.post(f"{owned}/edit", data=mine)
    assert answer.status_code == 409
    assert "machine now “Lathe 1” (was “Lathe 2”)" in answer.text
    assert '<dt>Steps 1, note</dt><dd dir="auto" class="lines">Mine</dd>' in answer.text
    joined = form_in(answer.text, f"{owned}/edit")
    assert (joined["heading.machine"], joined["heading.material"], joined["steps.0.note"]) == (
        "Lathe 1",
        "42CrMo4",
        "Theirs",
    )
    assert client.post(f"{owned}/edit", data=joined).status_code == 303
    assert document(client, owned)["heading"]["material"] == "42CrMo4"


def test_older_revisions_are_listed_in_words_and_restored(client: TestClient, owned: str, seat: dict[str, Any]) -> None:
    send(client, owned, heading__part="Pad")
    page = client.get(f"{owned}/revisions").text
    assert "part now “Pad” (was “Seat”)" in page
    form = form_in(page, f"{owned}/restore")
    assert client.post(f"{owned}/restore", data=form).status_code == 303
    assert document(client, owned) == seat


def test_a_reader_copies_but_changes_nothing(client: TestClient, owned: str, seat: dict[str, Any]) -> None:
    client.cookies.clear()
    page = client.get(owned)
    assert page.status_code == 200
    assert "/edit" not in page.text
    assert client.post(f"{owned}/edit", data={"based_on": "1"}).status_code == 403
    for path in ("add", "end", "restore"):
        answer = client.post(f"{owned}/{path}", data={"sure": "on", "revision": "1", "based_on": "1", "address": DISH})
        assert answer.status_code == 403
        assert "Only the owner" in answer.text
    assert client.get(f"{owned}/revisions").status_code == 403
    copy = client.post(f"{owned}/copy").headers["Location"].removesuffix("/edit")
    assert send(client, copy, heading__part="Mine").status_code == 303
    client.cookies.clear()
    assert document(client, owned) == seat


def test_who_comes_from_elsewhere_with_the_link_is_led_on(client: TestClient, owned: str) -> None:
    client.cookies.clear()
    answer = client.get(f"{owned}/edit")
    assert (answer.status_code, f'href="{owned}/edit"' in answer.text) == (403, True)


def test_ending_asks_once_and_is_then_told_to_readers(client: TestClient, owned: str) -> None:
    assert client.post(f"{owned}/end").status_code == 422
    assert client.post(f"{owned}/end", data={"sure": "on"}).status_code == 303
    assert "This link is ended" in client.get(owned).text
    client.cookies.clear()
    for path in ("", "/qr.svg", "/practise/dsh222"):
        answer = client.get(f"{owned}{path}")
        assert (answer.status_code, "ended this link" in answer.text) == (410, True)


def test_a_sheet_is_imported_from_its_file(client: TestClient, seat: dict[str, Any]) -> None:
    answer = client.post("/sheet", files={"file": ("seat.json", json.dumps(seat).encode(), "application/json")})
    assert document(client, answer.headers["Location"].removesuffix("/edit")) == seat
    for content in (b"no json", b'{"format": "other"}', b"\xff\xfe"):
        assert client.post("/sheet", files={"file": ("x.json", content)}).status_code == 422


def test_the_page_shows_heading_setup_steps_tools_cautions_and_checks(client: TestClient, owned: str) -> None:
    page = html.unescape(client.get(owned).text)
    for shown in (
        "Lathe 2",
        "RCMT 1204M0",
        "nose radius R6 mm, tool point 3",
        "Ø51.176 mm",
        "+0.05/0",
        "Points to key in",
    ):
        assert shown in page
    assert page.count("<strong>Caution</strong>") >= 1
    assert "M4, the other direction" in page


def test_no_secret_stands_in_the_reading_page_or_its_code(client: TestClient, seat: dict[str, Any]) -> None:
    body = create(client, seat)
    client.get(body["owner_address"])
    address = f"/sheet/{body['id']}"
    for path in ("", "/qr.svg", "/revisions"):
        assert body["secret"] not in client.get(f"{address}{path}").text
    assert body["secret"] in client.get(f"{address}/edit").text  # the one place where its owner finds it again


def test_an_old_print_is_told_that_it_is_old(client: TestClient, owned: str) -> None:
    send(client, owned, heading__part="Pad")
    assert "It shows revision 1; this is revision 2" in client.get(f"{owned}?seen=1").text
    for seen in ("2", "9", "x", "", "-1", "1" * 30):
        assert "Your print is old" not in client.get(f"{owned}?seen={seen}").text


def test_another_spelling_of_the_address_leads_to_the_one(client: TestClient, owned: str) -> None:
    answer = client.get(f"/sheet/{owned[7:].replace('-', '').upper()}")
    assert (answer.status_code, answer.headers["Location"]) == (308, owned)


@pytest.mark.parametrize("name", KEPT)
def test_a_hostile_text_is_shown_as_text_on_every_page(client: TestClient, seat: dict[str, Any], name: str) -> None:
    for place, declared in text_fields():
        put(seat, place, KEPT[name][: declared.longest].strip())
    body = create(client, seat)
    client.get(body["owner_address"])
    sheet = f"/sheet/{body['id']}"
    send(client, sheet, heading__machine=f"{KEPT[name][:100]}!")
    for path in ("", "/edit", "/revisions", "/practise/dsh222"):
        page = client.get(f"{sheet}{path}")
        assert page.status_code == 200, path
        assert dangers_in(page.text) == [], path


def test_forms_say_where_they_are_from_and_pages_are_not_kept(client: TestClient, owned: str) -> None:
    for path in ("", "/edit", "/revisions", "/practise/dsh222"):
        headers = client.get(f"{owned}{path}").headers
        assert (headers["Cache-Control"], headers["Referrer-Policy"]) == ("no-store", "same-origin")


def test_another_sites_form_changes_nothing(client: TestClient, owned: str, seat: dict[str, Any]) -> None:
    form = form_in(client.get(f"{owned}/edit").text, f"{owned}/edit")
    answer = client.post(
        f"{owned}/edit", data={**form, "heading.part": "Theirs"}, headers={"Origin": "http://elsewhere.example"}
    )
    assert (answer.status_code, "another site" in answer.text) == (403, True)
    assert document(client, owned) == seat
