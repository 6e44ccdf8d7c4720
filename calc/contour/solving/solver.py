"""From what a print gives to every contour that it can mean."""

from __future__ import annotations

from collections.abc import Sequence

from calc.contour.solving.building import built
from calc.contour.solving.checks import check_of
from calc.contour.solving.combining import Combining, Whole
from calc.contour.solving.given import GivenElement, Start, require_sound
from calc.contour.solving.noroot import NoRoot, Sizes
from calc.contour.solving.notes import notes_on
from calc.contour.solving.runs import Settling
from calc.contour.solving.solution import MOST_SOLUTIONS, Solutions
from calc.contour.solving.structure import Block, Preference, Structure, finest_first, nominal_first
from calc.contour.solving.undergiven import open_after_all, under_given
from calc.contour.solving.unknowns import Unknowns, Values
from calc.contour.solving.why import contradiction, impossible
from calc.problems import Contradiction, Impossible


def solve(start: Start, elements: Sequence[GivenElement], *, most: int = MOST_SOLUTIONS) -> Solutions:
    """Every contour with the given dimensions: its points, centres, radii and angles.

    ``start`` and ``elements`` hold what the print gives (mm, rad, radii, ISO signs; None where it gives nothing).
    Runs of unknowns that depend on each other are solved in closed form where each direction leaves a cone and at most
    one quadratic remains, otherwise numerically. A dimension that the others determine must agree with them within
    half of its last decimal. At most ``most`` solutions are returned, the likeliest.

    Raises `OutOfRange` for values that cannot be meant, `UnderGiven` (a `Missing`) where more must be given,
    `Contradiction` where dimensions disagree, `Impossible` where they have no solution.

    >>> face = GivenElement("line", z=0.0, angle=1.5707963267948966)
    >>> side = GivenElement("line", z=-20.0, r=15.0, angle=3.141592653589793)
    >>> solve(Start(0.0, 0.0), [face, side]).solutions[0].joints[1]
    Point(z=0.0, r=15.0)
    """
    require_sound(start, elements)
    unknowns = Unknowns(start, elements)
    try:
        return _solve(unknowns, nominal_first, most)
    except (Contradiction, Impossible):
        try:
            return _solve(unknowns, finest_first, most)
        except (Contradiction, Impossible):
            pass
        raise


def _solve(unknowns: Unknowns, preference: Preference, most: int) -> Solutions:
    structure = Structure(unknowns, preference)
    if structure.free():
        raise under_given(structure)
    sizes = Sizes(unknowns, _size(structure))
    settling = Settling(dict(structure.equations.known), sizes, _coupled)
    try:
        settling.settle(structure.blocks())
    except NoRoot as reason:
        raise open_after_all(structure, reason) or impossible(reason, unknowns) from None
    combining = Combining(settling, [check_of(one, unknowns) for one in structure.redundant], sizes, most)
    wholes = combining.best()
    if not wholes:
        raise _refusal(combining, unknowns)
    return _answer(wholes, combining, unknowns, most)


def _refusal(combining: Combining, unknowns: Unknowns) -> Contradiction | Impossible:
    if combining.failed:
        return contradiction(combining.failed)
    return impossible(combining.refused, unknowns)


def _answer(wholes: list[Whole], combining: Combining, unknowns: Unknowns, most: int) -> Solutions:
    solutions, more = built(wholes, combining, unknowns, most)
    complete = combining.settling.complete and not combining.truncated
    return Solutions(solutions, complete, more or combining.truncated, notes_on(unknowns))


def _coupled(block: Block, branches: list[Values], sizes: Sizes) -> list[list[Values]]:
    from calc.contour.solving.coupled import solve_coupled  # noqa: PLC0415 - numpy is loaded where a run stays coupled

    return solve_coupled(block, branches, sizes)


def _size(structure: Structure) -> float:
    """What rounding is relative to: the largest length given, mm."""
    lengths = [abs(fact.value) for fact in structure.unknowns.facts if fact.name != "angle"]
    return max(lengths, default=1.0) or 1.0
