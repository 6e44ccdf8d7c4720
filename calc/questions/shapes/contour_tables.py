"""The lists of a contour's answer: its elements, its arcs, what the print calls by name, several contours."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import groupby

from calc.contour import Arc, Line
from calc.contour.corner import chamfer, chamfer_at
from calc.contour.errors import CornerError
from calc.contour.solving import GivenElement, Solution, Solved
from calc.contour.text import ContourGiven
from calc.language.fields import Declared, result, word
from calc.language.limited import Limited, limited
from calc.language.messages import Message, Phrase, Quantity, Value, as_text
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS, X, Z


class CalloutRow(Declared):
    """What the print calls by its name or gives as one row: a thread, its relief, an undercut, a groove.

    `diameter` is what a thread is turned or bored to, or the bottom of the others.
    """

    number: str = word("Element")
    name: str = word("On the print")
    diameter: float | Limited = result(DIAMETER, "Turned to, or bottom")
    from_z: float = result(Z, "from Z")
    to_z: float = result(Z, "to Z")


class ElementRow(Declared):
    """One element: its end, the step to it, its length, a line's angle."""

    number: str = word("Element")
    kind: str = word("Kind")
    x: float = result(X, "to X")
    z: float = result(Z, "to Z")
    dx: float = result(X, "step in X")
    dz: float = result(Z, "step in Z")
    length: float = result(LENGTH, "Length")
    angle: float | None = result(ANGLE, "Angle from +Z")
    to_axis: float | None = result(ANGLE, "to the axis")
    to_face: float | None = result(ANGLE, "to the face")


class ArcRow(Declared):
    """One arc; `i` and `k` are its centre from the start of it, as ISO 6983 has them."""

    number: str = word("Element")
    radius: float = result(RADIUS, "Radius")
    swept: float = result(ANGLE, "Angle swept")
    centre_x: float = result(X, "Centre X")
    centre_z: float = result(Z, "Centre Z")
    i: float = result(LENGTH, "I (radius)")
    k: float = result(LENGTH, "K (+Z out)")


class SolutionRow(Declared):
    """One of several contours with the same dimensions; `choice` is how a link names it."""

    number: str = word("Solution")
    label: str = word("In words")
    choice: str = word("In a link")


def element_row(solved: Solved) -> ElementRow:
    """The row of one element of a solution."""
    element = solved.element
    arc = element if isinstance(element, Arc) else None
    step = element.start.to(element.end)
    lean = math.atan2(abs(step.r), abs(step.z)) if arc is None else None
    return ElementRow(
        number=number_of(solved),
        kind="line"
        if arc is None
        else (Phrase("arc, clockwise") if arc.turn == "cw" else Phrase("arc, counter-clockwise")),
        x=element.end.r,
        z=element.end.z,
        dx=step.r,
        dz=step.z,
        length=element.length,
        angle=element.start_heading % math.tau if arc is None else None,
        to_axis=lean,
        to_face=None if lean is None else math.pi / 2.0 - lean,
    )


def arc_row(solved: Solved, arc: Arc) -> ArcRow:
    """The row of an arc of a solution."""
    offset = arc.start.to(arc.centre)
    return ArcRow(
        number=number_of(solved),
        radius=arc.radius,
        swept=abs(arc.sweep),
        centre_x=arc.centre.r,
        centre_z=arc.centre.z,
        i=offset.r,
        k=offset.z,
    )


def number_of(solved: Solved) -> str:
    """How an element is called: by the number of its row, a broken corner by that of the element it ends."""
    if not solved.is_corner:
        return str(solved.of + 1)
    return Phrase("{number}, {corner}", number=solved.of + 1, corner=corner_word(solved))


def corner_word(solved: Solved) -> str:
    """What stands in a broken corner."""
    return "undercut" if solved.undercut else "corner"


def solution_rows(solutions: Sequence[Solution], names: Sequence[str]) -> tuple[SolutionRow, ...]:
    """A row for each solution with its name among `names`; none where there is but one."""
    pairs = zip(solutions, names, strict=True) if len(solutions) > 1 else ()
    return tuple(
        SolutionRow(number=str(number), label=as_text(solution.label), choice=name)
        for number, (solution, name) in enumerate(pairs, 1)
    )


def callout_rows(solution: Solution, given: ContourGiven | None = None) -> tuple[CalloutRow, ...]:
    """Threads, reliefs, undercuts and grooves of a contour, in the order of its elements."""
    named = [] if given is None else [*_thread_rows(solution, given), *_groove_rows(solution, given)]
    found = [*named, *_undercut_rows(solution)]
    return tuple(row for _, row in sorted(found, key=lambda each: each[0]))


def _undercut_rows(solution: Solution) -> Iterator[tuple[int, CalloutRow]]:
    for (of, name), pieces in groupby(solution.elements, lambda each: (each.of, each.undercut)):
        if name:
            elements = [each.element for each in pieces]
            bottom = next(each for each in elements if isinstance(each, Line) and each.start.r == each.end.r)
            ends = elements[0].start.z, elements[-1].end.z
            yield (
                of,
                CalloutRow(
                    number=Phrase("after {number}", number=of + 1),
                    name=name,
                    diameter=2.0 * bottom.start.r,
                    from_z=ends[0],
                    to_z=ends[1],
                ),
            )


def _thread_rows(solution: Solution, given: ContourGiven) -> Iterator[tuple[int, CalloutRow]]:
    for row, name in given.threads.items():
        if row not in given.rows:
            continue
        index, size = given.rows.index(row), given.typed[f"rows.{row}.x"]
        element = solution.sharp[index]
        limits = limited(size)
        diameter = None if limits is None else Limited(*(2.0 * each for each in _four(limits)))
        yield (
            index,
            CalloutRow(
                number=str(index + 1),
                name=name,
                diameter=2.0 * size if diameter is None else diameter,
                from_z=element.start.z,
                to_z=element.end.z,
            ),
        )


def _four(limits: Limited) -> tuple[float, float, float, float]:
    return limits.value, limits.aimed, limits.lower, limits.upper


def _groove_rows(solution: Solution, given: ContourGiven) -> Iterator[tuple[int, CalloutRow]]:
    for first, row in given.grooves.items():
        bottom = solution.sharp[first + 1]
        held = limited(given.typed.get(f"rows.{row}.x"))
        yield (
            first,
            CalloutRow(
                number=f"{first + 1}-{first + 3}",
                name=given.called_grooves.get(row, "groove"),
                diameter=2.0 * bottom.start.r if held is None else Limited(*(2.0 * each for each in _four(held))),
                from_z=bottom.start.z,
                to_z=bottom.end.z,
            ),
        )


def chamfer_notes(solution: Solution, elements: Sequence[GivenElement]) -> Iterator[Message]:
    """For each chamfer that is another one by its other reading: 1 along Z as in 1x45°, or equal legs of 1."""
    for index, given in enumerate(elements[:-1]):
        corner = given.corner
        if corner is None or corner.kind != "chamfer" or corner.along != "z":
            continue
        size, before, after = float(corner.size), solution.sharp[index], solution.sharp[index + 1]
        try:
            printed = chamfer_at(before, after, size, corner.angle or _USUAL).between
            equal = chamfer(before, after, size).between
        except CornerError:
            continue
        apart = max(printed.start.distance_to(equal.start), printed.end.distance_to(equal.end))
        if apart > _SAME and (corner.angle is None or abs(corner.angle - _USUAL) < _SAME):
            is_printed = corner.angle is not None
            shown, other = (printed, equal) if is_printed else (equal, printed)
            values: dict[str, Value] = {
                "number": index + 1,
                "size": Quantity(size, LENGTH, brief=True),
                "here": shown.start,
                "there": other.start,
            }
            yield Message(_ALONG_Z if is_printed else _EQUAL, values)


_USUAL = math.radians(45.0)
_SAME = 5e-4  # mm or rad
_ALONG_Z = (
    "The chamfer after {number} is {size} long along Z, at 45° to it: it begins at {here}. Equal legs of {size} along "
    "both elements, typed without an angle, would begin at {there}."
)
_EQUAL = (
    "The chamfer after {number} has equal legs of {size} along both elements: it begins at {here}. As a print has it, "
    "typed with x45°, {size} long along Z, it would begin at {there}."
)
