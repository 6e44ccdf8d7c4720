"""The time of a pass against quadrature along the print itself, whatever speed and feed are referred to.

The reference knows nothing of pieces and parallels. It goes along the print by angle (about the dish's centre, about
that of the edge radius, about a corner) and asks at each place where the contact, the nose centre and the tool point
are; a step of the governing length then takes step / (feed × spindle speed).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from calc.contour import Arc, Line, Point
from calc.machining.passes import Piece, Referral, Spindle, approach, legs, pass_row, pass_time, slowed_inside, trace
from calc.shapes.dish.bowl import DishInputs, EdgeBreak, EdgeInputs
from calc.shapes.dish.geometry import Dish, solve_dish
from tests.shapes.dish.strategies import dishes
from tests.tries import tries

from .strategies import feeds, limits, nose_shares, referrals, run_ins, speeds

TOWARD_X = {0: 0, 1: 1, 2: 1, 3: -1, 4: -1, 5: 0, 6: 1, 7: 0, 8: -1, 9: 0}
V = 220_000.0


@dataclass(frozen=True)
class Stretch:
    """One smooth stretch over t from 0 to 1: radius of the contact, radius of the nose centre, the two lengths."""

    contact_r: Callable[[float], float]
    centre_r: Callable[[float], float]
    contact_length: float
    centre_length: float


def dish_stretch(dish: Dish, nose: float) -> Stretch:
    """By the angle from the axis, from where the edge ends to the axis or the hole."""
    R, first, last = dish.bowl.radius, dish.edge.arc_start.r, dish.hole_radius
    begin, end = math.asin(min(first / dish.bowl.radius, 1.0)), math.asin(last / dish.bowl.radius)

    def at(size: float) -> Callable[[float], float]:
        return lambda t: size * math.sin(begin + t * (end - begin))

    return Stretch(at(R), at(R - nose), R * (begin - end), (R - nose) * (begin - end))


def edge_stretches(dish: Dish, nose: float) -> Iterator[Stretch]:
    """The edge: a chamfer and the swing round its inner corner, or an edge radius."""
    edge, inner = dish.edge.element, dish.edge.arc_start
    if edge is None:
        return
    slope = math.asin(min(inner.r / dish.bowl.radius, 1.0))
    if isinstance(edge, Line):
        lean = math.atan2(-inner.z, edge.start.r - inner.r)
        length = math.hypot(inner.z, edge.start.r - inner.r)
        flat = partial_line(edge.start.r, inner.r)
        aside = nose * math.sin(lean)  # the nose centre stands square to the chamfer, toward the axis
        yield Stretch(flat, lambda t: flat(t) - aside, length, length)
        yield Stretch(
            lambda _: inner.r,
            lambda t: inner.r - nose * math.sin(lean + t * (slope - lean)),
            0.0,
            nose * (slope - lean),
        )
        return
    size = (edge.start.r - inner.r) / math.sin(slope)
    at = edge.start.r
    yield Stretch(
        lambda t: at - size * math.sin(t * slope),
        lambda t: at - (size + nose) * math.sin(t * slope),
        size * slope,
        (size + nose) * slope,
    )


def partial_line(first: float, last: float) -> Callable[[float], float]:
    return lambda t: first + t * (last - first)


def run_in_stretch(dish: Dish, nose: float, length: float) -> Stretch:
    """Straight along the first tangent; the nose centre beside it."""
    first = dish.cut.start.r
    if dish.edge.element is None:
        lean = dish.bowl.slope
    elif isinstance(dish.edge.element, Line):
        lean = math.atan2(-dish.edge.arc_start.z, first - dish.edge.arc_start.r)
    else:
        lean = 0.0
    reach = length * math.cos(lean)
    aside = nose * math.sin(lean)
    return Stretch(
        partial_line(first + reach, first), partial_line(first + reach - aside, first - aside), length, length
    )


def reference_time(
    stretches: list[Stretch],
    referral: Referral,
    spindle: Spindle,
    feed_at: Callable[[float], float],
    inner_r: float | None = None,
) -> float:
    """Minutes by quadrature: one turn takes 2 pi |x| / v, or 1 / n where the limit holds."""
    step = TOWARD_X[referral.number] * (referral.nose_radius or 0.0)
    slowest = 0.0 if spindle.max_rpm is None else 1.0 / spindle.max_rpm
    total = 0.0
    for stretch in stretches:
        fed = stretch.contact_length if referral.feed_at == "contour" else stretch.centre_length

        def minutes(t: float, stretch: Stretch = stretch, fed: float = fed) -> float:
            contact = stretch.contact_r(t)
            held = contact if referral.speed_at == "contact" else stretch.centre_r(t) + step
            return fed / feed_at(contact) * max(slowest, 2 * math.pi * abs(held) / spindle.surface_speed)

        cuts = kinks(stretch, step, referral, spindle, inner_r)
        total += math.fsum(quad(minutes, a, b, epsabs=1e-15, epsrel=1e-11)[0] for a, b in pairwise(cuts))
    return total


def kinks(stretch: Stretch, step: float, referral: Referral, spindle: Spindle, inner_r: float | None) -> list[float]:
    """Where the integrand bends or jumps, by bisection on a fine grid, so that quadrature is exact between."""
    limit = 0.0 if spindle.max_rpm is None else spindle.surface_speed / (2 * math.pi * spindle.max_rpm)
    held = stretch.contact_r if referral.speed_at == "contact" else partial_shift(stretch.centre_r, step)
    watched = [partial_shift(held, -limit), partial_shift(held, limit), held]
    if inner_r is not None:
        watched.append(partial_shift(stretch.contact_r, -inner_r))
    grid = np.linspace(0.0, 1.0, 65)
    found = {0.0, 1.0}
    for condition in watched:
        values = [condition(t) for t in grid]
        for (a, fa), (b, fb) in pairwise(zip(grid, values, strict=True)):
            if fa * fb < 0.0:
                found.add(bisected(condition, float(a), float(b)))
    return sorted(found)


def partial_shift(of: Callable[[float], float], by: float) -> Callable[[float], float]:
    return lambda t: of(t) + by


def bisected(condition: Callable[[float], float], low: float, high: float) -> float:
    sign = condition(low) > 0.0
    for _ in range(60):
        middle = (low + high) / 2
        if (condition(middle) > 0.0) == sign:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def stretches_of(dish: Dish, nose: float, run_in: float) -> list[Stretch]:
    before = [run_in_stretch(dish, nose, run_in)] if run_in else []
    return [*before, *edge_stretches(dish, nose), dish_stretch(dish, nose)]


def dish_90() -> Dish:
    return solve_dish(DishInputs(radius=90.0, depth=4.5))


def test_the_finishing_pass_over_the_dish_of_90_takes_its_known_time() -> None:
    for nose in (None, 0.8, 6.0):
        time = pass_time(trace(dish_90().cut, nose, 0.15), Referral(nose), Spindle(V, 2000.0))
        assert time.total == pytest.approx(0.106383, abs=5e-7)
        # the limit takes over at Ø35.0141: what lies inside is fed at 2000 1/min
        inner = 90.0 * math.asin(35.0141 / 2 / 90.0)
        assert time.at_limit == pytest.approx(inner / (0.15 * 2000.0), rel=1e-5)


@settings(max_examples=tries(120), deadline=None)
@given(st.data(), dishes(holes=True), nose_shares, feeds, speeds, limits, run_ins)
def test_every_way_of_holding_speed_and_feed_takes_the_time_of_quadrature(
    data: st.DataObject, dish: Dish, share: float, feed: float, v: float, limit: float | None, run_in: float
) -> None:
    nose = share * dish.bowl.radius
    referral = data.draw(referrals(nose))
    pieces = approach(trace(dish.cut, nose, feed), run_in)
    spindle = Spindle(v, limit)
    expected = reference_time(stretches_of(dish, nose, run_in), referral, spindle, lambda _: feed)
    assert pass_time(pieces, referral, spindle).total == pytest.approx(expected, rel=1e-8)


@pytest.mark.parametrize("speed_at", ["contact", "point"])
@pytest.mark.parametrize("feed_at", ["contour", "centre"])
@pytest.mark.parametrize("number", [2, 3, 7])
@pytest.mark.parametrize("kind", ["none", "chamfer", "radius"])
def test_the_seat_with_a_slower_middle_takes_the_time_of_quadrature(
    speed_at: str, feed_at: str, number: int, kind: EdgeBreak
) -> None:
    edge = EdgeInputs(break_kind=kind, break_size=0.8 if kind != "none" else None)
    dish = solve_dish(DishInputs(radius=75.0, depth=4.5, edge=edge))
    referral = Referral(6.0, number, speed_at, feed_at)  # type: ignore[arg-type]
    spindle = Spindle(V, 2000.0)
    pieces = approach(slowed_inside(trace(dish.cut, 6.0, 0.2), 8.0, 0.1), 2.0)
    expected = reference_time(
        stretches_of(dish, 6.0, 2.0), referral, spindle, lambda contact_r: 0.1 if contact_r < 4.0 else 0.2, 4.0
    )
    assert pass_time(pieces, referral, spindle).total == pytest.approx(expected, rel=1e-9)


@settings(max_examples=tries(60), deadline=None)
@given(st.data(), dishes(holes=True), nose_shares, st.floats(0.05, 1.2), feeds)
def test_slowing_down_inside_a_diameter_keeps_the_way_and_changes_the_feed_there_alone(
    data: st.DataObject, dish: Dish, share: float, inner: float, feed: float
) -> None:
    nose = share * dish.bowl.radius
    diameter = inner * dish.bowl.mouth_diameter
    whole = trace(dish.cut, nose, feed)
    slowed = slowed_inside(whole, diameter, feed / 3)
    assert sum(p.contact_length for p in slowed) == pytest.approx(sum(p.contact_length for p in whole), rel=1e-12)
    referral = data.draw(referrals(nose))
    assert sum(leg.length for leg in legs(slowed, referral)) == pytest.approx(
        sum(leg.length for leg in legs(whole, referral)), rel=1e-9
    )
    for piece in slowed:
        middle = piece.contact if isinstance(piece.contact, Point) else piece.contact.point_at(piece.contact_length / 2)
        assert piece.feed == (feed / 3 if middle.r < diameter / 2 else feed)
        assert piece.contact_length == 0.0 or crosses_not(piece, diameter / 2)


def crosses_not(piece: Piece, r: float) -> bool:
    assert not isinstance(piece.contact, Point)
    low, high = sorted((piece.contact.start.r, piece.contact.end.r))
    return not low + 1e-9 * high < r < high - 1e-9 * high


def test_nothing_is_slowed_without_both_the_diameter_and_the_feed() -> None:
    pieces = trace(dish_90().cut, 6.0, 0.15)
    assert slowed_inside(pieces, None, 0.1) == pieces
    assert slowed_inside(pieces, 8.0, None) == pieces


@settings(max_examples=tries(60), deadline=None)
@given(dishes(holes=True), nose_shares)
def test_the_nose_touches_what_its_piece_says_all_along(dish: Dish, share: float) -> None:
    nose = share * dish.bowl.radius
    for piece in trace(dish.cut, nose, 0.2):
        assert piece.centre is not None
        for i in range(11):
            centre = piece.centre.point_at(piece.centre.length * i / 10)
            touched = piece.contact
            if not isinstance(touched, Point):
                touched = touched.point_at(touched.length * i / 10)
            assert centre.distance_to(touched) == pytest.approx(nose, rel=1e-9, abs=1e-9)


def test_round_the_corner_of_a_chamfer_the_contact_stays_and_the_nose_centre_goes_on() -> None:
    edge = EdgeInputs(break_kind="chamfer", break_size=0.8)
    dish = solve_dish(DishInputs(radius=75.0, depth=4.5, edge=edge))
    chamfer, swing, arc = trace(dish.cut, 6.0, 0.2)
    assert isinstance(chamfer.contact, Line)
    assert swing.contact == dish.edge.arc_start
    assert swing.contact_length == 0.0
    assert swing.centre is not None
    assert swing.centre.length > 0.0
    assert isinstance(arc.contact, Arc)


def test_the_run_in_is_straight_in_front_of_the_cut_and_cuts_nothing() -> None:
    dish = dish_90()
    air, *rest = approach(trace(dish.cut, 6.0, 0.15), 2.0)
    assert rest == trace(dish.cut, 6.0, 0.15)
    assert air.in_air
    assert isinstance(air.contact, Line)
    assert air.contact_length == pytest.approx(2.0)
    assert air.contact.end == dish.cut.start
    slope = math.atan2(air.contact.start.z, air.contact.start.r - air.contact.end.r)
    assert slope == pytest.approx(dish.bowl.slope, rel=1e-9)
    assert approach(rest, 0.0) == rest
    assert approach(rest, 1e-300) == rest


@settings(max_examples=tries(50), deadline=None)
@given(st.data(), dishes(), nose_shares, feeds, speeds, st.floats(50.0, 10_000.0))
def test_the_row_of_a_pass_says_where_it_runs_how_far_and_how_long(
    data: st.DataObject, dish: Dish, share: float, feed: float, v: float, limit: float
) -> None:
    nose = share * dish.bowl.radius
    referral = data.draw(referrals(nose))
    pieces = approach(trace(dish.cut, nose, feed), 2.0)
    row = pass_row("finish", pieces, referral, Spindle(v, limit), 0.3)
    stretches = stretches_of(dish, nose, 2.0)
    fed = [s.contact_length if referral.feed_at == "contour" else s.centre_length for s in stretches]
    assert row.length == pytest.approx(sum(fed), rel=1e-9)
    assert row.engaged_length == pytest.approx(sum(fed[1:]), rel=1e-9)
    assert row.time == pass_time(pieces, referral, Spindle(v, limit)).total
    step = TOWARD_X[referral.number] * nose
    assert row.start_x == pytest.approx(stretches[0].centre_r(0.0) + step, rel=1e-9, abs=1e-9)
    assert row.end_x == pytest.approx(step, rel=1e-9, abs=1e-9)
    first = stretches[0].contact_r(0.0) if referral.speed_at == "contact" else abs(stretches[0].centre_r(0.0) + step)
    held_end = 0.0 if referral.speed_at == "contact" else abs(step)
    for held, rpm in ((first, row.rpm_start), (held_end, row.rpm_end)):
        assert rpm == pytest.approx(limit if held == 0.0 else min(limit, v / (2 * math.pi * held)), rel=1e-9)


def test_without_a_nose_to_refer_to_a_row_stands_where_the_centre_does() -> None:
    """As for a blade, whose pieces follow one of its corners."""
    path = Line(Point(1.0, 12.0), Point(-3.0, 9.0))
    row = pass_row("plunge", [Piece(path.shifted(0.5, 0.0), path, 0.1)], Referral(), Spindle(V, 2000.0), 3.0)
    assert (row.start_z, row.start_x, row.end_z, row.end_x) == (1.0, 12.0, -3.0, 9.0)
    assert (row.length, row.engaged_length) == (5.0, 5.0)


def test_a_piece_is_cut_where_its_contact_or_its_centre_passes_a_radius_and_the_other_in_proportion() -> None:
    """A contact 10 long from r 8 to r 2 and a centre 5 long from r 4 to r 0, by hand."""
    piece = Piece(Line(Point(0.0, 8.0), Point(8.0, 2.0)), Line(Point(1.0, 4.0), Point(4.0, 0.0)), 0.2)
    at_contact, at_centre = piece.split_at_contact_r(5.0), piece.split_at_centre_r(1.0)
    assert [(part.contact_length, part.path.length) for part in at_contact] == [pytest.approx((5.0, 2.5))] * 2
    assert [(part.contact_length, part.path.length) for part in at_centre] == [
        pytest.approx((7.5, 3.75)),
        pytest.approx((2.5, 1.25)),
    ]
    assert at_centre[0].path.end.r == pytest.approx(1.0)
    assert piece.split_at_contact_r(9.0) == piece.split_at_centre_r(5.0) == [piece]


def test_on_the_axis_no_limit_means_no_spindle_speed_but_a_finite_time() -> None:
    row = pass_row("finish", trace(dish_90().cut, None, 0.15), Referral(), Spindle(V, None), 0.3)
    assert row.rpm_end is None
    assert row.rpm_start == pytest.approx(1245.98, abs=0.05)
    far_back = trace(dish_90().cut.shifted(-200.0, 0.0), None, 0.15)
    assert pass_row("finish", far_back, Referral(), Spindle(V, None), 0.3).rpm_start == row.rpm_start
    # the mean diameter of a circular arc from the axis is 2 R (1 - cos) / angle: Pappus
    angle = math.asin(28.10249099 / 90.0)
    assert row.time == pytest.approx(math.pi * 2 * 90.0 * 4.5 / (V * 0.15), rel=1e-8)
    assert row.length == pytest.approx(90.0 * angle, rel=1e-9)
