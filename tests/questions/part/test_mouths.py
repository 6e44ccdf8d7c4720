"""Centre holes, countersinks and counterbores in a part: their volumes by hand, their speeds as a hole by itself."""

from __future__ import annotations

import math

import pytest
from scipy import integrate

from calc.contour import Point
from calc.language.problems import Problem
from calc.machining.job import Cut
from calc.questions.operations.hole.feature import FEATURE as HOLE
from calc.questions.operations.hole.fields import HoleInputs
from calc.questions.part.job import CentreDrill, Counterbore, Countersink, Drill, Operation
from calc.shapes.centre_holes import CentreForm, centre_holes
from tests.asking import asked
from tests.questions.part.test_kinds import chain, done, taken

DRILLED = Operation("drill", Drill(20.0), Cut(surface_speed=24_000.0))
BORED = chain((24, 0), (20, -2), (20, -40))
SPEED = Cut(surface_speed=20_000.0, feed=0.1)


def frustum(d: float, D: float, length: float) -> float:
    """Volume of a cone cut off, by its two diameters (mm)."""
    return math.pi * length / 12.0 * (d * d + d * D + D * D)


def tip(d: float) -> float:
    """Volume of a point of 118 degrees."""
    return math.pi / 24.0 * d**3 / math.tan(math.radians(59.0))


def in_the_centre(size: str, form: CentreForm) -> float:
    """By hand, from the sizes of the standard alone: cone of 60 degrees, pilot, point, what protects the cone."""
    hole = centre_holes()[size]
    deep = (hole.cone - hole.pilot) / 2.0 / math.tan(math.radians(30.0))
    below = math.pi / 4.0 * hole.pilot**2 * hole.pilot_length + tip(hole.pilot)
    if form == "R":
        return below + _arc(hole.cone, hole.pilot, (hole.largest_arc + hole.smallest_arc) / 2.0)
    protecting = 0.0
    if form == "B":
        high = (hole.protected - hole.cone) / 2.0 / math.tan(math.radians(60.0))
        protecting = frustum(hole.cone, hole.protected, high)
    if form == "C":
        protecting = frustum(hole.recess_floor, hole.recess_rim, hole.recess_depth)
    return frustum(hole.pilot, hole.cone, deep) + below + protecting


def _arc(rim: float, pilot: float, radius: float) -> float:
    """The solid of the arc from the rim to the pilot, by quadrature: it touches 60 degrees midway between them."""
    away = (rim + pilot) / 4.0 + radius * math.cos(math.radians(30.0))

    def along(r: float) -> float:
        return math.sqrt(radius**2 - (away - r) ** 2)

    low, high = along(pilot / 2.0), along(rim / 2.0)
    return float(integrate.quad(lambda z: math.pi * (away - math.sqrt(radius**2 - z**2)) ** 2, low, high)[0])


@pytest.mark.parametrize("form", ["A", "B", "C", "R"])
@pytest.mark.parametrize("size", ["2.5", "4"])
def test_a_centre_hole_is_taken_as_its_standard_has_it(size: str, form: CentreForm) -> None:
    one = done(Operation("centre", CentreDrill(size, form), SPEED), inside=None)[0]
    assert taken(one) == pytest.approx(in_the_centre(size, form), rel=1e-3 if form == "R" else 1e-5)
    assert one.hits == ()
    assert one.passes[0].volume == pytest.approx(taken(one))
    assert any("stays in the end" in note.say() for note in one.notes)


def test_a_centre_hole_before_a_bore_is_drilled_away_and_leaves_no_trace() -> None:
    centre, drill = done(Operation("centre", CentreDrill("4", "A"), SPEED), DRILLED)
    plain = done(DRILLED)[0]
    assert drill.after.volume == pytest.approx(plain.after.volume, rel=1e-9)
    assert taken(centre) + taken(drill) == pytest.approx(taken(plain), rel=1e-9)
    assert (centre.hits, centre.too_deep) == ((), None)
    assert not any("stays in the end" in note.say() for note in centre.notes)


def test_a_countersink_takes_its_cone_less_the_hole() -> None:
    """From Ø24 at the mouth to Ø20 under 90 degrees: a frustum 2 deep less the cylinder in it."""
    one = done(DRILLED, Operation("countersink", Countersink(24.0), SPEED), inside=BORED)[1]
    assert taken(one) == pytest.approx(frustum(20.0, 24.0, 2.0) - math.pi * 100.0 * 2.0, rel=1e-4)
    assert (one.hits, one.too_deep) == ((), None)


def test_a_countersink_that_is_too_wide_cuts_into_the_print() -> None:
    one = done(DRILLED, Operation("countersink", Countersink(26.0), SPEED), inside=BORED)[1]
    assert [hit.what for hit in one.hits] == ["part"]
    assert one.too_deep is not None
    assert one.too_deep.depth == pytest.approx(math.sqrt(0.5), abs=0.01)


def test_a_spot_of_ninety_degrees_is_a_cone() -> None:
    one = done(Operation("countersink", Countersink(10.0), SPEED), inside=chain((20, 0), (20, -40)))[0]
    assert taken(one) == pytest.approx(frustum(0.0, 10.0, 5.0), rel=1e-4)


def test_a_counterbore_takes_its_ring_and_asks_for_its_depth() -> None:
    inside = chain((30, 0), (30, -8), (20, -8), (20, -40))
    one = done(DRILLED, Operation("counterbore", Counterbore(30.0), SPEED, depth=8.0), inside=inside)[1]
    assert taken(one) == pytest.approx(math.pi / 4.0 * (30.0**2 - 20.0**2) * 8.0, rel=1e-4)
    assert (one.hits, one.too_deep) == ((), None)
    with pytest.raises(Problem) as caught:
        done(DRILLED, Operation("counterbore", Counterbore(30.0), SPEED, field="here"))
    assert [fault.field for fault in caught.value.faults] == ["here.depth"]


def test_a_drill_with_inserts_leaves_a_flat_bottom_and_a_carbide_one_its_own_point() -> None:
    drills = Drill(20.0, None, "indexable"), Drill(20.0, math.radians(140.0), "coated carbide")
    flat, pointed = (done(Operation("drill", each, SPEED, depth=15.0), inside=None)[0] for each in drills)
    assert taken(flat) == pytest.approx(math.pi * 100.0 * 15.0, rel=1e-5)
    cone = math.pi * 100.0 / 3.0 * 10.0 / math.tan(math.radians(70.0))
    assert taken(pointed) == pytest.approx(math.pi * 100.0 * 15.0 + cone, rel=1e-5)


def test_one_that_finds_no_stock_says_so() -> None:
    one = done(DRILLED, Operation("countersink", Countersink(18.0), SPEED))[1]
    assert "cuts nothing" in one.cautions[0].message.say()


def test_speed_and_feed_are_those_of_the_hole_by_itself() -> None:
    """The same countersink and counterbore in the same material, as the page of the hole has them."""
    alone = HOLE.solve(
        asked(
            HoleInputs,
            material="C45",
            bore_diameter=20.0,
            hole_depth=40.0,
            countersink_diameter=24.0,
            counterbore_diameter=30.0,
            counterbore_depth=8.0,
            max_rpm=2500.0,
        )
    )
    rows = {row.tool: row for row in alone.tables["tools"]}
    sunk = done(DRILLED, Operation("countersink", Countersink(24.0)), inside=BORED)[1].passes[0].row
    bored = done(DRILLED, Operation("counterbore", Counterbore(30.0), depth=8.0))[1].passes[0].row
    for name, found in (("Countersink", sunk), ("Counterbore", bored)):
        assert found is not None
        assert found.rpm_start == pytest.approx(rows[name].rpm, rel=1e-9)
        assert found.feed == pytest.approx(rows[name].feed, rel=1e-9)


def test_a_centre_drill_of_no_standard_size_is_refused_at_its_size() -> None:
    with pytest.raises(Problem) as caught:
        done(Operation("centre", CentreDrill("3.7"), SPEED, field="here"), inside=None)
    assert [fault.field for fault in caught.value.faults] == ["here.tool.size"]
    assert "3.15" in caught.value.faults[0].message.say()


def test_the_tip_is_led_from_clear_of_the_face_to_the_bottom_and_back() -> None:
    one = done(Operation("centre", CentreDrill("4", "A"), SPEED), inside=None)[0]
    ends = [move.elements[-1].end for move in one.passes[0].tool_pass.moves]
    hole = centre_holes()["4"]
    deep = (hole.cone - hole.pilot) / 2.0 / math.tan(math.radians(30.0)) + hole.pilot_length
    assert min(end.z for end in ends) == pytest.approx(-deep - 2.0 / math.tan(math.radians(59.0)), abs=1e-9)
    assert all(end.r == 0.0 for end in ends)
    assert ends[-1] == Point(4.0, 0.0)
