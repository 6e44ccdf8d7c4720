"""From runs to whole contours: the likeliest combinations of the alternatives of each run."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from calc.contour.solving.checks import Check
from calc.contour.solving.noroot import NoRoot, Sizes
from calc.contour.solving.plausible import (
    bends,
    corners,
    cost_of_bend,
    cost_of_element,
    cost_of_joint,
    cost_of_mirrored,
    smooth_joints,
    sweep_of,
)
from calc.contour.solving.runs import Branch, Run, Settling
from calc.contour.solving.structure import Block
from calc.contour.solving.unknowns import Piece, Values
from calc.contour.tolerance import GAP

WIDTH = 40
"""Combinations that are followed from run to run."""

LAST = 128
"""Combinations that are told apart by what they are like as a whole."""

OFF = 1e4
"""What a dimension that disagrees by the size of the part adds to the cost where that does not refuse a combination."""


class Whole(NamedTuple):
    """One combination: its cost, the alternative of each run, and the values."""

    cost: float
    choices: tuple[int, ...]
    values: Values

    def place(self) -> tuple[float, tuple[int, ...]]:
        """Where it stands among others; what rounding makes of equal costs does not count."""
        return (round(self.cost, 6), self.choices)


@dataclass(slots=True)
class _Stage:
    """What can be judged once a run is chosen."""

    run: Run
    late: list[Block]
    checks: list[Check]
    pieces: list[Piece]
    corners: list[tuple[Piece, Piece]]
    bends: list[tuple[int, int]]


class Combining:
    """Combines runs one after another, judging each combination as soon as it can be judged.

    ``is_lenient`` follows the combinations that disagree least where a redundant dimension agrees with none.
    """

    def __init__(
        self, settling: Settling, checks: Sequence[Check], sizes: Sizes, most: int, *, is_lenient: bool = False
    ) -> None:
        self.settling, self.sizes, self.is_lenient = settling, sizes, is_lenient
        self.width = max(WIDTH, 2 * most)
        self.runs = settling.runs()
        self.rank = {id(run): i for i, run in enumerate(self.runs)}
        self.of_late: dict[int, int] = {}
        self.refused: NoRoot | None = None
        self.has_failed = False
        self.truncated = False
        self._set_stages(checks)

    def _set_stages(self, checks: Sequence[Check]) -> None:
        self.stages = [_Stage(run, [], [], [], [], []) for run in self.runs]
        self.first = _Stage(Run(alternatives=[{}]), [], [], [], [], [])
        for block in self.settling.late:
            rank = self._rank_of(var for equation in block.equations for var in equation.involves)
            self.of_late.update(dict.fromkeys(block.unknown, rank))
            self._stage(rank).late.append(block)
        settled = self.settling.common.keys() | self.settling.owner.keys() | self.of_late.keys()
        pieces = [piece for piece in self.sizes.unknowns.pieces if settled.issuperset(piece.variables)]
        self.smooth = smooth_joints(pieces)
        for check in checks:
            if settled.issuperset(check.variables):
                self._stage(self._rank_of(check.variables)).checks.append(check)
        for piece in pieces:
            self._stage(self._rank_of(piece.variables)).pieces.append(piece)
        for bend in bends(pieces):
            self._stage(self._rank_of(bend)).bends.append(bend)
        for before, after in corners(pieces):
            self._stage(self._rank_of((before.arrive, after.leave))).corners.append((before, after))

    def _stage(self, rank: int) -> _Stage:
        return self.stages[rank] if rank >= 0 else self.first

    def _rank_of(self, variables: Iterable[int]) -> int:
        rank = -1
        for var in variables:
            run = self.settling.owner.get(var)
            rank = max(rank, self.of_late.get(var, -1) if run is None else self.rank[id(run)])
        return rank

    def best(self) -> list[Whole]:
        """The likeliest combinations, the likeliest first; none if no combination stands."""
        wholes = [Whole(0.0, (), Branch(self.settling.common, {}))]
        wholes = self._judged(wholes, self.first, counts=False)
        for number, stage in enumerate(self.stages, 1):
            wholes = self._judged(wholes, stage)
            if number == len(self.stages):
                wholes = [whole._replace(cost=whole.cost + self._cost_of_repeats(whole.values)) for whole in wholes]
            wholes = sorted(wholes, key=Whole.place)
            width = self.width if number < len(self.stages) else max(self.width, LAST)
            if len(wholes) > width:
                self.truncated = True
            wholes = wholes[:width]
        return wholes

    def _judged(self, wholes: list[Whole], stage: _Stage, *, counts: bool = True) -> list[Whole]:
        judged = []
        for whole in wholes:
            for index, alternative in enumerate(stage.run.alternatives):
                values = Branch(self.settling.common, {**whole.values, **alternative})
                cost = self._cost(stage, values)
                if cost is not None:
                    choices = (*whole.choices, index) if counts else ()
                    judged.append(Whole(whole.cost + cost, choices, values))
        return judged

    def _cost(self, stage: _Stage, values: Values) -> float | None:
        """What the choice adds to the cost; None if it cannot be."""
        cost = self._cost_of_checks(stage, values) if self._late_stand(stage, values) else None
        if cost is None:
            return None
        for piece in stage.pieces:
            if self._is_nothing(piece, values):
                return None
            cost += cost_of_element(piece, values, self.sizes.size)
        cost += sum(cost_of_bend(values[a].real, values[b].real) for a, b in stage.bends)
        return cost + sum(cost_of_joint(values[a.arrive], values[b.leave]) for a, b in stage.corners)

    def _cost_of_repeats(self, values: Values) -> float:
        return cost_of_mirrored([values[var] for var in self.smooth])

    def _late_stand(self, stage: _Stage, values: Values) -> bool:
        for block in stage.late:
            try:
                found = self.settling.solutions(block, [values])[0]
            except NoRoot as reason:
                self.refused = reason
                return False
            values.update(found[0])
        return True

    def _cost_of_checks(self, stage: _Stage, values: Values) -> float | None:
        cost = 0.0
        for check in stage.checks:
            off = check.off_by(values)
            if abs(off) > check.slack:
                self.has_failed = True
                if not self.is_lenient:
                    return None
                cost += OFF * check.in_sizes(off, self.sizes.size)
            elif abs(off) <= GAP * self.sizes.size:
                check.settle_exactly(values)
        return cost

    def failed(self, whole: Whole) -> list[tuple[Check, float]]:
        """The redundant dimensions that disagree in a combination, each with the others' value less its own."""
        judged = [check for stage in (self.first, *self.stages) for check in stage.checks]
        offs = [(check, check.off_by(whole.values)) for check in judged]
        return [(check, off) for check, off in offs if abs(off) > check.slack]

    def _is_nothing(self, piece: Piece, values: Values) -> bool:
        """Whether an arc has shrunk to a point or closed to a circle."""
        if piece.is_line:
            return False
        step = complex(
            (values[piece.end] - values[piece.start]).real, (values[piece.end + 1] - values[piece.start + 1]).real
        )
        if abs(step) > GAP * self.sizes.size:
            return False
        self.refused = NoRoot(self.settling.equations_of(piece.index), abs(sweep_of(piece, values)), "nothing")
        return True
