"""A marked function's own source, read into a tree: what is shown is the code that ran."""

from __future__ import annotations

import ast
import builtins
import inspect
import linecache
import math
import sys
import textwrap
import typing
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from types import CodeType
from typing import Any

from calc.language.quantities import Kind
from calc.language.working.tree import (
    TWO,
    Call,
    Choice,
    Comparison,
    Logic,
    Node,
    Number,
    Pi,
    Power,
    Root,
    Slot,
    divided,
    multiplied,
    negated,
    summed,
    turned,
)


class NotAFormula(TypeError):
    """A marked function that cannot be shown; the text names the function and what to change."""


FUNCTIONS: dict[Any, tuple[str, int]] = {
    math.sqrt: ("sqrt", 1),
    math.sin: ("sin", 1),
    math.cos: ("cos", 1),
    math.tan: ("tan", 1),
    math.asin: ("asin", 1),
    math.acos: ("acos", 1),
    math.atan: ("atan", 1),
    math.exp: ("exp", 1),
    math.log: ("log", 1),
    math.ceil: ("ceil", 1),
    math.floor: ("floor", 1),
    abs: ("abs", 1),
    math.fabs: ("abs", 1),
    math.atan2: ("atan2", 2),
    math.hypot: ("hypot", 2),
    min: ("min", 0),
    max: ("max", 0),
}
"""The functions that a formula may call, by name and number of arguments (0: two or more)."""

COMPARED: dict[type[ast.cmpop], str] = {
    ast.Lt: "<",
    ast.LtE: "≤",
    ast.Gt: ">",
    ast.GtE: "≥",
    ast.Eq: "=",
    ast.NotEq: "≠",
}


@dataclass(frozen=True, slots=True)
class Constant:
    """A number of the module that a formula refers to by name."""

    name: str
    value: float
    kind: Kind


@dataclass(frozen=True, slots=True)
class Body:
    """A formula as read: its expression, the kinds of result and parameters, the constants after them."""

    tree: Node
    result: Kind
    parameters: tuple[Kind, ...]
    constants: tuple[Constant, ...]


def read(function: Callable[..., float]) -> Body:
    """The function's expression and kinds; raises NotAFormula, saying what to change, where it cannot be shown."""
    hints = typing.get_type_hints(function, include_extras=True)
    names = function.__code__.co_varnames[: function.__code__.co_argcount]
    reader = _Reader(function, {name: Slot(index) for index, name in enumerate(names)})
    tree = reader.node(returned(function))
    kinds = tuple(_kind(function, name, hints.get(name)) for name in names)
    return Body(tree, _kind(function, "return", hints.get("return")), kinds, tuple(reader.constants))


def _fail(function: Callable[..., float], why: str) -> NotAFormula:
    return NotAFormula(f"{function.__module__}.{function.__qualname__}: {why}")


def _kind(function: Callable[..., float], name: str, hint: Any) -> Kind:
    kind = _kind_of(hint)
    if kind is None:
        raise _fail(function, f"{name!r} needs a kind, such as Length or Angle, as its annotation")
    return kind


def _kind_of(hint: Any) -> Kind | None:
    if typing.get_origin(hint) is typing.Final:
        return _kind_of(typing.get_args(hint)[0])
    return next((extra for extra in getattr(hint, "__metadata__", ()) if isinstance(extra, Kind)), None)


def returned(function: Callable[..., float]) -> ast.expr:
    """The one expression that the function returns, as Python's syntax; raises NotAFormula if there is not just one."""
    definition = _definition(function)
    body = definition.body
    if isinstance(body[0], ast.Expr) and isinstance(body[0].value, ast.Constant):
        body = body[1:]
    if len(body) != 1 or not isinstance(body[0], ast.Return) or body[0].value is None:
        raise _fail(function, "a formula is one return expression; let a plain function do the other statements")
    return body[0].value


def _definition(function: Callable[..., float]) -> ast.FunctionDef:
    try:
        module = ast.parse(textwrap.dedent(inspect.getsource(function)))
    except (OSError, SyntaxError, IndentationError) as error:
        raise _fail(function, "its source cannot be read, so it cannot be shown") from error
    finally:
        linecache.clearcache()  # the whole module's text, which nobody needs again
    definition = module.body[0]
    if not isinstance(definition, ast.FunctionDef):
        raise _fail(function, "a formula is written with def")
    if not function.__code__.co_freevars and _altered(function, module):
        raise _fail(function, "its source was changed after it was loaded; restart to show what runs")
    return definition


def _altered(function: Callable[..., float], module: ast.Module) -> bool:
    """Whether the source as it is now would run differently from the code that was loaded."""
    compiled = compile(module, "<formula>", "exec", dont_inherit=True)
    fresh = next(code for code in _codes(compiled) if code.co_name == function.__name__)
    return _essence(fresh) != _essence(function.__code__)


def _codes(code: CodeType) -> Iterator[CodeType]:
    for constant in code.co_consts:
        if isinstance(constant, CodeType):
            yield constant
            yield from _codes(constant)


def _essence(code: CodeType) -> tuple[object, ...]:
    numbers = [constant for constant in code.co_consts if not isinstance(constant, str | CodeType)]
    return code.co_code, code.co_names, code.co_varnames, numbers


@dataclass(slots=True)
class _Reader:
    """Turns Python's syntax tree of one function into ours, gathering the constants it meets."""

    function: Callable[..., float]
    slots: dict[str, Slot]
    constants: list[Constant] = field(default_factory=list)

    def node(self, expression: ast.expr) -> Node:  # noqa: PLR0911 (one case per kind of syntax)
        match expression:
            case ast.Constant(value=bool()) | ast.Constant(value=str()):
                raise self.fail(expression, "is not a number")
            case ast.Constant(value=int() | float() as value):
                return Number(Fraction(Decimal(repr(value))))
            case ast.Name() | ast.Attribute():
                return self.name(expression)
            case ast.UnaryOp(op=ast.USub()):
                return negated(self.node(expression.operand))
            case ast.UnaryOp(op=ast.UAdd()):
                return self.node(expression.operand)
            case ast.UnaryOp(op=ast.Not()):
                return Logic("not", (self.node(expression.operand),))
            case ast.BinOp():
                return self.operation(expression)
            case ast.Call():
                return self.call(expression)
            case ast.IfExp(test, body, orelse):
                return Choice(self.node(test), self.node(body), self.node(orelse))
            case ast.Compare():
                return self.comparison(expression)
            case ast.BoolOp(op, values):
                word = "and" if isinstance(op, ast.And) else "or"
                return Logic(word, tuple(self.node(value) for value in values))
        raise self.fail(expression, "cannot stand in a formula")

    def fail(self, expression: ast.expr, why: str) -> NotAFormula:
        return _fail(self.function, f"{ast.unparse(expression)!r} {why}")

    def operation(self, expression: ast.BinOp) -> Node:
        left, right = self.node(expression.left), self.node(expression.right)
        match expression.op:
            case ast.Add():
                return summed((left, right))
            case ast.Sub():
                return summed((left, turned(right)))
            case ast.Mult():
                return multiplied(left, right)
            case ast.Div():
                return divided(left, right)
            case ast.Pow():
                return Power(left, right)
        raise self.fail(expression, "uses an operator that a formula does not know")

    def comparison(self, expression: ast.Compare) -> Node:
        if not all(type(operator) in COMPARED for operator in expression.ops):
            raise self.fail(expression, "compares in a way that a formula does not know")
        terms = (self.node(expression.left), *(self.node(term) for term in expression.comparators))
        return Comparison(tuple(COMPARED[type(operator)] for operator in expression.ops), terms)

    def call(self, expression: ast.Call) -> Node:
        known = FUNCTIONS.get(meaning_of(self.function, expression.func))
        if known is None:
            names = ", ".join(sorted(name for name, _ in FUNCTIONS.values()))
            raise self.fail(expression, f"calls what no formula calls: only {names}; plain functions compose formulas")
        name, arity = known
        given = len(expression.args)
        if expression.keywords or any(isinstance(part, ast.Starred) for part in expression.args):
            raise self.fail(expression, "must be given plain arguments")
        if given != arity and (arity or given < 2):
            raise self.fail(expression, f"must be given {arity or 'two or more'} arguments")
        arguments = tuple(self.node(argument) for argument in expression.args)
        if name == "hypot":
            return Root(summed(tuple(Power(argument, TWO) for argument in arguments)))
        return Root(arguments[0]) if name == "sqrt" else Call(name, arguments)

    def name(self, expression: ast.Name | ast.Attribute) -> Node:
        if isinstance(expression, ast.Name) and expression.id in self.slots:
            return self.slots[expression.id]
        value = meaning_of(self.function, expression)
        if value is math.pi:
            return Pi()
        if not isinstance(expression, ast.Name) or isinstance(value, bool) or not isinstance(value, int | float):
            raise self.fail(expression, "is neither a parameter nor a number of the module")
        return self.constant(expression, float(value))

    def constant(self, expression: ast.Name, value: float) -> Slot:
        kind = _kind_of(_module_hint(self.function, expression.id))
        if kind is None:
            raise self.fail(expression, "needs a kind, such as Length or Ratio, as its annotation")
        self.constants.append(Constant(expression.id, value, kind))
        self.slots[expression.id] = Slot(len(self.slots))
        return self.slots[expression.id]


def meaning_of(function: Callable[..., float], expression: ast.expr) -> Any:
    """The object that a name or a dotted name in a function stands for; raises NotAFormula if it is not defined."""
    if isinstance(expression, ast.Attribute):
        return getattr(meaning_of(function, expression.value), expression.attr, None)
    if not isinstance(expression, ast.Name):
        raise _fail(function, f"{ast.unparse(expression)!r} cannot stand in a formula")
    scope = inspect.getclosurevars(function)
    for names in (scope.nonlocals, function.__globals__, vars(builtins)):
        if expression.id in names:
            return names[expression.id]
    raise _fail(function, f"{ast.unparse(expression)!r} is not defined")


def _module_hint(function: Callable[..., float], name: str) -> Any:
    """The annotation of a name of the function's module, evaluated."""
    module = sys.modules.get(function.__module__)
    known = inspect.get_annotations(module) if module else function.__globals__.get("__annotations__", {})
    if name not in known:
        return None

    def holder() -> None: ...

    holder.__annotations__ = {name: known[name]}
    return typing.get_type_hints(holder, function.__globals__, include_extras=True)[name]
