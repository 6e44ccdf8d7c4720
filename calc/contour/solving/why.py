"""Why a contour has no solution, in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from calc.contour.solving.checks import Check
from calc.contour.solving.given import NAMES, field_of, words_for
from calc.contour.solving.noroot import NoRoot
from calc.contour.solving.unknowns import Equation, Fact, Unknowns, along, unit_at
from calc.language.messages import Capital, Listed, Message, Quantity, Value
from calc.language.problems import Contradiction, Fault, Impossible
from calc.language.quantities import ANGLE, LENGTH, X


def impossible(reason: NoRoot | None, unknowns: Unknowns) -> Impossible:
    """The problem that stands for a block without a solution."""
    elements = sorted({equation.element for equation in reason.equations}) if reason is not None else []
    if reason is None or not elements:
        return Impossible(Fault("elements", Message("No contour has all these dimensions together.")))
    text, values = _SENTENCES[reason.kind](reason, elements, unknowns)
    return Impossible(Fault(f"elements.{elements[-1]}", Message(text, values)))


_Said = tuple[str, Mapping[str, Value]]


def _apart(reason: NoRoot, elements: Sequence[int], unknowns: Unknowns) -> _Said:
    lines = [index for index in elements if unknowns.pieces[index].is_line]
    arcs = [index for index in elements if not unknowns.pieces[index].is_line]
    gap = Quantity(abs(reason.gap), LENGTH)
    if not arcs:
        return "The line of element {line} misses its end by {gap}.", {"line": lines[0] + 1, "gap": gap}
    if lines:
        text = "The line of element {line} passes {gap} inside the arc of element {arc}."
        if reason.gap > 0.0:
            text = "The line of element {line} passes {gap} outside the arc of element {arc}."
        return text, {"line": lines[0] + 1, "arc": arcs[0] + 1, "gap": gap}
    if len(arcs) > 1:
        text = "The arcs of elements {one} and {other} lie {gap} one inside the other: they do not meet as given."
        if reason.gap > 0.0:
            text = "The arcs of elements {one} and {other} lie {gap} apart: they do not meet as given."
        return text, {"one": arcs[0] + 1, "other": arcs[1] + 1, "gap": gap}
    return _too_small(reason, arcs[0], unknowns)


def _too_small(reason: NoRoot, arc: int, unknowns: Unknowns) -> _Said:
    radius = unknowns.elements[arc].radius
    if radius is None or reason.gap <= 0.0:
        gap = Quantity(abs(reason.gap), LENGTH)
        return "The arc of element {arc} misses its end by {gap}.", {"arc": arc + 1, "gap": gap}
    text = "Radius {radius} of element {arc} does not span its ends; the smallest that does is {smallest}."
    smallest = Quantity(radius + reason.gap, LENGTH)
    return text, {"radius": Quantity(radius, LENGTH, brief=True), "arc": arc + 1, "smallest": smallest}


def _short(reason: NoRoot, elements: Sequence[int], unknowns: Unknowns) -> _Said:
    index = elements[0]
    values: dict[str, Value] = {"number": index + 1, "gap": Quantity(reason.gap, LENGTH)}
    if unknowns.pieces[index].is_line:
        return "The line of element {number} is {gap} too short to reach its end.", values
    equation = reason.equations[0]
    level = _level_line_at(equation, unknowns)
    if level is not None:
        text = "The line of element {line} passes {gap} outside the arc of element {number}."
        return text, {**values, "line": level + 1}
    values["axis"] = "X" if equation.part else "Z"
    if equation.link is not None and equation.link.a == unknowns.pieces[index].start:
        text = "The radius of element {number} is {gap} too small: from its start to its centre in {axis} is more."
        return text, values
    return "The arc of element {number} stays {gap} short of the {axis} that is given.", values


def _level_line_at(equation: Equation, unknowns: Unknowns) -> int | None:
    """The line before or after an arc that runs along the coordinate which the arc does not reach."""
    piece, link = unknowns.pieces[equation.element], equation.link
    other = piece.index - 1 if link is not None and link.a == piece.start else piece.index + 1
    if not 0 <= other < len(unknowns.pieces) or not unknowns.pieces[other].is_line:
        return None
    line, name = unknowns.elements[other], "r" if equation.part else "z"
    before = unknowns.elements[other - 1] if other else unknowns.start
    angle = unit_at(line.angle) if line.angle is not None else None
    is_level = (angle is not None and along(angle, equation.part) == 0.0) or getattr(line, "d" + name) == 0.0
    ends = getattr(before, name), getattr(line, name)
    return other if is_level or (None not in ends and ends[0] == ends[1]) else None


def _parallel(reason: NoRoot, elements: Sequence[int], unknowns: Unknowns) -> _Said:
    gap = Quantity(reason.gap, LENGTH)
    if len(elements) == 1:
        is_line = unknowns.pieces[elements[0]].is_line
        text = (
            "The line of element {number} never comes to {dimensions}: it runs parallel, {gap} away."
            if is_line
            else "The arc of element {number} never comes to {dimensions}: {gap} are missing."
        )
        return text, {"number": elements[0] + 1, "dimensions": _given_of(elements[0], unknowns), "gap": gap}
    text = "Elements {one} and {other} run parallel, {gap} apart: they never meet."
    return text, {"one": elements[0] + 1, "other": elements[-1] + 1, "gap": gap}


def _given_of(element: int, unknowns: Unknowns) -> Listed | str:
    """The dimensions that the print gives of an element, in words."""
    named = tuple(NAMES[fact.name].words for fact in unknowns.facts if fact.element == element)
    return Listed(named) if named else "where the next begins"


def _backward(reason: NoRoot, elements: Sequence[int], unknowns: Unknowns) -> _Said:
    index = elements[0]
    if unknowns.pieces[index].is_line:
        text = "The line of element {number} would have to run backward by {gap}."
        return text, {"number": index + 1, "gap": Quantity(reason.gap, LENGTH)}
    return "The arc of element {number} would have to turn in the other direction.", {"number": index + 1}


def _nothing(_: NoRoot, elements: Sequence[int], __: Unknowns) -> _Said:
    return "Nothing is left of element {number}: it would start where it ends.", {"number": elements[0] + 1}


def _coupled(_: NoRoot, elements: Sequence[int], unknowns: Unknowns) -> _Said:
    text = "No contour was found in which elements {one} to {other} have these dimensions together."
    given = [unknowns.elements[index] for index in elements]
    if any(one.kind == "arc" and one.turn is None for one in given):
        text = (
            "No contour was found in which elements {one} to {other} have these dimensions together: give the turn of "
            "each arc."
        )
    return text, {"one": elements[0] + 1, "other": elements[-1] + 1}


def _open(_: NoRoot, elements: Sequence[int], __: Unknowns) -> _Said:
    return "The dimensions around element {number} do not fix it.", {"number": elements[0] + 1}


_SENTENCES = {
    "open": _open,
    "apart": _apart,
    "short": _short,
    "parallel": _parallel,
    "backward": _backward,
    "nothing": _nothing,
    "coupled": _coupled,
}


def contradiction(failed: Sequence[tuple[Check, float]]) -> Contradiction:
    """The problem that stands for dimensions that disagree: the one that is least off shows by how much."""
    check, off = min(failed, key=lambda one: abs(one[1]) / one[0].slack)
    fact = check.redundant.fact
    fields = [one.field for one in check.redundant.circuit]
    fields += [field_of(index, "tangent") for index in check.redundant.tangents]
    return disagreement(fact, fact.value + off, fields)


def disagreement(fact: Fact, otherwise: float, fields: Sequence[str]) -> Contradiction:
    """The problem of a dimension that the others make ``otherwise`` (mm, rad); ``fields`` are all that take part."""
    kind, off = NAMES[fact.name].kind, abs(otherwise - fact.value)
    made = Quantity(otherwise, kind)
    values: dict[str, Value] = {
        "what": Capital(words_for(fact.element, fact.name)),
        "given": Quantity(fact.value, kind),
        "otherwise": made,
        "off": Quantity(off, kind if kind in (ANGLE, X) else LENGTH),
    }
    text = "{what} is given as {given}, but the other dimensions make it {otherwise}: {off} apart."
    ordered = tuple(dict.fromkeys([fact.field, *fields]))
    return Contradiction(Fault(fact.field, Message(text, values)), fields=ordered, otherwise={fact.field: made})
