"""From blocks to runs: what is settled once, and the runs of unknowns that keep alternatives.

Blocks are solved in order. What has one solution and needs nothing doubtful becomes part of the common values; a block
with several solutions opens a run, and what depends on it joins that run. A block that needs several runs joins them,
unless nothing depends on it: then it waits until the runs are combined. What a redundant dimension refuses is let go as
soon as it is known, and what all alternatives of a run share is common again: so a long contour stays many short runs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from calc.contour.solving.checks import Check
from calc.contour.solving.closed import solve_closed
from calc.contour.solving.noroot import NoRoot, NotClosed, Sizes
from calc.contour.solving.plausible import (
    bends,
    corners,
    cost_of_bend,
    cost_of_element,
    cost_of_joint,
    cost_of_mirrored,
    smooth_joints,
)
from calc.contour.solving.structure import Block
from calc.contour.solving.turning import possible
from calc.contour.solving.unknowns import Equation, Values
from calc.contour.tolerance import GAP, ROUNDING

MOST_ALTERNATIVES = 384
"""Alternatives of one run that are followed; beyond that the answer says that there may be more."""

CLEAR = 20.0
"""A dimension off by more than this many times its rounding refuses an alternative clearly."""

MOST_COUPLED = 48
"""Alternatives that a numerical block is solved for."""


class Branch(dict[int, complex]):
    """Values of one alternative over the common ones."""

    def __init__(self, common: Values, own: Values) -> None:
        super().__init__(own)
        self.common = common

    def __missing__(self, var: int) -> complex:
        return self.common[var]

    def get(self, var: int, default: complex | None = None) -> complex | None:  # type: ignore[override]  # one default
        """The value, or the default for what is not known yet."""
        return self[var] if var in self or var in self.common else default


@dataclass(eq=False)
class Run:
    """Unknowns that depend on each other, with every way they can be."""

    variables: set[int] = field(default_factory=set)
    alternatives: list[Values] = field(default_factory=list)


CoupledSolver = Callable[[Block, list[Values], Sizes], list[list[Values]]]
"""The numerical part: for each of several alternatives, the solutions found."""


class Settling:
    """Solves the blocks of a contour one after another. ``complete`` says whether all solutions were found."""

    def __init__(self, common: Values, sizes: Sizes, coupled: CoupledSolver, checks: Iterable[Check] = ()) -> None:
        self.common, self.sizes, self.coupled = common, sizes, coupled
        self.complete = True
        self.owner: dict[int, Run] = {}
        self.checks: dict[int, list[Check]] = {}
        for check in checks:
            for var in check.variables:
                self.checks.setdefault(var, []).append(check)
        self.late: list[Block] = []
        self.equations: list[Equation] = []

    def settle(self, blocks: list[Block]) -> None:
        """Solve all blocks. Raises `NoRoot` for one that has no solution."""
        self.equations = [equation for block in blocks for equation in block.equations]
        needed = {var for block in blocks for var in self._inputs(block)}
        for block in blocks:
            owners = self._owners(block)
            if len(owners) > 1 and self._can_wait(block) and not needed.intersection(block.unknown):
                self.late.append(block)
            elif not owners:
                self._settle_alone(block)
            else:
                self._extend(self._joined(owners), block)

    def runs(self) -> list[Run]:
        """The runs, in the order of the contour."""
        distinct = {id(run): run for run in self.owner.values()}
        return sorted(distinct.values(), key=lambda run: min(run.variables))

    def equations_of(self, element: int) -> list[Equation]:
        """The equations of one element."""
        return [equation for equation in self.equations if equation.element == element]

    @staticmethod
    def _inputs(block: Block) -> Iterable[int]:
        own = set(block.unknown)
        return {var for equation in block.equations for var in equation.unknown if var not in own}

    def _can_wait(self, block: Block) -> bool:
        """Whether all that the block settles is the length and direction of one line: one solution at most."""
        pieces = self.sizes.unknowns.pieces
        lines = [piece for piece in pieces if piece.is_line and piece.size in block.unknown]
        return len(lines) == 1 and set(block.unknown) <= {lines[0].size, lines[0].leave}

    def _owners(self, block: Block) -> list[Run]:
        found = {id(self.owner[var]): self.owner[var] for var in self._inputs(block) if var in self.owner}
        return list(found.values())

    def _settle_alone(self, block: Block) -> None:
        try:
            found = self.solutions(block, [self.common])[0]
        except NotClosed:
            found = self._coupled(block, [self.common])[0]
        if len(found) == 1:
            self.common.update(found[0])
            return
        run = Run(alternatives=found)
        self._claim(run, block.unknown)
        self._narrow(run, block.unknown)

    def _claim(self, run: Run, variables: Iterable[int]) -> None:
        run.variables.update(variables)
        for var in variables:
            self.owner[var] = run

    def _narrow(self, run: Run, new: Iterable[int]) -> None:
        """Leave the alternatives that no redundant dimension refuses clearly; what they then share is common to all.

        So what depends on that alone need not join this run.
        """
        before = len(run.alternatives)
        for check in dict.fromkeys(check for var in new for check in self.checks.get(var, ())):
            if all(var in run.variables or var in self.common for var in check.variables):
                offs = [abs(check.off_by(branch)) for branch in self._branches(run)]
                most = CLEAR * max(check.slack, min(offs))
                run.alternatives = [own for own, off in zip(run.alternatives, offs, strict=True) if off <= most]
        self._share(run, new if len(run.alternatives) == before else tuple(run.variables))

    def _share(self, run: Run, variables: Iterable[int]) -> None:
        first, *others = run.alternatives
        for var in variables:
            if all(abs(own[var] - first[var]) <= ROUNDING * self.sizes.size for own in others):
                self.common[var] = first[var]
                run.variables.remove(var)
                del self.owner[var]
                for own in run.alternatives:
                    del own[var]

    def _joined(self, runs: list[Run]) -> Run:
        """One run of every combination of several."""
        whole = runs[0]
        for other in runs[1:]:
            pairs = [{**a, **b} for a in whole.alternatives for b in other.alternatives]
            whole.alternatives = self._capped(pairs)
            self._claim(whole, other.variables)
        return whole

    def _capped(self, alternatives: list[Values], most: int = MOST_ALTERNATIVES) -> list[Values]:
        """The likeliest of too many alternatives, as far as their elements are known yet."""
        if len(alternatives) <= most:
            return alternatives
        self.complete = False
        known = self.common.keys() | alternatives[0].keys()
        alternatives = possible(alternatives, self.sizes.unknowns.pieces, self.common) or alternatives
        pieces = [piece for piece in self.sizes.unknowns.pieces if known.issuperset(piece.variables)]
        pairs = corners(pieces)
        smooth = bends([p for p in self.sizes.unknowns.pieces if p.size in known])
        joints = smooth_joints(pieces)

        def cost(own: Values) -> float:
            values = Branch(self.common, own)
            elements = sum(cost_of_element(piece, values, self.sizes.size) for piece in pieces)
            bends = sum(cost_of_bend(values[a].real, values[b].real) for a, b in smooth)
            repeats = cost_of_mirrored([values[var] for var in joints])
            return elements + bends + repeats + sum(cost_of_joint(values[a.arrive], values[b.leave]) for a, b in pairs)

        return sorted(alternatives, key=cost)[:most]

    def _extend(self, run: Run, block: Block) -> None:
        try:
            found = self.solutions(block, self._branches(run))
        except NotClosed:
            run.alternatives = self._capped(run.alternatives, MOST_COUPLED)
            found = self._coupled(block, self._branches(run))
        pairs = zip(run.alternatives, found, strict=True)
        run.alternatives = [{**own, **new} for own, news in pairs for new in news]
        self._claim(run, block.unknown)
        self._narrow(run, block.unknown)
        run.alternatives = self._capped(run.alternatives)

    def _branches(self, run: Run) -> list[Values]:
        return [Branch(self.common, own) for own in run.alternatives]

    def _coupled(self, block: Block, branches: list[Values]) -> list[list[Values]]:
        """The numerical solutions of a block. Raises `NoRoot` where none is found."""
        self.complete = False
        found = [self._sound(news, block)[0] for news in self.coupled(block, branches, self.sizes)]
        if not any(found):
            raise NoRoot(block.equations, kind="coupled")
        return found

    def solutions(self, block: Block, branches: list[Values]) -> list[list[Values]]:
        """The sound solutions in closed form of a block for each branch.

        Raises the last `NoRoot` if no branch has any, `NotClosed` where there is no closed form.
        """
        reason: NoRoot | None = None
        found: list[list[Values]] = []
        for branch in branches:
            news, failed = self._of_branch(block, branch)
            found.append(news)
            reason = failed or reason
        if not any(found):
            raise reason or NoRoot(block.equations)
        return found

    def _of_branch(self, block: Block, branch: Values) -> tuple[list[Values], NoRoot | None]:
        try:
            solved = solve_closed(block, branch, self.sizes)
        except NoRoot as reason:
            if reason.kind == "open":
                raise
            return [], reason
        sound, backward = self._sound(solved, block)
        return sound, backward

    def _sound(self, solutions: list[Values], block: Block) -> tuple[list[Values], NoRoot | None]:
        """The solutions with lengths above zero and arcs that turn as given; and why there are none."""
        least = GAP * self.sizes.size
        sound: list[Values] = []
        backward: NoRoot | None = None
        for values in solutions:
            wrong = [var for var in values if self._is_wrong(var, values[var], least)]
            if wrong:
                gap = abs(values[wrong[0]])
                kind = "backward" if gap > least else "nothing"
                backward = NoRoot([_equation_with(wrong[0], block.equations)], gap, kind)
            else:
                sound.append(values)
        return sound, backward

    def _is_wrong(self, var: int, value: complex, least: float) -> bool:
        if var in self.sizes.unknowns.directions:
            return False
        sign = self.sizes.unknowns.signs.get(var)
        return sign is not None and (value.real * sign if sign else abs(value)) <= least


def _equation_with(var: int, equations: list[Equation]) -> Equation:
    return next(equation for equation in equations if var in equation.involves)
