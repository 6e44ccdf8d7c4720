"""What people type, and the value that it is; the factors are exact by definition (ISO 80000-1, NIST SP 811)."""

from __future__ import annotations

import math

import pytest

from calc.language.quantities import (
    ANGLE,
    COUNT,
    DENSITY,
    DIAMETER,
    FEED,
    FORCE,
    KINDS,
    LENGTH,
    MASS,
    POWER,
    PRESSURE,
    RADIUS,
    RATIO,
    ROUGHNESS,
    SPINDLE_SPEED,
    SURFACE_SPEED,
    TIME,
    TORQUE,
    Kind,
    View,
    X,
    Z,
)
from calc.language.reading import read

MM, INCH = View("mm"), View("inch")

LENGTHS = {
    "3.25": 3.25, ".0625": 0.0625, "5.": 5.0, "5": 5.0, "05": 5.0, "+5": 5.0, "1/16": 0.0625, "17/16": 1.0625,
    "3-1/4": 3.25, "3 1/4": 3.25, "-3-1/4": -3.25, "-3 1/4": -3.25, "-1/2": -0.5, "½": 0.5, "3½": 3.5, "3⅛": 3.125,
    "1⁄16": 0.0625, "3 1 / 4": 3.25, "2,5": 2.5, ",5": 0.5, "0,500": 0.5, "12,50": 12.5, "1234,567": 1234.567,
    "1.500": 1.5, "1e9": 1e9, "2.5E-3": 0.0025, "25.4mm": 25.4, "2.54 cm": 25.4, "1 m": 1000.0, "1in": 25.4,
    "1 IN": 25.4, "1in.": 25.4, "1 inch": 25.4, '1"': 25.4, "1″": 25.4, "1''": 25.4, "1”": 25.4, '1/2"': 12.7,
    "1-1/2 in": 38.1, '1½"': 38.1, "1'": 304.8, "1'6\"": 457.2, "1' 6 1/2\"": 469.9, "1 ft 6 in": 457.2,
    "1'6.5\"": 469.9, "5 thou": 0.127, "50 µm": 0.05, "50 μm": 0.05, "50um": 0.05, "R75": 75.0, "r 0.8": 0.8,
    "−5": -5.0, "–5": -5.0, "- 5": -5.0, "３．２５": 3.25, "３－１／４": 3.25, "٣": 3.0, "\u00a05\u2009mm\u00a0": 5.0,
    "5\u202fmm": 5.0, "5\t": 5.0, "\ufeff5\u200b": 5.0,
}  # fmt: skip


@pytest.mark.parametrize(("text", "value"), LENGTHS.items())
def test_a_length_is_read_as_it_is_written_in_a_shop(text: str, value: float) -> None:
    assert read(text, LENGTH, MM) == value


@pytest.mark.parametrize(
    ("text", "kind", "view", "value"),
    [
        ("1", LENGTH, INCH, 25.4),
        ("25.4mm", LENGTH, INCH, 25.4),
        ("90", RADIUS, MM, 90.0),
        ("R75", RADIUS, MM, 75.0),
        ("Ø60", DIAMETER, MM, 60.0),
        ("⌀60", DIAMETER, MM, 60.0),
        ("ø 60 mm", DIAMETER, INCH, 60.0),
        ("D60", DIAMETER, MM, 60.0),
        ("dia 2 1/4", DIAMETER, INCH, 57.15),
        ("7°30'", ANGLE, MM, math.radians(7.5)),
        ("7°30'15\"", ANGLE, MM, math.radians(7.5 + 15 / 3600)),
        ("7º 30′ 15″", ANGLE, MM, math.radians(7.5 + 15 / 3600)),
        ("-7°30'", ANGLE, MM, math.radians(-7.5)),
        ("7d30m", ANGLE, MM, math.radians(7.5)),
        ("7 deg 30 min", ANGLE, MM, math.radians(7.5)),
        ("7.5°", ANGLE, INCH, math.radians(7.5)),
        ("7.5 deg", ANGLE, MM, math.radians(7.5)),
        ("7.5", ANGLE, MM, math.radians(7.5)),
        ("7 1/2", ANGLE, MM, math.radians(7.5)),
        ("30'", ANGLE, MM, math.radians(0.5)),
        ("90", ANGLE, MM, math.pi / 2),
        ("0.13 rad", ANGLE, MM, 0.13),
        ("1:10", RATIO, MM, 0.1),
        ("1 : 10", RATIO, INCH, 0.1),
        ("1:19.212", RATIO, MM, 1 / 19.212),  # Morse taper 0, ISO 296
        ("10 %", RATIO, MM, 0.1),
        ("1/10", RATIO, MM, 0.1),
        ("0.6 in/ft", RATIO, MM, 0.05),
        ("220 m/min", SURFACE_SPEED, INCH, 220_000.0),
        ("700 ft/min", SURFACE_SPEED, MM, 213_360.0),
        ("700 sfm", SURFACE_SPEED, MM, 213_360.0),
        ("700", SURFACE_SPEED, INCH, 213_360.0),
        ("2500 rpm", SPINDLE_SPEED, MM, 2500.0),
        ("2500 1/min", SPINDLE_SPEED, MM, 2500.0),
        ("2500/min", SPINDLE_SPEED, MM, 2500.0),
        ("2500 min⁻¹", SPINDLE_SPEED, MM, 2500.0),
        ("2500 min^-1", SPINDLE_SPEED, MM, 2500.0),
        ("50 1/s", SPINDLE_SPEED, MM, 3000.0),
        ("0.2 mm/rev", FEED, INCH, 0.2),
        ("0.2 mm", FEED, INCH, 0.2),
        (".008 ipr", FEED, MM, 0.2032),
        (".008", FEED, INCH, 0.2032),
        ("1.6 µm", ROUGHNESS, INCH, 0.0016),
        ("Ra 1.6", ROUGHNESS, MM, 0.0016),
        ("Ra1,6", ROUGHNESS, MM, 0.0016),
        ("63 µin", ROUGHNESS, MM, 0.0016002),
        ("32 uin", ROUGHNESS, MM, 0.0008128),
        ("11 kW", POWER, INCH, 660_000_000.0),
        ("11", POWER, MM, 660_000_000.0),
        ("7.85 g/cm3", DENSITY, INCH, 7.85e-6),
        ("7.85 kg/dm³", DENSITY, INCH, 7.85e-6),
        ("7850 kg/m3", DENSITY, MM, 7.85e-6),
        ("1 lb", MASS, MM, 0.45359237),
        ("90 s", TIME, MM, 1.5),
        ("1 min 30 s", TIME, MM, 1.5),
        ("1h30min", TIME, MM, 90.0),
        ("1.5", TIME, MM, 1.5),
        ("1.5 min", TIME, MM, 1.5),
        ("100 N", FORCE, INCH, 100.0),
        ("1 kN", FORCE, MM, 1000.0),
        ("100 lbf", FORCE, MM, 444.82216152605),
        ("1 lb", FORCE, MM, 4.4482216152605),
        ("30 N·m", TORQUE, INCH, 30_000.0),
        ("30 Nm", TORQUE, MM, 30_000.0),
        ("2100 N/mm²", PRESSURE, INCH, 2100.0),
        ("2100 MPa", PRESSURE, MM, 2100.0),
        ("4", COUNT, INCH, 4.0),
        ("4.0", COUNT, MM, 4.0),
    ],
)
def test_a_typed_unit_wins_over_the_unit_of_the_page(text: str, kind: Kind, view: View, value: float) -> None:
    assert read(text, kind, view) == value


def test_fifteen_horsepower_are_495_000_foot_pounds_a_minute() -> None:
    assert read("15 hp", POWER, MM) == pytest.approx(15 * 33_000 * 304.8 * 4.4482216152605, rel=1e-15)
    assert read("30 ft-lb", TORQUE, MM) == read("30 lbf ft", TORQUE, MM) == pytest.approx(30 * 304.8 * 4.4482216152605)


@pytest.mark.parametrize(
    ("text", "x", "value"),
    [
        ("60", "diameter", 30.0),
        ("60", "radius", 60.0),
        ("Ø60", "diameter", 30.0),
        ("Ø60", "radius", 30.0),
        ("R30", "diameter", 30.0),
        ("R30", "radius", 30.0),
        ("X60", "diameter", 30.0),
        ("X-12", "diameter", -6.0),
        ("Ø-12", "radius", -6.0),
        ("-Ø12", "radius", -6.0),
        ("1in", "diameter", 12.7),
    ],
)
def test_x_is_held_as_a_radius_and_a_typed_mark_wins(text: str, x: str, value: float) -> None:
    view = View(x="diameter") if x == "diameter" else View(x="radius")
    assert read(text, X, view) == value


def test_z_is_held_positive_away_from_the_chuck() -> None:
    assert read("4.5", Z, View(zplus="in")) == -4.5
    assert read("Z-4.5", Z, View(zplus="in")) == 4.5
    assert read("-4.5", Z, View(zplus="out")) == -4.5


@pytest.mark.parametrize("text", ["0", "-0", "+0", "-0.0", "-0/4"])
@pytest.mark.parametrize("view", [View(), View(zplus="in")])
def test_zero_has_no_sign(text: str, view: View) -> None:
    value = read(text, Z, view)
    assert value is not None
    assert math.copysign(1.0, value) == 1.0


@pytest.mark.parametrize(
    ("text", "view", "middle", "nominal", "half_span"),
    [
        ("60 +0.1/0", MM, 60.05, 60.0, 0.05),
        ("60+0.1/0", MM, 60.05, 60.0, 0.05),
        ("60 +0.1 / 0", MM, 60.05, 60.0, 0.05),
        ("60 +0.1 -0.05", MM, 60.025, 60.0, 0.075),
        ("60 +0.1/-0.05", MM, 60.025, 60.0, 0.075),
        ("60 -0.05/+0.1", MM, 60.025, 60.0, 0.075),
        ("60 ±0.05", MM, 60.0, 60.0, 0.05),
        ("60 +/-0.05", MM, 60.0, 60.0, 0.05),
        ("60 +/- 0,05", MM, 60.0, 60.0, 0.05),
        ("60 0/-0.02", MM, 59.99, 60.0, 0.01),
        ("60 0 -0.02", MM, 59.99, 60.0, 0.01),
        ("24 -0.007/-0.020", MM, 23.9865, 24.0, 0.0065),  # 24 g6, ISO 286-2
        ("60 +0.1/0 mm", INCH, 60.05, 60.0, 0.05),
        ("60mm +0.1/0", INCH, 60.05, 60.0, 0.05),
        ("60mm ±50µm", INCH, 60.0, 60.0, 0.05),
        ("60mm +100µm/0µm", INCH, 60.05, 60.0, 0.05),
        ("60mm +100/0 µm", INCH, 60.05, 60.0, 0.05),
        ("30 +.002/-.000", INCH, 762.0254, 762.0, 0.0254),
        ("2-1/4 ±1/64", INCH, 57.15, 57.15, 25.4 / 64),
        ("2 +1/64 -0", INCH, 50.9984375, 50.8, 25.4 / 128),
        ("Ø60 +0.1/0", MM, 60.05, 60.0, 0.05),
    ],
)
def test_limits_aim_at_their_middle_and_keep_the_nominal(
    text: str, view: View, middle: float, nominal: float, half_span: float
) -> None:
    value = read(text, DIAMETER, view)
    assert value is not None
    assert (value, value.nominal) == (middle, nominal)
    least = 0.0005 if view == MM or "mm" in text else 0.00005 * 25.4
    assert value.slack == pytest.approx(half_span + least)


def test_limits_of_an_x_are_on_the_diameter_and_those_of_a_z_turn_with_it() -> None:
    x = read("60 +0.1/0", X, View(x="diameter"))
    z = read("4.5 +0.1/0", Z, View(zplus="in"))
    assert x is not None
    assert z is not None
    assert (x, x.nominal) == (30.025, 30.0)
    assert (z, z.nominal) == (-4.55, -4.5)
    assert z.slack == pytest.approx(0.1)


@pytest.mark.parametrize(
    ("text", "kind", "view", "slack"),
    [
        ("56.2", DIAMETER, MM, 0.05),
        ("56.20", DIAMETER, MM, 0.005),
        ("56,2", DIAMETER, MM, 0.05),
        ("56.20498", DIAMETER, MM, 0.0005),
        ("56", DIAMETER, MM, 0.0005),
        ("56.", DIAMETER, MM, 0.0005),
        ("1e9", DIAMETER, MM, 0.0005),
        ("56.2", X, View(x="diameter"), 0.025),
        ("4.5", Z, View(zplus="in"), 0.05),
        ("2.99", DIAMETER, INCH, 0.005 * 25.4),
        ("2.9933", DIAMETER, INCH, 0.00005 * 25.4),
        ("2.99331", DIAMETER, INCH, 0.00005 * 25.4),
        ("2-63/64", DIAMETER, INCH, 0.00005 * 25.4),
        ("2.99in", DIAMETER, MM, 0.005 * 25.4),
        ("56.2mm", DIAMETER, INCH, 0.05),
        ("7.5", ANGLE, MM, math.radians(0.05)),
        ("7°30'0.5\"", ANGLE, MM, math.radians(0.0005)),
        ("7°30.5'", ANGLE, MM, math.radians(0.05 / 60)),
        ("1:10", RATIO, MM, 5e-6),
    ],
)
def test_a_value_remembers_half_of_its_last_decimal_and_never_less_than_the_least(
    text: str, kind: Kind, view: View, slack: float
) -> None:
    value = read(text, kind, view)
    assert value is not None
    assert value.slack == pytest.approx(slack, rel=1e-12)


@pytest.mark.parametrize("kind", KINDS, ids=str)
@pytest.mark.parametrize("text", ["", " ", "\t\n", "\u00a0\u2009", "\u200b", " " * 10_000])
def test_a_blank_field_gives_nothing(text: str, kind: Kind) -> None:
    assert read(text, kind, MM) is None
