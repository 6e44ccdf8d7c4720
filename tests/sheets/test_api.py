"""The API of the sheets as a program and as a browser see it, on both databases."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from starlette.testclient import TestClient

from server.sheets.limits import Rate
from server.sheets.schema import OPERATIONS

Made = tuple[str, dict[str, str]]


def create(client: TestClient, document: dict[str, Any]) -> dict[str, Any]:
    answer = client.post("/api/sheets", json=document)
    assert answer.status_code == 201, answer.text
    body: dict[str, Any] = answer.json()
    return body


@pytest.fixture
def made(client: TestClient, seat: dict[str, Any]) -> Made:
    """The address in the API of a sheet, and its owner's header."""
    body = create(client, seat)
    return f"/api/sheets/{body['id']}", {"Authorization": f"Bearer {body['secret']}"}


def save(client: TestClient, made: Made, based_on: int, document: dict[str, Any], status: int = 200) -> dict[str, Any]:
    answer = client.put(made[0], json={"based_on": based_on, "sheet": document}, headers=made[1])
    assert answer.status_code == status, answer.text
    body: dict[str, Any] = answer.json()
    return body


def test_creating_tells_both_addresses_and_the_secret_once(client: TestClient, seat: dict[str, Any]) -> None:
    answer = client.post("/api/sheets", json=seat)
    body = answer.json()
    assert answer.headers["Location"] == f"/api/sheets/{body['id']}"
    assert body["address"] == f"http://shop.example/sheet/{body['id']}"
    assert body["owner_address"] == f"{body['address']}/own/{body['secret']}"
    assert (body["revision"], body["sheet"]) == (1, seat)
    assert body["secret"] not in client.get(f"/api/sheets/{body['id']}").text


def test_a_reader_gets_the_document_and_what_its_steps_say_today(client: TestClient, made: Made) -> None:
    body = client.get(made[0]).json()
    dish = client.get("/api/plan/dish?radius=75&depth=4.5&nose_radius=6&tool_point=3").json()
    step = body["gathered"]["steps"][0]
    shown = f"Ø{dish['results']['mouth_diameter']['value']:.3f} mm"
    assert (step["page"], step["answer"], step["problem"]) == ("Dish", shown, "")
    assert step["cautions"] == dish["cautions"]
    assert body["gathered"]["tools"] == [{"text": "nose radius R6 mm, tool point 3", "steps": [1]}]
    assert body["owner"] is False


def test_an_address_is_found_in_any_spelling_of_its_id(client: TestClient, made: Made) -> None:
    bare = made[0].rsplit("/", 1)[1].replace("-", "").upper()
    assert client.get(f"/api/sheets/{bare}").json() == client.get(made[0]).json()


def test_only_the_owner_changes_anything(client: TestClient, made: Made, seat: dict[str, Any]) -> None:
    stranger = create(client, seat)
    for headers in ({}, {"Authorization": f"Bearer {stranger['secret']}"}, {"Authorization": "Bearer "}):
        asked = [
            client.put(made[0], json={"based_on": 1, "sheet": seat}, headers=headers),
            client.post(f"{made[0]}/restore", json={"revision": 1, "based_on": 1}, headers=headers),
            client.delete(made[0], headers=headers),
            client.get(f"{made[0]}/revisions", headers=headers),
            client.get(f"{made[0]}/revisions/1", headers=headers),
            client.get(f"{made[0]}/difference?from=1&to=1", headers=headers),
        ]
        assert [answer.status_code for answer in asked] == [403] * 6
        assert all("Only the owner" in answer.json()["errors"][0]["message"] for answer in asked)
    assert client.get(made[0]).json()["revision"] == 1


def test_a_save_is_a_revision_with_its_changes_in_words(client: TestClient, made: Made, seat: dict[str, Any]) -> None:
    seat["heading"]["part_revision"] = "C"
    assert save(client, made, 1, seat)["revision"] == 2
    history = client.get(f"{made[0]}/revisions", headers=made[1]).json()
    assert [each["revision"] for each in history["revisions"]] == [2, 1]
    assert history["revisions"][0]["changes"] == ["revision of the print now “C” (was “B”)"]
    assert history["more"] is False
    difference = client.get(f"{made[0]}/difference?from=2&to=1", headers=made[1]).json()
    assert difference["changes"] == ["revision of the print now “B” (was “C”)"]


def test_an_older_revision_is_read_and_restored_and_nothing_between_is_lost(
    client: TestClient, made: Made, seat: dict[str, Any]
) -> None:
    first = json.loads(json.dumps(seat))
    seat["steps"].reverse()
    save(client, made, 1, seat)
    assert client.get(f"{made[0]}/revisions/1", headers=made[1]).json()["sheet"] == first
    restored = client.post(f"{made[0]}/restore", json={"revision": 1, "based_on": 2}, headers=made[1]).json()
    assert (restored["revision"], restored["sheet"]) == (3, first)
    assert client.get(f"{made[0]}/revisions/2", headers=made[1]).json()["sheet"] == seat


def test_the_second_of_two_saves_is_told_and_can_merge(client: TestClient, made: Made, seat: dict[str, Any]) -> None:
    theirs, mine = json.loads(json.dumps(seat)), json.loads(json.dumps(seat))
    theirs["heading"]["machine"] = "Lathe 1"
    mine["checks"][0]["tolerance"] = "+0.02/0"
    save(client, made, 1, theirs)
    conflict = save(client, made, 1, mine, status=409)
    assert conflict["errors"][0]["field"] == "based_on"
    assert conflict["changes"] == ["machine now “Lathe 1” (was “Lathe 2”)"]
    assert (conflict["base"]["sheet"], conflict["current"]["sheet"], conflict["yours"]) == (seat, theirs, mine)
    assert conflict["conflicts"] == []
    merged = save(client, made, conflict["current"]["revision"], conflict["merged"])["sheet"]
    assert (merged["heading"]["machine"], merged["checks"][0]["tolerance"]) == ("Lathe 1", "+0.02/0")


def test_an_export_creates_the_same_sheet_again(client: TestClient, made: Made, seat: dict[str, Any]) -> None:
    exported = client.get(f"{made[0]}/export")
    assert "attachment" in exported.headers["Content-Disposition"]
    answer = client.post("/api/sheets", content=exported.content, headers={"Content-Type": "application/json"})
    again = client.get(f"/api/sheets/{answer.json()['id']}/export")
    assert again.content == exported.content
    assert exported.json() == seat


def test_a_reader_copies_a_sheet_into_one_of_their_own(client: TestClient, made: Made, seat: dict[str, Any]) -> None:
    copy = client.post(f"{made[0]}/copy").json()
    assert copy["sheet"] == seat
    seat["heading"]["part"] = "My seat"
    own = (f"/api/sheets/{copy['id']}", {"Authorization": f"Bearer {copy['secret']}"})
    save(client, own, 1, seat)
    assert client.get(made[0]).json()["sheet"]["heading"]["part"] == "Seat"
    assert client.put(made[0], json={"based_on": 1, "sheet": seat}, headers=own[1]).status_code == 403


def test_an_ended_sheet_is_gone_for_readers_and_can_still_be_taken_out_by_its_owner(
    client: TestClient, made: Made, seat: dict[str, Any]
) -> None:
    assert client.delete(made[0], headers=made[1]).json() == {"ended": True}
    for path in ("", "/export"):
        answer = client.get(f"{made[0]}{path}")
        assert answer.status_code == 410
        assert "ended this link" in answer.json()["errors"][0]["message"]
    assert client.post(f"{made[0]}/copy").status_code == 410
    assert client.get(f"{made[0]}/export", headers=made[1]).json() == seat
    assert client.post(f"{made[0]}/copy", headers=made[1]).status_code == 201
    assert save(client, made, 1, {**seat, "checks": []}, status=410)["errors"]


def test_an_unknown_sheet_or_revision_is_told(client: TestClient, made: Made) -> None:
    for address in ("/api/sheets/k7mp-3wxz-9dqr", "/api/sheets/1", "/api/sheets/" + "k" * 3000, "/api/sheets/%00"):
        answer = client.get(address)
        assert (answer.status_code, answer.json()["errors"][0]["field"]) == (404, "")
    assert client.get(f"{made[0]}/revisions/9", headers=made[1]).status_code == 404
    for number in ("0x1", "-1", "1e3", "９", "9" * 30):
        assert client.get(f"{made[0]}/revisions/{number}", headers=made[1]).status_code == 422


@pytest.mark.parametrize(
    "body", [{}, [], {"based_on": 1}, {"based_on": "x", "sheet": {}}, {"based_on": 1, "sheet": {}, "more": 1}]
)
def test_a_save_that_is_not_one_is_told_at_its_fields(client: TestClient, made: Made, body: Any) -> None:
    answer = client.put(made[0], json=body, headers=made[1])
    assert answer.status_code == 422
    assert all(error.keys() == {"field", "message"} for error in answer.json()["errors"])


class TestTheOwnersLink:
    """`/sheet/{id}/own/{secret}`."""

    def test_it_gives_cookies_and_leads_on_at_once(self, client: TestClient, seat: dict[str, Any]) -> None:
        body = create(client, seat)
        answer = client.get(body["owner_address"])
        assert (answer.status_code, answer.headers["Location"]) == (303, f"/sheet/{body['id']}/edit")
        assert answer.headers["Cache-Control"] == "no-store"
        cookies = answer.headers.get_list("set-cookie")
        with_secret = [cookie for cookie in cookies if body["secret"] in cookie]
        assert [cookie.split("Path=")[1].split(";")[0] for cookie in with_secret] == [
            f"/sheet/{body['id']}",
            f"/api/sheets/{body['id']}",
        ]
        for cookie in cookies:
            assert "HttpOnly" in cookie
            assert "SameSite=strict" in cookie
            assert "Secure" not in cookie
        assert body["secret"] not in answer.text + answer.headers["Location"]

    def test_over_https_the_cookies_are_secure(self, client: TestClient, seat: dict[str, Any]) -> None:
        body = create(client, seat)
        answer = client.get(body["owner_address"].replace("http:", "https:"))
        assert all("Secure" in cookie for cookie in answer.headers.get_list("set-cookie"))

    def test_the_cookie_makes_this_browser_the_owner(self, client: TestClient, seat: dict[str, Any]) -> None:
        body = create(client, seat)
        client.get(body["owner_address"])
        seat["checks"] = []
        assert save(client, (f"/api/sheets/{body['id']}", {}), 1, seat)["revision"] == 2
        assert client.get(f"/api/sheets/{body['id']}").json()["owner"] is True

    def test_a_wrong_secret_gets_no_cookie_and_plain_words(self, client: TestClient, seat: dict[str, Any]) -> None:
        body = create(client, seat)
        wrong = body["secret"][:-1] + ("y" if body["secret"].endswith("x") else "x")
        answer = client.get(f"/sheet/{body['id']}/own/{wrong}")
        assert answer.status_code == 403
        assert "set-cookie" not in answer.headers
        assert "Only the owner" in answer.text


class TestAnotherSite:
    """Changes that a page of somebody else's asks a browser for."""

    @pytest.mark.parametrize(
        ("headers", "status"),
        [
            ({}, 200),
            ({"Sec-Fetch-Site": "same-origin", "Origin": "http://shop.example"}, 200),
            ({"Sec-Fetch-Site": "same-origin", "Origin": "null"}, 200),
            ({"Origin": "http://shop.example"}, 200),
            ({"Sec-Fetch-Site": "cross-site"}, 403),
            ({"Sec-Fetch-Site": "same-site"}, 403),
            ({"Sec-Fetch-Site": "cross-site", "Origin": "http://shop.example"}, 403),
            ({"Origin": "http://elsewhere.example"}, 403),
            ({"Origin": "http://shop.example:81"}, 403),
            ({"Origin": "http://shop.example.elsewhere.example"}, 403),
            ({"Origin": "null"}, 403),
        ],
    )
    def test_it_cannot_save(
        self, client: TestClient, seat: dict[str, Any], headers: dict[str, str], status: int
    ) -> None:
        body = create(client, seat)
        client.get(body["owner_address"])
        seat["checks"] = []
        answer = client.put(f"/api/sheets/{body['id']}", json={"based_on": 1, "sheet": seat}, headers=headers)
        assert answer.status_code == status
        assert client.get(f"/api/sheets/{body['id']}").json()["revision"] == (2 if status == 200 else 1)


def test_a_large_body_is_refused_and_no_more_than_the_limit_is_held(limited: Callable[..., Any]) -> None:
    given = 0

    def body() -> Any:
        nonlocal given
        for _ in range(160):
            given += 65_536
            yield b" " * 65_536

    with limited(body=100_000) as client:
        answer = client.post("/api/sheets", content=body())
    assert (answer.status_code, answer.json()["errors"][0]["message"]) == (
        413,
        "This is more than fits in one request: at most 97 KiB.",
    )


def test_rates_are_told_with_the_time_to_wait(limited: Callable[..., Any], seat: dict[str, Any]) -> None:
    with limited(creating=Rate(2, 100, 3600)) as client:
        answers = [client.post("/api/sheets", json=seat) for _ in range(3)]
    assert [answer.status_code for answer in answers] == [201, 201, 429]
    assert 1 <= int(answers[2].headers["Retry-After"]) <= 3600
    assert "Wait" in answers[2].json()["errors"][0]["message"]


def test_a_full_store_is_told(limited: Callable[..., Any], seat: dict[str, Any]) -> None:
    with limited(sheets=1) as client:
        assert [client.post("/api/sheets", json=seat).status_code for _ in range(2)] == [201, 507]


def test_every_route_is_described_with_its_answers(client: TestClient) -> None:
    paths = client.get("/api/openapi.json").json()["paths"]
    found = {(method.upper(), path) for path, methods in paths.items() for method in methods if "sheets" in path}
    assert found == set(OPERATIONS)
    for method, path in found:
        operation = paths[path][method.lower()]
        assert operation["summary"], path
        assert {"422", "503"} <= operation["responses"].keys()
        named = {each["name"] for each in operation.get("parameters", ()) if each["in"] == "path"}
        assert named == {part[1:-1] for part in path.split("/") if part.startswith("{")}


def test_the_described_document_is_the_one_that_is_answered(client: TestClient, made: Made) -> None:
    schema = client.get("/api/openapi.json").json()["paths"]["/api/sheets"]["post"]["requestBody"]
    described = schema["content"]["application/json"]["schema"]["properties"]
    document = client.get(made[0]).json()["sheet"]
    assert described.keys() == document.keys()
    assert described["steps"]["items"]["properties"].keys() == document["steps"][0].keys()
    assert described["setup"]["properties"].keys() == document["setup"].keys()


def test_the_documentation_names_the_calls(client: TestClient) -> None:
    page = client.get("/api/docs").text
    assert "PUT /api/sheets/{sheet}" in page
