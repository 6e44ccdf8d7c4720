"""A part done operation by operation, asked without the server."""

from __future__ import annotations

import itertools
import math

import pytest

from calc.contour import Chain, Line, Point
from calc.language.problems import Problem
from calc.machining.job import Cut, Tool
from calc.machining.removal.region import Bar
from calc.machining.removal.stock import stock_of
from calc.machining.removal.sweep import Outline
from calc.questions.part.job import Job, Operation, Print, Setup, Turning
from calc.questions.part.run import run

NOSE = Turning(Tool(Outline((Point(0.0, 0.0),), 0.8)))
CORNERS = [Point(0.0, 0.0), Point(0.0, 12.0), Point(-20.0, 12.0), Point(-20.0, 0.0)]
OUTSIDE = Print(Chain(tuple(Line(a, b) for a, b in itertools.pairwise(CORNERS))))
FACE = Operation("face", NOSE, Cut(depth=1.0, feed=0.2, surface_speed=200_000.0), last=1, field="first")


def job(*setups: Setup, material: str | None = None) -> Job:
    return Job(OUTSIDE, stock_of(Bar(15.0, 1.0, -22.0).area()), setups, material=material)


def test_the_stock_runs_through_both_ends() -> None:
    """By hand: discs of Ø30 come off both faces, 1 mm and 2 mm thick."""
    second = Operation("face", NOSE, FACE.cut, first=3, last=3)
    done = run(job(Setup("first", (FACE,)), Setup("second", (second,))))
    disc = math.pi * 15.0**2
    taken = [one.before.volume - one.after.volume for one in done.operations]
    assert taken == pytest.approx([disc, 2.0 * disc], rel=1e-9)
    assert done.operations[1].after.bounds == pytest.approx((-20.0, 0.0, 0.0, 15.0))
    assert [one.name for one in done.operations] == ["face, first end", "face, second end"]


def test_force_and_power_are_known_with_a_material_alone() -> None:
    bare, known = (run(job(Setup("first", (FACE,)), material=name)).operations[0] for name in (None, "C45"))
    assert (bare.force_max, bare.power_max) == (None, None)
    assert known.force_max is not None
    assert known.force_max > 100.0


def test_a_fault_is_named_by_the_operation_that_has_it() -> None:
    lacking = Operation("rough", NOSE, Cut(feed=0.2, surface_speed=200_000.0), field="second")
    with pytest.raises(Problem) as caught:
        run(job(Setup("first", (FACE, lacking))))
    assert [fault.field for fault in caught.value.faults] == ["second.cut.depth"]
