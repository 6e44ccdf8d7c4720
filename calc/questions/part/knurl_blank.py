"""Knurls on a part's print: the contour as it is turned stands at the blank on their rows."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from calc.contour import Chain, Element, Line, Point
from calc.contour.text import ContourGiven
from calc.language.messages import Message
from calc.language.problems import Fault, Impossible, Problem
from calc.language.working import recording
from calc.questions.operations.knurl import KnurlInputs, KnurlResults
from calc.questions.operations.knurl import solve as knurl
from calc.questions.part.called import Knurled
from calc.questions.part.job import Print, Roll
from calc.shapes.knurls_on_print import knurl_called

LEANS = math.radians(30.0)
"""The blank runs up to the surface beside it under this angle to the axis (common practice, no source)."""

SAME = 1e-9


def knurls_of(given: ContourGiven | None, print_: Print) -> tuple[Knurled, ...]:
    """The knurls that rows of a contour bear, each over the diameter of its row."""
    found = []
    for at, text in (given.knurls if given is not None else {}).items():
        called = knurl_called(text)
        row = 0 if given is None else sum(each <= at for each in given.rows)
        over = max((2.0 * element.end.r for element in _of_row(print_, row)), default=None)
        if called is not None:
            field = "" if given is None else f"{given.prefix}.{at}.x"
            found.append(Knurled(row, Roll(called.pitch, called.form, over), field))
    return tuple(found)


def _of_row(print_: Print, row: int) -> Iterator[Element]:
    return (each for each, number in zip(print_.chain, print_.numbers, strict=True) if number == row)


def at_the_blank(print_: Print, knurls: tuple[Knurled, ...]) -> Print:
    """The print as it is turned before its knurls are rolled. Raises `Impossible` for one that has no room.

    >>> corners = [Point(0.0, 0.0), Point(0.0, 21.0), Point(-3.0, 21.0), Point(-13.0, 21.0), Point(-20.0, 21.0)]
    >>> drawn = Print(Chain(tuple(Line(a, b) for a, b in zip(corners, corners[1:]))))
    >>> turned = at_the_blank(drawn, (Knurled(3, Roll(1.0, "crossed", 42.0)),))
    >>> [round(2.0 * each.end.r, 3) for each in turned.chain], turned.numbers
    ([42.0, 42.0, 41.38, 41.38, 42.0, 42.0], (1, 2, 3, 3, 3, 4))
    """
    if not knurls:
        return print_
    elements: list[Element] = []
    rows: list[int] = []
    by_row = {each.row: each for each in knurls}
    for element, row in zip(print_.chain, print_.numbers, strict=True):
        turned = list(_blank(element, by_row[row])) if row in by_row else [element]
        elements += turned
        rows += [row] * len(turned)
    return replace(print_, chain=Chain(tuple(elements)), rows=tuple(rows), drawn=print_.drawn or print_)


def blank_of(roll: Roll, over: float, field: str = "") -> KnurlResults:
    """What the print of a knurl is `over` its crests (mm) asks of its blank. Raises at `field` what its question does.

    >>> round(blank_of(Roll(1.0, "crossed"), 42.0).diameter_before, 3)
    41.38
    """
    try:
        with recording():
            return knurl(KnurlInputs(diameter=over, pitch=roll.pitch, form=roll.form)).results
    except Problem as problem:
        raise problem.renamed(lambda _: field) from problem


def _blank(element: Element, called: Knurled) -> Iterator[Element]:
    """The element of a knurl's row at the blank, leaning up to the surface at both ends."""
    a, b = element.start, element.end
    if not isinstance(element, Line) or abs(a.r - b.r) > SAME:
        raise Impossible(Fault(called.field, Message("A knurl stands on a cylinder, but this row is not one.")))
    r = blank_of(called.roll, 2.0 * a.r, called.field).diameter_before / 2.0
    step = math.copysign((a.r - r) / math.tan(LEANS), b.z - a.z)
    if abs(b.z - a.z) <= 2.0 * abs(step):
        raise Impossible(Fault(called.field, Message("The row is too short for a blank that runs out at both ends.")))
    places = [a, Point(a.z + step, r), Point(b.z - step, r), b]
    yield from (Line(start, end) for start, end in pairwise(places))
