"""Exact touches: two solutions fall into one, and it must keep all its digits."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.contour import Arc, Point
from calc.contour.solving import GivenElement, Start, solve
from calc.language.problems import Impossible

E = GivenElement
radii = st.floats(0.5, 200.0).map(lambda x: round(x, 6))
places = st.floats(-500.0, 500.0).map(lambda x: round(x, 6))


@given(places, radii, st.floats(0.1, 1000.0))
def test_a_line_that_just_touches_a_circle_meets_it_once(z: float, radius: float, height: float) -> None:
    # the line runs level at the top of the circle: no tangency is asked, only that they meet
    top = height + radius
    elements = [
        E("line", r=top, angle=math.pi),
        E("arc", centre_z=z, centre_r=height, radius=radius, z=z - radius, turn="ccw"),
    ]
    solutions = solve(Start(z + radius + 10.0, top), elements).solutions
    assert len(solutions) == 1
    assert solutions[0].joints[1].distance_to(Point(z, top)) <= 1e-9


@given(places, radii, radii)
def test_two_circles_that_just_touch_meet_once(z: float, one: float, other: float) -> None:
    elements = [
        E("arc", centre_z=z, centre_r=0.0, radius=one, turn="ccw"),
        E("arc", centre_z=z - one - other, centre_r=0.0, radius=other, z=z - one - other, turn="cw"),
    ]
    for solution in solve(Start(None, 0.0), [E("line", r=0.0, z=z + one, length=1.0), *elements]).solutions:
        assert solution.joints[2].distance_to(Point(z - one, 0.0)) <= 1e-9 * max(1.0, abs(z) / 100.0)


@given(places, st.floats(1.0, 400.0), radii)
def test_a_half_circle_has_its_centre_in_the_middle(z: float, r: float, radius: float) -> None:
    # the chord is the diameter: both centres fall together
    solutions = solve(Start(z, r + radius), [E("arc", z=z - 2.0 * radius, r=r + radius, radius=radius)]).solutions
    for solution in solutions:
        arc = solution.sharp[0]
        assert isinstance(arc, Arc)
        assert arc.centre.distance_to(Point(z - radius, r + radius)) <= 1e-9
    assert {solution.sharp[0].turn for solution in solutions} <= {"cw", "ccw"}  # type: ignore[union-attr]


@given(places, st.floats(0.5, 300.0), st.floats(1.0, 500.0))
def test_a_step_as_long_as_the_line_leaves_one_direction(z: float, length: float, r: float) -> None:
    solutions = solve(Start(z, r), [E("line", length=length, z=z - length)]).solutions
    assert len(solutions) == 1
    assert solutions[0].joints[1].distance_to(Point(z - length, r)) <= 1e-9


@given(radii, st.floats(0.1, 1.0))
def test_an_arc_that_ends_at_its_lowest_point_ends_once(radius: float, share: float) -> None:
    # X of the end is that of the arc's lowest point
    centre = Point(-20.0, 3.0 * radius)
    start = Point(centre.z + radius * math.cos(share), centre.r + radius * math.sin(share))
    (solution,) = solve(
        Start(*start), [E("arc", centre_z=centre.z, centre_r=centre.r, radius=radius, r=2.0 * radius, turn="cw")]
    ).solutions
    assert solution.joints[1].distance_to(Point(-20.0, 2.0 * radius)) <= 1e-9 * max(1.0, radius)


@pytest.mark.parametrize("beyond", [6e-4, 1e-3, 0.5])
def test_what_passes_a_circle_by_more_than_rounding_is_told_by_how_much(beyond: float) -> None:
    arc = E("arc", centre_z=-20.0, centre_r=10.0, radius=8.0, z=-28.0)
    with pytest.raises(Impossible) as error:
        solve(Start(0.0, 18.0 + beyond), [E("line", r=18.0 + beyond, angle=math.pi), arc])
    (fault,) = error.value.faults
    assert fault.message.values["gap"].value == pytest.approx(beyond, abs=1e-9)  # type: ignore[union-attr]
    assert "passes" in fault.message.say()
