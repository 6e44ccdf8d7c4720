"""What can still move in a contour that is not settled.

At random values of the unknowns, the null space of all equations together shows what moves: a blank dimension that
moves with it would settle it.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator

import numpy as np
from numpy.typing import NDArray

from calc.contour.solving.structure import Structure
from calc.contour.solving.unknowns import Equation, Fact, Part, Values, unit_at

_MOVES = 1e-7

MOST_COLUMNS = 600
"""Unknowns that a null space is computed for: beyond, which equations need which unknowns must do."""


class Freedom:
    """The ways in which the unknowns can move together; ``count`` is how many there are."""

    def __init__(self, structure: Structure) -> None:
        self.structure = structure
        known, count = structure.equations.known, structure.unknowns.count
        loose = structure.loose() or {var for var in range(count) if var not in known}
        self.columns = {var: i for i, var in enumerate(sorted(loose))}
        self.space = self._null_space() if len(self.columns) <= MOST_COLUMNS else None
        self.count = len(structure.free()) if self.space is None else self.space.shape[1]

    def _null_space(self) -> NDArray[np.float64]:
        equations = [eq for eq in self.structure.equations.all if not self.columns.keys().isdisjoint(eq.involves)]
        values = _random_values(self.structure)
        rows = np.zeros((max(len(equations), 1), len(self.columns)))
        for row, equation in zip(rows, equations, strict=False):
            for var, slope in _slopes(equation, values):
                if var in self.columns:
                    row[self.columns[var]] += slope
        _, singular, vt = np.linalg.svd(rows)
        space: NDArray[np.float64] = vt[int((singular > 1e-9).sum()) :].T
        return space

    def moves(self, index: int, name: str) -> bool:
        """Whether a dimension of an element (-1 is the start) moves: one more equation for it would take a way."""
        slopes = [(var, slope) for var, slope in _gradient(self.structure, index, name) if var in self.columns]
        if self.space is None:
            return bool(slopes) and bool(self.count)
        gradient = np.zeros(len(self.columns))
        for var, slope in slopes:
            gradient[self.columns[var]] += slope
        return bool(np.linalg.norm(gradient @ self.space) > _MOVES)


def repeating(structure: Structure, facts: Iterable[Fact]) -> list[Fact]:
    """The ``facts`` that say again what the links and the facts before them say, at random values of the unknowns."""
    values, unknowns = _random_values(structure), structure.unknowns
    rows = np.zeros((0, unknowns.count))
    parts: tuple[Part, Part] = (0, 1)
    for piece, link in unknowns.links():
        for part in parts:
            equation = Equation("link", piece.index, (link.a + part, link.b + part), link, part)
            rows = np.vstack([rows, _row(_slopes(equation, values), unknowns.count)])
    basis: NDArray[np.float64] = np.linalg.qr(rows.T)[0]
    found = []
    for fact in facts:
        row = _row(_gradient(structure, fact.element, fact.name), unknowns.count)
        rest = row - basis @ (basis.T @ row)
        rest -= basis @ (basis.T @ rest)
        if np.linalg.norm(rest) > _MOVES * np.linalg.norm(row):
            basis = np.column_stack([basis, rest / np.linalg.norm(rest)])
        else:
            found.append(fact)
    return found


def _row(slopes: Iterable[tuple[int, float]], count: int) -> NDArray[np.float64]:
    row = np.zeros(count)
    for var, slope in slopes:
        row[var] += slope
    return row


def _random_values(structure: Structure) -> Values:
    """Values of the order of 1, the same every time; directions along an axis stay there."""
    chance = random.Random(1)
    unknowns, equations = structure.unknowns, structure.equations
    values: Values = {}
    for var in range(unknowns.count):
        if var in unknowns.directions:
            values[var] = unit_at(chance.uniform(-3.0, 3.0))
        else:
            values[var] = chance.uniform(0.5, 2.0)
    values |= {var: e for var, e in equations.known.items() if var in unknowns.directions}
    values |= {var: 1j if axis else 1.0 for var, axis in equations.axes.items() if var not in equations.known}
    return values


def _slopes(equation: Equation, values: Values) -> Iterator[tuple[int, float]]:
    if equation.kind in ("axis", "sign"):
        yield equation.involves[0], 1.0
        return
    link = equation.link
    if equation.kind != "run":
        a, b = equation.involves[:2]
        yield b, 1.0
        yield a, -1.0
    if equation.kind in ("link", "run") and link is not None:
        e = values[link.direction]
        yield link.size, -link.share(e, equation.part)
        yield link.direction, -values[link.size].real * link.share(e * 1j, equation.part)


def _gradient(structure: Structure, index: int, name: str) -> list[tuple[int, float]]:
    if index < 0:
        return [(1 if name == "r" else 0, 1.0)]
    piece = structure.unknowns.pieces[index]
    var = structure.unknowns.places(piece)[name]
    if var >= 0:
        return [(var, 1.0)]
    part: Part = 1 if name == "dr" else 0
    return [(piece.end + part, 1.0), (piece.start + part, -1.0)]
