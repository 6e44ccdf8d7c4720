"""A print without one of its dimensions, or with one taken as rounded, and what a dimension is in a contour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from calc.contour.elements import Element
from calc.contour.line import Line
from calc.contour.solving.given import GivenElement, Start
from calc.contour.solving.noroot import NoRoot
from calc.contour.solving.unknowns import Fact, Unknowns
from calc.language.given import Given


def without(fact: Fact, unknowns: Unknowns) -> tuple[Start, tuple[GivenElement, ...]]:
    """The print with one dimension left blank."""
    blank = {fact.name: None}
    if fact.element < 0:
        return replace(unknowns.start, **blank), unknowns.elements
    elements = list(unknowns.elements)
    elements[fact.element] = replace(elements[fact.element], **blank)  # type: ignore[arg-type]  # by name
    return unknowns.start, tuple(elements)


def may_reach(fact: Fact, reason: NoRoot) -> bool:
    """Whether what is missing to a touch is within half of the last decimal of a radius or length that takes part."""
    takes_part = fact.element in {equation.element for equation in reason.equations}
    is_miss = reason.kind in ("apart", "short") and 0.0 < reason.gap <= fact.slack
    return takes_part and is_miss and fact.name in ("radius", "length")


def longer(fact: Fact, gap: float, unknowns: Unknowns) -> tuple[Start, tuple[GivenElement, ...]]:
    """The print with a radius or length that is `gap` mm more."""
    elements = list(unknowns.elements)
    more = {fact.name: Given(fact.value + gap, fact.slack)}
    elements[fact.element] = replace(elements[fact.element], **more)  # type: ignore[arg-type]  # by name
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
