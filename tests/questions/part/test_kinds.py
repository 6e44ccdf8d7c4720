"""Drills, blades, threads, knurls and stops in a part: by hand, and as the same operation by itself has them."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from calc.contour import Chain, Line, Point
from calc.cutting.machine import Machine
from calc.language.problems import Problem
from calc.machining.job import Cut
from calc.machining.removal.region import Bar, work_of
from calc.machining.removal.stock import stock_of
from calc.questions.operations.drilling import DrillingInputs
from calc.questions.operations.drilling import solve as drilling
from calc.questions.operations.face_groove import FaceGrooveInputs
from calc.questions.operations.face_groove import solve as face_groove
from calc.questions.operations.grooving_cut import GroovingInputs
from calc.questions.operations.grooving_cut import solve as grooving
from calc.questions.operations.knurl import KnurlInputs
from calc.questions.operations.knurl import solve as knurl
from calc.questions.operations.parting import PartingInputs
from calc.questions.operations.parting import solve as parting
from calc.questions.part.done import OperationDone
from calc.questions.part.job import (
    Drill,
    Grooving,
    Job,
    Operation,
    Print,
    Reamer,
    Roll,
    Setup,
    Tap,
    Threading,
)
from calc.questions.part.run import run
from calc.questions.threads.passes_fields import ThreadPassesInputs
from calc.questions.threads.tapping import TappingInputs
from calc.questions.threads.tapping import solve as tapping
from calc.questions.threads.thread_passes import solve as thread_passes

MACHINE = Machine(max_rpm=2500.0, chuck_limit=3200.0)


def chain(*corners: tuple[float, float]) -> Print:
    """A contour through diameters and z."""
    points = [Point(z, x / 2.0) for x, z in corners]
    return Print(Chain(tuple(Line(a, b) for a, b in pairwise(points))))


OUTSIDE = chain((0, 0), (42, 0), (42, -18), (38, -18), (38, -26), (42, -26), (42, -40), (0, -40))
INSIDE = chain((20, 0), (20, -40))


def done(
    *operations: Operation,
    inside: Print | None = INSIDE,
    bore: float = 0.0,
    material: str = "C45",
    outside: Print = OUTSIDE,
) -> list[OperationDone]:
    """A bar of Ø42 that is faced and long enough, each operation on what the one before has left."""
    stock = stock_of(Bar(21.0, 0.0, -60.0, bore / 2.0).area())
    return list(run(Job(outside, stock, (Setup("first", operations),), inside, MACHINE, material)).operations)


def taken(one: OperationDone) -> float:
    return one.before.volume - one.after.volume


def test_a_drill_takes_its_cylinder_and_cone_and_breaks_through() -> None:
    """By hand; the drill goes its point and 2 mm beyond the part, as drilling by itself takes it."""
    one = done(Operation("drill", Drill(20.0), Cut(surface_speed=24_000.0)))[0]
    height = 10.0 / math.tan(math.radians(59.0))
    assert taken(one) == pytest.approx(math.pi * 100.0 * (42.0 + height / 3.0), rel=1e-6)
    alone = drilling(
        DrillingInputs(
            material="C45",
            drill_diameter=20.0,
            hole_depth=40.0,
            through="through",
            surface_speed=24_000.0,
            machine=MACHINE,
        )
    ).results
    assert one.time == pytest.approx(alone.time, rel=1e-12)
    assert (one.force_max, one.power_max, one.rpm_max) == (alone.cutting_force, alone.power, alone.rpm)
    assert (one.left, one.too_deep, one.hits) == (None, None, ())


def test_a_drill_larger_than_the_bore_cuts_into_the_print_and_a_smaller_one_leaves_a_rest() -> None:
    large, small = (done(Operation("drill", Drill(d), Cut(surface_speed=24_000.0)))[0] for d in (20.6, 19.0))
    assert large.too_deep is not None
    assert large.too_deep.depth == pytest.approx(0.3, abs=1e-3)
    assert [hit.what for hit in large.hits] == ["part"]
    assert small.left is not None
    assert small.left.depth == pytest.approx(0.5, abs=1e-3)


def test_pecks_take_as_much_and_a_little_longer() -> None:
    whole, pecked = (
        done(Operation("drill", Drill(20.0), Cut(depth=depth, surface_speed=24_000.0)))[0] for depth in (None, 15.0)
    )
    assert taken(pecked) == pytest.approx(taken(whole), rel=1e-9)
    assert sum(move.feed is not None for move in pecked.moves) == 4
    fed = sum(move.length for move in pecked.moves if move.feed) - sum(m.length for m in whole.moves if m.feed)
    assert fed == pytest.approx(3 * 0.5), "half a millimetre above each bottom, common practice"
    assert pecked.time is not None
    assert pecked.time > (whole.time or 0.0)


def test_a_reamer_takes_the_ring_that_the_drill_has_left_and_refuses_the_solid() -> None:
    drill, ream = done(
        Operation("drill", Drill(19.7), Cut(surface_speed=24_000.0)),
        Operation("ream", Reamer(20.0), Cut(feed=0.3, surface_speed=8_000.0)),
    )
    assert taken(ream) == pytest.approx(math.pi / 4.0 * (20.0**2 - 19.7**2) * 42.0, rel=2e-3)
    assert ream.left is None
    assert drill.left is not None
    solid = done(Operation("ream", Reamer(20.0), Cut(feed=0.3, surface_speed=8_000.0)))[0]
    assert any("from the solid" in caution.message.say() for caution in solid.cautions)


def test_a_tap_leaves_the_stock_and_takes_the_time_that_it_has_alone() -> None:
    one = done(Operation("tap", Tap("M22x2-6H"), depth=20.0), bore=20.0, inside=None)[0]
    asked = TappingInputs(designation="M22x2-6H", length=20.0, material="C45", drill=20.0, machine=MACHINE)
    alone = tapping(asked).results
    assert taken(one) == 0.0
    assert (one.time, one.power_max) == (alone.time, alone.power)
    assert any("not swept" in note.say() for note in one.notes)


def test_a_tap_deeper_than_its_hole_runs_into_the_bottom() -> None:
    drill, tap = done(
        Operation("drill", Drill(20.0), Cut(surface_speed=24_000.0), depth=15.0),
        Operation("tap", Tap("M22x2-6H"), depth=14.0),
        inside=None,
    )
    assert drill.too_deep is None
    assert any("runs into the bottom" in caution.message.say() for caution in tap.cautions)


def groove(width: float, keep: float = 0.0, feed: float | None = None) -> OperationDone:
    tool, cut = Grooving(width, 0.2), Cut(None, feed, 120_000.0, keep, keep)
    return done(Operation("groove", tool, cut, first=3, last=5), inside=None)[0]


@pytest.mark.parametrize("width", [8.0, 5.0, 3.0, 2.0])
def test_a_groove_is_taken_but_for_the_corner_radii(width: float) -> None:
    """By hand: a ring of 8 by 2 less two corners of (1 - pi/4) 0.2 squared, about their centroids (Pappus)."""
    one = groove(width)
    corner = (1.0 - math.pi / 4.0) * 0.2**2
    centroid = 19.0 + 0.2 * (1.0 - 2.0 / 3.0 / (4.0 - math.pi))
    assert taken(one) == pytest.approx(math.pi * (21.0**2 - 19.0**2) * 8.0 - 2 * corner * math.tau * centroid, rel=1e-5)
    assert (one.hits, one.too_deep, one.dropped) == ((), None, ())
    assert one.left is not None
    assert one.left.corner == pytest.approx(0.2 * (math.sqrt(2.0) - 1.0), abs=1e-3), "what a corner radius leaves"


def test_the_allowances_of_a_groove_are_taken_along_walls_and_bottom() -> None:
    plain, finished = groove(3.0), groove(3.0, keep=0.1)
    assert [each.name for each in finished.passes][-2:] == ["wall 1", "wall 2"]
    assert taken(finished) == pytest.approx(taken(plain), rel=1e-5)
    assert finished.hits == ()


def test_a_plunge_of_a_groove_has_the_load_and_time_that_it_has_alone() -> None:
    """The plunge is fed from 0.5 mm off the surface, which takes that much longer."""
    one = groove(8.0, feed=0.1)
    groove_alone = GroovingInputs(
        material="C45",
        start_diameter=43.0,
        bottom_diameter=38.0,
        insert_width=8.0,
        feed=0.1,
        surface_speed=120_000.0,
        machine=MACHINE,
    )
    alone = grooving(groove_alone).results
    assert one.force_max == alone.cutting_force
    assert one.time == pytest.approx(alone.time, rel=1e-6)


def test_an_insert_wider_than_the_groove_is_refused() -> None:
    with pytest.raises(Problem) as caught:
        groove(8.5)
    assert [fault.field for fault in caught.value.faults] == ["tool.width"]


def test_grooves_are_found_where_no_rows_are_named() -> None:
    named, found = groove(3.0), done(Operation("groove", Grooving(3.0, 0.2)), inside=None)[0]
    assert taken(found) == pytest.approx(taken(named), rel=1e-9)


def test_parting_off_takes_a_disc_and_has_the_time_that_it_has_alone() -> None:
    one = done(Operation("part-off", Grooving(3.0), Cut(feed=0.1, surface_speed=120_000.0)), inside=None)[0]
    assert taken(one) == pytest.approx(math.pi * 21.0**2 * 3.0, rel=1e-5)
    alone = parting(
        PartingInputs(
            material="C45", outer_diameter=42.0, insert_width=3.0, feed=0.1, surface_speed=120_000.0, machine=MACHINE
        )
    ).results
    assert one.force_max == alone.cutting_force
    assert one.time is not None
    beyond = one.time - alone.time
    assert 0.0 < beyond < 0.01, "0.5 mm in front of the surface and 0.2 past the axis"
    assert (one.hits, one.too_deep) == ((), None)


@pytest.mark.parametrize(("of_part", "of_bar"), [(1.0, 0.0), (0.0, 0.8), (1.0, 0.8)])
def test_parting_off_takes_the_chamfers_on_both_sides_before_it_is_through(of_part: float, of_bar: float) -> None:
    """By Pappus: each is a triangle of c x c / 2 whose centroid lies a third of c below the surface."""
    ended = Grooving(3.0, part_chamfer=of_part, bar_chamfer=of_bar)
    part_off = Operation("part-off", ended, Cut(feed=0.1, surface_speed=120_000.0))
    one, plain = done(part_off, inside=None)[0], done(replace(part_off, tool=Grooving(3.0)), inside=None)[0]
    rings = sum(2 * math.pi * (21.0 - c / 3) * c**2 / 2 for c in (of_part, of_bar))
    assert taken(one) == pytest.approx(taken(plain) + rings, rel=1e-4)
    names = [each.name for each in one.passes]
    assert names[0] == "plunge 1"
    assert names[-1] == "part off"
    assert names[1:-1] == [f"chamfer of the {name}" for name, c in (("part", of_part), ("bar", of_bar)) if c]
    assert [each.what for each in one.hits] == (["part"] if of_part else [])  # this print ends in a sharp corner
    edge = ((42, -40 + of_part), (42 - 2 * of_part, -40)) if of_part else ((42, -40),)
    broken = chain((0, 0), (42, 0), *edge, (0, -40))
    assert done(part_off, inside=None, outside=broken)[0].hits == ()
    assert one.time is not None
    assert plain.time is not None
    assert one.time > plain.time


def test_a_chamfer_as_deep_as_half_the_wall_is_refused_at_its_field() -> None:
    with pytest.raises(Problem) as caught:
        done(Operation("part-off", Grooving(3.0, part_chamfer=11.0)), inside=None)
    assert "tool.part_chamfer" in [fault.field for fault in caught.value.faults]


def test_what_was_parted_off_behind_is_not_there_when_the_part_is_turned_round() -> None:
    stock = stock_of(Bar(21.0, 0.0, -60.0).area())
    part_off = Operation("part-off", Grooving(3.0), Cut(along_z=0.5))
    job = Job(
        OUTSIDE,
        stock,
        (Setup("first", (part_off,)), Setup("second", (Operation("measure", None),))),
        None,
        MACHINE,
        "C45",
    )
    first, second = run(job).operations
    assert first.after.volume == pytest.approx(math.pi * 21.0**2 * 57.0, rel=1e-5)
    assert second.before.volume == pytest.approx(math.pi * 21.0**2 * 40.5, rel=1e-5)
    assert second.before.bounds[2] == pytest.approx(0.5)


def test_a_bore_is_parted_into() -> None:
    one = done(Operation("part-off", Grooving(3.0)), bore=20.0)[0]
    assert taken(one) == pytest.approx(math.pi * (21.0**2 - 10.0**2) * 3.0, rel=1e-5)


def test_a_thread_has_the_passes_that_it_has_alone_and_leaves_the_stock() -> None:
    outside = chain((0, 0), (24, 0), (24, -30), (20, -30), (20, -38), (42, -38), (42, -60))
    thread = Operation("thread", Threading("M24x2-6g"), first=2, last=2)
    stock = stock_of(Bar(21.0, 0.0, -80.0).area())
    turned = stock_of(work_of(stock.whole, outside.chain, "right").finished)
    one = run(Job(outside, turned, (Setup("first", (thread,)),), None, MACHINE, "C45")).operations[0]
    alone = thread_passes(ThreadPassesInputs(designation="M24x2-6g", length=30.0, relief=8.0, machine=MACHINE))
    rows = alone.tables["passes"]
    assert [each.row.start_x if each.row else None for each in one.passes] == [row.diameter / 2.0 for row in rows]
    assert [each.force for each in one.passes] == [row.force for row in rows]
    assert one.time == pytest.approx(alone.results.time_in_cut, rel=1e-9)
    assert taken(one) == 0.0
    assert "not swept" in one.notes[0].say()


def test_a_thread_without_room_to_stop_is_refused_at_its_speed() -> None:
    outside = chain((0, 0), (24, 0), (24, -30), (42, -30), (42, -60))
    thread = Operation("thread", Threading("M24x2-6g"), first=2, last=2, field="here")
    turned = stock_of(work_of(Bar(21.0, 0.0, -80.0).area(), outside.chain, "right").finished)
    with pytest.raises(Problem) as caught:
        run(Job(outside, turned, (Setup("first", (thread,)),), None, MACHINE, "C45"))
    assert [fault.field for fault in caught.value.faults] == ["here.cut.surface_speed"]


def test_a_knurl_names_its_blank_and_what_stands_there_instead() -> None:
    one = done(
        Operation("knurl", Roll(1.0, "crossed"), Cut(feed=0.2, surface_speed=20_000.0), first=2, last=2), inside=None
    )[0]
    alone = knurl(KnurlInputs(diameter=42.0, pitch=1.0, form="crossed")).results
    rpm = 20_000.0 / (math.pi * alone.diameter_before)
    assert one.time == pytest.approx(18.0 / (0.2 * rpm), rel=1e-9)
    assert taken(one) == 0.0
    assert "needs a blank of Ø41.380" in one.cautions[0].message.say()


def test_a_stop_to_measure_names_the_diameters_of_its_rows() -> None:
    one = done(Operation("measure", None, first=2, last=4), inside=None)[0]
    assert (one.time, one.passes, taken(one)) == (0.0, (), 0.0)
    assert [note.say() for note in one.notes[1:]] == ["Nominal: Ø42.000 mm.", "Nominal: Ø38.000 mm."]


def test_a_groove_in_a_face_is_taken_but_for_the_corner_radii_and_has_the_feed_that_it_has_alone() -> None:
    """By hand: a ring between Ø20 and Ø30, 4 deep, less two corners of (1 - pi/4) 0.2 squared (Pappus)."""
    outside = chain((0, 0), (20, 0), (20, -4), (30, -4), (30, 0), (42, 0), (42, -40))
    operation = Operation("groove", Grooving(3.0, 0.2), Cut(surface_speed=100_000.0), first=2, last=4, where="face")
    stock = stock_of(Bar(21.0, 0.0, -60.0).area())
    one = run(Job(outside, stock, (Setup("first", (operation,)),), None, MACHINE, "C45")).operations[0]
    corner = (1.0 - math.pi / 4.0) * 0.2**2
    off = 0.2 * (1.0 - 2.0 / 3.0 / (4.0 - math.pi))
    corners = corner * math.tau * (10.0 + off) + corner * math.tau * (15.0 - off)
    assert taken(one) == pytest.approx(math.pi * (15.0**2 - 10.0**2) * 4.0 - corners, rel=1e-5)
    asked = FaceGrooveInputs(
        material="C45",
        groove_outer=30.0,
        groove_inner=20.0,
        face_depth=4.0,
        insert_width=3.0,
        surface_speed=100_000.0,
        machine=MACHINE,
    )
    assert one.passes[0].row is not None
    assert one.passes[0].row.feed == face_groove(asked).results.feed
    assert (one.hits, one.too_deep) == ((), None)


def test_a_thread_on_stock_that_is_not_turned_yet_says_so() -> None:
    outside = chain((0, 0), (24, 0), (24, -30), (20, -30), (20, -38), (42, -38), (42, -60))
    thread = Operation("thread", Threading("M24x2-6g"), first=2, last=2)
    raw = stock_of(Bar(21.0, 0.0, -80.0).area())
    one = run(Job(outside, raw, (Setup("first", (thread,)),), None, MACHINE, "C45")).operations[0]
    assert any("turn it to size first" in caution.message.say() for caution in one.cautions)
    turned = stock_of(work_of(raw.whole, outside.chain, "right").finished)
    ready = run(Job(outside, turned, (Setup("first", (thread,)),), None, MACHINE, "C45")).operations[0]
    assert not any("turn it to size first" in caution.message.say() for caution in ready.cautions)


def test_a_thread_is_full_to_its_relief_and_has_its_room_behind_it() -> None:
    """A row of 30 with a relief DIN 76-A of 7 mm: 23 mm of full thread, 7 mm to stop in."""
    outside = Print(
        chain((0, 0), (21, 0), (24, -1.5), (24, -23), (21, -25.6), (21, -30), (42, -30), (42, -60)).chain,
        (1, 2, 2, 2, 2, 3, 4),
    )
    thread = Operation("thread", Threading("M24x2-6g"), first=2, last=2)
    turned = stock_of(work_of(Bar(21.0, 0.0, -80.0).area(), outside.chain, "right").finished)
    one = run(Job(outside, turned, (Setup("first", (thread,)),), None, MACHINE, "C45")).operations[0]
    alone = thread_passes(ThreadPassesInputs(designation="M24x2-6g", length=23.0, relief=7.0, machine=MACHINE))
    assert one.time == pytest.approx(alone.results.time_in_cut, rel=1e-9)
