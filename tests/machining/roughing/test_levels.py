"""Where levels lie, begin and end, each number worked out by hand from the print."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely

from calc.contour import Arc, Chain, Line, Point, Vector
from calc.machining.job import Contour, Cut, Operation, Setup, Strategy, Tool, Where
from calc.machining.machine import Done, machine
from calc.machining.removal.region import Bar
from calc.machining.removal.stock import stock_of
from calc.machining.removal.sweep import Outline
from calc.machining.roughing.levels import (
    THINNEST_KEPT,
    TOUCH,
    Axis,
    Ground,
    Keeping,
    first_touch,
    flank_at,
    levels,
    stretch_count,
)
from calc.machining.roughing.planning import (
    Leading,
    Planned,
    Work,
    backward,
    facing,
    finish_face,
    finishing,
    front_of,
    in_cutting_direction,
    parallels,
)

NOSE = 0.8
DISC = Tool(Outline((Point(0.0, 0.0),), NOSE))


def chain_of(*corners: tuple[float, float]) -> Chain:
    return Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))


def roughed(chain: Chain, side: str, where: Where, strategy: Strategy, bar: Bar, **more: float) -> Done:
    cut = Cut(1.5, 0.25, along_z=more.get("along_z", 0.1), along_x=more.get("along_x", 0.2))
    operation = Operation(DISC, cut, strategy, where)
    return machine(operation, stock_of(bar.area()), Contour(chain, side), Setup(2.0, 0.5))  # type: ignore[arg-type]


def lines_of(done: Done) -> list[tuple[float, ...]]:
    """The cut of each level: where the nose's centre begins and ends."""
    paths = [each.planned.pieces[0].path for each in done.made if each.planned.name.startswith("rough")]
    return [(*path.start, *path.end) for path in paths]


def moves_of(done: Done, number: int) -> list[tuple[str, str, float | None]]:
    return [(move.kind, move.why, move.feed) for move in done.made[number].removal.tool_pass.moves]


SHAFT = chain_of((0.0, 6.0), (-3.0, 6.0), (-3.0, 9.0), (-8.0, 9.0))


def test_levels_of_a_stepped_shaft_lie_below_each_other_and_end_at_its_shoulder() -> None:
    """From r 12 to 6.2 are 5.8: four of 1.45, each from 2 and the nose before the face.

    The first runs over the shoulder, of r 9.2 with its allowance, to the contour's end. The second, down to r 9.1,
    meets its corner at Z-2.9 with the centre 0.7 above it: sqrt(0.8^2 - 0.7^2) before it. The others stop at its wall.
    """
    done = roughed(SHAFT, "right", "outside", "rough along z", Bar(12.0, 0.0, -20.0))
    ends = (-8.0, -2.9 + math.sqrt(0.8**2 - 0.7**2), -2.1, -2.1)
    for line, number, end in zip(lines_of(done), (1, 2, 3, 4), ends, strict=True):
        r = 12.0 - number * 1.45 + NOSE
        assert line == pytest.approx((2.8, r, end, r), abs=1e-3)
    assert [made.planned.opens for made in done.made[:4]] == [True] * 4
    assert [made.removal.depth for made in done.made[:4]] == [pytest.approx(1.45, abs=2e-3)] * 4


def test_levels_in_a_bore_go_outward() -> None:
    """From the hole of r 5 to the bore of r 9 less 0.2 are 3.8: three of 1.2667, the centre 0.8 inside each."""
    bore = chain_of((0.0, 9.0), (-6.0, 9.0), (-6.0, 5.5), (-9.0, 5.5))
    done = roughed(bore, "left", "bore", "rough along z", Bar(20.0, 0.0, -20.0, 5.0))
    lines = lines_of(done)
    assert [line[1] for line in lines] == [pytest.approx(5.0 + 3.8 / 3 * n - NOSE, abs=1e-5) for n in (1, 2, 3)]
    assert [line[0] for line in lines] == [pytest.approx(2.8, abs=1e-5)] * 3
    assert [line[2] for line in lines] == [pytest.approx(-6.0 + 0.1 + NOSE, abs=2e-4)] * 3


def test_levels_along_x_in_a_bore_go_from_the_axis_outward_to_its_wall() -> None:
    """Round a hole of r 5 to r 8.8, from Z0 to Z-5.9, are four levels of 1.475; the nose stops 0.8 before the wall."""
    blind = chain_of((0.0, 9.0), (-6.0, 9.0), (-6.0, 0.0))
    done = roughed(blind, "left", "bore", "rough along x", Bar(20.0, 0.0, -20.0, 5.0, 5.0))
    for line, number in zip(lines_of(done)[:4], (1, 2, 3, 4), strict=True):
        z = -1.475 * number + NOSE
        assert line == pytest.approx((z, 0.0, z, 9.0 - 0.2 - NOSE), abs=1e-3)


def test_levels_along_x_go_inward_over_a_face_and_stop_at_its_hub() -> None:
    """A hub of r 4 stands 3 in front of the face: from Z0 to Z-2.9 are two levels of 1.45; the hub keeps 0.2."""
    face = chain_of((-3.0, 15.0), (-3.0, 4.0), (0.0, 4.0))
    done = roughed(face, "left", "face", "rough along x", Bar(15.0, 0.0, -20.0))
    lines = lines_of(done)
    assert [line[0] for line in lines] == [pytest.approx(-1.45 * n + NOSE, abs=1e-5) for n in (1, 2)]
    assert [line[1] for line in lines] == [pytest.approx(15.0 + 2.0 + NOSE, abs=1e-5)] * 2
    assert [line[3] for line in lines] == [pytest.approx(4.0 + 0.2 + NOSE, abs=2e-4)] * 2
    touched = [made.planned.pieces[0].contact for made in done.made]
    assert [line.start.z for line in touched[:2] if isinstance(line, Line)] == pytest.approx([-1.45, -2.9], abs=1e-5)


def test_a_groove_is_entered_at_half_the_feed_and_each_of_two_has_its_own_stretch() -> None:
    """Two grooves 6 wide and 3 deep in a shaft of r 10, which keep 0.3 on their walls alone: two levels of 1.5 in each.

    The centre goes from 0.3 and the nose behind the front wall to as much before the back wall.
    """
    shaft = chain_of((0.0, 10.0), (-4.0, 10.0), (-4.0, 7.0), (-10.0, 7.0), (-10.0, 10.0), (-14.0, 10.0),
                     (-14.0, 7.0), (-20.0, 7.0), (-20.0, 10.0), (-24.0, 10.0))  # fmt: skip
    done = roughed(shaft, "right", "outside", "rough along z", Bar(10.0, 0.0, -40.0), along_x=0.0, along_z=0.3)
    lines = lines_of(done)
    assert [round(line[1], 3) for line in lines] == [9.3, 9.3, 7.8, 7.8]
    for (start, _, end, _), wall in zip(lines, (-4.0, -14.0, -4.0, -14.0), strict=True):
        assert start == pytest.approx(wall - 0.3 - NOSE, abs=2e-4)
        assert end == pytest.approx(wall - 6.0 + 0.3 + NOSE, abs=2e-4)
    assert ("feed", "cut", 0.125) in moves_of(done, 0)
    assert ("feed", "cut", 0.25) in moves_of(done, 0)


def test_a_recess_round_a_hole_that_holds_the_nose_is_cut_outward_from_it() -> None:
    """A recess 2 deep to r 12 round a hole of r 4: two levels of 0.95, from 2 before the hole's edge to the wall."""
    recess = chain_of((0.0, 12.0), (-2.0, 12.0), (-2.0, 4.0))
    done = roughed(recess, "left", "face", "rough along x", Bar(20.0, 0.0, -20.0, 4.0))
    for line, number in zip(lines_of(done), (1, 2), strict=True):
        z = -0.95 * number + NOSE
        assert line == pytest.approx((z, 4.0 - NOSE - 2.0, z, 12.0 - 0.2 - NOSE), abs=2e-3)
    assert [made.planned.opens for made in done.made[:2]] == [True, True]


@pytest.mark.parametrize(("hole", "begins", "ends"), [(2.9, 0.1, 11.0), (2.7, 11.0, 1.9)])
def test_a_hole_without_room_for_the_nose_and_its_run_in_is_led_to_and_not_from(
    hole: float, begins: float, ends: float
) -> None:
    """A nose of 0.8 and 2 before it take 2.8: above that outward from clear of the edge, below inward from the wall."""
    recess = chain_of((0.0, 12.0), (-2.0, 12.0), (-2.0, hole))
    done = roughed(recess, "left", "face", "rough along x", Bar(20.0, 0.0, -20.0, hole))
    assert [line[1::2] for line in lines_of(done)] == [pytest.approx((begins, ends), abs=2e-3)] * 2


def test_passes_along_a_cylinder_come_nearer_by_the_same_depth() -> None:
    """From r 10 to r 6.2 are 3.8: three passes of 1.2667, the nose's centre 0.8 above each."""
    done = roughed(chain_of((0.0, 6.0), (-8.0, 6.0)), "right", "outside", "rough along the contour",
                   Bar(10.0, 0.0, -8.0), along_z=0.0)  # fmt: skip
    assert [line[1] for line in lines_of(done)] == pytest.approx([10.0 - 3.8 / 3 * n + NOSE for n in (1, 2, 3)])
    assert [made.removal.depth for made in done.made] == pytest.approx([3.8 / 3] * 3, abs=2e-3)


def test_a_pass_along_the_contour_begins_where_the_nose_meets_the_bar_and_ends_with_the_last_line_that_cuts() -> None:
    """A bar from Z0 to Z-12 on a contour from Z3 to Z-16: the nose of 0.8 meets its face 0.8 before it."""
    shaft = chain_of((3.0, 6.0), (0.9, 6.0), (-13.0, 6.0), (-16.0, 6.0))
    bar = Bar(9.0, 0.0, -12.0)
    done = roughed(shaft, "right", "outside", "rough along the contour", bar, along_z=0.0, along_x=0.0)
    ends = [(made.planned.pieces[0].path.start.z, made.planned.pieces[-1].path.end.z) for made in done.made]
    assert ends == [pytest.approx((NOSE, -13.0), abs=2e-3)] * 2
    assert [made.planned.name for made in done.made] == ["rough 1", "rough 2"]


def test_a_pass_parallel_to_the_contour_touches_what_it_leaves() -> None:
    """From r 7.6 to 6 in two of 0.8."""
    shaft = chain_of((0.0, 6.0), (-9.0, 6.0))
    bar = Bar(7.6, 0.0, -9.0)
    done = roughed(shaft, "right", "outside", "rough along the contour", bar, along_z=0.0, along_x=0.0)
    touched = [made.planned.pieces[0].contact for made in done.made]
    assert [line.end.r for line in touched if isinstance(line, Line)] == pytest.approx([6.8, 6.0])


def test_over_a_dish_the_nose_goes_to_the_axis_and_no_farther() -> None:
    """The contour with its allowance along X leads beyond the axis; there a nose would cut the far wall."""
    dish = Chain((Arc.from_radius(Point(0.0, 12.0), Point(math.sqrt(40.0**2 - 12.0**2) - 40.0, 0.0), 40.0, "ccw"),))
    done = roughed(dish, "left", "face", "rough along the contour", Bar(14.0, 1.0, -20.0), along_x=0.3)
    lowest = [min(piece.path.bounds().r_min for piece in made.planned.pieces) for made in done.made]
    assert lowest == [pytest.approx(0.0, abs=1e-9)] * len(done.made)


def test_passes_over_a_dish_are_one_and_the_same_arc_moved_along_z() -> None:
    """A dish of R 40 in a face: the nose's centre goes along R 39.2 in both passes, from Z1 to 0.1 above its bottom."""
    dish = Chain((Arc.from_radius(Point(0.0, 12.0), Point(math.sqrt(40.0**2 - 12.0**2) - 40.0, 0.0), 40.0, "ccw"),))
    done = roughed(dish, "left", "face", "rough along the contour", Bar(14.0, 1.0, -20.0), along_x=0.0)
    arcs = [piece.path for made in done.made for piece in made.planned.pieces if isinstance(piece.path, Arc)]
    long = [arc for arc in arcs if arc.radius > 2.0]
    assert len(long) == len(done.made) > 1
    assert [arc.radius for arc in long] == [pytest.approx(40.0 - NOSE)] * len(long)
    steps = np.diff([arc.centre.z for arc in long])
    assert steps == pytest.approx(steps[0])
    assert steps[0] == pytest.approx((-0.9 - 40.0 + math.sqrt(40.0**2 - 12.0**2)) / 2.0, abs=1e-3)


def test_facing_goes_inward_from_clear_of_the_bar_down_to_the_face() -> None:
    """2.5 of face stock at most 1 deep: three passes, the centre 0.8 in front of each."""
    passes = list(facing((-20.0, 0.0, 2.5, 10.0), 0.0, Leading(NOSE, 1.0, 0.2)))
    assert [each.name for each in passes] == ["face 1", "face 2", "face 3"]
    fronts = [piece.path.start.z for each in passes for piece in each.pieces]
    assert fronts == pytest.approx([2.5 * share + NOSE for share in (2 / 3, 2 / 3, 1 / 3, 1 / 3, 0.0, 0.0)])
    for each in passes:
        run_in, cut = each.pieces
        assert run_in.path.start.r == pytest.approx(10.0 + NOSE + 2.0)
        assert (run_in.in_air, cut.in_air) == (True, False)
        assert (cut.path.start.r, cut.path.end.r) == (10.0, 0.0)
        assert each.away == Vector(1.0, 0.0)
        assert each.opens
    for front in (0.0, 0.5e-6, -0.5):
        assert list(facing((-20.0, 0.0, front, 10.0), 0.0, Leading(NOSE))) == []


def test_over_a_hole_facing_ends_at_its_edge() -> None:
    (one,) = facing((-20.0, 4.0, 0.5, 10.0), 0.0, Leading(NOSE, 1.0, 0.2))
    assert one.pieces[1].path.end == Point(NOSE, 4.0)


def test_the_face_is_finished_inward_and_the_rest_without_it() -> None:
    chain = chain_of((0.0, 0.0), (0.0, 6.0), (-3.0, 6.0), (-3.0, 9.0))
    face = front_of(chain, "outside")
    assert face == chain.elements[0]
    assert front_of(chain.shifted(7.0, 0.0), "outside") is not None
    inward = finish_face(face, (9.0, 0.0), Leading(NOSE, feed=0.1))
    assert (inward.name, inward.kind) == ("finish face", "finish")
    assert [(*piece.path.start, *piece.path.end) for piece in inward.pieces] == [
        (NOSE, 9.0 + NOSE + 2.0, NOSE, 9.0),
        (NOSE, 9.0, NOSE, 0.0),
    ]
    (along,) = finishing(chain, "right", Leading(NOSE, feed=0.1), after=face)
    assert along.pieces[0].path.start.r == pytest.approx(6.0 + NOSE)
    (whole,) = finishing(chain, "right", Leading(NOSE, feed=0.1))
    assert whole.pieces[0].path.start == Point(NOSE, 0.0)


def test_what_a_nose_cannot_pass_parts_the_finish_in_two() -> None:
    """A bore with a neck of r 0.5 and a nose of 0.8."""
    neck = chain_of((0.0, 5.0), (-5.0, 5.0), (-5.0, 0.5), (-8.0, 0.5), (-8.0, 5.0), (-12.0, 5.0))
    assert [each.name for each in finishing(neck, "left", Leading(NOSE))] == ["finish 1", "finish 2"]


@pytest.mark.parametrize(
    ("corners", "where"),
    [
        (((0.0, 0.0), (0.0, 6.0), (-3.0, 6.0)), "bore"),
        (((0.0, 0.0), (-1.0, 6.0), (-3.0, 6.0)), "outside"),
        (((0.0, 2.0), (0.0, 6.0), (-3.0, 6.0)), "outside"),
        (((0.0, 0.0), (0.0, 6.0), (2.0, 6.0)), "outside"),
        (((-5.0, 0.0), (-5.0, 6.0), (5.0, 6.0)), "outside"),
    ],
)
def test_what_is_no_face_from_the_axis_in_front_of_all_is_none(
    corners: tuple[tuple[float, float], ...], where: Where
) -> None:
    assert front_of(chain_of(*corners), where) is None


def test_a_contour_is_travelled_from_where_the_tool_comes() -> None:
    there, back = chain_of((0.0, 6.0), (-9.0, 6.0)), chain_of((-9.0, 6.0), (0.0, 6.0))
    assert in_cutting_direction(there, "right", "outside") == (there, "right")
    turned, side = in_cutting_direction(back, "left", "outside")
    assert (turned.start, side) == (Point(0.0, 6.0), "right")
    outward = chain_of((-1.0, 2.0), (0.0, 8.0))
    inward, side = in_cutting_direction(outward, "right", "face")
    assert (inward.start, side) == (Point(0.0, 8.0), "left")
    assert in_cutting_direction(inward, "left", "face") == (inward, "left")
    widens_to_the_back = chain_of((0.0, 5.0), (-9.0, 6.0))
    assert in_cutting_direction(widens_to_the_back, "left", "bore") == (widens_to_the_back, "left")


def test_a_nose_first_touches_where_it_is_as_near_as_its_radius() -> None:
    """A corner 3 beside the path: a nose of 5 reaches it 4 before it is abreast."""
    path = Line(Point(0.0, 0.0), Point(50.0, 0.0))
    corner = shapely.box(30.0, 3.0, 31.0, 9.0)
    assert first_touch(path, [corner], 5.0) == pytest.approx(26.0, abs=0.01)
    assert first_touch(path, [corner, shapely.box(10.0, -9.0, 11.0, -4.0)], 5.0) == pytest.approx(7.0, abs=0.01)
    assert first_touch(path, [shapely.box(0.0, 1.0, 2.0, 2.0)], 5.0) == 0.0
    assert first_touch(path, [shapely.box(90.0, 0.0, 91.0, 1.0)], 5.0) < 50.0


@pytest.mark.parametrize(
    ("axis", "where", "steps", "count"),
    [
        ("z", "outside", [1.0], 2),
        ("z", "bore", [1.0], 1),
        ("z", "bore", [1.0, 3.4], 3),
        ("x", "face", [1.2], 1),
        ("x", "face", [2.9], 0),
        ("x", "face", [1.2, 3.0], 2),
    ],
)
def test_stretches_are_counted_in_the_middle_of_each_level(
    axis: Axis, where: Where, steps: list[float], count: int
) -> None:
    """A wall from Z0 to Z1 at r 5 to 9 and one from Z2 to Z3 at r 7 to 9, by hand."""
    two = shapely.union(shapely.box(0.0, 5.0, 1.0, 9.0), shapely.box(2.0, 7.0, 3.0, 9.0))
    assert stretch_count(Ground(shapely.Polygon(), stock_of(two), 0.4), axis, where, steps) == count


def test_a_level_across_a_hub_behind_a_lower_rim_is_one_stretch() -> None:
    """In front a hub up to r 7, behind it a rim from there to r 9: the first level meets the hub alone."""
    hub = shapely.union(shapely.box(0.0, 7.0, 1.8, 9.0), shapely.box(2.0, 5.0, 3.0, 7.0))
    assert stretch_count(Ground(shapely.Polygon(), stock_of(hub), 0.4), "x", "face", [0.8]) == 1


def test_a_level_has_no_stretch_where_the_nose_just_stands_between_two_walls() -> None:
    """A slot 1.6005 wide for a nose of 0.8: half a micrometre to go along would be a plunge and no cut."""
    part = shapely.union(shapely.box(0.0, 0.0, 5.0, 9.0), shapely.box(6.6005, 0.0, 12.0, 9.0))
    slot = Ground(part.buffer(NOSE), stock_of(shapely.box(5.0, 6.0, 6.6005, 9.0)), NOSE)
    assert list(levels(slot, "z", "outside", [1.5, 3.0], 2.0)) == []


def test_a_level_that_takes_next_to_nothing_is_left_to_the_pass_along_the_contour() -> None:
    """Below 1.5 all along a shaft there is a burr of 0.02 by 1.5 at its face: 0.03 mm2, of 2.25 for a level as deep."""
    burred = shapely.union(shapely.box(-9.0, 7.5, 0.0, 9.0), shapely.box(-0.02, 6.0, 0.0, 7.5))
    shaft = Ground(shapely.box(-20.0, 0.0, 0.0, 6.0).buffer(NOSE), stock_of(burred), NOSE)
    assert len(list(levels(shaft, "z", "outside", [1.5, 3.0], 2.0))) == 1


def test_a_flank_is_followed_up_to_the_roof_above_it() -> None:
    """A slope of 45 degrees from r 4 to a roof at r 7 is 3 sqrt 2 long."""
    slope = shapely.Polygon([(0.0, 0.0), (0.0, 9.0), (-9.0, 0.0)])
    under = Ground(shapely.union(slope, shapely.box(-9.0, 7.0, -1.0, 9.0)), stock_of(shapely.box(-9, 0, 0, 9)), NOSE)
    flank = flank_at(under, Line(Point(-5.0, 4.0), Point(-9.0, 4.0)), Vector(0.0, 1.0))
    assert flank is not None
    assert flank.length == pytest.approx(3.0 * math.sqrt(2.0), abs=0.005)


@pytest.mark.parametrize(("thick", "passes"), [(0.0008, 0), (0.002, 1)])
def test_less_than_a_thousandth_above_the_contour_is_no_pass(thick: float, passes: int) -> None:
    shaft = chain_of((0.0, 6.0), (-9.0, 6.0))
    work = Work(shaft, shaft, "right", "outside", stock_of(shapely.box(-9.0, 6.0, 0.0, 6.0 + thick)), 20.0)
    assert len(list(parallels(work, Leading(NOSE)))) == passes


def test_what_is_kept_is_a_rectangle_about_the_nose() -> None:
    assert Keeping().corners == (Point(0.0, 0.0),)
    assert Keeping(0.2, 0.3).corners == (Point(-0.2, -0.3), Point(0.2, -0.3), Point(0.2, 0.3), Point(-0.2, 0.3))
    assert Keeping(0.2, 0.0).corners[2] == Point(0.2, THINNEST_KEPT)
    assert Keeping(0.0, 0.3).corners[2] == Point(THINNEST_KEPT, 0.3)
    assert 0.0 < THINNEST_KEPT < TOUCH


def test_a_pass_knows_the_direction_away_from_its_surface() -> None:
    outside: list[Planned] = list(finishing(chain_of((0.0, 6.0), (-9.0, 6.0)), "right", Leading(NOSE, feed=0.1)))
    bore = list(finishing(chain_of((0.0, 6.0), (-9.0, 6.0)), "left", Leading(NOSE, feed=0.1)))
    assert [tuple(each[0].away) for each in (outside, bore)] == [pytest.approx((0.0, 1.0)), pytest.approx((0.0, -1.0))]
    there: Planned = outside[0]
    assert tuple(backward(there, "right").away) == pytest.approx((0.0, 1.0))
