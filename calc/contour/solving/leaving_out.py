"""A print without one of its dimensions, and what that dimension is in a contour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from calc.contour.elements import Element
from calc.contour.line import Line
from calc.contour.solving.given import GivenElement, Start
from calc.contour.solving.unknowns import Fact, Unknowns


def without(fact: Fact, unknowns: Unknowns) -> tuple[Start, tuple[GivenElement, ...]]:
    """The print with one dimension left blank."""
    blank = {fact.name: None}
    if fact.element < 0:
        return replace(unknowns.start, **blank), unknowns.elements
    elements = list(unknowns.elements)
    elements[fact.element] = replace(elements[fact.element], **blank)  # type: ignore[arg-type]  # by name
    return unknowns.start, tuple(elements)


def dimension_of(contour: Sequence[Element], index: int, name: str) -> float:
    """A dimension of element `index` (-1: of the start) by its `name` in `GivenElement`, mm or rad.

    >>> from calc.contour.points import Point
    >>> dimension_of([Line(Point(0.0, 5.0), Point(-3.0, 9.0))], 0, "length")
    5.0
    """
    if index < 0:
        return contour[0].start.r if name == "r" else contour[0].start.z
    element = contour[index]
    step = element.start.to(element.end)
    own = {"z": element.end.z, "r": element.end.r, "dz": step.z, "dr": step.r, "length": element.length}
    if isinstance(element, Line):
        own["angle"] = element.start_heading
    else:
        own |= {"radius": element.radius, "centre_z": element.centre.z, "centre_r": element.centre.r}
    return own[name]
