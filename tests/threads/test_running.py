"""Speed, run-up and run-out, room in the relief, hand of the thread, and the relief's contour."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.contour import Arc
from calc.cutting.machine import Machine
from calc.language.problems import Impossible, OutOfRange
from calc.threads.hand import makes_left, settings
from calc.threads.relief import relief_chain, relief_of
from calc.threads.run import Drive, require_room, room_needed, run_of, times_of
from calc.threads.synchrony import run_out, run_up
from calc.threads.thread import thread_of


def test_run_up_and_run_out_are_those_of_the_handbooks() -> None:
    """Handbooks of numerical control: l2 = L n / 1800, l1 = l2 (-1 - ln a), 3.605 for 0.01 and so on."""
    rate, lag = 2.0 * 1000.0, 1.0 / 30.0 / 60.0
    assert run_out(rate, lag) == pytest.approx(2.0 * 1000.0 / 1800.0)
    for error, factor in ((0.01, 3.605), (0.005, 4.298), (0.02, 2.912), (0.015, 3.200)):
        assert run_up(rate, lag, error) / run_out(rate, lag) == pytest.approx(factor, abs=6e-4)


def test_the_run_up_is_where_the_lag_has_died_down() -> None:
    """Simulated in steps: a feed that follows with a first-order lag is short by the error where the run-up ends."""
    rate, lag, error = 1600.0, 1.0 / 1800.0, 0.01
    step, speed, way, time = lag / 20000.0, 0.0, 0.0, 0.0
    while 1.0 - speed / rate > error:
        speed += (rate - speed) / lag * step
        way += speed * step
        time += step
    assert run_up(rate, lag, error) == pytest.approx(way, rel=0.006)


@pytest.mark.parametrize(
    ("machine", "drive", "rpm", "held"),
    [
        (Machine(), Drive(), 1591.5494309, ""),
        (Machine(max_rpm=1200.0), Drive(), 1200.0, "spindle limit"),
        (Machine(max_rpm=1200.0, chuck_limit=1000.0), Drive(), 1000.0, "chuck's marked limit"),
        (Machine(max_rpm=1200.0), Drive(max_feed_rate=1500.0), 750.0, "feed rate"),
    ],
)
def test_the_lowest_limit_holds_the_speed(machine: Machine, drive: Drive, rpm: float, held: str) -> None:
    """120 m/min on 24 mm is 1591.5; 1500 mm/min at a lead of 2 mm are 750 (definitions)."""
    run = run_of(thread_of("M24x2-6g"), 120_000.0, machine, drive)
    assert run.rpm == pytest.approx(rpm)
    assert run.limited_by == held


def test_a_relief_too_short_to_stop_in_is_refused_with_the_speed_that_would_do() -> None:
    """A sleeve's inside M30x1.5 with a relief of 5: at 2000 1/min 1.5 x 2000 / 1800 + 0.75 = 2.417 is needed."""
    thread, drive = thread_of("M30x1.5-6H"), Drive()
    run = run_of(thread, 1e9, Machine(max_rpm=2000.0), drive)
    assert room_needed(thread, run) == pytest.approx(2.4166667)
    require_room(thread, run, drive, 5.0)
    with pytest.raises(Impossible) as raised:
        require_room(thread, run, drive, 2.0)
    assert raised.value.faults[0].field == "relief"
    assert "no faster than 1500 1/min" in raised.value.faults[0].message.say()
    slower = run_of(thread, 1e9, Machine(max_rpm=1499.0), drive)
    require_room(thread, slower, drive, 2.0)
    with pytest.raises(Impossible, match="less than half of the pitch"):
        require_room(thread, slower, drive, 0.5)


def test_time_is_the_way_over_the_feed_rate() -> None:
    run = run_of(thread_of("M24x2-6g"), 1e9, Machine(max_rpm=900.0), Drive(rapid_rate=9000.0))
    times = times_of(run, 30.0, 8)
    way = 30.0 + run.run_up + run.run_out
    assert times.in_cut == pytest.approx(8 * way / 1800.0)
    assert times.total == pytest.approx(8 * way / 1800.0 + 8 * way / 9000.0)


@given(st.sampled_from(["forward", "reverse"]), st.sampled_from(["chuck", "away"]))
def test_the_hand_is_that_of_the_helix(rotation: str, feed: str) -> None:
    """A point of the tool seen from the turning work: a right-hand helix z = p phi has p > 0 about +Z (ISO 841)."""
    spin = 1.0 if rotation == "forward" else -1.0  # about +Z, against the clock seen from the tailstock
    travel = -1.0 if feed == "chuck" else 1.0
    turned_in_the_work = -spin
    assert makes_left(rotation, feed) == (travel / turned_in_the_work < 0.0)


@pytest.mark.parametrize("left", [False, True])
@pytest.mark.parametrize("outside", [False, True])
def test_each_hand_can_be_cut_in_two_ways(left: bool, outside: bool) -> None:
    found = settings(left=left, outside=outside)
    assert len(found) == 2
    assert all(makes_left(way.rotation, way.feed) is left for way in found)
    mirrored = settings(left=not left, outside=outside)
    assert {(way.rotation, way.feed) for way in found}.isdisjoint({(way.rotation, way.feed) for way in mirrored})


def test_the_usual_right_hand_thread_is_cut_toward_the_chuck_with_a_right_hand_tool() -> None:
    """Common practice."""
    first = settings(left=False, outside=True)[0]
    assert (first.rotation, first.feed, first.tool) == ("forward", "chuck", "right-hand, face up")
    lefts = {(way.rotation, way.feed): way.tool for way in settings(left=True, outside=True)}
    assert lefts["forward", "away"] == "left-hand, face up"
    assert lefts["reverse", "chuck"] == "left-hand, face down"


# DIN 76-1, from memory: dg, g1, g2, r.
RELIEFS = {
    ("M24-6g", "regular"): (19.6, 6.7, 10.5, 1.6),
    ("M24x2-6g", "regular"): (21.0, 4.5, 7.0, 1.0),
    ("M24x2-6g", "short"): (21.0, 2.5, 5.0, 1.0),
    ("M10-6g", "regular"): (7.7, 3.2, 5.2, 0.8),
    ("M30x1.5-6H", "regular"): (30.5, 6.0, 7.8, 0.8),
    ("M30x1.5-6H", "short"): (30.5, 3.8, 5.6, 0.8),
}


@pytest.mark.parametrize(("text", "form"), RELIEFS)
def test_reliefs_are_those_of_the_standard(text: str, form: str) -> None:
    found = relief_of(thread_of(text), form)  # type: ignore[arg-type]  # the forms as texts
    assert (found.bottom, found.least_bottom, found.length, found.radius) == pytest.approx(RELIEFS[text, form])


@pytest.mark.parametrize("text", ["M6-6g", "M24-6g", "M24x2-6g", "M64-6g", "M30x1.5-6H", "M6-6H", "M42-6H"])
@pytest.mark.parametrize("form", ["regular", "short"])
def test_the_reliefs_contour_is_one_chain_with_the_bottom_that_is_asked(text: str, form: str) -> None:
    """DIN 76-1: the bottom is at least g1 long with its radius, the whole at most g2, 30 degrees into it."""
    thread = thread_of(text)
    relief = relief_of(thread, form)  # type: ignore[arg-type]  # the forms as texts
    d = thread.named.diameter if relief.outside else thread.sizes.basic.minor
    chain = relief_chain(relief, -40.0, d, 60.0 if relief.outside else 1.0)
    slope, bottom, corner, _ = chain
    assert isinstance(corner, Arc)
    assert corner.radius == pytest.approx(relief.radius)
    assert chain.start.z - chain.end.z == pytest.approx(relief.length)
    assert bottom.start.z + 40.0 >= relief.least_bottom - 0.35 * thread.named.pitch
    assert abs(slope.start.r - slope.end.r) / (slope.start.z - slope.end.z) == pytest.approx(
        math.tan(math.radians(30.0))
    )
    assert bottom.start.r == bottom.end.r == relief.bottom / 2
    assert abs(chain.joints[1].turn) < 1e-9


def test_beyond_the_table_there_is_no_relief() -> None:
    with pytest.raises(OutOfRange, match="ends at 6 mm"):
        relief_of(thread_of("Tr 100x12"))
