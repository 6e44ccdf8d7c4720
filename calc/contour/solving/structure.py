"""Which equation settles which unknown, what is given twice, and in which order the blocks are solved.

Equations and unknowns are matched one to one along augmenting paths. An equation that finds no unknown closes a
*circuit* of dimensions, one of which is redundant: the least preferred is set aside, to be checked once the contour is
known. Unknowns that stay unmatched are under-given. What is matched falls into irreducible blocks (the strongly
connected components), each solved from those before it: the Dulmage-Mendelsohn decomposition.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple, TypeAlias

from calc.contour.solving.equations import Equations
from calc.contour.solving.unknowns import Equation, Fact, Unknowns

Preference: TypeAlias = Callable[[Fact], tuple[float, ...]]
"""The smaller, the sooner a dimension is believed."""


class Redundant(NamedTuple):
    """A dimension that the others determine; ``circuit`` are all that take part, itself included."""

    fact: Fact
    circuit: tuple[Fact, ...]
    tangents: tuple[int, ...]


@dataclass(slots=True)
class Block:
    """Equations that settle as many unknowns together."""

    equations: list[Equation]
    unknown: list[int]


def nominal_first(fact: Fact) -> tuple[float, ...]:
    """Radii and angles are what the designer chose; of lengths, the rounder a number the likelier."""
    rank = {"radius": 0.0, "angle": 1.0}.get(fact.name, 2.0)
    return (rank, -fact.slack, fact.element)


def finest_first(fact: Fact) -> tuple[float, ...]:
    """The more decimals were typed, the more a number fixes."""
    return (fact.slack * (100.0 if fact.name == "angle" else 1.0), fact.element)


def doubting(doubted: Iterable[Fact]) -> Preference:
    """Believe all but these dimensions."""
    names = {(fact.element, fact.name) for fact in doubted}

    def preference(fact: Fact) -> tuple[float, ...]:
        return (float((fact.element, fact.name) in names), *nominal_first(fact))

    return preference


class Structure:
    """The equations of a contour matched with its unknowns."""

    def __init__(self, unknowns: Unknowns, preference: Preference) -> None:
        self.unknowns = unknowns
        self.preference = cache(preference)
        self.redundant: list[Redundant] = []
        self._match()

    def _match(self) -> None:
        """Match all equations; start again where a dropped dimension changes what the equations are."""
        while True:
            self.equations = Equations(self.unknowns, {one.fact for one in self.redundant})
            self.settles: dict[int, Equation] = {}
            if all(self._place(equation) for equation in list(self.equations.all)):
                break
        self.redundant += [self._again(fact) for fact in self.equations.spare]

    def _again(self, fact: Fact) -> Redundant:
        first = self.equations.facts.get(fact.var, fact)
        return Redundant(fact, (first, fact), tuple(self.unknowns.sharing(fact.var)))

    def _place(self, equation: Equation) -> bool:
        """Match one equation, setting a dimension aside if need be; False if the equations must be made anew."""
        if equation.fact is not None and any(equation.fact is one.fact for one in self.redundant):
            return True
        circuit = self._augment(equation)
        if not circuit:
            return True
        facts = self._facts_in(circuit)
        if not facts:
            return True
        least = max(facts, key=self.preference)
        self.redundant.append(Redundant(least, tuple(facts), self._tangents_in(circuit)))
        if self.equations.shapes(least):
            return False
        self._set_aside(least)
        if equation.fact is not least:
            self._augment(equation)
        return True

    def _set_aside(self, fact: Fact) -> None:
        for var in [var for var, equation in self.settles.items() if equation.fact is fact]:
            del self.settles[var]
        self.equations.forget(fact)

    def _augment(self, equation: Equation) -> list[Equation]:
        """Match along a shortest augmenting path; where there is none, the equations that it was sought through."""
        reached, came = [equation], {}
        for one in reached:
            for var in one.unknown:
                if var in came:
                    continue
                came[var] = one
                other = self.settles.get(var)
                if other is None:
                    self._flip(var, came)
                    return []
                reached.append(other)
        return reached

    def _flip(self, var: int, came: dict[int, Equation]) -> None:
        while True:
            equation = came[var]
            before = next((v for v in equation.unknown if self.settles.get(v) is equation), None)
            self.settles[var] = equation
            if before is None:
                return
            var = before

    def _facts_in(self, circuit: list[Equation]) -> list[Fact]:
        facts = [one.fact for one in circuit if one.fact is not None]
        known = self.equations.facts
        for one in circuit:
            facts += [known[v] for v in one.involves if v in known]
            if one.kind in ("axis", "level") and one.link is not None:
                facts += self.equations.of_axis.get(one.link.direction, ())
                angle = known.get(one.link.direction)
                facts += [angle] if angle is not None else []
        return list(dict.fromkeys(facts))

    def _tangents_in(self, circuit: list[Equation]) -> tuple[int, ...]:
        if not self.unknowns.shared:
            return ()
        directions = {one.link.direction for one in circuit if one.link is not None}
        return tuple(sorted(index for direction in directions for index in self.unknowns.sharing(direction)))

    def free(self) -> list[int]:
        """The unknowns that nothing settles."""
        settled = self.settles.keys() | self.equations.known.keys()
        return [var for var in range(self.unknowns.count) if var not in settled]

    def loose(self) -> set[int]:
        """The unknowns that stay open as long as the free ones do."""
        loose, queue = set(self.free()), self.free()
        var_of = {id(equation): var for var, equation in self.settles.items()}
        for var in queue:
            for equation in self.equations.users.get(var, ()):
                settled = var_of.get(id(equation))
                if settled is not None and settled not in loose:
                    loose.add(settled)
                    queue.append(settled)
        return loose

    def blocks(self) -> list[Block]:
        """The irreducible blocks, each after those that it needs."""
        return [Block([self.settles[v] for v in component], component) for component in self._components()]

    def _components(self) -> Iterator[list[int]]:
        """Tarjan's algorithm over the unknowns, without recursion."""
        order: dict[int, int] = {}
        low: dict[int, int] = {}
        stack: list[int] = []
        on_stack: set[int] = set()
        for root in self.settles:
            if root in order:
                continue
            work = [(root, iter(self._needs(root)))]
            order[root] = low[root] = len(order)
            stack.append(root)
            on_stack.add(root)
            while work:
                var, needs = work[-1]
                for other in needs:
                    if other not in order:
                        order[other] = low[other] = len(order)
                        stack.append(other)
                        on_stack.add(other)
                        work.append((other, iter(self._needs(other))))
                        break
                    if other in on_stack:
                        low[var] = min(low[var], order[other])
                else:
                    work.pop()
                    if work:
                        low[work[-1][0]] = min(low[work[-1][0]], low[var])
                    if low[var] == order[var]:
                        yield self._popped(var, stack, on_stack)

    @staticmethod
    def _popped(var: int, stack: list[int], on_stack: set[int]) -> list[int]:
        component = []
        while True:
            last = stack.pop()
            on_stack.discard(last)
            component.append(last)
            if last == var:
                return component

    def _needs(self, var: int) -> list[int]:
        return [other for other in self.settles[var].unknown if other != var and other in self.settles]
