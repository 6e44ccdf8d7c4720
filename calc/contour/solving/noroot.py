"""What comes of a block that has no solution, or none in closed form."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from calc.contour.solving.unknowns import Equation, Unknowns


class NotClosed(Exception):
    """The block has no closed form here."""


@dataclass(eq=False)
class NoRoot(Exception):
    """The block has no real solution, or (``open``) too many."""

    equations: Sequence[Equation]
    gap: float = 0.0
    kind: str = "apart"


class Sizes(NamedTuple):
    """The unknowns with the size of the part, mm."""

    unknowns: Unknowns
    size: float
