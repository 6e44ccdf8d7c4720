"""What stays on a part's surfaces for later work: the print as it is turned, larger or smaller than it is drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from calc.contour import Chain, ContourError, Line, Point, Side, Vector
from calc.contour.moved import moved
from calc.language.fields import Declared, choice, given, result, rows, word
from calc.language.messages import Message, Phrase
from calc.language.problems import Fault, Impossible, Missing, OutOfRange
from calc.language.quantities import COUNT, LENGTH
from calc.questions.part.job import Print

SAME = 1e-9
"""mm: ends of the part that are no farther apart are one."""

Purpose = Literal["grinding", "hardening", "plating", "other"]
PURPOSES: Mapping[Purpose, str] = {
    "grinding": "grinding",
    "hardening": "what hardening moves",
    "plating": "plating: turned thinner by the coat",
    "other": "another operation",
}


RestWhere = Literal["outside", "inside"]
RESTS: Mapping[RestWhere, str] = {"outside": "outside", "inside": "bore"}


class RestRow(Declared):
    """What stays on rows of the print: where, how much, what for."""

    where: RestWhere = choice("On the", RESTS, "outside")
    from_row: float | None = given(COUNT, "From row of the print", above=0.0, most=1000.0, blank="the first")
    to_row: float | None = given(COUNT, "To row of the print", above=0.0, most=1000.0, blank="the last")
    per_side: float | None = given(LENGTH, "Left per side", above=0.0, most=10.0, hint="square to the surface")
    purpose: Purpose = choice("For", PURPOSES, "grinding")


class LeftInputs(Declared):
    """What the turned part is left larger by."""

    left_on: tuple[RestRow, ...] = rows(
        RestRow,
        "Left on the print",
        one="Surface",
        most=20,
        hint="Contour, points and check list are then of the part as turned.",
    )


class RestResult(Declared):
    """What stays on a surface when the part is turned."""

    surface: str = word("Surface")
    per_side: float = result(LENGTH, "per side")
    purpose: str = word("for")
    turned: str = word("turned")


@dataclass(frozen=True, slots=True)
class Rest:
    """What is left on some rows of the print (mm, square to the surface), for what; before plating it is taken away.

    `field` stands before the names of faults. `first` and `last` are rows of the print, None from or to its end.
    """

    per_side: float
    purpose: Purpose = "grinding"
    first: int | None = None
    last: int | None = None
    field: str = ""

    @property
    def toward_tool(self) -> float:
        """How far the surface is turned outside of the print, mm; negative before plating."""
        return -self.per_side if self.purpose == "plating" else self.per_side


def rests_of(given_: LeftInputs, where: RestWhere) -> list[Rest]:
    """What is left on the outside or in the bore. Raises `Missing` for a row without an amount."""
    found = []
    for number, row in enumerate(given_.left_on):
        field = f"left_on.{number}"
        if row == RestRow():
            continue
        if row.per_side is None:
            raise Missing(Fault(f"{field}.per_side", Message("Give how much is left per side.")))
        first, last = (None if each is None else round(each) for each in (row.from_row, row.to_row))
        if row.where == where:
            found.append(Rest(row.per_side, row.purpose, first, last, field))
    return found


def rest_rows(given_: LeftInputs) -> list[RestResult]:
    """The table of what is left, as the operator reads it."""
    found = []
    for where in RESTS:
        for rest in rests_of(given_, where):
            thicker = (rest.purpose == "plating") == (where == "inside")
            rows_ = _rows_said(rest)
            turned = Phrase("larger than the print") if thicker else Phrase("smaller than the print")
            surface = f"{RESTS[where]}, {rows_}"
            found.append(RestResult(surface=surface, per_side=rest.per_side, purpose=rest.purpose, turned=turned))
    return found


def _rows_said(rest: Rest) -> str:
    if rest.first is not None and rest.first == rest.last:
        return Phrase("row {number}", number=rest.first)
    if rest.first is None:
        return "all rows" if rest.last is None else Phrase("rows up to {last}", last=rest.last)
    if rest.last is None:
        return Phrase("rows from {first} on", first=rest.first)
    return Phrase("rows {first} to {last}", first=rest.first, last=rest.last)


def turned_print(print_: Print, side: Side, rests: Sequence[Rest]) -> Print:
    """The print as it is turned. Raises `OutOfRange` for rows that are none, `Impossible` where nothing is left.

    >>> from calc.contour import Chain, Line, Point
    >>> corners = [Point(0.0, 0.0), Point(0.0, 6.0), Point(-3.0, 6.0), Point(-3.0, 9.0)]
    >>> drawn = Print(Chain(tuple(Line(a, b) for a, b in zip(corners, corners[1:]))))
    >>> turned_print(drawn, "right", [Rest(0.3, first=2, last=2)]).chain.elements[1].start
    Point(z=0.0, r=6.3)
    """
    if not rests:
        return print_
    distances = [0.0] * len(print_.chain)
    for rest in rests:
        for index in _elements(print_, rest):
            distances[index] = rest.toward_tool
    try:
        chain, of = moved(print_.chain, side, distances)
    except ContourError as error:
        text = "This leaves nothing of a row of the print, or its walls meet: leave less, or take fewer rows."
        raise Impossible(Fault(f"{rests[0].field}.per_side", Message(text))) from error
    return replace(print_, chain=chain, rows=tuple(print_.numbers[each] for each in of), drawn=print_)


def to_the_far_end(inside: Print, outside: Print) -> Print:
    """The bore led on straight to the far end of a part that is left longer there; any other as it is.

    >>> from calc.contour import Chain, Line, Point
    >>> face, bore = Line(Point(-20.3, 9.0), Point(-20.3, 5.0)), Line(Point(0.0, 5.0), Point(-20.0, 5.0))
    >>> longer = Print(Chain((face,)), drawn=Print(Chain((face.shifted(0.3, 0.0),))))
    >>> to_the_far_end(Print(Chain((bore,))), longer).chain.end
    Point(z=-20.3, r=5.0)
    """
    last, far = inside.chain.elements[-1], outside.chain.bounds.z_min
    ended = far if outside.drawn is None else outside.drawn.chain.bounds.z_min
    straight = abs(last.start.r - last.end.r) < SAME and isinstance(last, Line)
    if far >= ended - SAME or abs(last.end.z - ended) > SAME or not straight:
        return inside
    led_on = Line(last.start, Point(far, last.end.r))
    drawn = inside if inside.drawn is None else inside.drawn
    return replace(inside, chain=Chain((*inside.chain.elements[:-1], led_on)), drawn=drawn)


def _elements(print_: Print, rest: Rest) -> list[int]:
    """The elements of a rest's rows. Raises `OutOfRange`."""
    low, high = min(print_.numbers), max(print_.numbers)
    first, last = low if rest.first is None else rest.first, high if rest.last is None else rest.last
    for name, row in (("from_row", first), ("to_row", last)):
        if not low <= row <= high:
            values = {"low": low, "high": high}
            raise OutOfRange(Fault(f"{rest.field}.{name}", Message("Give a row number from {low} to {high}.", values)))
    if first > last:
        raise OutOfRange(Fault(f"{rest.field}.from_row", Message("The first row must not come after the last.")))
    return [index for index, row in enumerate(print_.numbers) if first <= row <= last]


def shift_at(print_: Print, row: int) -> Vector:
    """How far the end of a row of the print (0: its start) is moved by what is left on it, mm; none without that."""
    drawn = print_.drawn
    if drawn is None:
        return Vector(0.0, 0.0)
    ends = [_end_of(each, row) for each in (drawn, print_)]
    return ends[0].to(ends[1])


def _end_of(print_: Print, row: int) -> Point:
    ends = [element.end for element, number in zip(print_.chain, print_.numbers, strict=True) if number == row]
    return ends[-1] if ends else print_.chain.start
