"""Speed along a contour from the declared inputs."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.contour import Chain, Line, Point
from calc.cutting.nouns import PointNumber
from calc.language.problems import Impossible, Missing, OutOfRange, Problem
from calc.machining.passes import Referral, Spindle, trace
from calc.machining.speed_along import stations
from calc.questions.cutting import facing_time
from calc.questions.cutting.speed_along import AlongInputs, NoseInputs, solve
from calc.questions.cutting.tool_path import PathShape, PointsInputs, ShapeInputs
from tests.asking import asked
from tests.tries import tries

FACE = AlongInputs(surface_speed=200_000.0, max_rpm=3000.0, feed=0.2, sizes=ShapeInputs(outer_diameter=100.0))
SEAT = AlongInputs(
    shape="dish", surface_speed=220_000.0, max_rpm=2000.0, feed=0.2, sizes=ShapeInputs(radius=75.0, depth=4.5)
)
anything = st.none() | st.floats(allow_nan=True, allow_infinity=True)


def test_a_face_takes_the_published_time() -> None:
    """100 to the axis, 200 m/min, 0.2, 3000 1/min: 12.311489 s; formula of printed catalogues, at 30 digits."""
    assert 60 * solve(FACE).results.time == pytest.approx(12.311489, abs=5e-7)


def test_a_face_agrees_with_the_facing_time_page() -> None:
    one = facing_time.solve(
        facing_time.FacingTimeInputs(surface_speed=200_000.0, outer_diameter=100.0, feed=0.2, max_rpm=3000.0)
    )
    assert solve(FACE).results.time == pytest.approx(one.results.time)


def test_referred_to_the_tool_point_the_true_speed_at_the_mouth_is_321() -> None:
    """The seat: contact on 51.18, tool point on 35.08 (geometry), so 220 m/min become 321."""
    nose = NoseInputs(nose_radius=6.0, speed_at="point")
    found = solve(replace(SEAT, nose=nose))
    assert round(found.results.fastest / 1000) == 321
    assert "fastest" in [caution.about for caution in found.cautions]
    at_contact = solve(replace(SEAT, nose=replace(nose, speed_at="contact")))
    assert at_contact.results.fastest == pytest.approx(220_000.0)
    assert "fastest" not in [caution.about for caution in at_contact.cautions]


def test_a_slower_feed_inside_takes_longer_and_stands_in_the_table() -> None:
    slower = replace(SEAT, nose=NoseInputs(inside_diameter=8.0, inside_feed=0.1))
    assert solve(slower).results.time == pytest.approx(solve(SEAT).results.time + 4.0 / (0.2 * 2000), rel=2e-3)
    assert {row.feed for row in solve(slower).tables["places"]} == {0.1, 0.2}


def test_a_run_up_is_an_allowance_beside_the_time() -> None:
    found = solve(replace(FACE, nose=NoseInputs(run_up=3.0 / 60))).results
    assert found.run_up_time == pytest.approx(3.0 / 60 * found.rpm_start / 3000.0)
    assert found.total_time == pytest.approx(found.time + (found.run_up_time or 0.0))


def test_a_spindle_that_gains_too_slowly_is_told_with_the_place() -> None:
    """Toward the axis dn/dt = 2 pi f n^3/v rises to 2827 1/min a second (calculus); a run-up of 2 s gains 1500."""
    found = solve(replace(FACE, nose=NoseInputs(run_up=2.0 / 60)))
    assert found.results.acceleration_needed / 60 == pytest.approx(2827.0, rel=0.02)
    (caution,) = [caution for caution in found.cautions if caution.about == "acceleration_needed"]
    assert "it gains 1500 1/min each second" in caution.message.say()
    quick = solve(replace(FACE, nose=NoseInputs(run_up=1.0 / 60)))
    assert "acceleration_needed" not in [caution.about for caution in quick.cautions]


def test_a_nose_that_does_not_fit_is_refused_and_an_inside_corner_is_noted() -> None:
    with pytest.raises(Impossible, match="does not fit into the concave"):
        solve(replace(SEAT, nose=NoseInputs(nose_radius=75.0)))
    points = PointsInputs(x_1=20.0, z_1=0.0, x_2=20.0, z_2=-20.0, x_3=30.0, z_3=-20.0)
    inside = replace(FACE, shape="lines", points=points)
    assert solve(inside).notes == ()
    (note,) = solve(replace(inside, nose=NoseInputs(nose_radius=0.8))).notes
    assert "inside corner" in note.say()


@pytest.mark.parametrize(
    ("shape", "ends", "point_r"),
    [
        ("lines", ((20.0, 0.0), (20.0, -30.0)), 20.0),
        ("lines", ((20.0, -30.0), (20.0, 0.0)), 20.0),
        ("bore", ((20.0, 0.0), (20.0, -30.0)), 20.0 - 2 * 0.8),
        ("lines", ((20.0, 0.0), (5.0, 0.0)), 20.0 - 0.8),
        ("lines", ((5.0, 0.0), (20.0, 0.0)), 5.0 - 0.8),
    ],
)
def test_the_nose_stands_on_the_free_side_of_lines(shape: PathShape, ends: Any, point_r: float) -> None:
    """Tool point 3 stands one nose radius nearer to the axis than the nose centre (common practice; geometry)."""
    (x_1, z_1), (x_2, z_2) = ends
    points = PointsInputs(x_1=x_1, z_1=z_1, x_2=x_2, z_2=z_2)
    nose = NoseInputs(nose_radius=0.8, speed_at="point")
    found = solve(replace(FACE, shape=shape, points=points, nose=nose, surface_speed=50_000.0)).results
    assert found.rpm_start == pytest.approx(50_000.0 / (2 * math.pi * point_r))


def test_lines_through_points_run_in_order_and_a_cylinder_has_no_plot_against_x() -> None:
    points = PointsInputs(x_1=10.0, z_1=0.0, x_2=11.0, z_2=-20.0, x_3=20.0, z_3=-20.0)
    found = solve(replace(FACE, shape="lines", points=points))
    assert found.contour is not None
    assert [round(element.length, 3) for element in found.contour] == [20.025, 9.0]
    assert len(found.plots) == 2
    straight = PointsInputs(x_1=10.0, z_1=0.0, x_2=10.0, z_2=-20.0)
    assert solve(replace(FACE, shape="lines", points=straight)).plots == ()


@pytest.mark.parametrize(
    ("inputs", "problem", "words"),
    [
        (replace(FACE, sizes=ShapeInputs()), Missing, "outer_diameter: Give the outer diameter"),
        (replace(SEAT, sizes=ShapeInputs(radius=75.0)), Missing, "depth: Give the depth of the dish"),
        (replace(FACE, sizes=ShapeInputs(outer_diameter=20.0, inner_diameter=20.0)), Impossible, "must be smaller"),
        (replace(FACE, nose=NoseInputs(inside_diameter=8.0)), Missing, "inside_feed: For a slower feed inside"),
        (replace(FACE, shape="lines"), Missing, "x_1: Give X and Z of at least two points"),
        (replace(FACE, shape="lines", points=PointsInputs(x_1=10.0)), Missing, "z_1: Give both X and Z of point 1"),
        (
            replace(FACE, shape="lines", points=PointsInputs(x_1=10.0, z_1=0.0, x_2=10.0, z_2=0.0)),
            Impossible,
            "Point 2 is the same as the one before it",
        ),
    ],
)
def test_what_is_missing_or_impossible_is_said(inputs: AlongInputs, problem: type[Problem], words: str) -> None:
    with pytest.raises(problem, match=words):
        solve(inputs)


def test_a_hole_that_takes_the_whole_dish_is_refused_at_the_field_that_gave_it() -> None:
    with pytest.raises(Impossible) as refused:
        solve(replace(SEAT, sizes=ShapeInputs(radius=75.0, depth=4.5, inner_diameter=60.0)))
    assert [fault.field for fault in refused.value.faults] == ["inner_diameter"]


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 0.0])
def test_a_value_that_cannot_be_meant_is_refused(bad: float) -> None:
    with pytest.raises(OutOfRange, match="feed"):
        solve(replace(FACE, feed=bad))


shapes = st.sampled_from(["face", "dish", "lines", "bore"])
noses = st.none() | st.floats(0.01, 100.0)


@settings(max_examples=tries(60))
@given(
    shapes, anything, anything, anything, noses, st.sampled_from(["contact", "point"]), st.sampled_from("0123456789")
)
def test_any_floats_give_finite_numbers_or_a_sentence(
    shape: PathShape, a: Any, b: Any, c: Any, nose: float | None, speed_at: Any, number: PointNumber
) -> None:
    question = AlongInputs(
        shape=shape, surface_speed=200_000.0, max_rpm=2500.0, feed=0.2,
        sizes=asked(ShapeInputs, outer_diameter=a, inner_diameter=b, radius=c, depth=b),
        points=PointsInputs(x_1=a, z_1=b, x_2=c, z_2=a, x_3=b, z_3=c),
        nose=NoseInputs(nose_radius=nose, speed_at=speed_at, tool_point=number),
    )  # fmt: skip
    try:
        found = solve(question)
    except Problem:
        return
    assert math.isfinite(found.results.time)
    assert found.results.time > 0.0


def test_a_nose_cannot_touch_the_last_of_either_wall_and_takes_no_time_there() -> None:
    """X20 Z0, Z-10, X40 with a nose of 4: it touches 6 of each wall, 12 mm in all; by quadrature of pi D / (v f)."""
    points = PointsInputs(x_1=10.0, z_1=0.0, x_2=10.0, z_2=-10.0, x_3=20.0, z_3=-10.0)
    nose = NoseInputs(nose_radius=4.0)
    asked_for = AlongInputs(shape="lines", surface_speed=180_000.0, max_rpm=2000.0, feed=0.2, points=points, nose=nose)
    found = solve(asked_for).results
    turning = 6.0 / (0.2 * 2000.0)  # 180 m/min on 20 would be 2865 1/min, over the limit
    rpm = [min(2000.0, 180_000.0 / (2 * math.pi * (14.0 + 6.0 * (i + 0.5) / 4000))) for i in range(4000)]
    facing = sum(6.0 / 4000 / (0.2 * n) for n in rpm)
    assert found.time == pytest.approx(turning + facing, rel=1e-6)
    assert round(found.time, 4) == 0.0328


@pytest.mark.parametrize("longest", [1e-3, 1.0, 1e4])
@pytest.mark.parametrize("feed", [1e-3, 10.0])
def test_the_places_that_are_looked_at_are_bounded_whatever_is_typed(longest: float, feed: float) -> None:
    """Five points at most, so four lines and the swings between them; neither length nor feed adds a place."""
    corners = [Point(-longest * index, 5.0 + longest * (index % 2)) for index in range(5)]
    pieces = trace(Chain(tuple(Line(a, b) for a, b in pairwise(corners))), 0.4, feed)
    assert len(pieces) <= 7
    assert len(stations(pieces, Referral(0.4), Spindle(200_000.0, 3000.0), 160)) <= 160 + 2 * len(pieces)
