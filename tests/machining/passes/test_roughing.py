"""How a depth is shared out among passes, and which of them the working tells."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.contour import Chain, Line, Point
from calc.language.problems import OutOfRange
from calc.language.working import recording
from calc.machining.job import Contour, Cut, Operation, Tool
from calc.machining.machine import machine
from calc.machining.passes import MOST_IN_ALL, MOST_PASSES, Referral, depths, not_too_many_in_all, whole_time
from calc.machining.removal.region import Bar
from calc.machining.removal.stock import stock_of
from calc.machining.removal.sweep import Outline
from calc.machining.times import times, times_of_kinds
from tests.tries import tries


@settings(max_examples=tries(200), deadline=None)
@given(st.floats(1e-6, 0.75 * MOST_PASSES), st.floats(1e-3, 100.0), st.sampled_from(["equal", "rest", "easing"]))
def test_passes_add_up_to_the_total_and_none_takes_more_than_asked(share: float, most: float, split: Any) -> None:
    total = share * most
    levels = depths(total, most, split)
    taken = np.diff([0.0, *levels])
    assert levels[-1] == total
    assert np.all(taken > 0.0)
    assert np.max(taken) <= most * (1 + 3e-9)
    average = 0.75 if split == "easing" else 1.0
    assert len(levels) - 1 < total / (average * most) * (1 + 1e-9)  # one pass fewer would not do
    if split == "equal":
        assert np.ptp(taken) <= 1e-9 * total
    elif split == "easing" and len(taken) > 1:
        assert np.all(np.diff(taken) < 0.0)
        assert taken[-1] == pytest.approx(taken[0] / 2.0, rel=1e-6)
    elif split == "rest":
        assert taken[:-1] == pytest.approx(most, rel=1e-9)


def test_nothing_to_take_takes_no_pass() -> None:
    assert depths(0.0, 1.0, "equal") == []


@pytest.mark.parametrize(
    ("total", "split", "named"),
    [
        (201.0, "equal", "would be 201 passes"),
        (200.5, "rest", "would be 201 passes"),
        (999_999.5, "rest", "would be 1000000 passes"),
        (1e6 + 1.0, "rest", "would be more than a million passes"),
        (151.0, "easing", "would be 202 passes"),
    ],
)
def test_too_many_passes_are_refused_with_their_number(total: float, split: Any, named: str) -> None:
    """At most 1 mm deep; easing takes three quarters of that on average: 151 / 0.75 is 201.3."""
    with pytest.raises(OutOfRange, match=named):
        depths(total, 1.0, split)
    assert len(depths(200.0, 1.0, "rest")) == len(depths(150.0, 1.0, "easing")) == MOST_PASSES == 200


def test_all_passes_of_a_plan_together_are_counted_up_to_the_most_and_no_further() -> None:
    not_too_many_in_all(2, MOST_IN_ALL - 2)
    not_too_many_in_all(MOST_IN_ALL)
    with pytest.raises(OutOfRange, match=f"would be {MOST_IN_ALL + 1} passes"):
        not_too_many_in_all(3, MOST_IN_ALL - 2)


def test_the_working_of_a_plan_shows_the_finishing_passes_alone() -> None:
    """Two levels of 1.5 from r 9 to 6, then the finish: three are timed, one is told."""
    shaft = Contour(Chain((Line(Point(0.0, 6.0), Point(-9.0, 6.0)),)), "right")
    tool, left = Tool(Outline((Point(0.0, 0.0),), 0.8)), stock_of(Bar(9.0, 0.0, -12.0).area())
    rough = Operation(tool, Cut(1.5, 0.25, surface_speed=220_000.0, along_x=0.2), "rough along z")
    done = [machine(rough, left, shaft)]
    done.append(machine(Operation(tool, Cut(feed=0.1, surface_speed=220_000.0)), done[0].after, shaft))
    with recording() as steps:
        rows = times(done, Referral(0.8), 2000.0)
    told = [step for step in steps if step.formula is whole_time]
    assert [row.name for row in rows] == ["rough 1", "rough 2", "finish"]
    assert [step.value for step in told] == [rows[-1].time]
    found = times_of_kinds(done, rows)
    assert (found.face, found.rough, found.finish) == (None, rows[0].time + rows[1].time, rows[2].time)
