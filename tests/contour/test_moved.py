"""A contour whose elements are moved by distances of their own: corners by hand."""

from __future__ import annotations

from itertools import pairwise

import pytest

from calc.contour import Arc, Chain, ContourError, Line, Point, Side
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
