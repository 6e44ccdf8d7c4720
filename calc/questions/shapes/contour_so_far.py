"""What is known of a typed contour shown on every page that asks about one: drawn, its blanks solved in their rows."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import wraps
from typing import Protocol, TypeVar, cast

from calc.answer.drawing import Drawing
from calc.answer.feature import Answer, Unfinished
from calc.contour import Chain, Side
from calc.contour.solving import Solution, Solutions
from calc.contour.solving.habits import Habits
from calc.contour.text import ContourGiven
from calc.language.messages import Caution, Listed, Message, Value
from calc.language.problems import Missing
from calc.questions.shapes.contour_dimensions import dimensioned
from calc.questions.shapes.contour_settled import settled
from calc.questions.shapes.contour_side import can_be_drawn, drawing
from calc.questions.shapes.contour_solved import blanks_solved
from calc.shapes.chosen import EXAMPLES, OWN, TOOL_SIDE, shape_chain, sound

MOST_NAMED = 3
"""So many of the other contours are named."""


class AboutContour(Protocol):
    """Inputs with a contour: one of the examples by its name or one's own, and where the tool stands beside it."""

    @property
    def shape(self) -> str:
        """Which contour."""

    @property
    def contour(self) -> ContourGiven | None:
        """One's own."""

    @property
    def side(self) -> str:
        """Where the tool stands, "" where the contour decides."""


Asked = TypeVar("Asked", bound=AboutContour)
Found = TypeVar("Found")


def showing_contour(
    default: Side = "right",
) -> Callable[[Callable[[Asked], Answer[Found]]], Callable[[Asked], Answer[Found]]]:
    """A decorator of `solve`: its answer has the contour's solved blanks; what it lacks comes with a sketch.

    `default` is where the tool stands along one's own contour if nothing else is said.
    """

    def decorate(solve: Callable[[Asked], Answer[Found]]) -> Callable[[Asked], Answer[Found]]:
        @wraps(solve)
        def shown(inputs: Asked) -> Answer[Found]:
            side = _side(inputs, default)
            try:
                answer = solve(inputs)
            except Unfinished:
                raise
            except Missing as missing:
                raise _with_contour(missing, inputs, side) from missing
            if inputs.shape != OWN or inputs.contour is None:
                return answer
            found = settled(inputs.contour, Habits(side, None))
            solution = found.solutions[0]
            return replace(
                answer,
                solved=blanks_solved(solution, inputs.contour),
                cautions=(*answer.cautions, *_others(found)),
                drawing=_with_dimensions(answer.drawing, solution, inputs.contour),
            )

        return shown

    return decorate


def _with_dimensions(
    drawing: Drawing | Callable[[], Drawing] | None, solution: Solution, given: ContourGiven
) -> Drawing | Callable[[], Drawing] | None:
    """The sketch of an answer with what its contour's print gives; a sketch made when it is asked for stays one."""
    if callable(drawing):
        return lambda: dimensioned(drawing(), solution, given, solved=False)
    return drawing and dimensioned(drawing, solution, given, solved=False)


def _side(inputs: AboutContour, default: Side) -> Side:
    return cast("Side", inputs.side or TOOL_SIDE.get(inputs.shape, default))


def asked_chain(inputs: AboutContour, default: Side = "right") -> Chain:
    """The contour that is asked about (mm, radius): an example, or the likeliest with one's own dimensions.

    `default` is as for `showing_contour`, which names the others.

    Raises `Missing` without a contour, `Unfinished` where it lacks something, what the solver raises at the contour's
    rows, and `Impossible` where it meets itself.
    """
    if inputs.shape != OWN or inputs.contour is None or not inputs.contour.elements:
        return shape_chain(inputs.shape, inputs.contour)
    solution = settled(inputs.contour, Habits(_side(inputs, default), None)).solutions[0]
    return sound(Chain(solution.contour, solution.names))


def _others(found: Solutions) -> Iterator[Caution]:
    """That the dimensions mean more contours than the likeliest, which is taken."""
    others = [solution.label for solution in found.solutions[1:]]
    if others:
        values: dict[str, Value] = {
            "count": len(others) + 1,
            "taken": found.solutions[0].label,
            "others": Listed(tuple(others[:MOST_NAMED]), last="; "),
        }
        text = (
            "{count} contours have these dimensions, the likeliest is taken: {taken}. If the print shows another "
            "({others}), give one dimension more."
        )
        yield Caution(Message(text, values), 2, "contour")


def _with_contour(missing: Missing, inputs: AboutContour, side: Side) -> Missing:
    """What lacks, with what is known of the contour; where the contour itself lacks something, that."""
    if inputs.shape == OWN and (inputs.contour is None or not inputs.contour.elements):
        return missing
    try:
        chain, solution = _known(inputs, side)
    except Unfinished as unfinished:
        return unfinished
    sketch = drawing(chain, side, None) if can_be_drawn(chain) else None
    if solution is None or inputs.contour is None:
        return Unfinished(*missing.faults, drawing=sketch, solved={})
    sketch = sketch and dimensioned(sketch, solution, inputs.contour)
    return Unfinished(*missing.faults, drawing=sketch, solved=blanks_solved(solution, inputs.contour))


def _known(inputs: AboutContour, side: Side) -> tuple[Chain, Solution | None]:
    """The contour, and the solution that one's own is. Raises `Unfinished` where it lacks something."""
    if inputs.shape != OWN or inputs.contour is None:
        return EXAMPLES[inputs.shape](), None
    solution = settled(inputs.contour, Habits(side, None)).solutions[0]
    return Chain(solution.contour), solution
