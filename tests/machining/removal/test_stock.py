"""The stock in slabs: what a cut leaves alone, and what is shared out."""

from __future__ import annotations

import math

import pytest
import shapely

from calc.contour import Arc, Chain, Line, Point
from calc.machining.removal.polygons import GRID
from calc.machining.removal.region import Bar, led_on, tool_side, work_of
from calc.machining.removal.stock import FEW, spread, stock_of
from calc.machining.removal.taking import _without

BOX = (-10.0, 2.0, 0.0, 5.0)
BESIDE = {"left": (-12.0, 3.0, -10.0, 4.0), "right": (0.0, 3.0, 2.0, 4.0), "below": (-6.0, 1.0, -4.0, 2.0),
          "above": (-6.0, 5.0, -4.0, 6.0)}  # fmt: skip


@pytest.mark.parametrize("where", BESIDE)
def test_a_slab_that_a_cut_does_not_get_at_stays_the_same_and_one_that_it_gets_at_does_not(where: str) -> None:
    stock = stock_of(shapely.box(*BOX))
    toward = {"left": (0.01, 0.0), "right": (-0.01, 0.0), "below": (0.0, 0.01), "above": (0.0, -0.01)}[where]
    low_z, low_r, high_z, high_r = BESIDE[where]
    assert stock.meets(shapely.box(*BESIDE[where])), "it touches there"
    assert stock.common(shapely.box(*BESIDE[where])) == []
    for share, is_same in ((-1.0, True), (1.0, False)):
        step = toward[0] * share, toward[1] * share
        area = shapely.box(low_z + step[0], low_r + step[1], high_z + step[0], high_r + step[1])
        after = stock.less(area)
        assert (after.slabs[0] is stock.slabs[0]) == is_same
        assert stock.meets(area) != is_same
        assert after.area == pytest.approx(30.0 if is_same else 30.0 - stock.common(area)[0].area, abs=1e-12)


def test_of_many_slabs_those_alone_change_that_a_cut_lies_in() -> None:
    """A bar of 12 mm in four slabs of 3: a groove from 4 to 5 mm behind its face lies in the third from the left."""
    stock = stock_of(shapely.box(-12.0, 0.0, 0.0, 5.0), 4 * FEW)
    assert stock.edges == pytest.approx((-9.0, -6.0, -3.0))
    after = stock.less(shapely.box(-5.0, 4.0, -4.0, 9.0))
    assert [old is new for old, new in zip(stock.slabs, after.slabs, strict=True)] == [True, True, False, True]
    assert stock.common_at(shapely.box(-6.5, 4.0, -5.5, 9.0)).keys() == {1, 2}
    assert stock.bounds == after.bounds == (-12.0, 0.0, 0.0, 5.0)
    assert (after.area, after.whole.area) == (59.0, 59.0)
    assert after.volume == pytest.approx(math.pi * (25.0 * 12.0 - 9.0))


def test_nothing_is_bounded_by_nothing() -> None:
    empty = stock_of(shapely.box(*BOX)).less(shapely.box(-11.0, 1.0, 1.0, 6.0))
    assert empty.bounds == (0.0, 0.0, 0.0, 0.0)
    assert empty.area == empty.volume == 0.0
    assert empty.less(shapely.box(*BOX)).area == 0.0
    assert stock_of(shapely.box(*BOX)).less(shapely.Polygon()).area == 30.0


def test_a_stock_is_shared_out_once() -> None:
    bar = stock_of(shapely.box(*BOX))
    shared = spread(bar, 4 * FEW)
    assert (len(bar.slabs), len(shared.slabs)) == (1, 4)
    assert spread(shared, 500) is shared
    assert shared.area == pytest.approx(30.0)


def test_on_a_grid_what_is_left_has_its_corners_there_and_else_where_they_were() -> None:
    stock = stock_of(shapely.box(-10.3, 0.0, 0.0, 5.0))
    slot = shapely.box(-2.2, 4.0, 1.0, 9.0)
    assert stock.less(slot, 0.5).bounds[0] == -10.5
    assert stock.less(slot).bounds[0] == -10.3


def test_a_cut_is_made_again_on_a_grid_when_other_than_the_common_area_went() -> None:
    """The bar's end at a third of a mm is on no grid of decimals; the slot and the bar have 2 mm2 in common."""
    stock, slot = stock_of(shapely.box(-10.0 / 3.0, 0.0, 0.0, 5.0)), shapely.box(-2.0, 4.0, 1.0, 9.0)
    for area, on_grid in ((2.0, False), (2.0 + 0.9e-4, False), (2.0 + 1.1e-4, True), (2.0 - 1.1e-4, True)):
        rest = _without(stock, slot, [0], area)
        assert rest.area == pytest.approx(50.0 / 3.0 - 2.0, abs=1e-6)
        assert (rest.bounds[0] == -10.0 / 3.0) != on_grid
        assert rest.bounds[0] == pytest.approx(-10.0 / 3.0, abs=GRID)


def test_a_bore_in_a_bar_is_as_deep_as_it_is_given() -> None:
    bored = stock_of(Bar(10.0, 0.0, -8.0, 2.0, 3.0).area())
    assert bored.volume == pytest.approx(math.pi * (100.0 * 8.0 - 4.0 * 3.0))


def test_in_front_of_a_bore_that_is_faced_nothing_stays_from_the_axis_to_the_rim() -> None:
    """A bore of r 8 and 6 deep in a bar of r 20 with 1 mm before its face: 8 x 7 by the bore, 12 x 1 by facing."""
    bar, bore = (
        Bar(20.0, 1.0, -30.0).area(),
        Chain((Line(Point(0.0, 8.0), Point(-6.0, 8.0)), Line(Point(-6.0, 8.0), Point(-6.0, 0.0)))),
    )
    for faced, area in ((False, 56.0), (True, 68.0)):
        work = work_of(bar, bore, "left", faced=faced)
        assert work.to_remove.area == pytest.approx(area)
        assert work.finished.area == pytest.approx(620.0 - area)
    assert work_of(bar, bore, "left").to_remove.area == pytest.approx(56.0), "faced where that is asked alone"


def test_a_contour_that_ends_on_the_axis_is_led_on_across_it() -> None:
    """A hollow cone of 45 degrees: beyond the axis the tool's side is bounded square to it, not by the cone."""
    area = tool_side(Chain((Line(Point(0.0, 10.0), Point(-10.0, 0.0)),)), "left", 20.0)
    for z, inside in ((-10.5, False), (-9.5, True)):
        assert area.contains(shapely.Point(z, -1.0)) == inside
    assert area.contains(shapely.Point(-4.0, 5.0))
    assert not area.contains(shapely.Point(-6.0, 5.0))


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_contour_is_led_straight_on_by_a_length_at_both_ends(side: str) -> None:
    """A cone of 3 to 4 led on by 5, and an arc by its tangents; on the axis and along the bar toward the chuck not."""
    cone = Chain((Line(Point(0.0, 5.0), Point(-4.0, 8.0)),))
    led = led_on(cone, side, 5.0)  # type: ignore[arg-type]  # one of two words
    assert led.start.distance_to(Point(4.0, 2.0)) < 1e-12
    assert led.end.distance_to(Point(-8.0, 11.0)) < 1e-12
    assert len(led) == 3
    arc = Chain((Arc(Point(0.0, 5.0), Point(-4.0, 9.0), Point(-4.0, 5.0), "ccw"),))
    led = led_on(arc, side, 2.0)  # type: ignore[arg-type]
    assert led.start.distance_to(Point(0.0, 3.0)) < 1e-12
    assert led.end.distance_to(arc.end) < 1e-12
    face = Chain((Line(Point(0.0, 0.0), Point(0.0, 9.0)),))
    assert led_on(face, side, 2.0).start == face.start  # type: ignore[arg-type]
    assert led_on(face, side, 2.0).end.distance_to(Point(0.0, 11.0)) < 1e-12  # type: ignore[arg-type]
