"""What of a contour the print left out and the solver found: the first such point, how many, every row's blanks."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence

from calc.contour import Arc, Element, Point
from calc.contour.solving import GivenElement, Solution, Start
from calc.contour.text import ContourGiven
from calc.language.messages import Phrase

GROOVE_ELEMENTS = 3


def first_solved(
    solution: Solution, start: Start, given_elements: Sequence[GivenElement], of_grooves: Collection[int] = ()
) -> tuple[str, Point | None, str]:
    """The first coordinate on the part that the print leaves out: result to show, where it stands, at what.

    A sharp corner that a chamfer or radius takes away is not on the part. Elements `of_grooves`, by their index, have
    their ends from the sizes of a groove's row, which leaves none of them out.
    """
    ends: list[Start | GivenElement] = [start, *given_elements]
    on_part = {solution.contour[0].start, *(element.end for element in solution.contour)}
    for number, (end, joint) in enumerate(zip(ends, solution.joints, strict=True)):
        if joint not in on_part or number - 1 in of_grooves:
            continue
        where = Phrase("end of {number}", number=number) if number else "start"
        if end.r is None and not (number and _stays(given_elements[number - 1].dr)):
            return "solved_x", joint, where
        if end.z is None and not (number and _stays(given_elements[number - 1].dz)):
            return "solved_z", joint, where
    return "", None, ""


def count_solved(
    solution: Solution, start: Start, given_elements: Sequence[GivenElement], of_grooves: Collection[int] = ()
) -> int:
    """How many points on the part have a coordinate that the print leaves out; arguments as for `first_solved`."""
    ends: list[Start | GivenElement] = [start, *given_elements]
    on_part = {solution.contour[0].start, *(element.end for element in solution.contour)}
    pairs = enumerate(zip(ends, solution.joints, strict=True), -1)
    return sum(joint in on_part and _is_left_out(end) for of, (end, joint) in pairs if of not in of_grooves)


def of_grooves(contour_given: ContourGiven) -> frozenset[int]:
    """The indices of the elements that rows of grooves stand for: down, along the bottom and up again."""
    return frozenset(first + more for first in contour_given.grooves for more in range(GROOVE_ELEMENTS))


def _is_left_out(end: Start | GivenElement) -> bool:
    across, along = (None, None) if isinstance(end, Start) else (end.dr, end.dz)
    return (end.r is None and not _stays(across)) or (end.z is None and not _stays(along))


def _stays(step: float | None) -> bool:
    """Whether the coordinate is that of the point before: the X of a cylinder, the Z of a face."""
    return step == 0.0


def blanks_solved(solution: Solution, contour_given: ContourGiven) -> dict[str, float]:
    """What every blank of the rows came out as, by the names of their fields."""
    rows, start = contour_given.prefix, solution.sharp[0].start
    found: dict[str, float] = {f"{rows}.0.x": start.r, f"{rows}.0.z": start.z}
    for row, element in zip(contour_given.rows, solution.sharp, strict=True):
        if row not in contour_given.grooves.values():
            found |= {f"{rows}.{row}.{name}": value for name, value in _dimensions(element).items()}
    for first, row in contour_given.grooves.items():
        into, along = solution.sharp[first : first + 2]
        found |= {f"{rows}.{row}.x": into.end.r, f"{rows}.{row}.dep": into.length, f"{rows}.{row}.w": along.length}
    return found


def _dimensions(element: Element) -> dict[str, float]:
    """Every dimension of an element, by the names that a row has for them."""
    step = element.start.to(element.end)
    values = {"x": element.end.r, "z": element.end.z, "dx": step.r, "dz": step.z, "len": element.length}
    if isinstance(element, Arc):
        return values | {"r": element.radius, "cx": element.centre.r, "cz": element.centre.z}
    lean = math.atan2(abs(step.r), abs(step.z))
    values |= {"at": element.start_heading % math.tau, "ha": lean}
    return values | ({"tp": 2 * math.tan(lean)} if abs(step.z) > abs(step.r) * 1e-6 else {})
