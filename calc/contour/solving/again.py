"""What is tried when the first way to settle a print fails: numbers are rounded, some say one thing twice."""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import suppress

from calc.contour.solving.attempt import Attempt
from calc.contour.solving.changing import dimension_of, longer, may_reach, without
from calc.contour.solving.given import NAMES
from calc.contour.solving.solution import Solutions
from calc.contour.solving.structure import Preference, doubting, finest_first, nominal_first
from calc.contour.solving.undergiven import UnderGiven
from calc.contour.solving.unknowns import Fact, Unknowns
from calc.contour.solving.why import disagreement
from calc.language.messages import Quantity
from calc.language.problems import Contradiction, Problem

CLEARLY_LESS = 0.5
"""Another dimension is blamed where it would have to change by less than this share."""

MOST_DOUBTED = 8
MOST_DOUBTED_COUPLED = 3
"""Dimensions of an over-given contour that are doubted one after another before it is said to contradict itself.

Where more than so many disagree they are rounded, and none alone is to blame.
"""


class Again:
    """Other attempts at a print whose ``first`` one came to a ``problem``."""

    def __init__(self, first: Attempt, problem: Problem) -> None:
        self.first, self.problem = first, problem
        self.attempts = [first]

    def solutions(self, most: int) -> Solutions:
        """The solutions where other dimensions are believed, or all are moved within their rounding.

        Raises the first attempt's problem where none leads to a contour.
        """
        for preference in self._preferences():
            attempt = Attempt(self.first.unknowns, preference, self.first.habits)
            with suppress(Problem):
                return attempt.solutions(most)
            are_rounded = attempt.disagreeing > MOST_DOUBTED >= max(one.disagreeing for one in self.attempts)
            self.attempts.append(attempt)
            if are_rounded and (found := self._reconciled(most)):
                return found
        found = self._reconciled(most) or self._touching(most)
        if found is None:
            raise self._named() from None
        return found

    def _preferences(self) -> Iterator[Preference]:
        """What to believe: not what repeats the rest, the finest, all but one of those not only checked already."""
        redundant = self.first.structure.redundant
        if not redundant:
            return
        if isinstance(self.problem, UnderGiven):
            yield doubting(self._repeating())
        yield finest_first
        checked = {one.fact for one in redundant}
        circuits = [fact for one in redundant for fact in sorted(one.circuit, key=nominal_first, reverse=True)]
        most = MOST_DOUBTED if self.first.settling.complete else MOST_DOUBTED_COUPLED
        doubted = [fact for fact in dict.fromkeys(circuits) if fact not in checked]
        yield from (doubting([fact]) for fact in doubted[:most])

    def _repeating(self) -> list[Fact]:
        from calc.contour.solving.freedom import repeating  # noqa: PLC0415 - numpy is loaded where something is missing

        return repeating(self.first.structure, sorted(self.first.unknowns.facts, key=nominal_first))

    def _reconciled(self, most: int) -> Solutions | None:
        near = [attempt for attempt in self.attempts if attempt.nearest]
        facts = self.first.unknowns.facts
        for attempt in sorted(near, key=lambda one: one.nearest[0].cost) or self._without_one():
            with suppress(Problem):
                found = attempt.reconciled(facts, most)
                if found is not None:
                    return found
        return None

    def _without_one(self) -> Iterator[Attempt]:
        """Attempts without one of the dimensions around what has no solution."""
        reason, unknowns = self.first.reason, self.first.unknowns
        elements = {equation.element for equation in reason.equations} if reason is not None else set()
        for fact in [fact for fact in unknowns.facts if fact.element in elements][:MOST_DOUBTED]:
            attempt = Attempt(Unknowns(*without(fact, unknowns)), nominal_first, self.first.habits)
            with suppress(Problem):
                attempt.solutions(1)
            if attempt.nearest:
                yield attempt

    def _touching(self, most: int) -> Solutions | None:
        """The solutions where a radius or length that only rounding keeps from reaching is taken to reach."""
        reason, unknowns = self.first.reason, self.first.unknowns
        for fact in unknowns.facts if reason is not None else ():
            if reason is not None and may_reach(fact, reason):
                reaching = Unknowns(*longer(fact, reason.gap, unknowns))
                with suppress(Problem):
                    return Attempt(reaching, nominal_first, self.first.habits).solutions(most)
        return None

    def _named(self) -> Problem:
        """The first problem; a contradiction with what each dimension would be if it were left to the others.

        The dimension that has to change least shows by how much they disagree, but for what nobody typed.
        """
        problem = self.problem
        if not isinstance(problem, Contradiction):
            return problem
        facts = [fact for fact in self.first.unknowns.facts if fact.field in problem.fields]
        others = {fact: value for fact in facts[:MOST_DOUBTED] if (value := self._left_to_the_others(fact)) is not None}
        changes = {fact: self._in_mm(fact, value - fact.value) for fact, value in others.items() if not fact.is_level}
        named = next((change for fact, change in changes.items() if fact.field == problem.fields[0]), math.inf)
        least = min(changes, key=changes.__getitem__, default=None)
        if least is not None and changes[least] < named * CLEARLY_LESS:
            problem = disagreement(least, others[least], problem.fields)
        otherwise = {fact.field: Quantity(value, NAMES[fact.name].kind) for fact, value in others.items()}
        return Contradiction(*problem.faults, fields=problem.fields, otherwise={**problem.otherwise, **otherwise})

    def _in_mm(self, fact: Fact, off: float) -> float:
        return abs(off) * (self.first.sizes.size if fact.name == "angle" else 1.0)

    def _left_to_the_others(self, fact: Fact) -> float | None:
        """What a dimension would be without it, the nearest to what is given; None where that is open."""
        if not self.first.settling.complete:
            return None
        with suppress(Problem):
            attempt = Attempt(Unknowns(*without(fact, self.first.unknowns)), nominal_first, self.first.habits)
            found = attempt.solutions(MOST_DOUBTED).solutions
            values = [dimension_of(one.sharp, fact.element, fact.name) for one in found]
            return min(values, key=lambda value: abs(value - fact.value))
        return None
