"""The closed forms: lines and cones, at most one quadratic.

A condition that a direction e satisfies D = S e, with D and S linear in what is sought, means |D| = |S|: a cone.
Where a linear system leaves one parameter t, D = D0 + t D1 and S = S0 + t S1, the cone is a quadratic in t.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from calc.contour.tolerance import ROUNDING

_RANK = 1e-11
"""Coefficients are sines and cosines or 1: what is smaller has cancelled."""


class Cone(NamedTuple):
    """|d0 + t d1| = |s0 + t s1|."""

    d0: complex
    d1: complex
    s0: complex
    s1: complex

    def at(self, t: float) -> tuple[complex, complex]:
        """The two sides."""
        return self.d0 + t * self.d1, self.s0 + t * self.s1

    def value(self, t: float) -> float:
        """|D|^2 - |S|^2, without the digits that squares lose."""
        d, s = self.at(t)
        return (abs(d) - abs(s)) * (abs(d) + abs(s))

    def slope(self, t: float) -> float:
        """Its derivative."""
        d, s = self.at(t)
        return 2.0 * (_dot(d, self.d1) - _dot(s, self.s1))


class Miss(NamedTuple):
    """Why a cone has no root: how far the nearest approach stays apart, mm (negative: inside).

    ``is_flat`` says that the gap is the same everywhere.
    """

    gap: float
    is_flat: bool = False


def _dot(a: complex, b: complex) -> float:
    return a.real * b.real + a.imag * b.imag


def roots_of(cone: Cone, size: float, touch: float = 0.0) -> list[float] | Miss:
    """The parameters at which the two sides are equally long; a touch, within ``touch`` or rounding, is one root.

    >>> roots_of(Cone(3j, 1.0, 5.0, 0.0), 5.0)
    [-4.0, 4.0]
    >>> roots_of(Cone(5j, 1.0, 5.0, 0.0), 5.0)
    [0.0]
    >>> roots_of(Cone(6j, 1.0, 5.0, 0.0), 5.0)
    Miss(gap=1.0, is_flat=False)
    """
    a = (abs(cone.d1) - abs(cone.s1)) * (abs(cone.d1) + abs(cone.s1))
    weight = abs(cone.d1) ** 2 + abs(cone.s1) ** 2
    half_slope = cone.slope(0.0) / 2.0
    if abs(a) <= _RANK * weight:
        steep = abs(half_slope) > _RANK * size * math.sqrt(weight)
        if not steep:
            return Miss(abs(cone.d0) - abs(cone.s0), is_flat=True)
        return [_refined(cone, -cone.value(0.0) / (2.0 * half_slope))]
    vertex = -half_slope / a
    if abs(vertex) > 1e3 * size:
        return _far_roots(cone, a, half_slope)
    return _roots_about(cone, a, vertex, max(touch, ROUNDING * size))


def _roots_about(cone: Cone, a: float, vertex: float, touch: float) -> list[float] | Miss:
    d, s = cone.at(vertex)
    room = abs(s) - abs(d)
    if abs(room) <= max(touch, ROUNDING * max(abs(d), abs(s))):
        return [vertex + 0.0]
    square = room * (abs(d) + abs(s)) / a
    if square < 0.0:
        return Miss(-room)
    half = math.sqrt(square)
    return [_refined(cone, vertex - half), _refined(cone, vertex + half)]


def _far_roots(cone: Cone, a: float, half_slope: float) -> list[float] | Miss:
    """With a vertex far away, the root near by is the small one of the pair."""
    c = cone.value(0.0)
    square = half_slope * half_slope - a * c
    if square < 0.0:
        return Miss(abs(cone.d0) - abs(cone.s0))
    q = -(half_slope + math.copysign(math.sqrt(square), half_slope))
    return [_refined(cone, c / q), _refined(cone, q / a)]


def _refined(cone: Cone, t: float) -> float:
    slope = cone.slope(t)
    better = t - cone.value(t) / slope if slope else t
    return better if abs(cone.value(better)) <= abs(cone.value(t)) else t


class Rows(NamedTuple):
    """What a linear system leaves open: x = origin + sum of t * along; ``clash`` is what cannot be, mm."""

    origin: list[float]
    along: list[list[float]]
    clash: float


def eliminate(rows: Sequence[Sequence[float]], count: int) -> Rows:
    """Solve rows of coefficients with the constant last (sum c x = constant) by full pivoting.

    >>> eliminate([[1.0, 1.0, 3.0], [1.0, -1.0, 1.0]], 2)
    Rows(origin=[2.0, 1.0], along=[], clash=0.0)
    """
    left = [list(row) for row in rows]
    pivots: list[tuple[int, list[float]]] = []
    columns = list(range(count))
    while left and columns:
        peaks = [max(*row[:count], -min(row[:count])) for row in left]  # 0 in the columns that are settled
        most = max(peaks)
        if most <= _RANK:
            break
        row = left[peaks.index(most)]
        column = next(c for c in columns if abs(row[c]) == most)
        left = [_cleared(other, row, column) for other in left if other is not row]
        pivots = [(c, _cleared(other, row, column)) for c, other in pivots]
        pivots.append((column, [value / row[column] for value in row]))
        columns.remove(column)
    clash = max((abs(row[count]) for row in left), default=0.0)
    return Rows(*_solution(pivots, columns, count), clash)


def _cleared(other: list[float], row: list[float], column: int) -> list[float]:
    factor = other[column] / row[column]
    if not factor:
        return other
    cleared = [value - factor * by for value, by in zip(other, row, strict=True)]
    cleared[column] = 0.0
    return cleared


def _solution(
    pivots: list[tuple[int, list[float]]], open_columns: list[int], count: int
) -> tuple[list[float], list[list[float]]]:
    origin = [0.0] * count
    along = [[0.0] * count for _ in open_columns]
    for column, row in pivots:
        origin[column] = row[count]
        for vector, free in zip(along, open_columns, strict=True):
            vector[column] = -row[free]
    for vector, free in zip(along, open_columns, strict=True):
        vector[free] = 1.0
    return origin, along


def unit_with(part: float, is_real: bool, touch: float) -> list[complex] | Miss:
    """The unit numbers with this real (or imaginary) part; what is beyond 1 by no more than ``touch`` is one.

    >>> unit_with(0.28, True, 1e-12)
    [(0.28+0.96j), (0.28-0.96j)]
    >>> unit_with(1.25, True, 1e-12)
    Miss(gap=0.25, is_flat=False)
    """
    room = 1.0 - abs(part)
    if abs(room) <= touch:
        part, other = math.copysign(1.0, part), [0.0]
    elif room < 0.0:
        return Miss(-room)
    else:
        half = math.sqrt(room * (1.0 + abs(part)))
        other = [half, -half]
    return [complex(part, h) if is_real else complex(h, part) for h in other]
