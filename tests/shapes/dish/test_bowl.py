"""The sharp dish: three dimensions, two of which are free, and what follows from them."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from calc.contour import Arc, Element, Line, Point, enclosed_volume
from calc.language.given import Given
from calc.questions.shapes.dish import DishResults, dish_results
from calc.shapes.dish.bowl import DishInputs, EdgeBreak, EdgeInputs, solve_bowl
from calc.shapes.dish.geometry import Dish, solve_dish
from tests.tries import tries

from .reference import Bowl, exact
from .strategies import Sharp, dishes, sharps, shop_sharps

NEAR = 1e-9


def assert_is(found: DishResults, right: Bowl) -> None:
    """All results within 1e-9 mm (the angle within what that is at the mouth) of 50 digits."""
    assert abs(found.radius - right.radius) < NEAR * max(1.0, found.radius / 10_000)
    assert abs(found.depth - right.depth) < NEAR
    assert abs(found.mouth_diameter - right.mouth) < NEAR
    assert abs(found.arc_centre_z - right.centre_z) < NEAR * max(1.0, found.radius / 10_000)
    assert abs(found.mouth_angle - right.slope) * right.radius < NEAR * max(1.0, found.radius / 10_000)
    assert abs(found.arc_length - right.arc_length) < NEAR
    assert abs(found.volume / right.volume - 1) < NEAR


@settings(max_examples=tries(150), deadline=None)
@given(sharps)
def test_radius_and_depth_give_the_rest_to_a_nanometre_in_a_thousand(sharp: Sharp) -> None:
    results = dish_results(solve_dish(DishInputs(radius=sharp.radius, depth=sharp.depth)))
    assert_is(results, Bowl.by_radius_and_depth(sharp.radius, sharp.depth))


@settings(max_examples=tries(150), deadline=None)
@given(sharps)
def test_radius_and_mouth_give_the_rest_to_a_nanometre_in_a_thousand(sharp: Sharp) -> None:
    mouth = min(2 * math.sqrt(sharp.depth * (2 * sharp.radius - sharp.depth)), 2 * sharp.radius)
    results = dish_results(solve_dish(DishInputs(radius=sharp.radius, mouth_diameter=mouth)))
    right = Bowl.by_radius_and_mouth(sharp.radius, mouth)
    assert_is(results, right)
    assert abs(results.depth / right.depth - 1) < 1e-12


@settings(max_examples=tries(150), deadline=None)
@given(sharps)
def test_depth_and_mouth_give_the_rest_to_a_nanometre_in_a_thousand(sharp: Sharp) -> None:
    mouth = 2 * math.sqrt(sharp.depth * (2 * sharp.radius - sharp.depth))
    assume(sharp.depth <= mouth / 2)
    results = dish_results(solve_dish(DishInputs(depth=sharp.depth, mouth_diameter=mouth)))
    assert_is(results, Bowl.by_depth_and_mouth(sharp.depth, mouth))


@settings(max_examples=tries(100), deadline=None)
@given(sharps)
def test_any_two_of_three_give_the_third_back(sharp: Sharp) -> None:
    bowl = solve_bowl(DishInputs(radius=sharp.radius, depth=sharp.depth))
    mouth = min(bowl.mouth_diameter, 2 * sharp.radius)
    by_mouth = solve_bowl(DishInputs(radius=sharp.radius, mouth_diameter=mouth))
    # near the hemisphere the rounding of the mouth's square, some 1e-15, is worth up to its root in the depth
    rest = 1 - sharp.depth / sharp.radius
    worth = sharp.radius * (math.sqrt(rest**2 + 1e-15) - rest)
    assert by_mouth.depth == pytest.approx(sharp.depth, rel=1e-11, abs=worth)
    assume(sharp.depth <= mouth / 2)
    by_depth = solve_bowl(DishInputs(depth=sharp.depth, mouth_diameter=mouth))
    assert by_depth.radius == pytest.approx(sharp.radius, rel=1e-12)
    assert (bowl.solved, by_mouth.solved, by_depth.solved) == ("mouth_diameter", "depth", "radius")


@settings(max_examples=tries(60), deadline=None)
@given(shop_sharps)
def test_three_that_agree_are_taken_and_none_of_them_is_solved(sharp: Sharp) -> None:
    mouth = solve_bowl(DishInputs(radius=sharp.radius, depth=sharp.depth)).mouth_diameter
    bowl = solve_bowl(DishInputs(radius=sharp.radius, depth=sharp.depth, mouth_diameter=mouth))
    assert bowl.solved == ""
    assert (bowl.radius, bowl.depth, bowl.mouth_diameter) == pytest.approx((sharp.radius, sharp.depth, mouth))


def test_rounded_dimensions_of_a_print_agree_within_half_of_their_last_decimal() -> None:
    # R 90 and 4.5 give 56.20498; a print that says 56.2 agrees, one that says 56.3 does not
    agreeing = DishInputs(
        radius=Given(90.0, slack=0.5), depth=Given(4.5, slack=0.05), mouth_diameter=Given(56.2, slack=0.05)
    )
    bowl = solve_bowl(agreeing)
    assert bowl.solved == ""
    assert bowl.radius == pytest.approx(90.0, abs=0.5)
    assert bowl.depth == pytest.approx(4.5, abs=0.05)
    arc_reaches_the_mouth = math.hypot(bowl.centre.z, bowl.mouth_diameter / 2)
    assert arc_reaches_the_mouth == pytest.approx(bowl.radius, abs=NEAR)


@settings(max_examples=tries(60), deadline=None)
@given(dishes(), st.floats(0.02, 40.0))
def test_a_scaled_print_gives_the_scaled_dish(dish: Dish, scale: float) -> None:
    edge = dish.edge
    size = None
    if edge.element is not None:
        size = abs(edge.element.centre.z) if isinstance(edge.element, Arc) else dish.cut.start.r - dish.bowl.corner.r

    def scaled(by: float) -> Dish:
        kind: EdgeBreak = "none" if size is None else "radius" if isinstance(edge.element, Arc) else "chamfer"
        sized = EdgeInputs(break_kind=kind, break_size=size * by if size else None, break_angle=angle)
        return solve_dish(DishInputs(radius=dish.bowl.radius * by, depth=dish.bowl.depth * by, edge=sized))

    angle = edge.angle
    small, large = scaled(1.0), scaled(scale)
    for one, other in zip(small.cut, large.cut, strict=True):
        for a, b in ((one.start, other.start), (one.end, other.end)):
            assert a.scaled(scale).distance_to(b) <= 1e-11 * dish.bowl.radius * scale


def test_an_inch_print_and_the_same_in_millimetres_are_one_dish() -> None:
    edge = EdgeInputs(break_kind="radius", break_size=1 / 32 * 25.4, hole_diameter=0.25 * 25.4)
    by_inch = dish_results(solve_dish(DishInputs(radius=3.0 * 25.4, depth=0.4 * 25.4, edge=edge)))
    edge = EdgeInputs(break_kind="radius", break_size=0.79375, hole_diameter=6.35)
    by_mm = dish_results(solve_dish(DishInputs(radius=76.2, depth=10.16, edge=edge)))
    for name in ("mouth_diameter", "arc_length", "volume", "break_arc_z", "hole_z"):
        assert getattr(by_inch, name) == pytest.approx(getattr(by_mm, name), rel=1e-13)


@settings(max_examples=tries(50), deadline=None)
@given(shop_sharps, st.floats(0.0, 0.95))
def test_the_volume_is_what_quadrature_and_the_revolved_contour_give(sharp: Sharp, share: float) -> None:
    bowl = solve_bowl(DishInputs(radius=sharp.radius, depth=sharp.depth))
    hole = share * bowl.mouth_diameter / 2
    edge = EdgeInputs(hole_diameter=2 * hole)
    results = dish_results(solve_dish(DishInputs(radius=sharp.radius, depth=sharp.depth, edge=edge)))

    def ring(angle: float) -> float:
        """Between face and dish at an angle from the axis: r = R sin, dr = R cos."""
        r = sharp.radius * math.sin(angle)
        below = sharp.radius * math.cos(angle) - (sharp.radius - sharp.depth)
        return 2 * math.pi * r * below * sharp.radius * math.cos(angle)

    steps = (math.asin(hole / sharp.radius), bowl.slope)
    assert results.volume == pytest.approx(quad(ring, *steps, epsrel=1e-12)[0], rel=1e-9)
    z = results.hole_z if results.hole_z is not None else -sharp.depth
    corner = Point(0.0, bowl.mouth_diameter / 2)
    outline: list[Element] = [
        Arc(corner, Point(z, hole), bowl.centre, "ccw"),
        Line(Point(z, hole), Point(0.0, hole)),
        Line(Point(0.0, hole), corner),
    ]
    assert results.volume == pytest.approx(enclosed_volume(outline), rel=1e-9)


@settings(max_examples=tries(80), deadline=None)
@given(sharps, st.floats(0.0005, 0.999))
def test_the_arc_ends_at_the_hole_on_the_dish(sharp: Sharp, share: float) -> None:
    mouth = solve_bowl(DishInputs(radius=sharp.radius, depth=sharp.depth)).mouth_diameter
    edge = EdgeInputs(hole_diameter=share * mouth)
    results = dish_results(solve_dish(DishInputs(radius=sharp.radius, depth=sharp.depth, edge=edge)))
    R, h, r = exact(sharp.radius), exact(sharp.depth), exact(share * mouth) / 2
    assert results.hole_z is not None
    assert abs((R - h - exact(results.hole_z)) ** 2 + r**2 - R**2) / R < 1e-9 * max(1.0, sharp.radius / 1000)
    assert results.hole_z < 0.0


def test_the_arc_is_cut_from_the_mouth_to_the_axis_counter_clockwise_about_a_centre_in_front_of_the_face() -> None:
    dish = solve_dish(DishInputs(radius=90.0, depth=4.5))
    assert dish.arc.turn == "ccw"
    assert dish.arc.end == Point(-4.5, 0.0)
    assert dish.arc.centre == Point(85.5, 0.0)
    assert len(dish.cut) == 1


def test_the_part_runs_from_the_outside_over_the_face_into_the_hole() -> None:
    edge = EdgeInputs(break_kind="chamfer", break_size=0.5, hole_diameter=8.0)
    part = solve_dish(DishInputs(radius=90.0, depth=4.5, edge=edge)).part(30.0)
    assert [type(element) for element in part] == [Line, Line, Arc, Line]
    assert part.start == Point(0.0, 30.0)
    assert part.end.r == 4.0
    assert part.end.z < -4.5
    assert not part.faults()
