"""How numbers look: rounding, signs and zeros. Inch without a leading zero and mm with one: ASME Y14.5-2018, 4.3."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.quantities import (
    ANGLE,
    DIAMETER,
    FORCE,
    KINDS,
    LENGTH,
    POWER,
    RATIO,
    SPINDLE_SPEED,
    SURFACE_SPEED,
    Kind,
    View,
    X,
    Z,
)
from tests.language.quantities.strategies import kinds, views

MM, INCH = View("mm"), View("inch")


@pytest.mark.parametrize(
    ("kind", "value", "view", "text"),
    [
        (LENGTH, 56.20498, MM, "56.205"),
        (LENGTH, 0.5, MM, "0.500"),
        (LENGTH, -0.0004, MM, "0.000"),
        (LENGTH, -0.0006, MM, "-0.001"),
        (LENGTH, 25.4, INCH, "1.0000"),
        (LENGTH, 12.7, INCH, ".5000"),
        (LENGTH, -12.7, INCH, "-.5000"),
        (LENGTH, 0.0, INCH, "0.0000"),
        (LENGTH, -0.0001, INCH, "0.0000"),
        (LENGTH, 254.0, INCH, "10.0000"),
        (X, 28.10249, MM, "56.205"),
        (X, 28.10249, View(x="radius"), "28.102"),
        (Z, -4.5, View(zplus="in"), "4.500"),
        (Z, 0.0, View(zplus="in"), "0.000"),
        (FORCE, 1234.5, MM, "1230"),
        (FORCE, 99.96, MM, "100"),
        (FORCE, 999.6, MM, "1000"),
        (FORCE, 0.0, MM, "0"),
        (FORCE, 0.012345, MM, "0.0123"),
        (FORCE, -99.96, MM, "-100"),
        (POWER, 11.04 * 60_000_000, MM, "11.0"),
        (SURFACE_SPEED, 220_400.0, MM, "220"),
        (SPINDLE_SPEED, 1245.9, MM, "1246"),
        (RATIO, 0.1, INCH, "0.100"),
    ],
)
def test_a_value_shows_the_digits_that_it_deserves(kind: Kind, value: float, view: View, text: str) -> None:
    assert kind.text(value, view) == text


@pytest.mark.parametrize(
    ("kind", "value", "view", "text"),
    [
        (DIAMETER, 56.205, MM, "Ø56.205 mm"),
        (X, -6.0, MM, "X-12.000 mm"),
        (ANGLE, 0.13089969389957, MM, "7.500°"),
        (SURFACE_SPEED, 220_000.0, INCH, "722 ft/min"),
        (RATIO, 0.1, MM, "0.100"),
    ],
)
def test_a_value_is_said_with_its_mark_and_unit(kind: Kind, value: float, view: View, text: str) -> None:
    assert kind.say(value, view) == text


@given(kinds, st.floats(-1e12, 1e12), views)
def test_nothing_shows_as_minus_zero(kind: Kind, value: float, view: View) -> None:
    text = kind.text(value, view)
    assert not (text.startswith("-") and float(text) == 0.0)


@given(st.floats(1e-6, 1e9))
def test_a_force_shows_three_figures_at_most(newtons: float) -> None:
    text = FORCE.text(newtons)
    assert len(text.replace(".", "").strip("0")) <= 3
    assert float(text) == pytest.approx(newtons, rel=0.00501)


@pytest.mark.parametrize("kind", KINDS, ids=str)
@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_is_no_number_shows_as_a_dash(kind: Kind, value: float) -> None:
    assert kind.text(value) == "-"


@given(st.floats(-1e4, 1e4), views)
def test_a_length_shows_to_half_its_last_decimal(value: float, view: View) -> None:
    half = 0.0005 if view.units == "mm" else 0.00005 * 25.4
    assert LENGTH.internal(float(LENGTH.text(value, view)), view) == pytest.approx(value, abs=half * 1.0001)
