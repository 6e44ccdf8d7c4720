"""A contour whose elements are moved by distances of their own: corners by hand."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from calc.contour import Arc, Chain, ContourError, Line, Point, Side, Vector
from calc.contour.moved import moved

STEPS = Chain(
    tuple(Line(Point(*a), Point(*b)) for a, b in pairwise([(0.0, 0.0), (0.0, 6.0), (-3.0, 6.0), (-3.0, 9.0)]))
)


@pytest.mark.parametrize(
    ("side", "distances", "corners"),
    [
        ("right", [0.2, 0.5, 0.1], [(0.2, 0.0), (0.2, 6.5), (-2.9, 6.5), (-2.9, 9.0)]),
        ("right", [0.0, -0.5, 0.0], [(0.0, 0.0), (0.0, 5.5), (-3.0, 5.5), (-3.0, 9.0)]),
        ("left", [0.0, 0.5, -0.1], [(0.0, 0.0), (0.0, 5.5), (-2.9, 5.5), (-2.9, 9.0)]),
        ("left", [-0.2, 0.0, 0.0], [(0.2, 0.0), (0.2, 6.0), (-3.0, 6.0), (-3.0, 9.0)]),
    ],
)
def test_each_element_is_moved_to_the_side_and_away_from_it_below_zero(
    side: Side, distances: list[float], corners: list[tuple[float, float]]
) -> None:
    """On the right of travel is what is in front of the face, outside the cylinder and in front of the shoulder."""
    found, of = moved(STEPS, side, distances)
    assert of == (0, 1, 2)
    assert [tuple(found.start), *(tuple(each.end) for each in found)] == [pytest.approx(corner) for corner in corners]


def test_smooth_neighbours_that_part_are_joined_by_a_step_of_the_one_before() -> None:
    """A line on r 5 into an arc of R3 about r 8: lowered by 0.5 it does not meet the arc any more."""
    line, arc = Line(Point(0.0, 5.0), Point(-4.0, 5.0)), Arc(Point(-4.0, 5.0), Point(-7.0, 8.0), Point(-4.0, 8.0), "cw")
    found, of = moved(Chain((line, arc)), "right", [-0.5, 0.0])
    assert of == (0, 0, 1)
    assert found.elements == (line.shifted(0.0, -0.5), Line(Point(-4.0, 4.5), Point(-4.0, 5.0)), arc)


def test_what_vanishes_or_crosses_itself_is_refused() -> None:
    with pytest.raises(ContourError):
        moved(STEPS, "right", [-1.0, 0.0, 2.5])


@pytest.mark.parametrize("scale", [1.0, 25.4, 1.0 / 25.4])
@pytest.mark.parametrize("slope", [0.0, 0.1, 0.35, 0.7, 1.2, 2.0])
@pytest.mark.parametrize("by", [0.5, 0.31])
def test_of_two_smooth_neighbours_the_one_that_stays_is_cut_short_in_mm_and_in_inch(
    by: float, slope: float, scale: float
) -> None:
    """A line raised over a hollow of R3 that it runs into smoothly: both cross half a chord before and after the joint.

    The line is to be raised all along, so that it goes on by sqrt(9 - (3 - by)^2), whichever way it is travelled.
    """
    along, up = Vector.at_angle(math.pi - slope), Vector.at_angle(math.pi / 2.0 - slope)
    joint = Point(-4.0, 20.0)
    centre = joint.moved(up, 3.0)
    line, arc = Line(joint.moved(along, -9.0), joint), Arc(joint, centre.moved(along, 3.0), centre, "cw")
    half = math.sqrt(9.0 - (3.0 - by) ** 2)
    wanted = joint.moved(up, by).moved(along, half).scaled(scale)
    chain = Chain((line.scaled(scale), arc.scaled(scale)))
    there, back = moved(chain, "right", [by * scale, 0.0])[0], moved(chain.reversed(), "left", [0.0, by * scale])[0]
    assert there.elements[0].end.distance_to(wanted) < 1e-9 * scale
    assert back.elements[0].end.distance_to(wanted) < 1e-9 * scale
