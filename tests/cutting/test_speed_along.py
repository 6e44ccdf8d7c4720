"""The spindle along a contour, against quadrature of its definition and closed forms."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from calc.contour import Chain, Line, Point
from calc.language.problems import Impossible
from calc.machining.passes import Referral, Spindle, pass_time, trace
from calc.machining.speed_along import accelerations, spindle_acceleration, stations, time_to_change_speed
from calc.shapes.dish.bowl import DishInputs
from calc.shapes.dish.geometry import solve_dish
from tests.tries import tries

FACE = Chain((Line(Point(0.0, 50.0), Point(0.0, 0.0)),))
SEAT = solve_dish(DishInputs(radius=75.0, depth=4.5)).cut
STEM = Chain((
    Line(Point(0.0, 10.0), Point(-1.0, 11.0)),
    Line(Point(-1.0, 11.0), Point(-22.0, 12.05)),
    Line(Point(-22.0, 12.05), Point(-22.0, 20.0)),
    Line(Point(-22.0, 20.0), Point(-40.0, 20.0)),
))  # fmt: skip
CHAINS = {"face": FACE, "dish": SEAT, "lines": STEM}


@pytest.mark.parametrize("name", CHAINS)
@pytest.mark.parametrize("max_rpm", [900.0, 2000.0, 3500.0])
def test_the_time_is_the_integral_of_the_way_over_feed_times_spindle_speed(name: str, max_rpm: float) -> None:
    """Quadrature (scipy) of ds / (f n), n = min(v / (2 pi r), n_max), element by element."""
    v, feed, whole = 180_000.0, 0.2, 0.0
    for element in CHAINS[name]:

        def slowness(s: float, element: Line = element) -> float:  # type: ignore[assignment]  # an arc will do as well
            return 1 / (feed * min(v / (2 * pi * max(element.point_at(s).r, 1e-9)), max_rpm))

        kinks = [element.locate(point) for point in element.points_at_r(v / (2 * pi * max_rpm))]
        whole += quad(slowness, 0.0, element.length, points=kinks or None, epsabs=1e-12, limit=200)[0]
    found = pass_time(trace(CHAINS[name], None, feed), Referral(), Spindle(v, max_rpm))
    assert found.total == pytest.approx(whole, rel=1e-8)


def test_the_seat_finished_by_its_tool_point_runs_321_at_the_mouth() -> None:
    """R 75, 4.5 deep, nose 6, tool point 3: contact on 51.18, tool point on 35.08: 220 becomes 321 m/min."""
    way = stations(trace(SEAT, 6.0, 0.2), Referral(6.0, 3, "point"), Spindle(220_000.0, 4000.0), 50)
    mouth = 2 * SEAT.start.r
    point = 2 * ((75.0 - 6.0) / 75.0 * SEAT.start.r - 6.0)
    assert point == pytest.approx(35.08, abs=5e-3)
    assert way[0].true_speed == pytest.approx(220_000.0 * mouth / point)
    assert round(way[0].true_speed / 1000) == 321


@settings(max_examples=tries(40))
@given(st.floats(20_000.0, 500_000.0), st.floats(50.0, 6000.0), st.sampled_from(sorted(CHAINS)))
def test_the_spindle_keeps_its_limit_and_the_surface_speed_where_the_limit_lets_it(
    v: float, max_rpm: float, name: str
) -> None:
    for station in stations(trace(CHAINS[name], None, 0.2), Referral(), Spindle(v, max_rpm), 40):
        assert 0.0 < station.rpm <= max_rpm
        assert station.true_speed <= v * (1 + 1e-12)
        assert station.rpm == max_rpm or station.true_speed == pytest.approx(v)


def test_stations_run_from_the_start_to_the_end_and_count_what_is_fed() -> None:
    way = stations(trace(STEM, None, 0.2), Referral(), Spindle(180_000.0, 2000.0), 100)
    assert (way[0].contact, way[-1].contact) == (STEM.start, STEM.end)
    assert way[-1].fed == pytest.approx(STEM.length)
    assert [station.fed for station in way] == sorted(station.fed for station in way)


def test_the_gain_of_a_facing_cut_is_the_closed_form() -> None:
    """By calculus dn/dt = 2 pi f n^3 / v, from n = v / (2 pi r) and dr/dt = - f n."""
    v, feed, max_rpm = 200_000.0, 0.2, 3000.0
    way = stations(trace(FACE, None, feed), Referral(), Spindle(v, max_rpm), 4000)
    highest = max(gain for _, gain in accelerations(way))
    assert highest == pytest.approx(2 * pi * feed * max_rpm**3 / v, rel=5e-3)


def test_along_a_cylinder_the_spindle_gains_nothing() -> None:
    cylinder = Chain((Line(Point(0.0, 20.0), Point(-50.0, 20.0)),))
    way = stations(trace(cylinder, None, 0.2), Referral(), Spindle(200_000.0, 3000.0), 50)
    assert max(gain for _, gain in accelerations(way)) == 0.0


def test_a_run_up_takes_its_share_of_the_time_to_the_limit() -> None:
    gain = spindle_acceleration(2500.0, 3.0 / 60)
    assert time_to_change_speed(0.0, 1250.0, gain) * 60 == pytest.approx(1.5)
    assert time_to_change_speed(1250.0, 0.0, gain) == time_to_change_speed(0.0, 1250.0, gain)


def test_on_the_axis_a_limit_is_needed() -> None:
    with pytest.raises(Impossible, match="spindle limit"):
        stations(trace(FACE, None, 0.2), Referral(), Spindle(200_000.0, None), 10)
