"""The shop's tools and proven cuts: kept on both databases, changed by two at once, backed up, in CSV and in JSON."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest
from starlette.testclient import TestClient

from server.shop.schema import OPERATIONS
from tests.sheets.forms import dangers_in, form_in
from tests.sheets.hostile import KEPT

TOOL = {"use": "turning", "insert": "CNMG 120408", "holder": "PCLNR 2525M12", "turret": "1", "stick_out": "40"}
CUT = {
    "material": "42CrMo4",
    "kind": "rough",
    "insert": "CNMG 120408",
    "surface_speed": "180",
    "feed": "0.25",
    "proved_out": "2026-11-03",
}
FORMATS = {"tools": "chuckside tool", "cuts": "chuckside proven cut"}
Owner = dict[str, str]


def document(name: str, texts: dict[str, str], units: str = "mm") -> dict[str, Any]:
    return {"format": FORMATS[name], "version": 1, "units": units, "texts": texts}


def add(client: TestClient, owner: Owner, name: str, texts: dict[str, str]) -> dict[str, Any]:
    answer = client.post(f"/api/shop/{name}", json=document(name, texts), headers=owner)
    assert answer.status_code == 201, answer.text
    body: dict[str, Any] = answer.json()
    return body


def change(
    client: TestClient, owner: Owner, name: str, made: dict[str, Any], texts: dict[str, str], units: str = "mm"
) -> Any:
    body = {"based_on": made["revision"], "entry": document(name, texts, units)}
    return client.put(f"/api/shop/{name}/{made['key']}", json=body, headers=owner)


def owned(client: TestClient, owner: Owner) -> None:
    """Make this browser the owner."""
    assert client.get(f"/shop/own/{owner['Authorization'].split()[1]}").status_code == 303


def test_a_tool_and_a_cut_are_kept_to_the_digit_with_the_values_that_were_read(
    client: TestClient, owner: Owner
) -> None:
    add(client, owner, "tools", {**TOOL, "offset_x": "Ø-12.50"})
    add(client, owner, "cuts", CUT)
    body = client.get("/api/shop").json()
    tool, cut = body["tools"][0], body["cuts"][0]
    assert (tool["format"], tool["version"], body["version"], body["change"]) == ("chuckside tool", 1, 1, 3)
    assert tool["texts"] == {**TOOL, "offset_x": "Ø-12.50"}
    assert tool["values"]["offset_x"] == {"value": -12.5, "unit": "mm"}
    assert cut["values"]["surface_speed"] == {"value": 180.0, "unit": "m/min"}
    assert tool["remarks"] == cut["remarks"] == []


def test_only_the_owner_changes_and_everybody_reads(client: TestClient, owner: Owner) -> None:
    made = add(client, owner, "tools", TOOL)
    for call in (
        client.post("/api/shop/tools", json=document("tools", TOOL)),
        client.post("/api/shop/tools", json=document("tools", TOOL), headers={"Authorization": "Bearer " + "x" * 32}),
        client.delete(f"/api/shop/tools/{made['key']}?based_on=1"),
        client.post("/shop/tools/new", data=TOOL),
        client.post("/shop/tools/csv", data={"rows": "insert\nCNMG 120408"}),
        client.get("/shop/tools/new"),
    ):
        assert call.status_code == 403, call.text
    assert "x" * 32 not in client.get("/shop").text
    assert len(client.get("/api/shop/tools").json()["tools"]) == 1
    assert client.post("/api/shop").status_code == 409
    assert "Add a tool" not in client.get("/shop").text


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
def test_nobody_begins_the_lists_by_the_way(client: TestClient) -> None:
    """Whoever begins them owns them: it is said beside the button, ticked, and never asked for by another site."""
    for headers in ({"Sec-Fetch-Site": "cross-site"}, {"Sec-Fetch-Site": "same-site"}, {"Origin": "null"},
                    {"Origin": "http://elsewhere.example"}):  # fmt: skip
        foreign = client.post("/shop/begin", data={"mine": "on"}, headers=headers)
        assert foreign.status_code == 403, headers
    bare = client.post("/shop/begin")
    assert bare.status_code == 422
    assert "whoever begins the shop&#39;s lists owns them" in bare.text
    page = client.get("/shop").text
    assert "Nobody has begun one" in page
    assert 'name="mine" value="on" required' in page
    assert client.get("/api/shop").json()["change"] == 0


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
def test_lists_that_are_known_are_not_sent_again(client: TestClient, owner: Owner) -> None:
    made = add(client, owner, "tools", TOOL)
    for path in ("/api/shop", "/api/shop/tools"):
        first = client.get(path)
        tag = first.headers["ETag"]
        again = client.get(path, headers={"If-None-Match": f'"other", {tag}'})
        assert (again.status_code, again.content, again.headers["ETag"]) == (304, b"", tag)
    assert change(client, owner, "tools", made, {**TOOL, "stick_out": "35"}).status_code == 200
    later = client.get("/api/shop", headers={"If-None-Match": tag})
    assert later.json()["tools"][0]["texts"]["stick_out"] == "35"


def test_two_who_change_one_tool_lose_nothing(client: TestClient, owner: Owner) -> None:
    made = add(client, owner, "tools", TOOL)
    assert change(client, owner, "tools", made, {**TOOL, "note": "new edge"}).json()["revision"] == 2
    late = change(client, owner, "tools", made, {**TOOL, "stick_out": "35"})
    assert late.status_code == 409
    both = late.json()
    assert both["merged"]["texts"] == {**TOOL, "note": "new edge", "stick_out": "35"}
    assert both["conflicts"] == []
    again = change(client, owner, "tools", {**made, "revision": both["current"]["revision"]}, both["merged"]["texts"])
    assert (again.status_code, again.json()["revision"]) == (200, 3)
    clash = change(client, owner, "tools", made, {**TOOL, "stick_out": "30"}).json()
    assert clash["merged"]["texts"]["stick_out"] == "35"
    assert clash["conflicts"] == [{"field": "stick_out", "yours": "30"}]
    found = client.get(f"/api/shop/tools/{made['key']}/revisions").json()["revisions"]
    assert [each["revision"] for each in found] == [3, 2, 1]
    assert found[-1]["texts"] == TOOL


def test_a_change_in_inches_joins_one_in_millimetres_without_changing_a_size(client: TestClient, owner: Owner) -> None:
    made = add(client, owner, "tools", TOOL)
    change(client, owner, "tools", made, {**TOOL, "stick_out": "1.5"}, units="inch")
    late = change(client, owner, "tools", made, {**TOOL, "nose_radius": "0.8"}).json()
    assert late["merged"] == {"units": "inch", "texts": {**TOOL, "stick_out": "1.5", "nose_radius": "0.8mm"}}


def test_what_was_removed_is_brought_back_and_one_that_somebody_changed_is_not_removed(
    client: TestClient, owner: Owner
) -> None:
    made = add(client, owner, "cuts", CUT)
    address = f"/api/shop/cuts/{made['key']}"
    change(client, owner, "cuts", made, {**CUT, "feed": "0.3"})
    assert client.delete(f"{address}?based_on=1", headers=owner).status_code == 409
    assert client.delete(f"{address}?based_on=2", headers=owner).json()["removed"] is True
    listed = client.get("/api/shop/cuts").json()
    assert (listed["cuts"], [each["key"] for each in listed["removed"]]) == ([], [made["key"]])
    assert client.post(f"{address}/bring-back", headers=owner).json()["texts"]["feed"] == "0.3"
    client.delete(f"{address}?based_on=2", headers=owner)
    assert change(client, owner, "cuts", {**made, "revision": 2}, CUT).json()["removed"] is False, "changed: kept"
    assert client.delete("/api/shop/cuts/zzzzzz?based_on=1", headers=owner).status_code == 404


def test_of_many_who_change_and_remove_one_tool_at_once_one_change_stands(client: TestClient, owner: Owner) -> None:
    devices = 8
    made = add(client, owner, "tools", TOOL)
    together = threading.Barrier(devices)

    def ask(number: int) -> int:
        together.wait()
        if number % 2:
            removed = client.delete(f"/api/shop/tools/{made['key']}?based_on=1", headers=owner)
            return int(removed.status_code)
        return int(change(client, owner, "tools", made, {**TOOL, "note": f"by {number}"}).status_code)

    with ThreadPoolExecutor(devices) as pool:
        answers = list(pool.map(ask, range(devices)))
    changed = [number for number in range(0, devices, 2) if answers[number] == 200]
    assert len(changed) == 1, answers
    assert set(answers) <= {200, 409}
    standing = client.get("/api/shop/tools").json()
    assert [(each["revision"], each["texts"]["note"]) for each in standing["tools"]] == [(2, f"by {changed[0]}")]
    assert standing["removed"] == [], "a change that comes after a removal brings the tool back"


WRONG: list[tuple[str, dict[str, str], str, str]] = [
    ("tools", {}, "use", "Choose the kind of tool"),
    ("tools", {"use": "turning"}, "insert", "Give its designation"),
    ("tools", {**TOOL, "stick_out": "-4"}, "stick_out", "more than 0"),
    ("tools", {**TOOL, "stick_out": "40 m/min"}, "stick_out", "m/min"),
    ("tools", {**TOOL, "nose_radius": "NaN"}, "nose_radius", "no number"),
    ("tools", {**TOOL, "turret": "100"}, "turret", "at most"),
    ("tools", {**TOOL, "hand": "both"}, "hand", "not one of"),
    ("tools", {**TOOL, "note": "a" * 2001}, "note", "too long"),
    ("tools", {**TOOL, "insert": "CNMG\x01 1"}, "insert", "character"),
    ("tools", {**TOOL, "colour": "red"}, "colour", "no such field"),
    ("cuts", {"feed": "0.2"}, "material", "Give the material"),
    ("cuts", {"material": "C45"}, "surface_speed", "proven"),
    ("cuts", {**CUT, "feed": "0"}, "feed", "more than 0"),
    ("cuts", {**CUT, "proved_out": "3.11.2026"}, "proved_out", "2026-11-03"),
    ("cuts", {**CUT, "proved_out": "2999-01-01"}, "proved_out", "still to come"),
]


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
def test_what_is_wrong_is_said_at_its_field(client: TestClient, owner: Owner) -> None:
    for name, texts, field, words in WRONG:
        answer = client.post(f"/api/shop/{name}", json=document(name, texts), headers=owner)
        assert answer.status_code == 422, texts
        assert any(each["field"] == field and words in each["message"] for each in answer.json()["errors"]), answer.text
    body = client.get("/api/shop").json()
    assert body["tools"] == body["cuts"] == []


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
def test_a_designation_that_is_not_known_is_kept_with_a_word(client: TestClient, owner: Owner) -> None:
    made = add(client, owner, "tools", {"use": "turning", "insert": "XYZ 99", "holder": "own holder", "thread": "?"})
    assert [each["field"] for each in made["remarks"]] == ["insert", "holder", "thread"]
    assert all("kept as it is" in each["message"] for each in made["remarks"])
    assert "XYZ 99" in client.get("/shop").text
    cut = add(client, owner, "cuts", {"material": "the blue bar", "feed": "0.2"})
    assert "no material here has this name" in cut["remarks"][0]["message"]


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
def test_odd_bodies_are_refused_in_words(client: TestClient, owner: Owner) -> None:
    fine = document("tools", TOOL)
    for body, field in (
        ([], ""),
        ({**fine, "format": "chuckside proven cut"}, "format"),
        ({**fine, "version": 2}, "version"),
        ({**fine, "version": True}, "version"),
        ({**fine, "units": "cubit"}, "units"),
        ({**fine, "texts": "CNMG"}, "texts"),
        ({**fine, "texts": {"use": 3}}, "use"),
        ({**fine, "key": "a"}, "key"),
    ):
        answer = client.post("/api/shop/tools", json=body, headers=owner)
        assert (answer.status_code, answer.json()["errors"][0]["field"]) == (422, field), answer.text


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
def test_the_page_without_a_script_begins_adds_changes_removes_and_undoes(client: TestClient) -> None:
    assert "Nobody has begun one" in client.get("/shop").text
    assert client.post("/shop/begin", data={"mine": "on"}).headers["Location"] == "/shop"
    added = client.post(
        "/shop/tools/new", data={**form_in(client.get("/shop/tools/new").text, "/shop/tools/new"), **TOOL}
    )
    page = client.get(added.headers["Location"]).text
    assert "Added: T1, CNMG 120408, PCLNR 2525M12." in page
    key = client.get("/api/shop").json()["tools"][0]["key"]
    one = f"/shop/tools/{key}"
    form = form_in(client.get(one).text, one)
    assert form["stick_out"] == "40"
    saved = client.post(one, data={**form, "stick_out": "35"})
    late = client.post(one, data={**form, "note": "from another device"})
    assert late.status_code == 409
    assert 'value="35"' in late.text
    assert "from another device" in late.text
    undone = client.get(saved.headers["Location"]).text
    assert dangers_in(late.text) == dangers_in(undone) == []
    client.post(f"{one}/restore", data=form_in(undone, f"{one}/restore"))
    assert client.get("/api/shop").json()["tools"][0]["texts"]["stick_out"] == "40"


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
def test_the_page_without_a_script_removes_and_finds_and_says_what_is_wrong(client: TestClient, owner: Owner) -> None:
    owned(client, owner)
    one = f"/shop/tools/{add(client, owner, 'tools', TOOL)['key']}"
    form = form_in(client.get(one).text, one)
    removed = client.post(f"{one}/remove", data=form_in(client.get("/shop").text, f"{one}/remove"))
    page = client.get(removed.headers["Location"]).text
    assert page.count("Bring back") == 1
    assert f'action="{one}/bring-back"' in page
    client.post(f"{one}/bring-back")
    assert len(client.get("/api/shop").json()["tools"]) == 1
    wrong = client.post(one, data={**form, "stick_out": "abc"})
    assert wrong.status_code == 422
    assert 'aria-invalid="true"' in wrong.text
    assert 'value="abc"' in wrong.text
    assert dangers_in(page) == dangers_in(wrong.text) == []
    assert "CNMG" not in client.get("/shop?q=dcmt").text
    assert "CNMG" in client.get("/shop?q=pclnr+cnmg").text


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
def test_hostile_texts_are_shown_as_texts(client: TestClient, owner: Owner) -> None:
    for hostile in KEPT:
        add(client, owner, "tools", {"use": "drill", "name": hostile[:100], "note": hostile})
    owned(client, owner)
    assert dangers_in(client.get("/shop").text) == []


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
def test_every_call_is_described_and_no_more(client: TestClient) -> None:
    described = client.get("/api/openapi.json").json()["paths"]
    found = {(method.upper(), path) for path in described if path.startswith("/api/shop") for method in described[path]}
    assert found == set(OPERATIONS)
    assert "/api/shop/tools" in client.get("/api/docs").text
