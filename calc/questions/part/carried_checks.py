"""Limits of the print carried through to the sizes that it leaves blank, so that they are checked too."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import Any

from calc.answer.carrying import MOST, Extremes, extremes
from calc.contour.solving import GivenElement, Solution, Start
from calc.contour.solving.given import NAMES
from calc.contour.solving.habits import Habits
from calc.contour.text import ContourGiven
from calc.language.limited import Limited, limited
from calc.language.problems import Problem
from calc.language.working import recording
from calc.questions.shapes.contour_settled import settled
from calc.questions.shapes.contour_solved import blanks_solved

CORNERS = 2
"""Each limited size is tried at its two limits; where a blank turns between them it is searched for."""

OF_FIELD = {name.field: attribute for attribute, name in NAMES.items()}
"""What the solver holds of an element, by how it names it."""

CLOSE = 1e-9
"""mm or rad: what differs by less is the same."""

LEAST = 1e-6
"""mm: limits that are nearer than this are one."""


def carried_blanks(given: ContourGiven, habits: Habits) -> dict[str, Limited]:
    """The blank x, z and radii of a contour that the limits of its other sizes move, by their fields (mm, radius).

    None where a limit has no contour, where more sizes have limits than are carried through, or where one is none of
    the solver's own. A corner that a chamfer or radius takes away is not on the part.

    >>> from calc.contour.text import read_rows, rows_of
    >>> from calc.language.quantities import View
    >>> given, _ = read_rows(rows_of("s_x0_z-4.5±0.05*a_r75±0.1_z0_cx0*f_x60"), View())
    >>> {field: round(2.0 * both.upper, 3) for field, both in carried_blanks(given, Habits("right", None)).items()}
    {'rows.1.x': 51.486}
    """
    ranges = {field: both for field, value in given.typed.items() if (both := limited(value)) is not None}
    places = {field: found for field in ranges if (found := _places(given, field))}
    if not 0 < len(ranges) <= MOST or places.keys() != ranges.keys():
        return {}
    try:
        with recording():
            return _carried(given, habits, ranges, places)
    except Problem:
        return {}


Held = Callable[[float], float]
Place = tuple[int, str, Held]
"""Of which element (-1: the start), what the solver calls the size, and how it holds a value that is typed."""

LEANS: Mapping[str, Held] = {"tp": lambda value: math.atan(value / 2.0), "ha": float}
"""The angle to the axis (rad) of a taper on diameter and of a half angle."""

TURNS = ((0.0, 1.0), (0.0, -1.0), (math.pi, -1.0), (math.tau, -1.0), (math.pi, 1.0))
"""What a lean or a length is added to in the solver, and with which sign: to the chuck, toward the axis, back."""


def _carried(
    given: ContourGiven, habits: Habits, ranges: Mapping[str, Limited], places: Mapping[str, Sequence[Place]]
) -> dict[str, Limited]:
    first = settled(given, habits).solutions[0]
    aimed = blanks_solved(first, given)
    wanted = [field for field in _blanks(given, first) if field in aimed]  # the corners of a groove are no fields
    if not wanted:
        return {}

    def find(values: Mapping[str, float]) -> dict[str, float]:
        asked = _with(given, [(place, value) for field, value in values.items() for place in places[field]])
        every = [blanks_solved(each, given) for each in settled(asked, habits).solutions]
        near = min(every, key=lambda each: sum(abs(each[field] - aimed[field]) for field in wanted))
        return {field: near[field] for field in wanted}

    wide = extremes(find, {field: (both.lower, both.upper) for field, both in ranges.items()}, CORNERS)
    nominal = find({field: both.value for field, both in ranges.items()})
    return {
        field: Limited(nominal[field], aimed[field], ends.lower, ends.upper)
        for field, ends in wide.items()
        if ends.upper - ends.lower > LEAST and not any(_is_same(ends, both) for both in ranges.values())
    }


def _is_same(found: Extremes, given: Limited) -> bool:
    """Whether a blank is a size that the print gives in another row."""
    return abs(found.lower - given.lower) < LEAST and abs(found.upper - given.upper) < LEAST


def _places(given: ContourGiven, field: str) -> Sequence[Place]:
    """Where the solver has a typed size, a groove's depth on both walls; none where it is held as something else."""
    _, number, name = field.split(".")
    if number == "0":
        return [(-1, {"x": "r", "z": "z"}[name], float)]
    found = [
        (index, OF_FIELD[solver])
        for index, (row, names) in enumerate(zip(given.rows, given.names, strict=True))
        for solver, typed in names.items()
        if row == int(number) and typed == name and solver in OF_FIELD
    ]
    held = [(index, attribute, getattr(given.elements[index], attribute)) for index, attribute in found]
    places = [
        (index, attribute, way)
        for index, attribute, value in held
        if value is not None and (way := _held_as(name, float(value), float(given.typed[field]))) is not None
    ]
    return places if len(places) == sum(value is not None for _, _, value in held) else ()


def _held_as(name: str, held: float, aimed: float) -> Held | None:
    """How a value of this name is held, seen from what the solver holds where it is aimed; None where neither fits."""
    lean = LEANS.get(name, float)
    for start, sign in TURNS if name in LEANS else TURNS[:2]:
        if abs(start + sign * lean(aimed) - held) < CLOSE:
            return partial(_turned, lean, start, sign)
    return None


def _turned(lean: Held, start: float, sign: float, value: float) -> float:
    return start + sign * lean(value)


def _with(given: ContourGiven, values: Sequence[tuple[Place, float]]) -> ContourGiven:
    """The contour with other sizes."""
    start, elements = given.start, list(given.elements)
    for (index, name, held), value in values:
        change: Any = {name: held(value)}
        if index < 0:
            start = replace(start, **change)
        else:
            elements[index] = replace(elements[index], **change)
    return replace(given, start=start, elements=tuple(elements))


def _blanks(given: ContourGiven, solution: Solution) -> Iterator[str]:
    """The fields of blank sizes that can be measured on the part."""
    ends: list[Start | GivenElement] = [given.start, *given.elements]
    on_part = {solution.contour[0].start, *(element.end for element in solution.contour)}
    for end, joint, row in zip(ends, solution.joints, (0, *given.rows), strict=True):
        across, along = (None, None) if isinstance(end, Start) else (end.dr, end.dz)
        if joint in on_part and end.r is None and across != 0.0:
            yield f"{given.prefix}.{row}.x"
        if joint in on_part and end.z is None and along != 0.0:
            yield f"{given.prefix}.{row}.z"
        if not isinstance(end, Start) and end.kind == "arc" and end.radius is None:
            yield f"{given.prefix}.{row}.r"
