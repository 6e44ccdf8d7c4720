"""The round nose on the dish: where it stands, where its centre goes, and what the control reads."""

from __future__ import annotations

import math
from typing import Any, TypeAlias

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from calc.contour import Arc, Chain, Element, Point
from calc.questions.shapes.dish import both_ways
from calc.shapes.dish.bowl import DishInputs, EdgeInputs
from calc.shapes.dish.geometry import Dish, solve_dish
from calc.shapes.dish.nose import NoseOnDish, Stand, nose_on_dish
from calc.tool.point import STEPS, nose_centre, tool_point, touch_off_x, touch_off_z
from tests.tries import tries

from .strategies import dishes

Rows: TypeAlias = NDArray[np.float64]

# Common practice (controls differ): from the nose centre toward 1 +X+Z, 2 +X-Z, 3 -X-Z, 4 -X+Z, 5 +Z, 6 +X, 7 -Z, 8 -X.
TOWARD_X = {0: 0, 1: 1, 2: 1, 3: -1, 4: -1, 5: 0, 6: 1, 7: 0, 8: -1, 9: 0}
TOWARD_Z = {0: 0, 1: 1, 2: -1, 3: -1, 4: 1, 5: 1, 6: 0, 7: -1, 8: 0, 9: 0}

EDGES: list[dict[str, Any]] = [
    {},
    {"break_kind": "radius", "break_size": 0.8},
    {"break_kind": "chamfer", "break_size": 0.8},
]


def seat(**edge: object) -> Dish:
    return solve_dish(DishInputs(radius=75.0, depth=4.5, edge=EdgeInputs(**edge)))  # type: ignore[arg-type]


def stand(dish: Dish, nose: float, number: int, at: str) -> Stand:
    (found,) = (row for row in nose_on_dish(dish, nose, number).stands() if row.at == at)
    return found


@pytest.mark.parametrize("number", range(10))
def test_each_tool_point_is_one_nose_radius_from_the_centre_along_each_axis(number: int) -> None:
    centre = Point(z=3.0, r=-2.0)
    point = tool_point(centre, 6.0, number)
    assert (point.r, point.z) == (-2.0 + 6.0 * TOWARD_X[number], 3.0 + 6.0 * TOWARD_Z[number])
    assert nose_centre(point, 6.0, number) == centre
    assert STEPS[number] == (TOWARD_Z[number], TOWARD_X[number])


@pytest.mark.parametrize(
    ("number", "x"), [(0, 0), (1, 12), (2, 12), (3, -12), (4, -12), (5, 0), (6, 12), (7, 0), (8, -12), (9, 0)]
)
def test_on_the_axis_of_the_seat_each_tool_point_of_a_nose_of_6_stands_at_its_diameter(number: int, x: float) -> None:
    axis = stand(seat(), 6.0, number, "the axis")
    assert 2 * axis.tool_x == x
    assert axis.tool_z == pytest.approx(-4.5 + 6.0 + 6.0 * TOWARD_Z[number], abs=1e-12)
    assert (axis.contact_x, axis.contact_z, axis.centre_x) == (0.0, -4.5, 0.0)


@pytest.mark.parametrize(
    ("number", "reads"), [(0, 72), (1, 84), (2, 84), (3, 60), (4, 60), (5, 72), (6, 84), (7, 72), (8, 60), (9, 72)]
)
def test_touched_off_on_a_bar_of_60_each_tool_point_reads_its_diameter(number: int, reads: float) -> None:
    assert 2 * touch_off_x(60.0, 6.0, STEPS[number].r) == reads


@pytest.mark.parametrize("number", range(10))
def test_touched_off_on_the_face_the_tool_point_reads_what_it_lacks_from_the_nose(number: int) -> None:
    # the nose touches Z 0 with its centre at Z 6: the tool point is 6, 12 or 0 in front
    assert touch_off_z(6.0, STEPS[number].z) == {-1: 0.0, 0: 6.0, 1: 12.0}[TOWARD_Z[number]]


def test_at_the_sharp_mouth_of_the_seat_point_3_stands_well_inside_of_the_contact() -> None:
    mouth = stand(seat(), 6.0, 3, "the mouth")
    assert 2 * mouth.contact_x == pytest.approx(51.176, abs=5e-4)
    assert 2 * mouth.tool_x == pytest.approx(35.08, abs=5e-3)
    # from the right triangle of the seat alone: the centre lies on the line from the contact to the arc's centre
    a = math.sqrt(75.0**2 - 70.5**2)
    assert mouth.tool_x == pytest.approx(a * 69 / 75 - 6, rel=1e-12)
    assert mouth.tool_z == pytest.approx(70.5 * 6 / 75 - 6, rel=1e-12)


def heading_in(dish: Dish) -> tuple[float, float]:
    """(z, r) of travel along the dish at its mouth, by differences."""
    near, far = dish.arc.point_at(0.0), dish.arc.point_at(1e-3)
    return far.z - near.z, far.r - near.r


def test_inward_is_g3_with_the_tool_on_the_left_and_outward_g2_with_it_on_the_right() -> None:
    dish = seat()
    along = heading_in(dish)
    half, end = dish.arc.point_at(dish.arc.length / 2), dish.arc.point_at(dish.arc.length)
    first = (half.z - dish.arc.start.z, half.r - dish.arc.start.r)
    second = (end.z - half.z, end.r - half.r)
    # with +Z to the right and +X up a positive cross product turns counter-clockwise: G3 in ISO 6983
    assert first[0] * second[1] - first[1] * second[0] > 0.0
    centre = stand(dish, 6.0, 3, "the mouth").centre
    to_nose = (centre.z - dish.arc.start.z, centre.r - dish.arc.start.r)
    # the nose stands to the left of travel: G41
    assert along[0] * to_nose[1] - along[1] * to_nose[0] > 0.0
    said = both_ways(dish).say()
    inward, outward = said.split(". ")[:2]
    assert "G3" in inward
    assert "G41" in inward
    assert "left" in inward
    assert "G2" in outward
    assert "G42" in outward
    assert "right" in outward
    back = dish.cut.reversed()
    assert back.elements[0].sweep < 0.0
    assert "hole" in both_ways(seat(hole_diameter=8.0)).say()


def polyline(chain: Chain, steps: int = 60) -> Rows:
    """Points along a chain as rows of z and r, the joints included."""
    points = [element.point_at(element.length * i / steps) for element in chain for i in range(steps + 1)]
    return np.array([(point.z, point.r) for point in points])


def nearest_of_element(element: Element, points: Rows) -> Rows:
    """Distances of points from a line or arc, by projection on the line, or by angle about the centre."""
    start, end = np.array(element.start), np.array(element.end)
    ends = np.minimum(np.hypot(*(points - start).T), np.hypot(*(points - end).T))
    if isinstance(element, Arc):
        centre = np.array(element.centre)
        turned = [np.arctan2(*(p - centre).T[::-1]) for p in (points, start[None], end[None])]
        sign = 1.0 if element.turn == "ccw" else -1.0
        span = (sign * (turned[2] - turned[1])) % math.tau
        inside = (sign * (turned[0] - turned[1])) % math.tau <= span
        on_arc = np.abs(np.hypot(*(points - centre).T) - np.hypot(*(start - centre)))
        found: Rows = np.where(inside, np.minimum(on_arc, ends), ends)
        return found
    along = end - start
    share = np.clip((points - start) @ along / (along @ along), 0.0, 1.0)
    gaps: Rows = np.hypot(*(points - (start + share[:, None] * along)).T)
    return gaps


def from_the_print(dish: Dish, points: Rows) -> Rows:
    gaps: Rows = np.min([nearest_of_element(element, points) for element in dish.part(3 * dish.cut.start.r)], axis=0)
    return gaps


@settings(max_examples=tries(80), deadline=None)
@given(dishes(holes=True), st.floats(0.001, 0.9), st.integers(0, 9))
def test_the_nose_centre_is_everywhere_one_nose_radius_from_the_print_and_never_nearer(
    dish: Dish, share: float, number: int
) -> None:
    nose = nose_on_dish(dish, share * dish.bowl.radius, number)
    path = polyline(nose.centre_path)
    gaps = from_the_print(dish, path)
    assert np.max(np.abs(gaps - nose.radius)) < 1e-9 * max(1.0, dish.bowl.radius)
    tool = polyline(nose.tool_path)
    step = np.array([TOWARD_Z[number], TOWARD_X[number]]) * nose.radius
    assert np.max(np.abs(tool - path - step)) < 1e-9


@settings(max_examples=tries(60), deadline=None)
@given(dishes(), st.floats(0.001, 0.9))
def test_the_nose_centres_way_has_no_gap_and_ends_on_the_axis(dish: Dish, share: float) -> None:
    path = nose_on_dish(dish, share * dish.bowl.radius, 3).centre_path
    for before, after in zip(path.elements, path.elements[1:], strict=False):
        assert before.end.distance_to(after.start) < 1e-9
    assert abs(path.end.r) < 1e-9
    assert path.end.z == pytest.approx(share * dish.bowl.radius - dish.bowl.depth, abs=1e-9)


@pytest.mark.parametrize(
    "edge", [{}, {"break_kind": "radius", "break_size": 0.8}, {"break_kind": "chamfer", "break_size": 0.8}]
)
@pytest.mark.parametrize("nose", [0.4, 6.0, 20.0])
def test_the_way_is_the_edge_of_the_part_grown_by_the_nose(edge: dict[str, object], nose: float) -> None:
    dish = seat(**edge)
    outline = [(-20.0, -40.0), (-20.0, 40.0), (0.0, 40.0)]
    half = polyline(dish.cut, 2000)
    outline += [*map(tuple, half), *((z, -r) for z, r in half[::-1]), (0.0, -40.0)]
    grown = shapely.Polygon(outline).buffer(nose, quad_segs=720)
    way = polyline(nose_on_dish(dish, nose, 3).centre_path)
    gaps = shapely.distance(grown.exterior, shapely.points(way))
    assert np.max(gaps) < 2e-5 * max(1.0, nose)


def test_where_the_nose_stands_lies_on_its_way_and_touches_the_print() -> None:
    for edge in EDGES:
        nose = nose_on_dish(seat(**edge), 6.0, 3)
        stands = nose.stands()
        assert [row.at for row in stands][-1] == "the axis"
        assert len(stands) == len(nose.dish.cut) + 1
        for row in stands:
            assert nose.centre_path.distance_to(row.centre) < 1e-9
            assert nose.tool_path.distance_to(row.tool_point) < 1e-9
            assert nose.dish.cut.distance_to(Point(row.contact_z, row.contact_x)) < 1e-9
            assert row.centre.distance_to(Point(row.contact_z, row.contact_x)) == pytest.approx(6.0)


def test_round_the_corner_of_a_chamfer_the_nose_swings_while_it_touches_it() -> None:
    dish = seat(break_kind="chamfer", break_size=0.8)
    way = nose_on_dish(dish, 6.0, 3).centre_path
    corner = dish.edge.arc_start
    swings = [piece for piece in way if isinstance(piece, Arc) and piece.centre.distance_to(corner) < 1e-9]
    (swing,) = swings
    assert swing.radius == pytest.approx(6.0)
    inner_slope = math.asin(corner.r / 75.0)
    assert dish.edge.angle is not None
    assert swing.angle == pytest.approx(inner_slope - dish.edge.angle, rel=1e-9)


def test_the_nose_at_the_hole_touches_the_end_of_the_arc() -> None:
    dish = seat(hole_diameter=10.0)
    row = stand(dish, 6.0, 2, "the hole")
    assert row.contact_x == 5.0
    assert row.centre_x == pytest.approx(5.0 * 69 / 75, rel=1e-12)
    assert isinstance(nose_on_dish(dish, 6.0, 2), NoseOnDish)
