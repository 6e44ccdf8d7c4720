"""One way to settle a contour: which dimensions are believed and which are only checked."""

from __future__ import annotations

from collections.abc import Sequence

from calc.contour.solving.building import built, settled
from calc.contour.solving.checks import check_of
from calc.contour.solving.combining import Combining, Whole
from calc.contour.solving.habits import Habits
from calc.contour.solving.noroot import NoRoot, Sizes
from calc.contour.solving.notes import notes_on
from calc.contour.solving.runs import Settling
from calc.contour.solving.solution import Solutions
from calc.contour.solving.structure import Block, Preference, Structure
from calc.contour.solving.undergiven import UnderGiven, open_after_all, under_given
from calc.contour.solving.unknowns import Fact, Unknowns, Values
from calc.contour.solving.why import contradiction, impossible
from calc.language.given import LEAST_SLACK
from calc.language.problems import Contradiction, Impossible

MOST_RECONCILED = 6
SAME_MISFIT = 10.0
"""Combinations that are reconciled: those that disagree by about as much as the one that disagrees least."""


class Attempt:
    """One way to settle a contour: which dimensions are believed and which are only checked."""

    def __init__(self, unknowns: Unknowns, preference: Preference, habits: Habits) -> None:
        self.unknowns, self.habits = unknowns, habits
        self.structure = Structure(unknowns, preference)
        self.sizes = Sizes(unknowns, _size(unknowns))
        self.reason: NoRoot | None = None
        self.checks = [check_of(one, unknowns) for one in self.structure.redundant]
        self.settling = Settling(dict(self.structure.equations.known), self.sizes, _coupled, self.checks)
        self.nearest: tuple[Whole, ...] = ()
        self.disagreeing = 0

    def solutions(self, most: int) -> Solutions:
        """The solutions. Raises `UnderGiven`, `Contradiction`, `Impossible`."""
        loose = self.structure.loose()
        try:
            self.settling.settle([b for b in self.structure.blocks() if loose.isdisjoint(b.unknown)])
        except NoRoot as reason:
            self.reason = reason
            raise self._failure(reason, is_loose=bool(loose)) from None
        combining = Combining(self.settling, self.checks, self.sizes, most)
        wholes = combining.best()
        if not wholes:
            raise self._refusal(combining)
        if loose:
            missing = under_given(self.structure)
            missing.settled = settled(wholes[0], self.unknowns)
            raise missing
        self.nearest = tuple(wholes)
        return self._answer(wholes, combining, most)

    def reconciled(self, facts: Sequence[Fact], most: int) -> Solutions | None:
        """Solutions that have these dimensions within their rounding, from those that disagree least; None without."""
        from calc.contour.solving.reconciling import reconciled  # noqa: PLC0415 - numpy is loaded where it is needed

        near = [whole for whole in self.nearest if whole.cost <= self.nearest[0].cost + SAME_MISFIT][:MOST_RECONCILED]
        found = [
            whole._replace(values=values) for whole in near if (values := reconciled(whole.values, self.sizes, facts))
        ]
        return self._answer(found, self._combining(most), most) if found else None

    def _answer(self, wholes: Sequence[Whole], combining: Combining, most: int) -> Solutions:
        solutions, more = built(wholes, combining, self.unknowns, most, self.habits)
        complete = self.settling.complete and not combining.truncated
        return Solutions(solutions, complete, more or combining.truncated, notes_on(self.unknowns))

    def _combining(self, most: int) -> Combining:
        return Combining(self.settling, self.checks, self.sizes, most, is_lenient=True)

    def _failure(self, reason: NoRoot, *, is_loose: bool) -> UnderGiven | Impossible:
        """A block without a solution: by what is given, or because some of it says one thing twice."""
        if is_loose and reason.kind == "open":
            return under_given(self.structure)
        if is_loose or (reason.kind == "parallel" and reason.gap > LEAST_SLACK["mm"]):
            return impossible(reason, self.unknowns)
        return open_after_all(self.structure, reason) or impossible(reason, self.unknowns)

    def _refusal(self, combining: Combining) -> Contradiction | Impossible:
        lenient = self._combining(1)
        near = tuple(lenient.best()) if combining.has_failed else ()
        if near:
            self.nearest = () if self.structure.loose() else near
            failed = lenient.failed(near[0])
            self.disagreeing = len(failed)
            return contradiction(failed)
        return impossible(combining.refused, self.unknowns)


def _coupled(block: Block, branches: list[Values], sizes: Sizes) -> list[list[Values]]:
    from calc.contour.solving.coupled import solve_coupled  # noqa: PLC0415 - numpy is loaded where a run stays coupled

    return solve_coupled(block, branches, sizes)


def _size(unknowns: Unknowns) -> float:
    """What rounding is relative to: the largest length given, mm."""
    lengths = [abs(fact.value) for fact in unknowns.facts if fact.name != "angle"]
    return max(lengths, default=1.0) or 1.0
