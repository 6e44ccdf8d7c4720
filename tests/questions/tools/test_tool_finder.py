"""Tools for a contour on a page: the same as the search finds, drawn, and led on to what one of them cannot do."""

from __future__ import annotations

import html
import re

import pytest
from starlette.testclient import TestClient

from calc.language.problems import Missing
from calc.machining.finding import Wanted, find_tools
from calc.questions.tools.tool_finder import FEATURE, ToolFinderInputs, solve
from calc.shapes.chosen import TOOL_SIDE, ShapeName, shape_chain
from server.query import read_query
from tests.server.conftest import client as client  # noqa: PLC0414 - the app's client of the server's tests


@pytest.mark.parametrize("shape", ["pad", "stem"])
def test_the_page_lists_what_the_search_finds(shape: ShapeName) -> None:
    answer = solve(ToolFinderInputs(shape=shape, tool_hand="right"))
    found = find_tools(Wanted(shape_chain(shape, None), TOOL_SIDE.get(shape, "right"), hand="R"))
    assert [(row.insert, row.holder) for row in answer.tables["tools"]] == [(one.insert, one.holder) for one in found]
    assert (answer.results.insert, answer.results.count) == (found[0].insert, len(found))


def test_a_bore_takes_bars_that_go_into_its_hole() -> None:
    """A bar of ISO 6261 bears its diameter: none thicker than a hole of Ø24 goes in."""
    texts = {"contour": "s_x28_z0*t_z-30", "where": "inside", "entry_diameter": "24", "tool_hand": "right"}
    query = read_query(texts.items(), FEATURE.inputs)
    rows = FEATURE.answer(query.inputs(FEATURE.inputs))[0].tables["tools"]
    assert rows
    assert all(int(re.findall(r"\d+", row.holder)[0]) < 24 for row in rows)


def test_a_groove_that_no_turning_tool_enters_is_left_to_a_pair_or_said() -> None:
    texts = {"contour": "s_x40_z0*t_z-10*f_x36*t_z-12*f_x40*t_z-20", "tool_hand": "right"}
    query = read_query(texts.items(), FEATURE.inputs)
    answer = FEATURE.answer(query.inputs(FEATURE.inputs))[0]
    assert answer.results.reaches is False
    assert all(row.reach.startswith("elements") for row in answer.tables["tools"])


def test_without_a_contour_it_asks_for_one() -> None:
    with pytest.raises(Missing):
        solve(ToolFinderInputs())


def test_the_page_draws_the_tool_and_leads_on(client: TestClient) -> None:
    page = html.unescape(client.get("/tool-finder?shape=stem&tool_hand=right").text)
    assert "PCLNR 2525M12" in page
    assert "See what one insert and holder cannot do here" in page
    assert "<svg" in page
