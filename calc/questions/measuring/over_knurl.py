"""Knurls of a part as they are measured: at the blank while it is turned, over the crests when they are rolled."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from calc.contour.text import ContourGiven
from calc.language.messages import Caution, Listed, Message, Quantity, Value
from calc.language.problems import Fault, Missing
from calc.language.quantities import DIAMETER, LENGTH, Z
from calc.measuring.verdict import OUT
from calc.questions.measuring.first_part_fields import Reading, ReadingRow
from calc.questions.measuring.part_measured_fields import PartReading
from calc.questions.operations.knurl import KnurlResults
from calc.questions.part.asked import between
from calc.questions.part.job import Job, Print, Roll
from calc.questions.part.knurl_blank import blank_of, knurls_of

SAME = 0.05
"""mm: sizes of a print that are nearer than this are taken as one, where no Z says which is meant."""


@dataclass(frozen=True, slots=True)
class MeasuredKnurl:
    """A knurl on the outside (mm): where it lies along Z, the diameter over its crests, what its blank is.

    `is_alone` says that no other cylinder of the part has the diameter over its crests.
    """

    z_min: float
    z_max: float
    over: float
    blank: KnurlResults
    is_alone: bool

    @property
    def z(self) -> float:
        """Its middle, mm."""
        return (self.z_min + self.z_max) / 2.0

    def holds(self, z: float) -> bool:
        """Whether a Z (mm) is on it."""
        return self.z_min <= z <= self.z_max


Stage = tuple[Literal["blank", "rolled"], MeasuredKnurl]
"""Whether a check is of a knurl's blank or of the rolled knurl, and which one."""


def knurls_on(job: Job, outside: ContourGiven | None) -> list[MeasuredKnurl]:
    """The knurls of a part, of its print and of its operations, each once. Raises what a knurl's question does."""
    rolls = {each.row: each.roll for each in knurls_of(outside, job.outside.drawn or job.outside)}
    for _, operation in job.in_order():
        if isinstance(operation.tool, Roll):
            first, last = between(job.outside, operation.first, operation.last)
            numbers = job.outside.numbers[first : last + 1]
            if not rolls.keys() & set(numbers):
                rolls[numbers[0]] = operation.tool
    return [_measured(job.outside, row, roll) for row, roll in sorted(rolls.items())]


def _measured(print_: Print, row: int, roll: Roll) -> MeasuredKnurl:
    of = [(each, number == row) for each, number in zip(print_.chain, print_.numbers, strict=True)]
    z = [point.z for each, own in of if own for point in (each.start, each.end)]
    over = roll.over or 2.0 * max(each.end.r for each, own in of if own)
    others = (each for each, own in of if not own and each.start.r == each.end.r)
    is_alone = all(abs(2.0 * each.end.r - over) > SAME for each in others)
    return MeasuredKnurl(min(z), max(z), over, blank_of(roll, over), is_alone)


def stage_of(row: PartReading, knurls: Sequence[MeasuredKnurl]) -> Stage | None:
    """Which knurl a check is about, before or after it is rolled; None for a check of none.

    A diameter on a knurl is that of the blank where it is nearer to that. Without a Z it is a knurl's where no other
    cylinder has this size.
    """
    found = _near(row, knurls)
    return min(found, key=lambda each: each[0])[1] if found else None


def require_one(row: PartReading, knurls: Sequence[MeasuredKnurl]) -> None:
    """Ask for the Z of a check that two knurls fit as well. Raises `Missing` at its field."""
    found = _near(row, knurls)
    least = min((off for off, _ in found), default=0.0)
    fitting = sorted({knurl.z for off, (_, knurl) in found if off < least + SAME}, reverse=True)
    if len(fitting) > 1:
        places = Listed(tuple(Quantity(z, Z) for z in fitting))
        raise Missing(Fault("at", Message(_WHICH, {"places": places})))


def _near(row: PartReading, knurls: Sequence[MeasuredKnurl]) -> list[tuple[float, Stage]]:
    """The knurls that a check may be about, each with how far (mm) its size is off there."""
    if row.where != "outside" or row.what not in ("diameter", "over_knurl"):
        return []
    size = row.nominal if row.nominal is not None else row.measured
    found: list[tuple[float, Stage]] = []
    for each in knurls:
        if row.at is None or each.holds(row.at):
            found.append((0.0 if size is None else abs(size - each.over), ("rolled", each)))
        if row.what == "diameter" and size is not None and (row.at is None or each.holds(row.at)):
            found.append((abs(size - each.blank.diameter_before), ("blank", each)))
    if row.what == "diameter" and row.at is None:
        return [(off, stage) for off, stage in found if off < SAME and (stage[0] == "blank" or stage[1].is_alone)]
    return found


def staged(reading: Reading, row: PartReading, knurls: Sequence[MeasuredKnurl]) -> Reading:
    """A check's reading at the middle of its knurl, with the size wanted there where it has none of its own.

    Raises `Missing` at the Z of a check that two knurls fit as well.
    """
    require_one(row, knurls)
    stage = stage_of(row, knurls)
    if stage is None:
        return reading
    name, knurl = stage
    wanted = knurl.over if name == "rolled" else knurl.blank.diameter_before
    nominal = wanted if reading.nominal is None else reading.nominal
    return replace(reading, what="over_knurl" if name == "rolled" else "diameter", nominal=nominal, at=knurl.z)


def cautions_over(rows: Mapping[int, ReadingRow], stages: Mapping[int, Stage]) -> Iterator[Caution]:
    """What to do where the crests of a knurl are off, by the numbers of the checks (from 0): no offset puts that right.

    Without limits they are off where one tooth more or less comes nearer.
    """
    for number, row in rows.items():
        name, knurl = stages.get(number, ("blank", None))
        if name == "blank" or knurl is None or row.deviation is None:
            continue
        smaller, larger = (getattr(knurl.blank, each) for each in ("smaller_blank", "larger_blank"))
        half = (larger - smaller) / 4.0
        if row.verdict != OUT and (row.verdict is not None or abs(row.deviation) < half):
            continue
        text = _TOO_SMALL if row.deviation < 0.0 else _TOO_LARGE
        values: dict[str, Value] = {"number": number + 1, "off": Quantity(abs(row.deviation), LENGTH)}
        values["blank"] = Quantity(larger if row.deviation < 0.0 else smaller, DIAMETER)
        yield Caution(Message(text, values), 2, "readings")


_WHICH = "More than one knurl has this size, in the middle at {places}: give the Z where it was measured."
_TOO_SMALL = (
    "Check {number}: {off} too small over the knurl. Feed the rolls in until the teeth are full; where they are full "
    "already, turn the next blank larger: {blank} has one tooth more."
)
_TOO_LARGE = (
    "Check {number}: {off} too large over the knurl. Feed the rolls in less on the next part, or turn its blank "
    "smaller: {blank} has one tooth fewer."
)
