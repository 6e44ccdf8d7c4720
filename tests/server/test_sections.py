"""What a page tells of its answer before anything is opened, and whose signs a table has."""

from __future__ import annotations

import datetime

import pytest

from calc.questions.cutting.spindle import FEATURE as SPINDLE
from calc.questions.operations.contour_plan.feature import FEATURE as CONTOUR_PLAN
from calc.questions.operations.dish_plan.dish import FEATURE as DISH
from server.answers import answer_json
from server.context import PageView
from server.pages import Page
from server.query import read_query

TODAY = datetime.date(2026, 1, 5)


def page(**texts: str) -> PageView:
    query = read_query({**DISH.example, **texts}.items(), DISH.inputs)
    return Page(DISH, query, "http://shop", TODAY).context()


@pytest.mark.parametrize(
    ("key", "summary"),
    [
        ("the-dish", "sharp mouth Ø51.176 mm, arc centre Z70.500 mm, slope at the mouth 19.948°"),
        ("nose-and-tool-point", "tool point at the mouth X34.841 mm, at the end X-12.000 mm"),
        ("spindle", "at the mouth 1375 1/min, limit takes over at Ø35.014 mm"),
        ("passes-and-time", "finishing 0.088 min, all passes 0.446 min"),
    ],
)
def test_a_closed_section_tells_what_a_setter_looks_for(key: str, summary: str) -> None:
    assert {section.key: section.summary for section in page().sections}[key] == summary


def test_without_brief_names_a_section_tells_its_first_two_results() -> None:
    query = read_query({"surface_speed": "220", "diameter": "60", "max_rpm": "2000"}.items(), SPINDLE.inputs)
    context = Page(SPINDLE, query, "http://shop", TODAY).context()
    assert context.sections[0].summary.startswith(f"{context.sections[0].results[0].label} 1167 1/min, ")


def test_the_lines_of_a_sketch_are_explained_beside_it() -> None:
    legend = page().legend
    assert all(words in legend for words in ("raw bar", "path of the nose centre", "tool point", "uncompensated"))


@pytest.mark.parametrize(("zplus", "head"), [("out", "K"), ("in", "K (+Z out)")])
def test_the_k_of_an_arc_says_its_sign_where_z_points_the_other_way(zplus: str, head: str) -> None:
    points = next(section for section in page(zplus=zplus).sections if section.key == "points")
    assert points.tables[0].heads[-1] == head


@pytest.mark.parametrize("zplus", ["out", "in"])
def test_g_words_name_their_axes_by_the_chuck_and_not_by_a_sketch_whose_arrow_turns(zplus: str) -> None:
    points = next(section for section in page(zplus=zplus).sections if section.key == "points")
    assert "ISO axes: +X up, +Z away from the chuck" in points.tables[0].note
    assert "sketch" not in points.tables[0].note


def test_a_section_says_what_is_missing_also_while_it_has_no_numbers() -> None:
    """Without a surface speed there is no time: the page and the JSON say so where the times would stand."""
    speeds = ("surface_speed", "rough_surface_speed")
    texts = {name: text for name, text in CONTOUR_PLAN.example.items() if name not in speeds}
    query = read_query(texts.items(), CONTOUR_PLAN.inputs)
    said = "Times need the feed, and the surface speed or the material."
    sections = Page(CONTOUR_PLAN, query, "http://shop", TODAY).context().sections
    assert any(said in section.sentences for section in sections)
    answer, steps = CONTOUR_PLAN.answer(query.inputs(CONTOUR_PLAN.inputs))
    assert said in answer_json(CONTOUR_PLAN, query, answer, steps)["notes"]


def test_what_stands_under_a_heading_is_in_the_json_once() -> None:
    query = read_query(DISH.example.items(), DISH.inputs)
    answer, steps = DISH.answer(query.inputs(DISH.inputs))
    notes = answer_json(DISH, query, answer, steps)["notes"]
    assert any(note.startswith("Time in feed") for note in notes)
    assert len(notes) == len(set(notes))
