"""The finish from its declared inputs."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.language.quantities import View
from calc.questions.cutting.finish import FEATURE, FinishInputs, solve
from tests.asking import asked

anything = st.none() | st.floats(allow_nan=True, allow_infinity=True) | st.floats(0.005, 50.0)


def test_a_feed_of_0_2_with_a_nose_of_0_8_has_its_known_finish() -> None:
    found = solve(FinishInputs(feed=0.2, nose_radius=0.8)).results
    heights = [1000 * h for h in (found.peak_height, found.peak_height_rule, found.ra, found.ra_rule)]
    assert heights == pytest.approx([6.2746, 6.25, 1.6088, 1.6038], abs=5e-5)
    assert found.grade == "N8"


def test_in_the_dish_the_finish_is_finer_and_nothing_below_ra_0_8_is_promised() -> None:
    found = solve(FinishInputs(feed=0.2, nose_radius=6.0, surface="concave", surface_radius=75.0))
    assert found.results.peak_height_rule == pytest.approx(0.2**2 / 8 * (1 / 6 - 1 / 75))
    assert [caution.about for caution in found.cautions] == ["ra"]
    assert "Ra 0.20 µm" in found.cautions[0].message.say()
    assert "µin" in found.cautions[0].message.say(View("inch"))


def test_a_finish_worse_than_n12_has_no_grade() -> None:
    assert solve(FinishInputs(feed=0.8, nose_radius=0.4)).results.grade is None


def test_what_is_missing_is_asked_for_at_its_field() -> None:
    with pytest.raises(Missing) as raised:
        solve(asked(FinishInputs))
    assert [(f.field, f.message.say()) for f in raised.value.faults] == [
        ("feed", "Give the feed."),
        ("nose_radius", "Give the nose radius."),
    ]
    with pytest.raises(Missing) as raised:
        solve(asked(FinishInputs, feed=0.2, nose_radius=0.8, surface="convex"))
    assert raised.value.faults[0].field == "surface_radius"


def test_values_that_do_not_go_together_say_so() -> None:
    with pytest.raises(Contradiction, match="no radius"):
        solve(FinishInputs(feed=0.2, nose_radius=0.8, surface_radius=75.0))
    with pytest.raises(Impossible, match="does not fit"):
        solve(FinishInputs(feed=0.2, nose_radius=80.0, surface="concave", surface_radius=75.0))
    with pytest.raises(Impossible, match="no longer meet"):
        solve(FinishInputs(feed=0.9, nose_radius=0.4))


@pytest.mark.parametrize("name", ["feed", "nose_radius", "surface_radius"])
@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 0.0, 1e9])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(name: str, bad: float) -> None:
    values: dict[str, Any] = {"feed": 0.2, "nose_radius": 0.8, "surface": "convex", "surface_radius": 75.0}
    with pytest.raises(OutOfRange) as raised:
        solve(FinishInputs(**{**values, name: bad}))
    assert raised.value.faults[0].field == name


@given(anything, anything, st.sampled_from(["flat", "concave", "convex"]), anything)
def test_any_floats_give_a_right_answer_or_a_sentence(feed: Any, nose: Any, surface: str, radius: Any) -> None:
    try:
        found = solve(asked(FinishInputs, feed=feed, nose_radius=nose, surface=surface, surface_radius=radius)).results
    except Problem:
        return
    assert 0.0 < found.ra < found.peak_height <= nose * (1 + 1e-9)
    assert found.peak_height <= feed


def test_the_working_of_a_dish_shows_where_the_peak_comes_from() -> None:
    _, steps = FEATURE.answer(FinishInputs(feed=0.2, nose_radius=6.0, surface="concave", surface_radius=75.0))
    assert [step.symbols[0] for step in steps] == ["beta", "w", "h", "h_rule", "Ra", "Ra_rule"]
