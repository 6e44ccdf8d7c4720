"""Blocks without a closed form: damped least squares over directions and lengths, from many seeds at once.

The directions of the seeds are spread evenly; the rest of the unknowns is linear once these are chosen and starts from
its least squares. All seeds are improved together as one numpy batch, those that arrive are polished and told apart.
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from calc.contour.solving.noroot import NoRoot, Sizes
from calc.contour.solving.structure import Block
from calc.contour.solving.unknowns import Equation, Values

Numbers: TypeAlias = NDArray[np.float64]

SEEDS = {1: 256, 2: 900, 3: 1600}
MOST_SEEDS = 2400
LEAST_SEEDS_OF_BRANCH = 100
MOST_STEPS = 48
_ARRIVED = 1e-11
_APART = 1e-7
_MANY = 32
"""More solutions than a block of equations of low degree is likely to have."""


def solve_coupled(block: Block, branches: list[Values], sizes: Sizes) -> list[list[Values]]:
    """The solutions of a block found for each of several sets of known values; there may be more.

    The same every time: the seeds are fixed, and so is the number of steps.
    """
    batch = _Batch(block, branches, sizes)
    return batch.solve()


class _Batch:
    """All seeds of a block. Columns are the unknowns: numbers in units of the part's size, directions as angles."""

    def __init__(self, block: Block, branches: list[Values], sizes: Sizes) -> None:
        self.block, self.branches, self.sizes = block, branches, sizes
        self.column = {var: i for i, var in enumerate(block.unknown)}
        self.turning = [i for var, i in self.column.items() if var in sizes.unknowns.directions]
        self.linear = [i for i in self.column.values() if i not in self.turning]
        total = SEEDS.get(len(self.turning), MOST_SEEDS)
        each = max(total // len(branches), LEAST_SEEDS_OF_BRANCH)
        self.branch = np.repeat(np.arange(len(branches)), each)
        self.known = self._known_values()

    def _known_values(self) -> dict[int, Numbers]:
        scale = self.sizes.size
        inputs = {v for equation in self.block.equations for v in equation.involves if v not in self.column}
        directions = self.sizes.unknowns.directions
        known = {}
        for var in inputs:
            values = [branch[var] for branch in self.branches]
            numbers = [np.angle(v) if var in directions else v.real / scale for v in values]
            known[var] = np.array(numbers)
        return known

    def solve(self) -> list[list[Values]]:
        """Improve all seeds, keep those that arrive, and tell them apart."""
        x = self._seeds()
        x, branch = self._improved(x, self.branch)
        found: list[list[Values]] = [[] for _ in self.branches]
        for index in range(len(self.branches)):
            found[index] = [self._values(row) for row in self._distinct(x[branch == index], index)]
        return found

    def _seeds(self) -> Numbers:
        count, turning = len(self.branch), len(self.turning)
        x = np.zeros((count, len(self.column)))
        steps = np.arange(1, count + 1)[:, None]
        ratio = _ratios(turning)
        x[:, self.turning] = ((steps * np.array(ratio)[None, :]) % 1.0) * 2.0 * np.pi - np.pi
        if self.linear:
            residual, jacobian = self._system(x, self.branch)
            a = jacobian[:, :, self.linear]
            normal = np.einsum("nij,nik->njk", a, a) + 1e-9 * np.eye(len(self.linear))
            x[:, self.linear] = -np.linalg.solve(normal, np.einsum("nij,ni->nj", a, residual)[:, :, None])[:, :, 0]
        return x

    def _system(self, x: Numbers, branch: NDArray[np.int64]) -> tuple[Numbers, Numbers]:
        """Residuals (seeds, equations) and their derivatives (seeds, equations, unknowns)."""
        residual = np.zeros((len(x), len(self.block.equations)))
        jacobian = np.zeros((len(x), len(self.block.equations), len(self.column)))
        for row, equation in enumerate(self.block.equations):
            self._add(equation, x, branch, residual[:, row], jacobian[:, row, :])
        return residual, jacobian

    def _add(
        self, equation: Equation, x: Numbers, branch: NDArray[np.int64], residual: Numbers, slopes: Numbers
    ) -> None:
        if equation.kind == "run":
            residual += equation.value.real / self.sizes.size
        else:
            self._add_step(equation, x, branch, residual, slopes)
        link = equation.link
        if equation.kind not in ("link", "run") or link is None:
            residual -= equation.value.real / self.sizes.size
            return
        angle = self._of(link.direction, x, branch) + (np.pi / 2.0 if link.is_quarter else 0.0)
        share, turn = np.cos(angle), -np.sin(angle)
        if equation.part:
            share, turn = -turn, share
        size = self._of(link.size, x, branch)
        residual -= size * share
        if link.size in self.column:
            slopes[:, self.column[link.size]] -= share
        if link.direction in self.column:
            slopes[:, self.column[link.direction]] -= size * turn

    def _add_step(
        self, equation: Equation, x: Numbers, branch: NDArray[np.int64], residual: Numbers, slopes: Numbers
    ) -> None:
        a, b = equation.involves[:2]
        for var, sign in ((b, 1.0), (a, -1.0)):
            residual += sign * self._of(var, x, branch)
            if var in self.column:
                slopes[:, self.column[var]] += sign

    def _of(self, var: int, x: Numbers, branch: NDArray[np.int64]) -> Numbers:
        column = self.column.get(var)
        return self.known[var][branch] if column is None else x[:, column]

    def _improved(self, x: Numbers, branch: NDArray[np.int64]) -> tuple[Numbers, NDArray[np.int64]]:
        """Levenberg-Marquardt on all seeds; those that stay behind are dropped on the way."""
        damping = np.full(len(x), 1e-3)
        residual, jacobian = self._system(x, branch)
        square = (residual**2).sum(axis=1)
        arrived_x, arrived_branch = [x[:0]], [branch[:0]]
        for step in range(MOST_STEPS):
            tried = x + self._step(residual, jacobian, damping)
            new_residual, new_jacobian = self._system(tried, branch)
            new_square = (new_residual**2).sum(axis=1)
            better = new_square < square
            x = np.where(better[:, None], tried, x)
            residual = np.where(better[:, None], new_residual, residual)
            jacobian = np.where(better[:, None, None], new_jacobian, jacobian)
            square = np.where(better, new_square, square)
            damping = np.clip(np.where(better, damping * 0.2, damping * 6.0), 1e-14, 1e6)
            arrived = square < _ARRIVED**2
            keep = ~arrived & self._promising(square, step) & (abs(x[:, self.linear]) < 1e4).all(axis=1)
            arrived_x.append(x[arrived])
            arrived_branch.append(branch[arrived])
            x, branch, damping, residual, jacobian, square = (
                part[keep] for part in (x, branch, damping, residual, jacobian, square)
            )
            if not len(x):
                break
        return np.concatenate(arrived_x), np.concatenate(arrived_branch)

    def _promising(self, square: Numbers, step: int) -> NDArray[np.bool_]:
        """After a while only the better half is followed."""
        if step in (12, 20, 28) and len(square) > 64:
            return square <= np.median(square)
        return np.ones(len(square), dtype=bool)

    def _step(self, residual: Numbers, jacobian: Numbers, damping: Numbers) -> Numbers:
        normal = np.matmul(jacobian.transpose(0, 2, 1), jacobian)
        gradient = np.matmul(jacobian.transpose(0, 2, 1), residual[:, :, None])
        diagonal = np.arange(len(self.column))
        normal[:, diagonal, diagonal] *= 1.0 + damping[:, None]
        normal[:, diagonal, diagonal] += 1e-15
        step: Numbers = -np.linalg.solve(normal, gradient)[:, :, 0]
        return np.nan_to_num(step, nan=0.0, posinf=0.0, neginf=0.0)

    def _distinct(self, x: Numbers, index: int) -> list[Numbers]:
        kept: list[Numbers] = []
        marks: list[Numbers] = []
        for row in x:
            mark = np.concatenate([row[self.linear], np.cos(row[self.turning]), np.sin(row[self.turning])])
            if all(abs(mark - other).max() > _APART for other in marks):
                marks.append(mark)
                kept.append(self._polished(row, index))
                self._require_isolated(marks, row, index)
        return kept

    def _require_isolated(self, marks: list[Numbers], row: Numbers, index: int) -> None:
        """Raise `NoRoot` where the solutions are no points but a curve: something says one thing twice."""
        if len(marks) < _MANY:
            return
        _, jacobian = self._system(row[None, :], np.array([index]))
        singular = np.linalg.svd(jacobian[0], compute_uv=False)
        if singular[-1] < 1e-8 * singular[0]:
            raise NoRoot(self.block.equations, kind="open")

    def _polished(self, row: Numbers, index: int) -> Numbers:
        """Newton's last digits."""
        branch = np.array([index])
        x = row[None, :]
        for _ in range(3):
            residual, jacobian = self._system(x, branch)
            try:
                tried = x - np.linalg.solve(jacobian, residual[:, :, None])[:, :, 0]
            except np.linalg.LinAlgError:
                break
            if abs(self._system(tried, branch)[0]).max() >= abs(residual).max():
                break
            x = tried
        polished: Numbers = x[0]
        return polished

    def _values(self, row: Numbers) -> Values:
        found: Values = {}
        for var, column in self.column.items():
            value = float(row[column])
            turns = var in self.sizes.unknowns.directions
            found[var] = complex(np.exp(1j * value)) if turns else value * self.sizes.size
        return found


def _ratios(dimensions: int) -> list[float]:
    """Irrational steps that spread points evenly in a cube: powers of the root of x^(d+1) = x + 1, inverted."""
    root = 2.0
    for _ in range(64):
        root = (1.0 + root) ** (1.0 / (dimensions + 1.0))
    return [root ** -(i + 1) % 1.0 for i in range(dimensions)]
