"""The outline from above, against shapely and against the nose height that the standards dimension."""

import math

import pytest
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon

from calc.contour import Arc, Line, Point
from calc.tool.insert import Insert, insert_core, insert_outline, read_insert
from calc.tool.insert.formulas import nose_height
from tests.tool.insert.designations import INCH, METRIC, Row

DRAWN = METRIC + INCH


def outlined(row: Row) -> tuple[Insert, float, float]:
    insert = read_insert(row.text)
    assert insert.size is not None
    assert insert.nose is not None
    return insert, insert.size, insert.nose


@pytest.mark.parametrize("row", DRAWN, ids=lambda row: row.text)
def test_the_outline_is_the_core_grown_by_the_nose_radius(row: Row) -> None:
    insert, size, nose = outlined(row)
    outline = insert_outline(insert.shape, size, nose, 0.7)
    core = [tuple(corner) for corner in insert_core(insert.shape, size, nose, 0.7)]
    grown = (Polygon(core) if len(core) > 2 else ShapelyPoint(core[0])).buffer(nose, quad_segs=2000)
    assert outline.is_closed
    assert not outline.self_intersections()
    assert outline.length == pytest.approx(grown.length, rel=1e-6)
    for element in outline:
        middle = ShapelyPoint(element.point_at(element.length / 2))
        assert grown.exterior.distance(middle) < 1e-5


@pytest.mark.parametrize("row", [row for row in DRAWN if row.angle], ids=lambda row: row.text)
def test_every_straight_edge_touches_the_inscribed_circle(row: Row) -> None:
    insert, size, nose = outlined(row)
    assert insert.angle is not None
    outline = insert_outline(insert.shape, size, nose)
    middle = Point((size / 2 - nose) / math.sin(insert.angle / 2), 0.0)
    edges = [element for element in outline if isinstance(element, Line)]
    assert len(edges) >= 3
    for edge in edges:
        assert abs(edge.carrier.distance_to(middle)) == pytest.approx(size / 2, abs=1e-9)


@pytest.mark.parametrize("row", [row for row in DRAWN if row.angle], ids=lambda row: row.text)
def test_the_nose_is_an_arc_between_edges_that_make_the_included_angle(row: Row) -> None:
    insert, size, nose = outlined(row)
    first = insert_outline(insert.shape, size, nose).elements[0]
    assert isinstance(first, Arc)
    assert first.radius == pytest.approx(nose, abs=1e-12)
    assert math.degrees(first.angle) == pytest.approx(180 - row.angle)


@pytest.mark.parametrize(
    ("text", "m"),
    [
        ("CNMG 120408", 3.088),
        ("DNMG 150608", 6.477),
        ("VNMG 160408", 9.229),
        ("TNMG 160408", 3.969),
        ("SNMG 120408", 2.301),
    ],
)
def test_the_nose_height_is_that_of_the_standards_dimension_m(text: str, m: float) -> None:
    """ISO 3364, dimension m: the formula with the exact nose radius; the printed table was not at hand."""
    insert = read_insert(text)
    assert insert.size is not None
    assert insert.exact_nose is not None
    assert insert.angle is not None
    assert nose_height.function(insert.size, insert.exact_nose, insert.angle) == pytest.approx(m, abs=5e-4)
    outline = insert_outline(insert.shape, insert.size, insert.exact_nose)
    middle = (insert.size / 2 - insert.exact_nose) / math.sin(insert.angle / 2)
    assert middle - outline.bounds.z_min - insert.size / 2 == pytest.approx(m, abs=5e-4)


def test_a_sharp_insert_has_corners_without_arcs() -> None:
    insert = read_insert("TCGT 110200")
    outline = insert_outline(insert.shape, 6.35, 0.0)
    assert all(isinstance(element, Line) for element in outline)
    assert len(outline) == 3
