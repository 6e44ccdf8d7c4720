"""Likely directions of a chain of smoothly joined arcs, from which the block that they stay coupled in is improved.

Where every arc has its radius and its step along one axis, the sine (or cosine) of each direction is that of the first
one and what is known: a single number is free, and each direction keeps the choice of two. What has to be met, the step
of the whole chain along the other axis, is a sum over the directions, and so is the cost. The likeliest rows of choices
are therefore found from joint to joint, a few for each place that the chain comes to, and for each of them the free
number by where the sum passes what it should be. Source: dynamic programming; arc end - start = radius * i (e - e').
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from calc.contour.solving.noroot import Sizes
from calc.contour.solving.plausible import LONG_ARC
from calc.contour.solving.structure import Block
from calc.contour.solving.unknowns import Part, Piece, Values

Numbers: TypeAlias = NDArray[np.float64]
Choices: TypeAlias = NDArray[np.int8]

SAMPLES = 65
"""Values of the free number that are looked at, closest at its ends, where two choices come together."""

PLACES = 32
"""So many places along the other axis are told apart at a joint."""

KEPT = 4
"""Rows of choices that are followed to each of them."""

HALVINGS = 40


@dataclass(frozen=True)
class Followed:
    """Arcs in a row: their directions' unknowns, radii (positive for ccw), the axis of the known steps, these steps.

    All in units of the part's size. `whole` is the step of all along the other axis.
    """

    directions: tuple[int, ...]
    radii: Numbers
    part: Part
    steps: Numbers
    whole: float


def followed(block: Block, known: Values, sizes: Sizes) -> Followed | None:
    """The arcs of a block where they are such a chain, None where they are not."""
    turning = sizes.unknowns.directions.intersection(block.unknown)
    arcs = [p for p in sizes.unknowns.pieces if not p.is_line and turning.issuperset((p.leave, p.arrive))]
    joined = all(before.arrive == after.leave for before, after in pairwise(arcs))
    if not joined or len(turning) != len(arcs) + 1 or any(known.get(arc.size) is None for arc in arcs):
        return None
    parts: tuple[Part, Part] = (0, 1)
    for part in parts:
        steps = _steps(arcs, part, known)
        whole = _step(arcs[0].start + 1 - part, arcs[-1].end + 1 - part, known)
        if steps is not None and whole is not None:
            radii = np.array([known[arc.size].real for arc in arcs]) / sizes.size
            directions = (arcs[0].leave, *(arc.arrive for arc in arcs))
            return Followed(directions, radii, part, np.array(steps) / sizes.size, whole / sizes.size)
    return None


def _steps(arcs: Sequence[Piece], part: Part, known: Values) -> list[float] | None:
    steps = [_step(arc.start + part, arc.end + part, known) for arc in arcs]
    found = [step for step in steps if step is not None]
    return found if len(found) == len(steps) else None


def _step(a: int, b: int, known: Values) -> float | None:
    first, last = known.get(a), known.get(b)
    return None if first is None or last is None else (last - first).real


def likeliest(chain: Followed, most: int) -> Numbers:
    """The directions (rad) of at most so many ways that the chain can run, one a row, the likeliest first."""
    ways = _Ways(chain)
    if not ways.are_there:
        return np.zeros((0, len(chain.directions)))
    choices = ways.choices()
    choices, at = ways.roots(choices)
    headings = ways.headings(choices, ways.shares(at))
    order = np.argsort(ways.cost(headings), kind="stable")[:most]
    return headings[order]


class _Ways:
    """The ways of a chain. `level` is the sine or cosine of each direction less that of the first one."""

    def __init__(self, chain: Followed) -> None:
        self.chain = chain
        sign = 1.0 if chain.part == 0 else -1.0
        self.level = np.concatenate([[0.0], np.cumsum(sign * chain.steps / chain.radii)])
        low, high = -1.0 - self.level.min(), 1.0 - self.level.max()
        self.middle, self.half = (low + high) / 2.0, (high - low) / 2.0
        self.are_there = self.half > 0.0
        ends = np.concatenate([chain.radii, [0.0]]) - np.concatenate([[0.0], chain.radii])
        self.weights = sign * ends
        self.samples = np.linspace(-np.pi / 2.0, np.pi / 2.0, SAMPLES)

    def shares(self, at: Numbers) -> Numbers:
        """The known share of each direction, a row for each value of the free number, given as an angle."""
        levels: Numbers = (self.middle + self.half * np.sin(at))[:, None] + self.level
        return np.clip(levels, -1.0, 1.0)

    def headings(self, choices: Choices, shares: Numbers) -> Numbers:
        """The directions, rad."""
        other = choices * np.sqrt(1.0 - shares**2)
        found: Numbers = np.arctan2(shares, other) if self.chain.part == 0 else np.arctan2(other, shares)
        return found

    def cost(self, headings: Numbers) -> Numbers:
        """The cost of the arcs, as that of the elements of a solution."""
        found: Numbers = _cost_of_sweeps(headings[:, :-1], headings[:, 1:], self.chain.radii).sum(axis=1)
        return found

    def choices(self) -> Choices:
        """The rows of choices that are likely for any of the samples."""
        shares = self.shares(self.samples)
        other = self.weights * np.sqrt(1.0 - shares**2)
        rows = np.repeat(np.arange(SAMPLES), 2)
        found: Choices = np.tile(np.array([[1], [-1]], dtype=np.int8), (SAMPLES, 1))
        place, cost = found[:, 0] * other[rows, 0], np.zeros(len(rows))
        wide = 2.0 * abs(other).sum(axis=1).max() / PLACES
        for at in range(1, shares.shape[1]):
            rows, found = np.repeat(rows, 2), np.repeat(found, 2, axis=0)
            new = np.tile(np.array([1, -1], dtype=np.int8), len(place))
            two = np.column_stack([found[:, -1], new])
            ends = self.headings(two, shares[rows, at - 1 : at + 1])
            cost = np.repeat(cost, 2) + _cost_of_sweeps(ends[:, 0], ends[:, 1], self.chain.radii[at - 1])
            place = np.repeat(place, 2) + new * other[rows, at]
            kept = _best_of_each(np.column_stack([rows, np.floor(place / wide), new]), cost)
            rows, place, cost = rows[kept], place[kept], cost[kept]
            found = np.column_stack([found, new])[kept]
        return np.unique(found, axis=0)

    def roots(self, choices: Choices) -> tuple[Choices, Numbers]:
        """Where along the samples each row of choices comes to the whole step: the row, and the free number."""
        off = choices @ (self.weights * np.sqrt(1.0 - self.shares(self.samples) ** 2)).T - self.chain.whole
        row, sample = np.nonzero(off[:, :-1] * off[:, 1:] <= 0.0)
        low, high, sign = self.samples[sample], self.samples[sample + 1], off[row, sample]
        for _ in range(HALVINGS):
            middle = (low + high) / 2.0
            passed = self._off(choices[row], middle) * sign <= 0.0
            low, high = np.where(passed, low, middle), np.where(passed, middle, high)
        return choices[row], (low + high) / 2.0

    def _off(self, choices: Choices, at: Numbers) -> Numbers:
        found: Numbers = (choices * self.weights * np.sqrt(1.0 - self.shares(at) ** 2)).sum(axis=1) - self.chain.whole
        return found


def _cost_of_sweeps(start: Numbers, end: Numbers, radii: Numbers) -> Numbers:
    """The cost of arcs (radii positive for ccw) between two headings, as `cost_of_element` has it."""
    sweep = np.mod(np.sign(radii) * (end - start), 2.0 * np.pi)
    cost: Numbers = sweep / np.pi + sweep * abs(radii) + LONG_ARC * (sweep > np.pi)
    return cost


def _best_of_each(groups: Numbers, cost: Numbers) -> NDArray[np.intp]:
    """The indices of the `KEPT` of least cost in each group of equal rows.

    >>> _best_of_each(np.array([[0], [0], [0], [0], [0], [1]]), np.array([3.0, 1.0, 9.0, 2.0, 4.0, 5.0])).tolist()
    [1, 3, 0, 4, 5]
    """
    order = np.lexsort((cost, *groups.T))
    sorted_groups = groups[order]
    begins = np.concatenate([[True], (sorted_groups[1:] != sorted_groups[:-1]).any(axis=1)])
    first = np.maximum.accumulate(np.where(begins, np.arange(len(order)), 0))
    return order[np.arange(len(order)) - first < KEPT]
