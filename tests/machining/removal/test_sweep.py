"""What a tool passes over, against the union of very many positions, and against areas in closed form."""

import math

import pytest
import shapely

from calc.contour import Arc, Element, Line, Point
from calc.machining.removal.polygons import volume
from calc.machining.removal.sweep import Outline, folded, swept, swept_holder
from calc.tool.insert import insert_core
from calc.tool.insert.tables import shapes

WAYS: dict[str, Element] = {
    "line": Line(Point(0.0, 50.0), Point(9.0, 55.0)),
    "arc": Arc.from_angles(Point(0.0, 50.0), 10.0, 0.3, 2.2, "ccw"),
    "arc smaller than the nose": Arc.from_angles(Point(0.0, 50.0), 0.3, 0.0, -2.0, "cw"),
    "arc of most of a turn": Arc.from_angles(Point(0.0, 50.0), 3.0, 0.3, -4.2, "cw"),
}


def insert(letter: str) -> Outline:
    if letter == "R":
        return Outline((Point(0.0, 0.0),), 6.0)
    return Outline(insert_core(shapes()[letter], 9.525, 0.4, math.radians(62.5)), 0.4)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("letter", ["R", "D", "C", "W"])
def test_it_is_the_union_of_all_positions(letter: str, way: str) -> None:
    outline, element = insert(letter), WAYS[way]
    count = 600
    places = [element.point_at(element.length * index / count) for index in range(count + 1)]
    union = shapely.union_all([outline.at(place) for place in places])
    found = swept(outline, [element])
    assert found.symmetric_difference(union).area < 1e-3 * max(element.length, outline.nose)
    assert shapely.hausdorff_distance(found.exterior, union.exterior) < 2e-3


def test_a_disc_along_a_line_is_a_slot() -> None:
    """Length times width and a whole circle."""
    found = swept(insert("R"), [Line(Point(0.0, 50.0), Point(20.0, 50.0))])
    assert found.area == pytest.approx(240.0 + 36.0 * math.pi, abs=0.02)


def test_a_disc_along_an_arc_is_a_ring_sector_with_two_half_circles() -> None:
    found = swept(insert("R"), [Arc.from_angles(Point(0.0, 50.0), 30.0, 0.0, 1.0, "ccw")])
    assert found.area == pytest.approx(0.5 * (36.0**2 - 24.0**2) + 36.0 * math.pi, abs=0.02)


def test_the_outline_of_an_insert_has_its_area_and_reaches_its_nose() -> None:
    """A square: the inscribed circle squared, less what the four rounded corners lack, (4 - pi) r squared."""
    outline = Outline(insert_core(shapes()["S"], 12.7, 0.8, 0.0), 0.8)
    area = outline.at(Point(0.0, 0.0))
    assert area.area == pytest.approx(12.7**2 - (4.0 - math.pi) * 0.64, abs=1e-3)
    assert area.bounds[0] == pytest.approx(-0.8, abs=2.5e-4)


def test_what_is_beyond_the_axis_cuts_on_this_side_too() -> None:
    low = folded(swept(insert("R"), [Line(Point(0.0, 4.0), Point(5.0, 4.0))]))
    assert low.contains(shapely.Point(0.0, 1.9))
    assert low.equals(shapely.union_all([low, shapely.transform(low, lambda places: places * [1.0, -1.0])]))


def test_the_holder_is_swept_as_the_insert() -> None:
    outline = Outline((Point(0.0, 0.0),), 1.0, ((Point(2.0, 5.0), Point(4.0, 5.0), Point(4.0, 9.0), Point(2.0, 9.0)),))
    found = swept_holder(outline, [Line(Point(0.0, 20.0), Point(-10.0, 20.0))])
    assert found.area == pytest.approx(12.0 * 4.0)


def test_volume_is_that_of_the_ring() -> None:
    assert volume(shapely.box(0.0, 3.0, 2.0, 5.0)) == pytest.approx(math.pi * (25.0 - 9.0) * 2.0)
