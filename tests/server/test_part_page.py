"""The page of a whole part in process: both contours by their buttons, a picture for every operation."""

from __future__ import annotations

import html
import re
from urllib.parse import parse_qsl, unquote, urlsplit

import pytest
from starlette.testclient import TestClient

from calc.language.fields import specs
from calc.questions.part.declared import ASKED_OF, KINDS, OperationRow
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
    page = client.get(address("/part/shown", SLEEVE)).text
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


def test_a_part_without_operations_is_offered_some_with_their_reasons(client: TestClient) -> None:
    """A tap takes them; they are rows like any other, and the reason stands in each as a note."""
    page = html.unescape(client.get(address("/part", {**SLEEVE, "operations": ""})).text)
    offer = re.findall(r'<a href="([^"]+)">Start from a proposal: facing, roughing, boring', page)[0]
    taken = html.unescape(client.get(offer).text)
    assert "1 face, first end" in taken
    assert "face it first" in taken
    assert client.get(offer).status_code == 200


def test_the_whole_part_stands_there_as_words(client: TestClient) -> None:
    assert "/part/shown?" in client.get(address("/part", SLEEVE)).text
    page = html.unescape(client.get(address("/part/shown", SLEEVE)).text)
    assert "not a program to run" in page
    assert re.search(r"^G92 S2500", page, re.MULTILINE)


@pytest.mark.parametrize(
    ("asked", "given"),
    [
        ("/contour?contour=s_x0_z0*f_x20*t_z-5&bar_diameter=22&material=C45",
         {"outside": "s_x0_z0*f_x20*t_z-5", "bar_diameter": "22", "material": "C45"}),
        ("/thread?designation=M24x2-6g", {"operations": "kind:thread~thread:M24x2-6g"}),
        ("/dish?radius=75&depth=4.5&bar_diameter=60&material=C45&nose_radius=6&feed=0.2&surface_speed=220",
         {"bar_diameter": "60", "operations": "kind:finish~nose_radius:6~surface_speed:220~feed:0.2"}),
    ],
)  # fmt: skip
def test_a_page_takes_what_it_knows_into_a_part(client: TestClient, asked: str, given: dict[str, str]) -> None:
    page = html.unescape(client.get(asked).text)
    link = re.findall(r'<a href="(/part[^"]+)">Take this into a part', page)[0]
    texts = dict(parse_qsl(urlsplit(link).query))
    assert {name: texts.get(name) for name in given} == given
    assert "does not know" not in client.get(link).text


def test_a_dish_arrives_from_the_axis_out_with_its_face(client: TestClient) -> None:
    """R 75, 4.5 deep: begins on the axis at Z-4.5, runs to the mouth, Ø51.176 by Pythagoras, then on to the bar."""
    page = html.unescape(client.get("/dish?radius=75&depth=4.5&bar_diameter=60").text)
    link = re.findall(r'<a href="(/part[^"]+)">Take this into a part', page)[0]
    outside = dict(parse_qsl(urlsplit(link).query))["outside"]
    assert outside.startswith("s_x0_z-4.5")
    assert "x51.176" in outside
    assert outside.endswith("*f_x60")


def test_an_address_too_long_for_a_code_has_none_and_says_so(client: TestClient) -> None:
    """A code holds 2,300 characters; the sheet takes the whole address all the same."""
    long = SLEEVE["operations"].replace("kind:face", f"kind:face~note:{'chips ' * 400}")
    page = client.get(address("/part", {**SLEEVE, "operations": long})).text
    assert 'src="/qr' not in page
    assert "too long for a QR code" in page
    assert 'form="put" name="put" value="/part?' in page
    assert 'src="/qr' in client.get(address("/part", SLEEVE)).text


def test_a_threads_row_comes_to_the_proposal_the_machine_and_the_check_list(client: TestClient) -> None:
    outside = "s_x0_z0*f*h_namedM24x2-6g_z-30_reliefA_br1.5x45°*f_x31*t_z-45"
    asked = {"outside": outside, "bar_diameter": "40", "material": "C45", "bar_length": "100", "max_rpm": "2000"}
    page = html.unescape(client.get(address("/part", asked)).text)
    offer = re.findall(r'<a href="([^"]+)">Start from a proposal: ([^<]*)', page)[0]
    assert "thread" in offer[1]
    texts = dict(parse_qsl(urlsplit(offer[0]).query))
    assert "kind:thread~thread:M24x2-6g~from_row:2~to_row:2" in texts["operations"]
    planned = html.unescape(client.get(offer[0]).text)
    assert "M24x2-6g: the stock stands at the crests" in planned
    opened = html.unescape(client.get(offer[0].replace("/part?", "/part/shown?")).text)
    assert re.search(r"outside, row 2, diameter.{0,200}23\.682", opened, re.S)


FLANGE = {
    "outside": "s_x0_z0*f*c1*t_x30_z-20*f_x60*c1*t_dz-12", "inside": "s_x18 H7_z0*t_dz-32", "bar_diameter": "62",
    "face_stock": "1", "material": "1.4301",
}  # fmt: skip


def _answer_panel(page: str) -> str:
    return page.partition('id="answer"')[2].partition("</section>")[0]


def test_what_is_known_of_a_part_is_drawn_before_its_operations(client: TestClient) -> None:
    """From the first rows on the contour is seen with what was solved; a proposal stands beside what is asked for."""
    half = client.get(address("/part", {"outside": FLANGE["outside"].rpartition("_")[0]})).text
    assert "element 4 can still move" in _answer_panel(half)
    assert half.count('class="o"') == 1
    assert '<h3>Face 1</h3> <span class="told"><span class="solved">solved X 30.000' in half
    no_bar = client.get(address("/part", {**FLANGE, "bar_diameter": ""})).text
    assert "Give the bar&#39;s diameter." in _answer_panel(no_bar)
    assert "Z -32.000" in no_bar
    no_material = client.get(address("/part", {**FLANGE, "material": ""})).text
    assert "With the material given, operations are proposed." in _answer_panel(no_material)
    no_operations = client.get(address("/part", FLANGE)).text
    panel = _answer_panel(no_operations)
    assert "Add the first operation" in panel
    assert "Start from a proposal: facing" in panel
    assert "why:ream_d18_w0.018" in unquote(panel)
    assert "Z -32.000" in no_operations


def fields_of(page: str, row: int) -> set[str]:
    return set(re.findall(rf'<(?:input|select) [^>]*name="operations\.{row}\.([a-z_]+)"', page))


@pytest.mark.parametrize(
    ("kind", "own", "others"),
    [
        ("", {"kind", "end", "note"}, {"insert", "size", "thread", "feed", "from_row", "roughing", "lead_form"}),
        ("rough", {"insert", "depth", "roughing", "pass_split"}, {"size", "thread", "knurl_form", "lead_form"}),
        ("finish", {"insert", "spring_passes", "lead_form"}, {"depth", "roughing", "allowance_x", "hole_depth"}),
        (
            "drill",
            {"size", "hole_depth", "depth", "feed"},
            {"insert", "thread", "part_chamfer", "edge_lead", "roughing"},
        ),
        ("tap", {"thread", "surface_speed"}, {"size", "feed", "insert"}),
        ("part-off", {"size", "part_chamfer", "bar_chamfer", "edge_lead"}, {"over_knurl", "insert", "spring_passes"}),
        ("measure", {"where", "from_row"}, {"insert", "surface_speed", "feed", "turret"}),
    ],
)
def test_the_row_of_an_operation_asks_for_its_own_kinds_fields(
    client: TestClient, kind: str, own: set[str], others: set[str]
) -> None:
    page = client.get(address("/part", {"operations": f"kind:{kind}~note:see the print"})).text
    shown = fields_of(page, 0)
    assert own <= shown
    assert not others & shown


def test_what_was_typed_for_another_kind_is_not_lost(client: TestClient) -> None:
    page = client.get(address("/part", {"operations": "kind:drill~thread:M30x1.5~size:8"})).text
    assert "thread" in fields_of(page, 0)
    assert "knurl_form" not in fields_of(page, 0)


def test_every_field_that_only_some_kinds_have_is_one_of_the_row() -> None:
    names = {spec.name for spec in specs(OperationRow)}
    assert set(ASKED_OF) <= names
    assert {kind for kinds in ASKED_OF.values() for kind in kinds} == set(KINDS) - {""}


def test_a_blank_speed_and_feed_are_asked_for_with_what_to_start_from_and_why(client: TestClient) -> None:
    """C45 is roughed from 180 m/min with coated carbide, common practice; a nose of 0.8 fed 0.25 to 0.55 of it."""
    asked = {
        "outside": "s_x0_z0*f*c1*t_x42_z-28*f_x36*t_z-40",
        "material": "C45",
        "bar_diameter": "45",
        "max_rpm": "2500",
        "operations": "kind:rough~insert:CNMG 120408~holder:PCLNR 2525M12",
    }
    errors = client.get("/api/plan/part", params=asked).json()["errors"]
    said = {each["field"]: each["message"] for each in errors}
    assert "180 m/min to start C45 with, from 150 m/min to 220 m/min" in said["operations.0.surface_speed"]
    assert (
        "0.320 mm/rev to start with, from 0.200 mm/rev to 0.440 mm/rev for a nose of R0.800 mm"
        in said["operations.0.feed"]
    )
    page = client.get("/part", params=asked).text
    assert "0.320 mm/rev to start with" in page
    tapped = dict(re.findall(r'<a href="([^"]*)">(Operation 1, [^<]*)</a>', page))
    assert set(tapped.values()) == {"Operation 1, surface speed 180m/min", "Operation 1, feed 0.32mm"}
    for tap in map(html.unescape, tapped):
        left = client.get(f"/api/plan{tap}").json()["errors"]
        assert len(left) == len(errors) - 1, "a tap fills its field of the row"


@pytest.mark.parametrize("inside", ["s_x20_z0*t_z-30", "s_x20_z0*t_z-60"])
def test_a_bore_that_the_bar_has_already_is_no_fault_of_the_program(client: TestClient, inside: str) -> None:
    """A tube of Ø24 for a print of Ø20: there is nothing left to take, nor of it to leave an allowance on."""
    answer = client.get("/api/plan/part", params={**SLEEVE, "inside": inside})
    assert answer.status_code == 200
    removed = [row["removed"]["value"] for row in answer.json()["done"] if " bore" in row["operation"]]
    assert removed
    assert removed == pytest.approx([0.0] * len(removed), abs=1e-6)


def test_the_sheet_has_room_for_the_offset_that_is_entered(client: TestClient) -> None:
    sheet = client.get(address("/part/operator", {**SLEEVE, "drawing_revision": "C", "released_by": "lead",
                                                  "proved_out": "28 November"})).text  # fmt: skip
    assert "Offset entered" in sheet
    for words in ("Revision of the drawing", "Released by", "Proved out", "28 November"):
        assert words in sheet


def test_stock_whose_bore_is_larger_than_the_prints_is_no_stock_for_it(client: TestClient) -> None:
    """A tube with a bore of 26 for a bore of 25: said first; with 24, as the example has it, not at all."""
    said = "bore of the stock, Ø26 mm, is larger than the print"
    assert said in html.unescape(client.get(address("/part", {**SLEEVE, "stock_bore": "26"})).text)
    assert "bore of the stock, Ø" not in client.get(address("/part", SLEEVE)).text


def test_what_is_said_of_an_operation_stands_below_it_on_the_sheet(client: TestClient) -> None:
    """In a column of its own beside eleven numbers it was a word wide: eleven operations took four pages for two."""
    rows = SLEEVE["operations"].split("*")
    given = {**SLEEVE, "operations": "*".join([f"{rows[0]}~why:face_front1", *rows[1:]])}
    page = html.unescape(client.get("/part/operator", params=given).text)
    said = "The stock stands 1 mm in front of the face: face it first, so that lengths have a clean zero."
    assert re.search(rf'</tr><tr role="row" class="note"><td role="cell" colspan="\d+">{said}</td></tr>', page)
    order = [page.index(f'id="sheet-{key}"') for key in ("tools", "cuts", "points", "checks")]
    assert order == sorted(order)
    row = html.unescape(client.get("/part", params=given).text)
    assert f'name="operations.0.why" value="face_front1"><p class="note">{said}' in row
    german = client.get("/part/operator", params=given, headers={"Accept-Language": "de"}).text
    assert "Das Rohteil steht 1 mm vor" in german
