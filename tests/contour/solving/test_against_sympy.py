"""The solver against sympy's exact geometry: every construction as a draughtsman would make it, to 1e-9 mm."""

from __future__ import annotations

import math
from collections.abc import Iterable

import pytest
from sympy import Circle, Line, Point, Rational, cos, pi, sin, sqrt

from calc import contour
from calc.contour.solving import GivenElement, Solutions, Start, solve
from tests.contour.solving.cases import CASES, deg

E = GivenElement
Spot = tuple[float, float]


def _solved(name: str) -> Solutions:
    return solve(CASES[name].start, CASES[name].elements)


def _joints(solutions: Solutions, index: int) -> list[contour.Point]:
    return [solution.joints[index] for solution in solutions.solutions]


def _spot(point: object) -> Spot:
    z, r = point.evalf(30).args  # type: ignore[attr-defined]
    return float(z), float(r)


def _assert_each_is_one_of(found: Iterable[contour.Point], exact: Iterable[object]) -> None:
    spots = [_spot(point) for point in exact]
    for point in found:
        assert min(math.dist(point, spot) for spot in spots) < 1e-9


def _at(degrees: int) -> Point:
    return Point(cos(pi * degrees / 180), sin(pi * degrees / 180))


def _line(z: float, r: float, degrees: int) -> Line:
    point = Point(Rational(z), Rational(r))
    return Line(point, point + _at(degrees))


def test_two_cones_meet_where_their_lines_cross() -> None:
    exact = _line(0, 5, 160).intersection(_line(-40, 30, 140))
    _assert_each_is_one_of(_joints(_solved("cone meets cone"), 1), exact)


def test_a_line_at_an_angle_comes_to_the_given_z_and_x() -> None:
    _assert_each_is_one_of(
        _joints(_solved("line by angle and Z"), 1), _line(0, 10, 165).intersection(Line(Point(-30, 0), Point(-30, 1)))
    )
    _assert_each_is_one_of(
        _joints(_solved("line by angle and X"), 1), _line(0, 10, 165).intersection(Line(Point(0, 16), Point(1, 16)))
    )


def test_a_line_of_given_length_ends_on_its_circle() -> None:
    exact = Circle(Point(0, 10), 25).intersection(Line(Point(0, 17), Point(1, 17)))
    found = _joints(_solved("line by length and X"), 1)
    _assert_each_is_one_of(found, exact)
    assert len(found) == len(exact)


def test_the_centre_of_an_arc_by_its_radius_lies_on_two_circles() -> None:
    exact = Circle(Point(0, 10), 12).intersection(Circle(Point(-10, 20), 12))
    solutions = _solved("arc by end and radius").solutions
    _assert_each_is_one_of([solution.sharp[0].centre for solution in solutions], exact)  # type: ignore[union-attr]


def test_a_line_meets_an_arc_where_sympy_does() -> None:
    exact = Circle(Point(-40, 0), 30).intersection(Line(Point(0, 18), Point(1, 18)))
    _assert_each_is_one_of(_joints(_solved("line meets arc"), 1), exact)
    exact = Circle(Point(-20, 0), 20).intersection(Line(Point(0, 12), Point(1, 12)))
    found = _joints(_solved("arc meets line"), 1)
    _assert_each_is_one_of(found, exact)
    assert len(found) == 2


def test_two_arcs_meet_where_sympy_does() -> None:
    exact = Circle(Point(-20, 0), 20).intersection(Circle(Point(-45, 4), 18))
    _assert_each_is_one_of(_joints(_solved("arc meets arc"), 1), exact)


def test_a_line_touches_an_arc_where_sympy_does() -> None:
    circle = Circle(Point(-40, 10), 12)
    exact = [circle.intersection(tangent)[0] for tangent in circle.tangent_lines(Point(0, 5))]
    _assert_each_is_one_of(_joints(_solved("line touches arc"), 1), exact)


def test_an_arc_touches_the_line_after_it_where_sympy_does() -> None:
    circle = Circle(Point(-12, 10), 12)
    exact = [circle.intersection(tangent)[0] for tangent in circle.tangent_lines(Point(-60, 30))]
    _assert_each_is_one_of(_joints(_solved("arc touches the line after it"), 1), exact)


def test_an_arc_between_two_lines_stands_on_their_parallels() -> None:
    cone = _line(-90, 20.5, 150)
    normal = Point(-sin(5 * pi / 6), cos(5 * pi / 6))
    parallel = Line(cone.p1 - normal * 8, cone.p2 - normal * 8)
    exact = parallel.intersection(Line(Point(0, Rational(47, 2)), Point(1, Rational(47, 2))))
    arc = _solved("arc between two lines").solutions[0].sharp[1]
    _assert_each_is_one_of([arc.centre], exact)  # type: ignore[union-attr]
    _assert_each_is_one_of([arc.end], [cone.projection(exact[0])])


def test_an_arc_that_touches_two_arcs_has_its_centre_on_two_circles() -> None:
    exact = Circle(Point(-10, 8), 16).intersection(Circle(Point(-30, 12), 17))
    centres = [solution.sharp[1].centre for solution in _solved("arc touches two arcs").solutions]  # type: ignore[union-attr]
    _assert_each_is_one_of(centres, exact)


def test_a_line_that_touches_two_arcs_runs_through_the_point_of_similitude() -> None:
    # outer tangents of circles (-10, 8) R 10 and (-50, 20) R 14 meet where the centres' line divides 10 : 14 outside
    meet = Point(-10, 8) + (Point(-50, 20) - Point(-10, 8)) * Rational(10, 10 - 14)
    circle = Circle(Point(-10, 8), 10)
    exact = [circle.intersection(tangent)[0] for tangent in circle.tangent_lines(meet)]
    _assert_each_is_one_of(_joints(_solved("line touches two arcs"), 1), exact)


def test_a_line_that_crosses_between_two_arcs_runs_through_the_inner_point_of_similitude() -> None:
    meet = Point(-10, 8) + (Point(-50, 40) - Point(-10, 8)) * Rational(10, 24)
    circle = Circle(Point(-10, 8), 10)
    exact = [circle.intersection(tangent)[0] for tangent in circle.tangent_lines(meet)]
    _assert_each_is_one_of(_joints(_solved("line crosses from arc to arc"), 1), exact)


def test_the_arc_of_three_conditions_has_the_radius_that_its_centre_asks() -> None:
    # it touches r = 10 with its centre at r = 25: R 15 about a point 15 from (-40, 22)
    exact = Circle(Point(-40, 22), 15).intersection(Line(Point(0, 25), Point(1, 25)))
    name = "arc of three conditions: touches a line, ends on a point, centre on a height"
    arcs = [solution.sharp[1] for solution in _solved(name).solutions]
    _assert_each_is_one_of([arc.centre for arc in arcs], exact)  # type: ignore[union-attr]


def test_a_cone_of_given_length_reaches_a_circle_where_sympy_does() -> None:
    exact = Circle(Point(0, 5), 30).intersection(Circle(Point(-35, 0), 16))
    _assert_each_is_one_of(_joints(_solved("cone by length to a circle"), 1), exact)


def test_the_blend_between_ball_and_neck_comes_out_exactly() -> None:
    # centre of R 4 at r = 10, 16 from the centre of the ball R 12 on the axis
    ball, blend, _ = _solved("ball on a neck").solutions[0].sharp
    exact = [Point(-12 - sqrt(16**2 - 10**2), 10)]
    _assert_each_is_one_of([blend.centre], exact)  # type: ignore[union-attr]
    _assert_each_is_one_of([ball.end], [Point(-12, 0) + (exact[0] - Point(-12, 0)) * Rational(12, 16)])


@pytest.mark.parametrize("degrees", [91, 120, 150, 179])
def test_an_arc_through_two_points_that_leaves_a_line_smoothly_has_sympys_centre(degrees: int) -> None:
    start, end = Point(-20, 10), Point(-31, 17)
    across = Line(start, start + Point(-_at(degrees).y, _at(degrees).x))
    exact = across.intersection(start.midpoint(end) and Line(start, end).perpendicular_line(start.midpoint(end)))
    line = E("line", z=-20.0, r=10.0, angle=deg(degrees), length=3.0)
    found = solve(Start(), [line, E("arc", z=-31.0, r=17.0, tangent=True)])
    _assert_each_is_one_of([found.solutions[0].sharp[1].centre], exact)  # type: ignore[union-attr]
