import math
from itertools import pairwise

import mpmath
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.contour import Arc, Chain, Line, Point, Side, Vector
from calc.language.problems import OutOfRange
from calc.shapes.dish.bowl import DishInputs, EdgeInputs
from calc.shapes.dish.geometry import solve_dish
from calc.shapes.dish.nose import nose_on_dish
from calc.tool.nose_path import left_in_corners, nose_path, span_of
from calc.tool.nose_path.left import farthest_off
from tests.tool.nose_path.contours import polyline, staircase
from tests.tries import tries


def lines(*corners: tuple[float, float]) -> Chain:
    points = [Point(*corner) for corner in corners]
    return Chain(tuple(Line(a, b) for a, b in pairwise(points)))


@settings(max_examples=tries(60))
@given(st.floats(20.0, 200.0), st.floats(0.02, 0.4), st.floats(0.1, 10.0))
def test_the_dish_is_its_closed_form(radius: float, share: float, nose: float) -> None:
    """Closed form: an arc of R - r about the same centre, from the mouth's normal to the axis."""
    dish = solve_dish(DishInputs(radius=radius, depth=radius * share))
    path = nose_path(Chain((dish.arc,)), nose, "left")
    (step,) = path.steps
    assert isinstance(step.element, Arc)
    assert step.element.radius == pytest.approx(radius - nose, abs=1e-9)
    assert step.element.centre.distance_to(dish.bowl.centre) < 1e-9
    slope = math.acos(1.0 - share)
    start = Point(dish.bowl.centre.z - (radius - nose) * math.cos(slope), (radius - nose) * math.sin(slope))
    assert step.element.start.distance_to(start) < 1e-9
    assert step.element.end.distance_to(Point(-radius * share + nose, 0.0)) < 1e-9
    assert path.is_whole


def test_the_seat_with_its_edge_agrees_with_the_dish_page() -> None:
    dish = solve_dish(DishInputs(radius=75.0, depth=4.5, edge=EdgeInputs(break_kind="radius", break_size=0.8)))
    path = nose_path(dish.cut, 6.0, "left")
    wanted = nose_on_dish(dish, 6.0, 3).centre_path
    for step, element in zip(path.steps, wanted, strict=True):
        assert step.element.start.distance_to(element.start) < 1e-9
        assert step.element.end.distance_to(element.end) < 1e-9


def test_a_concave_corner_keeps_the_nose_radius_and_its_known_area() -> None:
    """A square corner keeps r squared (1 - pi/4) and stands off r (sqrt 2 - 1): geometry of a circle in a corner."""
    (gap,) = nose_path(lines((0.0, 20.0), (0.0, 10.0), (9.0, 10.0)), 0.8, "left").unreached
    assert gap.reason == "corner"
    assert gap.elements == (0, 1)
    assert gap.size == pytest.approx(0.8 * (math.sqrt(2.0) - 1.0), abs=1e-12)
    assert gap.area == pytest.approx(0.64 * (1.0 - math.pi / 4.0), abs=1e-12)
    assert gap.left == pytest.approx(0.8 * (1.0 - 1.0 / math.sqrt(2.0)), abs=1e-12)


@pytest.mark.parametrize("degrees", [30.0, 60.0, 90.0, 120.0, 160.0])
def test_in_any_corner_of_two_lines_what_stays_is_its_closed_form(degrees: float) -> None:
    """A circle in a corner: on the bisector it stands r (1 - sin) off both walls, r (1 / sin - 1) off the corner."""
    up = Vector.at_angle(math.radians(degrees))
    corner = Point(0.0, 100.0)
    (gap,) = nose_path(
        Chain((Line(corner.moved(up, 50.0), corner), Line(corner, Point(50.0, 100.0)))), 2.0, "left"
    ).unreached
    half = mpmath.radians(mpmath.mpf(degrees)) / 2
    assert gap.left == pytest.approx(float(2 * (1 - mpmath.sin(half))), abs=1e-11)
    assert gap.size == pytest.approx(float(2 * (1 / mpmath.sin(half) - 1)), abs=1e-11)


def test_between_a_line_and_an_arc_what_stays_is_thickest_where_both_are_as_near() -> None:
    """First principles, found by bisection in 30 digits: a face, and a convex arc that leaves it at a right angle."""
    chain = Chain(
        (Line(Point(0.0, 40.0), Point(0.0, 20.0)), Arc(Point(0.0, 20.0), Point(10.0, 10.0), Point(0.0, 10.0), "cw"))
    )
    (gap,) = nose_path(chain, 1.5, "left").unreached
    assert gap.centre is not None
    z, r = (mpmath.mpf(float(each)) for each in gap.centre)

    def walls(angle: mpmath.mpf) -> tuple[mpmath.mpf, mpmath.mpf]:
        place = z + mpmath.mpf("1.5") * mpmath.cos(angle), r + mpmath.mpf("1.5") * mpmath.sin(angle)
        return place[0], mpmath.hypot(place[0], place[1] - 10) - 10

    angle = mpmath.findroot(lambda t: walls(t)[0] - walls(t)[1], (3.2, 4.2), solver="anderson")
    assert gap.left == pytest.approx(float(walls(angle)[0]), abs=1e-10)


def test_between_two_places_of_the_nose_the_farthest_place_of_an_edge_is_exact() -> None:
    """Right triangles: half way between two centres 7 apart, 3 above a line; the sampled answer was up to 5 % low."""
    edge = [Line(Point(-10.0, 5.0), Point(10.0, 5.0))]
    centres = [Point(-9.9, 8.0), Point(9.1, 8.0)]
    wanted = math.hypot(9.5, 3.0) - 1.0
    assert farthest_off(edge, centres, 1.0, 1e-9) == pytest.approx(wanted, abs=1e-12)
    arc = [Arc(Point(-6.0, 0.0), Point(6.0, 0.0), Point(0.0, 0.0), "cw")]
    centres = [Point(-7.0, 1.0), Point(6.0, 5.0)]
    fine = max(
        min(c.distance_to(arc[0].point_at(arc[0].length * i / 200_000)) for c in centres) for i in range(200_001)
    )
    assert farthest_off(arc, centres, 1.0, 1e-9) == pytest.approx(fine - 1.0, abs=1e-4)


def test_where_the_nose_touches_nothing_the_distance_is_that_from_where_the_section_starts() -> None:
    """Out by 10 and back by 5, 1 higher: the far end of the first line is 10 off, and the last place sqrt(26)."""
    section = lines((0.0, 5.0), (10.0, 5.0), (5.0, 6.0)).elements
    assert farthest_off(section, [], 1.0, 1e-9) == pytest.approx(10.0, abs=1e-12)
    assert farthest_off(section[1:], [], 1.0, 1e-9) == pytest.approx(math.sqrt(26.0), abs=1e-12)


def test_what_is_touched_along_an_element_ends_where_the_corner_keeps_the_nose_off() -> None:
    """A corner of two walls and a nose of 2: each is touched up to 2 mm before it, a wall without a corner wholly."""
    first, last = (step.contact for step in nose_path(lines((0.0, 20.0), (0.0, 10.0), (9.0, 10.0)), 2.0, "left").steps)
    assert first == Line(Point(0.0, 20.0), Point(0.0, 12.0))
    assert last == Line(Point(2.0, 10.0), Point(9.0, 10.0))
    alone = lines((0.0, 20.0), (0.0, 10.0))
    assert nose_path(alone, 2.0, "left").steps[0].contact is alone.elements[0]


def test_an_arc_smaller_than_the_nose_is_named_and_what_stays_is_measured() -> None:
    chain = Chain((
        Line(Point(0.0, 20.0), Point(0.0, 10.4)),
        Arc(Point(0.0, 10.4), Point(0.4, 10.0), Point(0.4, 10.4), "ccw"),
        Line(Point(0.4, 10.0), Point(9.0, 10.0)),
    ))  # fmt: skip
    path = nose_path(chain, 0.8, "left")
    (gap,) = path.unreached
    assert gap.reason == "radius"
    assert gap.elements == (0, 1, 2)
    assert gap.size == pytest.approx(0.4 * (math.sqrt(2.0) - 1.0), abs=1e-12)
    assert [step.of for step in path.steps] == [0, 2]
    worst = max(path.gouges, key=lambda gouge: gouge.depth)
    assert worst.depth == pytest.approx(0.4, abs=1e-6)
    assert worst.into in (0, 2)


def test_a_nose_as_large_as_the_fillet_reaches_all_of_it() -> None:
    chain = Chain((
        Line(Point(0.0, 20.0), Point(0.0, 10.8)),
        Arc(Point(0.0, 10.8), Point(0.8, 10.0), Point(0.8, 10.8), "ccw"),
        Line(Point(0.8, 10.0), Point(9.0, 10.0)),
    ))  # fmt: skip
    path = nose_path(chain, 0.8, "left")
    assert path.is_whole
    assert not path.gouges


def groove(width: float) -> Chain:
    return lines((10.0, 20.0), (0.0, 20.0), (0.0, 16.0), (-width, 16.0), (-width, 20.0), (-12.0, 20.0))


def test_a_groove_too_narrow_is_passed_over_and_named() -> None:
    path = nose_path(groove(3.0), 2.0, "right")
    (gap,) = path.unreached
    assert gap.reason == "narrow"
    assert gap.elements == (1, 2, 3)
    assert gap.size == pytest.approx(4.0 - (2.0 - math.sqrt(4.0 - 2.25)), abs=0.6)
    assert max(gouge.depth for gouge in path.gouges) == pytest.approx(2.0, abs=1e-6)
    assert len(path.runs) == 1


def test_what_stays_in_a_narrow_groove_is_its_area_beside_the_nose() -> None:
    (gap,) = nose_path(groove(3.0), 2.0, "right").unreached
    sagging = shapely.Point(-1.5, 20.0 + math.sqrt(4.0 - 2.25)).buffer(2.0, quad_segs=500)
    kept = shapely.box(-3.0, 16.0, 0.0, 20.0).difference(sagging)
    assert gap.area == pytest.approx(kept.area, abs=1e-4)
    assert gap.left == pytest.approx(1.5, abs=1e-7), "in the middle it is half the width from both walls"


def test_a_groove_as_wide_as_the_nose_is_reached_to_its_floor() -> None:
    path = nose_path(groove(4.0), 2.0, "right")
    (gap,) = path.unreached
    assert gap.size == pytest.approx(2.0 * (math.sqrt(2.0) - 1.0), abs=1e-9)
    lowest = min(step.element.bounds().r_min for step in path.steps)
    assert lowest == pytest.approx(18.0, abs=1e-9)


def keyhole() -> Chain:
    """A groove 1 mm wide at its mouth and 6 mm wide behind it."""
    return lines((10.0, 20.0), (0.0, 20.0), (0.0, 18.0), (3.0, 18.0), (3.0, 12.0), (-4.0, 12.0), (-4.0, 18.0),
                 (-1.0, 18.0), (-1.0, 20.0), (-12.0, 20.0))  # fmt: skip


def test_a_pocket_behind_a_narrow_mouth_is_not_reached_though_the_nose_would_fit_inside() -> None:
    path = nose_path(keyhole(), 1.0, "right")
    assert len(path.runs) == 1
    assert len(path.pockets) == 1
    (gap,) = path.unreached
    assert gap.reason == "narrow"
    assert gap.elements == (1, 2, 3, 4, 5, 6, 7)
    assert nose_path(keyhole(), 0.4, "right").pockets == ()


def test_a_round_pocket_behind_a_narrow_mouth_is_narrow_though_its_floor_is_wider_than_the_nose() -> None:
    pocket = Chain((
        *lines((10.0, 20.0), (0.0, 20.0), (0.0, 18.0), (2.5, 18.0), (2.5, 15.0)).elements,
        Arc(Point(2.5, 15.0), Point(-3.5, 15.0), Point(-0.5, 15.0), "cw"),
        *lines((-3.5, 15.0), (-3.5, 18.0), (-1.0, 18.0), (-1.0, 20.0), (-12.0, 20.0)).elements,
    ))  # fmt: skip
    (gap,) = nose_path(pocket, 1.0, "right").unreached
    assert (gap.reason, gap.elements) == ("narrow", (1, 2, 3, 4, 5, 6, 7))


def test_in_a_bore_the_far_wall_stops_the_nose() -> None:
    """The bore of 3 mm takes a nose of up to 1.5 mm."""
    bore = lines((2.0, 9.0), (0.0, 9.0), (0.0, 1.5), (-8.0, 1.5))
    assert any(gap.reason == "axis" for gap in nose_path(bore, 1.6, "right").unreached) or any(
        gap.reason == "axis" for gap in nose_path(bore, 1.6, "left").unreached
    )
    gap = next(gap for gap in nose_path(bore, 1.6, "left").unreached if gap.reason == "axis")
    assert gap.left == pytest.approx(1.5, abs=1e-9), "at the axis the nose is farthest from the wall of the bore"
    left = nose_path(bore, 1.4, "left")
    assert not [gap for gap in left.unreached if gap.reason == "axis"]


@pytest.mark.parametrize("nose", [2.0, 0.4])
def test_a_hollow_cone_ends_with_the_nose_on_both_its_flanks(nose: float) -> None:
    """A 90 degree hollow cone: the centre on the axis, r sqrt 2 before its point."""
    cone = lines((0.0, 10.0), (-10.0, 0.0))
    path = nose_path(cone, nose, "left")
    end = path.steps[-1].element.end
    assert end.distance_to(Point(-10.0 + nose * math.sqrt(2.0), 0.0)) < 1e-9
    assert path.unreached[-1].reason == "axis"
    assert path.unreached[-1].left == pytest.approx(nose * (1.0 - 1.0 / math.sqrt(2.0)), abs=1e-9)


@pytest.mark.parametrize(
    ("steps", "ends_with"),
    [
        (1, "to the sharp corner."),
        (2, "One more inside corner keeps as much or less."),
        (3, "2 more inside corners keep as much or less."),
    ],
)
def test_of_several_inside_corners_one_is_told_and_the_others_are_counted(steps: int, ends_with: str) -> None:
    corners = [(-3.0 * (n // 2 + n % 2), 10.0 + 4.0 * (n // 2)) for n in range(2 * steps + 1)]
    shaft = lines(*corners)
    said = left_in_corners(shaft, 0.8, nose_path(shaft, 0.8, "right").unreached)
    assert said is not None
    assert said.say().endswith(ends_with)


@pytest.mark.parametrize(
    ("number", "step"),
    list(enumerate([(0, 0), (1, 1), (-1, 1), (-1, -1), (1, -1), (1, 0), (0, 1), (-1, 0), (0, -1), (0, 0)])),
)
def test_the_tool_points_stand_as_the_numbering_says(number: int, step: tuple[int, int]) -> None:
    """Numbers 1 to 9 about the nose centre, +Z to the right and +X up: common practice, no source."""
    path = nose_path(lines((0.0, 20.0), (0.0, 10.0)), 0.8, "left")
    centre, point = path.centre_chains[0].start, path.tool_point_chains(number)[0].start
    assert (point.z - centre.z, point.r - centre.r) == pytest.approx((0.8 * step[0], 0.8 * step[1]))


def test_travelled_the_other_way_the_nose_goes_the_same_way_back() -> None:
    chain = staircase(40)
    there, back = nose_path(chain, 0.8, "right"), nose_path(chain.reversed(), 0.8, "left")
    assert [round(step.element.length, 9) for step in there.steps] == [
        round(step.element.length, 9) for step in reversed(back.steps)
    ]
    assert len(there.unreached) == len(back.unreached)


def test_the_way_scales_with_the_part() -> None:
    chain = staircase(40)
    small, large = nose_path(chain, 0.8, "right"), nose_path(chain.scaled(25.4), 0.8 * 25.4, "right")
    for a, b in zip(small.steps, large.steps, strict=True):
        assert a.element.end.scaled(25.4).distance_to(b.element.end) < 1e-8


def test_round_a_closed_part_the_way_closes() -> None:
    """Outside a square the way is as long as the square and one whole circle; inside it is shorter by 8 noses."""
    square = lines((0.0, 30.0), (10.0, 30.0), (10.0, 20.0), (0.0, 20.0), (0.0, 30.0))
    outside, inside = nose_path(square, 1.0, "left"), nose_path(square, 1.0, "right")
    assert sum(chain.length for chain in outside.centre_chains) == pytest.approx(40.0 + math.tau, abs=1e-9)
    assert sum(chain.length for chain in inside.centre_chains) == pytest.approx(40.0 - 8.0, abs=1e-9)
    assert shapely.Polygon(polyline(inside.centre_chains[0].elements)).area == pytest.approx(64.0)
    assert len(inside.unreached) == 4


@pytest.mark.parametrize("nose", [0.0, -1.0, math.nan])
def test_a_nose_that_is_none_is_refused(nose: float) -> None:
    with pytest.raises(OutOfRange, match="must be more than 0"):
        nose_path(lines((0.0, 20.0), (0.0, 10.0)), nose, "left")


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_groove_with_round_edges_is_too_narrow_and_none_of_its_arcs_too_small(side: Side) -> None:
    """Edges of R1.5 about a groove 3 wide: a nose of 2 rolls over them, outward they may be as small as they like."""
    groove = Chain((
        Line(Point(10.0, 20.0), Point(1.5, 20.0)),
        Arc(Point(1.5, 20.0), Point(0.0, 18.5), Point(1.5, 18.5), "ccw"),
        Line(Point(0.0, 18.5), Point(0.0, 12.0)),
        Line(Point(0.0, 12.0), Point(-3.0, 12.0)),
        Line(Point(-3.0, 12.0), Point(-3.0, 18.5)),
        Arc(Point(-3.0, 18.5), Point(-4.5, 20.0), Point(-4.5, 18.5), "ccw"),
        Line(Point(-4.5, 20.0), Point(-12.0, 20.0)),
    ))  # fmt: skip
    (gap,) = nose_path(groove if side == "right" else groove.reversed(), 2.0, side).unreached
    assert gap.reason == "narrow"
    assert gap.elements == (1, 2, 3, 4, 5)


def test_what_is_not_reached_is_named_by_its_rows() -> None:
    """A corner concerns two rows; an arc that is too small alone is one, as where the contour ends in it."""
    corner = lines((0.0, 20.0), (0.0, 10.0), (9.0, 10.0))
    assert span_of(corner, nose_path(corner, 0.8, "left").unreached[0]) == "1 to 2"
    arc = Chain((Arc.from_angles(Point(0.0, 20.0), 0.5, 0.0, -2.0, "cw"),))
    (gap,) = nose_path(arc, 0.8, "right").unreached
    assert (gap.reason, span_of(arc, gap)) == ("radius", "1")
