"""Passes taken off the stock: against closed forms of areas and volumes, and against what the nose's way says."""

import math
from itertools import pairwise

import pytest
import shapely

from calc.contour import Arc, Chain, Element, Line, Point, plane_area
from calc.machining.job import Move, ToolPass
from calc.machining.removal.region import Bar, work_of
from calc.machining.removal.stock import stock_of
from calc.machining.removal.sweep import Outline, swept
from calc.machining.removal.taking import Taking, deepest
from calc.shapes.chosen import TOOL_SIDE, shape_chain
from calc.shapes.dish.bowl import DishInputs
from calc.shapes.dish.geometry import solve_dish
from calc.shapes.dish.nose import nose_on_dish
from calc.shapes.dish.uncompensated import uncompensated
from calc.tool.insert import insert_core
from calc.tool.insert.tables import shapes
from calc.tool.nose_measures import led_by_the_print
from calc.tool.nose_path import nose_path
from tests.machining.removal.swept_passes import Swept, sweep

ROUND = Outline((Point(0.0, 0.0),), 6.0)
BAR = Bar(30.0, 1.0, -20.0)


def along(chain: Chain, nose: float, side: str, name: str = "finish") -> ToolPass:
    way = nose_path(chain, nose, side).centre_chains[0]  # type: ignore[arg-type]  # one of two words
    return ToolPass(name, (Move(way.elements, 0.2),))


def seat(*lifts: float) -> Swept:
    chain = shape_chain("seat", None)
    work = work_of(BAR.area(), chain, "left")
    passes = [along(chain.shifted(lift, 0.0), 6.0, "left", f"{lift}") for lift in lifts]
    return sweep(work, ROUND, passes, chain)


def test_the_seat_comes_out_and_nothing_is_gouged() -> None:
    found = seat(4.0, 3.0, 2.0, 1.0, 0.0)
    assert found.judged.left == ()
    assert found.judged.too_deep == ()
    assert all(removal.gouged == 0.0 for removal in found.removals)


def test_what_is_removed_and_what_is_left_is_the_stock() -> None:
    found = seat(3.0, 1.5, 0.0)
    assert sum(each.area for each in found.removals) + found.left.area == pytest.approx(found.work.stock.area)
    whole = math.pi * 900.0 * 21.0
    kept = sum(each.volume for each in found.removals)
    dish = solve_dish(DishInputs(radius=75.0, depth=4.5))
    sharp = math.pi * 4.5**2 * (75.0 - 1.5)
    assert whole - kept == pytest.approx(whole - math.pi * 900.0 - sharp, rel=2e-4)
    assert dish.bowl.depth == 4.5


@pytest.mark.parametrize("number", [2, 3])
def test_the_uncompensated_seat_is_the_closed_form_profile(number: int) -> None:
    """Swept discs in closed form (the dish's own page): the area left in front of a plane, and the deepest places."""
    dish = solve_dish(DishInputs(radius=75.0, depth=4.5))
    profile = uncompensated(nose_on_dish(dish, 6.0, number))
    assert profile is not None
    way = led_by_the_print(dish.part(60.0), 6.0, number)
    work = work_of(Bar(30.0, 0.0, -20.0).area(), dish.part(60.0), "left")
    found = sweep(work, ROUND, [ToolPass("led", (Move(way.elements, 0.2),))], dish.part(60.0))
    within = [each for each in profile.profile.elements if each.end.r < 30.0]
    first = within[0].split(*map(within[0].locate, within[0].points_at_r(30.0)))[-1]
    clipped = Chain((first, *within[1:]))
    corners = [clipped.end, Point(-20.0, 0.0), Point(-20.0, 30.0), clipped.start]
    wanted = abs(plane_area([*clipped, *(Line(a, b) for a, b in pairwise(corners))]))
    assert found.left.area == pytest.approx(wanted, abs=2.5e-4 * clipped.length)


def test_a_nose_without_compensation_leaves_on_the_pad_what_the_table_says() -> None:
    """0.4 (sqrt 2 - 1) on the edge at 45 degrees."""
    chain = shape_chain("pad", None)
    work = work_of(Bar(25.4, 1.0, -30.0).area(), chain, TOOL_SIDE["pad"])
    way = led_by_the_print(chain, 0.4, 3)
    outline = Outline((Point(0.0, 0.0),), 0.4)
    rough = [along(chain.shifted(0.6 * lift, 0.0), 0.4, "left", "rough") for lift in range(10, 0, -1)]
    found = sweep(work, outline, [*rough, ToolPass("led", (Move(way.elements, 0.1),))], chain)
    edge = next(place for place in found.judged.left if place.of == 1)
    assert edge.depth == pytest.approx(0.4 * (2**0.5 - 1), abs=2e-3)


def test_corners_keep_what_the_nose_cannot_reach() -> None:
    """The same area as the nose's way tells, found without it."""
    chain = shape_chain("stem", None)
    outline = Outline(insert_core(shapes()["D"], 9.525, 0.8, math.radians(62.5)), 0.8)
    work = work_of(Bar(21.0, 1.0, -120.0).area(), chain, "right", 0.8)
    passes = [along(chain.shifted(0.0, lift), 0.8, "right") for lift in (11.0, 9.0, 7.0, 5.0, 3.0, 1.5, 0.5, 0.0)]
    found = sweep(work, outline, passes, chain)
    gaps = nose_path(chain, 0.8, "right").unreached
    assert found.judged.over.area == pytest.approx(sum(gap.area or 0.0 for gap in gaps), abs=1e-2)
    assert [place.of for place in found.judged.left] == [2, 3, 4, 5]
    assert found.judged.too_deep == ()


def test_a_flank_that_is_too_steep_gouges_and_says_how_deep() -> None:
    """An 80 degree insert held as for facing, led through a groove, cuts its wall."""
    corners = [Point(5.0, 20.0), Point(0.0, 20.0), Point(-3.0, 15.0), Point(-10.0, 15.0), Point(-10.0, 22.0)]
    chain = Chain(tuple(Line(a, b) for a, b in pairwise(corners)))
    outline = Outline(insert_core(shapes()["C"], 12.7, 0.8, math.radians(45.0)), 0.8)
    work = work_of(Bar(22.0, 0.0, -30.0).area(), chain, "right")
    found = sweep(work, outline, [along(chain, 0.8, "right")], chain)
    assert found.judged.too_deep
    assert found.judged.too_deep[0].depth > 1.0
    assert found.removals[0].hits == found.removals[0].gouged > 1.0


def test_a_rapid_through_the_stock_is_told() -> None:
    chain = Chain((Line(Point(5.0, 20.0), Point(-10.0, 20.0)),))
    work = work_of(Bar(25.0, 0.0, -30.0).area(), chain, "right", 1.0)
    way = Line(Point(5.0, 20.8), Point(-5.0, 20.8))
    too_fast = ToolPass("too fast", (Move((way,), kind="rapid", why="approach"),))
    found = sweep(work, Outline((Point(0.0, 0.0),), 0.8), [too_fast], chain)
    assert found.removals[0].hits == found.removals[0].rapid > 5.0
    far = Line(Point(50.0, 60.0), Point(5.0, 60.0))
    led = ToolPass("led there", (Move((far, Line(far.end, way.start), way), kind="rapid", why="approach"),))
    (removal,) = sweep(work, Outline((Point(0.0, 0.0),), 0.8), [led], chain).removals
    assert removal.rapid == pytest.approx(found.removals[0].rapid)
    (removal,) = sweep(work, Outline((Point(0.0, 0.0),), 0.8), [ToolPass("air", (Move((far,), 0.2),))], chain).removals
    assert (removal.area, removal.volume, removal.depth, removal.hits) == (0.0, 0.0, 0.0, 0.0)
    assert [(chip.place, chip.length, chip.width, chip.section) for chip in removal.chips] == [(0.0, 45.0, 0.0, 0.0)]
    assert (found.removals[0].chips, found.removals[0].thickest) == ((), 0.0)


def test_the_chip_of_a_straight_cut_is_depth_times_feed() -> None:
    chain = Chain((Line(Point(5.0, 20.0), Point(-10.0, 20.0)),))
    work = work_of(Bar(21.0, 0.0, -30.0).area(), chain, "right", 1.0)
    outline = Outline(insert_core(shapes()["C"], 12.7, 0.8, math.radians(45.0)), 0.8)
    way = (Line(Point(3.0, 20.8), Point(-2.0, 20.8)), Line(Point(-2.0, 20.8), Point(-6.0, 20.8)))  # two stretches
    found = sweep(work, outline, [ToolPass("cut", (Move(way, 0.25),))], chain)
    last = found.removals[0].chips[-1]
    assert last.width == pytest.approx(1.0, abs=1e-3)
    assert last.section == pytest.approx(0.25, abs=1e-3)
    assert last.place == 5.0


def test_a_long_cut_is_told_in_stretches_that_add_up() -> None:
    chain = Chain((Line(Point(5.0, 20.0), Point(-30.0, 20.0)),))
    work = work_of(Bar(21.0, 0.0, -50.0).area(), chain, "right", 1.0)
    way = (Line(Point(3.0, 20.8), Point(-29.0, 20.8)),)
    (removal,) = sweep(work, Outline((Point(0.0, 0.0),), 0.8), [ToolPass("cut", (Move(way, 0.2),))], chain).removals
    assert len(removal.chips) == 4
    assert sum(chip.width * chip.length for chip in removal.chips) == pytest.approx(removal.area, abs=1e-6)
    assert [chip.place for chip in removal.chips] == [0.0, 8.0, 16.0, 24.0]
    assert [chip.width for chip in removal.chips[1:3]] == pytest.approx([1.0, 1.0]), "1 mm deep, wholly in the bar"


def test_a_step_of_the_bar_counts_in_the_stretch_in_which_the_tools_front_gets_to_it() -> None:
    """1 mm deep to Z-13.4, then 2: a flat front goes 0.8 ahead, at the end of the second stretch to Z-13.8."""
    bar = shapely.union_all([shapely.box(-50.0, 0.0, 0.0, 21.0), shapely.box(-50.0, 0.0, -13.4, 22.0)])
    square = Outline((Point(0.0, 0.0), Point(9.0, 0.0), Point(9.0, 5.0), Point(0.0, 5.0)), 0.8)
    cut = ToolPass("cut", (Move((Line(Point(3.0, 20.8), Point(-29.0, 20.8)),), 0.2),))
    chips = Taking(square, stock_of(shapely.Polygon())).take(stock_of(bar), cut).chips
    corner = (1.0 - math.pi / 4.0) * 0.8**2
    taken = [chip.width * chip.length for chip in chips]
    assert taken == pytest.approx([5.8 - corner, 7.6 + 2.0 * 0.4, 16.0, 16.0], abs=1e-3)


@pytest.mark.parametrize(("low", "depth"), [(0.5e-3, 0.0), (1.5e-3, 1.5e-3)])
def test_a_stretch_that_takes_no_more_than_a_micrometre_has_no_depth_though_what_it_takes_is_gone(
    low: float, depth: float
) -> None:
    """A nose of 0.8 along 10 mm of a bar of r 21, so much below its surface."""
    way = Line(Point(-2.0, 21.8 - low), Point(-12.0, 21.8 - low))
    surface = Line(Point(5.0, 21.0 - low), Point(-30.0, 21.0 - low))
    taking = Taking(Outline((Point(0.0, 0.0),), 0.8), stock_of(shapely.Polygon()))
    cut = ToolPass("cut", (Move((way,), 0.2),))
    removal = taking.take(stock_of(Bar(21.0, 0.0, -30.0).area()), cut, [surface])
    assert removal.area == pytest.approx(10.0 * low, rel=0.02)
    assert removal.depth == pytest.approx(depth, abs=1e-9)


def test_what_a_nose_takes_beyond_the_axis_is_gone_on_this_side() -> None:
    """A round nose of 1 mm through a bar of 5 mm with its centre 0.5 beyond the axis: all below r 1.5."""
    way = Line(Point(3.0, -0.5), Point(-8.0, -0.5))
    taking = Taking(Outline((Point(0.0, 0.0),), 1.0), stock_of(shapely.Polygon()))
    removal = taking.take(stock_of(Bar(5.0, 0.0, -5.0).area()), ToolPass("cut", (Move((way,), 0.2),)))
    assert removal.area == pytest.approx(5.0 * 1.5)
    assert removal.volume == pytest.approx(5.0 * math.pi * 1.5**2)


def test_the_holder_that_hits_what_is_left_is_told() -> None:
    chain = Chain((Line(Point(5.0, 20.0), Point(-10.0, 20.0)),))
    block = (Point(-3.0, -1.0), Point(3.0, -1.0), Point(3.0, 3.0), Point(-3.0, 3.0))
    work = work_of(Bar(25.0, 0.0, -30.0).area(), chain, "right", 1.0)
    found = sweep(work, Outline((Point(0.0, 0.0),), 0.8, (block,)), [along(chain, 0.8, "right")], chain)
    assert found.removals[0].hits == found.removals[0].holder > 1.0


@pytest.mark.parametrize(("deep", "hit"), [(1e-5, 0.0), (3e-5, 1.5e-4)])
def test_a_holder_that_runs_along_a_surface_has_hit_nothing_by_rounding(deep: float, hit: float) -> None:
    """A block above the nose, so deep in a bar of r 21 over 5 mm: 0.5 and 1.5 times what it may graze."""
    block = (Point(-1.0, 3.0), Point(0.0, 3.0), Point(0.0, 9.0), Point(-1.0, 9.0))
    stock = stock_of(shapely.box(-5.0, 10.0, 0.0, 21.0))
    way = Line(Point(3.0, 18.0 - deep), Point(-8.0, 18.0 - deep))
    taking = Taking(Outline((Point(0.0, -9.0),), 0.8, (block,)), stock_of(shapely.Polygon()))
    removal = taking.take(stock, ToolPass("along", (Move((way,), 0.2),)))
    assert (removal.area, removal.holder) == pytest.approx((0.0, hit), abs=1e-9)


def test_a_bored_bar_has_its_hole() -> None:
    assert Bar(10.0, 0.0, -10.0, 3.0, 4.0).area().area == pytest.approx(100.0 - 12.0)
    assert Bar(10.0, 0.0, -10.0, 3.0).area().area == pytest.approx(70.0)


def test_a_bore_is_removed_from_the_inside() -> None:
    chain = Chain((Line(Point(0.0, 8.0), Point(-6.0, 8.0)), Line(Point(-6.0, 8.0), Point(-6.0, 5.0))))
    work = work_of(Bar(20.0, 0.0, -10.0, 5.0).area(), chain, "left")
    assert work.to_remove.area == pytest.approx(18.0)
    assert shapely.Point(-3.0, 7.0).within(work.to_remove)


def test_the_place_of_a_chip_counts_the_feed_alone_in_the_air_too() -> None:
    """Rapid moves in the air and beside the bar, 3 mm of feed in the air, then two stretches of 5 mm."""
    chain = Chain((Line(Point(5.0, 20.0), Point(-10.0, 20.0)),))
    work = work_of(Bar(21.0, 0.0, -30.0).area(), chain, "right", 1.0)
    places = [Point(40.0, 60.0), Point(40.0, 20.8), Point(8.0, 20.8), Point(5.0, 20.8), Point(0.0, 20.8)]
    lines = [Line(a, b) for a, b in pairwise([*places, Point(-5.0, 20.8)])]
    moves = (
        Move(tuple(lines[:2]), kind="rapid", why="approach"),
        Move((lines[2],), 0.2, why="approach"),
        Move(tuple(lines[3:]), 0.2),
    )
    (removal,) = sweep(work, Outline((Point(0.0, 0.0),), 0.8), [ToolPass("cut", moves)], chain).removals
    assert [(chip.place, chip.length) for chip in removal.chips] == [(3.0, 5.0), (8.0, 5.0)]
    assert removal.rapid == 0.0


@pytest.mark.parametrize("path", [
    Line(Point(2.0, 14.0), Point(-26.0, 24.0)), Arc.from_angles(Point(-10.0, 44.0), 27.0, -1.2, -2.2, "cw"),
])  # fmt: skip
def test_along_a_cone_or_an_arc_each_stretch_takes_what_the_one_before_has_not(path: Element) -> None:
    """The geometry library's own difference of what the tool passes over up to the end of each stretch."""
    outline = Outline((Point(0.0, 0.0),), 0.8)
    bar = shapely.box(-40.0, 0.0, 0.0, 26.0)
    taken = Taking(outline, stock_of(shapely.Polygon())).take(stock_of(bar), ToolPass("cut", (Move((path,), 0.2),)))
    assert len(taken.chips) == 4
    begun = 0.0
    for number, chip in enumerate(taken.chips, 1):
        done = bar.intersection(swept(outline, [path.between(0.0, path.length * number / 4)])).area
        assert chip.width * chip.length == pytest.approx(done - begun, abs=2e-3)
        assert chip.section == pytest.approx(0.2 * chip.width)
        begun = done


def test_the_depth_over_many_short_elements_is_that_of_the_library_with_all_of_them() -> None:
    """A row of chips 2 mm over a contour of short cones: nothing of it is as near to a chip as the chip is large."""
    corners = [Point(-0.5 * index, 20.0 + 0.25 * (index % 2)) for index in range(401)]
    taken = [shapely.box(-0.1 * number - 0.1, 22.0, -0.1 * number, 22.1 + 0.002 * number) for number in range(200)]
    contour = shapely.LineString([tuple(corner) for corner in corners])
    wanted = max(shapely.Point(place).distance(contour) for place in shapely.get_coordinates(taken))
    assert deepest(taken, [Line(a, b) for a, b in pairwise(corners)]) == pytest.approx(wanted, abs=1e-12)
