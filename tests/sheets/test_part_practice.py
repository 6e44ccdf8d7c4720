"""Practising a whole part: every kind of operation and of row asks its own question, with the part's numbers."""

from __future__ import annotations

import html
import re
from typing import get_args
from urllib.parse import parse_qsl, urlsplit

import pytest
from starlette.testclient import TestClient

from calc.contour.row_words import RowKind
from calc.questions.part.job import KINDS
from server.links import address
from server.sheets.addresses import Question, question_at
from server.sheets.part_practice import drawn_from
from server.sheets.practice import Case, case_of
from tests.sheets.test_a_whole_part import LOCAL, saved
from tests.sheets.whole_sleeve import WHOLE_SLEEVE

WHOLE = {
    "outside": "s_x0_z0*f*c1*t_x42_z-3*t_z-13*t_z-19.2*g_w3.6_x38*t_z-28*f_x36 h9*uE 0.6x0.3*t_z-40*c1*f_x25",
    "inside": "s_z0*h_namedM30x1.5-6H_z-19_reliefD*f_x25 H7*t_z-40",
    "material": "C45",
    "bar_diameter": "45",
    "face_stock": "1",
    "max_rpm": "2500",
}
"""The whole sleeve's print."""

ASKED_BY: dict[str, tuple[str, dict[str, str]]] = {
    "kind:face~surface_speed:200~feed:0.2": ("/spindle", {"diameter": "45", "surface_speed": "200"}),
    "kind:rough~surface_speed:190~feed:0.2": ("/spindle", {"surface_speed": "190"}),
    "kind:finish~surface_speed:220~feed:0.1~nose_radius:0.4": ("/finish", {"feed": "0.1", "nose_radius": "0.4"}),
    "kind:bore~surface_speed:160~feed:0.1": ("/spindle", {"diameter": "30.5", "surface_speed": "160"}),
    "kind:drill~size:24~hole_depth:45": ("/drilling", {"drill_diameter": "24", "through": "through"}),
    "kind:centre~size:4~centre_form:B": ("/centre-hole", {"centre_form": "B", "centre_size": "4"}),
    "kind:countersink~size:24": ("/drill-point", {"diameter": "24", "point_angle": "90°"}),
    "kind:counterbore~size:36~hole_depth:8": ("/hole", {"bore_diameter": "25.0105", "counterbore_diameter": "36"}),
    "kind:ream~size:25": ("/hole", {"finished": "reamed", "bore_diameter": "25", "hole_depth": "40"}),
    "kind:tap~thread:M10-6H~hole_depth:20": ("/tapping", {"designation": "M10-6H", "length": "20"}),
    "kind:groove~size:2~surface_speed:120~feed:0.08": (
        "/grooving-cut",
        {"start_diameter": "42", "bottom_diameter": "38", "groove_width": "3.6", "insert_width": "2"},
    ),
    "kind:groove~where:inside~size:2": ("/grooving-cut", {"bottom_diameter": "30.5", "groove_width": "5.6"}),
    "kind:thread~thread:M30x1.5-6H": ("/thread", {"designation": "M30x1.5-6H"}),
    "kind:knurl~size:1~knurl_form:crossed~over_knurl:42": ("/knurl", {"diameter": "42", "form": "crossed"}),
    "kind:part-off~size:3~edge_lead:6~surface_speed:120~feed:0.1": ("/parting", {"edge_lead": "6", "feed": "0.1"}),
    "kind:measure~where:inside": ("/limits", {"size": "25 H7"}),
    "kind:measure~from_row:8": ("/limits", {"size": "36 h9"}),
}
"""An operation of each kind on it, with the question that it asks."""

ROWS_ASK: dict[str, tuple[str, str, dict[str, str]]] = {
    "undercut": (
        "outside",
        "s_x0_z0*f_x24 g6*t_z-38*uF 0.8x0.3*f_x31*t_z-60",
        {"diameter": "24 g6", "size": "0.8x0.3"},
    ),
    "thread": ("outside", "s_x0_z0*f*h_namedM24x2-6g_z-30_reliefA*f_x42*t_z-60", {"designation": "M24x2-6g"}),
    "relief": ("outside", "s_x0_z0*f*t_xM24x2-6g_z-30*vA*f_x42*t_z-60", {"designation": "M24x2-6g"}),
    "groove": ("outside", "s_x0_z0*f_x42*t_z-9*g_w4_dep3*t_z-40", {"diameter": "42", "width": "4", "from_end": "9"}),
    "ring": ("outside", "s_x0_z0*f_x25*t_z-9*g_namedDIN 471*t_z-40", {"where": "outside", "diameter": "25"}),
    "o-ring": (
        "outside",
        "s_x0_z0*f_x42*t_z-9*g_namedO-ring 2.65 in 42 H8*t_z-40",
        {"section": "2.65", "mating_diameter": "42 H8", "duty": "static"},
    ),
    "ring in a bore": ("inside", "s_x40_z0*t_z-9*g_namedDIN 472_outward*t_z-40", {"where": "inside", "diameter": "40"}),
    "knurl": ("outside", "s_x0_z0*f*t_x42_z-3*t_x42 DIN 82-RGE 0.8_z-13*t_z-40", {"pitch": "0.8", "diameter": "42"}),
    "line": ("outside", "s_x0_z0*f_x19.8*l_x22_z-22_tp1:10*t_z-40", {"large_diameter": "22", "length": "22"}),
    "arc": ("outside", "s_x0_z-4.5*a_r75_z0_cx0*e0.8*f_x60*t_z-20", {}),
    "chamfer": ("outside", "s_x0_z0*f_x42*c1*t_z-28", {}),
}
"""Rows that a standard or a name lays down, and the question that each asks; the others are the contour's own."""

PAGES_OF = {
    "undercut": "/shoulder", "thread": "/thread", "relief": "/thread", "groove": "/groove", "ring": "/ring-groove",
    "o-ring": "/o-ring-groove", "ring in a bore": "/ring-groove", "line": "/taper", "knurl": "/knurl",
    "arc": "/contour",
    "chamfer": "/contour",
}  # fmt: skip
OF_THE_CONTOUR = {"start", "face", "cylinder", "radius"}


def drawn(part: dict[str, str]) -> list[tuple[str, dict[str, str]]]:
    question = question_at(address("/part", part))
    assert isinstance(question, Question), question
    found = [urlsplit(each) for each in drawn_from(question)]
    return [(each.path, dict(parse_qsl(each.query))) for each in found]


def asked(part: dict[str, str], page: str) -> list[dict[str, str]]:
    return [given for path, given in drawn(part) if path == page]


def practised(page: str, given: dict[str, str]) -> None:
    """A question has numbers of its own to ask for, and the same with fresh ones."""
    for seed in (None, 3):
        case = case_of(address(page, given), seed)
        assert isinstance(case, Case), (page, given, case)
        assert case.asked


def test_no_kind_of_operation_or_row_is_left_out() -> None:
    kinds = {text.partition("~")[0].removeprefix("kind:") for text in ASKED_BY}
    assert kinds == set(KINDS)
    assert {*ROWS_ASK, *OF_THE_CONTOUR} >= set(get_args(RowKind))


@pytest.mark.parametrize("operation", ASKED_BY)
def test_an_operation_of_each_kind_asks_its_own_question_with_the_parts_numbers(operation: str) -> None:
    page, sizes = ASKED_BY[operation]
    found = asked({**WHOLE, "operations": operation}, page)
    assert any(sizes.items() <= given.items() for given in found), found
    practised(page, next(given for given in found if sizes.items() <= given.items()))


def test_a_groove_in_a_face_asks_for_its_ring() -> None:
    face = {**WHOLE, "outside": "s_x0_z0*f_x32*t_z-4*f_x38*t_z0*f_x42*t_z-40"}
    found = asked({**face, "operations": "kind:groove~where:face~size:3~from_row:2~to_row:4"}, "/face-groove")
    sizes = {"groove_outer": "38", "groove_inner": "32", "face_depth": "4", "insert_width": "3"}
    assert [sizes.items() <= given.items() for given in found] == [True]
    practised("/face-groove", found[0])


@pytest.mark.parametrize("row", ROWS_ASK)
def test_a_row_of_each_kind_asks_its_own_question(row: str) -> None:
    side, contour, sizes = ROWS_ASK[row]
    part = {"outside": "s_x0_z0*f_x60*t_z-40", **{name: WHOLE[name] for name in ("material", "max_rpm")}}
    found = asked({**part, "bar_diameter": "65", side: contour}, PAGES_OF[row])
    assert any(sizes.items() <= given.items() for given in found), found
    practised(PAGES_OF[row], found[0])


def test_numbers_are_those_of_an_inch_page_on_one() -> None:
    contour = "s_x0_z0*f_x2*t_z-0.5*g_w0.125_dep0.1*t_z-1"
    part = {"outside": contour, "bar_diameter": "2.25", "units": "inch", "operations": "kind:groove~size:0.1"}
    found = asked({**part, "material": "C45"}, "/grooving-cut")
    assert [(given["start_diameter"], given["bottom_diameter"], given["units"]) for given in found] == [
        ("2", "1.8", "inch")
    ]


@pytest.mark.parametrize("seed", [None, *range(4)])
def test_a_part_is_practised_question_by_question(seed: int | None) -> None:
    case = case_of(address("/part", {**WHOLE, "operations": "*".join(ASKED_BY)}), seed)
    assert isinstance(case, Case), case
    assert case.asked


def test_what_an_operation_lacks_is_not_asked_for() -> None:
    bare = {
        "bar_diameter": "45",
        "operations": "kind:groove~size:2*kind:knurl~size:1*kind:drill*kind:*kind:ream~use:off",
    }
    assert drawn(bare) == []


def test_the_whole_sleeve_gives_its_own_questions_to_practise() -> None:
    found = {page for page, _ in drawn(WHOLE_SLEEVE)}
    assert {"/spindle", "/drilling", "/grooving-cut", "/thread", "/knurl", "/parting", "/shoulder", "/limits"} <= found


def test_a_bored_piece_in_its_jaws_is_asked_for_its_roundness() -> None:
    held = {**WHOLE, "stock_bore": "24", "stock_length": "42", "grip_force": "15000"}
    found = asked(held, "/thin-ring")
    assert [(given["outer_diameter"], given["ring_bore"], given["grip_force"]) for given in found] == [
        ("45", "24", "15000")
    ]
    practised("/thin-ring", found[0])


@LOCAL
def test_a_saved_part_is_practised_by_everybody_with_its_link(client: TestClient) -> None:
    sheet = saved(client, address("/part", {**WHOLE, "operations": "kind:face~surface_speed:200~feed:0.2"}))
    client.cookies.clear()
    pages = (html.unescape(client.get(sheet).text) for _ in range(8))  # a busy machine may answer a step too late
    links = (re.findall(r'href="([^"]+/practise/[^"]+)">Practise this step', page) for page in pages)
    link = next(found for found in links if found)[0]
    opened = client.get(link)
    assert opened.status_code == 200
    assert "Check my answers" in opened.text
