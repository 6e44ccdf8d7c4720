"""Likely directions of a chain of tangent arcs and lines, from which the block that they stay coupled in is improved.

Where every arc has its radius, and every element its step along one axis, the sine (or cosine) of each direction is
that of the first one and what is known: a single number is free, and each direction keeps the choice of two, which a
line along it makes. What has to be met, the step of the whole chain along the other axis, is a sum over the directions,
and so is the cost. The likeliest rows of choices are therefore found from joint to joint, a few for each place that the
chain comes to, and for each of them the free number by where the sum passes what it should be. Rows in which a form
that repeats goes the same way each time are looked at whatever they cost. Source: dynamic programming; arc end - start
= radius * i (e - e').
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise, product
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from calc.contour.solving.noroot import Sizes
from calc.contour.solving.plausible import LONG_ARC, SAME_LEAN, cost_of_mirrored
from calc.contour.solving.structure import Block
from calc.contour.solving.unknowns import Part, Values

Numbers: TypeAlias = NDArray[np.float64]
Choices: TypeAlias = NDArray[np.int8]
Indices: TypeAlias = NDArray[np.intp]

SAMPLES = 65
"""Values of the free number that are looked at, closest at its ends, where two choices come together."""

PLACES = 32
"""So many places along the other axis are told apart at a joint."""

KEPT = 4
"""Rows of choices that are followed to each of them."""

MOST_REPEATED = 8
"""Forms that a chain repeats, for which every row is looked at that has each of them go one way."""

LEAST_SHARE = 1e-6
"""Of a direction's length along the other axis: a line square to that axis stays finite."""

HALVINGS, THIRDS = 40, 20
"""Rounds that narrow a root down between two samples (to 5e-14 rad), and where a sum comes nearest (to 3e-5 rad)."""

NEAR = 0.9
"""A sample that is nearer to the whole step than the two beside it by this share may hide two roots."""


@dataclass(frozen=True)
class Followed:
    """Arcs in a row: their directions' unknowns, radii (positive for ccw), the axis of the known steps, these steps.

    All in units of the part's size. `lines` is the step of the line along each direction, 0 where none is; `whole` is
    the step of all along the other axis.
    """

    directions: tuple[int, ...]
    radii: Numbers
    part: Part
    steps: Numbers
    lines: Numbers
    whole: float


def followed(block: Block, known: Values, sizes: Sizes) -> Followed | None:
    """The arcs and lines of a block where they are such a chain, None where they are not."""
    turning = sizes.unknowns.directions.intersection(block.unknown)
    chain = [p for p in sizes.unknowns.pieces if turning.issuperset((p.leave, p.arrive))]
    arcs = [piece for piece in chain if not piece.is_line]
    joined = all(a.arrive == b.leave and a.end == b.start for a, b in pairwise(chain))
    if not arcs or not joined or len(turning) != len(arcs) + 1 or any(known.get(arc.size) is None for arc in arcs):
        return None
    parts: tuple[Part, Part] = (0, 1)
    for part in parts:
        steps = {piece.index: _step(piece.start + part, piece.end + part, known) for piece in chain}
        whole = _step(chain[0].start + 1 - part, chain[-1].end + 1 - part, known)
        found = {index: step / sizes.size for index, step in steps.items() if step is not None}
        if len(found) == len(chain) and whole is not None:
            directions = (arcs[0].leave, *(arc.arrive for arc in arcs))
            radii = np.array([known[arc.size].real for arc in arcs]) / sizes.size
            along = np.zeros(len(directions))
            for line in (piece for piece in chain if piece.is_line):
                along[directions.index(line.leave)] += found[line.index]
            turned = np.array([found[arc.index] for arc in arcs])
            return Followed(directions, radii, part, turned, along, whole / sizes.size)
    return None


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
        """The cost of arcs and lines, as that of the elements of a solution, and of forms that repeat the other way."""
        turned = _cost_of_sweeps(headings[:, :-1], headings[:, 1:], self.chain.radii).sum(axis=1)
        shares = np.sin(headings) if self.chain.part == 0 else np.cos(headings)
        straight = (abs(self.chain.lines) / _others(shares)).sum(axis=1)
        smooth = np.exp(1j * headings[:, 1:-1]).tolist()
        found: Numbers = turned + straight + np.array([cost_of_mirrored(row) for row in smooth])
        return found

    def across(self, shares: Numbers) -> Numbers:
        """The step along the other axis that belongs to each direction, for a choice of 1."""
        other = _others(shares)
        found: Numbers = self.weights * np.sqrt(1.0 - shares**2) + self.chain.lines * shares / other
        return found

    def choices(self) -> Choices:
        """The rows of choices that are likely for any of the samples, and those in which what repeats goes one way."""
        shares = self.shares(self.samples)
        across, long = self.across(shares), abs(self.chain.lines) / _others(shares)
        wide = 2.0 * float(np.median(abs(across).sum(axis=1))) / PLACES
        rows: Indices = np.arange(SAMPLES)
        found: Choices = np.zeros((SAMPLES, 0), dtype=np.int8)
        place, cost = np.zeros(SAMPLES), np.zeros(SAMPLES)
        for at, line in enumerate(self.chain.lines):
            open_to = np.array([np.sign(line)] if line else [1, -1], dtype=np.int8)
            new = np.tile(open_to, len(rows))
            before = np.repeat(np.arange(len(rows)), len(open_to))
            rows, found = rows[before], np.column_stack([found[before], new])
            place, cost = place[before] + new * across[rows, at], cost[before] + long[rows, at]
            if at:
                ends = self.headings(found[:, -2:], shares[rows, at - 1 : at + 1])
                cost = cost + _cost_of_sweeps(ends[:, 0], ends[:, 1], self.chain.radii[at - 1])
            kept = _best_of_each(np.column_stack([rows, np.floor(place / wide), new]), cost)
            rows, place, cost, found = rows[kept], place[kept], cost[kept], found[kept]
        return np.unique(np.concatenate([found, self._repeating()]), axis=0)

    def _repeating(self) -> Choices:
        """Every row in which directions of one level have the same choice, where they have few levels."""
        order = np.argsort(self.level)
        group = np.zeros(len(order), dtype=np.intp)
        group[order] = np.concatenate([[0], np.cumsum(np.diff(self.level[order]) > SAME_LEAN)])
        if group.max() >= MOST_REPEATED:
            return np.zeros((0, len(group)), dtype=np.int8)
        every = np.array(list(product((1, -1), repeat=int(group.max()) + 1)), dtype=np.int8)[:, group]
        return every[(every * self.chain.lines >= 0.0).all(axis=1)]

    def roots(self, choices: Choices) -> tuple[Choices, Numbers]:
        """Where each row of choices comes to the whole step: the row, and the free number."""
        off = choices @ self.across(self.shares(self.samples)).T - self.chain.whole
        row, sample = np.nonzero(off[:, :-1] * off[:, 1:] <= 0.0)
        low, high = self.samples[sample], self.samples[sample + 1]
        hiding, before, nearest, after = self._hidden(choices, off)
        row = np.concatenate([row, hiding, hiding])
        low, high = np.concatenate([low, before, nearest]), np.concatenate([high, nearest, after])
        sign = self._off(choices[row], low)
        for _ in range(HALVINGS):
            middle = (low + high) / 2.0
            passed = self._off(choices[row], middle) * sign <= 0.0
            low, high = np.where(passed, low, middle), np.where(passed, middle, high)
        return choices[row], (low + high) / 2.0

    def _hidden(self, choices: Choices, off: Numbers) -> tuple[Indices, Numbers, Numbers, Numbers]:
        """Where the sum passes the whole step between two samples and comes back: there, and the samples around it.

        The samples miss two roots that are close together: where they come nearest without passing is looked at closer.
        """
        left, here, right = off[:, :-2], off[:, 1:-1], off[:, 2:]
        stays = (here * left > 0.0) & (here * right > 0.0)
        row, sample = np.nonzero(stays & (abs(here) <= NEAR * abs(left)) & (abs(here) <= NEAR * abs(right)))
        side = np.sign(here[row, sample])
        low, high = self.samples[sample], self.samples[sample + 2]
        for _ in range(THIRDS):
            one, two = low + (high - low) / 3.0, high - (high - low) / 3.0
            nearer = self._off(choices[row], one) * side < self._off(choices[row], two) * side
            low, high = np.where(nearer, low, one), np.where(nearer, two, high)
        nearest = (low + high) / 2.0
        hidden = self._off(choices[row], nearest) * side < 0.0
        return row[hidden], self.samples[sample[hidden]], nearest[hidden], self.samples[sample[hidden] + 2]

    def _off(self, choices: Choices, at: Numbers) -> Numbers:
        found: Numbers = (choices * self.across(self.shares(at))).sum(axis=1) - self.chain.whole
        return found


def _others(shares: Numbers) -> Numbers:
    """The other share of each direction, at least what keeps a line's length finite."""
    found: Numbers = np.maximum(np.sqrt(1.0 - shares**2), LEAST_SHARE)
    return found


def _cost_of_sweeps(start: Numbers, end: Numbers, radii: Numbers) -> Numbers:
    """The cost of arcs (radii positive for ccw) between two headings, as `cost_of_element` has it."""
    sweep = np.mod(np.sign(radii) * (end - start), 2.0 * np.pi)
    cost: Numbers = sweep / np.pi + sweep * abs(radii) + LONG_ARC * (sweep > np.pi)
    return cost


def _best_of_each(groups: Numbers, cost: Numbers) -> Indices:
    """The indices of the `KEPT` of least cost in each group of equal rows.

    >>> _best_of_each(np.array([[0], [0], [0], [0], [0], [1]]), np.array([3.0, 1.0, 9.0, 2.0, 4.0, 5.0])).tolist()
    [1, 3, 0, 4, 5]
    """
    order = np.lexsort((cost, *groups.T))
    sorted_groups = groups[order]
    begins = np.concatenate([[True], (sorted_groups[1:] != sorted_groups[:-1]).any(axis=1)])
    first = np.maximum.accumulate(np.where(begins, np.arange(len(order)), 0))
    return order[np.arange(len(order)) - first < KEPT]
