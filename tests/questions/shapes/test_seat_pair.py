"""Seat and pad: 50 digits, intersecting circles by another library, and every refusal."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from mpmath import mp, mpf
from sympy import Circle as SymCircle
from sympy import Point as SymPoint
from sympy import Rational

from calc.language.fields import build, specs
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.questions.shapes.seat_pair import SeatPairInputs, SeatPairResults, solve
from tests.tries import tries

SPECS = {spec.name: spec for spec in specs(SeatPairInputs)}


def results(**values: Any) -> SeatPairResults:
    return solve(build(SeatPairInputs, values)).results


def refused(**values: Any) -> Problem:
    with pytest.raises(Problem) as caught:
        solve(build(SeatPairInputs, values))
    return caught.value


def exact_sagitta(radius: float, diameter: float) -> mpf:
    """Height of an arc by its angle, at 50 digits."""
    mp.dps = 50
    return mpf(radius) * (1 - mp.cos(mp.asin(mpf(diameter) / 2 / mpf(radius))))


def test_a_smaller_pad_touches_in_the_centre_and_gaps_at_the_rim() -> None:
    """By hand: over 8, R 5 is 2 deep, R 8.5 (half chord 4, 7.5 to the chord) is 1 deep."""
    found = results(seat_radius=8.5, pad_radius=5.0, seat_mouth_diameter=8.0)
    assert found.touches == "in the centre, open toward the rim"
    assert found.rim_gap == pytest.approx(1.0)
    assert found.centre_gap == 0.0
    assert found.contact_diameter == 0.0


def test_a_flatter_pad_touches_at_the_rim_and_gaps_in_the_centre() -> None:
    found = results(seat_radius=5.0, pad_radius=8.5, seat_mouth_diameter=8.0)
    assert found.touches == "at the rim, open in the centre"
    assert found.centre_gap == pytest.approx(1.0)
    assert found.rim_gap == 0.0
    assert found.contact_inner_diameter == pytest.approx(8.0)
    assert found.contact_diameter == 8.0


def test_equal_radii_touch_all_over() -> None:
    found = results(seat_radius=75.0, difference=0.0, seat_mouth_diameter=51.0)
    assert found.touches == "all over"
    assert found.contact_diameter == 51.0
    assert found.rim_gap == 0.0


def test_the_blued_spot_is_where_two_circles_cross_in_exact_arithmetic() -> None:
    """By sympy: seat R 75 and pad R 74.6 lifted by a film of 0.005 cross at the edge of the spot."""
    found = results(seat_radius=75.0, pad_radius=74.6, seat_mouth_diameter=50.8, film=0.005)
    seat = SymCircle(SymPoint(75, 0), 75)
    pad = SymCircle(SymPoint(Rational("74.6") - Rational("0.005"), 0), Rational("74.6"))
    height = max(abs(point.y) for point in seat.intersection(pad))
    assert found.contact_diameter == pytest.approx(2 * float(height), rel=1e-9)


radii = st.floats(math.log10(2.0), 3.5).map(lambda power: 10.0**power)


@settings(max_examples=tries(60), deadline=None)
@given(radii, st.floats(1e-5, 0.2), st.floats(0.05, 0.9), st.booleans())
def test_the_gap_is_the_difference_of_the_depths_to_a_nanometre(
    seat: float, share: float, rim_share: float, flatter: bool
) -> None:
    pad = seat * (1 + share if flatter else 1 - share)
    rim = 2 * min(seat, pad) * rim_share
    found = results(seat_radius=seat, pad_radius=pad, seat_mouth_diameter=rim)
    right = abs(exact_sagitta(pad, rim) - exact_sagitta(seat, rim))
    assert abs(found.rim_gap + found.centre_gap - float(right)) < 1e-9 * max(1.0, seat / 1000)


@settings(max_examples=tries(60), deadline=None)
@given(radii, st.floats(1e-3, 0.2), st.floats(0.05, 0.9), st.booleans(), st.floats(0.01, 0.99))
def test_at_the_edge_of_the_spot_the_two_are_just_the_film_apart(
    seat: float, share: float, rim_share: float, flatter: bool, film_share: float
) -> None:
    pad = seat * (1 + share if flatter else 1 - share)
    rim = 2 * min(seat, pad) * rim_share
    bare = results(seat_radius=seat, pad_radius=pad, seat_mouth_diameter=rim)
    film = film_share * (bare.rim_gap + bare.centre_gap)
    assume(1e-5 < film <= 1.0)
    found = results(seat_radius=seat, pad_radius=pad, seat_mouth_diameter=rim, film=film)
    edge = found.contact_inner_diameter if flatter else found.contact_diameter
    assert edge is not None
    apart = exact_sagitta(pad, edge) - exact_sagitta(seat, edge)
    apart = bare.centre_gap + apart if flatter else apart
    assert float(apart) == pytest.approx(film, rel=1e-6, abs=1e-9)


def test_any_two_of_the_radii_and_their_difference_do() -> None:
    first = results(seat_radius=75.0, pad_radius=74.6, seat_mouth_diameter=50.0)
    assert results(seat_radius=75.0, difference=0.4, seat_mouth_diameter=50.0).pad_radius == pytest.approx(74.6)
    assert results(pad_radius=74.6, difference=0.4, seat_mouth_diameter=50.0).seat_radius == pytest.approx(75.0)
    assert first.difference == pytest.approx(0.4)


def test_the_smaller_diameter_is_the_common_rim() -> None:
    assert (
        results(seat_radius=75.0, pad_radius=74.6, seat_mouth_diameter=51.0, pad_edge_diameter=50.0).rim_diameter
        == 50.0
    )
    assert results(seat_radius=75.0, pad_radius=74.6, pad_edge_diameter=49.0).rim_diameter == 49.0


def test_radii_that_disagree_are_named() -> None:
    problem = refused(seat_radius=75.0, pad_radius=74.6, difference=0.5, seat_mouth_diameter=50.0)
    assert isinstance(problem, Contradiction)
    assert problem.fields == ("seat_radius", "pad_radius", "difference")
    assert problem.otherwise["difference"].value == pytest.approx(0.4)


def test_too_little_says_what_would_do() -> None:
    problem = refused(seat_mouth_diameter=50.0)
    assert isinstance(problem, Missing)
    assert problem.faults[0].message.say() == "Give any two of seat radius, pad radius and their difference."
    problem = refused(seat_radius=75.0, pad_radius=74.6)
    assert isinstance(problem, Missing)
    assert [fault.field for fault in problem.faults] == ["seat_mouth_diameter", "pad_edge_diameter"]


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"seat_radius": 20.0, "difference": 21.0, "seat_mouth_diameter": 9.0}, "difference", "other radius would be"),
        (
            {"seat_radius": 20.0, "pad_radius": 19.0, "seat_mouth_diameter": 41.0},
            "seat_mouth_diameter",
            "seat's mouth Ø41 mm",
        ),
        (
            {"seat_radius": 20.0, "pad_radius": 5.0, "seat_mouth_diameter": 11.0},
            "seat_mouth_diameter",
            "common rim Ø11 mm",
        ),
        ({"seat_radius": 20.0, "pad_radius": 5.0, "pad_edge_diameter": 11.0}, "pad_edge_diameter", "pad's edge Ø11 mm"),
    ],
)
def test_what_cannot_be_says_why_at_its_field(values: dict[str, float], field: str, words: str) -> None:
    problem = refused(**values)
    assert isinstance(problem, Impossible)
    assert [fault.field for fault in problem.faults] == [field]
    assert words in problem.faults[0].message.say()


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf, 1e9])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(bad: float) -> None:
    problem = refused(seat_radius=bad, pad_radius=5.0, seat_mouth_diameter=5.0)
    assert isinstance(problem, OutOfRange)
    assert problem.faults[0].field == "seat_radius"


wild = st.one_of(st.floats(), st.floats(-7.0, 4.0).map(lambda power: 10.0**power))


@settings(max_examples=tries(120), deadline=None)
@given(st.fixed_dictionaries({name: st.none() | wild for name in SPECS}))
def test_any_floats_give_a_right_pair_or_a_sentence(values: dict[str, Any]) -> None:
    try:
        found = results(**values)
    except Problem as problem:
        said = [fault.message.say() for fault in problem.faults if fault.field in SPECS]
    else:
        rim = found.rim_diameter
        right = abs(exact_sagitta(found.pad_radius, rim) - exact_sagitta(found.seat_radius, rim))
        assert found.rim_gap + found.centre_gap == pytest.approx(float(right), abs=1e-8, rel=1e-6)
        assert 0.0 <= found.contact_diameter <= rim
        return
    assert said
    assert all(said)
