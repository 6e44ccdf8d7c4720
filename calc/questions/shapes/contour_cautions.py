"""What a solved contour asks to be looked at: it meets itself, passes the axis, or does not fit the bar."""

from __future__ import annotations

from collections.abc import Iterator

from calc.contour import Arc
from calc.contour.solving import Solution, Solutions
from calc.contour.solving.habits import Habits
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import DIAMETER, LENGTH


def cautions_of(found: Solutions, index: int, habits: Habits) -> list[Caution]:
    """What the solution of this index asks to be looked at, from the bar and the tool's side that `habits` say."""
    solution = found.solutions[index]
    cautions = []
    for crossing in solution.crossings[:1]:
        text = "The contour meets itself at {point} and cannot be turned. Check the dimensions or choose another."
        cautions.append(Caution(Message(text, {"point": crossing.point}), 3, "contour"))
    below = min(element.bounds().r_min for element in solution.contour)
    if below < -1e-9:
        text = "The contour passes {below} beyond the axis. Check the dimensions or choose another solution."
        cautions.append(Caution(Message(text, {"below": Quantity(-below, LENGTH)}), 3, "contour"))
    if habits.bar_radius is not None and not habits.fits_bar(solution.contour):
        text = "The contour reaches {largest}, more than the bar of {bar}: it cannot be turned from it. Check both."
        largest = max(element.bounds().r_max for element in solution.contour)
        sizes: dict[str, Value] = {
            "largest": Quantity(2.0 * largest, DIAMETER),
            "bar": Quantity(2.0 * habits.bar_radius, DIAMETER),
        }
        cautions.append(Caution(Message(text, sizes), 3, "bar_diameter"))
    cautions += _undercuts_outside(solution, habits)
    if len(found.solutions) > 1:
        text = "{count} contours have these dimensions; number {number} is drawn. Choose the one that the print shows."
        values: dict[str, Value] = {"count": len(found.solutions), "number": index + 1}
        cautions.append(Caution(Message(text, values), 1, "contour"))
    return cautions


def _undercuts_outside(solution: Solution, habits: Habits) -> Iterator[Caution]:
    """An undercut belongs in an inside corner: seen from the tool its arc is hollow there."""
    hollow = "cw" if habits.side == "right" else "ccw"
    for solved in solution.elements:
        if solved.undercut and isinstance(solved.element, Arc) and solved.element.turn != hollow:
            text = (
                "{name} after {number} stands on an outside corner: move it to the foot of the shoulder, or give the "
                "tool's side."
            )
            values: dict[str, Value] = {"name": solved.undercut, "number": solved.of + 1}
            yield Caution(Message(text, values), 3, "contour")
