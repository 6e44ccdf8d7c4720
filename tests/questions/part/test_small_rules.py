"""Small rules of planning a part, each at its bounds: a form tool's outline, jaws' play, what a step of play says."""

from __future__ import annotations

import math

import pytest
import shapely

from calc.contour import Line, Point
from calc.contour.text import read_rows, rows_of
from calc.cutting.machine import Machine
from calc.language.problems import Problem
from calc.language.quantities import View
from calc.machining.job import Cut
from calc.machining.removal.region import Bar
from calc.machining.removal.stock import stock_of
from calc.machining.straight_in import SHARP
from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.questions.operations.knurl import KnurlInputs
from calc.questions.operations.knurl import solve as knurl
from calc.questions.part.asking import _print
from calc.questions.part.choosing import without_grooves
from calc.questions.part.declared import BarInputs
from calc.questions.part.ends import rows_of_bore
from calc.questions.part.feature import FEATURE
from calc.questions.part.gripped import grip_cautions
from calc.questions.part.held import turning_tool
from calc.questions.part.job import Drill, Jaws, Job, Operation, Roll, Setup
from calc.questions.part.parted import deep_for_parting
from calc.questions.part.played import played
from calc.questions.part.run import run
from calc.questions.part.shown import _missing_metal
from calc.questions.part.threaded import CLEAR, FLANKS, threading_outline
from calc.threads.thread import thread_of
from server.query import read_query
from tests.questions.part.test_kinds import MACHINE, OUTSIDE, chain, groove
from tests.questions.part.test_proposed_for_shop_parts import LATHE, proposed
from tests.questions.part.turned_blanks import blank

FREE = Machine(max_rpm=2500.0)


@pytest.mark.parametrize(("designation", "up"), [("M24x2-6g", 1.0), ("M30x1.5-6H", -1.0)])
def test_a_threading_tool_points_at_its_thread_and_is_drawn_round_to_the_left(designation: str, up: float) -> None:
    """60 degrees over FLANKS pitches, then its body; in a bore it points the other way. Area: by hand."""
    thread, height = thread_of(designation), 40.0
    core = threading_outline(thread, height).core
    deep = FLANKS * thread.named.pitch
    wide = deep / math.sqrt(3.0)
    assert max(up * corner.r for corner in core) == pytest.approx(height)
    assert min(up * corner.r for corner in core) == pytest.approx(SHARP)
    ring = shapely.LinearRing([(corner.z, corner.r) for corner in core])
    assert ring.is_ccw
    area = wide * (deep - SHARP) + 2.0 * wide * (height - deep)
    assert shapely.Polygon(ring).area == pytest.approx(area)


def test_knurling_rolls_come_off_over_the_crests() -> None:
    """Pitch 1, straight, over Ø42.6: they retract to CLEAR above the crests that the knurl by itself raises."""
    outside = chain((0, 0), (42, 0), (42, -18), (60, -18), (60, -40), (0, -40))
    rolls = Operation("knurl", Roll(1.0, "straight", 42.6), Cut(feed=0.2, surface_speed=25_000.0), 2, 2)
    stock = blank((30.0, 0.0, -60.0), (21.0, 30.0, -18.0, 0.0))
    (one,) = run(Job(outside, stock, (Setup("first", (rolls,)),), None, MACHINE, "C45")).operations
    rolled, off = one.passes[0].tool_pass.moves
    assert (rolled.kind, off.kind, off.why) == ("feed", "rapid", "retract")
    assert off.elements[0].start == rolled.elements[-1].end
    assert off.elements[0].end.z == off.elements[0].start.z == -18.0
    alone = knurl(KnurlInputs(diameter=42.6, pitch=1.0, form="straight")).results
    assert off.elements[0].end.r == pytest.approx(alone.diameter_after / 2.0 + CLEAR)
    assert off.elements[0].start.r == pytest.approx(alone.diameter_before / 2.0)


def test_a_groove_that_is_turned_stays_in_the_contour_that_a_tool_is_looked_for() -> None:
    """The groove of elements 2 to 4 is bridged at r 21, unless it is one that is turned; other grooves are not."""
    share = (0, len(OUTSIDE.chain) - 1)
    bridged = without_grooves(OUTSIDE.chain, share, "outside")
    assert Line(Point(-18.0, 21.0), Point(-26.0, 21.0)) in bridged.elements
    assert len(bridged) == len(OUTSIDE.chain) - 2
    assert without_grooves(OUTSIDE.chain, share, "outside", frozenset({2})) == OUTSIDE.chain
    assert without_grooves(OUTSIDE.chain, share, "outside", frozenset({3})) == bridged


@pytest.mark.parametrize(
    ("bored", "said"),
    [(40.0, ""), (40.1, ""), (40.11, "held on edges"), (40.0 - 1e-7, ""), (39.99, "does not go in"), (None, "")],
)
def test_soft_jaws_may_be_a_tenth_larger_and_no_smaller_than_the_work(bored: float | None, said: str) -> None:
    """Ø40 of work; 0.1 on the diameter: common practice, no source. 40.1 less 40 is 0.1 and a rounding more."""
    setup = Setup(length_out=30.0, jaws=Jaws(bored=bored, deep=None))
    found = [each.message.say() for each in grip_cautions(setup, blank((20.0, 0.0, -60.0)))]
    assert len(found) == bool(said)
    assert all(said in each for each in found)


def test_a_step_of_play_says_where_the_tool_point_goes_how_deep_and_how_fast() -> None:
    """A face of 1 in one pass over Ø42 with R 0.8: tool point 3 stands a nose before the centre both ways.

    From 2 and a nose outside of the bar, r 23.8 less 0.8, to the axis, with the point a nose beyond it. At 180 m/min
    1,204 1/min where it is first fed, on Ø47.6, and the limit of 2,500 from Ø22.9 in.
    """
    tool = turning_tool(ToolInputs(insert="CNMG 120408", holder="PCLNR 2525M12"))
    outside = chain((0, 0), (42, 0), (42, -40))
    face = Operation("face", tool, Cut(1.0, 0.2, 180_000.0), 1, 1)
    drill = Operation("drill", Drill(8.0), Cut(feed=0.1, surface_speed=20_000.0), depth=10.0)
    done = run(Job(outside, blank((21.0, 1.0, -60.0)), (Setup("first", (face, drill)),), None, FREE, "C45"))
    _, first, second = played(done, FREE.max_rpm)
    assert first.note is not None
    assert first.note.say().startswith(
        "tool point X46.000 Z0.000 to X-1.600 Z0.000; depth 1.000 mm; speed 180 m/min; feed 0.200 mm/rev; "
        "spindle 1204 1/min to 2500 1/min (limit 2500 1/min)"
    )
    assert second.note is not None
    tip = 10.0 + 4.0 / math.tan(math.radians(59.0))
    assert f"to X0.000 Z{-tip:.3f}" in second.note.say()


@pytest.mark.parametrize(
    ("radius", "insert"), [("7", "RCMT 1204M0"), ("6", "RCMT 1003M0"), ("5", "RCMT 0602M0"), ("3.2", "RCMT 0602M0")]
)
def test_a_dish_is_turned_with_the_largest_round_insert_that_fits_into_it(radius: str, insert: str) -> None:
    """One of the arc's own radius touches all of it at once: Ø12 was proposed for an arc of 6, and then refused."""
    r = float(radius)
    mouth = 2.0 * math.sqrt(r**2 - (r - 1.0) ** 2)
    dish = f"s_x0_z-1*a_r{radius}_cx0_cz{r - 1.0:g}_x{mouth:.6f}_z0_cw*f_x36*t_z-20"
    rows, _ = proposed({"material": "C45", "bar_diameter": "40", "face_stock": "1", **LATHE, "outside": dish})
    assert next(row["insert"] for row in rows if row["why"].startswith("dish")) == insert


def test_a_dish_that_no_round_insert_fits_into_is_named() -> None:
    dish = "s_x0_z-1*a_r3_cx0_cz2_x4.472136_z0_cw*f_x36*t_z-20"
    texts = {"material": "C45", "bar_diameter": "40", "face_stock": "1", **LATHE, "outside": dish}
    with pytest.raises(Problem, match="No common round insert fits into the dish"):
        FEATURE.answer(read_query(texts.items(), FEATURE.inputs).inputs(FEATURE.inputs))


def test_a_plunge_is_as_deep_as_its_groove() -> None:
    """From Ø42 to Ø38, an insert as wide as the groove."""
    assert [each.row.depth for each in groove(8.0).passes if each.row] == [pytest.approx(2.0)]


def test_a_bore_without_a_cylinder_is_cut_from_the_first_end_to_its_last_row() -> None:
    """Two tapers that narrow: no cylinder is narrowest, and nothing opens behind the last."""
    tapered = chain((30, 0), (26, -10), (20, -40)).chain
    assert (rows_of_bore(tapered, "first"), rows_of_bore(tapered, "second")) == ((0, 1), None)


def test_of_two_contours_of_a_print_the_one_that_the_bar_holds_is_worked() -> None:
    """A line 25 long from Ø40 to Z-20 ends at Ø70 or at Ø10 (3-4-5 triangle): a bar of Ø45 decides."""
    given, _ = read_rows(rows_of("s_x40_z0*l_len25_z-20"), View())
    ends = [_print(given, "right", BarInputs(bar_diameter=bar)).chain.elements[-1].end.r for bar in (45.0, 80.0)]
    assert ends == pytest.approx([5.0, 35.0])


def test_a_bore_that_is_parted_through_is_drilled_past_the_blade_and_what_is_left_to_face() -> None:
    """60 long, 0.5 for the second face, a blade of 3: an eighth of the 23.5 from Ø64 into the hole of Ø18, by hand."""
    outside = chain((0, 0), (42, 0), (42, -18), (60, -18), (60, -40), (50, -40), (50, -60), (0, -60))
    stock = blank((32.0, 0.0, -80.0))
    job = Job(outside, stock, (), chain((20, 0), (20, -60)), MACHINE, "C45")
    assert deep_for_parting(job, 18.0) == pytest.approx(60.0 + 0.5 + 3.0)


def test_a_stock_with_a_wider_bore_than_the_print_has_not_enough_metal() -> None:
    """A tube of Ø42 by Ø20, a bore of Ø16."""
    tube = stock_of(Bar(21.0, 0.0, -60.0, 10.0).area())
    (found,) = _missing_metal(Job(OUTSIDE, tube, (), chain((16, 0), (16, -40)), MACHINE, "C45"))
    assert found.message.say().startswith("The bore of the stock, Ø20 mm, is larger than the print's, Ø16 mm: there is")
