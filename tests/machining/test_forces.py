"""The load of a pass is the force page's: the same cut in the same material has one force, and one highest force."""

from __future__ import annotations

import pytest

from calc.contour import Chain, Line, Point
from calc.cutting.materials import material
from calc.machining.forces import forces
from calc.machining.job import Contour, Cut, Operation, Tool
from calc.machining.machine import machine
from calc.machining.removal.region import Bar
from calc.machining.removal.stock import stock_of
from calc.machining.removal.sweep import Outline
from calc.questions.cutting.force import ForceInputs, solve


@pytest.mark.parametrize("name", ["C45", "42CrMo4", "X5CrNi18-10", "6061-T6"])
def test_a_pass_has_the_forces_of_the_same_cut_by_itself(name: str) -> None:
    shaft = Chain((Line(Point(0.0, 20.0), Point(-40.0, 20.0)),))
    tool = Tool(Outline((Point(0.0, 0.0),), 0.8), None, 3)
    cut = Cut(depth=2.0, feed=0.25, surface_speed=180_000.0)
    done = machine(
        Operation(tool, cut, "rough along z"), stock_of(Bar(22.0, 0.0, -60.0).area()), Contour(shaft, "right")
    )
    row = forces([done], material(name), 2500.0)[0]
    alone = solve(ForceInputs(material=name, depth=row.depth, feed=0.25, surface_speed=180_000.0, nose_radius=0.8))
    assert row.force == pytest.approx(alone.results.cutting_force)
    assert row.high == pytest.approx(alone.results.cutting_force_high)
