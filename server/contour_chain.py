"""The one chain that a contour in JSON means; what is wrong with it is said at the body's own fields."""

from __future__ import annotations

from collections.abc import Sequence

from calc.contour import Arc, Chain, ContourError, Element, Line, Point
from calc.contour.solving import GivenElement, Start, solve
from calc.language.messages import Message
from calc.language.problems import Fault, Impossible, Missing, OutOfRange, Problem
from calc.shapes.chosen import sound
from server.contour_json import NUMBERS, GivenElements

OF_LINE, OF_ARC = {"z", "r"}, {"z", "r", "radius", "centre_z", "centre_r"}


def chain_of(start: Start, elements: Sequence[GivenElement], prefix: str = "") -> Chain:
    """The one chain that has these dimensions (mm).

    An arc that is given by its end, radius and turn alone is the one of at most half a turn. Raises what the solver
    raises, with fields named from `prefix`; `Impossible` if several contours have them, or the contour meets itself.

    >>> chain_of(Start(0.0, 10.0), [GivenElement("line", z=-5.0, r=10.0)]).length
    5.0
    """
    own = elements.field if isinstance(elements, GivenElements) else str
    try:
        return sound(_plain(start, elements) or _solved(start, elements))
    except ContourError as error:
        raise Impossible(Fault(prefix.rstrip("."), error.message)) from None
    except Problem as problem:
        kind = type(problem) if type(problem) in (Missing, OutOfRange) else Impossible
        faults = (Fault(f"{prefix}{own(fault.field)}".rstrip("."), fault.message) for fault in problem.faults)
        raise kind(*faults) from None


def _solved(start: Start, elements: Sequence[GivenElement]) -> Chain:
    found = solve(start, elements)
    if len(found.solutions) > 1:
        text = "More than one contour has these dimensions: give one more, so that it is unique."
        raise Impossible(Fault("elements", Message(text)))
    solution = found.solutions[0]
    return Chain(solution.contour, solution.names)


def _plain(start: Start, elements: Sequence[GivenElement]) -> Chain | None:
    """The elements of a contour that is given in full; None where anything is left to solve."""
    if start.z is None or start.r is None:
        return None
    here, made = Point(start.z, start.r), []
    for index, given in enumerate(elements):
        if given.z is None or given.r is None or given.corner is not None or given.tangent:
            return None
        end = Point(given.z, given.r)
        try:
            element = _full(here, end, given)
        except ContourError as error:
            raise Impossible(Fault(f"elements.{index}", error.message)) from None
        if element is None:
            return None
        made.append(element)
        here = end
    return Chain(tuple(made))


def _full(start: Point, end: Point, given: GivenElement) -> Element | None:
    told = {name for name, _ in NUMBERS.values() if getattr(given, name) is not None}
    if given.kind == "line":
        return Line(start, end) if told <= OF_LINE else None
    if given.turn is None or not told <= OF_ARC:
        return None
    if given.centre_z is not None and given.centre_r is not None and given.radius is None:
        return Arc(start, end, Point(given.centre_z, given.centre_r), given.turn)
    if given.radius is not None and given.centre_z is None and given.centre_r is None:
        return Arc.from_radius(start, end, given.radius, given.turn)
    return None
