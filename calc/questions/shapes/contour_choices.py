"""Which of several contours is meant: a name for each that a link can keep."""

from __future__ import annotations

from collections.abc import Sequence

from calc.contour import Arc, Point
from calc.contour.solving import Solution
from calc.language.messages import Message

NEAR = 0.05  # mm: how far the chosen point may be from a solution's and still mean it


def choice_names(solutions: Sequence[Solution]) -> tuple[str, ...]:
    """A name for each solution: the first joint or centre that tells it from the others, in mm (X as diameter).

    The name stays the same when solutions come in another order, and shows where to look.
    """
    spots = [_telling_points(solution) for solution in solutions]
    return tuple(_name(number, spots) for number in range(len(solutions)))


def _telling_points(solution: Solution) -> dict[str, Point]:
    points = {f"p{number}": joint for number, joint in enumerate(solution.joints)}
    arcs = {
        f"c{number}": element.centre for number, element in enumerate(solution.sharp, 1) if isinstance(element, Arc)
    }
    return points | arcs


def _name(number: int, spots: Sequence[dict[str, Point]]) -> str:
    own, others = spots[number], [each for index, each in enumerate(spots) if index != number]
    for name, point in own.items():
        if all(name not in other or other[name].distance_to(point) > 2 * NEAR for other in others):
            return f"{name} {2 * point.r:.3f} {point.z:.3f}"
    return f"n{number + 1}"


def picked(chosen: str | None, names: Sequence[str]) -> tuple[int, list[Message]]:
    """The index of the solution that `chosen` names, the first where it names none; and what to say about that.

    >>> picked("p1 30.020 -10.000", ("p1 20.000 -10.000", "p1 30.000 -10.000"))
    (1, [])
    """
    if not chosen:
        return 0, []
    if chosen in names:
        return names.index(chosen), []
    near = [index for index, name in enumerate(names) if _is_near(chosen, name)]
    if near:
        return near[0], []
    return 0, [Message("The solution that was chosen does not exist with these dimensions; the first one is shown.")]


def _is_near(one: str, other: str) -> bool:
    first, second = one.split(), other.split()
    if len(first) != 3 or len(second) != 3 or first[0] != second[0]:
        return False
    try:
        return all(abs(float(a) - float(b)) <= 2 * NEAR for a, b in zip(first[1:], second[1:], strict=True))
    except ValueError:
        return False
