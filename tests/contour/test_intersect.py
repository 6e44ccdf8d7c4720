"""Where elements share points, against 40-digit arithmetic and a symbolic geometry library."""

import math
import random
from itertools import pairwise

import mpmath
import pytest
import sympy
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.contour import Arc, Circle, Element, Line, Point, Straight, Vector, intersections, meet, same_carrier

from .strategies import arcs, elements, fractions, headings, lines, next_arc, points, radii, samples

NEAR = 1e-9


def on_carrier(p: Point, element: Element) -> float:
    return abs(element.carrier.distance_to(p))


def mp_roots(a: Straight | Circle, b: Straight | Circle) -> list[Point]:
    """Intersections of two carriers with 40 digits, from the doubles that describe them."""
    with mpmath.workdps(40):
        if isinstance(a, Straight) and isinstance(b, Straight):
            return [_mp_lines(a, b)]
        line = a if isinstance(a, Straight) else b if isinstance(b, Straight) else None
        circle = a if isinstance(a, Circle) else b
        assert isinstance(circle, Circle)
        if line is None:
            assert isinstance(a, Circle)
            assert isinstance(b, Circle)
            return _mp_circles(a, b)
        return _mp_line_circle(line, circle)


def _mp_lines(a: Straight, b: Straight) -> Point:
    p, d = mpmath.mpc(*a.point), mpmath.mpc(*a.direction)
    q, e = mpmath.mpc(*b.point), mpmath.mpc(*b.direction)
    along = ((q - p) * mpmath.conj(e)).imag / (d * mpmath.conj(e)).imag
    x = p + along * d
    return Point(float(x.real), float(x.imag))


def _mp_line_circle(line: Straight, circle: Circle) -> list[Point]:
    p, d = mpmath.mpc(*line.point), mpmath.mpc(*line.direction)
    d /= abs(d)
    out = (mpmath.mpc(*circle.centre) - p) * mpmath.conj(d)
    half = mpmath.mpf(circle.radius) ** 2 - out.imag**2
    if half < 0:
        return []
    roots = [p + (out.real + sign * mpmath.sqrt(half)) * d for sign in (-1, 1)]
    return [Point(float(x.real), float(x.imag)) for x in roots]


def _mp_circles(a: Circle, b: Circle) -> list[Point]:
    c, step = mpmath.mpc(*a.centre), mpmath.mpc(*b.centre) - mpmath.mpc(*a.centre)
    d = abs(step)
    along = (d**2 + mpmath.mpf(a.radius) ** 2 - mpmath.mpf(b.radius) ** 2) / (2 * d)
    half = mpmath.mpf(a.radius) ** 2 - along**2
    if half < 0:
        return []
    roots = [c + step / d * mpmath.mpc(along, sign * mpmath.sqrt(half)) for sign in (-1, 1)]
    return [Point(float(x.real), float(x.imag)) for x in roots]


def assert_same_points(found: tuple[Point, ...], expected: list[Point], within: float) -> None:
    assert len(found) == len(expected)
    assert all(min(p.distance_to(q) for q in found) <= within for p in expected)


straights = st.builds(lambda p, h: Straight(p, Vector.at_angle(h)), points, headings)
circles = st.builds(Circle, points, radii)


@given(straights, straights)
def test_crossing_lines_agree_with_forty_digits(a: Straight, b: Straight) -> None:
    assume(abs(a.direction.cross(b.direction)) > 0.01)
    assert_same_points(meet(a, b), mp_roots(a, b), NEAR)


@given(straights, circles)
def test_lines_and_circles_agree_with_forty_digits(line: Straight, circle: Circle) -> None:
    assume(abs(abs(line.distance_to(circle.centre)) - circle.radius) > 1e-6)
    assert_same_points(meet(line, circle), mp_roots(line, circle), NEAR)
    assert_same_points(meet(circle, line), mp_roots(line, circle), NEAR)


@given(circles, circles)
def test_circles_agree_with_forty_digits(a: Circle, b: Circle) -> None:
    apart = a.centre.distance_to(b.centre)
    assume(apart > 0.01)
    assume(abs(apart - a.radius - b.radius) > 1e-5 and abs(apart - abs(a.radius - b.radius)) > 1e-5)
    assert_same_points(meet(a, b), mp_roots(a, b), NEAR)


@pytest.mark.parametrize("gap", [1e-4, 1e-6, 1e-8, 1e-10, 1e-12])
@given(circles, headings)
def test_near_touches_keep_both_points_on_both_carriers(gap: float, circle: Circle, heading: float) -> None:
    """The points part by the root of the gap: their own place is only as good as the gap, the carriers hold."""
    normal, depth = Vector.at_angle(heading), gap * circle.size
    assume(depth < circle.radius / 4.0)
    line = Straight(circle.centre.moved(normal, circle.radius - depth), normal.left())
    other = Circle(circle.centre.moved(normal, 1.5 * circle.radius - depth), circle.radius / 2.0)
    for carrier in (line, other):
        found = meet(circle, carrier)
        assert len(found) == 2
        assert all(abs(c.distance_to(p)) <= 1e-12 * c.size for p in found for c in (circle, carrier))
        apart = found[0].distance_to(found[1])
        assert apart == pytest.approx(mp_roots(circle, carrier)[0].distance_to(mp_roots(circle, carrier)[1]), rel=0.05)


@given(circles, headings, st.floats(0.1, 10.0))
def test_a_touch_is_one_point(circle: Circle, heading: float, ratio: float) -> None:
    normal = Vector.at_angle(heading)
    touch = circle.centre.moved(normal, circle.radius)
    outside = Circle(circle.centre.moved(normal, circle.radius * (1.0 + ratio)), circle.radius * ratio)
    for carrier in (Straight(touch, normal.left()), outside):
        assert len(meet(circle, carrier)) == 1
        assert meet(circle, carrier)[0].distance_to(touch) <= NEAR
    if abs(ratio - 1.0) > 0.01:
        inside = Circle(circle.centre.moved(normal, circle.radius * (1.0 - ratio)), circle.radius * ratio)
        assert len(meet(circle, inside)) == 1
        assert meet(circle, inside)[0].distance_to(touch) <= NEAR


@pytest.mark.parametrize("gap", [1e-9, 1e-3, 1.0])
def test_carriers_that_miss_each_other_share_nothing(gap: float) -> None:
    circle = Circle(Point(0.0, 0.0), 10.0)
    assert meet(circle, Straight(Point(0.0, 10.0 + gap), Vector(1.0, 0.0))) == ()
    assert meet(circle, Circle(Point(15.0 + gap, 0.0), 5.0)) == ()
    assert meet(circle, Circle(Point(5.0 - gap, 0.0), 5.0 - 2.0 * gap)) == ()
    assert meet(circle, circle) == ()


@given(lines(), lines(), arcs(), arcs())
def test_shared_points_lie_on_both_elements_and_none_is_missed(a: Line, b: Line, c: Arc, d: Arc) -> None:
    for one, other in ((a, b), (a, c), (c, d)):
        found = intersections(one, other)
        assert all(one.distance_to(p) <= NEAR and other.distance_to(p) <= NEAR for p in found)
        step = one.length / 100
        for before, after in pairwise(samples(one, 100)):
            if changes_side(other, before, after, step):
                assert min(p.distance_to(before) for p in found) <= 2.0 * step


def changes_side(other: Element, before: Point, after: Point, step: float) -> bool:
    """Whether the step leads from one side of the element, away from its ends, to the other."""
    sides = [other.carrier.distance_to(p) for p in (before, after)]
    inside = all(2.0 * step < other.locate(p) < other.length - 2.0 * step for p in (before, after))
    return inside and min(sides) < -NEAR and max(sides) > NEAR


@given(elements, elements)
def test_order_direction_and_mirror_do_not_matter(a: Element, b: Element) -> None:
    found = intersections(a, b)
    for other in (intersections(b, a), intersections(a.reversed(), b)):
        assert_same_points(tuple(other), found, NEAR)
    mirrored = [p.mirrored() for p in intersections(a.mirrored(), b.mirrored())]
    assert_same_points(tuple(mirrored), found, NEAR)


@given(elements, elements)
def test_inch_and_mm_parts_cross_alike(a: Element, b: Element) -> None:
    inch = [p.scaled(25.4) for p in intersections(a.scaled(1 / 25.4), b.scaled(1 / 25.4))]
    assert_same_points(tuple(inch), intersections(a, b), 1e-7)


@pytest.mark.parametrize("seed", range(12))
def test_rational_cases_agree_with_a_symbolic_library(seed: int) -> None:
    pick = random.Random(seed)
    (x, y, u, v), r = (pick.randint(-40, 40) for _ in range(4)), pick.randint(5, 60)
    (p, q), s = (pick.randint(-40, 40) for _ in range(2)), pick.randint(5, 60)
    circle, other = sympy.Circle((p, q), r), sympy.Circle((x, y), s)
    line = sympy.Line((x, y), (u + 100, v))
    mine, second = Circle(Point(p, q), r), Circle(Point(x, y), s)
    straight = Straight(Point(x, y), Point(x, y).to(Point(u + 100, v)).unit())
    for carrier, theirs in ((straight, (circle, line)), (second, (circle, other))):
        expected = [Point(float(e.x.evalf(30)), float(e.y.evalf(30))) for e in sympy.intersection(*theirs)]
        assert_same_points(meet(mine, carrier), expected, NEAR)


# --- ends -----------------------------------------------------------------------------------------------------------


@given(elements, fractions, headings, st.floats(1.0, 50.0))
def test_an_end_that_stands_on_another_element_is_shared(
    a: Element, share: float, heading: float, length: float
) -> None:
    foot = a.point_at(share * a.length)
    b = Line.at_angle(foot, heading, length)
    assert min(p.distance_to(foot) for p in intersections(a, b)) <= NEAR


@given(lines(), st.floats(0.5, 40.0), st.floats(0.1, 3.0))
def test_elements_that_join_smoothly_share_the_joint_once(line: Line, radius: float, angle: float) -> None:
    arc = next_arc(line.end, line.start_heading, radius, angle)
    after = next_arc(arc.end, arc.end_heading, 2.0 * radius, -angle)
    assert_same_points(tuple(intersections(line, arc)), [line.end], NEAR)
    assert_same_points(tuple(intersections(arc, after)), [arc.end], NEAR)


def test_elements_on_one_another_share_the_ends_of_the_common_stretch() -> None:
    a = Line(Point(0.0, 3.0), Point(10.0, 3.0))
    b = Line(Point(14.0, 3.0), Point(6.0, 3.0))
    assert same_carrier(a, b)
    assert intersections(a, b) == [Point(6.0, 3.0), Point(10.0, 3.0)]
    assert intersections(a, Line(Point(10.0, 3.0), Point(14.0, 3.0))) == [Point(10.0, 3.0)]
    assert intersections(a, Line(Point(11.0, 3.0), Point(14.0, 3.0))) == []


@given(arcs(most=3.0))
def test_arcs_on_one_another_share_the_ends_of_the_common_stretch(arc: Arc) -> None:
    first, second = arc.between(0.0, 0.7 * arc.length), arc.between(0.4 * arc.length, arc.length).reversed()
    assert_same_points(tuple(intersections(first, second)), [second.end, first.end], NEAR)


def test_two_joined_half_circles_share_both_ends() -> None:
    a, b, c = Point(-5.0, 0.0), Point(5.0, 0.0), Point(0.0, 0.0)
    assert intersections(Arc(a, b, c, "cw"), Arc(b, a, c, "cw")) == [a, b]


def test_a_nearly_straight_arc_crosses_a_line_where_it_should() -> None:
    """R 100000 and 0.001 mm deep, cut at half its depth: chord of a segment, sqrt(8 R h) nearly."""
    arc = Arc.from_radius(Point(0.0, 0.0), Point(math.sqrt(8e5 * 1e-3 - 4e-6), 0.0), 1e5, "cw")
    assert arc.sagitta == pytest.approx(1e-3, rel=1e-9)
    found = intersections(arc, Line(Point(-5.0, 5e-4), Point(50.0, 5e-4)))
    with mpmath.workdps(40):
        half = mpmath.sqrt(2 * mpmath.mpf(arc.radius) * mpmath.mpf("5e-4"))
    assert found[0].distance_to(found[1]) / 2 == pytest.approx(float(half), rel=1e-6)
    assert all(on_carrier(p, arc) <= 3e-11 for p in found)
