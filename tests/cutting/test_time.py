"""Cutting times against numerical quadrature, printed formulas, and the scenario's dish."""

import math
from collections.abc import Callable

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from calc.contour import Arc, Element, Line, Point
from calc.cutting.speed import limit_diameter
from calc.cutting.time import Leg, SpeedPath, cutting_time, total_time
from calc.language.problems import OutOfRange
from calc.language.working import recording
from tests.tries import tries

V = 220_000.0


def facing(outer: float, inner: float, feed: float) -> Leg:
    return Leg(Line(Point(0.0, outer / 2), Point(0.0, inner / 2)), (outer - inner) / 2, feed)


def dish(radius: float, depth: float) -> Arc:
    half_mouth = math.sqrt(depth * (2 * radius - depth))
    return Arc(Point(0.0, half_mouth), Point(-depth, 0.0), Point(radius - depth, 0.0), "ccw")


def distance_from_axis(path: SpeedPath) -> Callable[[float], float]:
    """|r| against the share of the path passed, from the ends, the centre and the angle alone."""
    if isinstance(path, Point):
        return lambda _: abs(path.r)
    if isinstance(path, Line):
        return lambda t: abs(path.start.r + t * (path.end.r - path.start.r))
    begin = math.atan2(path.start.r - path.centre.r, path.start.z - path.centre.z)
    turned = path.angle if path.turn == "ccw" else -path.angle
    return lambda t: abs(path.centre.r + path.radius * math.sin(begin + t * turned))


def time_by_quadrature(leg: Leg, v: float, max_rpm: float | None) -> float:
    r = distance_from_axis(leg.speed_path)
    slowest = 0.0 if max_rpm is None else 1 / max_rpm

    def minutes_per_turn(t: float) -> float:
        return max(slowest, 2 * math.pi * r(t) / v)

    turns = leg.length / leg.feed
    steps = 64  # short stretches, so that kinks cost quadrature little
    parts = [quad(minutes_per_turn, i / steps, (i + 1) / steps, epsabs=1e-14, epsrel=1e-11)[0] for i in range(steps)]
    return turns * math.fsum(parts)


coordinates = st.floats(-60.0, 60.0)
points = st.builds(Point, coordinates, coordinates)


@st.composite
def paths(draw: st.DrawFn) -> SpeedPath:
    kind = draw(st.sampled_from(["point", "line", "arc"]))
    if kind == "point":
        return draw(points)
    if kind == "line":
        start, end = draw(points), draw(points)
        assume(start.distance_to(end) > 0.01)
        return Line(start, end)
    begin, sweep = draw(st.floats(-math.pi, math.pi)), draw(st.floats(0.001, 6.2))
    turn = draw(st.sampled_from(["cw", "ccw"]))
    end_angle = begin + (sweep if turn == "ccw" else -sweep)
    return Arc.from_angles(draw(points), draw(st.floats(0.5, 500.0)), begin, end_angle, turn)  # type: ignore[arg-type]


legs = st.builds(Leg, paths(), st.floats(0.0, 500.0), st.floats(0.01, 1.0))


@settings(max_examples=tries(150), deadline=None)
@given(legs, st.floats(1_000.0, 600_000.0), st.none() | st.floats(50.0, 10_000.0))
def test_every_time_agrees_with_quadrature(leg: Leg, v: float, max_rpm: float | None) -> None:
    ours = cutting_time(leg, v, max_rpm).total
    assert ours == pytest.approx(time_by_quadrature(leg, v, max_rpm), rel=1e-8, abs=1e-12)


@pytest.mark.parametrize(("max_rpm", "seconds"), [(None, 11.780972), (3000.0, 12.311489)])
def test_facing_agrees_with_the_closed_form_of_two_catalogues(max_rpm: float | None, seconds: float) -> None:
    # T = pi (D1^2 - D2^2)/(4000 v f): general catalogue 2020-2021 p. L030; T1 in catalogue 2021-2022 p. 1069
    assert 60 * cutting_time(facing(100.0, 0.0, 0.2), 200_000.0, max_rpm).total == pytest.approx(seconds, abs=1e-6)


@given(st.floats(1.0, 500.0), st.floats(0.0, 0.99), st.floats(20.0, 500.0), st.floats(0.02, 1.0))
def test_facing_without_a_limit_is_the_ring_over_speed_and_feed(d: float, share: float, v: float, f: float) -> None:
    inner = share * d
    expected = math.pi * (d**2 - inner**2) / (4000 * v * f)
    assert cutting_time(facing(d, inner, f), v * 1000, None).total == pytest.approx(expected, rel=1e-9)


def test_facing_at_a_held_speed_agrees_with_fundamentals_of_modern_manufacturing() -> None:
    # Fundamentals of Modern Manufacturing, ch. 22: 6 in, 180 1/min, .008 in/rev; from memory, recomputed
    leg = facing(6 * 25.4, 0.0, 0.008 * 25.4)
    assert cutting_time(leg, 1e9, 180.0).total == pytest.approx(2.0833, abs=5e-5)


def test_the_dish_of_radius_90_takes_its_known_time() -> None:
    arc = dish(90.0, 4.5)
    time = cutting_time(Leg(arc, arc.length, 0.15), V, 2000.0)
    assert time.total == pytest.approx(0.106383, abs=5e-7)
    assert limit_diameter(V, 2000.0) == pytest.approx(35.0141, abs=5e-5)


def test_time_along_the_tool_points_way_differs_from_that_along_the_contact() -> None:
    arc = dish(75.0, 4.5)
    shifted = arc.offset(6.0, "left").shifted(-6.0, -6.0)
    by_contact = cutting_time(Leg(arc, arc.length, 0.2), V, 2000.0).total
    by_point = cutting_time(Leg(shifted, arc.length, 0.2), V, 2000.0).total
    assert by_point < by_contact
    assert by_point == pytest.approx(time_by_quadrature(Leg(shifted, arc.length, 0.2), V, 2000.0), rel=1e-9)


@settings(max_examples=tries(60), deadline=None)
@given(legs, st.floats(1_000.0, 600_000.0), st.floats(50.0, 10_000.0), st.floats(1.01, 3.0))
def test_more_speed_feed_or_a_higher_limit_never_takes_longer(leg: Leg, v: float, n: float, more: float) -> None:
    time = cutting_time(leg, v, n).total * (1 + 1e-9)
    assert cutting_time(leg, v * more, n).total <= time
    assert cutting_time(leg, v, n * more).total <= time
    assert cutting_time(leg, v, None).total <= time
    assert cutting_time(Leg(leg.speed_path, leg.length, leg.feed * more), v, n).total <= time


@settings(max_examples=tries(60), deadline=None)
@given(legs, st.floats(0.0, 80.0), st.floats(1_000.0, 600_000.0), st.floats(50.0, 10_000.0))
def test_a_leg_cut_in_two_takes_the_same_time(leg: Leg, diameter: float, v: float, n: float) -> None:
    pieces = leg.split_at_diameter(diameter)
    assert sum(piece.length for piece in pieces) == pytest.approx(leg.length, rel=1e-9, abs=1e-9)
    assert total_time(pieces, v, n).total == pytest.approx(cutting_time(leg, v, n).total, rel=1e-8, abs=1e-12)


@settings(max_examples=tries(60), deadline=None)
@given(legs, st.floats(1_000.0, 600_000.0), st.none() | st.floats(50.0, 10_000.0))
def test_the_way_back_and_the_mirror_image_take_the_same_time(leg: Leg, v: float, n: float | None) -> None:
    assume(not isinstance(leg.speed_path, Point))
    path: Element = leg.speed_path  # type: ignore[assignment]
    time = pytest.approx(cutting_time(leg, v, n).total, rel=1e-8, abs=1e-12)
    assert cutting_time(Leg(path.reversed(), leg.length, leg.feed), v, n).total == time
    assert cutting_time(Leg(path.mirrored(), leg.length, leg.feed), v, n).total == time


def test_while_the_nose_swings_round_an_edge_the_speed_stays_that_of_the_edge() -> None:
    swing = Leg(Point(0.0, 30.0), 4.0, 0.2)
    assert list(cutting_time(swing, V, 2000.0)) == pytest.approx([4.0 / 0.2 * math.pi * 60.0 / V, 0.0])
    assert list(cutting_time(Leg(Point(0.0, 10.0), 4.0, 0.2), V, 2000.0)) == pytest.approx([0.0, 0.01])


def test_the_working_shows_both_parts_of_the_time() -> None:
    with recording() as steps:
        cutting_time(facing(60.0, 0.0, 0.2), V, 2000.0)
    names = [step.formula.name.rsplit(".", 1)[1] for step in steps]
    assert names == ["limit_diameter", "mean_diameter_of_line", "time_at_surface_speed", "time_at_limit"]


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan])
def test_nothing_is_timed_without_speed_feed_and_a_limit_above_zero(bad: float) -> None:
    leg = facing(60.0, 0.0, 0.2)
    questions = [
        (leg, bad, 2000.0),
        (leg, V, bad),
        (facing(60.0, 0.0, bad), V, 2000.0),
        (Leg(leg.speed_path, -1.0, 0.2), V, 2000.0),
    ]
    for question in questions:
        with pytest.raises(OutOfRange, match="more than 0"):
            cutting_time(*question)


def test_no_length_takes_no_time_and_no_step_of_the_working() -> None:
    with recording() as steps:
        assert cutting_time(Leg(Point(0.0, 3.0), 0.0, 0.2), V, None) == (0.0, 0.0)
    assert len(steps) == 0
