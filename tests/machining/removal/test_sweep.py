"""What a tool passes over, against the union of very many positions, and against areas in closed form."""

import math
import random
from itertools import pairwise

import numpy as np
import pytest
import shapely

from calc.contour import Arc, Bounds, Element, Line, Point
from calc.machining.removal.polygons import FINE, disc, pairs, united, volume
from calc.machining.removal.stock import stock_of
from calc.machining.removal.sweep import Outline, around, bodies, boxes, far_off, folded, holder_parts, swept
from calc.tool.insert import insert_core
from calc.tool.insert.tables import shapes
from tests.tries import some

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


def test_a_disc_along_nearly_a_whole_turn_tighter_than_itself_is_a_larger_disc_but_for_its_ends() -> None:
    """A path of R2 and 6.1 rad about the middle, a disc of 6: all of R8 but what the missing bit does not reach."""
    arc = Arc.from_angles(Point(0.0, 50.0), 2.0, 0.1, 6.2, "ccw")
    found = swept(insert("R"), [arc])
    whole = shapely.Polygon(pairs(disc(50j, 8.0)))
    ends = [shapely.Polygon(pairs(disc(complex(*end), 6.0))) for end in (arc.start, arc.end)]
    open_side = shapely.Polygon([(0.0, 50.0), (40.0, 50.0 + 40.0 * math.tan(0.1)), (40.0, 50.0 + 40.0 * math.tan(6.2))])
    wanted = whole.difference(open_side).union(shapely.union_all(ends))
    assert found.symmetric_difference(wanted).area < 3e-4 * wanted.length


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


def test_what_is_wholly_on_this_side_of_the_axis_stays_as_it_is() -> None:
    for low in (0.0, 1.0):
        area = shapely.box(-4.0, low, 0.0, 5.0)
        assert folded(area) is area
    assert folded(shapely.box(-4.0, -2.0, 0.0, -1.0)).bounds == (-4.0, -2.0, 0.0, 2.0)
    assert folded(shapely.box(-4.0, -0.5, 0.0, 3.0)).bounds == (-4.0, -3.0, 0.0, 3.0)
    assert folded(shapely.Polygon()).is_empty


def test_a_body_is_far_off_beside_the_stock_on_each_side_and_beyond_the_axis() -> None:
    """A body of -1 to 3 along Z and -2 to 4 in r, on a path of Z-6 to 8 and r 7 to 13: Z-7 to 11 and r 5 to 17."""
    path, body = Bounds(-6.0, 8.0, 7.0, 13.0), (-1.0, -2.0, 3.0, 4.0)
    for off in (0.1, -0.1):
        for box in ((-20.0, 5.0, -7.0 - off, 17.0), (11.0 + off, 5.0, 20.0, 17.0), (-7.0, 0.0, 11.0, 5.0 - off),
                    (-7.0, 17.0 + off, 11.0, 30.0)):  # fmt: skip
            assert far_off(body, path, stock_of(shapely.box(*box))) == (off > 0.0)
            beyond = Bounds(-6.0, 8.0, -13.0, -7.0)
            assert far_off((-1.0, -4.0, 3.0, 2.0), beyond, stock_of(shapely.box(*box))) == (off > 0.0)


def test_the_holder_is_swept_as_the_insert() -> None:
    outline = Outline((Point(0.0, 0.0),), 1.0, ((Point(2.0, 5.0), Point(4.0, 5.0), Point(4.0, 9.0), Point(2.0, 9.0)),))
    found = united(holder_parts(outline, Line(Point(0.0, 20.0), Point(-10.0, 20.0))))
    assert found.area == pytest.approx(12.0 * 4.0)


@pytest.mark.parametrize(("first", "turned", "size"), [
    (0.2, 1.4, 1.0), (2.0, -2.2, 1.0), (4.0, 3.0, 1.0), (0.2, 0.05, 0.05),
])  # fmt: skip
def test_the_holder_is_swept_along_an_arc_as_the_union_of_its_positions(
    first: float, turned: float, size: float
) -> None:
    corners = [Point(2.0, 5.0), Point(5.0, 5.0), Point(4.0, 9.0), Point(2.0, 9.0)]
    block = tuple(Point(size * corner.z, size * corner.r) for corner in corners)
    outline = Outline((Point(0.0, 0.0),), 1.0, (block,))
    arc = Arc.from_angles(Point(0.0, 30.0), 7.0, first, first + turned, "ccw" if turned > 0.0 else "cw")
    places = [outline.holder_at(arc.point_at(arc.length * share / 300)) for share in range(301)]
    union = shapely.union_all([a.union(b).convex_hull for a, b in pairwise(places)])
    found = united(holder_parts(outline, arc))
    assert found.symmetric_difference(union).area < 3e-4 * union.length
    assert around(outline.holder_bodies[0], arc).buffer(1e-3).contains(union)


def test_a_body_grown_by_a_clearance_is_larger_on_all_sides_and_a_holder_never_smaller() -> None:
    """A holder of 2 by 4 and a nose of 1, half a millimetre larger: 3 by 5 with all its corners, and 1.5."""
    outline = Outline((Point(0.0, 0.0),), 1.0, ((Point(2.0, 5.0), Point(4.0, 5.0), Point(4.0, 9.0), Point(2.0, 9.0)),))
    insert_body, holder = bodies(outline, 0.5)
    assert boxes(outline, 0.5) == pytest.approx(np.array([(-1.5, -1.5, 1.5, 1.5), (1.5, 4.5, 4.5, 9.5)]))
    assert shapely.Polygon(pairs(holder)).area == pytest.approx(15.0)
    assert abs(insert_body).max() == pytest.approx(1.5)
    assert len(insert_body) == len(disc(0j, 1.5, 0.5 / 8.0)), "an eighth of the clearance is fine enough"
    smaller = bodies(outline, -0.5)
    assert shapely.Polygon(pairs(smaller[1])).area == pytest.approx(8.0)
    assert abs(smaller[0]).max() == pytest.approx(0.5)


def test_the_holder_stands_where_the_nose_centre_is() -> None:
    outline = Outline((Point(0.0, 0.0),), 1.0, ((Point(2.0, 5.0), Point(4.0, 5.0), Point(4.0, 9.0), Point(2.0, 9.0)),))
    assert outline.holder_at(Point(-3.0, 20.0)).bounds == pytest.approx((-1.0, 25.0, 1.0, 29.0))


def test_volume_is_that_of_the_ring() -> None:
    assert volume(shapely.box(0.0, 3.0, 2.0, 5.0)) == pytest.approx(math.pi * (25.0 - 9.0) * 2.0)


def hulls(outline: Outline, arc: Arc, count: int = 1200) -> shapely.Polygon:
    """Convex hulls of neighbouring positions of a much finer rim, united in pairs."""
    rim = outline.rim_within(3e-5)
    centre = complex(*arc.centre)
    places = centre + (complex(*arc.start) - centre) * np.exp(1j * arc.sweep * np.arange(count + 1) / count)
    both = [np.concatenate([rim + a, rim + b]) for a, b in pairwise(places)]
    return shapely.union_all([shapely.convex_hull(shapely.multipoints(pairs(each))) for each in both])


@pytest.mark.parametrize("seed", some(range(16), 4))
def test_along_an_arc_it_is_the_hulls_of_neighbouring_positions(seed: int) -> None:
    """Round and rhombic inserts at all angles, arcs about a corner, wider and much wider ones, both turns."""
    rng = random.Random(seed)
    nose = rng.choice([0.2, 0.4, 0.8, 1.2])
    shape = rng.choice(["R", "D", "C", "V", "T", "S"])
    core = insert_core(shapes()[shape], 12.7, nose, rng.uniform(0.0, math.tau)) if shape != "R" else (Point(0.0, 0.0),)
    outline = Outline(core, nose)
    radius = rng.choice([nose, rng.uniform(1.0, 3.0) * nose, rng.uniform(5.0, 30.0)])
    turned = rng.choice([-1.0, 1.0]) * rng.uniform(0.02, 3.0)
    first = rng.choice([0.0, math.pi / 2.0, math.pi, rng.uniform(0.0, math.tau)])
    arc = Arc.from_angles(Point(0.0, 50.0), radius, first, first + turned, "ccw" if turned > 0.0 else "cw")
    fine, found = hulls(outline, arc), swept(outline, [arc])
    assert found.is_valid
    assert found.symmetric_difference(fine).area < 3e-4 * fine.length
    assert found.area == pytest.approx(fine.area, rel=2e-5, abs=FINE * math.tau * nose)


@pytest.mark.parametrize(
    ("letter", "nose", "radius", "turned"),
    [("C", 0.8, 0.8, -0.7472472266696377), ("V", 0.2, 0.3319118996985879, -1.07004843)],
)
def test_nothing_of_an_arc_is_lost_where_many_edges_nearly_meet(
    letter: str, nose: float, radius: float, turned: float
) -> None:
    """A general library's union of all pieces at once has lost up to 3 mm2 of such sweeps."""
    outline = Outline(insert_core(shapes()[letter], 12.7, nose, math.radians(62.5)), nose)
    arc = Arc.from_angles(Point(0.0, 20.0), radius, math.pi, math.pi + turned, "cw")
    assert swept(outline, [arc]).area == pytest.approx(hulls(outline, arc).area, rel=2e-5)


@pytest.mark.parametrize("centre", [0.0, 0.3, 5.0])
def test_a_round_insert_on_this_side_of_the_axis_cuts_beyond_it_nothing_that_it_does_not_cut_here(
    centre: float,
) -> None:
    """A round one led to the axis, and one led on straight away from the face; a rhombus does cut more."""
    line = Line(Point(0.0, 8.0), Point(0.0, centre))
    led_on = Outline((Point(0.0, 0.0), Point(9.0, -1e-6), Point(9.0, 1e-6)), 1.0)
    half = shapely.box(-50.0, 0.0, 50.0, 50.0)
    for outline in (insert("R"), led_on):
        area = swept(outline, [line])
        assert not outline.crosses(line)
        assert folded(area).intersection(half).area == pytest.approx(area.intersection(half).area, rel=1e-9)
    assert insert("R").crosses(Line(Point(0.0, 8.0), Point(0.0, -0.1)))
    assert insert("D").crosses(line) is (centre < 0.4), "its nose is 0.4 mm, all else lies farther out"
