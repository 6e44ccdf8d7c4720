"""The edge at the mouth, by conditions on distances and angles, and against solvers of other people."""

from __future__ import annotations

import math

import pytest
import shapely
import sympy
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from mpmath import mp

from calc.contour import Arc, Line, Point
from calc.questions.shapes.dish import dish_results
from calc.shapes.dish.bowl import DishInputs, EdgeInputs
from calc.shapes.dish.geometry import Dish, solve_dish
from tests.tries import tries

from .reference import distance, exact
from .strategies import Sharp, edges, sharps, shop_sharps

NEAR = 1e-9


def dish_of(sharp: Sharp, **edge: object) -> Dish:
    return solve_dish(DishInputs(radius=sharp.radius, depth=sharp.depth, edge=EdgeInputs(**edge)))  # type: ignore[arg-type]


def half_mouth(sharp: Sharp) -> mp.mpf:
    R, h = exact(sharp.radius), exact(sharp.depth)
    return mp.sqrt(h * (2 * R - h))


def off_the_dish(dish: Dish, point: Point) -> mp.mpf:
    """How far a point is from the print's circle, whose centre is R - h in front of the face."""
    R, h = exact(dish.bowl.radius), exact(dish.bowl.depth)
    return abs(mp.hypot(exact(point.z) - (R - h), exact(point.r)) - R)


@settings(max_examples=tries(120), deadline=None)
@given(sharps, st.floats(0.001, 0.5))
def test_an_edge_radius_touches_face_and_dish_without_a_step(sharp: Sharp, share: float) -> None:
    size = share * float(half_mouth(sharp))
    dish = dish_of(sharp, break_kind="radius", break_size=size)
    edge = dish.edge.element
    assert isinstance(edge, Arc)
    R, h, e = exact(sharp.radius), exact(sharp.depth), exact(size)
    # its circle lies in the part, one radius behind the face and one radius from the dish's circle, outside of it
    assert abs(exact(edge.centre.z) + e) < NEAR
    to_centre = mp.hypot(exact(edge.centre.z) - (R - h), exact(edge.centre.r))
    assert abs(to_centre - (R + e)) < NEAR
    # it begins on the face straight in front of its centre and ends on the line of the two centres
    assert (edge.start.z, edge.start.r) == (0.0, edge.centre.r)
    assert off_the_dish(dish, edge.end) < NEAR
    assert abs(distance(edge.end, edge.centre) - e) < NEAR
    aside = exact(edge.end.r) * (exact(edge.centre.z) - (R - h)) - exact(edge.centre.r) * (exact(edge.end.z) - (R - h))
    assert abs(aside) / to_centre < NEAR
    assert edge.turn == "cw"


@settings(max_examples=tries(120), deadline=None)
@given(sharps, st.floats(0.001, 0.6))
def test_both_legs_of_a_chamfer_are_equal_measured_straight_from_the_sharp_corner(sharp: Sharp, share: float) -> None:
    leg = share * float(half_mouth(sharp))
    dish = dish_of(sharp, break_kind="chamfer", break_size=leg)
    edge = dish.edge.element
    assert isinstance(edge, Line)
    on_face = exact(edge.start.r) - half_mouth(sharp)
    along_dish = mp.hypot(exact(edge.end.z), exact(edge.end.r) - half_mouth(sharp))
    assert edge.start.z == 0.0
    assert abs(on_face - exact(leg)) < NEAR
    assert abs(along_dish - exact(leg)) < NEAR
    assert off_the_dish(dish, edge.end) < NEAR
    assert dish.edge.angle is not None
    run, fall = exact(edge.start.r) - exact(edge.end.r), -exact(edge.end.z)
    assert abs(mp.atan2(fall, run) - exact(dish.edge.angle)) * leg < NEAR


@settings(max_examples=tries(120), deadline=None)
@given(sharps, st.floats(0.001, 0.2), st.floats(0.05, 0.6))
def test_a_chamfer_of_a_given_angle_runs_at_it_from_its_leg_on_the_face_to_the_dish(
    sharp: Sharp, share: float, lean: float
) -> None:
    leg = share * float(half_mouth(sharp))
    R, h = exact(sharp.radius), exact(sharp.depth)
    slope = mp.acos(1 - h / R)
    angle = lean * float(slope)
    # the line's greatest depth below the dish's circle decides; near a touch rounding does
    room = R - R * mp.cos(slope - angle) - exact(leg) * mp.sin(angle)
    assume(room > R * (1 - mp.cos(slope)) * 1e-3)
    dish = dish_of(sharp, break_kind="chamfer", break_size=leg, break_angle=angle)
    edge = dish.edge.element
    assert isinstance(edge, Line)
    assert abs(exact(edge.start.r) - half_mouth(sharp) - exact(leg)) < NEAR
    assert off_the_dish(dish, edge.end) < NEAR
    run, fall = exact(edge.start.r) - exact(edge.end.r), -exact(edge.end.z)
    assert abs(fall * mp.cos(exact(angle)) - run * mp.sin(exact(angle))) < NEAR
    # nothing of the line lies inside the ball before it meets the arc: it stays in the part
    for share_of_way in (0.1, 0.5, 0.9):
        point = edge.point_at(edge.length * share_of_way)
        assert mp.hypot(exact(point.z) - (R - h), exact(point.r)) > R * (1 - exact(1e-12))


mpf_share = 1e-3


def test_the_edge_radius_agrees_with_a_symbolic_solution() -> None:
    r, R, h, e = sympy.symbols("r R h e", positive=True)
    apart = sympy.Eq(r**2 + (R - h + e) ** 2, (R + e) ** 2)
    (face,) = (root for root in sympy.solve(apart, r) if root.subs({R: 90, h: sympy.Rational(9, 2), e: 1}) > 0)
    for radius, depth, size in ((90.0, 4.5, 0.8), (75.0, 4.5, 0.8), (10.0, 10.0, 2.0), (10_000.0, 0.05, 0.4)):
        exact_values = {R: sympy.Rational(radius), h: sympy.Rational(depth), e: sympy.Rational(size)}
        found = dish_results(dish_of(Sharp(radius, depth), break_kind="radius", break_size=size))
        assert found.break_face_diameter == pytest.approx(float(2 * face.subs(exact_values).evalf(40)), rel=1e-13)


@pytest.mark.parametrize("edge", [{"break_kind": "radius"}, {"break_kind": "chamfer"}])
def test_the_edge_takes_away_a_corner_of_the_part_and_adds_nothing(edge: dict[str, object]) -> None:
    sharp = Sharp(75.0, 4.5)
    corner = dish_of(sharp)
    broken = dish_of(sharp, break_size=0.8, **edge)
    before, after = (solid(dish) for dish in (corner, broken))
    assert after.difference(before.buffer(1e-5)).is_empty
    lost = before.difference(after)
    assert 0.0 < lost.area < 0.8**2
    assert lost.buffer(1e-5).intersects(shapely.Point(0.0, corner.bowl.corner.r))


def solid(dish: Dish) -> shapely.Polygon:
    """The half section of the part by a general geometry library, as (z, r)."""
    outline = [(-10.0, 0.0), (-10.0, 30.0)]
    for element in dish.part(30.0):
        points = [element.point_at(element.length * i / 400) for i in range(401)]
        outline += [(point.z, point.r) for point in points]
    return shapely.Polygon(outline)


@settings(max_examples=tries(60), deadline=None)
@given(st.data(), shop_sharps)
def test_the_edge_joins_face_and_arc_and_nothing_crosses(data: st.DataObject, sharp: Sharp) -> None:
    dish = solve_dish(DishInputs(radius=sharp.radius, depth=sharp.depth, edge=data.draw(edges(sharp))))
    part = dish.part(2 * dish.cut.start.r)
    assert not part.faults()
    assert dish.cut.start.z == 0.0
    assert dish.cut.start.r >= dish.bowl.corner.r * (1 - 1e-15)
    turns = [joint.turn for joint in part.joints]
    assert all(turn < 1e-6 for turn in turns)  # no corner but such as the nose, on the left, swings round


def test_a_smaller_edge_ends_nearer_to_the_corner_until_none_is_left() -> None:
    sharp = Sharp(75.0, 4.5)
    corner = dish_of(sharp).bowl.corner
    for kind in ("radius", "chamfer"):
        gaps = []
        for size in (1.0, 0.1, 0.01, 1e-4):
            dish = dish_of(sharp, break_kind=kind, break_size=size)
            gaps.append(dish.edge.arc_start.distance_to(corner))
        assert gaps == sorted(gaps, reverse=True)
        assert gaps[-1] < 1.01e-4


def test_equal_legs_lean_by_half_of_what_the_chord_leans() -> None:
    # an isosceles triangle between the face and the chord, which leans by the mean of the slopes at its ends
    dish = dish_of(Sharp(75.0, 4.5), break_kind="chamfer", break_size=0.8)
    at_mouth = math.atan2(dish.bowl.corner.r, 70.5)
    at_end = math.asin(dish.edge.arc_start.r / 75.0)
    assert dish.edge.angle == pytest.approx((at_mouth + at_end) / 4, rel=1e-12)
