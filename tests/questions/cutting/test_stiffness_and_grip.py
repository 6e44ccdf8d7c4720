"""Bar, work and chuck from their declared inputs: what is asked for, what is refused, what is told."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.cutting.section_rows import SectionRow
from calc.cutting.stiffness import BarOf
from calc.language.kinds import MASS_MOMENT
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.questions.cutting import deflection, grip, work_deflection
from calc.questions.cutting.deflection import BarInputs
from calc.questions.cutting.grip import GripInputs, JawsInputs, NeedInputs
from calc.questions.cutting.work_deflection import WorkInputs
from tests.asking import asked
from tests.tries import tries

anything = st.none() | st.floats(-1e300, 1e300) | st.sampled_from([math.nan, math.inf, -math.inf])
MOMENT = MASS_MOMENT.internal(2.668)


def said(problem: Problem) -> list[tuple[str, str]]:
    return [(fault.field, fault.message.say()) for fault in problem.faults]


def test_a_bar_asks_for_what_it_needs() -> None:
    with pytest.raises(Missing) as raised:
        deflection.solve(asked(BarInputs))
    assert said(raised.value) == [
        ("tool_bar_diameter", "Give the bar diameter."),
        ("stick_out", "Give the stick-out."),
        ("passive_force", "Give the passive force."),
    ]


@pytest.mark.parametrize(("code", "most"), [("steel", 4.0), ("heavy", 6.0), ("carbide", 8.0)])
def test_a_bar_beyond_its_usual_stick_out_is_cautioned_and_one_within_is_not(code: BarOf, most: float) -> None:
    """Stick-out over diameter by bar material: common practice, no source."""
    short = BarInputs(tool_bar_diameter=20.0, stick_out=20.0 * most, tool_bar_material=code, passive_force=100.0)
    long = BarInputs(tool_bar_diameter=20.0, stick_out=20.1 * most, tool_bar_material=code, passive_force=100.0)
    assert deflection.solve(short).cautions == ()
    (caution,) = deflection.solve(long).cautions
    assert (caution.about, caution.severity) == ("stick_out", 3)
    assert "expect chatter" in caution.message.say()


def test_a_bar_that_is_too_thick_and_an_error_that_is_not_allowed_are_told() -> None:
    found = deflection.solve(
        BarInputs(tool_bar_diameter=20.0, stick_out=80.0, passive_force=500.0, bore_diameter=20.0, tolerance=0.02)
    )
    assert [caution.about for caution in found.cautions] == ["diameter_error", "tool_bar_diameter"]


def test_the_bars_table_holds_the_chosen_bar_and_its_mark() -> None:
    found = deflection.solve(BarInputs(tool_bar_diameter=20.0, stick_out=80.0, passive_force=500.0))
    (plot,) = found.plots
    (mark,) = plot.marks
    row = next(row for row in plot.rows if row[0] == pytest.approx(80.0))
    assert row[1] == pytest.approx(found.results.diameter_error) == mark.y
    assert plot.curves[0].role == "main"


@pytest.mark.parametrize("held", ["chuck", "tailstock", "centres"])
def test_the_curve_along_the_work_peaks_at_the_result_and_its_table_has_that_place(held: Any) -> None:
    found = work_deflection.solve(WorkInputs(held=held, work_diameter=30.0, length_out=300.0, passive_force=500.0))
    (plot,) = found.plots
    (curve,) = plot.curves
    assert max(curve.ys) == pytest.approx(found.results.diameter_error, rel=1e-3)
    row = next(row for row in plot.rows if row[0] == found.results.place)
    assert row[1] == pytest.approx(found.results.diameter_error)


def test_long_work_is_cautioned_by_the_way_it_is_held() -> None:
    """Three diameters in a chuck alone, ten with support: common practice, no source."""
    for held, length, cautioned in (
        ("chuck", 90.0, False), ("chuck", 91.0, True), ("centres", 300.0, False), ("centres", 301.0, True),
    ):  # fmt: skip
        found = work_deflection.solve(WorkInputs(held=held, work_diameter=30.0, length_out=length, passive_force=50.0))  # type: ignore[arg-type]
        assert bool(found.cautions) is cautioned, (held, length)


def test_a_modulus_that_is_given_wins_over_the_materials() -> None:
    steel = WorkInputs(work_diameter=30.0, length_out=60.0, passive_force=500.0)
    soft = WorkInputs(work_diameter=30.0, length_out=60.0, passive_force=500.0, modulus=105_000.0)
    assert work_deflection.solve(soft).results.deflection == pytest.approx(
        2 * work_deflection.solve(steel).results.deflection
    )


def test_a_bore_without_a_wall_is_refused() -> None:
    with pytest.raises(Impossible, match="leaves no wall in Ø30"):
        work_deflection.solve(WorkInputs(work_diameter=30.0, length_out=60.0, passive_force=500.0, work_bore=30.0))


def test_the_grip_at_the_printed_case_holds_to_1200() -> None:
    """2.668 kg m, 69 947 N, 3000 N needed, 1200 1/min: VDI 3106, set of values that agrees with itself."""
    found = grip.solve(GripInputs(grip=69_947.06, jaw_moment=MOMENT, rpm=1200.0, need=NeedInputs(needed=3000.0)))
    assert found.headline == "speed_limit"
    assert found.results.speed_limit == pytest.approx(1200.0)
    assert found.results.loss == pytest.approx(42_131.37, abs=5e-3)
    assert found.results.grip_to_set == pytest.approx(69_947.05, abs=0.02)
    assert found.cautions == ()


def test_a_speed_above_what_the_grip_holds_and_the_chucks_marking_is_cautioned_gravely() -> None:
    found = grip.solve(
        GripInputs(grip=69_947.0, jaw_moment=MOMENT, rpm=1500.0, chuck_limit=1400.0, need=NeedInputs(needed=3000.0))
    )
    assert [(caution.about, caution.severity) for caution in found.cautions] == [("rpm", 3), ("chuck_limit", 3)]
    assert "the part may be thrown" in found.cautions[0].message.say()


def test_the_jaws_one_by_one_give_the_moment() -> None:
    jaws = JawsInputs(jaw_count=3.0, base_moment=MASS_MOMENT.internal(0.4), jaw_mass=5.33, jaw_radius=107.0)
    found = grip.solve(GripInputs(grip=90_000.0, jaws=jaws))
    assert MASS_MOMENT.shown(found.results.moment) == pytest.approx(3 * (0.4 + 0.57031))


@pytest.mark.parametrize(
    ("inputs", "problem", "words"),
    [
        (GripInputs(grip=1e4), Missing, "Give the moment of all jaws; or how many jaws"),
        (
            GripInputs(grip=1e4, jaw_moment=MOMENT, jaws=JawsInputs(jaw_count=3.0)),
            Contradiction,
            "or the jaws one by one, not both",
        ),
        (
            GripInputs(grip=1e4, jaws=JawsInputs(jaw_count=2.5, jaw_mass=1.0, jaw_radius=50.0)),
            Impossible,
            "must be a whole one",
        ),
        (GripInputs(grip=1e4, jaw_moment=MOMENT, need=NeedInputs(needed=9e3)), Impossible, "Even at rest"),
        (
            GripInputs(grip=1e4, jaw_moment=MOMENT, need=NeedInputs(cutting_force=900.0)),
            Missing,
            "where it cuts and where it is held",
        ),
        (
            GripInputs(grip=1e4, jaw_moment=MOMENT, need=NeedInputs(axial_force=900.0)),
            Missing,
            "where it cuts and where it is held",
        ),
        (
            GripInputs(grip=1e4, jaw_moment=MOMENT, need=NeedInputs(needed=1.0, cutting_force=900.0)),
            Contradiction,
            "not both",
        ),
        (GripInputs(grip=1e4, jaw_moment=MOMENT, gripped="inside"), Missing, "in a bore the grip grows"),
    ],
)
def test_what_a_grip_lacks_or_contradicts_is_said(inputs: GripInputs, problem: type[Problem], words: str) -> None:
    with pytest.raises(problem, match=words):
        grip.solve(inputs)


def test_without_a_cut_no_grip_is_named_for_it() -> None:
    found = grip.solve(GripInputs(grip=6e4, jaw_moment=MASS_MOMENT.internal(0.4), rpm=2000.0))
    assert (found.results.needed, found.results.grip_to_set) == (None, None)
    assert "is not given" in found.cautions[0].message.say()


def test_a_grip_at_rest_is_asked_for() -> None:
    with pytest.raises(Missing, match="Give the grip at rest"):
        asked(GripInputs)


def test_in_a_bore_the_grip_grows_and_is_the_answer() -> None:
    found = grip.solve(GripInputs(grip=1e4, jaw_moment=MOMENT, rpm=500.0, gripped="inside"))
    assert found.headline == "grip_left"
    assert (found.results.grip_left or 0.0) > 1e4
    assert found.results.speed_limit is None


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 0.0])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(bad: float) -> None:
    questions: list[tuple[Any, Any, str]] = [
        (deflection.solve, BarInputs(tool_bar_diameter=bad, stick_out=80.0, passive_force=500.0), "tool_bar_diameter"),
        (work_deflection.solve, WorkInputs(work_diameter=30.0, length_out=bad, passive_force=500.0), "length_out"),
        (grip.solve, GripInputs(grip=bad, jaw_moment=MOMENT), "grip"),
    ]
    for solve, inputs, name in questions:
        with pytest.raises(OutOfRange) as raised:
            solve(inputs)
        assert raised.value.faults[0].field == name


@settings(max_examples=tries(60))
@given(anything, anything, anything, anything, anything)
def test_any_floats_give_finite_numbers_or_a_sentence(a: Any, b: Any, c: Any, d: Any, e: Any) -> None:
    bar = {"tool_bar_diameter": a, "stick_out": b, "passive_force": c, "tangential_force": d, "bore_diameter": e}
    work = {"work_diameter": a, "length_out": b, "passive_force": c, "work_bore": d, "modulus": e}
    chuck = {"grip": a, "jaw_moment": b, "rpm": c, "chuck_limit": d, "needed": e}
    questions: list[Any] = [
        (deflection.solve, BarInputs, bar),
        (work_deflection.solve, WorkInputs, work),
        (grip.solve, GripInputs, chuck),
    ]
    for solve, inputs, values in questions:
        try:
            found = solve(asked(inputs, **values))
        except Problem:
            continue
        for plot in found.plots:
            assert all(math.isfinite(y) for curve in plot.curves for y in curve.ys)


def test_stepped_work_and_supports_that_yield_are_answered_and_one_cylinder_stays_what_it_was() -> None:
    plain = WorkInputs(work_diameter=30.0, length_out=300.0, passive_force=500.0, held="centres")
    rigid = work_deflection.solve(plain).results
    # check value, computed: F L^3/(48 E I) for d 30, L 300, F 500
    assert rigid.deflection == pytest.approx(0.0336836, abs=1e-7)
    springs = replace(plain, chuck_stiffness=50_000.0, centre_stiffness=20_000.0)
    assert work_deflection.solve(springs).results.deflection > rigid.deflection
    rows = (SectionRow(length=100.0, diameter=40.0), SectionRow(length=200.0, diameter=30.0))
    stepped = work_deflection.solve(replace(plain, sections=rows)).results
    assert stepped.deflection < rigid.deflection
    assert stepped.frequency is None
    one = work_deflection.solve(replace(plain, sections=(SectionRow(length=300.0, diameter=30.0),))).results
    assert (one.deflection, one.place) == pytest.approx((rigid.deflection, rigid.place))


def test_sections_that_do_not_add_up_or_have_no_wall_are_refused() -> None:
    work = WorkInputs(work_diameter=30.0, length_out=300.0, passive_force=500.0)
    with pytest.raises(Contradiction, match=r"sections are 100\.000 mm long together"):
        work_deflection.solve(replace(work, sections=(SectionRow(length=100.0, diameter=40.0),)))
    with pytest.raises(Impossible, match="leaves no wall"):
        work_deflection.solve(replace(work, sections=(SectionRow(length=300.0, diameter=40.0, bore=40.0),)))


@pytest.mark.parametrize(
    ("at_rest", "is_enough"),
    [(3000.0, False), (10_000.0, False), (22_400.0, False), (22_500.0, True), (40_000.0, True)],
)
def test_in_a_bore_the_grip_at_rest_must_hold_the_cut_with_its_reserve(at_rest: float, *, is_enough: bool) -> None:
    """By hand: 1500 N at Ø60, held at Ø60 with friction 0.15, needs 10 000 N, with 1.5 x 1.5 (VDI 3106) 22 500 N."""
    cut = grip.NeedInputs(cutting_force=1500.0, cut_diameter=60.0, grip_diameter=60.0, friction=0.15)
    asked = grip.GripInputs(grip=at_rest, jaw_moment=MASS_MOMENT.internal(0.4), rpm=500.0, gripped="inside", need=cut)
    answer = grip.solve(asked)
    said = [caution.message.say() for caution in answer.cautions if caution.about == "grip"]
    assert answer.results.needed == pytest.approx(10_000.0)
    assert answer.results.grip_to_set == pytest.approx(22_500.0)
    assert bool(said) is not is_enough
    assert all("10000 N" in one and "22500 N" in one for one in said)


BAR = BarInputs(tool_bar_diameter=20.0, stick_out=80.0, passive_force=500.0, tangential_force=800.0)


def test_a_bar_of_two_sections_is_the_sum_of_its_two_cantilevers() -> None:
    """Handbooks of mechanics, a cantilever stepped at l1: F/(3E) (l2^3/I2 + ((l1+l2)^3 - l2^3)/I1), written out."""
    stepped = replace(
        BAR, bar_sections=(SectionRow(length=50.0, diameter=25.0), SectionRow(length=30.0, diameter=16.0))
    )
    near, far = math.pi * 25.0**4 / 64, math.pi * 16.0**4 / 64
    wanted = 500.0 / (3 * 210_000.0) * (30.0**3 / far + (80.0**3 - 30.0**3) / near)
    found = deflection.solve(stepped).results
    assert found.deflection == pytest.approx(wanted, rel=1e-9)
    assert found.sinking == pytest.approx(wanted * 800.0 / 500.0, rel=1e-9)
    assert found.frequency is None


def test_a_hollow_bar_loses_the_stiffness_of_its_hole_and_rings_higher() -> None:
    """A hole of half the diameter takes 1/16 of the second moment and 1/4 of the mass."""
    plain, hollow = (deflection.solve(replace(BAR, tool_bar_bore=bore)).results for bore in (0.0, 10.0))
    assert hollow.deflection == pytest.approx(plain.deflection * 16.0 / 15.0)
    assert plain.frequency is not None
    assert hollow.frequency == pytest.approx(plain.frequency * math.sqrt(15.0 / 16.0 / 0.75))


def test_the_clamping_of_a_bar_is_a_spring_in_series() -> None:
    plain, clamped = (deflection.solve(replace(BAR, holder_stiffness=k)).results for k in (None, 20_000.0))
    assert clamped.deflection == pytest.approx(plain.deflection + 500.0 / 20_000.0)
    assert clamped.stiffness == pytest.approx(1.0 / (1.0 / plain.stiffness + 1.0 / 20_000.0))


def test_a_taper_bar_lies_between_its_ends() -> None:
    taper = replace(BAR, bar_sections=(SectionRow(length=80.0, diameter=20.0, end_diameter=14.0),))
    thick, thin = (deflection.solve(replace(BAR, tool_bar_diameter=d)).results.deflection for d in (20.0, 14.0))
    assert thick < deflection.solve(taper).results.deflection < thin


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"tool_bar_bore": 20.0}, "tool_bar_bore"),
        ({"bar_sections": (SectionRow(length=50.0, diameter=20.0),)}, "stick_out"),
        ({"bar_sections": (SectionRow(length=80.0, diameter=20.0, bore=20.0),)}, "bar_sections"),
    ],
)
def test_a_bar_that_cannot_be_is_refused_at_its_field(changes: dict[str, Any], field: str) -> None:
    with pytest.raises(Problem) as caught:
        deflection.solve(replace(BAR, **changes))
    assert caught.value.faults[0].field == field


def test_the_grip_is_held_against_pulling_out_and_tilting_too() -> None:
    """Friction holds the resultant of 3 and 4 kN; three jaws tilt about one of them, as two hold by root 3 / 2 each."""
    cut = {"cutting_force": 3000.0, "cut_diameter": 60.0, "grip_diameter": 60.0, "friction": 0.1}
    asked = grip.GripInputs(grip=1e6, jaw_moment=1.0, rpm=100.0, need=grip.NeedInputs(**cut))
    assert grip.solve(asked).results.needed == pytest.approx(30_000.0)
    pulled = replace(asked, need=grip.NeedInputs(**cut, axial_force=4000.0))
    assert grip.solve(pulled).results.needed == pytest.approx(50_000.0)
    tilted = replace(asked, need=grip.NeedInputs(**cut, length_out=90.0, grip_length=20.0))
    found = grip.solve(tilted).results.needed
    assert found is not None
    jaw = found / 3 * math.sqrt(3) / 2
    assert 2 * jaw * 20.0 / 2 + 2 * 0.1 * jaw * 60.0 / 2 == pytest.approx(3000.0 * 90.0)
    short = replace(asked, need=grip.NeedInputs(**cut, length_out=10.0, grip_length=20.0))
    assert grip.solve(short).results.needed == pytest.approx(30_000.0)
