"""The corner: exact geometry, triangles, published chamfers, and every refusal."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString
from shapely import Point as ShapelyPoint
from sympy import Circle as SymCircle
from sympy import Line as SymLine
from sympy import Point as SymPoint
from sympy import sqrt as sym_sqrt

from calc.contour import Arc, Line
from calc.language.fields import build, specs
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.questions.shapes.corner import CornerResults, solve
from calc.shapes.corner.geometry import Corner, CornerInputs, solve_corner
from tests.tries import tries

SPECS = {spec.name: spec for spec in specs(CornerInputs)}
NUMBERS = [name for name, spec in SPECS.items() if spec.role == "quantity"]
FACE: dict[str, Any] = {"first_angle": 0.0, "second_angle": -math.pi / 2}


def results(**values: Any) -> CornerResults:
    return solve(build(CornerInputs, values)).results


def refused(**values: Any) -> Problem:
    with pytest.raises(Problem) as caught:
        solve(build(CornerInputs, values))
    return caught.value


def test_a_radius_between_cone_and_cylinder_touches_both_in_exact_arithmetic() -> None:
    """By sympy: R 8 between a cylinder of diameter 31 and a cone of 30 degrees that meet at Z 0."""
    corner = solve_corner(
        build(CornerInputs, {"first_angle": -math.pi / 6, "second_angle": 0.0, "corner_diameter": 31.0, "radius": 8.0})
    )
    assert isinstance(corner.between, Arc)
    cone = SymLine(SymPoint(0, 15.5), SymPoint(-sym_sqrt(3), 16.5))
    tangent = SymPoint(corner.between.start.z, corner.between.start.r)
    circle = SymCircle(SymPoint(corner.between.centre.z, corner.between.centre.r), 8)
    assert float(cone.distance(circle.center)) == pytest.approx(8.0, abs=1e-12)
    assert float(cone.distance(tangent)) == pytest.approx(0.0, abs=1e-12)
    assert corner.between.centre.r == pytest.approx(23.5, abs=1e-12)
    assert corner.between.end.z == pytest.approx(8 * math.tan(math.radians(15.0)), abs=1e-12)


def test_a_chamfer_of_one_at_45_degrees_has_equal_legs_and_the_width_of_its_diagonal() -> None:
    """ISO 13715 and ISO 129: 1 x 45 degrees is measured along the axis; the width is the root of two."""
    found = results(**FACE, kind="chamfer", leg=1.0)
    assert found.second_leg == pytest.approx(1.0)
    assert found.width == pytest.approx(math.sqrt(2))
    assert found.chamfer_angle == pytest.approx(math.pi / 4)


def test_a_chamfer_of_three_by_30_degrees_rises_by_its_tangent() -> None:
    """Right triangle: 3 mm along the axis at 30 degrees are 1.732 mm on radius."""
    found = results(**FACE, kind="chamfer", leg=3.0, chamfer_angle=math.radians(30.0))
    assert found.second_leg == pytest.approx(3.0 / math.sqrt(3))
    assert found.second_chamfer_angle == pytest.approx(math.radians(60.0))
    again = results(**FACE, kind="chamfer", leg=3.0, second_leg=found.second_leg)
    assert again.chamfer_angle == pytest.approx(math.radians(30.0))


directions = st.floats(-math.pi, math.pi)
turns = st.floats(0.05, math.pi - 0.05).flatmap(lambda turn: st.sampled_from([turn, -turn]))
sizes = st.floats(-1.0, 2.0).map(lambda power: 10.0**power)


@settings(max_examples=tries(120), deadline=None)
@given(directions, turns, sizes)
def test_the_arc_is_smooth_on_both_lines_and_the_three_sizes_find_each_other(
    first: float, turn: float, radius: float
) -> None:
    lines = {"first_angle": first, "second_angle": first + turn}
    corner = solve_corner(build(CornerInputs, lines | {"radius": radius}))
    arc = corner.between
    assert isinstance(arc, Arc)
    assert arc.tangent_at(0.0) == pytest.approx(corner.first, abs=1e-9)
    assert arc.tangent_at(arc.length) == pytest.approx(corner.second, abs=1e-9)
    assert arc.angle == pytest.approx(abs(turn), abs=1e-9)
    for name in ("leg", "gap"):
        again = results(**lines, **{name: corner.sizes[name]})
        assert again.radius == pytest.approx(radius, rel=1e-6)


@settings(max_examples=tries(60), deadline=None)
@given(directions, turns, sizes, st.floats(0.05, 0.95))
def test_a_chamfer_ends_on_both_lines_by_another_geometry_library(
    first: float, turn: float, leg: float, share: float
) -> None:
    lines = {"first_angle": first, "second_angle": first + turn, "kind": "chamfer"}
    corner = solve_corner(build(CornerInputs, lines | {"leg": leg, "chamfer_angle": share * abs(turn)}))
    far = 10 * (leg + corner.sizes["second_leg"])
    for direction, point in ((-1.0, corner.between.start), (1.0, corner.between.end)):
        heading = first if direction < 0 else first + turn
        line = LineString([(0, 0), (direction * far * math.cos(heading), direction * far * math.sin(heading))])
        assert line.distance(ShapelyPoint(point.z, point.r)) < 1e-9 * far
    assert corner.between.length == pytest.approx(corner.sizes["width"], rel=1e-9)
    assert corner.between.start.distance_to(corner.at) == pytest.approx(leg)


def test_too_little_says_what_would_do() -> None:
    problem = refused()
    assert isinstance(problem, Missing)
    assert [fault.field for fault in problem.faults] == ["first_angle", "second_angle"]
    problem = refused(**FACE)
    assert {fault.field for fault in problem.faults} == {"radius", "leg", "gap"}
    assert problem.faults[0].message.say().startswith("How large is the radius?")
    problem = refused(**FACE, kind="chamfer", chamfer_angle=0.5)
    assert [(fault.field, fault.message.say()) for fault in problem.faults] == [
        (name, "With the chamfer angle, one more is needed: the first leg or the second leg.")
        for name in ("leg", "second_leg")
    ]


def test_sizes_that_disagree_are_named_with_what_each_would_be() -> None:
    problem = refused(**FACE, radius=2.0, leg=3.0)
    assert isinstance(problem, Contradiction)
    assert problem.fields == ("radius", "leg")
    assert problem.faults[0].message.say() == (
        "R2 mm give a leg of 2.000 mm; 3 mm differs from that by 1.000 mm. Leave out the one that is not on the print."
    ).replace("give", "gives")


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"first_angle": 0.5, "second_angle": 0.5, "radius": 1.0}, "second_angle", "make no corner"),
        ({"first_angle": 0.0, "second_angle": math.pi, "radius": 1.0}, "second_angle", "make no corner"),
        (
            {**FACE, "kind": "chamfer", "leg": 1.0, "chamfer_angle": math.radians(95.0)},
            "chamfer_angle",
            "never meets the second, which turns by 90.000°",
        ),
        ({**FACE, "corner_diameter": 2.0, "radius": 3.0}, "corner_diameter", "2.000 mm past the axis"),
    ],
)
def test_what_cannot_be_says_why_at_its_field(values: dict[str, Any], field: str, words: str) -> None:
    problem = refused(**values)
    assert isinstance(problem, Impossible)
    assert [fault.field for fault in problem.faults] == [field]
    assert words in problem.faults[0].message.say()


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf, 1e9])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(bad: float) -> None:
    problem = refused(**FACE, radius=bad)
    assert isinstance(problem, OutOfRange)
    assert problem.faults[0].field == "radius"


wild = st.one_of(st.floats(), st.floats(-7.0, 4.0).map(lambda power: 10.0**power), directions)


@settings(max_examples=tries(120), deadline=None)
@given(
    st.fixed_dictionaries(
        {name: st.none() | wild for name in NUMBERS} | {"kind": st.sampled_from(["radius", "chamfer"])}
    ),
    directions,
)
def test_any_floats_give_a_right_corner_or_a_sentence(values: dict[str, Any], angle: float) -> None:
    if values["first_angle"] is None:
        values |= {"first_angle": angle, "second_angle": 0.7}
    try:
        solve(build(CornerInputs, values))
        corner = solve_corner(build(CornerInputs, values))
    except Problem as problem:
        said = [fault.message.say() for fault in problem.faults if fault.field in SPECS]
    else:
        assert_right(corner)
        return
    assert said
    assert all(said)


def assert_right(corner: Corner) -> None:
    """Both ends lie on their lines, at the legs."""
    size = max(corner.between.start.distance_to(corner.at), corner.between.end.distance_to(corner.at), corner.at.size)
    near = 1e-9 * max(1.0, size)
    assert abs(corner.first.cross(corner.at.to(corner.between.start))) < near
    assert abs(corner.second.cross(corner.at.to(corner.between.end))) < near
    assert corner.between.start.distance_to(corner.at) == pytest.approx(corner.sizes["leg"], rel=1e-6, abs=near)


def test_without_a_place_there_are_sizes_and_no_points() -> None:
    answer = solve(build(CornerInputs, FACE | {"radius": 2.0}))
    assert answer.points == ()
    assert answer.contour is None
    assert answer.results.arc_centre_x is None
    assert "sharp corner" in answer.notes[0].say()


def test_points_stand_in_the_order_of_the_cut() -> None:
    answer = solve(build(CornerInputs, FACE | {"radius": 2.0, "corner_diameter": 30.0}))
    assert [(round(p.spot.z, 9), round(p.spot.r, 9), p.move) for p in answer.points] == [
        (-2.0, 15.0, ""),
        (0.0, 13.0, "cw"),
    ]


def test_what_belongs_to_the_other_kind_is_said_to_be_left_out() -> None:
    answer = solve(build(CornerInputs, FACE | {"radius": 2.0, "leg": 1.0, "kind": "chamfer"}))
    assert answer.notes[0].say() == "The radius has no place in a chamfer and was left out."
    assert isinstance(solve_corner(build(CornerInputs, FACE | {"leg": 1.0, "kind": "chamfer"})).between, Line)


def test_the_same_corner_mirrored_has_the_same_sizes() -> None:
    up = results(first_angle=0.3, second_angle=1.2, radius=5.0)
    down = results(first_angle=-0.3, second_angle=-1.2, radius=5.0)
    assert up.leg == pytest.approx(down.leg)
