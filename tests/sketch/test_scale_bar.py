"""The bar of a sketch is as long as it says, in the sketch's own scale, on every sketch that shows a part."""

from __future__ import annotations

import re
from typing import Literal

import pytest

from calc.language.quantities import View
from server.catalogue import PAGES
from server.query import read_query
from server.sketch import draw, draw_pictures
from tests.sketch.svg import NS, parsed

INCH = 25.4


def bar_mm(markup: str) -> tuple[float, float]:
    """Length of the bar: in px, and in mm as its words say."""
    svg = parsed(markup)
    marks = list(svg.iter())
    at = next(i for i, each in enumerate(marks) if each.get("class") == "t sb")
    left, right = map(float, re.findall(r"^M([\d.]+) [\d.]+H([\d.]+)", marks[at].attrib["d"])[0])
    number, unit = (marks[at + 1].text or "").split()
    assert unit in ("mm", "in")
    return right - left, float(number) * (INCH if unit == "in" else 1.0)


@pytest.mark.parametrize("units", ["mm", "inch"])
def test_the_bar_agrees_with_a_dimension_of_the_sketch(units: Literal["mm", "inch"]) -> None:
    feature = PAGES["/dish"]
    asked = read_query([("radius", "75"), ("depth", "4.5"), ("units", units)], feature.inputs)
    view = View(units=units)
    if units == "inch":
        asked = read_query([("radius", "75mm"), ("depth", "4.5mm"), ("units", units)], feature.inputs)
    drawing = feature.answer(asked.inputs(feature.inputs))[0].drawn()
    assert drawing is not None
    markup = draw(drawing, view)
    px, mm = bar_mm(markup)
    svg = parsed(markup)
    depth = next(each for each in svg.iter(f"{NS}g") if each.get("data-field") == "depth")
    ends = sorted({float(x) for x in re.findall(r"M([\d.]+) [\d.]+V", next(depth.iter(f"{NS}path")).attrib["d"])})
    assert (ends[-1] - ends[0]) / 4.5 == pytest.approx(px / mm, rel=0.01)
    assert 30.0 < px < 91.0


def test_the_bar_of_a_thread_agrees_with_its_pitch() -> None:
    """M24x2: 2 mm from crest to crest, ISO 261."""
    markup = sketch("/thread", {"designation": "M24x2-6g"})
    px, mm = bar_mm(markup)
    pitch = next(each for each in parsed(markup).iter(f"{NS}g") if each.get("data-field") == "pitch")
    ends = [float(x) for x in re.findall(r"M([\d.]+) [\d.]+V", next(pitch.iter(f"{NS}path")).attrib["d"])]
    assert (max(ends) - min(ends)) / 2.0 == pytest.approx(px / mm, rel=0.01)


def test_the_bar_of_a_hexagon_agrees_with_the_size_across_its_flats() -> None:
    markup = sketch("/polygon", {"sides": "6", "across_flats": "36", "bar_diameter": "45"})
    px, mm = bar_mm(markup)
    flats = next(each for each in parsed(markup).iter(f"{NS}g") if each.get("data-field") == "across_flats")
    top, bottom = map(float, re.findall(r"M[\d.]+ ([\d.]+)V([\d.]+)", next(flats.iter(f"{NS}path")).attrib["d"])[0])
    assert abs(bottom - top) / 36.0 == pytest.approx(px / mm, rel=0.01)


def sketch(page: str, asked: dict[str, str]) -> str:
    feature = PAGES[page]
    drawing = feature.answer(read_query(list(asked.items()), feature.inputs).inputs(feature.inputs))[0].drawn()
    assert drawing is not None
    return draw(drawing, View())


@pytest.mark.parametrize("page", ["/dish", "/thread", "/polygon"])
def test_no_bar_where_nothing_has_a_size(page: str) -> None:
    blank = PAGES[page].blank
    assert blank is not None
    assert 'class="t sb"' not in draw(blank, View())


def test_all_pictures_of_a_sequence_have_one_scale() -> None:
    feature = PAGES["/part"]
    answer, _ = feature.answer(read_query(list(feature.example.items()), feature.inputs).inputs(feature.inputs))
    assert answer.pictures is not None
    bars = {bar_mm(markup) for markup in draw_pictures(answer.pictures())}
    assert len(bars) == 1
