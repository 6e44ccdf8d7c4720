"""The bar seen from its end: its outline and its sizes, read from the SVG alone."""

from __future__ import annotations

import math
import re

import pytest

from calc.language.quantities import METRIC, View
from calc.questions.shapes.polygon_stock import polygon_drawing
from server.sketch import draw, draw_details

from .svg import NS, overlap, parsed, size_of, texts


def corners(markup: str) -> list[tuple[float, float]]:
    """The points of the outline, by the SVG specification of path data."""
    path = next(p for p in parsed(markup).iter(f"{NS}path") if p.get("class") == "o")
    steps = re.findall(r"[ML]([^MLAz]+)", path.attrib["d"])
    return [(float(x), float(y)) for x, y in (step.split() for step in steps)]


def hexagon(flats: float, bar: float, sides: int = 6) -> str:
    return draw(polygon_drawing(sides, flats, flats / math.cos(math.pi / sides), bar), METRIC)


@pytest.mark.parametrize("sides", [4, 6, 8, 12])
def test_the_outline_is_as_high_as_it_is_wide_across_flats(sides: int) -> None:
    markup = hexagon(36.0, 60.0, sides)
    points = corners(markup)
    high = max(y for _, y in points) - min(y for _, y in points)
    bar = next(float(c.attrib["r"]) for c in parsed(markup).iter(f"{NS}circle"))
    assert high / (2 * bar) == pytest.approx(36.0 / 60.0, abs=1e-3)
    assert len({(round(x), round(y)) for x, y in points}) == sides


def test_a_bar_below_the_corners_rounds_them() -> None:
    path = next(p for p in parsed(hexagon(36.0, 38.0)).iter(f"{NS}path") if p.get("class") == "o")
    assert path.attrib["d"].count("A") == 6
    assert (
        "A" not in next(p for p in parsed(hexagon(36.0, 45.0)).iter(f"{NS}path") if p.get("class") == "o").attrib["d"]
    )


@pytest.mark.parametrize("sides", [4, 6, 8, 12])
@pytest.mark.parametrize("view", [METRIC, View("inch")])
def test_the_three_sizes_and_the_scale_stand_inside_the_sketch_and_apart(sides: int, view: View) -> None:
    svg = parsed(draw(polygon_drawing(sides, 36.0, 36.0 / math.cos(math.pi / sides), 45.0), view))
    width, height = size_of(svg)
    found = texts(svg)
    assert len(found) == 4  # and the bar of the scale
    for words in found:
        left, top, right, bottom = words.box
        assert left >= 0.0
        assert top >= 0.0
        assert right <= width
        assert bottom <= height
    assert not any(overlap(a, b) for index, a in enumerate(found) for b in found[:index])


def test_while_nothing_is_known_the_symbols_stand_there() -> None:
    drawing = polygon_drawing(6, 36.0, 41.57, 45.0).with_symbols_only()
    assert {words.text for words in texts(parsed(draw(drawing, METRIC)))} == {"s", "e", "B"}
    assert draw_details(drawing, METRIC) == []
