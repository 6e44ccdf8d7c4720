"""Parting off with a lead angle in a part: the true edge sweeps, and what hangs on as the part comes free is said."""

from __future__ import annotations

import math

import pytest

from calc.machining.job import Cut
from calc.questions.part.done import OperationDone
from calc.questions.part.job import Grooving, Operation
from tests.questions.part.test_kinds import done, taken


def parted_with_lead(bore: float = 0.0, part_chamfer: float = 0.0) -> OperationDone:
    """The end parted off with an edge 3 mm wide whose corner on the part's side leads by 6 degrees."""
    tool = Grooving(3.0, edge_lead=math.radians(6.0), part_chamfer=part_chamfer)
    operation = Operation("part-off", tool, Cut(feed=0.1, surface_speed=120_000.0))
    return done(operation, bore=bore)[0] if bore else done(operation, inside=None)[0]


def test_an_edge_with_a_lead_parts_all_of_the_bar_and_says_what_hangs_on_it_as_the_part_comes_free() -> None:
    """3 tan 6 degrees = 0.3153 ahead: a pip of 0.631 on the bar; corner 0.2 and lead past the axis take it off."""
    one = parted_with_lead()
    assert taken(one) == pytest.approx(math.pi * 21.0**2 * 3.0, rel=2e-3)
    assert (one.hits, one.too_deep) == ((), None)
    said = " ".join(note.say() for note in one.notes)
    assert "a pip of Ø0.631 mm stays on the bar" in said
    assert "0.515 mm past the axis" in said
    deepest = min(move.elements[-1].end.r for move in one.passes[-1].tool_pass.moves if move.why == "cut")
    leading = deepest - 0.2 - (3.0 - 2 * 0.2) * math.tan(math.radians(6.0))
    assert leading == pytest.approx(-(0.2 + 3.0 * math.tan(math.radians(6.0))), abs=1e-3)


def test_a_tube_parted_with_a_lead_leaves_a_ring_and_a_neutral_edge_a_pip_or_burr() -> None:
    said = " ".join(note.say() for note in parted_with_lead(bore=20.0).notes)
    assert "a ring 0.315 mm thick stays on the bar" in said
    assert "burr" in said
    plain = done(Operation("part-off", Grooving(3.0)), inside=None)[0]
    assert any("no lead angle" in note.say() for note in plain.notes)


def test_the_chamfer_of_the_part_is_cut_by_the_corner_that_leads() -> None:
    """By Pappus as with a neutral edge: the part's own edge decides, not the lead."""
    ring = 2 * math.pi * (21.0 - 1.0 / 3) * 0.5
    assert taken(parted_with_lead(part_chamfer=1.0)) - taken(parted_with_lead()) == pytest.approx(ring, rel=0.02)
