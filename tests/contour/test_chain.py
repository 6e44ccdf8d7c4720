"""Chains: joints, crossings, parallels and what makes one the contour of a part."""

import math
from itertools import combinations, pairwise

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LineString
from shapely.geometry import Point as ShapelyPoint

from calc.contour import (
    Arc,
    BelowAxis,
    Bounds,
    BrokenChain,
    Chain,
    CrossesItself,
    Element,
    EmptyChain,
    Line,
    Point,
    Side,
    heading_change,
)
from calc.contour.tolerance import SMOOTH

from .strategies import chains, next_arc, next_line, samples, sides

NEAR = 1e-9


def polyline(*points: tuple[float, float]) -> Chain:
    return Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(points)))


def drawn(chain: Chain, count: int = 100) -> LineString:
    """The chain as a fine polyline."""
    return LineString([p for element in chain for p in samples(element, 1 if isinstance(element, Line) else count)])


STEM = Chain(
    (
        Line(Point(0.0, 0.0), Point(0.0, 9.0)),
        Line(Point(0.0, 9.0), Point(-1.0, 10.0)),
        Line(Point(-1.0, 10.0), Point(-20.0, 10.0)),
        Arc(Point(-20.0, 10.0), Point(-25.0, 15.0), Point(-20.0, 15.0), "cw"),
        Line(Point(-25.0, 15.0), Point(-25.0, 25.0)),
    )
)


def test_length_bounds_and_joints_of_a_stem() -> None:
    assert STEM.length == pytest.approx(9.0 + math.sqrt(2.0) + 19.0 + 2.5 * math.pi + 10.0)
    assert STEM.bounds == (-25.0, 0.0, 0.0, 25.0)
    assert [round(math.degrees(joint.turn)) for joint in STEM.joints] == [45, 45, 0, 0]
    assert [abs(joint.turn) <= SMOOTH for joint in STEM.joints] == [False, False, True, True]
    assert (STEM.start, STEM.end, len(STEM)) == (Point(0.0, 0.0), Point(-25.0, 25.0), 5)
    assert not STEM.self_intersections()
    assert STEM.faults() == []


def test_a_chain_needs_elements_that_follow_each_other() -> None:
    with pytest.raises(EmptyChain):
        Chain(())
    with pytest.raises(BrokenChain) as error:
        Chain((Line(Point(0.0, 0.0), Point(1.0, 0.0)), Line(Point(1.0, 0.001), Point(2.0, 0.0))))
    assert error.value.index == 1
    assert error.value.gap == pytest.approx(0.001)


@pytest.mark.parametrize("scale", [1.0 / 25.4, 1.0, 1000.0])
def test_the_gap_that_is_still_a_joint_grows_with_the_part(scale: float) -> None:
    a, b = Point(0.0, 100.0).scaled(scale), Point(0.0, 50.0).scaled(scale)
    Chain((Line(a, b), Line(b.shifted(0.9e-7 * scale, 0.0), Point(0.0, 0.0))))
    with pytest.raises(BrokenChain):
        Chain((Line(a, b), Line(b.shifted(1.1e-7 * scale, 0.0), Point(0.0, 0.0))))


@given(chains())
def test_reversing_mirroring_and_scaling_keep_the_chain(chain: Chain) -> None:
    assert chain.reversed().reversed() == chain
    assert chain.mirrored().mirrored() == chain
    assert chain.reversed().length == pytest.approx(chain.length, rel=1e-12)
    assert chain.scaled(25.4).length == pytest.approx(25.4 * chain.length, rel=1e-12)
    turns = [joint.turn for joint in chain.joints]
    assert [j.turn for j in chain.mirrored().joints] == pytest.approx([-t for t in turns], abs=1e-9)
    assert [j.turn for j in chain.reversed().joints] == pytest.approx([-t for t in turns[::-1]], abs=1e-9)


def test_travelled_the_other_way_each_element_keeps_its_name() -> None:
    corners = [Point(0.0, 5.0), Point(-3.0, 5.0), Point(-3.0, 8.0), Point(-9.0, 8.0)]
    shaft = Chain(tuple(Line(a, b) for a, b in pairwise(corners)), ("journal", "shoulder", "flange"))
    back = shaft.reversed()
    assert [back.name_of(index) for index in range(3)] == ["flange", "shoulder", "journal"]


@pytest.mark.parametrize(("dz", "dr"), [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)])
def test_two_rectangles_come_as_near_as_the_gap_between_them(dz: float, dr: float) -> None:
    """Both 4 by 4, moved along one axis until 0.5 lies between them."""
    one = Bounds(-2.0, 2.0, 8.0, 12.0)
    z, r = 4.5 * dz, 4.5 * dr
    other = Bounds(-2.0 + z, 2.0 + z, 8.0 + r, 12.0 + r)
    assert [one.overlaps(other, margin) for margin in (0.0, 0.4, 0.6)] == [False, False, True]


@given(chains())
def test_bounds_and_length_agree_with_a_fine_polyline(chain: Chain) -> None:
    line = drawn(chain, 400)
    z_min, r_min, z_max, r_max = line.bounds
    assert chain.bounds == pytest.approx((z_min, z_max, r_min, r_max), abs=5e-3)
    assert chain.length == pytest.approx(line.length, rel=1e-4)


# --- crossing -------------------------------------------------------------------------------------------------------


def test_a_figure_of_eight_crosses_once() -> None:
    eight = polyline((0, 0), (10, 10), (10, 0), (0, 10))
    assert [(c.first, c.second, c.point) for c in eight.self_intersections()] == [(0, 2, Point(5.0, 5.0))]
    assert isinstance(eight.faults()[0], CrossesItself)


def test_a_closed_chain_shares_its_start_and_end_without_crossing() -> None:
    square = polyline((0, 10), (10, 10), (10, 20), (0, 20), (0, 10))
    assert square.is_closed
    assert not square.self_intersections()
    assert len(square.joints) == 4
    ring = Chain(tuple(Arc(Point(a, 5.0), Point(-a, 5.0), Point(0.0, 5.0), "cw") for a in (-3.0, 3.0)))
    assert not ring.self_intersections()


def test_a_chain_that_doubles_back_on_itself_is_not_simple() -> None:
    assert polyline((0, 5), (10, 5), (4, 5)).self_intersections()


def test_a_chain_that_touches_itself_is_not_simple() -> None:
    assert polyline((0, 0), (10, 0), (10, 5), (5, 0), (2, 5)).self_intersections()
    bump = Arc(Point(4.0, 5.0), Point(6.0, 5.0), Point(5.0, 5.0), "ccw")
    touching = Chain((*polyline((0, 4), (10, 4), (10, 5)), Line(Point(10.0, 5.0), Point(6.0, 5.0)), bump.reversed()))
    assert [c.point for c in touching.self_intersections()] == [Point(5.0, 4.0)]


@given(chains(most=5, sharpest=1.0))
def test_a_chain_crosses_itself_where_fine_polylines_of_its_elements_do(chain: Chain) -> None:
    found = chain.self_intersections()
    fine = [drawn(Chain((element,)), 200) for element in chain]
    for i, j in combinations(range(len(fine)), 2):
        here = [c.point for c in found if (c.first, c.second) == (i, j)]
        assert all(
            fine[i].distance(ShapelyPoint(*p)) < 0.01 and fine[j].distance(ShapelyPoint(*p)) < 0.01 for p in here
        )
        shared = fine[i].intersection(fine[j])
        for drawn_point in shapely.get_parts(shared) if not shared.is_empty else []:
            p = Point(*drawn_point.coords[0])
            if not near_an_end(p, chain.elements[i], chain.elements[j]):
                assert min(p.distance_to(q) for q in here) < 1.0


def near_an_end(p: Point, *elements: Element) -> bool:
    return any(end.distance_to(p) < 2.0 for element in elements for end in (element.start, element.end))


@given(st.lists(st.tuples(st.floats(0.5, 40.0), st.floats(-1.4, 1.4)), min_size=2, max_size=10))
def test_smooth_runs_do_not_cross_at_their_joints(steps: list[tuple[float, float]]) -> None:
    point, heading = Point(1000.0, 30.0), 2.0
    made: list[Element] = []
    for size, angle in steps:
        straight = abs(angle) < 0.1
        made.append(next_line(point, heading, size) if straight else next_arc(point, heading, size, angle))
        point, heading = made[-1].end, heading + made[-1].sweep
    assert all(c.second > c.first + 1 for c in Chain(tuple(made)).self_intersections())


def test_a_contour_beyond_the_axis_names_the_element_and_the_radius() -> None:
    chain = polyline((0, 5), (0, 2), (-3, -1), (-5, 4))
    assert [(f.index, f.radius) for f in chain.faults() if isinstance(f, BelowAxis)] == [(1, -1.0), (2, -1.0)]


# --- parallels --------------------------------------------------------------------------------------------------------


@given(chains(most=4), st.floats(0.1, 5.0), sides)
def test_a_raw_parallel_is_one_distance_from_its_elements(chain: Chain, distance: float, side: Side) -> None:
    for parallel in chain.offset_elements(distance, side):
        for p in samples(parallel.element, 10):
            beside = parallel.around.distance_to(p) if parallel.around else chain.elements[parallel.of].distance_to(p)
            assert beside == pytest.approx(distance, abs=NEAR)


@given(chains(most=4), st.floats(0.1, 5.0), sides)
def test_arcs_around_convex_joints_join_the_parallels_smoothly(chain: Chain, distance: float, side: Side) -> None:
    run = chain.offset_elements(distance, side)
    for before, after in pairwise(run):
        leaves = before.around is not None and after.around is None and after.of == before.of + 1
        enters = before.around is None and after.around is not None and after.of == before.of
        if leaves or enters:
            assert before.element.end.distance_to(after.element.start) <= NEAR
            assert abs(heading_change(before.element, after.element)) <= 1e-6


@given(chains(most=4), st.floats(0.2, 5.0), sides)
def test_the_edge_of_a_general_buffer_is_made_of_the_raw_parallel(chain: Chain, distance: float, side: Side) -> None:
    """The edge of a buffer, where it is one distance from the whole chain, lies on the raw parallel."""
    line = drawn(chain, 150)
    assume(line.is_simple)
    both = [p.element for s in ("left", "right") for p in chain.offset_elements(distance, s)]
    edge = line.buffer(distance, quad_segs=64).exterior
    ends = (chain.start, chain.end)
    for share in range(40):
        p = Point(*edge.interpolate(share / 40.0, normalized=True).coords[0])
        beside = abs(line.distance(ShapelyPoint(*p)) - distance) < 5e-3
        if beside and min(end.distance_to(p) for end in ends) > distance + 0.1:
            assert min(e.distance_to(p) for e in both) < 2e-2


def test_a_closed_square_gets_four_arcs_outside_and_none_inside() -> None:
    square = polyline((0, 10), (10, 10), (10, 20), (0, 20), (0, 10))
    outside = square.offset_elements(2.0, "right")
    assert [p.of for p in outside if p.around] == [0, 1, 2, 3]
    assert all(p.element.length == pytest.approx(math.pi) for p in outside if p.around)
    assert not [p for p in square.offset_elements(2.0, "left") if p.around]
    clockwise = square.reversed()
    assert [p.of for p in clockwise.offset_elements(2.0, "left") if p.around] == [0, 1, 2, 3]
    assert not [p for p in clockwise.offset_elements(2.0, "right") if p.around]
    ring = shapely.Polygon([(0, 10), (10, 10), (10, 20), (0, 20)]).buffer(2.0, quad_segs=256)
    assert math.fsum(p.element.length for p in outside) == pytest.approx(ring.length, rel=1e-5)


def test_a_fillet_smaller_than_the_distance_leaves_no_parallel() -> None:
    assert [p.of for p in STEM.offset_elements(6.0, "right")] == [0, 0, 1, 1, 2, 4]
    assert [p.of for p in STEM.offset_elements(4.0, "right")] == [0, 0, 1, 1, 2, 3, 4]


def test_a_parallel_at_no_distance_is_the_chain() -> None:
    assert [p.element for p in STEM.offset_elements(0.0, "left")] == list(STEM)
