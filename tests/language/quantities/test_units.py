"""Every unit against pint, an independent units library (it takes its factors from BIPM and NIST SP 811)."""

from __future__ import annotations

import math
from fractions import Fraction
from functools import cache
from typing import Any

import pint
import pytest

from calc.language.factor import HORSEPOWER, Factor
from calc.language.kinds import COST_RATE, EXPANSION, STIFFNESS, TEMPERATURE
from calc.language.quantities import KINDS, RATIO, Kind, View, X, Z
from calc.language.reading import read
from calc.language.reading.units import UNITS, TypedUnit, accepted, unit_named
from calc.language.unit import Unit
from calc.threads.synchrony import FEED_RATE

OF_FIELDS = (COST_RATE, EXPANSION, FEED_RATE, STIFFNESS, TEMPERATURE)
# What the internal units are, by dimension, in pint's words.
INTERNAL = {
    "length": "mm", "feed": "mm", "roughness": "mm", "time": "min", "angle": "rad", "area": "mm**2",
    "volume": "mm**3", "mass": "kg", "density": "kg/mm**3", "surface speed": "mm/min", "spindle speed": "1/min",
    "force": "N", "torque": "N*mm", "power": "N*mm/min", "pressure": "N/mm**2", "removal rate": "mm**3/min",
    "ratio": "dimensionless", "mass moment": "N*min**2", "temperature": "delta_degC", "expansion": "1/kelvin",
    "stiffness": "N/mm", "cost rate": "1/min",
}  # fmt: skip

# What each usual spelling means, in pint's words, by dimension.
MEANING = {
    "length": {
        "mm": "mm", "cm": "cm", "m": "m", "um": "micrometer", "in": "inch", "ft": "foot", "thou": "thou",
        "uin": "microinch",
    },
    "feed": {"mm/rev": "mm", "um/rev": "micrometer", "in/rev": "inch", "thou/rev": "thou"},
    "time": {"h": "hour", "min": "minute", "s": "second"},
    "angle": {"°": "degree", "'": "arcminute", '"': "arcsecond", "rad": "radian"},
    "area": {"mm2": "mm**2", "cm2": "cm**2", "in2": "inch**2"},
    "volume": {"mm3": "mm**3", "cm3": "cm**3", "dm3": "liter", "in3": "inch**3"},
    "mass": {"kg": "kg", "g": "gram", "t": "metric_ton", "lb": "pound", "oz": "ounce"},
    "density": {"g/cm3": "g/cm**3", "kg/m3": "kg/m**3", "lb/in3": "pound/inch**3", "lb/ft3": "pound/foot**3"},
    "surface speed": {
        "m/min": "m/minute", "m/s": "m/s", "mm/min": "mm/minute", "in/min": "inch/minute",
        "ft/min": "foot/minute", "ft/s": "foot/s",
    },
    "spindle speed": {"1/min": "1/minute", "1/s": "1/s"},
    "force": {
        "n": "N",
        "dan": "decanewton",
        "kn": "kN",
        "kgf": "kilogram_force",
        "lbf": "pound_force",
        "klbf": "kip",
    },
    "torque": {"nm": "N*m", "nmm": "N*mm", "lbfft": "pound_force*foot", "lbfin": "pound_force*inch"},
    "mass moment": {"kgm": "kg*m", "kgmm": "kg*mm", "lbft": "pound*foot", "lbin": "pound*inch"},
    "power": {"kw": "kW", "w": "W", "ps": "metric_horsepower", "hp": "horsepower"},
    "pressure": {
        "n/mm2": "N/mm**2", "gpa": "GPa", "bar": "bar", "lbf/in2": "psi", "ksi": "ksi",
    },
    "removal rate": {"cm3/min": "cm**3/minute", "mm3/min": "mm**3/minute", "in3/min": "inch**3/minute"},
    "ratio": {"%": "percent", "‰": "mm/m", "mm/mm": "mm/mm", "in/in": "inch/inch", "in/ft": "inch/foot"},
    "temperature": {"°c": "delta_degC", "°f": "delta_degF"},
    "expansion": {"um/m/k": "micrometer/meter/kelvin"},
    "stiffness": {"n/um": "N/micrometer", "n/mm": "N/mm", "lbf/thou": "pound_force/thou", "lbf/in": "pound_force/inch"},
    "cost rate": {"/h": "1/hour"},
}  # fmt: skip


@cache
def registry() -> Any:
    """Pint's units, made when a test first asks: all processes read this module, one runs it."""
    return pint.UnitRegistry(cache_folder=None, non_int_type=Fraction)


def size_by_pint(dimension: str, unit: str) -> Fraction:
    return Fraction(registry().Quantity(Fraction(1), unit).to(INTERNAL[dimension]).magnitude)


def assert_same_size(size: Factor, dimension: str, unit: str) -> None:
    """Exactly the same; pint keeps pi as a decimal number, so units with pi agree as far as floats go."""
    by_pint = size_by_pint(dimension, unit)
    if size.pi_power:
        assert float(size) == pytest.approx(float(by_pint), rel=4e-16)
    else:
        assert size.ratio == by_pint


@pytest.mark.parametrize(
    ("dimension", "unit"), [(dimension, unit) for dimension, group in UNITS.items() for unit in set(group.values())]
)
def test_a_typed_unit_is_as_large_as_pint_says(dimension: str, unit: TypedUnit) -> None:
    assert_same_size(unit.size, dimension, MEANING[dimension][unit.name])


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind.dimension in INTERNAL and kind is not RATIO], ids=str)
@pytest.mark.parametrize("units", ["metric", "inch"])
def test_a_shown_unit_is_as_large_as_pint_says(kind: Kind, units: str) -> None:
    unit: Unit = getattr(kind, units)
    typed = unit_named(unit.code, kind)
    assert typed is not None
    group = next(group for group in accepted(kind) if typed in UNITS[group].values())
    assert_same_size(unit.size, group, MEANING[group][typed.name])


def test_a_temperature_is_read_from_either_zero() -> None:
    """Definition: 32 °F is 0 °C, 212 °F is 100 °C, -40 is the same on both."""
    typed = ("20", "20 °C", "20°", "68 °F", "32F", "212 degF", "-40 °F", "-40°C")
    assert [read(text, TEMPERATURE, View("inch")) for text in typed] == pytest.approx(
        [20, 20, 20, 20, 0, 100, -40, -40]
    )
    assert read("68 ±2 °F", TEMPERATURE, View()) == pytest.approx(20)  # the unit behind the limits is the value's too


@pytest.mark.parametrize("kind", [kind for kind in (*KINDS, *OF_FIELDS) if kind.metric.label], ids=str)
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_a_field_reads_the_unit_that_it_shows(kind: Kind, units: str) -> None:
    unit = kind.metric if units == "mm" else kind.inch
    for other in (View("mm"), View("inch")):
        for written in (unit.label, unit.code):
            value = read(f"3 {written}", kind, other)
            assert value is not None
            assert value * (2 if kind is X else 1) == pytest.approx(3 * float(unit.size), rel=4e-15)


def test_a_horsepower_is_550_foot_pounds_a_second() -> None:
    watts = float(HORSEPOWER) / 60_000
    assert watts == pytest.approx(745.6999, abs=5e-5)  # NIST SP 811, appendix B.8: 7.456 999 E+02 W (from memory)


def test_x_halves_a_diameter_and_z_turns_with_the_page() -> None:
    assert X.internal(60.0, View(x="diameter")) == 30.0
    assert X.internal(60.0, View(x="radius")) == 60.0
    assert Z.internal(-4.5, View(zplus="in")) == 4.5
    assert X.internal(1.0, View("inch", "diameter")) == 12.7


@pytest.mark.parametrize("kind", KINDS, ids=str)
@pytest.mark.parametrize("units", ["mm", "inch"])
@pytest.mark.parametrize("number", [1.0, 0.1, 3.25, 220.0, 1 / 3])
def test_a_shown_number_comes_back_as_it_was(kind: Kind, units: str, number: float) -> None:
    view = View("mm") if units == "mm" else View("inch")
    assert kind.shown(kind.internal(number, view), view) == pytest.approx(number, rel=4e-16 * 2)
    assert math.isfinite(kind.internal(number, view))
