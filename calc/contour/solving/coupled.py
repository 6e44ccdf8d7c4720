"""Blocks without a closed form: damped least squares over directions and lengths, from many seeds at once.

The directions of the seeds are spread evenly; the rest of the unknowns is linear once these are chosen and starts from
its least squares. All seeds are improved together as one numpy batch, those that arrive are polished and told apart.
"""

from __future__ import annotations

from collections.abc import Iterator
from statistics import median
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from calc.contour.solving.following import followed, likeliest
from calc.contour.solving.noroot import NoRoot, Sizes
from calc.contour.solving.structure import Block
from calc.contour.solving.unknowns import Equation, Values

Numbers: TypeAlias = NDArray[np.float64]

SEEDS = {1: 256, 2: 900, 3: 1600}
MOST_SEEDS = 2400
LEAST_SEEDS_OF_BRANCH = 100
MOST_STEPS = 48
MOST_WORK = 2_000_000
"""Seeds times what one step of one costs: more unknowns get fewer seeds, so that the longest run takes a second."""

LEAST_SEEDS = 24
MOST_SPREAD = 6
"""Directions that seeds are spread over evenly; more of them hold too many places, so that seeds travel likely ways."""

MOST_TRIED, MOST_FOLLOWED, MOST_WAYS = 8, 4, 64
"""Alternatives for which the likeliest ways of a chain of arcs are looked for, a tenth of a second each; how many of
them are followed that have any; how many ways of each."""

_ARRIVED = 1e-11
_APART = 1e-7
_RANK = 1e-9
_MANY = 32
"""More solutions than a block of equations of low degree is likely to have."""


def solve_coupled(block: Block, branches: list[Values], sizes: Sizes) -> list[list[Values]]:
    """The solutions of a block found for each of several sets of known values; there may be more.

    The same every time: the seeds are fixed, and so is the number of steps.
    """
    batch = _Batch(block, branches, sizes)
    return batch.solve()


def seeds_for(turning: int, columns: int, branches: int) -> int:
    """How many seeds each branch of a block gets: enough for its directions, as far as the work stays bounded.

    >>> seeds_for(turning=2, columns=4, branches=1), seeds_for(turning=24, columns=25, branches=1)
    (900, 128)
    """
    wanted = max(SEEDS.get(turning, MOST_SEEDS) // branches, LEAST_SEEDS_OF_BRANCH)
    affordable = max(MOST_WORK // columns**3, LEAST_SEEDS)
    return max(min(wanted, affordable // branches), 1)


class _Links:
    """The links of a block as arrays: size times the cosine of its direction, turned by what the component asks."""

    def __init__(self, block: Block, branches: list[Values], column: dict[int, int], sizes: Sizes) -> None:
        found = [(row, e, e.link) for row, e in enumerate(block.equations) if e.link and e.kind in ("link", "run")]
        self.rows = np.array([row for row, _, _ in found], dtype=int)
        self.size = np.array([column.get(link.size, -1) for _, _, link in found], dtype=int)
        self.direction = np.array([column.get(link.direction, -1) for _, _, link in found], dtype=int)
        self.shift = np.array([(link.is_quarter - equation.part) * np.pi / 2.0 for _, equation, link in found])
        self.known_size = np.array(
            [[0.0 if k.size in column else b[k.size].real / sizes.size for _, _, k in found] for b in branches]
        )
        self.known_angle = np.array(
            [[0.0 if k.direction in column else np.angle(b[k.direction]) for _, _, k in found] for b in branches]
        )

    def add(self, x: Numbers, branch: NDArray[np.int64], residual: Numbers, jacobian: Numbers) -> None:
        """Take each link from its equation's residual and derivatives."""
        size = np.where(self.size >= 0, x[:, self.size], self.known_size[branch])
        angle = np.where(self.direction >= 0, x[:, self.direction], self.known_angle[branch]) + self.shift
        share, turn = np.cos(angle), -np.sin(angle)
        residual[:, self.rows] -= size * share
        for column, slope in ((self.size, share), (self.direction, size * turn)):
            moves = column >= 0
            jacobian[:, self.rows[moves], column[moves]] -= slope[:, moves]


class _Batch:
    """All seeds of a block. Columns are the sizes (in units of the part's size) and the directions (as angles).

    Points are linear with constant factors, so they are eliminated once for all seeds: what is improved are the
    combinations of the equations that hold no point. The points follow from sizes and directions in the end.
    """

    def __init__(self, block: Block, branches: list[Values], sizes: Sizes) -> None:
        self.block, self.branches, self.sizes = block, branches, sizes
        links = [equation.link for equation in block.equations if equation.link is not None]
        moving = {var for link in links for var in (link.size, link.direction)}
        self.column = {var: i for i, var in enumerate(v for v in block.unknown if v in moving)}
        self.points = {var: i for i, var in enumerate(v for v in block.unknown if v not in moving)}
        self.turning = [i for var, i in self.column.items() if var in sizes.unknowns.directions]
        self.linear = [i for i in self.column.values() if i not in self.turning]
        self.of_points = self._factors_of_points()
        self.without_points, self.to_points = _eliminated(self.of_points)
        self.ways = list(self._ways()) if len(self.turning) > MOST_SPREAD else []
        spread = seeds_for(len(self.turning), len(self.column), len(branches))
        owners = [np.full(len(rows), index) for index, rows in self.ways]
        self.branch = np.concatenate([np.repeat(np.arange(len(branches)), spread), *owners])
        self.links = _Links(block, branches, self.column, sizes)
        self.fixed = self._fixed()

    def _factors_of_points(self) -> Numbers:
        factors = np.zeros((len(self.block.equations), len(self.points)))
        for row, equation in zip(factors, self.block.equations, strict=True):
            for var, sign in _step_of(equation):
                if var in self.points:
                    row[self.points[var]] += sign
        return factors

    def solve(self) -> list[list[Values]]:
        """Improve all seeds, keep those that arrive, and tell them apart."""
        x = self._seeds()
        x, branch = self._improved(x, self.branch)
        found: list[list[Values]] = [[] for _ in self.branches]
        for index in range(len(self.branches)):
            found[index] = [self._values(row, index) for row in self._distinct(x[branch == index], index)]
        return found

    def _seeds(self) -> Numbers:
        count, turning = len(self.branch), len(self.turning)
        x = np.zeros((count, len(self.column)))
        steps = np.arange(1, count + 1)[:, None]
        ratio = _ratios(turning)
        x[:, self.turning] = ((steps * np.array(ratio)[None, :]) % 1.0) * 2.0 * np.pi - np.pi
        if turning > MOST_SPREAD:
            self._travel(x)
        if self.ways:
            known = np.concatenate([rows for _, rows in self.ways])
            x[-len(known) :] = known
        if self.linear:
            residual, jacobian = self._system(x, self.branch)
            a = jacobian[:, :, self.linear]
            normal = np.einsum("nij,nik->njk", a, a) + 1e-9 * np.eye(len(self.linear))
            x[:, self.linear] = -np.linalg.solve(normal, np.einsum("nij,ni->nj", a, residual)[:, :, None])[:, :, 0]
        return x

    def _travel(self, x: Numbers) -> None:
        """Let three of four seeds travel as a contour does: toward the chuck, each direction near the one before."""
        order = sorted((var, i) for var, i in self.column.items() if i in self.turning)
        columns = np.array([i for _, i in order])
        lean = x[:, columns] / np.pi
        heading = np.pi + lean[:, :1] * (np.pi / 2.0)
        wander = heading + np.pi / 2.0 * np.roll(lean, -1, axis=1)
        signs = np.array([[self._turn_of(var, known) for var, _ in order] for known in self.branches])[self.branch]
        turned = heading + np.cumsum(abs(lean) * signs, axis=1) * (np.pi / 3.0)
        three = np.arange(len(x)) % 4
        x[np.ix_(three == 1, columns)] = wander[three == 1]
        x[np.ix_(three >= 2, columns)] = turned[three >= 2]

    def _ways(self) -> Iterator[tuple[int, Numbers]]:
        """Seeds that are ways a chain of arcs can run, for the likeliest alternatives: which one, and a seed a row."""
        wanted = min(len(self.branches), MOST_FOLLOWED)
        most = min(max(MOST_WORK // len(self.column) ** 3, LEAST_SEEDS) // wanted, MOST_WAYS)
        for index, known in enumerate(self.branches[:MOST_TRIED]):
            chain = followed(self.block, known, self.sizes)
            if chain is None or not wanted:
                return
            ways = likeliest(chain, most)
            if len(ways):
                wanted -= 1
                rows = np.zeros((len(ways), len(self.column)))
                rows[:, [self.column[var] for var in chain.directions]] = ways
                yield index, rows

    def _turn_of(self, direction: int, known: Values) -> float:
        """How the arc that arrives in this direction turns, 0 where that is open."""
        piece = next((p for p in self.sizes.unknowns.pieces if p.arrive == direction and not p.is_line), None)
        if piece is None:
            return 0.0
        value = known.get(piece.size)
        turn = self.sizes.unknowns.signs[piece.size] if value is None else value.real
        return float(np.sign(turn))

    def _system(self, x: Numbers, branch: NDArray[np.int64]) -> tuple[Numbers, Numbers]:
        """Residuals (seeds, combinations) and their derivatives (seeds, combinations, unknowns), without the points."""
        residual, jacobian = self._whole(x, branch)
        return residual @ self.without_points.T, np.matmul(self.without_points, jacobian)

    def _fixed(self) -> Numbers:
        """What each equation holds that does not change: given steps and known points (branches, equations)."""
        scale = self.sizes.size
        fixed = np.zeros((len(self.branches), len(self.block.equations)))
        for row, equation in enumerate(self.block.equations):
            if equation.kind == "run":
                fixed[:, row] += equation.value.real / scale
            elif equation.kind != "link":
                fixed[:, row] -= equation.value.real / scale
            for var, sign in _step_of(equation):
                if var not in self.points:
                    fixed[:, row] += [sign * branch[var].real / scale for branch in self.branches]
        return fixed

    def _whole(self, x: Numbers, branch: NDArray[np.int64]) -> tuple[Numbers, Numbers]:
        """Residuals and derivatives of all equations with the unknown points at 0."""
        residual = self.fixed[branch]
        jacobian = np.zeros((len(x), len(self.block.equations), len(self.column)))
        self.links.add(x, branch, residual, jacobian)
        return residual, jacobian

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
            return square <= float(median(square.tolist()))
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

    def _values(self, row: Numbers, index: int) -> Values:
        residual, _ = self._whole(row[None, :], np.array([index]))
        points = -self.to_points @ residual[0]
        found: Values = {var: float(points[i]) * self.sizes.size for var, i in self.points.items()}
        for var, column in self.column.items():
            value = float(row[column])
            turns = var in self.sizes.unknowns.directions
            found[var] = complex(np.exp(1j * value)) if turns else value * self.sizes.size
        return found


def _step_of(equation: Equation) -> tuple[tuple[int, float], ...]:
    """The two points of an equation with their signs; none of one whose step is given."""
    return () if equation.kind == "run" else ((equation.involves[1], 1.0), (equation.involves[0], -1.0))


def _eliminated(matrix: Numbers) -> tuple[Numbers, Numbers]:
    """Combinations of the rows, one a row, that vanish whatever stands in the columns; and what solves for these."""
    rows, columns = matrix.shape
    if not columns:
        return np.eye(rows), np.zeros((0, rows))
    q, r = np.linalg.qr(matrix, mode="complete")
    pivots = abs(np.diagonal(r))
    if rows >= columns and pivots.min() > _RANK * pivots.max():
        return q[:, columns:].T, np.linalg.solve(r[:columns], q[:, :columns].T)
    u, singular, _ = np.linalg.svd(matrix)
    inverse = np.asarray(np.linalg.pinv(matrix), dtype=np.float64)
    return u[:, int((singular > _RANK * singular[0]).sum()) :].T, inverse


def _ratios(dimensions: int) -> list[float]:
    """Irrational steps that spread points evenly in a cube: powers of the root of x^(d+1) = x + 1, inverted."""
    root = 2.0
    for _ in range(64):
        root = (1.0 + root) ** (1.0 / (dimensions + 1.0))
    return [root ** -(i + 1) % 1.0 for i in range(dimensions)]
