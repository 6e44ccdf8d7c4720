"""Whatever a formula is made of, what the page shows is what the function computes, in every reader's units."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from mpmath import mp, mpf

from calc.language import quantities
from calc.language.factor import Factor
from calc.language.quantities import View
from calc.language.working import Formula, recording
from tests.language.working.pocket import compute
from tests.language.working.written import formula_text, module
from tests.tries import tries

VIEWS = [View(), View("inch"), View(x="radius", zplus="in"), View("inch", zplus="in")]
KINDS = {
    "v": "SurfaceSpeed", "D": "Diameter", "R": "Radius", "x": "XCoordinate", "z": "ZCoordinate", "alpha": "Angle",
    "h": "Roughness", "q": "Ratio", "F": "Force", "M": "Torque", "P": "Power", "t": "Time",
}  # fmt: skip
RESULTS = [*sorted(set(KINDS.values())), "SpindleSpeed", "Area", "Mass"]
REFERENCE: dict[str, Any] = {
    "pi": mp.pi, "sin": mp.sin, "cos": mp.cos, "tan": mp.tan, "asin": mp.asin, "acos": mp.acos, "atan": mp.atan,
    "atan2": mp.atan2, "sqrt": mp.sqrt, "hypot": mp.hypot, "ceil": mp.ceil, "floor": mp.floor, "abs": abs, "min": min,
    "max": max, "mpf": mpf, "H0": mpf(1),
}  # fmt: skip

names = st.sampled_from(sorted(KINDS))
literals = st.sampled_from(["2", "3", "0.5", "4", "1000", "0.0321", "1", "0"])
conditions = st.one_of(
    st.builds("{} {} {}".format, names, st.sampled_from(["<", "<=", ">", ">=", "!="]), literals),
    st.builds(
        "{0} < {1} {2} {0} > -{1}".format, st.sampled_from("DR"), st.sampled_from("xz"), st.sampled_from(["and", "or"])
    ),
    st.builds("not {} < {}".format, st.sampled_from("DR"), st.sampled_from("xz")),
    st.builds("-{} < {} < 3".format, st.sampled_from("DR"), st.sampled_from("xz")),
)


def _larger(smaller: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    one = ["-{}", "({})**2", "({})**3", "({})**-1", "sqrt({})", "({})**0.5", "sin({})", "cos({})", "tan({})",
           "asin({})", "acos({})", "atan({})", "abs({})", "(R / H0)**({} / 100)"]  # fmt: skip
    two = ["({} + {})", "({} - {})", "{} * {}", "({} * {})", "{} / ({})", "({} / {})", "min({}, {})", "max({}, {})",
           "hypot({}, {})", "atan2({}, {})", "({}) - ({})"]  # fmt: skip
    return st.one_of(
        st.builds(str.format, st.sampled_from(one), smaller),
        st.builds(str.format, st.sampled_from(two), smaller, smaller),
        st.builds("({} if {} else {})".format, smaller, conditions, smaller),
        st.builds("ceil({} / 3.7)".format, names),
    )


expressions = st.recursive(st.one_of(names, names, literals, st.just("pi"), st.just("H0")), _larger, max_leaves=9)


def _unlike(place: int) -> st.SearchStrategy[float]:
    return st.integers(-40, 400).map(lambda count: (count + 0.037 + place / 97) / 8)


# No two values agree and none is a whole number, so that rounding cannot turn a comparison round.
values = st.tuples(*(_unlike(i) for i in range(len(KINDS))))


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("formulas")


def exact(factor: Factor) -> Any:
    return mpf(factor.ratio.numerator) / factor.ratio.denominator * mp.pi**factor.pi_power


def right_hand(line: str) -> str:
    return line.split(" = ", 1)[1]


def shown_exactly(made: Formula[...], view: View, given_values: dict[str, Any]) -> Any:
    """What the line in symbols gives with the reader's numbers put in by a calculator of many digits."""
    body = made.body
    named = dict(zip(made.parameters, body.parameters, strict=True))
    numbers = {("α" if name == "alpha" else name): given_values[name] / exact(named[name].unit(view).size)
               for name in named}  # fmt: skip
    numbers |= {constant.name: constant.value / exact(constant.kind.unit(view).size) for constant in body.constants}
    return compute(right_hand(made.layout(view).plain.formula), numbers)


@settings(max_examples=tries(200), deadline=None)
@given(expression=expressions, result=st.sampled_from(RESULTS), numbers=values)
def test_the_line_in_symbols_computes_what_the_function_computes_in_every_view(
    folder: Path, expression: str, result: str, numbers: tuple[float, ...]
) -> None:
    parameters = ", ".join(f"{name}: {kind}" for name, kind in KINDS.items())
    made: Formula[...] = module(folder, formula_text(expression, parameters, result)).f
    with mp.workdps(200):
        given_values = {name: mpf(number) for name, number in zip(KINDS, numbers, strict=True)}
        text = re.sub(r"\b\d+(\.\d+)?\b", lambda match: f"mpf('{match.group()}')", expression)
        try:
            wanted = eval(text, REFERENCE | given_values)
        except (ZeroDivisionError, TypeError, ValueError, AttributeError):  # complex, infinite
            assume(False)
        assume(isinstance(wanted, mpf) and mp.isfinite(wanted) and abs(wanted) < mpf(10) ** 40)
        kind = getattr(quantities, result).__metadata__[0]
        for view in VIEWS:
            try:
                shown = shown_exactly(made, view, given_values) * exact(kind.unit(view).size)
            except ZeroDivisionError:
                assume(" if " not in expression)  # the calculator computes both arms, the function only one
                raise
            assert abs(shown - wanted) <= mpf(10) ** -60 * (1 + abs(wanted)), made.layout(view).plain.formula


EVERYDAY = {
    "spindle speed": ("v / (pi * D)", "v: SurfaceSpeed, D: Diameter", "SpindleSpeed"),
    "peak height": ("f**2 / (8 * R)", "f: Feed, R: Radius", "Roughness"),
    "feed": ("sqrt(8 * R * h)", "R: Radius, h: Roughness", "Feed"),
    "power": ("v * F", "v: SurfaceSpeed, F: Force", "Power"),
    "sag": ("R - sqrt(R**2 - (D / 2)**2)", "R: Radius, D: Diameter", "Length"),
    "arc": ("R * alpha", "R: Radius, alpha: Angle", "Length"),
    "specific force": ("k * (h / H0)**-m", "k: Pressure, h: Length, m: Ratio", "Pressure"),
    "coordinate": ("x + R * cos(alpha)", "x: XCoordinate, R: Radius, alpha: Angle", "XCoordinate"),
    "slope": ("atan2(R - z, R)", "R: Radius, z: ZCoordinate", "Angle"),
}
SIZES = {"R": (60.0, 200.0), "D": (1.0, 110.0), "h": (0.001, 0.9), "f": (0.01, 1.0), "m": (0.1, 0.4), "x": (0.0, 90.0),
         "z": (-30.0, 5.0), "alpha": (0.01, 1.5), "v": (20e3, 500e3), "F": (10.0, 9e3), "k": (500.0, 4e3)}  # fmt: skip


@settings(max_examples=tries(30), deadline=None)
@given(data=st.data())
@pytest.mark.parametrize("name", EVERYDAY)
def test_the_numbers_on_the_page_give_the_value_on_the_page(folder: Path, name: str, data: st.DataObject) -> None:
    made: Formula[...] = module(folder, formula_text(*EVERYDAY[name])).f
    arguments = [data.draw(st.floats(*SIZES[parameter])) for parameter in made.parameters]
    with recording() as steps:
        made(*arguments)
    for view in VIEWS:
        unit = made.layout(view).unit
        _, numbers, value = steps[0].plain(view)
        digits = value.removeprefix("= ").removesuffix(unit.label).strip()
        result = float(compute(numbers.removeprefix("= ")))
        nearest = (
            unit.text(unit.internal(result * side)) for side in (1 - 1e-12, 1, 1 + 1e-12)
        )  # either side of a tie
        assert digits in nearest, str(steps[0].plain(view))
