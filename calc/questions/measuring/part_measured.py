"""A part measured: the checks of its print, readings go in, what to change of each tool comes out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import cast

from calc.answer.drawing import Drawing
from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Chain, Side
from calc.cutting.nouns import PointNumber
from calc.language.checks import require
from calc.language.messages import Caution, Message, Phrase, joined
from calc.language.problems import Fault, Missing, OutOfRange, Problem
from calc.measuring.first_part import FirstPart, first_parts
from calc.measuring.places import Place, find
from calc.measuring.runout import Runout
from calc.questions.measuring import first_part
from calc.questions.measuring.check_texts import part_texts
from calc.questions.measuring.first_part_fields import (
    FirstPartInputs,
    FirstPartResults,
    Reading,
    ReadingRow,
)
from calc.questions.measuring.first_part_places import places_of
from calc.questions.measuring.made_by import Maker, faced_by, made_by, makers_of
from calc.questions.measuring.over_knurl import MeasuredKnurl, cautions_over, knurls_on, stage_of, staged
from calc.questions.measuring.part_measured_fields import (
    CheckedRow,
    PartMeasuredInputs,
    PartMeasuredResults,
    PartReading,
    ToolChangeRow,
)
from calc.questions.measuring.part_measured_rows import check_row, temperature_of, tool_row
from calc.questions.measuring.pasted import with_pasted
from calc.questions.measuring.runout_rows import RunoutRow, runout_rows
from calc.questions.part.asking import at_the_page, job_of
from calc.questions.part.declared import PartInputs
from calc.questions.part.examples import SLEEVE
from calc.questions.part.job import Job

SIDES: dict[str, Side] = {"outside": "right", "inside": "left"}


@dataclass(frozen=True, slots=True)
class _Taken:
    """A reading that was taken: its number (from 0), as the first part has it, and the operation that it belongs to."""

    number: int
    reading: Reading
    where: str
    place: Place
    maker: Maker


@dataclass(frozen=True, slots=True)
class _Judged:
    """One tool's readings and what they say."""

    maker: Maker
    taken: Sequence[_Taken]
    answer: Answer[FirstPartResults]
    runouts: Sequence[tuple[int, Runout]] = ()


def solve(inputs: PartMeasuredInputs) -> Answer[PartMeasuredResults]:
    """What to change of each tool. Raises Missing, OutOfRange and what contours and tools raise, at the fields' names.

    The readings of each tool in each clamping are explained by its own offsets, nose and height; those of all tools in
    one clamping together by the taper of the work and the growth that they share.
    """
    require(inputs)
    inputs = replace(inputs, readings=with_pasted(inputs.readings, inputs.pasted, inputs.pasted_in))
    job = _job(inputs)
    knurls = knurls_on(job, inputs.outside)
    taken = list(_taken(inputs, job, knurls))
    if not taken:
        text = "Enter what was measured: one reading is enough to begin with."
        raise Missing(Fault("readings.0.measured" if inputs.readings else "readings", Message(text)))
    groups: dict[object, list[_Taken]] = {}
    for each in taken:
        groups.setdefault((each.maker.key, each.where), []).append(each)
    judged = _judged(inputs, job, list(groups.values()))
    rows = _checked(inputs, judged, knurls)
    return Answer(
        results=_results(inputs, judged, rows),
        headline="state",
        tables={
            "tools": [
                tool_row(each.maker, [taken.number for taken in each.taken], each.answer.results) for each in judged
            ],
            "checks": rows,
            "runouts": _runouts(judged),
        },
        cautions=(*_of_knurls(inputs, judged, knurls), *(caution for each in judged for caution in _cautions(each))),
        notes=tuple({note.say(): note for note in _notes(inputs, judged)}.values()),
        drawing=partial(_drawing, job, taken),
    )


def _job(inputs: PartMeasuredInputs) -> Job:
    try:
        return job_of(_part(inputs))
    except Problem as problem:
        raise problem.renamed(at_the_page) from problem


def _part(inputs: PartMeasuredInputs) -> PartInputs:
    return PartInputs(
        outside=inputs.outside, inside=inputs.inside, plan=inputs.plan, bar=inputs.bar, later=inputs.later
    )


def _taken(inputs: PartMeasuredInputs, job: Job, knurls: Sequence[MeasuredKnurl]) -> Iterator[_Taken]:
    """The readings that were taken, each with its operation. Raises OutOfRange for all whose place is nowhere."""
    makers, faults = makers_of(job), []
    for number, row in enumerate(inputs.readings):
        if row.measured is None:
            continue
        try:
            reading = staged(_reading(row, row.measured), row, knurls)
            place, maker = _place_and_maker(job, makers, row, reading)
        except Problem as problem:
            faults += [Fault(_at(number, fault.field), fault.message) for fault in problem.faults]
        else:
            yield _Taken(number, reading, row.where, place, maker)
    if faults:
        raise OutOfRange(*faults)


def _at(number: int, field: str) -> str:
    """A fault's field in the row of this number."""
    return f"readings.{number}.{field.removeprefix('readings.0.')}"


def _reading(row: PartReading, measured: float) -> Reading:
    return Reading(
        what=row.what,
        at=row.at,
        to_z=row.to_z,
        on_diameter=row.on_diameter,
        ball_diameter=row.ball_diameter,
        surface=row.surface,
        thread=row.thread,
        wire=row.wire,
        nominal=row.nominal,
        upper=row.upper,
        lower=row.lower,
        measured=measured,
        spread=row.spread,
        gauge_offset=row.gauge_offset,
        part=row.part,
    )


def _place_and_maker(job: Job, makers: list[Maker], row: PartReading, reading: Reading) -> tuple[Place, Maker]:
    print_ = job.inside if row.where == "inside" else job.outside
    if print_ is None:
        raise OutOfRange(Fault("where", Message("The print has no bore: give it, or measure outside.")))
    place = places_of(print_.chain, SIDES[row.where], 3 if row.where == "outside" else 2, [reading])[0]
    if row.operation is not None:
        found = next((each for each in makers if each.number == round(row.operation)), None)
        field, text = "operation", "There is no operation of this number that cuts."
    else:
        there = _under_runout(print_.chain, row) if row.what == "runout" else place
        found = made_by(job, makers, there, row.where, row.thread) if there is not None else None
        if found is None and row.what == "runout":
            found = next(iter(makers), None)  # it moves no offset: a surface that was there before is nobody's
        field, text = "operation", "No operation of the part cuts there: say which one does."
    if found is None:
        raise OutOfRange(Fault(field, Message(text)))
    return place, found


def _under_runout(chain: Chain, row: PartReading) -> Place | None:
    """The cylinder on which a runout was read; None where the print has none there."""
    return find(chain, SIDES[row.where], "diameter", row.at, None if row.at is not None else row.nominal)


def _judged(inputs: PartMeasuredInputs, job: Job, groups: Sequence[Sequence[_Taken]]) -> list[_Judged]:
    """Each tool's readings as a first part of their own, those of one clamping solved together."""
    asked = [_prepared(inputs, job, taken) for taken in groups]
    made: dict[int, FirstPart] = {}
    for end in ("first", "second"):
        there = [index for index, taken in enumerate(groups) if taken[0].maker.end == end]
        made |= zip(there, first_parts([asked[index].turned for index in there]), strict=True)
    return [
        _Judged(
            taken[0].maker,
            taken,
            first_part.answer_of(asked[index], made[index]),
            [(taken[number - 1].number + 1, runout) for number, runout in asked[index].runouts],
        )
        for index, taken in enumerate(groups)
    ]


def _prepared(inputs: PartMeasuredInputs, job: Job, taken: Sequence[_Taken]) -> first_part.Prepared:
    """One tool's readings at their places, with what is known of its clamping: the pip is that of the facing tool."""
    maker, where = taken[0].maker, taken[0].where
    is_first = maker.end == "first"
    held_at, pip = (inputs.held_at, inputs.pip) if is_first else (inputs.second_held_at, inputs.second_pip)
    facing = faced_by(job, makers_of(job), maker.end)
    asked = FirstPartInputs(
        contour=inputs.inside if where == "inside" else inputs.outside,
        nose_radius=maker.nose,
        tool_point=cast("PointNumber", str(maker.tool_point(where))),
        readings=tuple(each.reading for each in taken),
        held_at=held_at,
        pip=pip if facing is not None and facing.key == maker.key and where == "outside" else "",
        usual_spread=inputs.usual_spread,
        temperature=temperature_of(inputs),
    )
    try:
        print_ = job.inside if where == "inside" else job.outside
        turned = print_.chain if print_ is not None and print_.drawn is not None else None
        return first_part.prepared(asked, None if is_first else -job.length, turned)
    except Problem as problem:
        raise problem.renamed(partial(_there, taken)) from problem


def _there(taken: Sequence[_Taken], field: str) -> str:
    """The field of this page that one tool's readings call `readings.1.at`."""
    if field == "held_at" and taken[0].maker.end == "second":
        return "second_held_at"
    name, _, rest = field.partition(".")
    number, _, what = rest.partition(".")
    return f"readings.{taken[int(number)].number}.{what}" if name == "readings" and number.isdigit() else field


def _checked(
    inputs: PartMeasuredInputs, judged: Sequence[_Judged], knurls: Sequence[MeasuredKnurl]
) -> list[CheckedRow]:
    """Every check of the list, those not measured yet with their names alone."""
    found = _found(judged)
    return [
        check_row(number, row, found.get(number), stage_of(row, knurls)) for number, row in enumerate(inputs.readings)
    ]


def _found(judged: Sequence[_Judged]) -> dict[int, tuple[str, ReadingRow]]:
    """What was found of each check that was measured, with its tool, by the number of its row from 0."""
    return {
        taken.number: (each.maker.name, row)
        for each in judged
        for taken, row in zip(each.taken, each.answer.tables["readings"], strict=True)
    }


def _of_knurls(
    inputs: PartMeasuredInputs, judged: Sequence[_Judged], knurls: Sequence[MeasuredKnurl]
) -> Iterator[Caution]:
    """What to do where a knurl that was measured is off."""
    stages = {number: stage for number, row in enumerate(inputs.readings) if (stage := stage_of(row, knurls))}
    return cautions_over({number: row for number, (_, row) in _found(judged).items()}, stages)


def _runouts(judged: Sequence[_Judged]) -> list[RunoutRow]:
    """What the runouts of the part mean, those of all tools together."""
    taken = sorted((each for tool in judged for each in tool.runouts), key=lambda each: each[0])
    return runout_rows(taken)


def _results(inputs: PartMeasuredInputs, judged: Sequence[_Judged], rows: Sequence[CheckedRow]) -> PartMeasuredResults:
    measured = [row for row in rows if row.measured is not None]
    words = [inputs.bar.part_name, inputs.revision and Phrase("revision {revision}", revision=inputs.revision)]
    return PartMeasuredResults(
        state=first_part.state_of([row.verdict for row in rows]),
        measured_count=float(len(measured)),
        tool_count=float(len(judged)),
        part_named=joined(each for each in words if each) or None,
    )


def _cautions(judged: _Judged) -> Iterator[Caution]:
    """What each tool's readings warn of, with its name and the numbers of the rows here."""
    for caution in judged.answer.cautions:
        message = _renumbered(judged, caution.message)
        about = "tools" if caution.about != "readings" else "readings"
        yield replace(caution, message=_of_tool(judged, message), about=about)


def _of_tool(judged: _Judged, said: Message) -> Message:
    return Message("{tool}: {said}", {"tool": judged.maker.name, "said": said})


def _notes(inputs: PartMeasuredInputs, judged: Sequence[_Judged]) -> Iterator[Message]:
    blank = sum(row.measured is None for row in inputs.readings)
    if blank:
        yield Message("Checks not measured yet: {n}.", {"n": blank})
    for each in judged:
        for note in each.answer.notes:
            said = _renumbered(each, note)
            yield _of_tool(each, said)
    if any(each.maker.z_sign < 0.0 for each in judged):
        yield Message("Of the second end Z counts from the chuck out there: its changes are those to key in there.")


def _renumbered(judged: _Judged, message: Message) -> Message:
    number = message.values.get("number")
    if not isinstance(number, int):
        return message
    return Message(message.text, {**message.values, "number": judged.taken[number - 1].number + 1})


def _drawing(job: Job, taken: Sequence[_Taken]) -> Drawing:
    chain: Chain = job.outside.chain
    return Drawing(
        title="Where the part was measured",
        description="The outside of the print with the axis across the page; the numbers are those of the readings.",
        part=chain,
        spots=tuple((f"{each.number + 1}", each.place.spot) for each in taken if each.place.element is not None),
    )


FEATURE = Feature(
    path="measure/part",
    page="/part-measured",
    title="Part measured",
    summary="The checks of a part with what was measured: what to change of each tool, which size is scrap or rework.",
    solve=solve,
    supporting=("measured_count", "tool_count"),
    unfolded=("What to change", "The checks"),
    rows={
        "tools": Rows(ToolChangeRow, "What to change, tool by tool", "What to change"),
        "checks": Rows(CheckedRow, "The checks", "The checks"),
        "runouts": Rows(RunoutRow, "What the runouts mean"),
    },
    example={
        **{name: SLEEVE[name] for name in ("part_name", "outside", "inside", "material", "bar_diameter", "stock_bore")},
        "stock_length": SLEEVE["stock_length"],
        "face_stock": SLEEVE["face_stock"],
        "operations": "*".join(each for each in SLEEVE["operations"].split("*") if "kind:rough" not in each),
        "readings": "what:diameter~nominal:42 mm~lower:41.95 mm~upper:42.05 mm~measured:42.032 mm~spread:0.004 mm"
        "*what:diameter~where:inside~nominal:25 mm~lower:25 mm~upper:25.021 mm~measured:24.994 mm~spread:0.003 mm"
        "*what:length~where:inside~nominal:19 mm~lower:18.9 mm~upper:19.1 mm",
    },
    takes=part_texts,
    kept_with="/part",
)
