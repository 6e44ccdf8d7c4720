"""The helps of the bench, each against the drawing that it stands for, built independently."""

from math import atan, cos, hypot, radians, sin, sqrt, tan
from typing import Any

import pytest
from scipy.optimize import brentq
from shapely.geometry import LineString, Point

from calc.language.given import Given
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange
from calc.questions.measuring import (
    ball_in_cone,
    centre_distance,
    chamfer_measured,
    dovetail,
    gauge_fit,
    radius_by_rollers,
    sine_bar,
    taper_by_balls,
)
from calc.questions.measuring.ball_in_cone import BallInConeInputs
from calc.questions.measuring.centre_distance import CentresInputs
from calc.questions.measuring.chamfer_measured import ChamferInputs
from calc.questions.measuring.dovetail import DovetailInputs
from calc.questions.measuring.gauge_fit import GaugeFitInputs, WarmInputs
from calc.questions.measuring.radius_by_rollers import RollersInputs
from calc.questions.measuring.sine_bar import SineBarInputs
from calc.questions.measuring.taper_by_balls import TaperByBallsInputs


def resting(ball: float, wall: LineString) -> float:
    """How deep the centre of a ball on the axis stands where it touches the wall; by shapely and scipy."""
    return float(brentq(lambda y: wall.distance(Point(0.0, y)) - ball / 2, 0.0, wall.coords[1][1]))


@pytest.mark.parametrize(("half", "face"), [(2.862405, 30.0), (8.297145, 50.0), (1.489355, 25.0)])
def test_two_balls_in_a_bore_lead_back_to_its_taper(half: float, face: float) -> None:
    """1:10, 7/24 and Morse 7 by their half angles (ISO 1119, ISO 297, ASME B5.10); balls dropped into a drawing."""
    a = radians(half)
    deep = face / 2 / tan(a)
    wall = LineString([(face / 2, 0.0), (0.0, deep)])
    large, small = 0.9 * face, 0.8 * face
    tops = {ball: resting(ball, wall) - ball / 2 for ball in (large, small)}
    found = taper_by_balls.solve(
        TaperByBallsInputs(large_ball=large, large_depth=tops[large], small_ball=small, small_depth=tops[small])
    ).results
    assert found.half_angle == pytest.approx(a, abs=1e-9)
    assert found.face_diameter == pytest.approx(face, abs=1e-7)
    assert found.taper_ratio == pytest.approx(2 * tan(a), abs=1e-9)


@pytest.mark.parametrize("slope", [0.1, -0.1, 0.0])
def test_rollers_at_two_heights_lead_back_to_the_taper(slope: float) -> None:
    """Rollers of 12 pushed against a cone of 40 on the plate: their centres one radius from wall and plate."""

    def over(height: float) -> float:
        wall = LineString([(20 - 100 * slope, -100.0), (20 + 200 * slope, 200.0)])
        centre = brentq(lambda x: wall.distance(Point(x, height + 6.0)) - 6.0, 20 + slope * height + 3.0, 80.0)
        return float(2 * centre + 12)

    found = taper_by_balls.solve(
        TaperByBallsInputs(where="outside", roller=12.0, over_low=over(0.0), over_high=over(50.0), height=50.0)
    ).results
    assert found.half_angle == pytest.approx(atan(slope), abs=1e-9)
    assert found.face_diameter == pytest.approx(40.0, abs=1e-7)


def test_a_ball_in_a_countersink_an_edge_and_a_dish() -> None:
    """Dropped into a 90 degree cone of 12 at the face; a 3-4-5 triangle on an edge; a ball on a dish's bottom."""
    wall = LineString([(6.0, 0.0), (0.0, 6.0)])
    height = 4.0 - resting(8.0, wall)
    cone = BallInConeInputs(ball_diameter=8.0, height=height, included_angle=radians(90))
    assert ball_in_cone.solve(cone).results.diameter == pytest.approx(12.0, abs=1e-9)
    edge = BallInConeInputs(shape="edge", ball_diameter=10.0, height=9.0)
    assert ball_in_cone.solve(edge).results.diameter == pytest.approx(6.0)
    assert ball_in_cone.solve(BallInConeInputs(shape="dish", ball_diameter=20.0, height=15.5)).results.depth == 4.5


@pytest.mark.parametrize("radius", [8.0, 40.0, 75.0, 500.0])
def test_rollers_beside_and_in_an_arc(radius: float) -> None:
    """Circles that touch: centres R + r or R - r apart, those of the rollers r over the plate or r from the middle."""
    roller = 5.0
    over = 2 * sqrt((radius + roller) ** 2 - (radius - roller) ** 2) + 2 * roller
    crowned = RollersInputs(surface="convex", roller=2 * roller, over=over)
    assert radius_by_rollers.solve(crowned).results.radius == pytest.approx(radius)
    roller = 2.0
    step = (radius - roller) - sqrt((radius - roller) ** 2 - roller**2)
    hollow = RollersInputs(surface="concave", roller=2 * roller, step=step)
    assert radius_by_rollers.solve(hollow).results.radius == pytest.approx(radius)


@pytest.mark.parametrize("degrees", [45.0, 55.0, 60.0])
def test_a_dovetail_leads_back_from_rollers_in_its_corners(degrees: float) -> None:
    """A corner of that angle at (25, 0): the roller's centre one radius from the base and from the flank."""
    a, r = radians(degrees), 4.0
    flank = LineString([(25.0, 0.0), (25.0 + 60 * cos(a), 60 * sin(a))])
    outside = brentq(lambda x: flank.distance(Point(x, r)) - r, 25.0 + r / tan(a) + 1e-9, 60.0)
    found = dovetail.solve(DovetailInputs(measured=2 * (outside + r), roller=2 * r, angle=a, height=10.0)).results
    assert found.corner_width == pytest.approx(50.0, abs=1e-8)
    assert found.other_width == pytest.approx(50.0 + 20.0 / tan(a), abs=1e-8)
    lean = LineString([(25.0, 0.0), (25.0 - 20 * cos(a), 20 * sin(a))])
    inside = brentq(lambda x: lean.distance(Point(x, r)) - r, -10.0, 25.0 - r / tan(a) - 1e-9)
    slot = DovetailInputs(form="slot", measured=2 * (inside - r), roller=2 * r, angle=a, height=3.0)
    assert dovetail.solve(slot).results.corner_width == pytest.approx(50.0, abs=1e-8)
    assert dovetail.solve(slot).results.other_width == pytest.approx(50.0 - 6.0 / tan(a), abs=1e-8)


def test_the_sine_bar_goes_both_ways() -> None:
    """100 mm at 30 degrees stands on 50.000: the sine of 30 degrees."""
    up = sine_bar.solve(SineBarInputs(bar_length=100.0, angle=radians(30), stack_error=0.001)).results
    assert up.stack == pytest.approx(50.0)
    assert up.angle_spread == pytest.approx(0.001 / (100 * cos(radians(30))))
    assert sine_bar.solve(SineBarInputs(bar_length=100.0, stack=50.0)).results.angle == pytest.approx(radians(30))
    steep = sine_bar.solve(SineBarInputs(bar_length=100.0, angle=radians(60)))
    assert "angle plate" in steep.cautions[0].message.say()


def test_a_chamfer_by_its_diameters() -> None:
    """22 to 20 over 1: 1 x 45 degrees; over 1.732: 30 degrees to the axis."""
    found = chamfer_measured.solve(ChamferInputs(large_diameter=22.0, small_diameter=20.0, length=1.0)).results
    assert [found.leg_x, found.leg_z, found.angle, found.width] == pytest.approx([1, 1, radians(45), sqrt(2)])
    other = ChamferInputs(large_diameter=22.0, small_diameter=20.0, angle=radians(30))
    assert chamfer_measured.solve(other).results.leg_z == pytest.approx(sqrt(3))


def test_centres_by_over_and_between() -> None:
    """Two pins of 10 and 12, 50 apart: 61 over, 39 between."""
    for told in ({"over": 61.0}, {"between": 39.0}, {"over": 61.0, "between": 39.0}):
        found = centre_distance.solve(CentresInputs(first_diameter=10.0, second_diameter=12.0, **told))
        assert found.results.distance == pytest.approx(50.0)
    with pytest.raises(Contradiction, match=r"differ by 0.100 mm"):
        centre_distance.solve(CentresInputs(first_diameter=10.0, second_diameter=12.0, over=61.0, between=39.1))


@pytest.mark.parametrize(
    ("spread", "said"),
    [(0.002, "good enough"), (0.004, "good enough"), (0.006, "just good enough"), (0.02, "too coarse")],
)
def test_one_in_ten_is_good_enough_and_one_in_five_just(spread: float, said: str) -> None:
    """Common practice, no source: a tolerance of 0.04."""
    found = gauge_fit.solve(GaugeFitInputs(size=Given(60.0, limits=(59.98, 60.02)), spread=spread))
    assert found.results.wanted == pytest.approx(0.004)
    assert found.results.verdict == said
    assert bool(found.cautions) == (said == "too coarse")


def test_tilt_and_warmth_are_what_geometry_and_expansion_say() -> None:
    """A dial 10 degrees askew shows 1.5 % too much; steel 60 long, 15 kelvin warmer: 0.01035 at 11.5e-6 (handbooks)."""
    warm = WarmInputs(part_temperature=35.0, gauge_temperature=20.0)
    size = Given(60.0, limits=(59.98, 60.02))
    found = gauge_fit.solve(GaugeFitInputs(size=size, travel=2.0, tilt=radians(10), spread=0.003, warm=warm)).results
    assert found.tilt_error == pytest.approx(2.0 * (1 - cos(radians(10))))
    assert found.warm_error == pytest.approx(60.0 * 11.5e-6 * 15.0)
    assert found.total_spread == pytest.approx(hypot(0.003, 0.1 * 60 * 11.5e-6 * 15))
    same = WarmInputs(part_temperature=35.0)
    assert gauge_fit.solve(GaugeFitInputs(size=size, warm=same)).results.warm_error == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(
    ("question", "inputs", "kind", "field"),
    [
        (taper_by_balls, TaperByBallsInputs(), Missing, "large_ball"),
        (
            taper_by_balls,
            TaperByBallsInputs(large_ball=20.0, large_depth=5.0, small_ball=25.0, small_depth=40.0),
            Impossible,
            "small_ball",
        ),
        (
            taper_by_balls,
            TaperByBallsInputs(large_ball=30.0, large_depth=5.0, small_ball=20.0, small_depth=14.0),
            Impossible,
            "small_depth",
        ),
        (
            taper_by_balls,
            TaperByBallsInputs(where="outside", roller=30.0, over_low=50.0, over_high=51.0, height=10.0),
            Impossible,
            "over_low",
        ),
        (ball_in_cone, BallInConeInputs(ball_diameter=8.0, height=2.0), Missing, "included_angle"),
        (ball_in_cone, BallInConeInputs(ball_diameter=8.0, height=9.0), Missing, "included_angle"),
        (ball_in_cone, BallInConeInputs(shape="edge", ball_diameter=8.0, height=9.0), Impossible, "height"),
        (ball_in_cone, BallInConeInputs(shape="edge", ball_diameter=8.0, height=3.0), Impossible, "height"),
        (
            ball_in_cone,
            BallInConeInputs(ball_diameter=8.0, height=7.9, included_angle=radians(90)),
            Impossible,
            "height",
        ),
        (radius_by_rollers, RollersInputs(roller=10.0), Missing, "over"),
        (radius_by_rollers, RollersInputs(roller=10.0, over=20.0), Impossible, "over"),
        (radius_by_rollers, RollersInputs(surface="concave", roller=10.0, step=5.0), Impossible, "step"),
        (dovetail, DovetailInputs(measured=20.0, roller=10.0, angle=1.0), Impossible, "measured"),
        (
            dovetail,
            DovetailInputs(form="slot", measured=10.0, roller=5.0, angle=1.0, height=90.0),
            Impossible,
            "height",
        ),
        (sine_bar, SineBarInputs(bar_length=100.0), Missing, "angle"),
        (sine_bar, SineBarInputs(bar_length=100.0, angle=0.5, stack=20.0), Impossible, "angle"),
        (sine_bar, SineBarInputs(bar_length=100.0, stack=100.0), Impossible, "stack"),
        (sine_bar, SineBarInputs(bar_length=0.0, stack=10.0), OutOfRange, "bar_length"),
        (chamfer_measured, ChamferInputs(large_diameter=20.0, small_diameter=20.0), Impossible, "small_diameter"),
        (chamfer_measured, ChamferInputs(large_diameter=20.0, small_diameter=18.0), Missing, "length"),
        (
            chamfer_measured,
            ChamferInputs(large_diameter=20.0, small_diameter=18.0, length=1.0, angle=1.0),
            Impossible,
            "length",
        ),
        (centre_distance, CentresInputs(first_diameter=10.0, second_diameter=12.0), Missing, "over"),
        (centre_distance, CentresInputs(first_diameter=10.0, second_diameter=12.0, over=9.0), Impossible, "over"),
        (gauge_fit, GaugeFitInputs(size=60.0), Missing, "size"),
        (
            gauge_fit,
            GaugeFitInputs(size=Given(60.0, limits=(59.98, 60.02)), tilt=0.1),
            Impossible,
            "travel",
        ),
    ],
)
def test_what_cannot_be_is_said_at_its_field(question: Any, inputs: Any, kind: Any, field: str) -> None:
    with pytest.raises(kind) as raised:
        question.solve(inputs)
    assert raised.value.faults[0].field == field
