"""Flank, edge in use, tool height: first principles and limiting cases."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.contour import Arc, Line, Point
from calc.machining.reach.formulas import (
    diameter_off_centre,
    edge_in_use,
    least_bore,
    least_hollow_radius,
    pip_diameter,
)
from calc.machining.reach.limits import edge_finding, flank_angle, flank_finding, hollow_radius, round_finding
from calc.tool.insert.tables import clearances
from tests.machining.reach.seats import seat_work


@given(st.floats(0.5, 15.0), st.floats(math.radians(1.0), math.radians(30.0)))
def test_in_the_smallest_bore_the_heel_of_the_flank_just_touches_the_wall(s: float, alpha: float) -> None:
    """First principles: edge at (R, 0), heel at (R - s tan(alpha), -s); both as far from the centre."""
    R = least_hollow_radius.function(s, alpha)
    heel = math.hypot(R - s * math.tan(alpha), s)
    assert heel == pytest.approx(R, rel=1e-9)
    larger = 1.01 * R
    assert math.hypot(larger - s * math.tan(alpha), s) < larger


def test_a_dish_curves_around_the_flank_with_its_own_radius_everywhere_and_a_bore_with_its() -> None:
    arc = seat_work().cut.elements[0]
    for share in (0.0, 0.3, 0.7, 0.99):
        assert hollow_radius(arc, share * arc.length, True) == pytest.approx(75.0)
    assert hollow_radius(arc, arc.length, True) is None
    bore = Line(Point(0.0, 12.0), Point(-20.0, 12.0))
    assert hollow_radius(bore, 5.0, True) == 12.0
    cone = Line(Point(0.0, 12.0), Point(-20.0, 2.0))
    assert hollow_radius(cone, 0.0, True) == pytest.approx(12.0 / math.cos(math.atan2(10.0, 20.0)))
    crown = Arc(Point(-3.0, 20.0), Point(0.0, 0.0), Point(-68.16666666666667, 0.0), "cw")
    assert hollow_radius(crown, 1.0, True) is None


@pytest.mark.parametrize(("letter", "tilt", "degrees"), [("C", None, 7), ("N", None, 6), ("N", 8.0, 8), ("P", 2.0, 13)])
def test_the_clearance_at_work_is_the_inserts_and_the_holders(letter: str, tilt: float | None, degrees: float) -> None:
    found = flank_angle(clearances()[letter], None if tilt is None else math.radians(tilt))
    assert math.degrees(found or 0.0) == pytest.approx(degrees)
    assert flank_angle(clearances()["O"], None) is None


def test_a_thick_insert_is_stopped_by_a_small_hollow() -> None:
    found, least = flank_finding(seat_work(), 4.7625, math.radians(6.0))
    assert found.verdict == "passes"
    assert least == pytest.approx(22.906, abs=5e-4)
    found, least = flank_finding(seat_work(), 4.7625, math.radians(1.5))
    assert least > 75.0
    assert found.verdict == "stops"
    assert found.message is not None
    assert "R75.000 mm around the flank" in found.message.say()


@pytest.mark.parametrize(("depth", "verdict"), [(1.0, "passes"), (3.5, "tight"), (6.0, "stops")])
def test_the_edge_in_use_grows_with_the_depth_until_the_edge_ends(depth: float, verdict: str) -> None:
    """Depth over sine of the entering angle: 30 degrees doubles it. Usable half: common practice, no source."""
    finding, used = edge_finding("D", 11.6, depth, (math.radians(30.0), math.radians(90.0)))
    assert used == pytest.approx(2 * depth)
    assert finding.verdict == verdict
    assert (finding.message is None) == (verdict == "passes")


def test_an_edge_that_lies_along_the_travel_stops() -> None:
    finding, used = edge_finding("D", 11.6, 1.0, (0.0, 1.0))
    assert finding.verdict == "stops"
    assert math.isinf(used)


def test_a_round_insert_goes_at_most_half_its_diameter_deep() -> None:
    assert [round_finding(12.0, depth).verdict for depth in (4.8, 4.9, 6.0, 6.1)] == [
        "passes", "tight", "tight", "stops",
    ]  # fmt: skip


@given(st.floats(0.001, 200.0), st.floats(-5.0, 5.0))
def test_off_the_centre_height_the_diameter_is_that_of_the_distance_from_the_axis(D: float, e: float) -> None:
    assert diameter_off_centre.function(D, e) == pytest.approx(2 * math.hypot(D / 2, e))
    assert pip_diameter.function(e) == pytest.approx(diameter_off_centre.function(0.0, e))
    assert diameter_off_centre.function(D, e) == diameter_off_centre.function(D, -e)


def test_the_bar_needs_its_offset_and_half_itself() -> None:
    assert least_bore.function(11.0, 16.0) == 19.0
    assert edge_in_use.function(2.0, math.pi / 2) == 2.0
