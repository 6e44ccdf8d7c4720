"""A step on the page: the formula in symbols, the same with numbers in, the value; as MathML or as plain text.

What depends on the formula, the units and the symbols alone is laid out once; a step then only fills in its numbers.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Any, NamedTuple

from calc.language.quantities import View
from calc.language.translating import Language, has_comma, marked
from calc.language.unit import Unit
from calc.language.working.evaluating import evaluated
from calc.language.working.mathml import MATHML
from calc.language.working.reading import Body, NotAFormula
from calc.language.working.symbols import Symbol, symbol
from calc.language.working.tree import Node, Slot
from calc.language.working.units import NoUnits, in_units
from calc.language.working.writing import PLAIN, Level, Writer

FEWEST_FIGURES = 3  # what a rounded argument shows at least
MOST_EXTRA = 12  # decimals added to rounded arguments until they give the value that is shown
_POINT = re.compile(r"(<mn>\d*)\.(?=\d)")
SMALLEST = 1e-9  # anything closer to zero is taken for rounding noise until it turns out to matter


class Shown(NamedTuple):
    """A step in three parts; the second and third begin with their equals sign."""

    formula: str
    numbers: str
    value: str

    def __str__(self) -> str:
        return " ".join(self)


class Filled(NamedTuple):
    """The numbers of a step as digits: one text for each slot and one for the value."""

    arguments: list[str]
    value: str


@dataclass(frozen=True, slots=True)
class Script:
    """A formula written by one writer: the part in symbols, and a template for the part with numbers."""

    writer: Writer
    formula: str
    template: str
    places: tuple[tuple[int, tuple[bool, str]], ...]
    unit: str
    wrap: Callable[[str], str]

    def shown(self, filled: Filled) -> Shown:
        """The step with its numbers filled in."""
        texts = tuple(self._placed(filled.arguments[index], *how) for index, how in self.places)
        value = self.wrap(f"{self.writer.operator('=').lstrip()}{self.writer.value(filled.value, self.unit)}")
        return Shown(self.formula, self.template % texts, value)

    def _placed(self, digits: str, bracketed: bool, mark: str) -> str:
        text = self.writer.value(digits, mark)
        return self.writer.bracketed(text) if bracketed and digits.startswith("-") else text


@dataclass(frozen=True, slots=True)
class Layout:
    """A formula laid out for one set of units and symbols."""

    unit: Unit
    units: tuple[Unit, ...]
    constants: tuple[float, ...]
    tree: Node
    plain: Script
    mathml: Script

    def filled(self, arguments: Sequence[float], value: float) -> Filled:
        """The digits of a step: arguments rounded only so far that they still give the value that is shown."""
        wanted = self.unit.text(value)
        numbers = [unit.shown(given) for unit, given in zip(self.units, (*arguments, *self.constants), strict=True)]
        exact = [_exact(number) for number in numbers]
        if None not in exact or not math.isfinite(value):
            return self._styled(exact, numbers, 0, wanted)
        for extra in range(MOST_EXTRA):
            filled = self._styled(exact, numbers, extra, wanted)
            if self.gives(filled):
                return filled
        return self._styled(exact, numbers, MOST_EXTRA, wanted)

    def _styled(self, exact: list[str | None], numbers: list[float], extra: int, wanted: str) -> Filled:
        texts = zip(exact, numbers, self.units, strict=True)
        return Filled([_in_style(text or _rounded(number, unit, extra), unit) for text, number, unit in texts], wanted)

    def evaluate(self, numbers: Sequence[float]) -> Any:
        """What a reader's calculator makes of these numbers, in the units that are shown."""
        return evaluated(self.tree, numbers)

    def gives(self, filled: Filled) -> bool:
        """Whether somebody who calculates with these digits gets the value that is shown."""
        try:
            result = self.evaluate([_number(text) for text in filled.arguments])
        except (ValueError, ZeroDivisionError, OverflowError):  # rounding left the range of a function
            return False
        return self.unit.text(self.unit.internal(result)) == filled.value


def lay_out(name: str, body: Body, symbols: Sequence[str], view: View) -> Layout:
    """Lay out the formula `name` with the `symbols` of its result, parameters and constants, in this order.

    Raises NotAFormula where it cannot be shown in the units of `view`.
    """
    unit = body.result.unit(view)
    kinds = (*body.parameters, *(constant.kind for constant in body.constants))
    units = tuple(kind.unit(view) for kind in kinds)
    try:
        tree = in_units(body.tree, unit.size, [part.size for part in units])
    except NoUnits as error:
        raise NotAFormula(f"{name}: {error}") from error
    result, *named = (symbol(text) for text in symbols)
    constants = tuple(constant.value for constant in body.constants)
    return Layout(
        unit,
        units,
        constants,
        tree,
        _script(PLAIN, tree, result, named, unit.label, Level.SUM, str),
        _script(MATHML, tree, result, named, unit.label, Level.LOOSE, _math(unit.language)),
    )


@cache
def _math(language: Language) -> Callable[[str], str]:
    """What makes MathML of a row: its numbers with the language's decimal mark, a list then with semicolons."""

    def wrap(row: str) -> str:
        said = _POINT.sub(r"\1,", row).replace("<mo>,</mo>", "<mo>;</mo>") if has_comma(language) else row
        return f"<math>{said}</math>"

    return wrap


@cache
def _filling(kind: type[Writer]) -> Writer:
    """What writes the numbers of a step where the tree stands already: one for all formulas."""
    return kind(lambda _, __: "", with_numbers=True)


def _script(
    kind: type[Writer], tree: Node, result: Symbol, named: Sequence[Symbol], unit: str, least: Level, wrap: Any
) -> Script:
    places: list[tuple[int, tuple[bool, str]]] = []

    def mark(slot: Slot, bracketed: bool) -> str:
        places.append((slot.index, (bracketed, "°" if slot.degrees else "")))
        return f"\0{len(places) - 1}\0"

    in_symbols = kind(lambda slot, _: in_symbols.symbol(named[slot.index]), with_numbers=False)
    with_numbers = kind(mark, with_numbers=True)
    equals = in_symbols.operator("=")
    formula = wrap(in_symbols.joined(in_symbols.symbol(result), equals, in_symbols.text(tree, least)))
    pieces = wrap(with_numbers.joined(equals.lstrip(), with_numbers.text(tree, least))).split("\0")
    template = "%s".join(piece.replace("%", "%%") for piece in pieces[::2])
    return Script(_filling(kind), formula, template, tuple(places[int(place)] for place in pieces[1::2]), unit, wrap)


def _exact(number: float) -> str | None:
    """The number's digits if twelve of them are all it has, otherwise None."""
    if not math.isfinite(number):
        return {math.inf: "∞", -math.inf: "-∞"}.get(number, "?")
    digits = f"{number if number else 0.0:.12g}"
    if abs(float(digits) - number) > 4e-16 * abs(number):
        return None
    return f"{Decimal(digits):f}" if "e" in digits else digits


def _number(digits: str) -> float:
    return float(digits.replace("∞", "inf").replace("?", "nan").replace(",", "."))


def _rounded(number: float, unit: Unit, extra: int) -> str:
    decimals = unit.decimals if unit.figures is None else 0
    if abs(number) > SMALLEST:
        figures = unit.figures or FEWEST_FIGURES
        decimals = max(decimals, figures - 1 - math.floor(math.log10(abs(number))))
        decimals = decimals if unit.finest is None else min(decimals, unit.finest)
    text = f"{number:.{decimals + extra}f}"
    return text if float(text) else text.lstrip("-")


def _in_style(digits: str, unit: Unit) -> str:
    if not unit.has_leading_zero and digits.strip("-0.") and digits.startswith(("0.", "-0.")):
        digits = digits.replace("0.", ".", 1)
    return marked(digits, unit.language)
