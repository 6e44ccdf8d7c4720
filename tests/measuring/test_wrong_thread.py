"""What becomes of a thread and a taper when the tool stands wrong: against geometry done another way."""

from __future__ import annotations

import math

import pytest

from calc.contour import Chain, Line, Point
from calc.language.limited import aimed
from calc.measuring.wrong import Wrong, bent, compare, measured, reach_of, turned
from calc.measuring.wrong_thread import thread_off
from calc.threads.insert import tip_diameter
from calc.threads.thread import thread_of


@pytest.mark.parametrize(("text", "side"), [("M24x2-6g", 1.0), ("M24x2-6H", -1.0)])
def test_a_nose_that_is_off_is_what_the_tips_own_geometry_says(text: str, side: float) -> None:
    """The tip for a nose of 0.30 is not that for 0.25: their difference is what the pitch diameter is off by."""
    thread = thread_of(text)
    tips = [tip_diameter(thread, nose) for nose in (0.25, 0.30)]
    assert thread_off(thread, Wrong(nose_change=0.05)).pitch == pytest.approx(tips[0] - tips[1], abs=1e-12)
    assert side * thread_off(thread, Wrong(nose_change=0.05)).pitch < 0.0


def test_x_moves_the_pitch_diameter_by_twice_as_much() -> None:
    off = thread_off(thread_of("M24x2-6g"), Wrong(x=0.03))
    assert (off.pitch, off.flank) == pytest.approx((0.06, 0.0))
    assert off.fits
    assert not thread_off(thread_of("M24x2-6g"), Wrong(x=0.1)).fits, "0.2 of a tolerance of 0.17 (ISO 965-2)"


def test_off_centre_the_flanks_lean_as_two_points_of_the_tool_do() -> None:
    """Two points on the flank of the tool, 0.001 apart, each turned to sqrt(x2 + h2)."""
    thread, h, alpha = thread_of("M8-6g"), 0.5, math.radians(30.0)
    r = aimed(thread.sizes.pitch) / 2.0
    step = 1e-6
    rise = math.hypot(r + step, h) - math.hypot(r, h)
    leaning = math.atan(step * math.tan(alpha) / rise)
    assert thread_off(thread, Wrong(height=h)).flank == pytest.approx(leaning - alpha, abs=1e-6)


def test_off_centre_a_taper_grows_most_at_its_small_end() -> None:
    """A taper from Ø4 to Ø8, tool 0.3 off: 2 (sqrt(4.00 + 0.09) - 2) = 0.0447 and 2 (sqrt(16.09) - 4) = 0.0225."""
    taper = Chain((Line(Point(0.0, 2.0), Point(-20.0, 4.0)),))
    wrong = Wrong(height=0.3)
    surface = bent(turned(taper, "right", 0.4, 3, wrong), wrong)
    reach = reach_of(taper, 0.4, wrong)
    places = compare(taper, "right", surface, reach)
    ends = [measured(place, surface, reach) for place in (places[0], places[-1])]
    wanted = [2.0 * (math.hypot(place.spot.r, 0.3) - place.spot.r) for place in ends]
    assert [place.across for place in ends] == pytest.approx(wanted, rel=0.02)
    assert wanted == pytest.approx([0.0447, 0.0225], abs=5e-4)


def test_a_thread_without_limits_has_no_verdict() -> None:
    assert thread_off(thread_of("Rd 40x1/6"), Wrong(x=0.1)).fits is None
