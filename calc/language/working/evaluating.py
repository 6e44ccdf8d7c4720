"""A tree as something to call: what a reader's pocket calculator makes of the numbers that are shown.

The functions stand in a table of their own: with one for arrays the same trees can be evaluated for many cases at once.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from calc.language.working.tree import (
    Call,
    Choice,
    Comparison,
    Degrees,
    Logic,
    Node,
    Number,
    Pi,
    Power,
    Product,
    Root,
    Slot,
    Sum,
)

Evaluator = Callable[[Sequence[float]], Any]


def _of_degrees(function: Callable[[float], float]) -> Callable[[float], float]:
    return lambda angle: function(math.radians(angle))


def _in_degrees(function: Callable[..., float]) -> Callable[..., float]:
    return lambda *ratios: math.degrees(function(*ratios))


ON_THE_PAGE: Mapping[str, Callable[..., Any]] = {
    "sin": _of_degrees(math.sin),
    "cos": _of_degrees(math.cos),
    "tan": _of_degrees(math.tan),
    "asin": _in_degrees(math.asin),
    "acos": _in_degrees(math.acos),
    "atan": _in_degrees(math.atan),
    "atan2": _in_degrees(math.atan2),
    "sqrt": math.sqrt,
    "pow": math.pow,
    "exp": math.exp,
    "log": math.log,
    "ceil": math.ceil,
    "floor": math.floor,
    "abs": abs,
    "min": min,
    "max": max,
    "<": operator.lt,
    "≤": operator.le,
    ">": operator.gt,
    "≥": operator.ge,
    "=": operator.eq,
    "≠": operator.ne,
    "and": lambda *conditions: all(conditions),
    "or": lambda *conditions: any(conditions),
    "not": operator.not_,
}


def evaluator(node: Node) -> Evaluator:  # noqa: PLR0911 (one case per kind of node)
    """A function from the numbers in the slots to the value of a tree as shown, angles in degrees.

    >>> evaluator(Call("sin", (Slot(0, degrees=True),)))([90.0])
    1.0
    """
    match node:
        case Number(value):
            number = float(value)
            return lambda _: number
        case Pi():
            return lambda _: math.pi
        case Slot(index):
            return lambda numbers: numbers[index]
        case Degrees(body):
            return evaluator(body)
        case Sum(terms):
            added = [evaluator(term) for term in terms]
            return lambda numbers: sum(term(numbers) for term in added)
        case Product():
            return _product(node)
        case Choice():
            test, chosen, otherwise = map(evaluator, (node.condition, node.chosen, node.otherwise))
            return lambda numbers: chosen(numbers) if test(numbers) else otherwise(numbers)
        case Comparison():
            return _comparison(node)
        case Power(base, exponent):
            return _called("pow", (base, exponent))
        case Root(body):
            return _called("sqrt", (body,))
        case Call(name, parts) | Logic(name, parts):
            return _called(name, parts)


def _product(node: Product) -> Evaluator:
    over, under = [evaluator(part) for part in node.over], [evaluator(part) for part in node.under]
    sign = -1.0 if node.negative else 1.0

    def value(numbers: Sequence[float]) -> Any:
        result = sign
        for factor in over:
            result *= factor(numbers)
        for divisor in under:
            result /= divisor(numbers)
        return result

    return value


def _comparison(node: Comparison) -> Evaluator:
    compared = [ON_THE_PAGE[sign] for sign in node.operators]
    terms = [evaluator(term) for term in node.terms]

    def holds(numbers: Sequence[float]) -> bool:
        values = [term(numbers) for term in terms]
        return all(map(lambda compare, a, b: compare(a, b), compared, values, values[1:]))

    return holds


def _called(name: str, parts: tuple[Node, ...]) -> Evaluator:
    function, arguments = ON_THE_PAGE[name], [evaluator(part) for part in parts]
    return lambda numbers: function(*[argument(numbers) for argument in arguments])
