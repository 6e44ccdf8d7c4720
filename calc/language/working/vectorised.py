"""A formula for many cases at once: the very code of `@formula`, followed over numpy arrays.

The function's own syntax tree is walked, in the order in which Python would compute it. What has no array in it is
left to Python; sums, products, quotients and comparisons go to numpy, whose arithmetic is the same to the last bit.
Powers and the functions of `math` are called element by element, since numpy's own differ from them in the last
digit. So each element of the result is exactly what the formula gives for that case; where the formula would raise an
error, it is NaN or infinite.
"""

from __future__ import annotations

import ast
import functools
import math
import operator
from collections.abc import Callable, Iterable, Mapping
from itertools import repeat
from typing import Any

import numpy as np

from calc.language.working.reading import FUNCTIONS, meaning_of, returned
from calc.language.working.recorder import Formula, Placed

Evaluated = Callable[[Mapping[str, Any]], Any]


def vectorised(formula: Formula[...] | Placed[...]) -> Callable[..., Any]:
    """A function that takes numbers or numpy arrays in place of the formula's arguments, broadcast as numpy does.

    Nothing is recorded. Raises NotAFormula for a function that cannot be shown either.

    >>> from calc.cutting.speed import limited_speed
    >>> vectorised(limited_speed)(np.array([1000.0, 4000.0]), 2000.0)
    array([1000., 2000.])
    """
    return _vectorised(formula.function)


@functools.cache
def _vectorised(function: Callable[..., float]) -> Callable[..., Any]:
    names = function.__code__.co_varnames[: function.__code__.co_argcount]
    value = _Reader(function, names).read(returned(function))
    defaults = dict(zip(names[::-1], (function.__defaults__ or ())[::-1], strict=False))

    @functools.wraps(function)
    def over(*args: Any, **kwargs: Any) -> Any:
        with np.errstate(all="ignore"):
            return value(defaults | dict(zip(names, args, strict=False)) | kwargs)

    return over


class _Reader:
    """Turns the syntax of one function into something to call, with the arguments by name."""

    def __init__(self, function: Callable[..., float], names: tuple[str, ...]) -> None:
        self.function = function
        self.names = names

    def read(self, node: ast.expr) -> Evaluated:  # noqa: PLR0911 (one case per kind of syntax)
        match node:
            case ast.Constant(value=number):
                return lambda _: number
            case ast.Name(id=name) if name in self.names:
                return lambda arguments: arguments[name]
            case ast.Name() | ast.Attribute():
                constant = meaning_of(self.function, node)
                return lambda _: constant
            case ast.BinOp(op=ast.Pow()):
                return self.called(_power, [node.left, node.right])
            case ast.BinOp():
                return self.called(_OPERATORS[type(node.op)], [node.left, node.right])
            case ast.UnaryOp(op=ast.Not()):
                return self.called(np.logical_not, [node.operand])
            case ast.UnaryOp():
                return self.called(_OPERATORS[type(node.op)], [node.operand])
            case ast.Call():
                return self.called(_function(meaning_of(self.function, node.func)), node.args)
            case ast.Compare():
                return self.compared(node)
            case ast.BoolOp():
                return self.called(_all if isinstance(node.op, ast.And) else _any, node.values)
            case ast.IfExp():
                return self.chosen(node)
        raise TypeError(f"{ast.unparse(node)!r} cannot stand in a formula")

    def called(self, function: Callable[..., Any], parts: list[ast.expr]) -> Evaluated:
        read = [self.read(part) for part in parts]
        return lambda arguments: function(*[part(arguments) for part in read])

    def compared(self, node: ast.Compare) -> Evaluated:
        signs = [_OPERATORS[type(sign)] for sign in node.ops]
        read = [self.read(part) for part in (node.left, *node.comparators)]

        def holds(arguments: Mapping[str, Any]) -> Any:
            terms = [part(arguments) for part in read]
            return _all(*map(lambda sign, a, b: sign(a, b), signs, terms, terms[1:]))

        return holds

    def chosen(self, node: ast.IfExp) -> Evaluated:
        condition, chosen, otherwise = (self.read(part) for part in (node.test, node.body, node.orelse))

        def value(arguments: Mapping[str, Any]) -> Any:
            holds = condition(arguments)
            if not isinstance(holds, np.ndarray):  # then only one arm is computed, as Python does
                return chosen(arguments) if holds else otherwise(arguments)
            return np.where(holds, chosen(arguments), otherwise(arguments))

        return value


def _all(*conditions: Any) -> Any:
    return functools.reduce(np.logical_and, conditions)


def _any(*conditions: Any) -> Any:
    return functools.reduce(np.logical_or, conditions)


def _divided(a: Any, b: Any) -> Any:
    """The quotient; NaN where Python would refuse to divide by zero, so that nothing made of it seems to be a value."""
    if not isinstance(b, np.ndarray):
        return a / b
    return np.where(b == 0.0, np.nan, a / b)


_OPERATORS: dict[type[ast.AST], Callable[..., Any]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: _divided,
    ast.USub: operator.neg,
    ast.UAdd: operator.pos,
    ast.Lt: operator.lt,
    ast.LtE: operator.le,
    ast.Gt: operator.gt,
    ast.GtE: operator.ge,
    ast.Eq: operator.eq,
    ast.NotEq: operator.ne,
}


def _power(base: Any, exponent: Any) -> Any:
    return _elementwise(_pow)(base, exponent)


def _pow(base: float, exponent: float) -> float:
    """The power; NaN for what has no value, which `math` would take for 1 where the base is 1 or the exponent 0."""
    return math.nan if base != base or exponent != exponent else math.pow(base, exponent)  # noqa: PLR0124 (true of NaN)


def _function(function: Callable[..., float]) -> Callable[..., Any]:
    name, _ = FUNCTIONS[function]
    if name in ("min", "max"):
        pairwise = np.minimum if name == "min" else np.maximum
        return lambda *terms: functools.reduce(pairwise, terms)
    if name == "sqrt":
        return np.sqrt  # exact by its standard, as that of `math`
    return np.abs if name == "abs" else _elementwise(function)


@functools.cache
def _elementwise(function: Callable[..., float]) -> Callable[..., Any]:
    """The function for arrays, one element after the other; NaN where it has no value."""

    def value(*arguments: float) -> float:
        try:
            return function(*arguments)
        except (ValueError, OverflowError, ZeroDivisionError):
            return math.nan

    def over(*arguments: Any) -> Any:
        if not any(isinstance(argument, np.ndarray) for argument in arguments):
            return function(*arguments)
        shape = np.broadcast_shapes(*(np.shape(argument) for argument in arguments))
        elements = (_elements(argument, shape) for argument in arguments)
        return np.fromiter(map(value, *elements), float, math.prod(shape)).reshape(shape)

    return over


def _elements(argument: Any, shape: tuple[int, ...]) -> Iterable[float]:
    if isinstance(argument, np.ndarray):
        return np.broadcast_to(argument, shape).ravel().tolist()
    return repeat(argument)
