"""The contours that typed rows settle; where they settle none, what is known so far and what would do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from calc.answer.drawing import Drawing
from calc.answer.feature import Unfinished
from calc.contour import Chain
from calc.contour.solving import Solutions, UnderGiven, solve
from calc.contour.solving.given import NAMES
from calc.contour.solving.habits import Habits
from calc.contour.text import ContourGiven
from calc.language.messages import Listed, Message, Phrase, Value
from calc.language.problems import Fault, Problem
from calc.questions.shapes.contour_dimensions import dimensioned
from calc.questions.shapes.contour_side import can_be_drawn, drawing
from calc.questions.shapes.contour_solved import blanks_solved


def settled(given: ContourGiven, habits: Habits) -> Solutions:
    """All contours with these dimensions, the likeliest first; `habits` are the tool's side and the bar's radius (mm).

    Raises `Unfinished` where a dimension or an element lacks, with the sketch of the elements that are settled before
    it, and what the solver raises, at the contour's rows.

    >>> from calc.contour.text import read_rows, rows_of
    >>> from calc.language.quantities import View
    >>> given, _ = read_rows(rows_of("s_x20_z0*t_z-10*f_x30"), View())
    >>> len(settled(given, Habits("right", None)).solutions)
    1
    """
    _require_whole_corners(given, habits)
    try:
        return solve(given.start, given.elements, habits=habits)
    except UnderGiven as problem:
        known = min(problem.elements, default=0)
        raise _unfinished(_faults_at_rows(problem, given), given, known, habits) from problem
    except Problem as problem:
        raise problem.renamed(given.field) from problem


def _require_whole_corners(given: ContourGiven, habits: Habits) -> None:
    """Raise `Unfinished` where a corner has no size yet, or no element after it."""
    faults = list(given.unfinished)
    if not faults and given.elements and given.elements[-1].corner is not None:
        row = given.corners[-1].rpartition(".")[0]
        faults = [Fault(row, Message("Add the element that follows the broken corner."))]
    if faults:
        raise _unfinished(faults, given, len(given.elements), habits)


def _faults_at_rows(problem: UnderGiven, given: ContourGiven) -> list[Fault]:
    """How much is missing, said once, and at each row of an element that can still move."""
    whole = "contour" if given.prefix == "rows" else given.prefix
    faults = [_can_move(problem, index) for index in problem.elements]
    return [Fault(whole, _how_much(problem)), *(Fault(given.field(fault.field), fault.message) for fault in faults)]


def _unfinished(faults: Sequence[Fault], given: ContourGiven, known: int, habits: Habits) -> Unfinished:
    """What is missing, with what is known already: the contour of the first elements, as many as are settled."""
    first = list(given.elements[:known])
    if first:
        first[-1] = replace(first[-1], corner=None)
    try:
        solution = solve(given.start, first).solutions[0]
    except Problem:
        return Unfinished(*faults, drawing=None, solved={})
    rows = replace(given, elements=tuple(first), rows=given.rows[:known])
    chain = Chain(solution.contour)
    sketch = drawing(chain, habits.side, habits.bar_radius) if can_be_drawn(chain) else None
    sketch = sketch and _so_far(dimensioned(sketch, solution, rows))
    return Unfinished(*faults, drawing=sketch, solved=blanks_solved(solution, rows))


def _so_far(sketch: Drawing) -> Drawing:
    """The sketch of what is known, its last point marked as the one from which on something is missing."""
    *spots, (name, last) = sketch.spots
    text = "Known so far, with its dimensions; from {point} on something is missing."
    return replace(sketch, spots=(*spots, (f"{name} ?", last)), description=Phrase(text, point=name))


def _how_much(problem: UnderGiven) -> Message:
    if not problem.would_do:
        return problem.faults[0].message
    numbers = [str(index + 1) for index in problem.elements]
    who = (
        Phrase("element {numbers}", numbers=numbers[0])
        if len(numbers) == 1
        else Phrase("elements {numbers}", numbers=Listed(tuple(numbers)))
    )
    values: dict[str, Value] = {"count": problem.count, "who": who if numbers else "the start"}
    if problem.count == 1:
        return Message("One more dimension is needed: {who} can still move.", values)
    return Message("{count} more dimensions are needed: {who} can still move.", values)


def _can_move(problem: UnderGiven, index: int) -> Fault:
    own = [field for field in problem.would_do if field.startswith(f"elements.{index}.")]
    named = tuple(NAMES[_dimension(field)].words for field in own[:3])
    options: Value = Listed(named, " or ", " or ") if named else "another dimension"
    values: dict[str, Value] = {"number": index + 1, "options": options}
    text = "Element {number} can still move: {options} would do."
    if problem.count > 1:
        text = "Element {number} can still move: {options} would help."
    return Fault(f"elements.{index}", Message(text, values))


def _dimension(field: str) -> str:
    """The solver's name of the dimension that a field gives."""
    last = field.rpartition(".")[2]
    return next(name for name, called in NAMES.items() if called.field == last)
