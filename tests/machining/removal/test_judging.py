"""What differs from the print, and how deep a pass cuts: places and depths by hand, on a shaft of two steps."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely

from calc.contour import Arc, Chain, Element, Line, Point
from calc.machining.removal.judging import TIED, Judged, Place, worst_of
from calc.machining.removal.polygons import FINE
from calc.machining.removal.region import Bar, in_front_of, work_of
from calc.machining.removal.stock import stock_of
from calc.machining.removal.taking import deepest

CORNERS = [Point(0.0, 10.0), Point(-10.0, 10.0), Point(-10.0, 15.0), Point(-20.0, 15.0)]
SHAFT = Chain(tuple(Line(a, b) for a, b in pairwise(CORNERS)))
WORK = work_of(Bar(20.0, 0.0, -30.0).area(), SHAFT, "right")


def test_what_is_left_is_found_beside_each_element_with_its_own_depth_and_corner() -> None:
    """Bands 0.05 and 0.2 thick in the middle of two steps, 4 mm from both ends of each; one at an end is not judged."""
    bands = [(-6.0, 10.0, -4.0, 10.05), (-16.0, 15.0, -14.0, 15.2), (-19.9, 15.0, -19.6, 15.2)]
    found = Judged(WORK, shapely.union_all([WORK.finished, *(shapely.box(*band) for band in bands)]), SHAFT, 0.4)
    assert found.too_deep == ()
    assert [place.of for place in found.left] == [0, 2]
    assert [place.depth for place in found.left] == pytest.approx([0.05, 0.2], abs=1e-6)
    assert [place.corner for place in found.left] == pytest.approx([math.hypot(4.0, 0.05), math.hypot(4.0, 0.2)])
    assert [place.spot.r for place in found.left] == pytest.approx([10.05, 15.2])
    assert found.over.area == pytest.approx(2.0 * 0.05 + 2.0 * 0.2)


def test_what_is_cut_too_deep_is_found_in_the_same_way() -> None:
    """Notches 0.1 and 0.3 deep; what is thinner than a chord may be is none."""
    notches = [(-6.0, 9.9, -4.0, 10.0), (-10.3, 12.0, -10.0, 13.0), (-16.0, 15.0 - 5e-4, -14.0, 15.0)]
    left = WORK.finished.difference(shapely.union_all([shapely.box(*notch) for notch in notches]))
    found = Judged(WORK, left, SHAFT, 0.4)
    assert found.left == ()
    assert [(place.of, round(place.depth, 6)) for place in found.too_deep] == [(0, 0.1), (1, 0.3)]
    assert found.too_deep[1].corner == pytest.approx(math.hypot(0.3, 2.0))


def test_of_two_places_beside_one_element_the_deeper_is_named_and_of_a_tie_the_first() -> None:
    for first, second, z in ((0.1, 0.2, -7.5), (0.2, 0.1, -2.5), (0.1, 0.1, -2.5)):
        bands = [shapely.box(-3.0, 10.0, -2.0, 10.0 + first), shapely.box(-8.0, 10.0, -7.0, 10.0 + second)]
        (place,) = Judged(WORK, shapely.union_all([WORK.finished, *bands]), SHAFT, 0.4).left
        assert place.depth == pytest.approx(max(first, second), abs=1e-6)
        assert place.spot.z == pytest.approx(z, abs=0.5 + 1e-9)


def test_a_faced_part_keeps_nothing_in_front_of_its_foremost_place() -> None:
    """A shaft from Z-1 on in a bar up to Z0: 10 high in front of it goes too, where it is faced."""
    shaft = SHAFT.shifted(-1.0, 0.0)
    bar = Bar(20.0, 0.0, -30.0).area()
    faced, not_faced = (work_of(bar, shaft, "right", faced=each) for each in (True, False))
    assert faced.to_remove.area - not_faced.to_remove.area == pytest.approx(10.0)
    assert faced.finished.bounds[2] == pytest.approx(-1.0)
    assert not_faced.finished.bounds[2] == pytest.approx(0.0)


@pytest.mark.parametrize("z", [-7.0, 0.0, 5.0])
def test_what_is_in_front_of_a_place_is_bounded_or_none(z: float) -> None:
    stock = stock_of(Bar(20.0, z, -30.0, 3.0).area())
    assert in_front_of(stock, z) is None
    assert in_front_of(stock, z + 9.0) is None
    assert in_front_of(stock, z - 0.9e-3) is None
    assert in_front_of(stock, z - 2.0) == pytest.approx((z - 2.0, 3.0, z, 20.0))


def test_how_deep_is_taken_is_the_distance_of_the_farthest_place_from_what_is_touched() -> None:
    """A box from r 5 to 6 above a line on r 4: 2; a line that is far off counts only where there is no other."""
    near, far = Line(Point(-9.0, 4.0), Point(9.0, 4.0)), Line(Point(-9.0, 40.0), Point(9.0, 40.0))
    taken = [shapely.box(0.0, 5.0, 1.0, 6.0)]
    cases: list[tuple[list[Element], float]] = [([near], 2.0), ([near, far], 2.0), ([far], 35.0), ([], 0.0)]
    for elements, depth in cases:
        assert deepest(taken, elements) == pytest.approx(depth)


def test_within_one_and_a_half_nose_radii_of_an_end_nothing_is_judged() -> None:
    """Thin bands 0.05 high: beside the last place at Z-20 those within 0.6 of a nose of 0.4 are none."""
    for z, is_judged in ((-19.5, False), (-19.3, True)):
        band = shapely.box(z - 0.01, 15.0, z + 0.01, 15.05)
        found = Judged(WORK, shapely.union_all([WORK.finished, band]), SHAFT, 0.4)
        assert bool(found.left) == is_judged


def bowl() -> Chain:
    """A hollow of R10 about a centre on the axis, from a rim on r 8 at Z4 to its bottom at Z0."""
    return Chain((Arc(Point(4.0, 8.0), Point(0.0, 0.0), Point(10.0, 0.0), "ccw"),))


@pytest.mark.parametrize("share", [0.137, 0.371, 0.5, 0.8123])
def test_the_worst_place_along_an_edge_is_exact_wherever_on_it_it_lies(share: float) -> None:
    """In a hollow what is left under a straight edge is deepest at the foot of the centre on that edge: R less d."""
    work = work_of(Bar(20.0, 12.0, -10.0).area(), bowl(), "left")
    centre, off, length = 10.0 + 0j, 9.9, 1.0
    toward = complex(-math.cos(0.3), math.sin(0.3))
    first, last = (centre + off * toward + 1j * toward * length * part for part in (-share, 1.0 - share))
    outer = [centre + 10.3 * (place - centre) / abs(place - centre) for place in (last, first)]
    edge = shapely.Polygon([(place.real, place.imag) for place in (first, last, *outer)])
    found = Judged(work, shapely.union_all([work.finished, edge]), bowl(), 0.1)
    (place,) = found.left
    assert place.depth == pytest.approx(10.0 - off, abs=1e-7)
    foot = centre + off * toward
    assert place.spot.distance_to(Point(foot.real, foot.imag)) < 1e-3


def test_a_spot_near_the_arc_of_the_nose_that_came_last_is_moved_onto_it_and_one_farther_off_is_not() -> None:
    """A band of 0.05; the nose of 0.4 ran 0.375 um or 0.625 um above it, one and a half and two and a half chords."""
    left = shapely.union_all([WORK.finished, shapely.box(-6.0, 10.0, -4.0, 10.05)])
    for chords, moved in ((1.5, 1.5), (2.5, 0.0), (-1.5, -1.5), (-2.5, 0.0)):
        height = 10.05 + 0.4 + chords * FINE
        (place,) = Judged(WORK, left, SHAFT, 0.4, [Line(Point(0.0, height), Point(-9.0, height))]).left
        assert place.depth == pytest.approx(0.05 + moved * FINE, abs=1e-7)


@pytest.mark.parametrize("mirrored", [False, True])
def test_an_edge_across_a_corner_is_worst_for_each_wall_where_that_wall_is_the_nearest(mirrored: bool) -> None:
    """In the corner at Z-10, r 10 an edge from 1, 2 to 4, 2.5 off its walls meets the line between them at 2.2, 2.2."""
    off = [(0.0, 0.0), (4.0, 0.0), (4.0, 2.5), (1.0, 2.0)]
    rest = shapely.Polygon([(b - 10.0, 10.0 + a) if mirrored else (a - 10.0, 10.0 + b) for a, b in off])
    found = Judged(WORK, shapely.union_all([WORK.finished, rest]), SHAFT, 0.4)
    assert [place.of for place in found.left] == [0, 1]
    near, other = (0, 1) if mirrored else (1, 0)
    assert found.left[near].depth == pytest.approx(2.2, abs=1e-6)
    assert found.left[near].corner == pytest.approx(math.hypot(2.2, 2.2), abs=1e-6)
    assert found.left[other].depth == pytest.approx(2.5)


def test_of_places_that_tie_the_first_is_the_worst_and_of_others_the_deepest() -> None:
    places = [Place(0, Point(0.0, 2.0), depth, 0.2) for depth in (0.5 - 2e-6, 0.5 - 0.9e-6, 0.5)]
    assert worst_of(places) is places[1]
    assert worst_of(places[:1]) is places[0]
    assert worst_of([Place(0, Point(0.0, 2.0), 0.5 - TIED, 0.2), places[2]]) is places[2]
    assert worst_of([]) is None
