"""The cut along a pass, against Kienzle's formula written out, closed forms and quadrature."""

from __future__ import annotations

from math import acos, cos, pi, radians, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from calc.contour import Chain, Line, Point, Vector
from calc.cutting.chip import Edge
from calc.cutting.machine import Machine
from calc.cutting.materials import material
from calc.machining.force_along import Taking, loads, mean_power, work_of
from calc.machining.passes import Piece, Referral, Spindle, pass_time, trace
from calc.shapes.dish.bowl import DishInputs
from calc.shapes.dish.geometry import solve_dish
from tests.tries import tries

C45 = material("C45")
FACE = Chain((Line(Point(0.0, 50.0), Point(0.0, 0.0)),))
SEAT = solve_dish(DishInputs(radius=75.0, depth=4.5)).cut
TAPER = Chain((Line(Point(0.0, 10.0), Point(-20.0, 15.0)),))
Z, V, FEED = Vector(1.0, 0.0), 180_000.0, 0.25
KW = 60e6


def kienzle(depth: float, feed: float, nose: float) -> float:
    """Force of a round edge: b = r acos(1 - a/r), h = f a/b, F = kc1.1 h^-mc b h.

    Geometry as in 'Heat resistant super alloys' (printed guide), p. 19. C45 with kc1.1 2220 N/mm2 and
    mc 0.14: the first published pair of its table.
    """
    width = nose * acos(1 - depth / nose)
    chip = feed * depth / width
    return float(2220.0 * chip**-0.14 * width * chip)


def seat_depth(r: float, shift: float) -> float:
    """The contour shifted along Z: the normal of a circle leans by asin(r/R) from the axis."""
    return shift * sqrt(1 - (r / 75.0) ** 2)


def test_a_face_takes_one_power_down_to_the_limit_and_then_less_in_proportion_to_x() -> None:
    force = kienzle(1.0, FEED, 6.0)
    for load in loads(
        trace(FACE, None, FEED), Referral(), Spindle(V, 2000.0), Taking(C45, Edge(6.0), 1.0), Machine(), 60
    ):
        x = load.station.contact.r
        speed = min(V, 2 * pi * x * 2000.0)
        assert load.force.force == pytest.approx(force)
        assert load.power == pytest.approx(force * speed)
        assert load.torque == pytest.approx(force * x)


def test_a_dish_shifted_along_z_is_cut_less_deep_toward_its_mouth() -> None:
    found = loads(
        trace(SEAT, 6.0, FEED), Referral(6.0), Spindle(V, 2000.0), Taking(C45, Edge(6.0), 0.84, Z), Machine(), 50
    )
    for load in found:
        depth = seat_depth(load.station.contact.r, 0.84)
        assert load.depth == pytest.approx(depth)
        assert load.force.force == pytest.approx(kienzle(depth, FEED, 6.0))
    assert found[-1].depth == pytest.approx(0.84)


def test_a_depth_along_the_normal_is_the_same_everywhere() -> None:
    found = loads(
        trace(SEAT, 6.0, FEED), Referral(6.0), Spindle(V, 2000.0), Taking(C45, Edge(6.0), 0.84), Machine(), 50
    )
    assert {load.depth for load in found} == {0.84}


def test_on_a_taper_a_depth_along_z_and_one_along_x_are_those_of_its_angle() -> None:
    """A 5 in 20 taper: the normal leans by atan(5/20) from the radius."""
    leaning = acos(20 / sqrt(20**2 + 5**2))
    for toward, share in ((Vector(0.0, 1.0), cos(leaning)), (Z, sqrt(1 - cos(leaning) ** 2))):
        cut = Taking(C45, Edge(0.8), 2.0, toward, side=-1.0)
        (first, *_) = loads([Piece(TAPER.elements[0], None, FEED)], Referral(), Spindle(V, 2000.0), cut, Machine(), 4)
        assert first.depth == pytest.approx(2.0 * share)


def test_where_the_shift_leads_away_from_the_tool_nothing_is_cut() -> None:
    cut = Taking(C45, Edge(0.8), 2.0, Vector(-1.0, 0.0), side=1.0)
    assert {
        load.force.force for load in loads(trace(FACE, None, FEED), Referral(), Spindle(V, 2000.0), cut, Machine(), 9)
    } == {0.0}


@pytest.mark.parametrize("max_rpm", [600.0, 2000.0, 6000.0])
def test_the_mean_power_is_the_quadrature_of_the_power_over_the_time(max_rpm: float) -> None:
    """scipy: the integral of F v dt over that of dt, with dt = ds / (f n), along the arc's angle."""
    end = acos(1 - 4.5 / 75.0)

    def rpm(angle: float) -> float:
        return min(V / (2 * pi * max(75.0 * sin(angle), 1e-12)), max_rpm)

    def sin(angle: float) -> float:
        return sqrt(1 - cos(angle) ** 2)

    def power(angle: float) -> float:
        r = 75.0 * sin(angle)
        return kienzle(seat_depth(r, 0.84), FEED, 6.0) * 2 * pi * r * rpm(angle)

    limit = V / (2 * pi * max_rpm) / 75.0
    kinks = [acos(sqrt(1 - limit**2))] if limit < sin(end) else None
    work = quad(lambda t: power(t) * 75.0 / (FEED * rpm(t)), 0.0, end, points=kinks, epsrel=1e-11, limit=200)[0]
    time = quad(lambda t: 75.0 / (FEED * rpm(t)), 0.0, end, points=kinks, epsrel=1e-11, limit=200)[0]
    pieces, cut = trace(SEAT, 6.0, FEED), Taking(C45, Edge(6.0), 0.84, Z)
    found = mean_power(work_of(pieces, Referral(6.0), cut), pass_time(pieces, Referral(6.0), Spindle(V, max_rpm)).total)
    assert found == pytest.approx(work / time, rel=1e-8)


def test_the_work_of_a_pass_does_not_depend_on_the_spindle_but_halves_with_twice_the_length_fed_a_turn() -> None:
    """With a constant force a face takes 2 pi F r L / f at its mean radius."""
    force = kienzle(1.0, FEED, 6.0)
    found = work_of(trace(FACE, None, FEED), Referral(), Taking(C45, Edge(6.0), 1.0))
    assert found == pytest.approx(2 * pi * force * 25.0 * 50.0 / FEED)


def test_counted_along_the_nose_centre_the_feed_at_the_contact_is_larger_in_a_dish() -> None:
    """The centre runs on R - r, the contact on R."""
    found = loads(
        trace(SEAT, 6.0, FEED),
        Referral(6.0, 3, "contact", "centre"),
        Spindle(V, 2000.0),
        Taking(C45, Edge(6.0), 1.0),
        Machine(),
        9,
    )
    assert found[0].feed == pytest.approx(FEED * 75.0 / 69.0)


def test_below_its_base_speed_the_machine_gives_power_in_proportion_to_the_speed() -> None:
    machine = Machine(motor_power=11 * KW, base_rpm=1000.0)
    found = loads(trace(FACE, None, FEED), Referral(), Spindle(V, 2000.0), Taking(C45, Edge(6.0), 1.0), machine, 60)
    for load in found:
        assert load.available == pytest.approx(11 * KW * 0.8 * min(load.station.rpm / 1000.0, 1.0))
    assert found[0].share == pytest.approx(found[0].power / (found[0].available or 0.0))


@settings(max_examples=tries(40))
@given(st.floats(0.05, 5.0), st.floats(0.05, 0.6), st.floats(1.01, 2.0))
def test_a_deeper_or_faster_fed_cut_takes_more_force_at_every_place(depth: float, feed: float, more: float) -> None:
    def forces(depth: float, feed: float) -> list[float]:
        cut = Taking(C45, Edge(0.8, radians(95.0)), depth, Z)
        return [
            load.force.force
            for load in loads(trace(SEAT, 0.8, feed), Referral(0.8), Spindle(V, 2000.0), cut, Machine(), 9)
        ]

    few = forces(depth, feed)
    assert all(a < b for a, b in zip(few, forces(depth * more, feed), strict=True))
    assert all(a < b for a, b in zip(few, forces(depth, feed * more), strict=True))


def test_the_nose_turning_round_an_edge_has_no_place() -> None:
    corner = Chain((Line(Point(0.0, 20.0), Point(0.0, 10.0)), Line(Point(0.0, 10.0), Point(-5.0, 10.0))))
    pieces = trace(corner, 0.8, FEED)
    assert any(isinstance(piece.contact, Point) for piece in pieces)
    found = loads(pieces, Referral(0.8), Spindle(V, 2000.0), Taking(C45, Edge(0.8), 0.5), Machine(), 30)
    assert found[-1].along == pytest.approx(15.0)
    assert [load.along for load in found] == sorted(load.along for load in found)
