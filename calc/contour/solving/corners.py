"""Corners, once the sharp contour is known."""

from __future__ import annotations

from collections.abc import Sequence

from calc.contour.corner import TrimmedCorner, chamfer, chamfer_at, fillet
from calc.contour.elements import Element
from calc.contour.errors import CornerError
from calc.contour.solving.given import GivenCorner, GivenElement, field_of
from calc.contour.solving.solution import Solved
from calc.contour.undercut import Cut, undercut_at
from calc.language.messages import Message
from calc.language.problems import Fault, Impossible


def with_corners(sharp: Sequence[Element], given: Sequence[GivenElement]) -> tuple[Solved, ...]:
    """The elements trimmed, with an element in place of each corner that is broken.

    Raises `Impossible` at the corner that does not fit, with the largest that does.
    """
    made: list[Solved] = [Solved(sharp[0], 0)]
    for index, after in enumerate(sharp[1:]):
        corner = given[index].corner
        if corner is None:
            made.append(Solved(after, index + 1))
            continue
        trimmed = _trimmed(made[-1], after, corner, index)
        made.pop()
        between = trimmed.between if isinstance(trimmed, Cut) else (trimmed.between,)
        words = corner.undercut.words if corner.undercut else ""
        made += [Solved(trimmed.before, index)] if trimmed.before is not None else []
        made += [Solved(each, index, is_corner=True, undercut=words) for each in between]
        made += [Solved(trimmed.after, index + 1)] if trimmed.after is not None else []
    return tuple(made)


def _trimmed(before: Solved, after: Element, corner: GivenCorner, index: int) -> TrimmedCorner | Cut:
    if before.of != index or before.is_corner:
        text = "The corner before has left nothing of element {number}."
        raise Impossible(Fault(field_of(index, "corner"), Message(text, {"number": index + 1})))
    try:
        if corner.undercut is not None:
            return undercut_at(before.element, after, corner.undercut)
        if corner.angle is not None:
            return chamfer_at(before.element, after, corner.size, corner.angle, corner.along)
        if corner.kind == "chamfer":
            return chamfer(before.element, after, corner.size)
        return fillet(before.element, after, corner.size)[0]
    except CornerError as error:
        message = Message("At the end of element {number}, {why}.", {"number": index + 1, "why": error.message})
        raise Impossible(Fault(field_of(index, "corner"), message)) from error
