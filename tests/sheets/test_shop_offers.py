"""What pages offer from the shop's lists: a tap fills the fields, and what is proven comes before starting values."""

from __future__ import annotations

import re
from html import unescape
from typing import Any
from urllib.parse import parse_qs, parse_qsl, urlsplit

import pytest
from starlette.testclient import TestClient

from calc.questions.part.declared import OperationRow
from server.row_texts import texts_of
from server.settings import Settings
from server.sheets.opening import Opening
from server.sheets.states import Busy
from tests.sheets.conftest import client_for
from tests.sheets.forms import form_in
from tests.sheets.test_shop import CUT, TOOL, Owner, add, owned

pytestmark = pytest.mark.parametrize("settings", ["sqlite"], indirect=True)

SHAFT = {"outside": "s_x0_z0*f_x42*t_z-40", "material": "1.7225", "bar_diameter": "45"}
"""1.7225 is 42CrMo4 by its number (EN 10083-3)."""


def page(client: TestClient, path: str, **asked: str) -> str:
    answer = client.get(path, params=asked)
    assert answer.status_code == 200, answer.text
    return unescape(answer.text)


def row_of(address: str) -> dict[str, str]:
    """The first operation that an address holds."""
    return dict(texts_of(dict(parse_qsl(urlsplit(address).query))["operations"], OperationRow)[0])


def press(client: TestClient, row: dict[str, str], do: str, **asked: str) -> str:
    """Where a button of the first operation leads to."""
    fields = {f"operations.0.{name}": text for name, text in row.items()}
    answer = client.get("/part", params={**SHAFT, **asked, **fields, "do": do})
    assert answer.status_code == 303, answer.text
    return str(answer.headers["Location"])


def test_a_tool_fills_the_operation_and_nothing_of_the_one_before_stays(client: TestClient, owner: Owner) -> None:
    key = add(client, owner, "tools", {**TOOL, "offset_x": "-12.5"})["key"]
    add(client, owner, "tools", {"use": "drill", "size": "8.5"})
    shown = page(client, "/part", **SHAFT, operations="kind:rough")
    assert f'value="operations.0.tool-{key}">T1, CNMG 120408, PCLNR 2525M12<' in shown
    assert "8.5 mm" not in shown, "a drill does not rough"
    before = {"kind": "rough", "insert": "DCMT 11T304", "nose_radius": "0.4", "size": "3"}
    there = press(client, before, f"operations.0.tool-{key}")
    assert row_of(there) == {
        "kind": "rough",
        "insert": "CNMG 120408",
        "holder": "PCLNR 2525M12",
        "stick_out": "40",
        "offset_x": "-12.5",
        "turret": "1",
    }
    assert there.endswith("#operations.0")
    inch = row_of(press(client, {"kind": "rough"}, f"operations.0.tool-{key}", units="inch", x="radius"))
    assert (inch["stick_out"], inch["offset_x"]) == ("40mm", "Ø-12.5mm"), "the sizes stay what they are"
    listed = client.get("/part", params={**SHAFT, "operations.0.kind": "rough", "operations.0.take": f"tool-{key}"})
    assert row_of(listed.headers["Location"])["holder"] == "PCLNR 2525M12"
    left = client.get("/part", params={**SHAFT, "operations.0.kind": "rough", "operations.0.take": ""})
    assert row_of(left.headers["Location"]) == {"kind": "rough"}


def test_a_proven_cut_comes_before_the_starting_value_and_fills_speed_and_feed(
    client: TestClient, owner: Owner
) -> None:
    key = add(client, owner, "cuts", CUT)["key"]
    reason = "Proven 2026-11-03 on 42CrMo4 with CNMG 120408: 180 m/min, 0.25 mm/rev"
    shown = page(client, "/part", **SHAFT, operations="kind:rough~insert:CNMG 120408~holder:PCLNR 2525M12")
    assert shown.index(reason) < shown.index("operations.0.kind")
    assert "m/min to start 42CrMo4 with" in shown, "the starting value is still said"
    there = press(client, {"kind": "rough", "surface_speed": "90"}, f"operations.0.cut-{key}")
    found = row_of(there)
    assert (found["surface_speed"], found["feed"], found["insert"]) == ("180", "0.25", "CNMG 120408")
    kept = row_of(press(client, {"kind": "rough", "insert": "cnmg 12 04 08"}, f"operations.0.cut-{key}"))
    assert kept["insert"] == "cnmg 12 04 08"


def test_only_cuts_that_speak_for_the_question_are_offered_the_nearest_first(client: TestClient, owner: Owner) -> None:
    for texts in (
        {**CUT, "proved_out": "2026-10-01"},
        {**CUT, "feed": "0.3"},
        {**CUT, "insert": "", "kind": "", "feed": "0.4"},
        {**CUT, "insert": "DNMG 150608", "feed": "0.5"},
        {**CUT, "kind": "finish", "feed": "0.6"},
        {**CUT, "material": "C45", "feed": "0.7"},
    ):
        add(client, owner, "cuts", texts)
    shown = page(client, "/part", **SHAFT, operations="kind:rough~insert:CNMG120408")
    row = shown[shown.index('id="operations.0"') :]
    assert re.findall(r"([\d.]+) mm/rev</button>", row) == ["0.3", "0.25", "0.4"]
    without = page(client, "/part", **{**SHAFT, "material": ""}, operations="kind:rough")
    assert "Proven" not in without


def test_the_tool_decides_which_proven_cut_comes_first(client: TestClient, owner: Owner) -> None:
    """The same insert and holder, the same insert, one with another nose, one without a tool; a drill by its size."""
    for texts in (
        {**CUT, "insert": "CNMG 120412", "feed": "0.31"},
        {**CUT, "feed": "0.32", "holder": "PCBNR 2525M12"},
        {**CUT, "feed": "0.33", "holder": "PCLNR 2525M12", "note": "bar from the\nblue rack"},
        {**CUT, "insert": "", "feed": "0.34"},
    ):
        add(client, owner, "cuts", texts)
    for size, made_of, feed in (
        ("8.5", "HSS", "0.15"),
        ("10", "HSS", "0.18"),
        ("9", "coated carbide", "0.2"),
        ("20", "", "0.3"),
    ):
        drilled = {"material": "42CrMo4", "kind": "drill", "size": size, "tool": made_of, "feed": feed}
        add(client, owner, "cuts", drilled)
    rough = "kind:rough~insert:CNMG 120408~holder:PCLNR 2525M12"
    shown = page(client, "/part", **SHAFT, operations=f"{rough}*kind:drill~size:9")
    turned, drill = shown[shown.index('id="operations.0"') :].split('id="operations.1"')[:2]
    assert re.findall(r"([\d.]+) mm/rev[^<]*</button>", turned) == ["0.33", "0.32", "0.31"]
    assert "0.33 mm/rev (bar from the blue rack)</button>" in turned
    assert re.findall(r"([\d.]+) mm/rev</button>", drill) == ["0.15", "0.18"], "HSS, the nearest size first"


def test_of_a_thousand_tools_an_operation_lists_few_and_those_that_begin_as_typed_come_first(
    client: TestClient, owner: Owner
) -> None:
    """A page of fourteen operations would hold each tool fourteen times."""
    rows = [f"turning,CNMG 120408,{each % 90 + 1},number {each}" for each in range(996)]
    rows += [f"turning,VBMT 160404,99,number {each}" for each in range(996, 1000)]
    owned(client, owner)
    taken_in = client.post("/shop/tools/csv", data={"rows": "\n".join(["use,insert,turret,name", *rows])})
    assert taken_in.headers["Location"] == "/shop?done=taken:1000"
    shown = page(client, "/part", **SHAFT, operations="*".join(["kind:rough"] * 14))
    assert shown.count(", CNMG 120408<") == 14 * 24
    assert "976 more: type how its insert or holder begins" in shown
    typed = page(client, "/part", **SHAFT, operations="kind:rough~insert:vbmt")
    assert typed.index("number 996") < typed.index("number 997") < typed.index(", CNMG 120408<")
    lists = page(client, "/shop")
    assert lists.count("<article") == 40
    assert len(lists) < 100_000
    assert "960 more: find them by a word of theirs." in lists
    found = page(client, "/shop", q="vbmt 998")
    assert found.count("<article") == 1


def test_what_a_link_holds_reads_the_same_on_a_server_without_the_list(
    client: TestClient, owner: Owner, settings: Settings
) -> None:
    tool = add(client, owner, "tools", TOOL)["key"]
    cut = add(client, owner, "cuts", {**CUT, "depth": "2"})["key"]
    there = press(client, {"kind": "rough"}, f"operations.0.tool-{tool}")
    there = press(client, row_of(there), f"operations.0.cut-{cut}").partition("#")[0]
    here = client.get(there)
    with client_for(Settings(data=settings.data / "elsewhere")) as elsewhere:
        other = elsewhere.get(there)
    assert here.status_code == other.status_code == 200
    assert "From the shop's lists" in unescape(here.text)
    assert "shop's" not in re.sub(r"the shop's rules", "", unescape(other.text))

    def answer(text: str) -> str:
        return text[text.index('id="answer"') : text.index("</section>", text.index('id="answer"'))]

    assert answer(here.text) == answer(other.text)
    assert "min" in answer(here.text)


def test_a_single_question_offers_tools_and_proven_cuts(client: TestClient, owner: Owner) -> None:
    add(client, owner, "tools", {"use": "boring", "insert": "DCMT 11T304", "holder": "S16R-SDUCR11", "stick_out": "60"})
    add(client, owner, "cuts", CUT)
    add(client, owner, "cuts", {"material": "C45", "kind": "drill", "surface_speed": "25", "feed": "0.12"})
    force = page(client, "/force", material="42CrMo4", depth="2")
    assert "Proven 2026-11-03" in force
    assert "surface_speed=180&feed=0.25" not in force, "fields stand in the page's own order"
    assert {"surface_speed": ["180"], "feed": ["0.25"]}.items() <= taken(force, "Proven 2026-11-03").items()
    drilling = page(client, "/drilling", material="C45")
    assert {"surface_speed": ["25"], "feed": ["0.12"]}.items() <= taken(drilling, "Proven on C45").items()
    assert "Proven 2026" not in drilling
    boring = taken(page(client, "/boring-cut"), "DCMT 11T304, S16R-SDUCR11")
    assert (boring["nose_radius"], boring["tool_bar_diameter"], boring["stick_out"]) == (["0.4mm"], ["16mm"], ["60"])
    plan = taken(page(client, "/dish", material="42CrMo4", radius="75", depth="4.5", nose_radius="6"), "Proven")
    assert (plan["rough_surface_speed"], plan["rough_feed"], plan["depth"]) == (["180"], ["0.25"], ["4.5"])
    spindle = page(client, "/taper")
    assert "Proven" not in spindle
    assert "The shop's tools</h2>" not in spindle


def taken(shown: str, words: str) -> dict[str, list[str]]:
    """The question that a link of a page asks."""
    found = re.search(rf'href="([^"]*)">{re.escape(words)}', shown)
    assert found is not None, words
    return parse_qs(urlsplit(found[1]).query)


def test_an_operation_is_kept_as_proven_from_its_part_and_offered_there_at_once(
    client: TestClient, owner: Owner
) -> None:
    owned(client, owner)
    rows = "kind:face*kind:rough~insert:CNMG 120408~holder:PCLNR 2525M12~surface_speed:165~feed:0.28~depth:2"
    shown = client.get("/part", params={**SHAFT, "operations": rows, "machine_name": "Lathe 2"})
    assert 'name="keep" value="operations.1"' in shown.text
    assert 'name="keep" value="operations.0"' not in shown.text, "it has neither speed nor feed"
    fields = re.findall(r'<input type="hidden" form="save" name="(\w+)" value="([^"]*)"', shown.text)
    form = {name: unescape(value) for name, value in fields}
    led = client.post("/shop/keep", data={**form, "keep": "operations.1"})
    new = form_in(client.get(led.headers["Location"]).text, "/shop/cuts/new")
    assert (new["material"], new["kind"], new["insert"]) == ("1.7225", "rough", "CNMG 120408")
    assert (new["surface_speed"], new["feed"], new["depth"], new["machine_name"]) == ("165", "0.28", "2", "Lathe 2")
    assert re.fullmatch(r"\d{4}-\d\d-\d\d", new["proved_out"])
    kept = client.post("/shop/cuts/new", data=new)
    assert kept.headers["Location"].startswith("/part?")
    back = unescape(client.get(kept.headers["Location"]).text)
    assert f"Proven {new['proved_out']} on 1.7225 with CNMG 120408: 165 m/min, 0.28 mm/rev, 2 mm" in back
    for odd in ({"address": "/part", "keep": "operations.7"}, {"address": "https://elsewhere.example/", "keep": "x"}):
        assert client.post("/shop/keep", data=odd).status_code == 422
    away = client.post("/shop/cuts/new", data={**new, "back": "https://elsewhere.example/"})
    assert away.headers["Location"].startswith("/shop?done=")


def test_a_speed_answer_is_kept_as_proven(client: TestClient, owner: Owner) -> None:
    owned(client, owner)
    shown = page(client, "/force", material="C45", depth="2", feed="0.2", surface_speed="160", entering_angle="95")
    address = re.search(r'href="(/shop/cuts/new[^"]*)"', shown)
    assert address is not None
    new = form_in(client.get(address[1]).text, "/shop/cuts/new")
    assert (new["material"], new["surface_speed"], new["feed"], new["units"]) == ("C45", "160", "0.2", "mm")
    assert new["back"].startswith("/force?")


def test_pages_go_on_while_the_lists_cannot_be_had(
    client: TestClient, owner: Owner, monkeypatch: pytest.MonkeyPatch
) -> None:
    add(client, owner, "cuts", CUT)
    assert "Proven" in page(client, "/force", material="42CrMo4", depth="2")

    def busy(_: Any) -> None:
        raise Busy

    monkeypatch.setattr(Opening, "_opened", busy)
    add_failed = client.post("/api/shop/cuts", json={}, headers=owner)
    assert add_failed.status_code == 503
    assert "Proven" in page(client, "/force", material="42CrMo4", depth="2"), "as they were last read"
