"""How far work of several sections deflects: steps, tapers, bores, and a chuck and a centre that yield too.

The deflection at the tool is the force times a compliance [mm/N], found by the unit-load method: bending moments along
the work over E I, integrated section by section, and the springs of the supports.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import pi

from calc.cutting.stiffness import Held
from calc.language.kinds import Deflection, Stiffness
from calc.language.quantities import Force
from calc.language.working import formula

PLACES = 200  # along the work, at which the weakest place is looked for
# Gauss and Legendre's nodes and weights for 5 points on 0 to 1, to 16 digits: tables of numerical integration.
NODES = (
    (0.04691007703066802, 0.11846344252809454),
    (0.23076534494715845, 0.23931433524968324),
    (0.5, 0.28444444444444444),
    (0.7692346550528415, 0.23931433524968324),
    (0.9530899229693320, 0.11846344252809454),
)
PIECES = 8  # of each section, so that a taper is integrated to all digits that matter


@dataclass(frozen=True, slots=True)
class Section:
    """A stretch of the work from the chuck outward [mm]: length, diameter, diameter at its far end, bore."""

    length: float
    diameter: float
    end_diameter: float
    bore: float = 0.0

    def second_moment(self, share: float) -> float:
        """Second moment of area [mm4] at a `share` of the length."""
        diameter = self.diameter + share * (self.end_diameter - self.diameter)
        return pi * (diameter**4 - self.bore**4) / 64


@dataclass(frozen=True, slots=True)
class Work:
    """The work: sections from the chuck outward, modulus [N/mm2], stiffness of chuck and centre [N/mm; None: rigid]."""

    sections: tuple[Section, ...]
    modulus: float
    chuck: float | None = None
    centre: float | None = None

    @property
    def length(self) -> float:
        """Length of all sections [mm]."""
        return sum(section.length for section in self.sections)

    def compliance(self, at: float, held: Held) -> float:
        """How far the work deflects [mm/N] under a force at `at` [mm from the chuck]. Source: unit-load method.

        >>> work = Work((Section(80.0, 20.0, 20.0),), 210_000.0)
        >>> round(500.0 * work.compliance(80.0, "chuck"), 6)
        0.051738
        """
        if held == "centres":
            return self._between(at)
        own = self._clamped(at, at)
        if held == "chuck":
            return own
        end = self.length
        spring = 1 / self.centre if self.centre else 0.0
        shared = self._clamped(at, end)
        return own - shared**2 / (self._clamped(end, end) + spring)

    def weakest(self, held: Held) -> float:
        """Where it deflects most under a tool that passes along it [mm from the chuck].

        >>> Work((Section(300.0, 30.0, 30.0),), 210_000.0).weakest("centres")
        150.0
        """
        places = (self.length * k / PLACES for k in range(1, PLACES + 1))
        return max(places, key=lambda at: self.compliance(at, held))

    def _clamped(self, at: float, load: float) -> float:
        """Deflection at one place under a unit load at another, clamped in the chuck."""
        bent = self._integral(min(at, load), lambda x: (at - x) * (load - x))
        return bent + (1 / self.chuck if self.chuck else 0.0)

    def _between(self, at: float) -> float:
        length = self.length
        near, far = (length - at) / length, at / length
        bent = self._integral(length, lambda x: (near * x if x < at else far * (length - x)) ** 2, at)
        springs = (near**2 / self.chuck if self.chuck else 0.0) + (far**2 / self.centre if self.centre else 0.0)
        return bent + springs

    def _integral(self, to: float, moments: Callable[[float], float], kink: float | None = None) -> float:
        """The integral of moments over E I from the chuck to `to`; pieces end at a kink of the moments."""
        total, begin = 0.0, 0.0
        for section in self.sections:
            end = begin + section.length
            bounds = [begin, *(kink for _ in (0,) if kink is not None and begin < kink < end), min(end, to)]
            for low, high in pairwise(bounds):
                total += _over(section, begin, low, high, moments) if high > low else 0.0
            begin = end
        return total / self.modulus


def _over(section: Section, begin: float, low: float, high: float, moments: Callable[[float], float]) -> float:
    step = (high - low) / PIECES
    return sum(
        step * weight * moments(x) / section.second_moment((x - begin) / section.length)
        for piece in range(PIECES)
        for node, weight in NODES
        for x in (low + (piece + node) * step,)
    )


@formula(
    source="beam theory (Euler and Bernoulli), as in handbooks of mechanics: unit-load method over the sections",
    means="deflection where the force acts",
    result="delta",
)
def deflection_of_sections(F: Force, k: Stiffness) -> Deflection:
    """Deflection [mm] under `F` [N] of work that is stiff by `k` [N/mm] there. Source: definition of stiffness.

    >>> deflection_of_sections(500.0, 10_000.0)
    0.05
    """
    return F / k


def stiffness_at(work: Work, at: float, held: Held) -> float:
    """Stiffness [N/mm] of the work at `at` [mm from the chuck]. Source: unit-load method.

    >>> round(stiffness_at(Work((Section(80.0, 20.0, 20.0),), 210_000.0), 80.0, "chuck"))
    9664
    """
    return 1 / work.compliance(at, held)


def errors(work: Work, force: float, held: Held, places: Sequence[float]) -> list[float]:
    """What the diameter comes out larger by [mm] with the tool at each of `places` [mm from the chuck], `force` [N].

    >>> [round(error, 4) for error in errors(Work((Section(300.0, 30.0, 30.0),), 210_000.0), 500.0, "centres", [150.0])]
    [0.0674]
    """
    return [2 * force * work.compliance(at, held) if at > 0.0 else 0.0 for at in places]
