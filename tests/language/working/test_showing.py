"""What stands on the page for formulas of the trade, in the units of the reader."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from calc.cutting.speed import spindle_speed
from calc.language.quantities import View
from calc.language.working import Formula, recording
from tests.language.working.written import formula_text, module

MM, INCH = View(), View("inch")
INWARD = View(x="radius", zplus="in")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("formulas")


def made(folder: Path, body: str, parameters: str, result: str, symbol: str = "y") -> Formula[...]:
    written: Formula[...] = module(folder, formula_text(body, parameters, result, symbol)).f
    return written


def line(formula: Formula[...], view: View, *arguments: float) -> str:
    with recording() as steps:
        formula(*arguments)
    return str(steps[0].plain(view)).replace("\u202f", " ")


def in_symbols(formula: Formula[...], view: View) -> str:
    return formula.layout(view).plain.formula.replace("\u202f", " ").split(" = ", 1)[1]


# The constants are those of the usual shop formulas (common practice: n = 12 V/(pi D), n = 1000 v/(pi D),
# hp = F V/33 000, kW = F v/60 000); they come out of exact units, no text holds them.
TRADE = [
    ("v / (pi * D)", "v: SurfaceSpeed, D: Diameter", "SpindleSpeed", "1000 v / (π D)", "12 v / (π D)"),
    ("pi * D * n", "D: Diameter, n: SpindleSpeed", "SurfaceSpeed", "π D n / 1000", "π D n / 12"),
    ("v * F", "v: SurfaceSpeed, F: Force", "Power", "v F / 60 000", "v F / 33 000"),
    ("2 * pi * n * M", "n: SpindleSpeed, M: Torque", "Power", "2 π n M / 60 000", "2 π n M / 33 000"),
    ("v * f * a", "v: SurfaceSpeed, f: Feed, a: Length", "RemovalRate", "v f a", "12 v f a"),
    ("f**2 / (8 * r)", "f: Feed, r: Radius", "Roughness", "1000 f² / (8 r)", "1 000 000 f² / (8 r)"),
    ("sqrt(8 * r * h)", "r: Radius, h: Roughness", "Feed", "√(8 r h / 1000)", "√(8 r h) / 1000"),
    ("F * D / 2", "F: Force, D: Diameter", "Torque", "F D / (1000 × 2)", "F D / (12 × 2)"),
    ("rho * V", "rho: Density, V: Volume", "Mass", "ρ V / 1 000 000", "ρ V"),
    ("q * A", "q: Pressure, A: Area", "Force", "q A", "q A"),
    ("25.4 * R / D", "R: Radius, D: Diameter", "Ratio", "25.4 R / D", "25.4 R / D"),
]


@pytest.mark.parametrize(("body", "parameters", "result", "metric", "inch"), TRADE)
def test_the_constants_of_the_trade_appear_by_themselves(
    folder: Path, body: str, parameters: str, result: str, metric: str, inch: str
) -> None:
    formula = made(folder, body, parameters, result)
    assert in_symbols(formula, MM) == metric
    assert in_symbols(formula, INCH) == inch


SHAPES = [
    ("an angle outside a function brings pi/180", "R * alpha", "R: Radius, alpha: Angle", "Length", "π R α / 180"),
    ("pi of the unit cancels pi of the formula", "alpha / (2 * pi)", "alpha: Angle", "Ratio", "α / 360"),
    ("pi of a full turn becomes degrees", "pi / 2 - alpha", "alpha: Angle", "Angle", "90 - α"),
    ("sine takes degrees", "R * sin(alpha)", "R: Radius, alpha: Angle", "Length", "R sin(α)"),
    ("sine of a sum marks degrees", "sin(pi / 2 - alpha)", "alpha: Angle", "Ratio", "sin(90° - α)"),
    ("sine of a plain number shows its degrees", "sin(2 * pi * a / b)", "a: Length, b: Length", "Ratio",
     "sin((360 a / b)°)"),
    ("arctangent gives degrees", "2 * atan(a / b)", "a: Length, b: Length", "Angle", "2 arctan(a / b)"),
    ("arctangent outside its unit brings pi/180", "R * atan(a / R)", "R: Radius, a: Length", "Length",
     "π R arctan(a / R) / 180"),
    ("factors stand in the arms of min", "min(v / (pi * D), n)", "v: SurfaceSpeed, D: Diameter, n: SpindleSpeed",
     "SpindleSpeed", "min(1000 v / (π D), n)"),
    ("factors stand in the arms of a condition", "v / (pi * D) if D > H0 else n",
     "v: SurfaceSpeed, D: Diameter, n: SpindleSpeed", "SpindleSpeed", "(1000 v / (π D) if D > H0, else n)"),
    ("compared quantities get a common unit", "1 if h > R else 2", "h: Roughness, R: Radius", "Ratio",
     "(1 if h > 1000 R, else 2)"),
    ("terms of a sum get a common unit", "h + R", "h: Roughness, R: Radius", "Length", "h / 1000 + R"),
    ("a common factor leaves the sum", "x - x0", "x: XCoordinate, x0: XCoordinate", "Length", "(x - x0) / 2"),
    ("powers carry their reference", "k_c1 * (h / H0)**-m_c", "k_c1: Pressure, h: Length, m_c: Ratio", "Pressure",
     "k_c1 (h / H0)^(-m_c)"),
    ("hypot is a root of squares", "hypot(x, z)", "x: XCoordinate, z: ZCoordinate", "Length", "√(x² / 4 + z²)"),
    ("brackets only where needed", "((a) + (b * (R))) / ((2))", "a: Area, b: Length, R: Radius", "Area",
     "(a + b R) / 2"),
    ("a fraction under a fraction keeps its brackets", "a / (b / R)", "a: Area, b: Length, R: Radius", "Area",
     "a / (b / R)"),
    ("a subtracted sum keeps its brackets", "a - (b + R)", "a: Length, b: Length, R: Radius", "Length", "a - (b + R)"),
    ("a power of a power keeps its brackets", "(a**2)**2", "a: Ratio", "Ratio", "(a²)²"),
    ("a power of a fraction keeps its brackets", "(D / 2)**2", "D: Diameter", "Area", "(D / 2)²"),
    ("conditions say and, or, not", "1 if a < b < 3 and not (a < 1 or b > 2) else 0", "a: Ratio, b: Ratio", "Ratio",
     "(1 if a < b < 3 and (not (a < 1 or b > 2)), else 0)"),
    ("a ladder of conditions reads on", "1 if a < 1 else 2 if a < 2 else 3", "a: Ratio", "Ratio",
     "(1 if a < 1, else 2 if a < 2, else 3)"),
    ("two minus signs become a plus", "a - -b", "a: Length, b: Length", "Length", "a + b"),
    ("numbers side by side get a sign", "2 * 3 * a", "a: Length", "Length", "2 × 3 a"),
    ("rounding up has its brackets", "ceil(a / b)", "a: Length, b: Length", "Count", "⌈a / b⌉"),
    ("symbols are Greek and have subscripts", "r_eps * q1 * lam", "r_eps: Radius, q1: Ratio, lam: Ratio", "Length",
     "r_ε q1 λ"),
]  # fmt: skip


@pytest.mark.parametrize(("case", "body", "parameters", "result", "shown"), SHAPES, ids=[row[0] for row in SHAPES])
def test_the_formula_is_shown_with_exact_factors_and_few_brackets(
    folder: Path, case: str, body: str, parameters: str, result: str, shown: str
) -> None:
    assert in_symbols(made(folder, body, parameters, result), MM) == shown


def test_plus_z_into_the_part_turns_signs_and_leaves_no_double_minus(folder: Path) -> None:
    depth = made(folder, "z0 - h", "z0: ZCoordinate, h: Length", "ZCoordinate", "z")
    between = made(folder, "z1 - z2", "z1: ZCoordinate, z2: ZCoordinate", "Length", "l")
    deepest = made(folder, "min(z1, z2)", "z1: ZCoordinate, z2: ZCoordinate", "ZCoordinate", "z")
    below = made(folder, "1 if z < -h else 0", "z: ZCoordinate, h: Length", "Ratio", "q")
    assert line(depth, MM, -1.0, 4.5) == "z = z0 - h = -1 - 4.5 = -5.500 mm"
    assert line(depth, INWARD, -1.0, 4.5) == "z = z0 + h = 1 + 4.5 = 5.500 mm"
    assert line(between, MM, -1.0, -4.5) == "l = z1 - z2 = -1 - (-4.5) = 3.500 mm"
    assert line(between, INWARD, -1.0, -4.5) == "l = z2 - z1 = 4.5 - 1 = 3.500 mm"
    assert line(deepest, INWARD, -1.0, -4.5) == "z = max(z1, z2) = max(1, 4.5) = 4.500 mm"
    assert line(below, INWARD, -5.0, 4.5) == "q = (1 if z > h, else 0) = (1 if 5 > 4.5, else 0) = 1.000"


def test_x_is_shown_as_the_reader_reads_it(folder: Path) -> None:
    x = made(folder, "x0 + R * sin(kappa)", "x0: XCoordinate, R: Radius, kappa: Angle", "XCoordinate", "x")
    assert line(x, MM, 10.0, 6.0, math.radians(30)) == "x = x0 + 2 R sin(κ) = 20 + 2 × 6 × sin(30°) = 26.000 mm"
    assert line(x, INWARD, 10.0, 6.0, math.radians(30)) == "x = x0 + R sin(κ) = 10 + 6 × sin(30°) = 13.000 mm"


def test_negative_numbers_get_brackets_in_products_powers_and_differences_only(folder: Path) -> None:
    formula = made(folder, "a * b - b + a**2 - abs(b) + sqrt(a * a) + min(b, a)", "a: Ratio, b: Ratio", "Ratio")
    assert line(formula, MM, -3.0, -2.0) == (
        "y = a b - b + a² - abs(b) + √(a a) + min(b, a)"
        " = (-3) × (-2) - (-2) + (-3)² - abs(-2) + √((-3) × (-3)) + min(-2, -3) = 15.000"
    )


def test_a_typed_number_keeps_its_digits_and_a_computed_one_is_rounded_as_the_page_rounds_it(folder: Path) -> None:
    formula = made(folder, "v / (pi * D)", "v: SurfaceSpeed, D: Diameter", "SpindleSpeed", "n")
    mouth = 2 * math.sqrt(90.0**2 - 85.5**2)
    assert line(formula, MM, 220_500.0, mouth) == "n = 1000 v / (π D) = 1000 × 220.5 / (π × 56.205) = 1249 1/min"
    assert line(formula, INCH, 12 * 25.4 * 720, 2.2128 * 25.4) == (
        "n = 12 v / (π D) = 12 × 720 / (π × 2.2128) = 1243 1/min"
    )


def test_rounded_numbers_get_more_digits_where_the_value_needs_them(folder: Path) -> None:
    sag = made(folder, "R - sqrt(R**2 - w**2)", "R: Radius, w: Length", "Length", "h")
    assert line(sag, MM, 90.0, 100.0 / 3.0) == "h = R - √(R² - w²) = 90 - √(90² - 33.333²) = 6.400 mm"
    gap = made(folder, "q * (a - b)", "q: Ratio, a: Length, b: Length", "Length", "g")
    assert line(gap, MM, 1000.0, 10.0 / 3.0, 3.333) == "g = q (a - b) = 1000 × (3.333333 - 3.333) = 0.333 mm"


def test_inch_readers_read_numbers_without_a_leading_zero(folder: Path) -> None:
    formula = made(folder, "f**2 / (8 * r)", "f: Feed, r: Radius", "Roughness", "R_th")
    assert line(formula, INCH, 0.006 * 25.4, 25.4 / 32) == (
        "R_th = 1 000 000 f² / (8 r) = 1 000 000 × .006² / (8 × .03125) = 144 µin"
    )


@pytest.mark.parametrize(
    ("arguments", "shown"),
    [
        ((math.inf, 5.0), "y = min(a, b) = min(∞, 5) = 5.000 mm"),
        ((-math.inf, 1 / 3), "y = min(a, b) = min(-∞, 0.333) = - mm"),
        ((math.nan, 1.0), "y = min(a, b) = min(?, 1) = - mm"),
        ((-0.0, 1.0), "y = min(a, b) = min(0, 1) = 0.000 mm"),
        ((1e-17, 1.0), "y = min(a, b) = min(0.00000000000000001, 1) = 0.000 mm"),
    ],
)
def test_numbers_without_end_unknown_numbers_and_zero_can_be_shown(
    folder: Path, arguments: tuple[float, float], shown: str
) -> None:
    assert line(made(folder, "min(a, b)", "a: Length, b: Length", "Length"), MM, *arguments) == shown


def test_a_changed_function_body_changes_the_working(folder: Path) -> None:
    first = made(folder, "f**2 / (8 * r)", "f: Feed, r: Radius", "Roughness", "R_th")
    second = made(folder, "f**2 / (32 * r)", "f: Feed, r: Radius", "Roughness", "R_th")
    assert line(first, MM, 0.2, 0.8) == "R_th = 1000 f² / (8 r) = 1000 × 0.2² / (8 × 0.8) = 6.25 µm"
    assert line(second, MM, 0.2, 0.8) == "R_th = 1000 f² / (32 r) = 1000 × 0.2² / (32 × 0.8) = 1.56 µm"


def test_views_with_the_same_units_share_a_layout(folder: Path) -> None:
    formula = made(folder, "v / (pi * D)", "v: SurfaceSpeed, D: Diameter", "SpindleSpeed")
    assert formula.layout(MM) is formula.layout(INWARD) is formula.layout(View())
    assert formula.layout(MM) is not formula.layout(INCH)
    assert formula.layout(MM, ("n", "v", "D_m")) is not formula.layout(MM)


def test_the_calculator_behind_the_digits_agrees_with_the_function(folder: Path) -> None:
    cases: list[tuple[Any, ...]] = [
        ("exp(-a) + log(b) + floor(b)", "a: Ratio, b: Ratio", "Ratio", 0.4, 3.3),
        ("cos(a) * tan(a) + acos(b) / pi", "a: Angle, b: Ratio", "Ratio", 0.4, 0.3),
        ("a if a > b or not b < 3 else -b", "a: Ratio, b: Ratio", "Ratio", 0.4, 3.3),
        ("max(a, b)**-2 + atan2(a, b)", "a: Ratio, b: Ratio", "Ratio", 0.4, 3.3),
    ]
    for body, parameters, result, *arguments in cases:
        formula = made(folder, body, parameters, result)
        layout = formula.layout(INCH)
        shown = [unit.shown(value) for unit, value in zip(layout.units, arguments, strict=True)]
        assert layout.evaluate(shown) == pytest.approx(layout.unit.shown(formula(*arguments)), rel=1e-13)


def test_a_reader_of_another_language_changes_no_number_of_the_next_one() -> None:
    """The layouts are kept: a German reader's comma must not come to an English one, nor the point back."""
    with recording() as steps:
        spindle_speed(220_500.0, 55.5)
    said = [steps[0].mathml(View(language=each)).numbers for each in ("en", "de", "en")]
    assert "<mn>55.5</mn>" in said[0]
    assert "<mn>55,5</mn>" in said[1]
    assert said[2] == said[0]
