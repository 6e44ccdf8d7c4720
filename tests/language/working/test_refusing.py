"""Functions that cannot be shown are refused, and the text says what to change."""

from __future__ import annotations

from math import sqrt
from pathlib import Path

import pytest

from calc.language.quantities import Length, View
from calc.language.working import Formula, NotAFormula, formula
from tests.language.working.written import formula_text, module

BODIES = [
    ("a % b", "'a % b' uses an operator that a formula does not know"),
    ("a if a in (b, b) else b", "compares in a way"),
    ("round(a)", "calls what no formula calls"),
    ("sqrt(a, b)", "must be given 1 arguments"),
    ("min(a)", "must be given two or more arguments"),
    ("max(*[a, b])", "must be given plain arguments"),
    ("a * True", "'True' is not a number"),
    ("a * c", "'c' is not defined"),
    ("a * recording", "'recording' is neither a parameter nor a number of the module"),
    ("[a, b][0]", "cannot stand in a formula"),
    ("(lambda: a)()", "cannot stand in a formula"),
    ("a * LOOSE", "'LOOSE' needs a kind, such as Length or Ratio, as its annotation"),
]


def written(tmp_path: Path, text: str) -> Formula[...]:
    made: Formula[...] = module(tmp_path, text).f
    return made


@pytest.mark.parametrize(("body", "why"), BODIES, ids=[body for body, _ in BODIES])
def test_an_expression_that_is_no_formula_says_why(tmp_path: Path, body: str, why: str) -> None:
    text = "LOOSE = 2.0\n\n" + formula_text(body, "a: Length, b: Length", "Length")
    with pytest.raises(NotAFormula) as caught:
        written(tmp_path, text).layout()
    assert why in str(caught.value)
    assert ".f: " in str(caught.value)


def test_a_formula_inside_a_formula_is_refused(tmp_path: Path) -> None:
    inner = formula_text("a * 2", "a: Length", "Length", name="double")
    outer = formula_text("double(a)", "a: Length", "Length")
    with pytest.raises(NotAFormula, match="plain functions compose formulas"):
        written(tmp_path, inner + "\n\n" + outer).layout()


def test_statements_before_the_return_are_refused(tmp_path: Path) -> None:
    text = formula_text("b", "a: Length", "Length").replace("return b", "b = a\n    return b")
    with pytest.raises(NotAFormula, match="one return expression"):
        written(tmp_path, text).layout()


@pytest.mark.parametrize(
    ("parameters", "result", "name"),
    [("a: float", "Length", "'a'"), ("a", "Length", "'a'"), ("a: Length", "float", "'return'")],
)
def test_a_parameter_or_result_without_a_kind_is_named(tmp_path: Path, parameters: str, result: str, name: str) -> None:
    with pytest.raises(NotAFormula, match=f"{name} needs a kind"):
        written(tmp_path, formula_text("a", parameters, result)).layout()


def test_a_broken_power_of_a_quantity_with_a_unit_asks_for_its_reference(tmp_path: Path) -> None:
    made = written(tmp_path, formula_text("k * h**-0.25", "k: Pressure, h: Length", "Pressure"))
    with pytest.raises(NotAFormula, match=r"f: give the power its reference, as in \(h / h0\)\*\*m"):
        made.layout(View("inch"))


@pytest.mark.parametrize("parameters", ["*a: Length", "**a: Length", "*, a: Length"])
def test_a_formula_has_plain_parameters_only(tmp_path: Path, parameters: str) -> None:
    with pytest.raises(NotAFormula, match="plain parameters"):
        written(tmp_path, formula_text("1", parameters, "Length"))


def test_a_lambda_is_refused() -> None:
    short = formula(source="a test", means="a test", result="y")(lambda a: a)
    with pytest.raises(NotAFormula, match=r"written with def|cannot be read"):
        short.layout()


def test_a_function_without_a_source_is_refused() -> None:
    scope: dict[str, object] = {}
    exec("def f(a: 'float') -> float:\n    return a", scope)
    function = scope["f"]
    assert callable(function)
    with pytest.raises(NotAFormula, match="source cannot be read"):
        formula(source="a test", means="a test", result="y")(function).layout()


def test_a_source_that_was_changed_after_loading_is_not_shown(tmp_path: Path) -> None:
    made = written(tmp_path, formula_text("2 * a", "a: Length", "Length"))
    file = Path(made.function.__code__.co_filename)
    file.write_text(file.read_text(encoding="utf-8").replace("2 * a", "3 * a"), encoding="utf-8")
    assert made(1.0) == 2.0
    with pytest.raises(NotAFormula, match="changed after it was loaded"):
        made.layout()


def test_a_constant_with_a_kind_may_be_shown_under_a_symbol_of_its_own(tmp_path: Path) -> None:
    text = formula_text("a / H0", "a: Length", "Ratio").replace('result="y"', 'result="y", symbols={"H0": "h_0"}')
    assert written(tmp_path, text).layout().plain.formula == "y = a / h_0"


def test_names_are_looked_up_where_the_function_finds_them() -> None:
    root = sqrt

    @formula(source="a test", means="a side", result="a")
    def side(A: Length) -> Length:
        return root(A * A)

    assert side.layout().plain.formula == "a = √(A A)"
