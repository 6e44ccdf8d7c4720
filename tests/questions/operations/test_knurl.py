"""Knurls, held to DIN 82 and to teeth that close."""

from __future__ import annotations

from math import cos, isclose, pi, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.fields import build
from calc.language.problems import Impossible, Missing, OutOfRange
from calc.questions.operations.knurl import KnurlInputs, Made, solve
from calc.shapes.knurls import forms


@pytest.mark.parametrize(
    ("form", "before"),
    [
        ("straight", 41.5),
        ("diagonal-left", 41.5),
        ("diagonal-right", 41.5),
        ("diamond", 41.33),
        ("crossed", 41.33),
    ],
)
def test_the_blank_by_the_standard(form: str, before: float) -> None:
    """DIN 82:1973, from memory: d1 - 0.5 t for RAA, RBL, RBR; d1 - 0.67 t for RGE, RKE."""
    found = solve(KnurlInputs(diameter=42.0, pitch=1.0, form=form)).results
    assert found.diameter_before_standard == pytest.approx(before, abs=1e-9)


@given(
    diameter=st.floats(8.0, 120.0),
    pitch=st.sampled_from([0.5, 0.6, 0.8, 1.0, 1.2, 1.6]),
    form=st.sampled_from(sorted(forms())),
    made=st.sampled_from(["formed", "cut"]),
)
def test_the_teeth_close_round_the_blank_nearest_to_the_standards(
    diameter: float, pitch: float, form: str, made: Made
) -> None:
    found = solve(KnurlInputs(diameter=diameter, pitch=pitch, form=form, made=made)).results
    around = pitch / cos(radians(forms()[form].angle))
    assert found.teeth == int(found.teeth)
    assert isclose(pi * found.diameter_before, found.teeth * around, rel_tol=1e-12)
    assert abs(found.diameter_before - found.diameter_before_standard) <= around / (2 * pi) + 1e-9
    assert found.smaller_blank < found.diameter_before < found.larger_blank
    assert abs(found.diameter_after - diameter) <= around / (2 * pi) + 1e-9


def test_a_roll_in_a_published_tracking_example() -> None:
    """Forming rolls: a roll of .750 in with 47 teeth tracks 31 teeth on .499 in (bump-knurling guide, printed value).

    The roll's pitch is its circumference at working depth by its teeth: pi x .757 / 47 in.
    """
    pitch = pi * 0.757 / 47 * 25.4
    found = solve(KnurlInputs(diameter=0.499 * 25.4, pitch=pitch, form="straight", made="cut")).results
    assert found.teeth == 31
    assert found.diameter_before / 25.4 == pytest.approx(0.4993, abs=5e-5)


def test_a_cut_knurl_does_not_grow() -> None:
    found = solve(KnurlInputs(diameter=42.0, pitch=1.0, form="diamond", made="cut")).results
    assert found.diameter_after == found.diameter_before


def test_a_roll_that_nobody_sells_is_pointed_out() -> None:
    said = [caution.message.say() for caution in solve(KnurlInputs(diameter=42.0, pitch=0.9)).cautions]
    assert any("0.900 mm is not a standard roll: the nearest is 0.800 mm" in each for each in said)


@pytest.mark.parametrize(
    ("values", "problem"),
    [
        ({"pitch": 1.0}, Missing),
        ({"diameter": 42.0}, Missing),
        ({"diameter": -1.0, "pitch": 1.0}, OutOfRange),
        ({"diameter": float("nan"), "pitch": 1.0}, OutOfRange),
        ({"diameter": 42.0, "pitch": 50.0}, OutOfRange),
        ({"diameter": 2.0, "pitch": 1.6}, Impossible),
        ({"diameter": 0.5, "pitch": 2.0}, Impossible),
    ],
)
def test_what_cannot_be_is_refused(values: dict[str, float], problem: type[Exception]) -> None:
    with pytest.raises(problem):
        solve(build(KnurlInputs, values))
