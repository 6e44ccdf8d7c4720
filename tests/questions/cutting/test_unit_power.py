"""Power by the handbook's unit power: its worked example, its factors, the comparison, limits."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.materials import materials
from calc.cutting.unit_power import feed_factor, wear_factor
from calc.language.factor import HORSEPOWER
from calc.language.problems import Missing, OutOfRange, Problem
from calc.language.quantities import POWER, REMOVAL_RATE, View
from calc.questions.cutting.unit_power import FEATURE, UnitPowerInputs, solve
from tests.asking import asked

INCH = View("inch")
EXAMPLE: dict[str, Any] = {
    "material": "AISI 4130",
    "hardness": 190.0,
    "depth": 2.54,
    "feed": 0.016 * 25.4,
    "surface_speed": 350 * 304.8,
}
anything = st.none() | st.floats(allow_nan=True, allow_infinity=True) | st.floats(0.005, 50.0)


def test_the_worked_example_of_machinerys_handbook() -> None:
    # Machinery's Handbook 31, machining power: 4130 at 180 to 200 HB, 350 ft/min, .016, .100, W 1.30, E .80
    found = solve(UnitPowerInputs(**EXAMPLE, edge_state="normal")).results
    assert REMOVAL_RATE.shown(found.removal_rate, INCH) == pytest.approx(6.72)
    assert POWER.shown(found.power, INCH) == pytest.approx(5.09134, abs=5e-6)
    assert POWER.shown(found.motor_power_needed, INCH) == pytest.approx(6.36418, abs=5e-6)


@pytest.mark.parametrize(
    ("feed", "printed", "within"),
    [
        (0.001, 1.60, 1e-9),
        (0.005, 1.19, 1e-9),
        (0.010, 1.035, 0.006),  # printed 1.03 or 1.04
        (0.012, 1.00, 1e-9),
        (0.016, 0.94, 1e-9),
        (0.020, 0.90, 1e-9),
        (0.030, 0.83, 1e-9),
    ],
)
def test_feed_factors_are_those_of_machinerys_handbook_table_2(feed: float, printed: float, within: float) -> None:
    assert feed_factor(feed * 25.4) == pytest.approx(printed, abs=within)


@given(st.floats(0.001, 3.0), st.floats(1.0, 2.0))
def test_the_feed_factor_never_rises_with_the_feed(feed: float, more: float) -> None:
    assert feed_factor(feed * more) <= feed_factor(feed)
    assert 0.72 <= feed_factor(feed) <= 1.6


def test_wear_takes_more_power() -> None:
    powers = [
        solve(UnitPowerInputs(**EXAMPLE, edge_state=wear)).results.power
        for wear in ("sharp", "finish", "normal", "heavy")
    ]
    assert powers == sorted(powers)
    assert powers[2] == pytest.approx(1.3 * powers[0])
    with pytest.raises(KeyError):
        wear_factor("rusty")


def test_inch_and_metric_questions_get_one_answer() -> None:
    metric = solve(UnitPowerInputs(**EXAMPLE)).results
    assert metric.power * 1.0 == pytest.approx(HORSEPOWER.times(5.09134), rel=1e-6)
    assert POWER.shown(metric.power) == pytest.approx(5.09134 * 0.74569987, rel=1e-6)


def test_the_difference_to_the_cutting_force_is_told() -> None:
    answer = solve(UnitPowerInputs(**EXAMPLE, edge_state="sharp"))
    assert answer.results.force_difference == pytest.approx(answer.results.power / answer.results.power_by_force - 1)
    assert "less than the" in answer.notes[1].say()
    assert "hp" in answer.notes[1].say(INCH)


def test_another_condition_than_the_materials_is_told() -> None:
    odd = solve(UnitPowerInputs(**{**EXAMPLE, "hardness": 330.0}))
    assert [caution.about for caution in odd.cautions] == ["hardness"]
    said = odd.cautions[0].message
    assert "160 to 200 HB" in said.say()
    assert "steel, annealed" in said.say()
    assert "annealed" not in said.say(View(language="de"))
    assert solve(UnitPowerInputs(**EXAMPLE)).cautions == ()


def test_without_a_unit_power_the_reader_is_sent_to_the_force() -> None:
    with pytest.raises(Missing, match="calculate it from the cutting force"):
        solve(UnitPowerInputs(**{**EXAMPLE, "material": "100Cr6 60 HRC"}))


def test_each_missing_value_is_asked_for_at_its_field() -> None:
    with pytest.raises(Missing) as raised:
        solve(asked(UnitPowerInputs))
    assert [fault.field for fault in raised.value.faults] == ["material", "depth", "feed", "surface_speed"]


@pytest.mark.parametrize("name", ["depth", "feed", "surface_speed", "hardness"])
@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 0.0, 1e9])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(name: str, bad: float) -> None:
    with pytest.raises(OutOfRange) as raised:
        solve(UnitPowerInputs(**{**EXAMPLE, name: bad}))
    assert raised.value.faults[0].field == name


@given(st.sampled_from(materials()), anything, anything, anything, anything | st.just(2e5))
def test_any_values_give_a_right_answer_or_a_sentence(work: Any, hb: Any, depth: Any, feed: Any, v: Any) -> None:
    try:
        answer = solve(asked(UnitPowerInputs, material=work.code, hardness=hb, depth=depth, feed=feed, surface_speed=v))
    except Problem:
        return
    found = answer.results
    assert found.power == pytest.approx(found.unit_power * found.feed_factor * found.wear_factor * v * feed * depth)
    assert found.unit_power_low <= found.unit_power <= found.unit_power_high
    for message in (*answer.notes, *(caution.message for caution in answer.cautions)):
        assert "{" not in message.say(INCH)


def test_the_working_shows_the_volume_and_both_powers() -> None:
    _, steps = FEATURE.answer(UnitPowerInputs(**EXAMPLE))
    assert [step.symbols[0] for step in steps] == ["Q", "P_u", "b", "h", "k_c", "F_c", "P", "P_m", "d"]
