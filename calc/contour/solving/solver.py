"""From what a print gives to every contour that it can mean."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress

from calc.contour.solving.building import built, settled
from calc.contour.solving.changing import dimension_of, longer, may_reach, without
from calc.contour.solving.checks import check_of
from calc.contour.solving.combining import Combining
from calc.contour.solving.given import NAMES, GivenElement, Start, require_sound
from calc.contour.solving.habits import Habits
from calc.contour.solving.noroot import NoRoot, Sizes
from calc.contour.solving.notes import notes_on
from calc.contour.solving.runs import Settling
from calc.contour.solving.solution import MOST_SOLUTIONS, Solutions
from calc.contour.solving.structure import Block, Preference, Structure, doubting, finest_first, nominal_first
from calc.contour.solving.undergiven import UnderGiven, open_after_all, under_given
from calc.contour.solving.unknowns import Unknowns, Values
from calc.contour.solving.why import contradiction, impossible
from calc.language.messages import Quantity
from calc.language.problems import Contradiction, Impossible, Missing, Problem
from calc.language.quantities import LEAST_SLACK

USUAL = Habits()

MOST_DOUBTED = 8
"""Dimensions of an over-given contour that are doubted one after another before it is said to contradict itself."""


def solve(
    start: Start, elements: Sequence[GivenElement], *, most: int = MOST_SOLUTIONS, habits: Habits = USUAL
) -> Solutions:
    """Every contour with the given dimensions: its points, centres, radii and angles.

    ``start`` and ``elements`` hold what the print gives (mm, rad, radii, ISO signs; None where it gives nothing).
    Runs of unknowns that depend on each other are solved in closed form where each direction leaves a cone and at most
    one quadratic remains, otherwise numerically. A dimension that the others determine must agree with them within
    half of its last decimal. At most ``most`` solutions are returned, the likeliest first: what
    ``habits`` say of the tool's side and the bar counts.

    Raises `OutOfRange` for values that cannot be meant, `UnderGiven` (a `Missing`) where more must be given,
    `Contradiction` where dimensions disagree, `Impossible` where they have no solution.

    >>> face = GivenElement("line", z=0.0, angle=1.5707963267948966)
    >>> side = GivenElement("line", z=-20.0, r=15.0, angle=3.141592653589793)
    >>> solve(Start(0.0, 0.0), [face, side]).solutions[0].joints[1]
    Point(z=0.0, r=15.0)
    """
    require_sound(start, elements)
    unknowns = Unknowns(start, elements)
    first = Attempt(unknowns, nominal_first, habits)
    try:
        return first.solutions(most)
    except (Contradiction, Impossible) as problem:
        answer = first.again(most)
        if answer is not None:
            return answer
        if isinstance(problem, Contradiction):
            raise first.telling_otherwise(problem) from None
        raise problem from None


class Attempt:
    """One way to settle a contour: which dimensions are believed and which are only checked."""

    def __init__(self, unknowns: Unknowns, preference: Preference, habits: Habits) -> None:
        self.unknowns, self.habits = unknowns, habits
        self.structure = Structure(unknowns, preference)
        self.sizes = Sizes(unknowns, _size(unknowns))
        self.reason: NoRoot | None = None
        self.settling = Settling(dict(self.structure.equations.known), self.sizes, _coupled)

    def solutions(self, most: int) -> Solutions:
        """The solutions. Raises `UnderGiven`, `Contradiction`, `Impossible`."""
        loose = self.structure.loose()
        try:
            self.settling.settle([b for b in self.structure.blocks() if loose.isdisjoint(b.unknown)])
        except NoRoot as reason:
            self.reason = reason
            raise self._failure(reason, is_loose=bool(loose)) from None
        checks = [check_of(one, self.unknowns) for one in self.structure.redundant]
        combining = Combining(self.settling, checks, self.sizes, most)
        wholes = combining.best()
        if not wholes:
            raise self._refusal(combining)
        if loose:
            missing = under_given(self.structure)
            missing.settled = settled(wholes[0], self.unknowns)
            raise missing
        solutions, more = built(wholes, combining, self.unknowns, most, self.habits)
        complete = self.settling.complete and not combining.truncated
        return Solutions(solutions, complete, more or combining.truncated, notes_on(self.unknowns))

    def _failure(self, reason: NoRoot, *, is_loose: bool) -> UnderGiven | Impossible:
        """A block without a solution: by what is given, or because some of it says one thing twice."""
        if is_loose and reason.kind == "open":
            return under_given(self.structure)
        if is_loose or (reason.kind == "parallel" and reason.gap > LEAST_SLACK["mm"]):
            return impossible(reason, self.unknowns)
        return open_after_all(self.structure, reason) or impossible(reason, self.unknowns)

    def _refusal(self, combining: Combining) -> Contradiction | Impossible:
        if combining.failed:
            return contradiction(combining.failed)
        return impossible(combining.refused, self.unknowns)

    def again(self, most: int) -> Solutions | None:
        """The solutions when other dimensions are believed: rounded ones may agree one way and miss another way.

        None where no choice of what is only checked leads to a contour.
        """
        if not self.settling.complete:
            return None
        circuits = [fact for one in self.structure.redundant for fact in one.circuit]
        doubted = [doubting(fact) for fact in list(dict.fromkeys(circuits))[:MOST_DOUBTED]]
        for preference in [finest_first, *doubted] if circuits else ():
            with suppress(Contradiction, Impossible, Missing):
                return Attempt(self.unknowns, preference, self.habits).solutions(most)
        return self._touching(most)

    def _touching(self, most: int) -> Solutions | None:
        """The solutions where a radius or length that only rounding keeps from reaching is taken to reach."""
        reason = self.reason
        for fact in self.unknowns.facts if reason is not None else ():
            if reason is not None and may_reach(fact, reason):
                reaching = Unknowns(*longer(fact, reason.gap, self.unknowns))
                with suppress(Problem):
                    return Attempt(reaching, nominal_first, self.habits).solutions(most)
        return None

    def telling_otherwise(self, problem: Contradiction) -> Contradiction:
        """The same contradiction with what each of its dimensions would be if it were left to the others."""
        otherwise = dict(problem.otherwise)
        doubted = [fact for fact in self.unknowns.facts if fact.field in problem.fields]
        for fact in doubted[:MOST_DOUBTED] if self.settling.complete else ():
            with suppress(Problem):
                start, elements = without(fact, self.unknowns)
                (solution,) = Attempt(Unknowns(start, elements), nominal_first, self.habits).solutions(1).solutions
                value = dimension_of(solution.sharp, fact.element, fact.name)
                otherwise.setdefault(fact.field, Quantity(value, NAMES[fact.name].kind))
        return Contradiction(*problem.faults, fields=problem.fields, otherwise=otherwise)


def _coupled(block: Block, branches: list[Values], sizes: Sizes) -> list[list[Values]]:
    from calc.contour.solving.coupled import solve_coupled  # noqa: PLC0415 - numpy is loaded where a run stays coupled

    return solve_coupled(block, branches, sizes)


def _size(unknowns: Unknowns) -> float:
    """What rounding is relative to: the largest length given, mm."""
    lengths = [abs(fact.value) for fact in unknowns.facts if fact.name != "angle"]
    return max(lengths, default=1.0) or 1.0
