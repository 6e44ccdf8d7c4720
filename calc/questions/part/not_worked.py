"""Rows of the print that no operation works on and where stock still stands at the end."""

from __future__ import annotations

from collections.abc import Iterator

from calc.contour import Element
from calc.language.messages import Caution, Listed, Message
from calc.machining.job import Where
from calc.machining.removal.stock import Stock
from calc.machining.whole import turned_stock
from calc.questions.part.done import PartDone
from calc.questions.part.job import Job, Kind, Operation, Print

OFF = 0.05
"""mm: stock so far off a row, on the tool's side, stands on it."""

SAME = 1e-6

ON_AXIS: tuple[Kind, ...] = ("centre", "drill", "counterbore", "countersink", "measure")
"""Kinds that make no row of the print: what they leave there is for another operation."""

SAID: dict[Where, str] = {
    "outside": "No operation cuts these rows of the outside, and stock still stands on them: {rows}. Add one that "
    "does.",
    "bore": "No operation cuts these rows of the bore, and stock still stands on them: {rows}. Add one that does.",
}


def not_worked_cautions(done: PartDone, job: Job) -> Iterator[Caution]:
    """A caution for each contour with such rows; the face that parts the piece off is left out."""
    if not done.operations:
        return
    last = done.operations[-1]
    stock = last.after if last.end == "first" else turned_stock(last.after, job.length)
    contours: tuple[tuple[Where, Print | None, float], ...]
    contours = (("outside", job.outside, -1.0), ("bore", job.inside, 1.0))
    for where, print_, sign in contours:
        if print_ is None:
            continue
        worked = {row for _, each in job.in_order() for row in _rows(each, where, print_)}
        there = (row for row, each in _behind_the_face(print_, job.length) if _stands(stock, each, sign))
        rows = sorted({*there} - worked)
        if rows:
            yield Caution(Message(SAID[where], {"rows": Listed(tuple(rows))}), 2, "operations")


def _rows(operation: Operation, where: Where, print_: Print) -> Iterator[int]:
    """The rows of a contour that an operation works on."""
    inside = operation.where == "bore" or operation.kind in ("bore", "ream", "tap")
    if operation.kind in ON_AXIS or inside != (where == "bore"):
        return
    first, last = operation.first, operation.last
    yield from (row for row in print_.numbers if (first or row) <= row <= (last or row))


def _behind_the_face(print_: Print, length: float) -> Iterator[tuple[int, Element]]:
    """The elements of a contour with their rows, but for what lies on the far face of a part of a length (mm)."""
    for element, row in zip(print_.chain, print_.numbers, strict=True):
        if max(element.start.z, element.end.z) > SAME - length:
            yield row, element


def _stands(stock: Stock, element: Element, sign: float) -> bool:
    """Whether stock stands on the middle of an element, on its left (`sign` 1) or right (-1)."""
    import shapely  # noqa: PLC0415 - loaded on first use

    middle, off = element.length / 2.0, element.tangent_at(element.length / 2.0).left().times(sign * OFF)
    place = element.point_at(middle).moved(off)
    return stock.meets(shapely.Point(*place))
