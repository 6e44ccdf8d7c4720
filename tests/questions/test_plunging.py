"""Parting and grooving: Kienzle with the operation's factor, exact times, plunges, what is blank, refusals."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from calc.cutting.machine import Machine, Work
from calc.cutting.materials import materials
from calc.language.problems import Impossible, Missing, OutOfRange, Problem
from calc.language.quantities import View
from calc.questions.operations.grooving_cut import GroovingInputs
from calc.questions.operations.grooving_cut import solve as groove
from calc.questions.operations.parting import PartingInputs
from calc.questions.operations.parting import solve as part
from tests.asking import asked

anything = st.none() | st.floats(allow_nan=True, allow_infinity=True) | st.floats(0.005, 80.0)
LIMITED = Machine(max_rpm=2000.0, chuck_limit=3200.0)
BAR: dict[str, Any] = {"material": "C45", "outer_diameter": 42.0, "insert_width": 3.0, "machine": LIMITED}
GROOVE: dict[str, Any] = {
    "material": "C45",
    "start_diameter": 60.0,
    "bottom_diameter": 52.0,
    "insert_width": 3.0,
    "machine": LIMITED,
}


def _time(outer: float, inner: float, v: float, n_max: float, feed: float) -> float:
    """The time by scipy's quadrature over the diameter, at the lower of speed and limit."""
    corner = min(max(v / (math.pi * n_max), inner), outer)
    parts = [
        quad(lambda d: 1 / (2 * feed * min(v / (math.pi * d), n_max)), a, b)
        for a, b in ((inner, corner), (corner, outer))
    ]
    return float(parts[0][0] + parts[1][0])


def test_parting_force_is_kienzles_with_the_factor_of_the_operation() -> None:
    # Praxis der Zerspantechnik, from memory: 1.3 for parting and grooving
    found = part(PartingInputs(**BAR, feed=0.12)).results
    assert found.cutting_force == pytest.approx(1.3 * 2220 * 0.12**-0.14 * 3.0 * 0.12)
    assert found.feed_force == pytest.approx(0.7 * found.cutting_force)
    assert found.removal_rate == pytest.approx(126_000 * 0.12 * 3.0)


@pytest.mark.parametrize(("inner", "slow"), [(0.0, 4.0), (0.0, 0.0), (20.0, 4.0), (0.0, 12.0)])
def test_the_time_of_parting_agrees_with_quadrature(inner: float, slow: float) -> None:
    question = PartingInputs(**BAR, inner_diameter=inner, feed=0.12, slow_diameter=slow, slow_feed=0.05)
    border = max(slow, inner)
    expected = _time(42.0, border, 126_000.0, 2000.0, 0.12)
    if border > inner:
        expected += _time(border, inner, 126_000.0, 2000.0, 0.05)
    assert part(question).results.time == pytest.approx(expected, rel=1e-9)


def test_a_tube_is_not_fed_less_and_a_solid_bar_is() -> None:
    solid, tube = (part(PartingInputs(**BAR, inner_diameter=d)).results for d in (0.0, 20.0))
    assert solid.slow_diameter == 4.0
    assert solid.slow_feed == pytest.approx(solid.feed / 2)
    assert tube.slow_diameter is None
    assert tube.time < solid.time


def test_what_is_blank_is_started_from_the_material_and_says_so() -> None:
    answer = part(PartingInputs(**BAR))
    assert answer.results.feed == pytest.approx(0.12)
    assert answer.results.surface_speed == pytest.approx(126_000.0)
    said = " ".join(note.say() for note in answer.notes)
    assert "0.7 times roughing" in said
    assert "0.075 mm/rev to 0.180 mm/rev" in said


def test_a_small_bar_is_parted_at_the_speed_the_limit_leaves() -> None:
    small = part(PartingInputs(**{**BAR, "outer_diameter": 10.0})).results
    assert small.rpm == 2000.0
    assert small.power == pytest.approx(small.cutting_force * math.pi * 10 * 2000)


def test_parting_cautions_name_what_this_case_triggers() -> None:
    def about(**changes: Any) -> list[tuple[str, int]]:
        return [(c.about, c.severity) for c in part(PartingInputs(**{**BAR, **changes})).cautions]

    assert about() == [("inner_diameter", 1)]
    assert about(inner_diameter=20.0) == [("inner_diameter", 1)]  # the ring that comes free is to be caught
    assert ("max_rpm", 3) in about(machine=Machine())
    assert ("insert_width", 2) in about(insert_width=2.0)
    assert ("held", 3) in about(work=Work(held="tailstock"))
    assert ("max_rpm", 3) in about(machine=Machine(max_rpm=4000.0, chuck_limit=3200.0))
    assert ("load", 3) in about(machine=Machine(max_rpm=2000.0, motor_power=1.0 * 60e6))


@pytest.mark.parametrize(
    ("bar", "said"),
    [(73.056, "Take one of 5.000 mm or wider"), (64.0, "Take one of 4.000 mm or wider"), (150.0, "The widest usual")],
)
def test_a_blade_that_is_too_narrow_names_the_next_width_that_exists(bar: float, said: str) -> None:
    """Eight widths of 73.056 / 2 are 4.566: no insert is so wide, the next of the usual ones has 5 mm."""
    answer = part(PartingInputs(**{**BAR, "outer_diameter": bar, "insert_width": 3.0}))
    assert any(said in each.message.say() for each in answer.cautions)


def test_a_bore_must_be_smaller_than_the_bar() -> None:
    with pytest.raises(Impossible, match="must be smaller than the outer diameter"):
        part(PartingInputs(**BAR, inner_diameter=42.0))


def test_a_groove_takes_plunges_side_by_side_with_turns_at_the_bottom() -> None:
    found = groove(GroovingInputs(**GROOVE, groove_width=8.0, feed=0.1, surface_speed=120_000.0)).results
    assert found.plunges == 4.0  # (8 - 3) / (0.8 * 3) = 2.08, so three steps beside the first
    one = _time(60.0, 52.0, 120_000.0, 2000.0, 0.1)
    dwell = 4 * 2 / (120_000 / (math.pi * 52))
    assert found.dwell == pytest.approx(dwell)
    assert found.time == pytest.approx(4 * one + dwell)
    assert found.groove_depth == 4.0


def test_a_groove_in_a_bore_is_the_same_groove_turned_over() -> None:
    inside = GroovingInputs(**{**GROOVE, "start_diameter": 52.0, "bottom_diameter": 60.0}, feed=0.1, dwell_turns=0.0)
    outside = GroovingInputs(**GROOVE, feed=0.1, dwell_turns=0.0)
    assert groove(inside).results.time == pytest.approx(groove(outside).results.time)
    assert [c.about for c in groove(inside).cautions] == ["bottom_diameter", "dwell_turns"]


@pytest.mark.parametrize(
    ("changes", "field", "said"),
    [
        ({"bottom_diameter": 60.0}, "bottom_diameter", "there is no groove"),
        ({"groove_width": 2.0}, "insert_width", "does not go into a groove"),
        ({"groove_width": 2000.0}, "groove_width", "not plunged"),
    ],
)
def test_a_groove_that_cannot_be_is_refused_at_its_field(changes: Any, field: str, said: str) -> None:
    with pytest.raises(Impossible, match=said) as raised:
        groove(GroovingInputs(**{**GROOVE, **changes}))
    assert raised.value.faults[0].field == field


def test_each_missing_value_is_asked_for_at_its_field() -> None:
    with pytest.raises(Missing) as raised:
        part(asked(PartingInputs))
    assert [fault.field for fault in raised.value.faults] == ["material", "outer_diameter", "insert_width"]
    with pytest.raises(Missing) as raised:
        groove(asked(GroovingInputs))
    assert [fault.field for fault in raised.value.faults][1:3] == ["start_diameter", "bottom_diameter"]


@pytest.mark.parametrize(
    "name", ["outer_diameter", "insert_width", "feed", "surface_speed", "slow_diameter", "slow_feed"]
)
@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 1e9])
def test_a_parting_value_that_cannot_be_meant_is_refused_at_its_field(name: str, bad: float) -> None:
    with pytest.raises(OutOfRange) as raised:
        part(PartingInputs(**{**BAR, name: bad}))
    assert raised.value.faults[0].field == name


@pytest.mark.parametrize(
    "name",
    ["start_diameter", "bottom_diameter", "groove_width", "insert_width", "feed", "surface_speed", "dwell_turns"],
)
@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 1e9])
def test_a_grooving_value_that_cannot_be_meant_is_refused_at_its_field(name: str, bad: float) -> None:
    with pytest.raises(OutOfRange) as raised:
        groove(GroovingInputs(**{**GROOVE, name: bad}))
    assert raised.value.faults[0].field == name


@given(st.floats(5.0, 100.0), st.floats(1.0, 6.0), st.floats(0.02, 0.3), st.floats(1.05, 2.0))
def test_more_feed_is_faster_and_takes_more_force(d: float, width: float, feed: float, more: float) -> None:
    base, fed = (
        part(PartingInputs(material="C45", outer_diameter=d, insert_width=width, feed=f, machine=LIMITED)).results
        for f in (feed, feed * more)
    )
    assert fed.time < base.time
    assert base.cutting_force < fed.cutting_force < base.cutting_force * more


@given(st.sampled_from(materials()), anything, anything, anything, anything, anything, anything | st.just(1e5))
def test_any_values_give_a_right_answer_or_a_sentence(
    work: Any, first: Any, second: Any, width: Any, insert: Any, feed: Any, v: Any
) -> None:
    cut = {"material": work.code, "insert_width": insert, "feed": feed, "surface_speed": v}
    parted = {**cut, "outer_diameter": first, "inner_diameter": second, "slow_diameter": width}
    grooved = {**cut, "start_diameter": first, "bottom_diameter": second, "groove_width": width}
    questions = (lambda: part(asked(PartingInputs, **parted)), lambda: groove(asked(GroovingInputs, **grooved)))
    for ask in questions:
        try:
            answer = ask()
        except Problem:
            continue
        assert answer.results.time > 0.0
        assert answer.results.cutting_force <= answer.results.cutting_force_high * (1 + 1e-12)
        for message in (*answer.notes, *(caution.message for caution in answer.cautions)):
            assert "{" not in message.say(View("inch"))
