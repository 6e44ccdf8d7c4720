"""The insert's body and the holder against the part while the nose goes along it, on both sides of the axis."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from calc.contour import Element, Point
from calc.contour.many import Floats, Indices, Many, Places, as_point, many_of
from calc.language.messages import Capital, Message, Quantity, Value
from calc.language.quantities import LENGTH, RADIUS
from calc.machining.reach.findings import Finding
from calc.machining.reach.gaps import Rim
from calc.machining.reach.tool import Tool
from calc.machining.reach.work import Work
from calc.tool.nose_path import NosePath, Unreached, left_in_corners, nose_path

PLACES = 48
"""Places of the nose along each element of its path, at most, at which insert and holder are looked at."""

FEWEST = 4
"""As many places at least."""

FINE = 1 / 64
"""They stand no closer than this share of the insert's size, or of eight noses."""

TOUCH = 1e-6
"""Nearer than this (mm) to the wall by rounding alone is no cut."""

TIGHT = 0.5
"""Less room than this (mm) between holder and part is called tight (common practice, no source)."""


@dataclass(frozen=True)
class Ride:
    """The places of the nose centre along the contour, those that the nose can take up without cutting elsewhere.

    `places` are z + i r (mm), `of` is the element at each, `path` is the nose's unless it is sharp.
    """

    work: Work
    places: Places
    of: Indices
    path: NosePath | None = None

    @cached_property
    def gaps(self) -> tuple[Unreached, ...]:
        """The stretches to be machined that the nose does not touch."""
        unreached = self.path.unreached if self.path else ()
        return tuple(gap for gap in unreached if set(gap.elements) & set(self.work.machined))

    @cached_property
    def centres(self) -> tuple[Point, ...]:
        """The places as points."""
        return tuple(map(as_point, self.places))


def ride_along(work: Work, nose: float, size: float | None = None, path: NosePath | None = None) -> Ride:
    """The nose's places (radius `nose`, mm) along its path over the elements to be machined.

    `size` (mm) is the insert's, which says how close together they are worth looking at; `path` the nose's, where it is
    known already.

    >>> from calc.contour import Chain, Line
    >>> line = Line(Point(0.0, 9.0), Point(0.0, 1.0))
    >>> len(ride_along(Work(Chain((line,)), ("the face",), range(1), "left"), 0.8).centres)
    49
    """
    finest = FINE * (size or (8.0 * nose if nose else 1.0))
    if nose <= 0.0:
        steps = list(enumerate(work.boundary))
    else:
        path = nose_path(work.boundary, nose, work.side) if path is None else path
        steps = [(step.of, step.element) for step in path.steps if _is_cut(work, step.of, step.touched)]
    steps = [(of, element) for of, element in steps if of in work.machined]
    led = many_of([element for _, element in steps])
    which, along = _spread(led, finest)
    return Ride(work, led[which].at(along), np.array([of for of, _ in steps], dtype=np.intp)[which], path)


def _is_cut(work: Work, of: int, touched: Element | Point) -> bool:
    """Whether the nose cuts an element there, or swings from one that it cuts to the next."""
    return of + 1 in work.machined if isinstance(touched, Point) else of in work.machined


def _spread(led: Many, finest: float) -> tuple[Indices, Floats]:
    """Places along each element: the element, and how far along it (mm)."""
    count = np.clip(np.ceil(led.length / finest), FEWEST, PLACES).astype(np.intp)
    which = np.repeat(np.arange(len(led)), count + 1)
    step = np.arange(len(which)) - np.repeat(np.cumsum(count + 1) - (count + 1), count + 1)
    return which, led.length[which] * step / count[which]


def nose_finding(work: Work, nose: float, ride: Ride) -> Finding:
    """Whether the nose itself touches every element somewhere along it, and what it leaves in corners.

    A fillet of the nose's own radius is touched all at once, from one place: nothing is led along it, and nothing left.
    """
    led_along, left = set(ride.of.tolist()), {index for gap in ride.gaps for index in gap.elements}
    for index in work.machined:
        if index in left and index not in led_along:
            name = work.name_of(index)
            values: dict[str, Value] = {"name": Capital(name), "nose": Quantity(nose, RADIUS)}
            text = "{name} stops this tool: a nose of {nose} touches it nowhere without cutting beside it."
            return Finding("nose radius", "stops", name, message=Message(text, values))
    if not ride.gaps:
        return Finding("nose radius", "passes")
    worst = max(ride.gaps, key=lambda gap: gap.size)
    name = work.name_of(worst.elements[0])
    at = work.boundary.elements[worst.first.of].point_at(worst.first.s)
    corners = left_in_corners(work.boundary, nose, ride.gaps)
    values = {"name": name, "at": at, "nose": Quantity(nose, RADIUS), "size": Quantity(worst.size, LENGTH)}
    text = "A nose of {nose} does not touch all of {name}: behind {at} it stays off by up to {size}."
    message = Message(text, values) if corners is None or worst.reason != "corner" else corners
    return Finding("nose radius", "tight", name, at, message=message)


def body_findings(tool: Tool, work: Work, ride: Ride) -> Iterator[Finding]:
    """Insert and holder, on the near and on the far side of the axis."""
    if not len(ride.places):
        return
    near = many_of(work.boundary.elements)
    far = many_of([element.mirrored() for element in work.boundary])
    for shape, first, side in ((near, 0, ""), (far, len(near), ", far side of the axis")):
        if len(tool.core) > 2:
            yield _insert(tool, work, ride, shape, first, "insert" + side)
    for shape, first, side in ((near, 0, ""), (far, len(near), ", far side of the axis")):
        if tool.holder:
            yield _holder(tool.holder, work, ride, shape, first, "holder" + side)


def hits_anything(tool: Tool, sides: Many, ride: Ride) -> bool:
    """Whether insert or holder touches any of the elements, those of both sides of the axis, anywhere on the ride."""
    boxes = sides.boxes()
    if len(tool.core) > 2 and Rim([tool.core]).comes_within(ride.places, sides, boxes, tool.nose - TOUCH):
        return True
    return bool(tool.holder) and Rim(tool.holder).comes_within(ride.places, sides, boxes, 0.0)


def _insert(tool: Tool, work: Work, ride: Ride, shape: Many, first: int, check: str) -> Finding:
    """The place where the insert cuts deepest, the first of those along the path."""
    gaps, of = Rim([tool.core]).least(ride.places, shape, shape.boxes(), tool.nose)
    place = int(gaps.argmin())
    if gaps[place] >= tool.nose - TOUCH:
        return Finding(check, "passes")
    return _stopped("insert", check, work.name_of(first + int(of[place])), ride.centres[place])


def _holder(bodies: Sequence[Sequence[Point]], work: Work, ride: Ride, shape: Many, first: int, check: str) -> Finding:
    """The first place along the path where the holder cuts; if nowhere, the place with least room."""
    room, place, index = Rim(bodies).least_room(ride.places, shape, shape.boxes())
    name = work.name_of(first + index)
    if room <= 0.0:
        return _stopped("holder", check, name, ride.centres[place])
    if room >= TIGHT - TOUCH:
        return Finding(check, "passes", name, ride.centres[place], length=room)
    values: dict[str, Value] = {"name": name, "room": Quantity(room, LENGTH), "at": ride.centres[place]}
    text = "Only {room} are between the holder and {name} with the nose centre at {at}. Check with the real holder."
    return Finding(check, "tight", name, ride.centres[place], length=room, message=Message(text, values))


def _stopped(what: str, check: str, name: str, at: Point) -> Finding:
    values: dict[str, Value] = {"name": Capital(name), "what": what, "at": at}
    text = (
        "{name} stops this tool: with the nose centre at {at} the insert would cut it. Take a shorter edge, or an "
        "insert and style that turn away from it."
        if what == "insert"
        else "{name} stops this tool: with the nose centre at {at} the holder would cut it. The outline of the "
        "holder is simplified: check with the real one, or take a holder of another style."
    )
    return Finding(check, "stops", name, at, message=Message(text, values))
