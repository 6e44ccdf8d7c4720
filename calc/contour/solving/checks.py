"""Dimensions that are given although the others determine them: whether they agree."""

from __future__ import annotations

import cmath
from typing import NamedTuple

from calc.contour.solving.structure import Redundant
from calc.contour.solving.unknowns import Piece, Unknowns, Values, unit_at


class Check(NamedTuple):
    """A redundant dimension with the unknowns that it speaks of (of a step: from the first to the second)."""

    redundant: Redundant
    variables: tuple[int, ...]

    @property
    def slack(self) -> float:
        """By how much it may be off and still agree, mm or rad."""
        return self.redundant.fact.slack * (1.0 + 1e-9)

    def otherwise(self, values: Values) -> float:
        """What the others make of it, mm or rad."""
        fact = self.redundant.fact
        if fact.name == "angle":
            return fact.value + cmath.phase(values[self.variables[0]] / unit_at(fact.value))
        if fact.name == "radius":
            return abs(values[self.variables[0]].real)
        first = values[self.variables[0]].real
        return values[self.variables[1]].real - first if len(self.variables) > 1 else first

    def off_by(self, values: Values) -> float:
        """The others' value less the given one, mm or rad."""
        return self.otherwise(values) - self.redundant.fact.value

    def in_sizes(self, off: float, size: float) -> float:
        """A difference (mm or rad) as a share of the part's ``size`` (mm)."""
        return abs(off) if self.redundant.fact.name == "angle" else abs(off) / size

    def settle_exactly(self, values: Values) -> None:
        """Take a coordinate as it was given where only rounding stands between."""
        if len(self.variables) == 1 and self.redundant.fact.name in _COORDINATES:
            values[self.variables[0]] = float(self.redundant.fact.value)


_COORDINATES = ("z", "r", "centre_z", "centre_r")


def check_of(redundant: Redundant, unknowns: Unknowns) -> Check:
    """The check of a redundant dimension."""
    fact = redundant.fact
    if fact.var >= 0:
        return Check(redundant, (fact.var,))
    piece: Piece = unknowns.pieces[fact.element]
    part = 1 if fact.name == "dr" else 0
    return Check(redundant, (piece.start + part, piece.end + part))
