"""The value of a tree: what a reader's pocket calculator makes of the numbers that are shown.

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


def evaluated(node: Node, numbers: Sequence[float]) -> Any:  # noqa: PLR0911 (one case per kind of node)
    """The value of a tree as shown for the numbers in its slots, angles in degrees.

    >>> evaluated(Call("sin", (Slot(0, degrees=True),)), [90.0])
    1.0
    """
    match node:
        case Number(value):
            return float(value)
        case Pi():
            return math.pi
        case Slot(index):
            return numbers[index]
        case Degrees(body):
            return evaluated(body, numbers)
        case Sum(terms):
            return sum(evaluated(term, numbers) for term in terms)
        case Product():
            return _product(node, numbers)
        case Choice():
            return evaluated(node.chosen if evaluated(node.condition, numbers) else node.otherwise, numbers)
        case Comparison():
            return _holds(node, numbers)
        case Power(base, exponent):
            return _called("pow", (base, exponent), numbers)
        case Root(body):
            return _called("sqrt", (body,), numbers)
        case Call(name, parts) | Logic(name, parts):
            return _called(name, parts, numbers)


def _product(node: Product, numbers: Sequence[float]) -> Any:
    result: Any = -1.0 if node.negative else 1.0
    for factor in node.over:
        result *= evaluated(factor, numbers)
    for divisor in node.under:
        result /= evaluated(divisor, numbers)
    return result


def _holds(node: Comparison, numbers: Sequence[float]) -> bool:
    values = [evaluated(term, numbers) for term in node.terms]
    return all(ON_THE_PAGE[sign](a, b) for sign, a, b in zip(node.operators, values, values[1:], strict=False))


def _called(name: str, parts: tuple[Node, ...], numbers: Sequence[float]) -> Any:
    return ON_THE_PAGE[name](*[evaluated(part, numbers) for part in parts])
