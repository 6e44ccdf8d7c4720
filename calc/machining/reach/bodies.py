"""The insert's body and the holder against the part while the nose goes along it, on both sides of the axis."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from calc.contour import Element, Point
from calc.language.messages import Message, Quantity, Value
from calc.language.quantities import LENGTH, RADIUS
from calc.machining.reach.findings import Finding
from calc.machining.reach.gaps import Array, gap_to
from calc.machining.reach.tool import Tool
from calc.machining.reach.work import Work

PLACES = 48
"""Places of the nose along each element at which insert and holder are looked at."""

TOUCH = 1e-6
"""Nearer than this (mm) to the wall by rounding alone is no cut."""

TIGHT = 0.5
"""Less room than this (mm) between holder and part is called tight (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Ride:
    """The places of the nose centre along the contour, those that the nose can take up without cutting elsewhere."""

    centres: tuple[Point, ...]
    of: tuple[int, ...]
    blocked: tuple[tuple[int, Point], ...]


def ride_along(work: Work, nose: float) -> Ride:
    """The nose's places along the elements to be machined; `blocked` are those (element, centre) where it would gouge.

    >>> from calc.contour import Chain, Line
    >>> line = Line(Point(0.0, 9.0), Point(0.0, 1.0))
    >>> len(ride_along(Work(Chain((line,)), ("the face",), range(1), "left"), 0.8).centres)
    49
    """
    raw = [
        (work.machined.start + parallel.of, parallel.element.point_at(parallel.element.length * step / PLACES))
        for parallel in work.cut.offset_elements(nose, work.side)
        for step in range(PLACES + 1)
    ]
    if not raw:
        return Ride((), (), ())
    gaps = [gap_to((Point(0.0, 0.0),), [centre for _, centre in raw], element) for element in _both_sides(work)]
    free = np.min(gaps, axis=0) >= nose - TOUCH
    taken = [place for place, is_free in zip(raw, free, strict=True) if is_free]
    blocked = tuple(place for place, is_free in zip(raw, free, strict=True) if not is_free)
    return Ride(tuple(centre for _, centre in taken), tuple(of for of, _ in taken), blocked)


def _both_sides(work: Work) -> list[Element]:
    return [*work.boundary, *(element.mirrored() for element in work.boundary)]


def nose_finding(work: Work, nose: float, ride: Ride) -> Finding:
    """Whether the nose itself touches every element somewhere along it."""
    reached = set(ride.of)
    for index in work.machined:
        if index not in reached:
            name = work.name_of(index)
            values: dict[str, Value] = {"name": name[0].upper() + name[1:], "nose": Quantity(nose, RADIUS)}
            text = "{name} stops this tool: a nose of {nose} touches it nowhere without cutting beside it."
            return Finding("nose radius", "stops", name, message=Message(text, values))
    if ride.blocked:
        index, at = ride.blocked[0]
        name = work.name_of(index)
        values = {"name": name, "at": at, "nose": Quantity(nose, RADIUS)}
        text = "A nose of {nose} leaves stock in the corner of {name}: its centre cannot stand at {at}."
        return Finding("nose radius", "tight", name, at, message=Message(text, values))
    return Finding("nose radius", "passes")


def body_findings(tool: Tool, work: Work, ride: Ride) -> Iterator[Finding]:
    """Insert and holder, on the near and on the far side of the axis."""
    if not ride.centres:
        return
    if len(tool.core) > 2:
        yield from _sides("insert", [tool.core], tool.nose, work, ride)
    if tool.holder:
        yield from _sides("holder", tool.holder, 0.0, work, ride)


def _sides(what: str, cores: Sequence[Sequence[Point]], grown: float, work: Work, ride: Ride) -> Iterator[Finding]:
    gaps = np.array([_gaps(cores, ride, element) - grown for element in _both_sides(work)])
    count = len(work.boundary)
    yield _worst(what, what, gaps[:count], 0, work, ride)
    yield _worst(what, f"{what}, far side of the axis", gaps[count:], count, work, ride)


def _gaps(cores: Sequence[Sequence[Point]], ride: Ride, element: Element) -> Array:
    least: Array = np.min([gap_to(core, ride.centres, element) for core in cores], axis=0)
    return least


def _worst(what: str, check: str, gaps: Array, first: int, work: Work, ride: Ride) -> Finding:
    """The first place along the way where it cuts; if nowhere, the place with least room."""
    cutting = np.argwhere(gaps < -TOUCH) if what == "insert" else np.argwhere(gaps <= 0.0)
    if len(cutting):
        index, place = min(cutting.tolist(), key=lambda pair: (gaps[pair[0]][pair[1]], pair[1]))
        return _stopped(what, check, work.name_of(first + index), ride.centres[place])
    if what == "insert":
        return Finding(check, "passes")
    index, place = divmod(int(np.argmin(gaps)), gaps.shape[1])
    room, name = float(gaps[index, place]), work.name_of(first + index)
    if room >= TIGHT:
        return Finding(check, "passes", name, ride.centres[place], length=room)
    values: dict[str, Value] = {"name": name, "room": Quantity(room, LENGTH), "at": ride.centres[place]}
    text = "Only {room} are between the holder and {name} with the nose centre at {at}. Check with the real holder."
    return Finding(check, "tight", name, ride.centres[place], length=room, message=Message(text, values))


def _stopped(what: str, check: str, name: str, at: Point) -> Finding:
    values: dict[str, Value] = {"name": name[0].upper() + name[1:], "what": what, "at": at}
    text = "{name} stops this tool: with the nose centre at {at} the {what} would cut it. "
    text += (
        "Take a shorter edge, or an insert and style that turn away from it."
        if what == "insert"
        else "The holder is drawn simply: check with the real one, or hold the insert another way."
    )
    return Finding(check, "stops", name, at, message=Message(text, values))
