"""The line under the number that says what it was computed from, and what stands where no field is beside it."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from calc.language.translating import in_sentence
from calc.questions.measuring.arc import FEATURE as ARC
from calc.questions.measuring.first_part import FEATURE as FIRST_PART
from calc.questions.measuring.part_run import FEATURE as PART_RUN
from server.context import ErrorView


def test_a_symbol_within_a_sentence_keeps_its_capital() -> None:
    """X, Z and Ra are symbols (ISO 841, ISO 21920-2): once "centre x on the print" and "ra up to" stood there."""
    labels = (
        "Centre X on the print",
        "Length along Z",
        "Ra up to",
        "GO gauge, pitch diameter",
        "O-ring section",
        "X to reach",
    )
    said = [in_sentence(label, "en") for label in labels]
    assert said == ["centre X on the print", "length along Z", *labels[2:]]


def test_the_line_of_what_was_given_counts_lines_and_keeps_symbols(client: TestClient) -> None:
    assert "From 6 readings, " in client.get("/part-run", params=dict(PART_RUN.example)).text
    assert "centre X on the print" in client.get("/measure-arc", params=dict(ARC.example)).text


def test_an_error_that_only_quotes_what_was_typed_is_named(client: TestClient) -> None:
    """Above the page a list of errors stands alone: "“-3” is not one of: 0, 1 ..." does not say which field."""
    assert ErrorView("tool_point", "Tool point", "“-3” is not one of: 0, 1.").named.startswith("Tool point: “-3”")
    assert ErrorView("feed", "Feed", "Give the feed.").named == "Give the feed."
    page = client.get("/corner", params={"first_angle": "--30", "second_angle": "0"}).text
    assert "First line: “--30” has two signs" in page


def test_a_name_of_a_program_stands_in_no_table_of_a_page(client: TestClient) -> None:
    """The causes that stay open are in words there; `centre_height` is for JSON alone."""
    page = client.get("/first-part", params=dict(FIRST_PART.example)).text
    table = page[page.index("Causes of which these readings say too little") :]
    assert "tool’s centre height" in table
    assert "centre_height" not in table[: table.index("</table>")]


@pytest.mark.parametrize(("zplus", "said", "unsaid"), [("out", "+Z", "-Z"), ("in", "-Z", "+Z")])
def test_an_angle_is_from_where_the_sketch_has_it_whichever_way_z_points(
    client: TestClient, zplus: str, said: str, unsaid: str
) -> None:
    page = client.get(f"/contour?contour=s_x20_z0*l_at150_x40&zplus={zplus}").text
    assert page.count(f"Angle from {said}") >= 2  # its field and its column
    assert f"Angle from {unsaid}" not in page


@pytest.mark.parametrize("path", ["/corner", "/nose"])
def test_no_hint_names_a_direction_of_z_that_a_control_may_have_the_other_way(client: TestClient, path: str) -> None:
    """Angles are as seen in the sketch, the chuck on the left, whichever way +Z points."""
    page = client.get(path, params={"zplus": "in"}).text
    assert "from +Z" not in page


def test_a_half_angle_is_less_than_a_right_angle(client: TestClient) -> None:
    for angle, status in (("120", 422), ("90", 422), ("-15", 422), ("15", 200)):
        assert client.get("/contour", params={"contour": f"s_x20_z0*l_ha{angle}_z-20"}).status_code == status
