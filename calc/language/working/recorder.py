"""The mark `@formula` and the recorder that notes which formulas a calculation ran, with what, and what came out."""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any, Generic, NamedTuple, ParamSpec

from calc.language.quantities import METRIC, View
from calc.language.working.reading import Body, NotAFormula, read
from calc.language.working.showing import Layout, Shown, lay_out

P = ParamSpec("P")


class Formula(Generic[P]):
    """A function marked `@formula`: called like the function itself, and noted while somebody records.

    `source` is the standard, handbook section or "common practice" that it comes from, `means` what it gives in words,
    `symbols` the names to show: the result's first, then one for each parameter.
    """

    def __init__(self, function: Callable[P, float], source: str, means: str, symbols: tuple[str, ...]) -> None:
        functools.update_wrapper(self, function)
        self.function = function
        self.source = source
        self.means = means
        self.symbols = symbols
        self.arity = len(symbols) - 1
        self.constant_symbols: Mapping[str, str] = {}
        self._layouts: dict[tuple[object, ...], Layout] = {}

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> float:
        """The function's own value; a step is noted if a recording is under way."""
        value = self.function(*args, **kwargs)
        steps = _recorded()
        if steps is not None:
            arguments: tuple[Any, ...] = args if len(args) == self.arity else self.positional(args, kwargs)
            steps.append(_new(Step, (self, arguments, value, "", self.symbols)))
        return value

    def __repr__(self) -> str:
        return f"<formula {self.name}>"

    @property
    def name(self) -> str:
        """The function's full name, module included."""
        return f"{self.function.__module__}.{self.function.__qualname__}"

    @property
    def parameters(self) -> tuple[str, ...]:
        """The names of the function's parameters."""
        return _parameters(self.function)

    @functools.cached_property
    def body(self) -> Body:
        """The formula as read from the function's source; raises NotAFormula if it cannot be shown."""
        return read(self.function)

    def layout(self, view: View = METRIC, symbols: tuple[str, ...] = ()) -> Layout:
        """The formula laid out for a reader, made on first use; raises NotAFormula if it cannot be shown."""
        symbols = symbols or self.symbols
        key = (view.units, view.x, view.zplus, view.language, symbols)
        found = self._layouts.get(key)
        if found is None:
            found = self._layouts[key] = self._laid_out(view, symbols)
        return found

    def _laid_out(self, view: View, symbols: tuple[str, ...]) -> Layout:
        """A layout that is shared by all views with the same units for this formula."""
        body = self.body
        kinds = (body.result, *body.parameters, *(constant.kind for constant in body.constants))
        key = (symbols, *(kind.unit(view) for kind in kinds))
        if key not in self._layouts:
            named = (self.constant_symbols.get(constant.name, constant.name) for constant in body.constants)
            self._layouts[key] = lay_out(self.name, body, (*symbols, *named), view)
        return self._layouts[key]

    def at(self, where: str, *, result: str = "", **symbols: str) -> Placed[P]:
        """The same formula for one place of the calculation, with symbols of that place.

        Raises NotAFormula for a symbol of something that is no parameter.

        >>> from calc.language.quantities import Diameter, Radius
        >>> @formula(source="definition", means="radius of a circle", result="R")
        ... def radius(D: Diameter) -> Radius:
        ...     return D / 2
        >>> with recording() as steps:
        ...     half = radius.at("at the mouth", D="D_m", result="R_m")(56.0)
        >>> half, steps[0].where, steps[0].symbols
        (28.0, 'at the mouth', ('R_m', 'D_m'))
        """
        return Placed(self, where, _renamed(self, result, symbols))

    def positional(self, args: tuple[Any, ...], kwargs: Mapping[str, Any]) -> tuple[float, ...]:
        """The arguments of a call in the order of the parameters, defaults filled in."""
        defaults = self.function.__defaults__ or ()
        named = dict(zip(self.parameters[::-1], defaults[::-1], strict=False)) | dict(kwargs)
        return args + tuple(named[name] for name in self.parameters[len(args) :])


class Placed(Generic[P]):
    """A formula that stands for one place of a calculation (`Formula.at`)."""

    __slots__ = ("formula", "function", "symbols", "where")

    def __init__(self, formula: Formula[P], where: str, symbols: tuple[str, ...]) -> None:
        self.formula = formula
        self.function = formula.function
        self.where = where
        self.symbols = symbols

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> float:
        """The function's own value; a step is noted if a recording is under way."""
        value = self.function(*args, **kwargs)
        steps = _recorded()
        if steps is not None:
            formula = self.formula
            arguments: tuple[Any, ...] = args if len(args) == formula.arity else formula.positional(args, kwargs)
            steps.append(_new(Step, (formula, arguments, value, self.where, self.symbols)))
        return value

    def __repr__(self) -> str:
        return f"<formula {self.formula.name} {self.where}>"


class Step(NamedTuple):
    """One formula that ran: with which arguments (internal units), to which value, and where."""

    formula: Formula[...]
    arguments: tuple[float, ...]
    value: float
    where: str
    symbols: tuple[str, ...]

    def plain(self, view: View = METRIC) -> Shown:
        """The step as plain text for a reader with `view`; `str` of it is one line.

        >>> from math import pi
        >>> from calc.language.quantities import Diameter, SpindleSpeed, SurfaceSpeed
        >>> @formula(source="common practice", means="spindle speed at a surface speed", result="n")
        ... def spindle_speed(v: SurfaceSpeed, D: Diameter) -> SpindleSpeed:
        ...     return v / (pi * D)
        >>> with recording() as steps:
        ...     n = spindle_speed(220_000.0, 2 * (90.0**2 - 85.5**2) ** 0.5)
        >>> print(steps[0].plain())
        n = 1000 v / (π D) = 1000 × 220 / (π × 56.205) = 1246 1/min
        """
        layout = self.formula.layout(view, self.symbols)
        return layout.plain.shown(layout.filled(self.arguments, self.value))

    def mathml(self, view: View = METRIC) -> Shown:
        """The step as three MathML elements, safe to put into a page, for a reader with `view`."""
        layout = self.formula.layout(view, self.symbols)
        return layout.mathml.shown(layout.filled(self.arguments, self.value))


_steps: ContextVar[list[Step] | None] = ContextVar("steps", default=None)
_recorded = _steps.get
_new = tuple.__new__  # twice as fast as calling Step
_registry: dict[str, Formula[...]] = {}


@contextmanager
def recording() -> Iterator[list[Step]]:
    """Note every formula that runs inside the block, in the order in which they finish.

    A recording inside a recording keeps its steps to itself: a part of a calculation can be left out of the working.

    >>> with recording() as steps:
    ...     pass
    >>> steps
    []
    """
    steps: list[Step] = []
    token = _steps.set(steps)
    try:
        yield steps
    finally:
        _steps.reset(token)


def formula(
    *, source: str, means: str, result: str, symbols: Mapping[str, str] | None = None
) -> Callable[[Callable[P, float]], Formula[P]]:
    """Mark a function as a formula of the working.

    The function is one `return` expression in coherent units whose parameters and result have kinds (`quantities`).
    `result` is the symbol of the result; parameters are shown by their names (`alpha` as α, `D_m` with a subscript)
    unless `symbols` says otherwise, constants of the module too. Raises NotAFormula for parameters that
    cannot be shown.

    >>> from calc.language.quantities import Diameter, Radius
    >>> @formula(source="definition", means="radius of a circle", result="R")
    ... def radius(D: Diameter) -> Radius:
    ...     return D / 2
    >>> radius(60.0), radius.symbols
    (30.0, ('R', 'D'))
    """

    def mark(function: Callable[P, float]) -> Formula[P]:
        marked = Formula(function, source, means, (result, *_parameters(function)))
        named = symbols or {}
        marked.constant_symbols = {name: named[name] for name in function.__code__.co_names if name in named}
        marked.symbols = _renamed(marked, result, {k: v for k, v in named.items() if k not in marked.constant_symbols})
        if "<locals>" not in function.__qualname__:
            _registry[marked.name] = marked
        return marked

    return mark


def all_formulas() -> tuple[Formula[...], ...]:
    """Every formula of the modules imported so far, in the order of definition."""
    return tuple(_registry.values())


def _parameters(function: Callable[..., float]) -> tuple[str, ...]:
    code = function.__code__
    if code.co_flags & (inspect.CO_VARARGS | inspect.CO_VARKEYWORDS) or code.co_kwonlyargcount:
        raise NotAFormula(f"{function.__qualname__}: a formula has plain parameters, no *, ** or keyword-only ones")
    return code.co_varnames[: code.co_argcount]


def _renamed(formula: Formula[...], result: str, symbols: Mapping[str, str]) -> tuple[str, ...]:
    unknown = symbols.keys() - set(formula.parameters)
    if unknown:
        raise NotAFormula(f"{formula.name} has no parameter {', '.join(sorted(unknown))}")
    named = zip(formula.parameters, formula.symbols[1:], strict=True)
    return (result or formula.symbols[0], *(symbols.get(name, symbol) for name, symbol in named))
