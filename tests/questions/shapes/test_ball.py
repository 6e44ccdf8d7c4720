"""The ball: exact triangles, another geometry library, and every refusal."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from mpmath import mp, mpf
from scipy.integrate import quad
from shapely import Point as ShapelyPoint

from calc.language.fields import build, specs
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.questions.shapes.ball import Ball, BallInputs, BallResults, solve, solve_ball
from tests.tries import tries

SPECS = {spec.name: spec for spec in specs(BallInputs)}


def results(**values: Any) -> BallResults:
    return solve(build(BallInputs, values)).results


def refused(**values: Any) -> Problem:
    with pytest.raises(Problem) as caught:
        solve(build(BallInputs, values))
    return caught.value


def test_a_ball_of_pythagoras_is_as_long_as_its_triangle_says() -> None:
    """Right triangle 3-4-5: a ball of 10 on a neck of 8 is 5 + 3 long; on a neck of 6 it is 5 + 4."""
    assert results(ball_diameter=10.0, neck_diameter=8.0).ball_length == 8.0
    assert results(ball_diameter=10.0, neck_diameter=6.0).ball_length == 9.0
    assert results(ball_diameter=10.0, ball_length=9.0).neck_diameter == pytest.approx(6.0)
    assert results(neck_diameter=6.0, ball_length=9.0).ball_diameter == pytest.approx(10.0)


def test_a_spherometers_ball_has_the_sagitta_of_the_handbook() -> None:
    """Machinery's Handbook 31, p. 83: a ball of 25 over a ring of 20 stands 5 deep, so 20 of it are on the far side."""
    assert results(ball_diameter=25.0, neck_diameter=20.0).ball_length == pytest.approx(20.0)


def test_a_half_ball_stands_on_a_shank_of_its_own_diameter() -> None:
    found = results(ball_diameter=24.0, neck_diameter=24.0)
    assert found.ball_length == 12.0
    assert found.back_slope == 0.0
    assert found.volume == pytest.approx(2 / 3 * math.pi * 12.0**3)
    assert solve(BallInputs(ball_diameter=24.0, neck_diameter=24.0)).cautions == ()


balls = st.tuples(st.floats(0.5, 500.0), st.floats(0.05, 0.98), st.floats(0.01, 2.0))


@settings(max_examples=tries(120), deadline=None)
@given(balls)
def test_the_fillet_is_smooth_on_neck_and_ball(ball: tuple[float, float, float]) -> None:
    D, neck, fillet = ball[0], ball[0] * ball[1], ball[0] * ball[2]
    found = solve_ball(BallInputs(ball_diameter=D, neck_diameter=neck, neck_radius=fillet))
    assert found.fillet is not None
    assert found.fillet.tangent_at(0.0) == pytest.approx((1.0, 0.0), abs=1e-9)
    assert found.cut.joints[0].turn == pytest.approx(0.0, abs=1e-6)
    disc = ShapelyPoint(found.fillet.centre.z, found.fillet.centre.r)
    assert disc.distance(ShapelyPoint(-D / 2, 0.0)) == pytest.approx(D / 2 + fillet, rel=1e-12)
    assert found.fillet.centre.r == pytest.approx(neck / 2 + fillet)


@settings(max_examples=tries(60), deadline=None)
@given(balls)
def test_any_two_give_the_third_back_and_the_volume_is_that_of_its_slices(ball: tuple[float, float, float]) -> None:
    first = results(ball_diameter=ball[0], neck_diameter=ball[0] * ball[1])
    again = results(ball_diameter=ball[0], ball_length=first.ball_length)
    other = results(neck_diameter=first.neck_diameter, ball_length=first.ball_length)
    assert again.neck_diameter == pytest.approx(first.neck_diameter, rel=1e-6)
    assert other.ball_diameter == pytest.approx(ball[0], rel=1e-9)
    R = ball[0] / 2
    slices, _ = quad(lambda z: math.pi * (R**2 - (R - z) ** 2), 0.0, first.ball_length)
    assert first.volume == pytest.approx(slices, rel=1e-9)
    arc = solve_ball(BallInputs(ball_diameter=ball[0], neck_diameter=ball[0] * ball[1])).arc
    assert first.arc_length == pytest.approx(arc.length)


def test_the_back_slope_is_cautioned_with_its_angle() -> None:
    answer = solve(BallInputs(ball_diameter=10.0, neck_diameter=5.0))
    assert math.degrees(answer.results.back_slope) == pytest.approx(60.0)
    assert "up to 60.000°" in answer.cautions[0].message.say()
    assert [point.label for point in answer.points] == ["neck", "end"]


def test_dimensions_that_disagree_are_all_named() -> None:
    problem = refused(ball_diameter=10.0, neck_diameter=8.0, ball_length=9.0)
    assert isinstance(problem, Contradiction)
    assert problem.fields == ("ball_diameter", "neck_diameter", "ball_length")
    assert problem.faults[0].message.say() == (
        "A ball diameter of Ø10 mm and a neck diameter of Ø8 mm give a length of 8.000 mm; 9 mm differs from that by "
        "1.000 mm. Leave out the one that is not on the print."
    )


def test_too_little_says_what_would_do() -> None:
    problem = refused(ball_diameter=10.0)
    assert isinstance(problem, Missing)
    assert [(fault.field, fault.message.say()) for fault in problem.faults] == [
        (name, "With the ball diameter, one more is needed: the neck diameter or the length.")
        for name in ("neck_diameter", "ball_length")
    ]
    assert refused().faults[0].message.say().startswith("Give any two of ball diameter, neck diameter")


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"ball_diameter": 10.0, "neck_diameter": 12.0}, "neck_diameter", "thicker than the ball Ø10 mm"),
        ({"ball_diameter": 10.0, "ball_length": 4.0}, "ball_length", "between 5.000 mm (half of it) and 10.000 mm"),
        ({"ball_diameter": 10.0, "ball_length": 10.0}, "ball_length", "no neck to stand on"),
        ({"neck_diameter": 10.0, "ball_length": 4.0}, "ball_length", "at least 5.000 mm long"),
        ({"ball_diameter": 10.0, "neck_diameter": 10.0, "neck_radius": 1.0}, "neck_radius", "joins its shank smoothly"),
    ],
)
def test_what_cannot_be_says_why_at_its_field(values: dict[str, float], field: str, words: str) -> None:
    problem = refused(**values)
    assert isinstance(problem, Impossible)
    assert [fault.field for fault in problem.faults] == [field]
    assert words in problem.faults[0].message.say()


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf, 1e9])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(bad: float) -> None:
    problem = refused(ball_diameter=bad, neck_diameter=5.0)
    assert isinstance(problem, OutOfRange)
    assert problem.faults[0].field == "ball_diameter"


wild = st.one_of(st.floats(), st.floats(-7.0, 4.0).map(lambda power: 10.0**power))


@settings(max_examples=tries(120), deadline=None)
@given(st.fixed_dictionaries({name: st.none() | wild for name in SPECS}))
def test_any_floats_give_a_right_ball_or_a_sentence(values: dict[str, Any]) -> None:
    try:
        solve(build(BallInputs, values))
        found = solve_ball(build(BallInputs, values))
    except Problem as problem:
        said = [fault.message.say() for fault in problem.faults if fault.field in SPECS]
    else:
        assert_right(found)
        return
    assert said
    assert all(said)


def assert_right(ball: Ball) -> None:
    """Neck, length and ball make a right triangle in 50 digits."""
    mp.dps = 50
    D, d, L = (mpf(ball.sizes[name]) for name in ("ball_diameter", "neck_diameter", "ball_length"))
    near = 1e-9 * max(1, float(D), float(ball.fillet.radius) if ball.fillet else 0)
    assert 0 < d <= D * (1 + mpf(10) ** -12)
    assert abs(mp.hypot(L - D / 2, d / 2) - D / 2) < near
    assert abs(mp.hypot(mpf(ball.arc.start.z) + D / 2, mpf(ball.arc.start.r)) - D / 2) < near
