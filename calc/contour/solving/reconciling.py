"""Dimensions that disagree only because a print rounds them: each is moved within its rounding until all agree.

From a contour that nearly has all dimensions, Newton's method on the exact conditions (the links of every element)
finds the contour whose dimensions differ least from what is given, each difference in units of half its last decimal.
The weights then grow where a difference is largest, so that the largest becomes as small as can be (Lawson's method).
Where the weighted mean is more than a rounding, no contour near by has these dimensions.
"""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from calc.contour.solving.noroot import Sizes
from calc.contour.solving.unknowns import Fact, Values
from calc.contour.tolerance import ROUNDING

Numbers: TypeAlias = NDArray[np.float64]

MOST_UNKNOWNS = 720
"""Unknowns of a contour that is reconciled: about 100 arcs or 140 lines."""

_STEPS, _ROUNDS = 12, 14
_ENOUGH = 1.0 + 1e-6
_LEAST_HOLD = 1e-7


def reconciled(values: Values, sizes: Sizes, facts: Sequence[Fact]) -> Values | None:
    """The values nearest to ``values`` whose dimensions are all within the rounding of ``facts``; None without any."""
    if sizes.unknowns.count > MOST_UNKNOWNS:
        return None
    return _Reconciling(sizes, facts).from_(values)


class _Reconciling:
    """Lengths are in units of the part's size, directions are angles."""

    def __init__(self, sizes: Sizes, facts: Sequence[Fact]) -> None:
        self.sizes, self.unknowns = sizes, sizes.unknowns
        self.links = [link for _, link in self.unknowns.links()]
        self.exact = [fact for fact in facts if is_exact(fact)]
        self.rounded = [fact for fact in facts if not is_exact(fact)]
        self.slack = np.array([self._scaled(fact, fact.slack) for fact in self.rounded])

    def _scaled(self, fact: Fact, value: float) -> float:
        return value if fact.name == "angle" else value / self.sizes.size

    def from_(self, values: Values) -> Values | None:
        x = self._packed(values)
        weights = np.ones(len(self.rounded))
        best: tuple[float, Numbers] | None = None
        for _ in range(_ROUNDS):
            moved = self._fitted(x, weights)
            if moved is None:
                break
            x = moved
            off = abs(self._off(x)) / self.slack
            if best is None or off.max(initial=0.0) < best[0]:
                best = (float(off.max(initial=0.0)), x)
            if best[0] <= _ENOUGH:
                return self._unpacked(best[1])
            if (weights @ off**2) > _ENOUGH * weights.sum():
                return None
            weights *= off + 1e-3
            weights *= len(weights) / weights.sum()
        return None

    def _fitted(self, x: Numbers, weights: Numbers) -> Numbers | None:
        """Newton's steps to the least weighted differences with all links exact; None where they do not arrive."""
        for _ in range(_STEPS):
            step = self._step(x, weights)
            x = x + step
            if not np.isfinite(x).all() or abs(x).max() > 1e4:
                return None
            if abs(step).max() <= ROUNDING * 16.0:
                break
        return x if abs(self._conditions(x)[0]).max(initial=0.0) <= 1e-12 else None

    def _step(self, x: Numbers, weights: Numbers) -> Numbers:
        off, slopes = self._off(x), self._slopes_of(self.rounded, x)
        gap, hard = self._conditions(x)
        by = (weights / self.slack**2)[:, None]
        scale = float(by.max(initial=1.0))
        normal = slopes.T @ (by / scale * slopes) + _LEAST_HOLD**2 * np.eye(len(x))
        zero = -1e-13 * np.eye(len(gap))
        whole = np.block([[normal, hard.T], [hard, zero]])
        right = -np.concatenate([slopes.T @ (by[:, 0] / scale * off), gap])
        found: Numbers = np.linalg.solve(whole, right)
        return found[: len(x)]

    # --- the conditions and their slopes

    def _conditions(self, x: Numbers) -> tuple[Numbers, Numbers]:
        """What the links and the exact dimensions leave over, and its derivatives."""
        gap = np.zeros(2 * len(self.links))
        slopes = np.zeros((len(gap), len(x)))
        for row, link in enumerate(self.links):
            turned = x[link.direction] + (np.pi / 2.0 if link.is_quarter else 0.0)
            for part, share, turn in ((0, np.cos(turned), -np.sin(turned)), (1, np.sin(turned), np.cos(turned))):
                at = 2 * row + part
                gap[at] = x[link.b + part] - x[link.a + part] - x[link.size] * share
                slopes[at, link.b + part] += 1.0
                slopes[at, link.a + part] -= 1.0
                slopes[at, link.size] -= share
                slopes[at, link.direction] -= x[link.size] * turn
        exact = np.array([self._difference(fact, x) for fact in self.exact])
        return np.concatenate([gap, exact]), np.vstack([slopes, self._slopes_of(self.exact, x)])

    def _off(self, x: Numbers) -> Numbers:
        return np.array([self._difference(fact, x) for fact in self.rounded])

    def _difference(self, fact: Fact, x: Numbers) -> float:
        """The dimension less what is given."""
        if fact.var < 0:
            a, b = self._ends(fact)
            return float(x[b] - x[a]) - self._scaled(fact, fact.value)
        if fact.name == "angle":
            return cmath.phase(cmath.exp(1j * (x[fact.var] - fact.value)))
        value = abs(x[fact.var]) if fact.name == "radius" else x[fact.var]
        return float(value) - self._scaled(fact, fact.value)

    def _slopes_of(self, facts: Sequence[Fact], x: Numbers) -> Numbers:
        slopes = np.zeros((len(facts), len(x)))
        for row, fact in zip(slopes, facts, strict=True):
            if fact.var < 0:
                a, b = self._ends(fact)
                row[a], row[b] = -1.0, 1.0
            else:
                row[fact.var] = np.sign(x[fact.var]) if fact.name == "radius" else 1.0
        return slopes

    def _ends(self, fact: Fact) -> tuple[int, int]:
        part = 1 if fact.name == "dr" else 0
        piece = self.unknowns.pieces[fact.element]
        return piece.start + part, piece.end + part

    # --- between values and columns

    def _packed(self, values: Values) -> Numbers:
        turning = self.unknowns.directions
        return np.array(
            [
                cmath.phase(values[var]) if var in turning else values[var].real / self.sizes.size
                for var in range(self.unknowns.count)
            ]
        )

    def _unpacked(self, x: Numbers) -> Values:
        """The values; a coordinate that stayed as given but for computing's rounding is that to the last digit."""
        turning, size = self.unknowns.directions, self.sizes.size
        found: Values = {
            var: complex(np.exp(1j * value)) if var in turning else float(value) * size for var, value in enumerate(x)
        }
        for fact in (*self.rounded, *self.exact):
            if fact.var >= 0 and fact.name not in ("angle", "radius"):
                is_kept = abs(found[fact.var] - fact.value) <= ROUNDING * size
                found[fact.var] = float(fact.value) if is_kept else found[fact.var]
        return found


def is_exact(fact: Fact) -> bool:
    """Whether a dimension is no rounded number: a step of 0 (a face, a cylinder), a line along an axis.

    >>> is_exact(Fact(0, "dz", 0.0)), is_exact(Fact(0, "z", 0.0, 5))
    (True, False)
    """
    if fact.name == "angle":
        return abs(cmath.phase(cmath.exp(4j * fact.value))) < 1e-12
    return fact.is_level
