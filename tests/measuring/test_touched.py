"""Points of an arc that a ball touched, among diameters: where its centre stands, and what they lead back to."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from calc.contour import Arc, Chain, Line, Point
from calc.measuring.causes import State
from calc.measuring.estimate import Measured
from calc.measuring.first_part import first_part
from calc.measuring.places import Place, find, size
from calc.measuring.touched import Along, find_point

MOUTH = math.sqrt(4.5 * (150.0 - 4.5))
SEAT = Chain(
    (
        Arc(Point(-4.5, 0.0), Point(0.0, MOUTH), Point(70.5, 0.0), "cw"),
        Line(Point(0.0, MOUTH), Point(0.0, 30.0)),
        Line(Point(0.0, 30.0), Point(-20.0, 30.0)),
    )
)
BALL = 1.5


def touch(at: float, along: Along = "z", ball: float = BALL, chain: Chain = SEAT) -> Place:
    place = find_point(chain, "right", along, at, ball)
    assert place is not None
    return place


@pytest.mark.parametrize("x", [0.0, 5.0, 12.0, 20.0])
def test_in_a_dish_the_balls_centre_is_on_a_circle_smaller_by_the_ball(x: float) -> None:
    """R 73.5 about Z 70.5."""
    assert size(touch(x), State(), 3) == pytest.approx(math.sqrt(73.5**2 - x * x) - 70.5, abs=1e-12)


@pytest.mark.parametrize("along", ["x", "z"])
def test_a_ball_that_touches_stands_its_radius_off_the_surface(along: Along) -> None:
    """shapely, from the contour as points: the distance of the ball's centre from a crown with a cone."""
    crown = Chain(
        (
            Arc(Point(0.0, 0.0), Point(-5.0, 15.0), Point(-25.0, 0.0), "ccw"),
            Line(Point(-5.0, 15.0), Point(-25.0, 22.0)),
        )
    )
    points = [element.point_at(element.length * share) for element in crown for share in np.linspace(0, 1, 20_001)]
    drawn = shapely.LineString([(point.z, point.r) for point in points])
    for at in (4.0, 9.0) if along == "z" else (-3.0, -15.0):
        place = touch(at, along, 2.0, crown)
        shown = size(place, State(), 3)
        centre = (-shown, at) if along == "z" else (at, shown / 2.0)
        assert drawn.distance(shapely.Point(centre)) == pytest.approx(2.0, abs=1e-6)


def test_a_true_nose_that_is_larger_is_touched_deeper_beside_the_axis() -> None:
    """The arc grows by 0.1 about a centre that moved by (0.1, 0.1): the ball's centre on a circle 73.6 by hand."""
    moved = size(touch(12.0), State(nose=0.1), 3)
    assert moved == pytest.approx(-(70.6 - math.sqrt(73.6**2 - (12.0 - 0.1) ** 2)), abs=1e-9)


def test_points_of_the_arc_and_a_diameter_lead_back_to_nose_and_offset() -> None:
    """The seat with nose 5.9 believed 6.0 and X off by 0.01 per side; the diameter parts them."""
    true = State(x=0.01, nose=-0.1)
    cylinder = find(SEAT, "right", "diameter", -10.0, 60.0)
    assert cylinder is not None
    places = [*(touch(x) for x in (1.0, 8.0, 15.0, 22.0)), cylinder]
    made = first_part(SEAT, "right", [Measured(place, size(place, true, 3), 0.001) for place in places], 3)
    assert (made.key_x, made.key_nose) == pytest.approx((-0.01, -0.1), abs=2e-4)
    alone = first_part(SEAT, "right", [Measured(place, size(place, true, 3), 0.002) for place in places[:4]], 3)
    assert ("offset_x", "nose_radius_change") in alone.found.together


def test_there_is_no_point_beside_the_contour_nor_for_a_ball_larger_than_the_hollow() -> None:
    assert find_point(SEAT, "right", "z", 40.0, BALL) is None
    groove = Chain((Arc(Point(0.0, 10.0), Point(-2.0, 10.0), Point(-1.0, 10.0), "cw"),))
    assert find_point(groove, "right", "x", -1.0, 2.0) is None
