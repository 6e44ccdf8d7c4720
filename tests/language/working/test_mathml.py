"""The working as MathML: well-formed, few elements, safe."""

from __future__ import annotations

from math import pi
from pathlib import Path
from xml.etree import ElementTree

import pytest

from calc.language.quantities import Diameter, SpindleSpeed, SurfaceSpeed, View
from calc.language.working import Formula, Step, formula, recording
from tests.language.working.test_showing import SHAPES, TRADE
from tests.language.working.written import formula_text, module

ALLOWED = {"math", "mrow", "mfrac", "msqrt", "msup", "msub", "mi", "mn", "mo"}
CHILDREN = {"mfrac": 2, "msup": 2, "msub": 2}
FORMULAS = [row[:3] for row in TRADE] + [row[1:4] for row in SHAPES]


def step_of(made: Formula[...], *arguments: float) -> Step:
    with recording() as steps:
        made(*arguments)
    return steps[0]


@pytest.mark.parametrize(("body", "parameters", "result"), FORMULAS)
def test_every_part_is_well_formed_and_made_of_fractions_roots_powers_and_rows(
    tmp_path: Path, body: str, parameters: str, result: str
) -> None:
    made: Formula[...] = module(tmp_path, formula_text(body, parameters, result)).f
    numbers = (0.7, 1.3, 2.1, 0.4)[: len(made.parameters)]
    for view in (View(), View("inch", zplus="in")):
        for part in step_of(made, *numbers).mathml(view):
            root = ElementTree.fromstring(part)
            assert root.tag == "math"
            assert {element.tag for element in root.iter()} <= ALLOWED
            for element in root.iter():
                assert len(element) == CHILDREN.get(element.tag, len(element)), part


def test_mathml_and_plain_text_hold_the_same_symbols_and_numbers_in_the_same_order(tmp_path: Path) -> None:
    for body, parameters, result in FORMULAS:
        made: Formula[...] = module(tmp_path, formula_text(body, parameters, result)).f
        step = step_of(made, *(0.7, 1.3, 2.1, 0.4)[: len(made.parameters)])
        for plain, markup in zip(step.plain(), step.mathml(), strict=True):
            texts = [text.strip() for text in ElementTree.fromstring(markup).itertext()]
            assert _letters("".join(texts)) == _letters(plain.replace("abs", ""))


def _letters(text: str) -> str:
    raised = str.maketrans("²³", "23")
    return "".join(character for character in text.translate(raised) if character.isalnum() or character == ".")


def test_a_spindle_speed_reads_as_a_fraction() -> None:
    @formula(source="common practice", means="spindle speed", result="n")
    def spindle_speed(v: SurfaceSpeed, D_m: Diameter) -> SpindleSpeed:
        return v / (pi * D_m)

    symbols, numbers, value = step_of(spindle_speed, 220_000.0, -50.0).mathml()
    assert symbols == (
        "<math><mrow><mi>n</mi><mo>=</mo><mfrac><mrow><mn>1000</mn><mo>\u2062</mo><mi>v</mi></mrow>"
        '<mrow><mi mathvariant="normal">π</mi><mo>\u2062</mo>'
        "<msub><mi>D</mi><mi>m</mi></msub></mrow></mfrac></mrow></math>"
    )
    assert numbers == (
        "<math><mrow><mo>=</mo><mfrac><mrow><mn>1000</mn><mo>×</mo><mn>220</mn></mrow>"
        '<mrow><mi mathvariant="normal">π</mi><mo>×</mo>'
        "<mrow><mo>(</mo><mrow><mo>−</mo><mn>50</mn></mrow><mo>)</mo></mrow>"
        "</mrow></mfrac></mrow></math>"
    )
    assert value == (
        '<math><mo>=</mo><mrow><mo>−</mo><mn>1401</mn><mi mathvariant="normal">\u00a01/min</mi></mrow></math>'
    )


def test_comparisons_and_symbols_are_escaped() -> None:
    @formula(source="a test", means="a test", result="<b>", symbols={"a": "a&b_<i>%s"})
    def smaller(a: Diameter, b: Diameter) -> Diameter:
        return a if a < b else b

    symbols, numbers, _ = step_of(smaller, 1.0, 2.0).mathml()
    assert "<mi>&lt;b&gt;</mi>" in symbols
    assert "<msub><mi>a&amp;b</mi><mi>&lt;i&gt;%s</mi></msub>" in symbols
    assert "<mn>1</mn><mo>&lt;</mo><mn>2</mn>" in numbers
    ElementTree.fromstring(symbols)
