"""The check of edges against slopes, element by element, and the inserts and styles that would pass."""

from __future__ import annotations

import math
from collections.abc import Iterator

from calc.contour import Element, Point
from calc.language.fields import Declared, result, word
from calc.language.messages import Capital, Message, Phrase, Quantity, Value, in_a_row, joined
from calc.language.quantities import ANGLE
from calc.machining.reach.angles import (
    GENEROUS_MARGIN,
    ROUNDING,
    USUAL_MARGIN,
    Opening,
    element_margins,
)
from calc.machining.reach.findings import Finding, Verdict
from calc.machining.reach.tool import Hold, Tool
from calc.machining.reach.work import Work
from calc.tool.holder import Hand, styles
from calc.tool.insert.tables import shapes

OFFERED = "CWSTDVR"
"""Shapes that are offered when one does not pass: those in common use for turning (common practice, no source)."""


class SlopeRow(Declared):
    """An element of the contour as it is travelled, and the angles that the insert's edges leave to it (rad)."""

    element: str = word("Element")
    way: str = word("runs")
    from_face: float = result(ANGLE, "steepest, from the face")
    ahead: float | None = result(ANGLE, "edge ahead, to spare")
    behind: float | None = result(ANGLE, "edge behind, to spare")


class PassingRow(Declared):
    """A shape that passes by its angles, and the tool styles that hold it so."""

    shape: str = word("Shape")
    angle: float | None = result(ANGLE, "included angle")
    styles: str = word("in tool styles")


def slope_rows(tool: Tool, work: Work) -> Iterator[SlopeRow]:
    """One row for each element to be machined."""
    for index, element in zip(work.machined, work.cut, strict=True):
        margins = element_margins(tool, element, work.side)
        yield SlopeRow(
            element=work.name_of(index),
            way=_way(element),
            from_face=max(_from_face(element, s) for s in (0.0, element.length)),
            ahead=None if tool.low is None else margins.ahead,
            behind=None if tool.low is None else margins.behind,
        )


def slope_findings(tool: Tool, work: Work, opening: Opening, hold: Hold | None) -> Iterator[Finding]:
    """The worst place for the edge ahead of the nose, and for the one behind it; nothing for a round insert."""
    if tool.low is None:
        return
    found = [
        (work.name_of(index), element_margins(tool, element, work.side))
        for index, element in zip(work.machined, work.cut, strict=True)
    ]
    name, margins = min(found, key=lambda pair: pair[1].ahead)
    yield _finding("edge ahead of the nose", name, margins.ahead, margins.ahead_at, work, opening, hold)
    name, margins = min(found, key=lambda pair: pair[1].behind)
    yield _finding("edge behind the nose", name, margins.behind, margins.behind_at, work, opening, hold)


def _finding(
    check: str, name: str, margin: float, at: Point, work: Work, opening: Opening, hold: Hold | None
) -> Finding:
    verdict: Verdict = "stops" if margin < -ROUNDING else "tight" if margin < USUAL_MARGIN - ROUNDING else "passes"
    message = None if verdict == "passes" else _slope_message(check, name, margin, at, work, opening, hold)
    return Finding(check, verdict, name, at, angle=margin, message=message)


def _slope_message(
    check: str, name: str, margin: float, at: Point, work: Work, opening: Opening, hold: Hold | None
) -> Message:
    element = next(e for i, e in zip(work.machined, work.cut, strict=True) if work.name_of(i) == name)
    values: dict[str, Value] = {
        "name": Capital(name),
        "at": at,
        "slope": Quantity(_from_face(element, element.locate(at)), ANGLE, brief=True),
        "check": check,
        "short": Quantity(abs(margin), ANGLE, brief=True),
        "low": Quantity(USUAL_MARGIN, ANGLE, brief=True),
        "high": Quantity(GENEROUS_MARGIN, ANGLE, brief=True),
        "passing": _passing_words(opening, hold),
    }
    if margin < 0.0:
        text = "{name} stops this tool: at {at} it stands {slope} to the face, the {check} would lie {short} inside."
    else:
        text = "{name} is tight: at {at} only {short} are left beside the {check}; {low} to {high} are usual."
    return in_a_row(Message(text, values), Message("{passing}", values))


def _passing_words(opening: Opening, hold: Hold | None) -> str:
    rows = list(passing_rows(opening, hold.hand if hold else "R", along=hold.along if hold else False))
    shapes_ = [row.shape.split(":")[0] for row in rows if row.angle is not None]
    if not shapes_:
        return "A round insert passes."
    text = "A round insert passes, or shape {others} in a style that the list below names."
    return Phrase(text, others=", ".join(shapes_))


def passing_rows(opening: Opening, hand: Hand, *, along: bool) -> Iterator[PassingRow]:
    """The shapes in common use that pass by their angles with the usual margin, with the styles that hold them so.

    >>> rows = list(passing_rows(Opening(math.radians(-90.0), math.radians(70.05)), "R", along=False))
    >>> [(row.shape[0], row.styles) for row in rows if row.shape[0] in "CD"]
    [('C', 'K, W'), ('D', 'C, F, K, P, U, W, Y')]
    """
    for letter in OFFERED:
        shape = shapes()[letter]
        if shape.angle is None:
            yield PassingRow(
                shape=Phrase("{letter}: {words}", letter=letter, words=shape.words), styles="any whose holder clears"
            )
            continue
        holds = _holds(shape.angle, hand, along=along)
        fitting = [name for name, hold in holds if opening.admits(hold, shape.angle)]
        if fitting:
            yield PassingRow(
                shape=Phrase("{letter}: {words}", letter=letter, words=shape.words),
                angle=shape.angle,
                styles=", ".join(dict.fromkeys(fitting)),
            )


def _holds(angle: float, hand: Hand, *, along: bool) -> Iterator[tuple[str, Hold]]:
    """The styles that leave an insert of included `angle` an end cutting angle."""
    for letter, style in styles().items():
        if style.angle is not None and style.angle + angle < math.pi:
            yield letter, Hold(style.angle, "end" if style.cuts == "end" else "side", hand, along)


def _from_face(element: Element, s: float) -> float:
    tangent = element.tangent_at(s)
    return math.atan2(abs(tangent.z), abs(tangent.r))


def _way(element: Element) -> str:
    middle = element.tangent_at(element.length / 2)
    across = _told(middle.r, "falling toward the axis", "rising from the axis")
    return joined(part for part in (across, _told(middle.z, "into the part", "out of the part")) if part)


def _told(amount: float, less: str, more: str) -> str:
    return less if amount < -ROUNDING else more if amount > ROUNDING else ""
