"""What comes out when something is set wrong, against sweeps by shapely and geometry by hand."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from shapely.geometry import LineString
from shapely.geometry import Point as Spot

from calc.contour import Arc, Chain, Line, Point
from calc.measuring.causes import State
from calc.measuring.places import Place, size
from calc.measuring.wrong import Off, Places, Surface, Wrong, bent, compare, measured, reach_of, turned
from calc.tool.nose_path import nose_path
from calc.tool.point import STEPS

MOUTH = math.sqrt(75.0**2 - 70.5**2)
SEAT = Chain(
    (
        Arc(Point(-4.5, 0.0), Point(0.0, MOUTH), Point(70.5, 0.0), "cw"),
        Line(Point(0.0, MOUTH), Point(0.0, 30.0)),
        Line(Point(0.0, 30.0), Point(-20.0, 30.0)),
    )
)
STEM = Chain(
    (
        Line(Point(0.0, 0.0), Point(0.0, 10.0)),
        Line(Point(0.0, 10.0), Point(-20.0, 12.0)),
        Line(Point(-20.0, 12.0), Point(-40.0, 12.0)),
    )
)


def offs(chain: Chain, wrong: Wrong, nose: float = 0.8, number: int = 3) -> list[Off]:
    surface = bent(turned(chain, "right", nose, number, wrong), wrong)
    reach = reach_of(chain, nose, wrong)
    return [measured(each, surface, reach) for each in compare(chain, "right", surface, reach)]


@pytest.mark.parametrize("wrong", [Wrong(), Wrong(compensation="right", tool_point_given=3)])
def test_nothing_wrong_is_nothing_off(wrong: Wrong) -> None:
    for chain in (SEAT, STEM):
        assert max(abs(each.off or 0.0) for each in offs(chain, wrong)) < 1e-5


@pytest.mark.parametrize(
    ("wrong", "state"),
    [
        (Wrong(x=0.01, nose_change=-0.1), State(x=0.01, nose=-0.1)),
        (Wrong(z=0.05), State(z=0.05)),
        (Wrong(nose_change=0.05), State(nose=0.05)),
        (Wrong(height=0.5), State(height_squared=0.25)),
    ],
)
def test_it_is_what_the_first_parts_gauges_would_show(wrong: Wrong, state: State) -> None:
    """The same error two ways: the swept surface here, the exact line or circle of the gauge's place there."""
    for chain in (SEAT, STEM):
        for each in offs(chain, wrong, nose=6.0 if chain is SEAT else 0.8):
            place = Place("diameter", each.spot, each.normal, chain.elements[each.of])
            if each.across is not None and abs(each.normal.r) > 0.2 and each.spot.r > 1.0:
                expected = size(place, state, 3) - 2 * each.spot.r
                assert each.across == pytest.approx(expected, abs=4e-5), each.spot


def test_a_wrong_tool_point_shifts_the_whole_part_by_nose_radii() -> None:
    """Number 2 for 3: the control thinks the point on the other side in X, two nose radii from where it is."""
    found = offs(STEM, Wrong(tool_point_given=2))
    cylinder = [each for each in found if each.of == 2]
    face = [each for each in found if each.of == 0]
    step = (STEPS[2].r - STEPS[3].r) * 0.8
    assert step == pytest.approx(1.6)
    assert all(each.off == pytest.approx(1.6, abs=1e-9) for each in cylinder)
    assert all(each.off == pytest.approx(0.0, abs=1e-9) for each in face if each.spot.r > 2.0)


def test_the_wrong_side_cuts_two_nose_radii_too_deep() -> None:
    found = offs(STEM, Wrong(compensation="other"))
    assert [each.off for each in found if each.of == 2][4:-4] == pytest.approx([-1.6] * 16, abs=1e-6)


def test_no_compensation_leaves_metal_on_the_slope_alone() -> None:
    """A slope of theta keeps r (sin + cos - 1) square to it: a handbook's rule, the point led by the print."""
    theta = math.atan(2.0 / 20.0)
    found = offs(STEM, Wrong(compensation="none"))
    slope = [each.off for each in found if each.of == 1][4:-4]
    assert slope == pytest.approx([0.8 * (math.sin(theta) + math.cos(theta) - 1.0)] * len(slope), abs=1e-9)
    assert all(abs(each.off or 0.0) < 1e-9 for each in found if each.of != 1)


def test_the_dish_is_what_a_disc_sweeps() -> None:
    """The centre's path as a line, widened by the true nose: shapely's buffer, at forty places of the dish."""
    wrong = Wrong(nose_change=-0.3, x=-0.05, z=0.02)
    (run,) = nose_path(SEAT, 6.0, "right").centre_chains
    shift = STEPS[3].times(6.0 - 5.7)
    led = [run.shifted(shift.z + 0.02, shift.r - 0.05)]
    places = np.concatenate(bent(led, Wrong()))
    swept = LineString([(each.real, each.imag) for each in places]).buffer(5.7, quad_segs=720)
    for each in offs(SEAT, wrong, nose=6.0):
        if each.of == 0 and each.off is not None and each.spot.r > 1.0:
            cut = each.spot.moved(each.normal, each.off)
            assert swept.exterior.distance(Spot(cut.z, cut.r)) < 2e-4


def test_off_centre_the_middle_keeps_a_pip_and_small_diameters_grow_most() -> None:
    """sqrt(r2 + h2) by hand: nothing inside h, 10.025 for 10."""
    surface = bent(turned(STEM, "right", 0.8, 3, Wrong(height=0.5)), Wrong(height=0.5))
    assert min(float(places.imag.min()) for places in surface) == pytest.approx(0.5, abs=0.02)
    found = offs(STEM, Wrong(height=1.0))
    assert next(each.across for each in found if each.of == 2) == pytest.approx(2 * (math.hypot(12, 1) - 12), abs=1e-9)


@pytest.mark.parametrize(("factor", "off"), [(2.0, 24.0), (0.5, -12.0)])
def test_a_misread_x_doubles_or_halves_every_diameter(factor: float, off: float) -> None:
    found = offs(STEM, Wrong(x_factor=factor))
    (across, *_) = [each.across for each in found if each.of == 2]
    assert across == pytest.approx(off, abs=1e-6)


@pytest.mark.parametrize("wrong", [Wrong(x=0.01), Wrong(height=0.5), Wrong(x_factor=2.0)])
def test_nothing_that_can_be_met_is_left_out_when_only_what_is_near_is_looked_at(wrong: Wrong) -> None:
    chain = comb(6)
    surface = bent(turned(chain, "right", 0.2, 3, wrong), wrong)
    reach = reach_of(chain, 0.2, wrong)
    everywhere = Everywhere(surface)
    assert compare(chain, "right", surface, reach) == compare(chain, "right", everywhere, reach)


class Everywhere(Surface):
    """A surface all of whose pieces are near."""

    def near(self, spot: Point, reach: float) -> tuple[Places, Places]:
        return super().near(spot, 1e6 + reach)


def comb(grooves: int) -> Chain:
    """A shaft of 40 with grooves 4 wide and 5 deep, 3 apart."""
    corners = [(z - 7 * at, r) for at in range(grooves) for z, r in ((0, 20), (-3, 20), (-3, 15), (-7, 15))]
    points = [Point(float(z), float(r)) for z, r in [*corners, (-7 * grooves, 20)]]
    return Chain(tuple(Line(start, end) for start, end in pairwise(points) if start != end))


def test_twice_the_grooves_do_not_have_each_place_look_farther() -> None:
    """Each place looked at all of the surface, so that 24 grooves took 19 s."""
    few, many = (bent(turned(comb(count), "right", 0.2, 3, Wrong(x=0.01)), Wrong()) for count in (6, 12))
    assert len(many.near(Point(-3.0, 17.0), 0.03)[0]) == len(few.near(Point(-3.0, 17.0), 0.03)[0]) > 0


@pytest.mark.parametrize(("radius", "most"), [(0.2, 200), (0.8, 400), (100.0, 4000)])
def test_an_arc_is_followed_as_finely_as_its_size_needs(radius: float, most: int) -> None:
    """A quarter of a circle leaves its chords by 3 nm; 500 corners of a thread-like part stay few places."""
    arc = Arc(Point(0.0, radius), Point(-radius, 2.0 * radius), Point(0.0, 2.0 * radius), "cw")
    (places,) = bent([Chain((arc,))], Wrong())
    middles = (places[1:] + places[:-1]) / 2.0
    assert np.abs(np.abs(middles - complex(*arc.centre)) - radius).max() == pytest.approx(3e-6, rel=0.2)
    assert len(places) < most
