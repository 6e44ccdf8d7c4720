"""Every dimension is there once, inside the sketch, and no words lie on others."""

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings

from calc.answer.drawing import Drawing
from calc.language.quantities import METRIC, View
from server.sketch import draw, draw_details
from tests.sketch.drawings import CASES, SEAT, Case, cases, views
from tests.sketch.svg import NS, overlap, parsed, size_of, texts, width_of
from tests.tries import tries


def all_views(drawing: Drawing, view: View) -> list[str]:
    return [draw(drawing, view), *draw_details(drawing, view)]


def fields(markups: list[str]) -> list[str]:
    return sorted(
        g.attrib["data-field"] for markup in markups for g in parsed(markup).iter(f"{NS}g") if "data-field" in g.attrib
    )


def check_words(markup: str) -> None:
    svg = parsed(markup)
    width, height = size_of(svg)
    words = texts(svg)
    for text in words:
        left, top, right, bottom = text.box
        assert min(left, top, width - right, height - bottom) >= 0.0, text
    for a, b in combinations(words, 2):
        assert not overlap(a, b), (a, b)


@given(case=cases(), view=views())
@settings(max_examples=tries(200), deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_dish_has_each_dimension_once_and_no_words_on_words(case: Case, view: View) -> None:
    drawing = case.drawing()
    markups = all_views(drawing, view)
    assert fields(markups) == sorted(d.field for d in drawing.dimensions)
    for markup in markups:
        check_words(markup)


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("view", [METRIC, View("inch", zplus="in")], ids=["mm", "inch"])
def test_the_usual_and_the_odd_dishes_are_legible(name: str, view: View) -> None:
    for markup in all_views(CASES[name].drawing(), view):
        check_words(markup)


@pytest.mark.parametrize("name", CASES)
def test_the_main_view_has_the_width_asked_for_and_about_the_height(name: str) -> None:
    width, height = size_of(parsed(draw(CASES[name].drawing(), METRIC, width=420.0, height=400.0)))
    assert width == 420.0
    assert 120.0 < height <= 401.0


def test_many_dimensions_around_a_part_make_the_sketch_larger_and_stay_legible() -> None:
    drawing = SEAT.drawing()
    crowded = replace(drawing, dimensions=drawing.dimensions * 4)
    markup = draw(crowded, METRIC)
    check_words(markup)
    assert len(fields([markup])) == 4 * len(drawing.dimensions) - 16


def test_the_interesting_end_fills_the_view() -> None:
    svg = parsed(draw(SEAT.drawing(), METRIC, 400.0, 390.0))
    window = next(svg.iter(f"{NS}rect"))
    _, height = size_of(svg)
    assert float(window.attrib["height"]) > 0.75 * height


def test_the_measure_of_text_in_these_tests_is_that_of_the_font() -> None:
    assert width_of("Ø60") == pytest.approx(18 * (0.787 + 2 * 0.636))
