"""Practising a whole part: every kind of its operations asks its own question, with the part's numbers."""

from __future__ import annotations

import html
import re
from urllib.parse import parse_qsl, urlsplit

import pytest
from starlette.testclient import TestClient

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
    "operations": "kind:face~surface_speed:200~feed:0.2*kind:drill~size:24~hole_depth:45"
    "*kind:groove~size:2~surface_speed:120~feed:0.08*kind:thread~thread:M30x1.5-6H"
    "*kind:knurl~size:1~knurl_form:crossed~over_knurl:42"
    "*kind:part-off~size:3~edge_lead:6~surface_speed:120~feed:0.1",
}
"""The whole sleeve's print, and an operation of each kind on it."""


def drawn(part: dict[str, str]) -> dict[str, dict[str, str]]:
    question = question_at(address("/part", part))
    assert isinstance(question, Question), question
    found = [urlsplit(each) for each in drawn_from(question)]
    return {each.path: dict(parse_qsl(each.query)) for each in found}


def test_every_kind_of_operation_asks_its_own_question() -> None:
    found = drawn(WHOLE)
    assert list(found) == ["/spindle", "/drilling", "/grooving-cut", "/thread", "/knurl", "/parting"]
    groove = found["/grooving-cut"]
    sizes = [groove[name] for name in ("start_diameter", "bottom_diameter", "groove_width", "insert_width")]
    assert sizes == ["42mm", "38mm", "3.6mm", "2"]
    assert (found["/knurl"]["form"], found["/parting"]["edge_lead"]) == ("crossed", "6")


@pytest.mark.parametrize("seed", [None, *range(6)])
def test_each_of_them_can_be_practised(seed: int | None) -> None:
    case = case_of(address("/part", WHOLE), seed)
    assert isinstance(case, Case), case
    assert case.asked


def test_what_an_operation_lacks_is_not_asked_for() -> None:
    bare = {**WHOLE, "outside": "s_x0_z0*f*t_x42_z-40", "operations": "kind:groove~size:2*kind:knurl~size:1*kind:drill"}
    assert drawn(bare) == {}


def test_the_whole_sleeve_gives_its_own_questions_to_practise() -> None:
    found = drawn(WHOLE_SLEEVE)
    assert {"/spindle", "/drilling", "/thread", "/knurl"} <= found.keys()


@LOCAL
def test_a_saved_part_is_practised_by_everybody_with_its_link(client: TestClient) -> None:
    sheet = saved(client, address("/part", WHOLE))
    client.cookies.clear()
    page = html.unescape(client.get(sheet).text)
    link = re.findall(r'href="([^"]+/practise/[^"]+)">Practise this step', page)[0]
    practised = client.get(link)
    assert practised.status_code == 200
    assert "Check my answers" in practised.text
