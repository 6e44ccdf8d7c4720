"""Dimensions of which a print gives some: the others are found, redundant ones are held to what the rest gives.

A `System` is a list of named terms and of ways from some of them to another one. Whatever is given, the smallest set
that settles the rest is looked for; values are rounded on prints, so of several such sets the one is taken that meets
all other given values best, each within half of its last decimal.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

from calc.language.factor import DEGREE
from calc.language.given import Given, slack_of
from calc.language.messages import Capital, Listed, Message, Quantity, Value
from calc.language.problems import Contradiction, Fault, Missing, Problem
from calc.language.quantities import LENGTH, Kind
from calc.language.working import recording

LEAST_SLACK = {"angle": DEGREE.times(0.0005), "ratio": 5e-6}
"""By how much a value that nobody typed may differ and still agree, where it is no length (rad, 1)."""

LEAST_LENGTH = 0.0005
"""mm."""


@dataclass(frozen=True, slots=True)
class Term:
    """One dimension of a system: the field's name, its kind, its noun in a sentence ("mouth diameter").

    `told` is how a sentence gives its value where "a mouth diameter of Ø60 mm" would be clumsy.
    """

    name: str
    kind: Kind
    noun: str
    told: str = ""

    def said(self, value: Value) -> Message:
        """How a sentence gives a value of it.

        >>> Term("depth", LENGTH, "depth").said(Quantity(4.5, LENGTH, brief=True)).say()
        'a depth of 4.5 mm'
        """
        if self.told:
            return Message(self.told, {self.name: value})
        text = "an {noun} of {size}" if self.noun[0] in "aeio" else "a {noun} of {size}"
        return Message(text, {"noun": self.noun, "size": value})


@dataclass(frozen=True, slots=True)
class Way:
    """A way to the term `target` from the terms `sources`; the function may raise `Problem` where there is none."""

    target: str
    sources: tuple[str, ...]
    function: Callable[..., float]


@dataclass(frozen=True, slots=True)
class Solved:
    """What is known in the end (internal units), and which of it nobody gave, in the order of the terms.

    `notes` say which given value had to move, within its rounding, to close with the others.
    """

    values: Mapping[str, float]
    solved: tuple[str, ...]
    notes: tuple[Message, ...] = ()

    def __getitem__(self, name: str) -> float:
        return self.values[name]

    def get(self, name: str) -> float | None:
        """The value, None while it is open."""
        return self.values.get(name)

    @property
    def first(self) -> str:
        """The first term that the others settled, "" when there is none."""
        return self.solved[0] if self.solved else ""


@dataclass(frozen=True)
class System:
    """Terms and the ways between them; `ask` says what to give when nearly nothing is given."""

    terms: tuple[Term, ...]
    ways: tuple[Way, ...]
    ask: str

    @cached_property
    def by_name(self) -> dict[str, Term]:
        """The terms by their names."""
        return {term.name: term for term in self.terms}

    @cached_property
    def _reached(self) -> dict[frozenset[str], frozenset[str]]:
        return {}

    @cached_property
    def _bases(self) -> dict[frozenset[str], tuple[tuple[str, ...], ...]]:
        return {}

    def reach(self, names: Iterable[str]) -> frozenset[str]:
        """All terms that the named ones settle, themselves included; each set of names is followed once."""
        key = frozenset(names)
        if key not in self._reached:
            reached = set(key)
            while new := {way.target for way in self.ways if reached.issuperset(way.sources)} - reached:
                reached |= new
            self._reached[key] = frozenset(reached)
        return self._reached[key]

    def bases(self, names: Iterable[str]) -> tuple[tuple[str, ...], ...]:
        """The smallest sets of the named terms that settle all of them; each set of names is looked at once."""
        key = frozenset(names)
        if key not in self._bases:
            listed = [term.name for term in self.terms if term.name in key]
            sizes = (tuple(combinations(listed, size)) for size in range(len(listed) + 1))
            sufficient = (tuple(base for base in bases if self.reach(base) >= key) for bases in sizes)
            self._bases[key] = next(bases for bases in sufficient if bases)
        return self._bases[key]

    def filled(self, base: Mapping[str, float]) -> dict[str, float]:
        """The values that follow from the base, with it. Raises `Problem` where there are none."""
        values = dict(base)
        open_ways = [way for way in self.ways if way.target not in values]
        while ready := next((way for way in open_ways if all(name in values for name in way.sources)), None):
            values[ready.target] = ready.function(*(values[name] for name in ready.sources))
            open_ways = [way for way in open_ways if way.target not in values]
        return values


def solve(system: System, given: Mapping[str, float | None]) -> Solved:
    """Everything that the given values (None: blank) settle. What stays open is left out.

    Raises `Contradiction` when they disagree, and what the ways raise where the values have no solution.

    >>> from calc.language.quantities import DIAMETER, RADIUS
    >>> circle = System(
    ...     (Term("radius", RADIUS, "radius"), Term("diameter", DIAMETER, "diameter")),
    ...     (Way("radius", ("diameter",), lambda D: D / 2), Way("diameter", ("radius",), lambda R: 2 * R)),
    ...     "Give the radius or the diameter.",
    ... )
    >>> solve(circle, {"radius": 30.0, "diameter": None})
    Solved(values={'radius': 30.0, 'diameter': 60.0}, solved=('diameter',), notes=())
    """
    known = {name: value for name, value in given.items() if value is not None}
    values = system.filled(_base(system, known))
    solved = tuple(term.name for term in system.terms if term.name in values and term.name not in known)
    return Solved(values, solved, tuple(_rounding_notes(system, known, values)))


def _rounding_notes(system: System, known: Mapping[str, float], values: Mapping[str, float]) -> Iterator[Message]:
    """Says of a given value that another one was taken, where that shows."""
    text = "The given dimensions agree within their rounding only: here the {noun} is {value}, so that they close."
    for name, given in known.items():
        term = system.by_name[name]
        if abs(values[name] - given) > LEAST_SLACK.get(term.kind.dimension, LEAST_LENGTH):
            yield Message(text, {"noun": term.noun, "value": Quantity(values[name], term.kind)})


def require_settled(system: System, given: Mapping[str, float | None], wanted: Iterable[str]) -> None:
    """Raise `Missing`, naming the dimensions of which one more would do, unless all the wanted ones are settled.

    >>> from calc.language.quantities import DIAMETER, RADIUS
    >>> circle = System((Term("radius", RADIUS, "radius"),), (), "Give the radius.")
    >>> require_settled(circle, {"radius": None}, ("radius",))
    Traceback (most recent call last):
    calc.language.problems.Missing: radius: Give the radius.
    """
    known = {name for name, value in given.items() if value is not None}
    needed = set(wanted)
    if needed <= system.reach(known):
        return
    blank = [term for term in system.terms if term.name in given and term.name not in system.reach(known)]
    enough = [term for term in blank if needed <= system.reach(known | {term.name})]
    if not known or not enough:
        raise Missing(*(Fault(term.name, Message("{ask}", {"ask": system.ask})) for term in blank))
    have = [term for term in system.terms if term.name in known]
    values: dict[str, Value] = {"have": _nouns(have, " and "), "others": _nouns(enough, " or ")}
    message = Message("With {have}, one more is needed: {others}.", values)
    raise Missing(*(Fault(term.name, message) for term in enough))


def _base(system: System, known: Mapping[str, float]) -> dict[str, float]:
    """The given values to start from: the smallest set that settles all given ones and meets the others best."""
    bases = [{name: known[name] for name in names} for names in system.bases(known)]
    if len(bases[0]) == len(known):
        return bases[0]
    with recording():
        rated = [(_misfit(system, known, base), index) for index, base in enumerate(bases)]
    misfit, index = min(rated)
    if misfit > 1.0:
        raise _disagreement(system, known)
    return bases[index]


def _misfit(system: System, known: Mapping[str, float], base: Mapping[str, float]) -> float:
    """The largest difference from a given value, in units of what it may differ by; infinite without a solution."""
    found = _quietly_filled(system, base)
    if found is None:
        return math.inf
    return max(abs(found[name] - value) / _slack(value, system.by_name[name].kind) for name, value in known.items())


def _quietly_filled(system: System, base: Mapping[str, float]) -> dict[str, float] | None:
    try:
        return system.filled(base)
    except (Problem, ArithmeticError, ValueError):  # this set of dimensions has no solution: another one may
        return None


def _slack(value: float, kind: Kind) -> float:
    if isinstance(value, Given):
        return value.slack
    return LEAST_SLACK.get(kind.dimension, slack_of(value))


def _disagreement(system: System, known: Mapping[str, float]) -> Contradiction:
    parties = [name for name in known if name in system.reach(set(known) - {name})]
    otherwise = {name: value for name in parties if (value := _without(system, known, name)) is not None}
    said = {name: Quantity(value, system.by_name[name].kind, brief=True) for name, value in known.items()}
    if not otherwise:
        text = "{sizes} do not go together. Leave out the one that is not on the print."
        sizes = _sizes(system, {name: said[name] for name in parties})
        return Contradiction(Fault(parties[-1], Message(text, {"sizes": sizes})), fields=tuple(parties))
    blamed = list(otherwise)[-1]
    term, found = system.by_name[blamed], otherwise[blamed]
    text = "{others} gives {found}; {given} differs from that by {gap}. Leave out the one that is not on the print."
    if len(known) > 2:
        text = "{others} give {found}; {given} differs from that by {gap}. Leave out the one that is not on the print."
    values: dict[str, Value] = {
        "others": _sizes(system, {name: size for name, size in said.items() if name != blamed}),
        "found": term.said(found),
        "given": said[blamed],
        "gap": Quantity(abs(found.value - known[blamed]), _plain(term.kind)),
    }
    fault = Fault(blamed, Message(text, values))
    return Contradiction(fault, fields=tuple(parties), otherwise=otherwise)


def _without(system: System, known: Mapping[str, float], name: str) -> Quantity | None:
    """What a given dimension becomes when it is let go; None when the others disagree still, or give none."""
    rest = {other: value for other, value in known.items() if other != name}
    try:
        with recording():
            return Quantity(solve(system, rest)[name], system.by_name[name].kind)
    except (Problem, ArithmeticError, ValueError):  # letting this one go does not help
        return None


def _plain(kind: Kind) -> Kind:
    """The kind of a difference: a length bears no sign of a diameter or a radius."""
    return LENGTH if kind.dimension == "length" else kind


def _nouns(terms: Iterable[Term], last: str) -> Listed:
    return Listed(tuple(Message("the {name}", {"name": term.noun}) for term in terms), last=last)


def _sizes(system: System, said: Mapping[str, Quantity]) -> Capital:
    return Capital(Listed(tuple(system.by_name[name].said(size) for name, size in said.items())))
