"""Fillets and chamfers between any two elements."""

import math

import mpmath
import pytest
import sympy
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.contour import (
    Arc,
    Chain,
    ChamferTooLarge,
    Element,
    FilletTooLarge,
    JoinsSmoothly,
    Line,
    NeverMeet,
    NoFillet,
    NotFinite,
    NotPositive,
    Point,
    TrimmedCorner,
    chamfer,
    fillet,
    heading_change,
)
from calc.contour.corner import are_joined
from calc.contour.tolerance import GAP

from .strategies import headings, next_arc, next_line, points

NEAR = 1e-9


@st.composite
def corners(draw: st.DrawFn) -> tuple[Element, Element]:
    """Two elements, lines or arcs, that meet in a corner of 0.2 to 2.6 rad."""
    heading, turn = draw(headings), draw(st.floats(0.2, 2.6)) * draw(st.sampled_from([-1.0, 1.0]))
    corner = draw(points)
    before, after = draw(half(corner, heading + math.pi)), draw(half(corner, heading + turn))
    return before.reversed(), after


@st.composite
def half(draw: st.DrawFn, corner: Point, heading: float) -> Element:
    if draw(st.booleans()):
        return next_line(corner, heading, draw(st.floats(5.0, 80.0)))
    angle = draw(st.floats(0.3, 2.5)) * draw(st.sampled_from([-1.0, 1.0]))
    return next_arc(corner, heading, draw(st.floats(8.0, 90.0)), angle)


def is_smooth(rounded: TrimmedCorner) -> bool:
    return all(abs(joint.turn) <= 1e-6 for joint in Chain(rounded.elements).joints)


@given(corners(), st.floats(0.05, 3.0))
def test_a_fillet_joins_smoothly_touches_both_elements_and_keeps_its_radius(
    corner: tuple[Element, Element], radius: float
) -> None:
    try:
        found = fillet(*corner, radius)
    except (FilletTooLarge, NoFillet):
        assume(False)
    for rounded in found:
        arc = rounded.between
        assert isinstance(arc, Arc)
        assert arc.radius == pytest.approx(radius, abs=NEAR)
        assert corner[0].distance_to(arc.start) <= NEAR
        assert corner[1].distance_to(arc.end) <= NEAR
        assert is_smooth(rounded)
        for element in corner:
            assert abs(element.carrier.distance_to(arc.centre)) == pytest.approx(radius, abs=NEAR)


@given(corners())
def test_a_small_fillet_always_fits_and_turns_as_the_corner_does(corner: tuple[Element, Element]) -> None:
    arc = fillet(*corner, 0.01)[0].between
    turn = heading_change(*corner)
    assert math.copysign(1.0, arc.sweep) == math.copysign(1.0, turn)
    assert arc.sweep == pytest.approx(turn, abs=0.1)
    assert arc.distance_to(corner[0].end) <= 0.01 / math.cos(turn / 2.0)


@given(corners())
def test_the_largest_fillet_that_is_named_fits_and_a_larger_one_does_not(corner: tuple[Element, Element]) -> None:
    try:
        fillet(*corner, 2000.0)
    except FilletTooLarge as error:
        largest = error.largest
    else:
        assume(False)  # two arcs that bulge toward the gap: any large arc bridges them
    assert fillet(*corner, largest)
    with pytest.raises(FilletTooLarge):
        fillet(*corner, largest * (1.0 + 1e-6))


@given(points, headings, st.floats(0.2, 2.6), st.floats(5.0, 50.0), st.floats(5.0, 50.0))
def test_the_largest_fillet_between_lines_uses_the_shorter_up(
    corner: Point, heading: float, turn: float, before: float, after: float
) -> None:
    """Tangent length = radius * tan(turn / 2)."""
    a = Line.at_angle(corner, heading + math.pi, before).reversed()
    b = Line.at_angle(corner, heading + turn, after)
    largest = min(before, after) / math.tan(turn / 2.0)
    with pytest.raises(FilletTooLarge) as error:
        fillet(a, b, largest * 1.01)
    assert error.value.largest == pytest.approx(largest, rel=1e-9)
    whole = fillet(a, b, largest * (1.0 - 1e-15))[0]
    assert (whole.before is None) or (whole.after is None)


@given(corners(), st.floats(0.05, 1.0))
def test_inch_mm_and_mirrored_corners_are_rounded_alike(corner: tuple[Element, Element], radius: float) -> None:
    a, b = corner
    try:
        plain = fillet(a, b, radius)[0].between
    except FilletTooLarge:
        assume(False)
    larger = fillet(a.scaled(25.4), b.scaled(25.4), 25.4 * radius)[0].between
    mirrored = fillet(a.mirrored(), b.mirrored(), radius)[0].between.mirrored()
    backward = fillet(b.reversed(), a.reversed(), radius)[0].between.reversed()
    for other in (larger.scaled(1.0 / 25.4), mirrored, backward):
        assert other.start.distance_to(plain.start) <= NEAR
        assert other.end.distance_to(plain.end) <= NEAR


@pytest.mark.parametrize("radius", [0.4, 0.8, 1.2])
def test_line_and_arc_agree_with_forty_digits(radius: float) -> None:
    """A dish R 90, 4.5 deep, in a face: the edge radius touches the face z = 0 and the arc from inside the metal."""
    with mpmath.workdps(40):
        centre_z = mpmath.mpf(90) - mpmath.mpf("4.5")
        rim = mpmath.sqrt(90**2 - centre_z**2)
        edge_r = mpmath.sqrt((mpmath.mpf(90) + radius) ** 2 - (centre_z + radius) ** 2)
        share = 90 / (90 + mpmath.mpf(radius))
        arc_r, arc_z = edge_r * share, centre_z - (centre_z + radius) * share
    face = Line(Point(0.0, 60.0), Point(0.0, float(rim)))
    dish = Arc(Point(0.0, float(rim)), Point(-4.5, 0.0), Point(85.5, 0.0), "ccw")
    edge = fillet(face, dish, radius)[0].between
    assert edge.start.distance_to(Point(0.0, float(edge_r))) <= NEAR
    assert edge.end.distance_to(Point(float(arc_z), float(arc_r))) <= NEAR


def test_the_edge_radius_of_a_known_dish() -> None:
    """R 90, 4.5 deep, edge 0.8: 56.46061 on the face, 55.96316 on the arc at -0.03965 (computed, no source)."""
    rim = math.sqrt(90.0**2 - 85.5**2)
    face = Line(Point(0.0, 60.0), Point(0.0, rim))
    edge = fillet(face, Arc(face.end, Point(-4.5, 0.0), Point(85.5, 0.0), "ccw"), 0.8)[0].between
    assert 2 * edge.start.r == pytest.approx(56.46061, abs=5e-6)
    assert 2 * edge.end.r == pytest.approx(55.96316, abs=5e-6)
    assert edge.end.z == pytest.approx(-0.03965, abs=5e-6)


@pytest.mark.parametrize("turn_degrees", [20, 45, 90, 120, 150])
def test_fillets_between_lines_agree_with_a_symbolic_library(turn_degrees: int) -> None:
    """The centre lies on the bisector, one radius from both lines."""
    turn = sympy.pi * turn_degrees / 180
    a, b = sympy.Line((-50, 0), (0, 0)), sympy.Line((0, 0), (sympy.cos(turn), sympy.sin(turn)))
    centre = sympy.intersection(a.parallel_line((0, 2)), b.parallel_line((-2 * sympy.sin(turn), 2 * sympy.cos(turn))))[
        0
    ]
    touch = b.projection(centre)
    radians = math.radians(turn_degrees)
    end = Point(50 * math.cos(radians), 50 * math.sin(radians))
    arc = fillet(Line(Point(-50.0, 0.0), Point(0.0, 0.0)), Line(Point(0.0, 0.0), end), 2.0)[0].between
    assert isinstance(arc, Arc)
    assert arc.centre.distance_to(Point(float(centre.x.evalf(30)), float(centre.y.evalf(30)))) <= NEAR
    assert arc.end.distance_to(Point(float(touch.x.evalf(30)), float(touch.y.evalf(30)))) <= NEAR


def test_elements_that_do_not_meet_are_prolonged_to_the_fillet() -> None:
    a, b = Line(Point(0.0, 0.0), Point(0.0, 5.0)), Line(Point(-8.0, 10.0), Point(-20.0, 10.0))
    rounded = fillet(a, b, 3.0)[0]
    assert rounded.between.start.distance_to(Point(0.0, 7.0)) <= NEAR
    assert rounded.between.end.distance_to(Point(-3.0, 10.0)) <= NEAR


def test_a_corner_that_is_smooth_or_out_of_reach_says_so() -> None:
    a, b = Line(Point(0.0, 0.0), Point(0.0, 5.0)), Line(Point(0.0, 5.0), Point(0.0, 9.0))
    for broken in (fillet, chamfer):
        with pytest.raises(JoinsSmoothly):
            broken(a, b, 1.0)
    with pytest.raises(NeverMeet) as error:
        chamfer(a, Line(Point(-3.0, 5.0), Point(-3.0, 9.0)), 1.0)
    assert error.value.gap == 3.0
    with pytest.raises(NoFillet):
        fillet(a, Line(Point(-3.0, 5.0), Point(-3.0, 9.0)), 1.0)


@pytest.mark.parametrize("bad", [0.0, -0.5, math.nan, math.inf])
def test_a_size_that_is_no_size_is_refused(bad: float) -> None:
    a, b = Line(Point(0.0, 0.0), Point(0.0, 5.0)), Line(Point(0.0, 5.0), Point(-9.0, 5.0))
    for broken in (fillet, chamfer):
        with pytest.raises((NotPositive, NotFinite)):
            broken(a, b, bad)


# --- chamfers -------------------------------------------------------------------------------------------------------


@given(corners(), st.floats(0.05, 3.0))
def test_both_legs_are_the_straight_distance_from_the_sharp_corner(corner: tuple[Element, Element], leg: float) -> None:
    sharp = corner[0].end
    try:
        broken = chamfer(*corner, leg)
    except ChamferTooLarge:
        assume(False)
    assert broken.between.start.distance_to(sharp) == pytest.approx(leg, abs=NEAR)
    assert broken.between.end.distance_to(sharp) == pytest.approx(leg, abs=NEAR)
    assert corner[0].distance_to(broken.between.start) <= NEAR
    assert corner[1].distance_to(broken.between.end) <= NEAR
    left = math.fsum(element.length for element in (broken.before, broken.after) if element)
    assert left < corner[0].length + corner[1].length
    Chain(broken.elements)


@given(corners())
def test_the_longest_leg_that_is_named_fits(corner: tuple[Element, Element]) -> None:
    with pytest.raises(ChamferTooLarge) as error:
        chamfer(*corner, 500.0)
    broken = chamfer(*corner, error.value.largest)
    assert broken.between.start.distance_to(corner[0].end) == pytest.approx(error.value.largest, abs=1e-6)


def test_on_more_than_half_a_circle_no_leg_is_longer_than_its_diameter() -> None:
    """Three quarters of R 5."""
    round_end = Arc(Point(5.0, 10.0), Point(0.0, 5.0), Point(0.0, 10.0), "ccw")
    with pytest.raises(ChamferTooLarge) as error:
        chamfer(round_end, Line(Point(0.0, 5.0), Point(0.0, -90.0)), 10.1)
    assert error.value.largest == pytest.approx(10.0)


def test_elements_that_do_not_meet_are_brought_to_their_corner_first() -> None:
    a, b = Line(Point(0.0, 0.0), Point(0.0, 5.0)), Line(Point(-8.0, 10.0), Point(-20.0, 10.0))
    broken = chamfer(a, b, 2.0)
    assert (broken.between.start, broken.between.end) == (Point(0.0, 8.0), Point(-2.0, 10.0))


def test_a_leg_as_long_as_the_element_leaves_nothing_of_it() -> None:
    a, b = Line(Point(0.0, 0.0), Point(0.0, 5.0)), Line(Point(0.0, 5.0), Point(-9.0, 5.0))
    broken = chamfer(a, b, 5.0)
    assert broken.before is None
    assert broken.elements[0] == broken.between


@pytest.mark.parametrize("size", [0.01, 1.0, 400.0])
def test_ends_are_joined_up_to_a_billionth_of_their_size(size: float) -> None:
    joint = Point(0.0, size)
    before = Line(Point(-0.5 * size, size), joint)
    for share, joined in ((0.5, True), (2.0, False)):
        after = Line(joint.shifted(share * GAP * size, 0.0), Point(0.5 * size, 0.5 * size))
        assert are_joined(before, after) == joined
