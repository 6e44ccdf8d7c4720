"""Of several contours with the same dimensions, the one that a shop means comes first."""

import math

import pytest

from calc.contour import Arc
from calc.contour.solving import GivenElement, Start, solve
from calc.contour.solving.habits import Habits
from tests.contour.solving.made import is_same
from tests.contour.solving.shop import shop_print, tangent_arcs

E = GivenElement
TO_CHUCK = math.pi


def test_of_prints_that_mean_several_contours_nine_in_ten_have_the_right_one_first() -> None:
    """Prints of shop forms (common practice, no source); the long run stands in the benchmark."""
    made = [one for one in (shop_print(seed, 2 + seed % 4) for seed in range(120)) if one.sharpness > 1e-3]
    found = [(solve(one.start, one.elements).solutions, one) for one in made]
    several = [(solutions, one) for solutions, one in found if len(solutions) > 1]
    first = [is_same(solutions[0].sharp, one.original, 1e-5 * one.size) for solutions, one in several]
    assert len(several) > 40
    assert sum(first) >= 0.9 * len(several)


@pytest.mark.parametrize(("side", "turn"), [("right", "cw"), ("left", "ccw")])
def test_an_arc_between_two_cylinders_of_one_diameter_is_a_groove(side: str, turn: str) -> None:
    """A pull-off groove R5 in a handle, or in a bore (common practice, no source)."""
    rows = [E("line", dr=0.0, z=-10.0), E("arc", r=20.0, z=-18.0, radius=5.0), E("line", dr=0.0, z=-30.0)]
    likeliest = solve(Start(0.0, 20.0), rows, habits=Habits(side=side)).solutions[0].sharp[1]  # type: ignore[arg-type]
    assert isinstance(likeliest, Arc)
    assert likeliest.turn == turn


def test_a_ball_end_leaves_the_axis_square() -> None:
    """Ball end R12 to Z-8 (common practice, no source): no spike on the axis."""
    likeliest = solve(Start(0.0, 0.0), [E("arc", z=-8.0, radius=12.0, r=math.sqrt(12**2 - 4**2))]).solutions[0]
    assert likeliest.sharp[0].start_heading == pytest.approx(math.pi / 2.0)


def test_a_contour_that_fits_the_bar_comes_before_one_that_does_not() -> None:
    """A line 25 long from Ø40 to Z-20 ends at Ø70 or at Ø10 (3-4-5 triangle): a bar of Ø45 decides."""
    start, rows = Start(0.0, 20.0), [E("line", length=25.0, z=-20.0)]
    wide, narrow = (solve(start, rows, habits=Habits(bar_radius=bar)).solutions for bar in (40.0, 22.5))
    assert {round(one.joints[-1].r, 6) for one in wide} == {5.0, 35.0}
    assert narrow[0].joints[-1].r == pytest.approx(5.0)
    assert len(narrow) == 2


def test_a_form_that_repeats_goes_the_same_way_each_time() -> None:
    """Ribs of two arcs with the same steps along Z (common practice, no source): each might turn back or not alone."""
    made, given = tangent_arcs(8, {2})
    assert is_same(solve(Start(0.0, 20.0), given).solutions[0].sharp, made, 1e-6)


@pytest.mark.parametrize(("side", "rises"), [("right", True), ("left", False)])
def test_behind_a_fillet_a_shaft_grows_toward_the_chuck_and_a_bore_gets_narrower(side: str, rises: bool) -> None:
    """R5 after a cylinder, then a cone of 20 long: up or down from its tangent (common practice, no source)."""
    rows = [
        E("line", z=-20.0, dr=0.0), E("arc", radius=5.0, dz=-2.5, tangent=True), E("line", length=20.0, tangent=True),
        E("line", z=-60.0, dr=0.0),
    ]  # fmt: skip
    first = solve(Start(0.0, 30.0), rows, habits=Habits(side=side)).solutions[0]  # type: ignore[arg-type]
    assert (first.joints[-1].r > 30.0) == rises


def test_the_belly_of_a_handle_comes_to_the_diameter_that_its_centre_gives() -> None:
    """End ball R6, belly R60 of diameter 24, neck R12 to a stem of 14, no turn given: circles that touch, by hand."""
    rows = [
        E("arc", radius=6.0, centre_r=0.0), E("arc", radius=60.0, centre_r=12.0 - 60.0, tangent=True),
        E("arc", radius=12.0, tangent=True), E("line", dr=0.0, r=7.0, z=-90.0, tangent=True),
    ]  # fmt: skip
    belly = -6.0 - math.sqrt(54.0**2 - 48.0**2)
    neck = belly - math.sqrt(72.0**2 - 67.0**2)
    joints = solve(Start(0.0, 0.0), rows).solutions[0].joints
    assert joints[1] == pytest.approx((belly + 60.0 * (-6.0 - belly) / 54.0, -48.0 + 60.0 * 48.0 / 54.0))
    assert joints[2] == pytest.approx((belly + 60.0 * (neck - belly) / 72.0, -48.0 + 60.0 * 67.0 / 72.0))
    assert joints[3] == pytest.approx((neck, 7.0))
