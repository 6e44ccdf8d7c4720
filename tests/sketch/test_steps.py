"""A stepped part: its detail is hatched where the part is, and the main view leaves crowded points to it."""

from __future__ import annotations

import re

from shapely import Point as ShapelyPoint
from shapely import Polygon

from calc.answer.drawing import Detail, Drawing
from calc.contour import Chain, Line, Point
from calc.language.quantities import METRIC
from server.sketch import draw, draw_details

from .svg import NS, parsed, texts

SHOULDER, CYLINDER = Point(-30.0, 20.0), Point(-30.0, 12.0)
END = Point(0.0, 12.0)


def stepped(*spots: tuple[str, Point]) -> Drawing:
    part = Chain((Line(SHOULDER, CYLINDER), Line(CYLINDER, END), Line(END, Point(0.0, 0.0))))
    return Drawing("step", "a step", part, bar_radius=20.0, spots=spots, details=(Detail(CYLINDER, 6.0, "corner"),))


def hatched(markup: str) -> Polygon:
    """The hatched area of a detail without arcs, from its path data by the SVG specification."""
    path = next(p for p in parsed(markup).iter(f"{NS}path") if "f" in p.get("class", "").split())
    x = y = 0.0
    corners = []
    for letter, numbers in re.findall(r"([MLHVz])([^MLHVz]*)", path.attrib["d"]):
        values = [float(number) for number in re.findall(r"-?[\d.]+", numbers)]
        x = values[0] if letter in "MLH" and values else x
        y = values[-1] if letter in "MLV" and values else y
        corners.append((x, y))
    return Polygon(corners)


def test_the_part_below_a_cylinder_is_hatched_and_the_air_above_it_is_not() -> None:
    markup = draw_details(stepped(), METRIC)[0]
    window = next(c for c in parsed(markup).iter(f"{NS}circle"))
    x, y, size = (float(window.attrib[name]) for name in ("cx", "cy", "r"))
    area, away = hatched(markup), size / 2
    assert area.contains(ShapelyPoint(x + away, y + away))
    assert area.contains(ShapelyPoint(x - away, y + away))
    assert area.contains(ShapelyPoint(x - away, y - away))
    assert not area.contains(ShapelyPoint(x + away, y - away))


def test_the_part_above_a_bore_is_hatched_and_the_bore_is_not() -> None:
    mouth, end = Point(0.0, 12.0), Point(-30.0, 12.0)
    part = Chain((Line(Point(0.0, 20.0), mouth), Line(mouth, end), Line(end, Point(-30.0, 8.0))))
    detail = Detail(Point(-15.0, 12.0), 6.0, "wall")
    markup = draw_details(Drawing("bore", "a bore", part, bar_radius=20.0, details=(detail,)), METRIC)[0]
    window = next(c for c in parsed(markup).iter(f"{NS}circle"))
    x, y, size = (float(window.attrib[name]) for name in ("cx", "cy", "r"))
    assert hatched(markup).contains(ShapelyPoint(x, y - size / 2))
    assert not hatched(markup).contains(ShapelyPoint(x, y + size / 2))


def test_points_that_crowd_in_a_detail_are_named_in_the_detail_alone() -> None:
    drawing = stepped(("P1", Point(-29.0, 12.0)), ("P2", CYLINDER), ("P3", END))
    named = {words.text for words in texts(parsed(draw(drawing, METRIC)))}
    assert "P3" in named
    assert named.isdisjoint({"P1", "P2"})
    inside = {words.text for words in texts(parsed(draw_details(drawing, METRIC)[0]))}
    assert {"P1", "P2"} <= inside


def test_a_point_alone_in_a_detail_keeps_its_name_in_the_main_view() -> None:
    drawing = stepped(("P1", CYLINDER), ("P2", END))
    named = {words.text for words in texts(parsed(draw(drawing, METRIC)))}
    assert {"P1", "P2"} <= named
