"""What a setter would send back of a planned part: air that is fed through, tools too large, blades in the way."""

from __future__ import annotations

import math

import pytest

from calc.contour import Point
from calc.machining.job import Cut, Move
from calc.questions.part.done import OperationDone
from calc.questions.part.job import Grooving, Job, Operation, Setup
from calc.questions.part.run import run
from tests.questions.part.test_kinds import MACHINE, chain
from tests.questions.part.test_proposed_for_shop_parts import LATHE, proposed
from tests.questions.part.turned_blanks import blank

BAR = {"material": "C45", "bar_diameter": "50", "face_stock": "1", **LATHE}


def test_the_finish_of_a_face_ends_a_nose_past_the_edge_of_an_open_bore() -> None:
    """Ø25 bored, the outside roughed to Ø46.6, a nose of 0.8: from 2 before the stock to r 11.7, not to the axis.

    At 220 m/min up to the limit of 2500 1/min, which it reaches at Ø28.01; 0.16 mm/rev: 0.0491 min, to the axis 0.078.
    """
    _, answer = proposed({**BAR, "outside": "s_x0_z0*f*t_x46_z-20", "inside": "s_x25_z0*t_z-20"})
    (face,) = (row for row in answer.tables["passes"] if row.operation.endswith("finish face"))
    turning = 220_000.0 / (2500.0 * math.tau)
    begin, end = 23.3 + 0.8 + 2.0, 12.5 - 0.8
    by_hand = math.pi * (begin**2 - turning**2) / (0.16 * 220_000.0) + (turning - end) / (0.16 * 2500.0)
    assert face.time == pytest.approx(by_hand, rel=1e-3)


@pytest.mark.parametrize(("bore", "ends"), [("", 0.0), ("s_x1_z0*t_z-20", 0.0)])
def test_it_still_ends_on_the_axis_where_there_is_no_hole_or_none_wider_than_the_nose(bore: str, ends: float) -> None:
    """A centre hole of Ø1 is no reason to stop at r -0.3."""
    _, answer = proposed({**BAR, "outside": "s_x0_z0*f*t_x46_z-20", **({"inside": bore} if bore else {})})
    (face,) = (row for row in answer.tables["passes"] if row.operation.endswith("finish face"))
    turning = 220_000.0 / (2500.0 * math.tau)
    by_hand = math.pi * (26.1**2 - turning**2) / (0.16 * 220_000.0) + (turning - ends) / (0.16 * 2500.0)
    assert face.time == pytest.approx(by_hand, rel=1e-3)


@pytest.mark.parametrize(
    ("bar", "outside", "rough", "finish"),
    [
        ("5", "s_x0_z0*f*c0.2*t_x2_z-6*f_x4*t_z-8", "CCMT 060204", "CCMT 060202"),
        ("8", "s_x0_z0*f*c0.3*t_x6_z-10*f_x7*t_z-14", "CCMT 060204", "CCMT 060202"),
        ("16", "s_x0_z0*f*t_x10_z-16*f_x14*t_z-20", "WNMG 060408", "WNMG 060404"),
        ("22", "s_x0_z0*f*t_x10_z-16*f_x20*t_z-20", "CNMG 120412", "CNMG 120408"),
    ],
)
def test_the_insert_suits_the_work(bar: str, outside: str, rough: str, finish: str) -> None:
    """A pin of Ø2 was given an insert of 12.7 with a nose of 1.2, larger than its radius.

    Up to a bar of 10 inserts of 6.35 with noses of 0.4 and 0.2, up to 20 of 9.525: common practice, no source.
    """
    rows, answer = proposed({**BAR, "bar_diameter": bar, "face_stock": "0.5", "outside": outside})
    assert [row["insert"] for row in rows if row["kind"] in ("face", "rough")] == [rough, rough]
    assert next(row["insert"] for row in rows if row["kind"] == "finish") == finish
    nose = int(finish[-2:]) / 10.0
    assert answer.results.material_left == pytest.approx(nose * (1.0 - math.sqrt(0.5)), abs=0.01)


def test_a_short_edge_cuts_less_deep_and_less_feed_is_asked_of_a_small_nose() -> None:
    """An edge of 6.4 takes 0.2 of its length, a nose of 0.4 feeds 0.4 of it: as the starting values, from memory."""
    outside = "s_x0_z0*f*t_x4_z-10*f_x7*t_z-14"
    rows, answer = proposed({**BAR, "bar_diameter": "10", "face_stock": "0.5", "outside": outside})
    rough = next(row for row in rows if row["kind"] == "rough")
    assert (rough["depth"], rough["feed"]) == ("1.29 mm", "0.16 mm/rev")
    assert not [each for each in answer.cautions if each.severity == 3]


def moves(one: OperationDone, name: str) -> list[Move]:
    return next(list(each.tool_pass.moves) for each in one.passes if each.name == name)


@pytest.mark.parametrize(("near", "fed_from"), [(-15.0, 15.0 + 0.5 + 0.2), (-10.0, 15.0 + 0.5 + 0.2)])
def test_a_groove_beside_a_high_shoulder_is_fed_from_just_above_its_surface(near: float, fed_from: float) -> None:
    """Ø24 into Ø30, a collar of Ø60 in front of it, 5 off or flush: it was fed down the collar, 15 mm of air."""
    groove = chain((30, near), (24, near), (24, near - 4), (30, near - 4))
    corners = [(0, 0), (60, 0), (60, -10), *([(30, -10)] if near < -10 else []),
               *((2 * at.r, at.z) for at in (groove.chain.start, *(each.end for each in groove.chain))),
               (30, -30), (60, -30), (60, -40), (0, -40)]  # fmt: skip
    outside = chain(*corners)
    first = next(index for index, each in enumerate(outside.chain, 1) if each.end == Point(near, 12.0))
    operation = Operation("groove", Grooving(3.0), Cut(along_z=0.1, along_x=0.1), first, first + 2)
    stock = blank((30.0, 0.0, -60.0), (15.0, 30.0, -30.0, -10.0))
    (one,) = run(Job(outside, stock, (Setup("first", (operation,)),), None, MACHINE, "C45")).operations
    for name in ("plunge 1", "plunge 2", "wall 2"):
        led = moves(one, name)
        cut = next(move for move in led if move.why == "cut")
        assert cut.elements[0].start.r == pytest.approx(fed_from)
        before = led[led.index(cut) - 1]
        assert before.kind == "rapid"
        assert before.elements[0].start.r == pytest.approx(30.7)
    assert one.hits == ()
    assert one.passes[0].row is not None
    assert one.passes[0].row.time < 0.02


@pytest.mark.parametrize(("fillet", "nose"), [("0.4", "04"), ("0.8", "08"), ("1.2", "08")])
def test_a_fillet_chooses_the_finishing_nose_alone_and_one_as_large_as_it_fits(fillet: str, nose: str) -> None:
    """R 0.4 before a shoulder: a part of Ø43 was roughed with a nose of 0.2 at 0.08 mm/rev, 1.94 min instead of 0.75.

    A nose of the fillet's own radius makes it, though rounding of the print's corner may leave it a hair smaller.
    """
    outside = f"s_x0_z0*f*t_x26_z-23*e{fillet}*f_x36*t_z-43"
    rows, answer = proposed({**BAR, "bar_diameter": "43", "outside": outside})
    inserts = {row["kind"]: row["insert"] for row in rows if "insert" in row}
    assert inserts == {"face": "CNMG 120412", "rough": "CNMG 120412", "finish": f"CNMG 1204{nose}"}
    assert answer.results.material_left == 0.0
    assert answer.results.total_time < 0.8
