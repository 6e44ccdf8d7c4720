"""What an uncompensated cut leaves, against the discs themselves and against closed forms.

The reference sweeps discs: it moves a nose in small steps along the print shifted by the tool point, puts each place on
both sides of the axis, since the part turns, and notes the lowest place over a grid of radii. It starts from a face
that the same tool has faced without compensation.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any, TypeAlias

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from shapely import LineString, Point, unary_union

from calc.contour import Chain, Line
from calc.shapes.dish.bowl import DishInputs, EdgeInputs
from calc.shapes.dish.geometry import Dish, solve_dish
from calc.shapes.dish.nose import nose_on_dish
from calc.shapes.dish.uncompensated import Uncompensated, uncompensated
from tests.tries import tries

from .strategies import dishes

Rows: TypeAlias = NDArray[np.float64]
TOWARD_X = {0: 0, 1: 1, 2: 1, 3: -1, 4: -1, 5: 0, 6: 1, 7: 0, 8: -1, 9: 0}
TOWARD_Z = {0: 0, 1: 1, 2: -1, 3: -1, 4: 1, 5: 1, 6: 0, 7: -1, 8: 0, 9: 0}
EDGES: list[dict[str, Any]] = [
    {},
    {"break_kind": "radius", "break_size": 0.8},
    {"break_kind": "chamfer", "break_size": 0.8},
]


def seat(**edge: Any) -> Dish:
    return solve_dish(DishInputs(radius=75.0, depth=4.5, edge=EdgeInputs(**edge)))


def left_by(dish: Dish, nose: float, number: int) -> Uncompensated:
    left = uncompensated(nose_on_dish(dish, nose, number))
    assert left is not None
    return left


def places(dish: Dish, nose: float, number: int, outside: float, step: float) -> Rows:
    """Nose centres (z, r): the tool point on the print from the outside of the face to the axis, never `step` apart."""
    points = [
        element.point_at(element.length * i / steps)
        for element in dish.part(outside)
        for steps in [math.ceil(element.length / step)]
        for i in range(steps + 1)
    ]
    print_z, print_r = np.array([point.z for point in points]), np.array([point.r for point in points])
    return np.column_stack([print_z - nose * TOWARD_Z[number], print_r - nose * TOWARD_X[number]])


def swept_level(dish: Dish, nose: float, number: int, radii: Rows, within: float) -> Rows:
    """The lowest place of the discs at each radius, on either side of the axis, below the faced face.

    Between two discs a height is left of a step squared over eight times the nose: a twentieth of `within`.
    """
    step = math.sqrt(8.0 * nose * within / 20.0)
    centres = places(dish, nose, number, 2 * dish.cut.start.r + 4 * nose, step)
    level = np.full(radii.shape, -nose * (1 + TOWARD_Z[number]))
    for r in (radii, -radii):
        for chunk in np.array_split(centres, max(1, len(centres) // 500)):
            under = nose**2 - (r[:, None] - chunk[None, :, 1]) ** 2
            bottom = np.where(under >= 0.0, chunk[None, :, 0] - np.sqrt(np.maximum(under, 0.0)), np.inf)
            level = np.minimum(level, bottom.min(axis=1))
    return level


def profile_level(profile: Chain, radii: Rows) -> Rows:
    """Z of the profile at each radius, from the ends and radii of its elements alone."""
    level = np.full(radii.shape, np.nan)
    for element in profile:
        low, high = sorted((element.start.r, element.end.r))
        here = (radii >= low) & (radii <= high) & (high - low > 1e-9)
        if isinstance(element, Line):
            share = (radii[here] - element.start.r) / (element.end.r - element.start.r)
            level[here] = element.start.z + share * (element.end.z - element.start.z)
        else:
            away = np.sqrt(np.maximum(element.radius**2 - (radii[here] - element.centre.r) ** 2, 0.0))
            # travelled toward the axis: a hollow turns counter-clockwise and lies below its centre
            level[here] = element.centre.z + (away if element.turn == "cw" else -away)
    return level


def assert_is_swept(dish: Dish, nose: float, number: int, within: float = 1e-4) -> None:
    left = left_by(dish, nose, number)
    outside = left.profile.start.r
    # grid points beside a step of the profile say nothing: the discs' grid decides there
    steps = [a.end.r for a in left.profile if abs(a.start.r - a.end.r) < 1e-6]
    radii = np.linspace(0.0, 0.9 * outside, 301)
    for step in steps:
        radii = radii[np.abs(radii - step) > 0.01 * nose]
    gaps = profile_level(left.profile, radii) - swept_level(dish, nose, number, radii, within)
    steep = np.abs(np.gradient(profile_level(left.profile, radii), radii)) > 2.0
    assert np.max(np.abs(gaps[~steep])) < within
    assert np.nanmax(gaps) < within  # never above what the discs took away


@pytest.mark.parametrize("edge", EDGES, ids=["sharp", "edge radius", "chamfer"])
@pytest.mark.parametrize("number", range(10))
def test_the_profile_of_the_seat_is_the_lowest_place_of_the_discs(edge: dict[str, Any], number: int) -> None:
    for nose in (0.4, 6.0):
        assert_is_swept(seat(**edge), nose, number)


@settings(max_examples=tries(25), deadline=None)
@given(dishes(), st.floats(0.02, 0.6), st.integers(0, 9))
def test_the_profile_of_any_dish_is_the_lowest_place_of_the_discs(dish: Dish, share: float, number: int) -> None:
    nose = share * dish.bowl.radius
    assert_is_swept(dish, nose, number, within=1e-5 * dish.bowl.radius)


def test_point_2_on_the_seat_leaves_a_wall_of_81_and_a_ring_around_a_pip() -> None:
    left = left_by(seat(), 6.0, 2)
    assert left.wall_radius == 81.0
    assert left.face_z == 0.0
    assert left.mouth_diameter == pytest.approx(41.24, abs=5e-3)
    assert left.axis_z == pytest.approx(-4.277, abs=5e-4)
    assert 2 * left.ring.r == pytest.approx(12.0, abs=1e-9)
    assert left.ring.z == pytest.approx(-4.5, abs=1e-9)
    assert left.pip_height == pytest.approx(0.2225, abs=5e-5)


def test_point_2_on_the_seat_agrees_with_its_closed_form() -> None:
    # the nose centre runs on R 75 about X -6, Z 70.5 + 6; its outer parallel R 81 cuts face and axis
    left = left_by(seat(), 6.0, 2)
    centre_z = 70.5 + 6.0
    assert left.mouth_diameter / 2 == pytest.approx(math.sqrt(81.0**2 - centre_z**2) - 6.0, rel=1e-12)
    assert left.axis_z == pytest.approx(centre_z - math.sqrt(81.0**2 - 6.0**2), rel=1e-12)
    assert left.pip_height == pytest.approx(81.0 - math.sqrt(81.0**2 - 36.0), rel=1e-9)


@pytest.mark.parametrize("nose", [0.4, 0.8, 6.0])
def test_a_tool_point_below_the_nose_leaves_no_pip_and_the_right_depth(nose: float) -> None:
    # point 7 stands straight below the centre: on the axis it is right, elsewhere the wall is R + nose about the axis
    left = left_by(seat(), nose, 7)
    assert left.pip_height == 0.0
    assert left.axis_z == pytest.approx(-4.5, abs=1e-12)
    assert left.mouth_diameter / 2 == pytest.approx(math.sqrt((75.0 + nose) ** 2 - (70.5 + nose) ** 2), rel=1e-12)


@pytest.mark.parametrize("nose", [0.4, 0.8, 6.0])
def test_the_nose_centre_on_the_print_cuts_deeper_by_the_nose_everywhere(nose: float) -> None:
    for number in (0, 9):
        left = left_by(seat(), nose, number)
        assert left.face_z == -nose
        assert left.axis_z == pytest.approx(-4.5 - nose, abs=1e-12)
        at_face = math.sqrt((75.0 + nose) ** 2 - (70.5 + nose) ** 2)
        assert left.mouth_diameter / 2 == pytest.approx(at_face, rel=1e-12)


def test_point_3_leaves_a_pip_of_the_nose_on_the_axis() -> None:
    # at X0 the nose centre stands one nose radius on this side: the disc's side is on the axis, its bottom at Ø12
    left = left_by(seat(), 6.0, 3)
    assert 2 * left.ring.r == pytest.approx(12.0, abs=1e-9)
    assert left.ring.z == pytest.approx(-4.5, abs=1e-9)
    assert left.pip_height == pytest.approx(4.5, abs=1e-9)  # the face, not the nose's side, tops it
    assert left.axis_z == pytest.approx(0.0, abs=1e-9)


def test_the_ring_and_the_pip_are_those_of_the_union_of_the_discs_in_a_general_geometry_library() -> None:
    for number, nose in ((2, 6.0), (3, 2.0), (1, 1.5), (8, 3.0)):
        left = left_by(seat(), nose, number)
        *_, bowl = seat().part(80.0)
        centres = places(seat(), nose, number, 80.0, 0.05)[-math.ceil(bowl.length / 0.05) - 1 :]
        discs = [Point(z, side * r).buffer(nose, quad_segs=256) for z, r in centres for side in (1, -1)]
        gone = unary_union(discs)
        bottom = gone.bounds[0]
        assert left.ring.z == pytest.approx(bottom, abs=1e-3)
        on_axis = gone.intersection(LineString([(-50.0, 1e-9), (50.0, 1e-9)]))
        lowest = min(left.face_z, on_axis.bounds[0]) if not on_axis.is_empty else left.face_z
        assert left.axis_z == pytest.approx(lowest, abs=2e-3)


@settings(max_examples=tries(60), deadline=None)
@given(dishes(), st.floats(0.01, 0.8), st.integers(0, 9))
def test_the_profile_is_one_chain_from_the_outside_to_the_axis_and_says_its_own_results(
    dish: Dish, share: float, number: int
) -> None:
    nose = share * dish.bowl.radius
    left = left_by(dish, nose, number)
    for before, after in pairwise(left.profile.elements):
        assert before.end.distance_to(after.start) <= 1e-9 * dish.bowl.radius
    assert abs(left.profile.end.r) <= 1e-9 * dish.bowl.radius
    assert left.profile.end.z == left.axis_z
    assert left.profile.bounds.z_min == pytest.approx(left.ring.z, abs=1e-9 * dish.bowl.radius)
    assert left.pip_height >= 0.0
    assert left.wall_radius == dish.bowl.radius + nose


def test_mirrored_tool_points_leave_the_same_where_the_sides_do_not_matter() -> None:
    dish = seat()
    assert left_by(dish, 6.0, 0) == left_by(dish, 6.0, 9)


def test_a_smaller_nose_leaves_less_of_an_error_until_none_is_left() -> None:
    errors = [abs(left_by(seat(), nose, 2).mouth_diameter - 2 * seat().bowl.corner.r) for nose in (6.0, 0.8, 0.1, 1e-3)]
    assert errors == sorted(errors, reverse=True)
    assert errors[-1] < 5e-3


def test_a_dish_with_a_hole_is_not_answered() -> None:
    assert uncompensated(nose_on_dish(seat(hole_diameter=10.0), 6.0, 2)) is None
