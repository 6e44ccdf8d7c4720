"""Lines and arcs by themselves."""

import math
from itertools import pairwise

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.contour import (
    Arc,
    ArcVanishes,
    Bounds,
    ContourError,
    Element,
    Line,
    NoArc,
    NoLength,
    NotFinite,
    NotPositive,
    Point,
    RadiiDisagree,
    RadiusTooSmall,
    Side,
    Vector,
)
from calc.language.quantities import View

from .strategies import arcs, elements, fractions, headings, lines, points, samples, sides

NEAR = 1e-9


def near(a: Point, b: Point, within: float = NEAR) -> bool:
    return a.distance_to(b) <= within


# --- the path -------------------------------------------------------------------------------------------------------


@given(elements)
def test_a_path_leads_from_start_to_end(element: Element) -> None:
    assert element.point_at(0.0) == element.start
    assert element.point_at(element.length) == element.end
    just_before = element.point_at(math.nextafter(element.length, 0.0))
    assert near(just_before, element.end)
    assert element.spans(element.start)
    assert element.spans(element.end)


@given(elements, fractions)
def test_position_and_point_are_inverse(element: Element, share: float) -> None:
    s = share * element.length
    assert element.locate(element.point_at(s)) == pytest.approx(s, abs=NEAR)


@given(elements, fractions)
def test_the_tangent_is_the_derivative_of_the_path(element: Element, share: float) -> None:
    s, step = share * element.length, 1e-5 * element.length
    secant = element.point_at(s - step).to(element.point_at(s + step)).unit()
    tangent = element.tangent_at(s)
    assert tangent.length == pytest.approx(1.0, abs=1e-15)
    assert near(Point(*secant), Point(*tangent), 1e-7 + 1e-13 / step)


@given(elements)
def test_the_heading_turns_by_the_sweep(element: Element) -> None:
    turned = element.end_heading - element.start_heading - element.sweep
    assert math.remainder(turned, math.tau) == pytest.approx(0.0, abs=1e-9)
    assert element.curvature * element.length == pytest.approx(element.sweep, rel=1e-12)


@given(elements, st.lists(fractions, max_size=5))
def test_pieces_are_contiguous_and_their_lengths_add_up(element: Element, shares: list[float]) -> None:
    pieces = element.split(*(share * element.length for share in shares))
    assert pieces[0].start == element.start
    assert pieces[-1].end == element.end
    assert all(a.end == b.start for a, b in pairwise(pieces))
    assert math.fsum(piece.length for piece in pieces) == pytest.approx(element.length, abs=NEAR)


@given(elements)
def test_cuts_at_or_beyond_the_ends_cut_nothing(element: Element) -> None:
    assert element.split(-1.0, 0.0, element.length, element.length + 1.0) == [element]


@given(elements)
def test_reversing_twice_gives_the_element_back(element: Element) -> None:
    back = element.reversed()
    assert back.reversed() == element
    assert back.length == pytest.approx(element.length, rel=1e-12)
    assert near(back.point_at(0.3 * back.length), element.point_at(0.7 * element.length))


@given(elements, fractions)
def test_mirroring_keeps_z_and_changes_the_sign_of_r(element: Element, share: float) -> None:
    s, mirrored = share * element.length, element.mirrored()
    assert mirrored.mirrored() == element
    assert near(mirrored.point_at(s), element.point_at(s).mirrored())


@given(elements, fractions)
def test_inch_and_mm_parts_are_the_same_part(element: Element, share: float) -> None:
    s, larger = share * element.length, element.scaled(25.4)
    assert larger.length == pytest.approx(25.4 * element.length, rel=1e-12)
    assert near(larger.point_at(25.4 * s), element.point_at(s).scaled(25.4), 25.4 * NEAR)


@given(elements, fractions)
def test_shifting_moves_every_point_alike(element: Element, share: float) -> None:
    s = share * element.length
    assert near(element.shifted(3.0, -4.0).point_at(s), element.point_at(s).shifted(3.0, -4.0))


# --- parallels ------------------------------------------------------------------------------------------------------


def possible_distance(element: Element, share: float) -> float:
    return share * (element.radius if isinstance(element, Arc) else 50.0)


@given(elements, fractions, sides)
def test_offset_there_and_back_gives_the_element(element: Element, share: float, side: Side) -> None:
    distance = possible_distance(element, share)
    other: Side = "right" if side == "left" else "left"
    back = element.offset(distance, side).offset(distance, other)
    assert near(back.start, element.start)
    assert near(back.end, element.end)
    assert near(back.point_at(back.length / 2), element.point_at(element.length / 2))


@given(elements, fractions, sides, fractions)
def test_each_point_of_a_parallel_is_the_distance_away_on_its_side(
    element: Element, share: float, side: Side, along: float
) -> None:
    distance = possible_distance(element, share)
    parallel = element.offset(distance, side)
    there, here = parallel.point_at(along * parallel.length), element.point_at(along * element.length)
    step = here.to(there)
    assert step.length == pytest.approx(distance, abs=NEAR)
    across = element.tangent_at(along * element.length).cross(step)
    assert across == pytest.approx(distance if side == "left" else -distance, abs=NEAR)


@given(arcs(), st.floats(1.0, 3.0))
def test_an_arc_has_no_parallel_at_or_past_its_centre(arc: Arc, factor: float) -> None:
    toward: Side = "left" if arc.turn == "ccw" else "right"
    with pytest.raises(ArcVanishes) as error:
        arc.offset(arc.radius * factor, toward)
    assert error.value.radius == arc.radius
    assert error.value.distance == arc.radius * factor


def test_an_offset_by_less_than_nothing_is_refused() -> None:
    line = Line(Point(0.0, 0.0), Point(1.0, 0.0))
    with pytest.raises(NotPositive):
        line.offset(-1.0, "left")
    with pytest.raises(NotFinite):
        line.offset(math.nan, "left")
    assert line.offset(0.0, "left") == line


# --- places on the element --------------------------------------------------------------------------------------------


@given(elements)
def test_bounds_hold_every_point_and_no_more(element: Element) -> None:
    around, drawn = element.bounds(), Bounds.around(*samples(element, 2000))
    for exact, sampled, outward in zip(around, drawn, (-1, 1, -1, 1), strict=True):
        assert (exact - sampled) * outward >= -NEAR
        assert abs(exact - sampled) <= element.length / 2000


@given(elements, points)
def test_no_sample_is_nearer_than_the_nearest_point(element: Element, point: Point) -> None:
    closest = min(sample.distance_to(point) for sample in samples(element))
    distance = element.distance_to(point)
    assert distance <= closest + NEAR
    assert closest - distance <= element.length / 200
    assert element.distance_to(element.nearest(point)) <= NEAR


@given(elements, fractions)
def test_points_at_a_radius_have_it_and_are_all_there(element: Element, share: float) -> None:
    box = element.bounds()
    r = box.r_min + share * (box.r_max - box.r_min)
    found = element.points_at_r(r)
    assert all(abs(p.r - r) <= NEAR and element.distance_to(p) <= NEAR for p in found)
    drawn = [p.r - r for p in samples(element, 999)]
    if min(map(abs, drawn)) > NEAR:
        assert len(found) >= sum(a * b < 0 for a, b in pairwise(drawn))
    for piece in element.split(*map(element.locate, element.points_at_r(r))):
        sides_seen = [p.r - r for p in samples(piece, 50)]
        assert min(sides_seen) >= -NEAR or max(sides_seen) <= NEAR


@given(arcs())
def test_points_at_a_z_mirror_points_at_a_radius(arc: Arc) -> None:
    def swapped(p: Point) -> Point:
        return Point(p.r, p.z)

    turned = Arc(swapped(arc.start), swapped(arc.end), swapped(arc.centre), "cw" if arc.turn == "ccw" else "ccw")
    at_z = arc.points_at_z(arc.centre.z)
    assert [near(swapped(p), q) for p, q in zip(at_z, turned.points_at_r(arc.centre.z), strict=True)] == [True] * len(
        at_z
    )


def test_a_touch_at_a_radius_is_one_point() -> None:
    top = Arc(Point(-5.0, 0.0), Point(5.0, 0.0), Point(0.0, 0.0), "cw")
    assert top.points_at_r(5.0) == [Point(0.0, 5.0)]
    assert top.points_at_r(5.1) == []
    assert top.points_at_r(3.0) == [Point(-4.0, 3.0), Point(4.0, 3.0)]


def test_a_cylinder_gives_its_ends_at_its_own_radius() -> None:
    side = Line(Point(0.0, 7.0), Point(-9.0, 7.0))
    assert side.points_at_r(7.0) == [side.start, side.end]
    assert side.points_at_r(6.0) == []
    assert side.points_at_z(-3.0) == [Point(-3.0, 7.0)]


@given(arcs())
def test_pieces_between_extremes_rise_or_fall_throughout(arc: Arc) -> None:
    for pieces, part in ((arc.split_where_r_turns(), 1), (arc.split_where_z_turns(), 0)):
        for piece in pieces:
            values = [p[part] for p in samples(piece, 50)]
            steps = [b - a for a, b in pairwise(values)]
            assert min(steps) >= -NEAR or max(steps) <= NEAR


# --- making arcs ------------------------------------------------------------------------------------------------------


@given(arcs())
def test_an_arc_is_found_again_from_its_radius(arc: Arc) -> None:
    long = arc.angle > math.pi
    again = Arc.from_radius(arc.start, arc.end, arc.radius, arc.turn, long=long)
    if abs(arc.angle - math.pi) > 1e-3 and arc.chord > 1e-2 * arc.radius:
        assert near(again.centre, arc.centre, 1e-8)
        assert again.angle == pytest.approx(arc.angle, abs=1e-8)
    assert again.radius == pytest.approx(arc.radius, rel=1e-9)


@given(arcs(most=5.0))
def test_an_arc_is_found_again_from_three_points_and_from_its_heading(arc: Arc) -> None:
    if arc.angle < 0.05:
        return
    for again in (
        Arc.through(arc.start, arc.point_at(arc.length / 2), arc.end),
        Arc.leaving(arc.start, arc.start_heading, arc.end),
    ):
        assert again.turn == arc.turn
        assert near(again.centre, arc.centre, 1e-8)


def test_points_in_a_line_make_no_arc() -> None:
    a, b, c = Point(0.0, 0.0), Point(1.0, 1.0), Point(3.0, 3.0)
    with pytest.raises(NoArc):
        Arc.through(a, b, c)
    with pytest.raises(NoArc):
        Arc.leaving(a, math.pi / 4, b)
    with pytest.raises(NoLength):
        Arc.leaving(a, 0.0, a)


def test_a_radius_below_half_the_chord_names_the_smallest_possible() -> None:
    with pytest.raises(RadiusTooSmall) as error:
        Arc.from_radius(Point(0.0, 0.0), Point(0.0, 10.0), 4.9, "cw")
    assert error.value.smallest == 5.0
    half_turn = Arc.from_radius(Point(0.0, 0.0), Point(0.0, 10.0), 5.0, "cw")
    assert half_turn.angle == pytest.approx(math.pi, abs=1e-12)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan])
def test_a_radius_or_length_that_is_not_positive_is_refused(bad: float) -> None:
    a, b = Point(0.0, 0.0), Point(0.0, 1.0)
    with pytest.raises(NotPositive):
        Arc.from_radius(a, b, bad, "cw")
    with pytest.raises(NotPositive):
        Arc.from_angles(a, bad, 0.0, 1.0, "cw")
    with pytest.raises(NotPositive):
        Line.at_angle(a, 0.0, bad)


def test_elements_that_cannot_be_are_refused_with_their_data() -> None:
    a, b = Point(0.0, 5.0), Point(0.0, -4.0)
    with pytest.raises(NoLength):
        Line(a, a)
    with pytest.raises(NoLength):
        Arc(a, a, Point(0.0, 0.0), "cw")
    with pytest.raises(RadiiDisagree) as error:
        Arc(a, b, Point(0.0, 0.0), "cw")
    assert (error.value.start_radius, error.value.end_radius) == (5.0, 4.0)
    for bad in (math.nan, math.inf):
        with pytest.raises(NotFinite):
            Line(a, Point(bad, 0.0))
        with pytest.raises(NotFinite):
            Arc(a, b, Point(0.0, bad), "cw")


def test_an_error_is_said_in_the_readers_units() -> None:
    error: ContourError = ArcVanishes(25.4, 50.8)
    assert "25.400 mm" in str(error)
    assert "1.0000 in" in error.message.say(View("inch"))


# --- numbers ----------------------------------------------------------------------------------------------------------


@given(st.floats(1e3, 1e5), st.floats(1e-3, 0.5), headings, fractions)
def test_shallow_arcs_agree_with_forty_digits(radius: float, depth: float, heading: float, share: float) -> None:
    """R up to 100000 mm and 0.001 mm deep: points and length against mpmath."""
    half = math.acos(1.0 - depth / radius) if depth / radius > 1e-6 else math.sqrt(2.0 * depth / radius)
    ahead = Vector.at_angle(heading)
    start = Point(10.0, 20.0)
    end = start.moved(ahead, 2.0 * radius * math.sin(half))
    arc = Arc.from_radius(start, end, radius, "cw")
    with mpmath.workdps(40):
        mp_half = mpmath.asin(mpmath.hypot(mpmath.mpf(end.z) - start.z, mpmath.mpf(end.r) - start.r) / 2 / radius)
        length = 2 * mp_half * radius
        turned = mpmath.mpf(heading) + mp_half - share * mp_half
        reach = 2 * radius * mpmath.sin(share * mp_half)
        there = Point(float(start.z + reach * mpmath.cos(turned)), float(start.r + reach * mpmath.sin(turned)))
    assert arc.length == pytest.approx(float(length), abs=NEAR)
    assert near(arc.point_at(share * arc.length), there)


@given(arcs(), lines())
def test_lengths_agree_with_forty_digits_on_parts_of_two_metres(arc: Arc, line: Line) -> None:
    for element in (arc.scaled(10.0), line.scaled(10.0)):
        with mpmath.workdps(40):
            assert float(abs(mp_length(element) - element.length)) <= NEAR


def mp_length(element: Element) -> mpmath.mpf:
    chord = mpmath.hypot(mpmath.mpf(element.end.z) - element.start.z, mpmath.mpf(element.end.r) - element.start.r)
    if isinstance(element, Line):
        return chord
    out = mpmath.mpc(element.start.z, element.start.r) - mpmath.mpc(*element.centre)
    back = mpmath.mpc(element.end.z, element.end.r) - mpmath.mpc(*element.centre)
    angle = mpmath.arg(back / out) * (1 if element.turn == "ccw" else -1)
    return (angle % (2 * mpmath.pi)) * (abs(out) + abs(back)) / 2
