"""Nothing stands on anything else: no text on a text, a line or the frame, and each name stands by its own point."""

from __future__ import annotations

import contextlib
import math
import re
from collections.abc import Iterator
from typing import Literal
from xml.etree.ElementTree import Element

import pytest
from hypothesis import HealthCheck, given, settings
from shapely.geometry import LineString, box

from calc.answer.feature import Feature
from calc.language.problems import Problem
from calc.language.quantities import View
from server.answering import Answering, PageAsked
from server.catalogue import PAGES
from server.query import read_query
from server.settings import STATIC, TEMPLATES
from server.sketch import draw, draw_details
from tests.sketch.contours import contour
from tests.sketch.drawings import Case, cases, views
from tests.sketch.ink import collisions, runs
from tests.sketch.svg import NS, parsed, words_of
from tests.tries import some, tries

SKETCH = re.compile(r'<svg class="sketch"[^>]*aria-labelledby="(?:sketch|step)[^>]*>.*?</svg>', re.DOTALL)
"""The sketches and pictures of a page; a plot's words stand on its own lines, as the numbers of a map's heights do."""

DOT = 3.0
CENTRE_SHARED = 12.0
"""px of the centre line that a dimension may share with it: what an extension line crosses."""


@pytest.fixture(scope="module")
def answering() -> Answering:
    return Answering(TEMPLATES, STATIC)


def sketches(answering: Answering, feature: Feature) -> Iterator[tuple[str, str]]:  # type: ignore[type-arg]
    """Every sketch of a page, bare and with each of its examples, in both systems of units."""
    for name, case in {"bare": {}, "example": feature.example, **feature.examples}.items():
        for units in ("mm", "inch"):
            asked = PageAsked([*case.items(), ("units", units)], "http://shop")
            text = bytes(answering.page(feature, asked).body).decode()
            yield from ((f"{name}, {units}, {index}", found) for index, found in enumerate(SKETCH.findall(text)))


@pytest.mark.parametrize("page", PAGES)
def test_nothing_stands_on_anything_else_in_any_example(answering: Answering, page: str) -> None:
    found = {name: collisions(markup) for name, markup in sketches(answering, PAGES[page])}
    assert {name: told for name, told in found.items() if told} == {}


@pytest.mark.parametrize("page", PAGES)
def test_no_dimension_lies_on_the_centre_line_and_each_name_is_by_its_own_point(
    answering: Answering, page: str
) -> None:
    for name, markup in sketches(answering, PAGES[page]):
        assert shared_with_the_centre_line(markup) <= CENTRE_SHARED, name
        assert strangers(markup) == [], name


@given(case=cases(), view=views())
@settings(max_examples=tries(500), deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_nothing_stands_on_anything_else_in_random_cases(case: Case, view: View) -> None:
    drawing = case.drawing()
    for markup in (draw(drawing, view), *draw_details(drawing, view)):
        assert collisions(markup) == []
        assert strangers(markup) == []


@pytest.mark.parametrize("seed", some(range(500), 25))
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_nothing_stands_on_anything_else_on_random_contours(seed: int, units: Literal["mm", "inch"]) -> None:
    text, side = contour(seed)
    feature = PAGES["/contour"]
    asked = read_query([("contour", text), ("side", side)], feature.inputs).inputs(feature.inputs)
    try:
        drawing = feature.answer(asked)[0].drawn()
    except Problem as problem:
        drawing = getattr(problem, "drawing", None)
    assert drawing is None or collisions(draw(drawing, View(units=units))) == []


def test_most_random_contours_have_a_sketch() -> None:
    feature, drawn = PAGES["/contour"], 0
    for seed in range(20):
        text, side = contour(seed)
        query = read_query([("contour", text), ("side", side)], feature.inputs)
        with contextlib.suppress(Problem):
            drawn += feature.answer(query.inputs(feature.inputs))[0].drawn() is not None
    assert drawn >= 12


def shared_with_the_centre_line(markup: str) -> float:
    """The longest piece of a dimension's lines that lies on a centre line, px."""
    svg = parsed(markup)
    centre = [axis.buffer(0.4) for axis in _lines(svg, "c")]
    groups = [each for each in svg.iter(f"{NS}g") if "dim" in each.get("class", "").split()]
    drawn = [line for group in groups for line in _lines(group, "t")]
    return max((line.intersection(axis).length for axis in centre for line in drawn), default=0.0)


def _lines(element: Element, cls: str) -> list[LineString]:
    paths = [each.attrib["d"] for each in element.iter(f"{NS}path") if each.get("class") == cls]
    return [LineString(run) for data in paths for run in runs(data)]


def strangers(markup: str) -> list[str]:
    """Names of points that stand nearer to another point than to their own and are not led to it by a line."""
    svg = parsed(markup)
    dots = [(float(dot.attrib["cx"]), float(dot.attrib["cy"])) for group in svg.iter(f"{NS}g")
            if group.get("class") == "pt" for dot in group.iter(f"{NS}circle")]  # fmt: skip
    found = []
    for group in (each for each in svg.iter(f"{NS}g") if each.get("class") == "pn"):
        led = False
        for each in group:
            if each.tag == f"{NS}path":
                ((start, *_),) = runs(each.attrib["d"])
                led = min(math.dist(start, dot) for dot in dots) <= DOT + 0.1
            else:
                if not led:
                    found += _far_or_between(each, dots)
                led = False
    return found


def _far_or_between(element: Element, dots: list[tuple[float, float]]) -> list[str]:
    words = words_of(element)
    taken = box(*words.box)
    away = sorted(taken.distance(box(x, y, x, y)) for x, y in dots)
    return [words.text] if away[0] > 16.0 or (len(away) > 1 and away[1] < away[0] + 2.0) else []
