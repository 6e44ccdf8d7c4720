"""What an insert's edges reach: against half-lines cast over the part by a general geometry library."""

import math
import random
from itertools import pairwise

import pytest
import shapely

from calc.contour import Arc, Chain, Line, Point
from calc.machining.roughing.reachable import Edges, reachable
from calc.shapes.chosen import shape_chain


def profile(seed: int) -> Chain:
    """A profile with valleys, from the front toward the chuck, the tool on the right."""
    rng = random.Random(seed)
    z, corners = 0.0, [(0.0, 20.0)]
    for _ in range(rng.randint(3, 9)):
        z -= rng.uniform(0.05, 6.0)
        corners.append((z, rng.uniform(12.0, 26.0)))
    return Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))


def metal(chain: Chain) -> shapely.Polygon:
    corners = [(chain.start.z, chain.start.r), *((each.end.z, each.end.r) for each in chain)]
    return shapely.Polygon([*corners, (corners[-1][0], 0.0), (corners[0][0], 0.0)])


def is_free(place: Point, edges: Edges, part: shapely.Polygon) -> bool:
    """Whether the half-lines along both edges leave the part at once."""
    inner = part.buffer(-1e-7)
    return all(
        not inner.intersects(shapely.LineString([place, place.shifted(500 * math.cos(a), 500 * math.sin(a))]))
        for a in (edges.low, edges.high)
    )


@pytest.mark.parametrize("seed", range(40))
def test_a_place_is_kept_exactly_if_both_edges_clear_the_part_there(seed: int) -> None:
    chain, edges = profile(seed), Edges(math.radians(32.0), math.radians(87.0))
    found = reachable(chain, "right", edges).chain
    part = metal(chain)
    for element in chain:
        for place in range(1, 20):
            point = element.point_at(element.length * place / 20)
            away = found.distance_to(point)
            if away < 1e-9:
                assert is_free(point, edges, part)
            elif away > 1e-6:
                assert not is_free(point, edges, part)


@pytest.mark.parametrize("seed", range(40))
def test_nothing_of_the_part_is_cut_into(seed: int) -> None:
    chain = profile(seed)
    found = reachable(chain, "right", Edges(math.radians(32.0), math.radians(87.0))).chain
    assert metal(chain).difference(metal(found).buffer(1e-9)).area < 1e-6


def test_travelled_the_other_way_the_same_is_reached() -> None:
    chain, edges = profile(7), Edges(math.radians(32.0), math.radians(87.0))
    there, back = reachable(chain, "right", edges), reachable(chain.reversed(), "left", edges)
    assert there.chain.length == pytest.approx(back.chain.length)
    assert len(there.shadows) == len(back.shadows)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("shift", [100.0, None])
def test_wherever_z0_is_the_same_is_reached(seed: int, shift: float | None) -> None:
    """Also where it is in the middle of the part: no coordinate is as large as the part is long then."""
    chain, edges = profile(seed), Edges(math.radians(32.0), math.radians(87.0))
    by = -(chain.bounds.z_min + chain.bounds.z_max) / 2.0 if shift is None else shift
    shifted = reachable(chain.shifted(by, 0.0), "right", edges)
    ends = [tuple(each.end.shifted(by, 0.0)) for each in reachable(chain, "right", edges).chain]
    assert [tuple(each.end) for each in shifted.chain] == [pytest.approx(end) for end in ends]


def test_the_seat_is_refused_at_its_mouth_to_an_80_degree_insert_held_to_face() -> None:
    """95 degrees entering: edges 5 and 85 degrees off the axis; the mouth's slope is 19.95 degrees from the face."""
    chain = shape_chain("seat", None)
    (shadow,) = reachable(chain, "left", Edges(math.radians(5.0), math.radians(85.0))).shadows
    assert chain.elements[1].distance_to(shadow.start) < 1e-9
    assert shadow.end.r == 0.0
    assert shadow.end.z == pytest.approx(shadow.start.z - shadow.start.r / math.tan(math.radians(85.0)))


def test_the_seat_passes_a_round_insert() -> None:
    chain = shape_chain("seat", None)
    assert reachable(chain, "left", None).chain is chain


def test_a_margin_widens_the_insert_on_both_sides() -> None:
    wider = Edges(math.radians(32.0), math.radians(87.0)).kept_off(math.radians(2.0))
    assert (wider.low, wider.high) == pytest.approx((math.radians(30.0), math.radians(89.0)))


def test_behind_a_ball_an_edge_grazes_where_its_direction_is_the_balls_tangent() -> None:
    """R 10 about zero, an edge at 32 degrees: it grazes at 90 + 32 degrees and runs down to the neck of r 3."""
    neck = Point(-math.sqrt(91.0), 3.0)
    ball = Arc(Point(10.0, 0.0), neck, Point(0.0, 0.0), "ccw")
    chain = Chain((ball, Line(neck, Point(-30.0, 3.0))))
    (shadow,) = reachable(chain, "right", Edges(math.radians(32.0), math.radians(87.0))).shadows
    grazed = math.radians(122.0)
    assert tuple(shadow.start) == pytest.approx((10.0 * math.cos(grazed), 10.0 * math.sin(grazed)))
    run = (10.0 * math.sin(grazed) - 3.0) / math.tan(math.radians(32.0))
    assert tuple(shadow.end) == pytest.approx((shadow.start.z - run, 3.0))


def test_in_a_hollow_an_edge_that_clears_both_ends_casts_no_shadow() -> None:
    """A hollow of R 50 and 10 half wide: its walls lean asin(10 / 50) = 11.5 degrees, less than either edge."""
    hollow = Arc.from_radius(Point(10.0, 20.0), Point(-10.0, 20.0), 50.0, "cw")
    chain = Chain((Line(Point(20.0, 20.0), Point(10.0, 20.0)), hollow, Line(Point(-10.0, 20.0), Point(-20.0, 20.0))))
    assert reachable(chain, "right", Edges(math.radians(32.0), math.radians(87.0))).shadows == ()
    (shadow,) = reachable(chain, "right", Edges(math.radians(8.0), math.radians(87.0))).shadows
    assert tuple(shadow.start) == pytest.approx((10.0, 20.0))


def test_an_undercut_that_leans_back_under_its_edge_lies_in_the_edges_shadow() -> None:
    """From its corner at X40 Z0 a line at 32 degrees runs 2 deep to the bottom: 2 / tan 32."""
    corners = [(10.0, 20.0), (0.0, 20.0), (4.0, 18.0), (-10.0, 18.0), (-10.0, 21.0)]
    chain = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))
    (shadow,) = reachable(chain, "right", Edges(math.radians(32.0), math.radians(87.0))).shadows
    assert tuple(shadow.start) == pytest.approx((0.0, 20.0))
    assert tuple(shadow.end) == pytest.approx((-2.0 / math.tan(math.radians(32.0)), 18.0))


def test_in_a_t_slot_the_shadow_of_the_front_lip_ends_at_the_back_wall_and_none_begins_at_a_hollow_corner() -> None:
    """From X40 Z0 the edge passes under the back lip, at Z-4 on r 17.5, and meets the wall 7 behind its lip."""
    corners = [(10.0, 20.0), (0.0, 20.0), (0.0, 18.0), (3.0, 18.0), (3.0, 15.0), (-7.0, 15.0), (-7.0, 18.0),
               (-4.0, 18.0), (-4.0, 20.0), (-12.0, 20.0)]  # fmt: skip
    slot = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))
    first, *others = reachable(slot, "right", Edges(math.radians(32.0), math.radians(87.0))).shadows
    assert tuple(first.start) == pytest.approx((0.0, 20.0))
    assert tuple(first.end) == pytest.approx((-7.0, 20.0 - 7.0 * math.tan(math.radians(32.0))))
    assert [each for each in others if each.start.distance_to(Point(-7.0, 18.0)) < 1e-6] == []


def test_a_shadow_ends_at_the_post_below_a_ball_that_hangs_over_it() -> None:
    """An edge that falls 1 in 2 from r 10: at the post, 5 farther, it is on 7.5, before the ball's far side."""
    corners = [(5.0, 10.0), (0.0, 10.0), (0.0, 5.0), (-5.0, 5.0), (-5.0, 8.2)]
    post = tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners))
    ball = Arc.from_radius(Point(-5.0, 8.2), Point(-9.0, 5.0), 5.0, "ccw", long=True)
    chain = Chain((*post, ball, Line(Point(-9.0, 5.0), Point(-9.0, 0.0))))
    first = reachable(chain, "right", Edges(math.atan(0.5), math.radians(170.0))).shadows[0]
    assert tuple(first.start) == pytest.approx((0.0, 10.0))
    assert tuple(first.end) == pytest.approx((-5.0, 7.5))
