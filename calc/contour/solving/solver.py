"""From what a print gives to every contour that it can mean."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, fields, is_dataclass
from functools import lru_cache

from calc.contour.solving.again import Again
from calc.contour.solving.attempt import Attempt
from calc.contour.solving.given import GivenElement, Start, require_sound
from calc.contour.solving.habits import Habits
from calc.contour.solving.solution import MOST_SOLUTIONS, Solutions
from calc.contour.solving.structure import nominal_first
from calc.contour.solving.undergiven import UnderGiven
from calc.contour.solving.unknowns import Unknowns
from calc.language.given import Given
from calc.language.problems import Contradiction, Impossible

USUAL = Habits()

KEPT = 8
"""So many contours stay solved: an answer asks for one, or for an outside and a bore, in several places."""


def solve(
    start: Start, elements: Sequence[GivenElement], *, most: int = MOST_SOLUTIONS, habits: Habits = USUAL
) -> Solutions:
    """Every contour with the given dimensions: its points, centres, radii and angles.

    ``start`` and ``elements`` hold what the print gives (mm, rad, radii, ISO signs; None where it gives nothing).
    Runs of unknowns that depend on each other are solved in closed form where each direction leaves a cone and at most
    one quadratic remains, otherwise numerically. Dimensions that say more than is needed must agree when each
    is moved by at most half of its last decimal. At most ``most`` solutions are returned, the likeliest first: what
    ``habits`` say of the tool's side and the bar counts.

    Raises `OutOfRange` for values that cannot be meant, `UnderGiven` (a `Missing`) where more must be given,
    `Contradiction` where dimensions disagree, `Impossible` where they have no solution.

    >>> face = GivenElement("line", z=0.0, angle=1.5707963267948966)
    >>> side = GivenElement("line", z=-20.0, r=15.0, angle=3.141592653589793)
    >>> solve(Start(0.0, 0.0), [face, side]).solutions[0].joints[1]
    Point(z=0.0, r=15.0)
    """
    asked = (start, tuple(elements), most, habits)
    return _solved(_Asked(*asked, _exact(asked)))


@dataclass(frozen=True, eq=False)
class _Asked:
    """What is asked of the solver; equal is what is the same to the last decimal and limit that was typed."""

    start: Start
    elements: tuple[GivenElement, ...]
    most: int
    habits: Habits
    exact: Hashable

    def __eq__(self, other: object) -> bool:
        """Whether everything is the same."""
        return isinstance(other, _Asked) and self.exact == other.exact

    def __hash__(self) -> int:
        """By its values."""
        return hash(self.exact)


def _exact(value: object) -> Hashable:
    """A value with all that a typed number remembers, to compare by."""
    if isinstance(value, Given):
        return float(value), value.slack, value.nominal, value.lower, value.upper
    if isinstance(value, tuple):
        return tuple(map(_exact, value))
    return tuple(_exact(getattr(value, each.name)) for each in fields(value)) if is_dataclass(value) else value


@lru_cache(maxsize=KEPT)
def _solved(asked: _Asked) -> Solutions:
    """The contours; kept, since the parts of an answer ask for the same one."""
    start, elements = asked.start, asked.elements
    require_sound(start, elements)
    unknowns = Unknowns(start, elements)
    first = Attempt(unknowns, nominal_first, asked.habits)
    try:
        return first.solutions(asked.most)
    except (Contradiction, Impossible, UnderGiven) as problem:
        if isinstance(problem, UnderGiven) and not first.structure.redundant:
            raise
        return Again(first, problem).solutions(asked.most)
