"""A part that is done as a page shows it: rows of operations, tools and passes, cautions, a picture an operation."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Literal

from calc.answer.drawing import Drawing
from calc.answer.feature import KeyPoint
from calc.contour import Arc, Chain, Element, Line, Vector
from calc.contour.text import ContourGiven
from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import Machine
from calc.language.limited import limited
from calc.language.messages import Caution, Listed, Message, Phrase, Quantity, Value, as_text, joined
from calc.language.quantities import DIAMETER, LENGTH
from calc.machining.removal.polygons import Area
from calc.machining.whole import turned_stock
from calc.questions.operations.strategies import finish_words, rough_words
from calc.questions.part.declared import OperationRow, PartInputs
from calc.questions.part.done import OperationDone, PartDone
from calc.questions.part.job import End, Job, Kind, Operation, Print, Turning
from calc.questions.part.left_on import shift_at
from calc.questions.part.not_worked import not_worked_cautions
from calc.questions.part.reasons import reason_of
from calc.questions.part.results import CutResult, OperationResult, PartResults, PassResult, ToolResult
from calc.questions.part.standing_out import standing_out_cautions
from calc.questions.part.touching import touched
from calc.questions.part.turret import place_of, places_of, tools_of

SAME = 1e-6
"""mm: points that are no farther apart are one."""


def part_results(done: PartDone) -> PartResults:
    """The part as a whole."""
    rows = done.operations
    return PartResults(
        total_time=done.total_time,
        volume_removed=sum(each.before.volume - each.after.volume for each in rows),
        material_left=max(left_at_the_end(done), default=0.0),
        cut_too_deep=max((each.too_deep.depth for each in rows if each.too_deep), default=0.0),
        rpm_max=_most(each.rpm_max for each in rows),
        force_max=_most(each.force_max for each in rows),
        power_max=_most(each.power_max for each in rows),
        operation_count=len(rows),
        part_length=done.length,
    )


def _most(values: Iterable[float | None]) -> float | None:
    return max((value for value in values if value is not None), default=None)


def left_at_the_end(done: PartDone) -> Iterator[float]:
    """What operations left (mm) on the print where it stands when all is done, on whichever end that was."""
    import shapely  # noqa: PLC0415 - loaded on first use

    ends = {one.end for one in done.operations}
    last = {end: _seen_from(end, done.operations[-1], done.length) for end in ends}
    for one in done.operations:
        for place in one.rests or ([one.left] if one.left else ()):
            stands = shapely.distance(last[one.end], shapely.Point(place.spot)) < STANDS
            if stands and one.operation.kind in SHAPING:
                yield place.depth


def _seen_from(end: End, final: OperationDone, length: float) -> Area:
    """What stands after the last operation, in the frame of an end of a part of a length (mm)."""
    return final.after.whole if end == final.end else turned_stock(final.after, length).whole


def operation_rows(done: PartDone, machine: Machine) -> list[OperationResult]:
    """A row for each operation, the spindle's limit beside its highest speed."""
    places = places_of(done)
    return [
        OperationResult(
            operation=Phrase("{number} {name}", number=number, name=each.name),
            tool=place_of(each, places),
            passes=len(each.passes),
            time=each.time,
            rpm_max=each.rpm_max,
            max_rpm=machine.max_rpm,
            force_max=each.force_max,
            power_max=each.power_max,
            removed=each.before.volume - each.after.volume,
            material_left=each.left.depth if each.left else 0.0,
            cut_too_deep=each.too_deep.depth if each.too_deep else 0.0,
        )
        for number, each in enumerate(done.operations, 1)
    ]


def tool_rows(done: PartDone, inputs: PartInputs) -> list[ToolResult]:
    """The tools in turret order, each with its touch-off and the numbers of its operations."""
    places, rows = places_of(done), []
    for key, (tool, uses) in zip(places, tools_of(done), strict=True):
        turning, of = tool if isinstance(tool, Turning) else None, [done.operations[number - 1] for number in uses]
        touch = touched(of[0])
        rows.append(
            ToolResult(
                place=f"T{places[key]}",
                insert=key[0] or None,
                holder=key[1] or None,
                nose_radius=turning.tool.nose if turning else None,
                size=key[2] if turning is None and key[2] else None,
                tool_point=str(turning.tool.point) if turning else None,
                stick_out=_most(each.operation.stick_out for each in of),
                touch_x=touch.x,
                touch_z=touch.z,
                **_offset_of(inputs, uses),
                operations=", ".join(map(str, uses)),
            )
        )
    return sorted(rows, key=lambda row: int(row.place.removeprefix("T")))


def _offset_of(inputs: PartInputs, uses: Sequence[int]) -> dict[str, float | None]:
    """The measured offset of a tool: the one that an operation of its `uses` gives first."""
    rows = [row for row in inputs.plan.operations if row.use != "off"]
    of = [rows[number - 1] for number in uses]
    return {
        name: next((value for row in of if (value := getattr(row, name)) is not None), None)
        for name in ("offset_x", "offset_z")
    }


def cut_rows(done: PartDone, inputs: PartInputs) -> list[CutResult]:
    """How each operation cuts, as it is set at the machine."""
    places = places_of(done)
    rows = [row for row in inputs.plan.operations if row.use != "off"]
    return [
        CutResult(
            operation=Phrase("{number} {name}", number=number, name=each.name),
            tool=place_of(each, places),
            surface_speed=_set(each, "surface_speed"),
            fixed_speed=each.fixed_speed,
            max_rpm=inputs.machine.max_rpm if each.passes else None,
            feed=_set(each, "feed"),
            depth=_most(one.row.depth for one in each.passes if one.row is not None),
            passes=len(each.passes) or None,
            allowance_x=each.operation.cut.along_x or None,
            allowance_z=each.operation.cut.along_z or None,
            led=joined(led_words(each.operation)) or None,
            time=each.time or None,
            note=_note(row),
        )
        for number, (each, row) in enumerate(zip(done.operations, rows, strict=True), 1)
    ]


def _note(row: OperationRow) -> str | None:
    """What the operator reads: the lead's own words, else why the operation was proposed."""
    why = reason_of(row.why)
    return row.note or (None if why is None else as_text(why))


def _set(one: OperationDone, name: Literal["surface_speed", "feed"]) -> float | None:
    """What is set for an operation: as it was given, else what its first pass starts with."""
    given = getattr(one.operation.cut, name)
    row = one.first_row
    found = given if given is not None or row is None else getattr(row, name)
    return None if found is None else float(found)


def led_words(operation: Operation) -> Iterator[str]:
    """How a turned operation is led, where that is not as usual."""
    cut, kind = operation.cut, operation.kind
    if kind == "finish" or (kind == "bore" and cut.depth is None):
        yield from finish_words(cut)
    elif kind in ("face", "rough", "bore"):
        yield from rough_words(cut, "face" if kind == "face" else operation.strategy)


def point_rows(job: Job, given: ContourGiven | None = None, inside: ContourGiven | None = None) -> tuple[KeyPoint, ...]:
    """The points to key in, those of the outside and then of the bore.

    Each has the row of the print that it ends and the limits given there.
    """
    outside = _points_of(job.outside, given, "start", "row {row}")
    bore = () if job.inside is None else _points_of(job.inside, inside, "bore, start", "bore, row {row}")
    return (*outside, *bore)


def _points_of(print_: Print, given: ContourGiven | None, start: str, named: str) -> tuple[KeyPoint, ...]:
    points = [KeyPoint(start, print_.chain.start)]
    for element, row in zip(print_.chain, print_.numbers, strict=True):
        arc = element if isinstance(element, Arc) else None
        move = arc.turn if arc else "line"
        radius, centre = (arc.radius, arc.centre) if arc else (None, None)
        limits = _limits_at(element, row, points[-1], given, shift_at(print_, row))
        points.append(KeyPoint(Phrase(named, row=row), element.end, move, radius, centre, *limits))
    return tuple(points)


SHAPING: tuple[Kind, ...] = ("rough", "finish", "bore", "groove")
"""Kinds that are held to the print's rows."""

STANDS = 1e-3
"""mm: a place that is as near to the stock is still of it."""

Between = tuple[float, float] | None


def _limits_at(
    element: Element, row: int, before: KeyPoint, given: ContourGiven | None, shift: Vector
) -> tuple[Between, Between]:
    """The limits of X (radius) and of Z (mm) where an element ends; one that keeps X or Z keeps its limits.

    `shift` (mm) is by how much that place is turned off the print.
    """
    if given is None:
        return None, None
    end, field = element.end, f"rows.{given.rows[row - 1]}"
    x, z = limited(given.typed.get(f"{field}.x")), limited(given.typed.get(f"{field}.z"))
    of_x = (x.lower + shift.r, x.upper + shift.r) if x and abs(x.aimed + shift.r - end.r) < SAME else None
    of_z = (z.lower + shift.z, z.upper + shift.z) if z and abs(z.aimed + shift.z - end.z) < SAME else None
    if of_x is None and abs(element.start.r - end.r) < SAME:
        of_x = before.x_limits
    if of_z is None and abs(element.start.z - end.z) < SAME:
        of_z = before.z_limits
    return of_x, of_z


def pass_rows(done: PartDone, machine: Machine) -> Iterator[PassResult]:
    """Every pass with its depth, speeds and feed."""
    for number, one in enumerate(done.operations, 1):
        cut = one.operation.cut
        for each in one.passes:
            row = each.row
            yield PassResult(
                operation=Phrase("{number} {name}", number=number, name=each.name),
                depth=row.depth if row else None,
                surface_speed=cut.surface_speed,
                feed=row.feed if row else cut.feed,
                rpm_start=row.rpm_start if row else None,
                rpm_end=row.rpm_end if row else None,
                max_rpm=machine.max_rpm,
                time=row.time if row else None,
                force=each.force,
                removed=each.volume,
            )


def part_cautions(done: PartDone, job: Job) -> list[Caution]:
    """What the part triggers, each once: hits, passes left out, cuts too deep, machine and chuck, the tools' own.

    What does not come of every operation says of which it does.
    """
    found = {each.message.say(): each for each in _of_the_whole(done, job)}
    if job.machine.max_rpm is None:
        found |= {each.message.say(): each for each in limits(Case(running=Running(0.0, None)), job.machine)}
    own: dict[str, tuple[Caution, list[int]]] = {}
    for number, one in enumerate(done.operations, 1):
        found |= {each.message.say(): each for each in _of_operation(number, one)}
        for each in one.cautions:
            own.setdefault(each.message.say(), (each, []))[1].append(number)
    every = {text: _of_some(*both, len(done.operations)) for text, both in own.items() if text not in found}
    return [*found.values(), *every.values()]


def _of_the_whole(done: PartDone, job: Job) -> Iterator[Caution]:
    yield from (*_missing_metal(job), *not_worked_cautions(done, job), *standing_out_cautions(done, job))


def _of_some(caution: Caution, numbers: list[int], count: int) -> Caution:
    """A caution with the numbers of the operations that it comes of, unless it comes of all."""
    if len(numbers) == count:
        return caution
    text = "Operation {numbers}: {said}" if len(numbers) == 1 else "Operations {numbers}: {said}"
    numbered = Listed(tuple(numbers))
    return replace(caution, message=Message(text, {"numbers": numbered, "said": caution.message}))


def _missing_metal(job: Job) -> Iterator[Caution]:
    """That the stock's own bore is larger than the print's: no tool can bring back what is not there."""
    hole = job.stock.bounds[1]
    if job.inside is None or hole <= job.inside.chain.bounds.r_min + SAME:
        return
    values = {
        "hole": Quantity(2.0 * hole, DIAMETER, brief=True),
        "bore": Quantity(2.0 * job.inside.chain.bounds.r_min, DIAMETER, brief=True),
    }
    text = (
        "The bore of the stock, {hole}, is larger than the print's, {bore}: there is not enough metal. Take other "
        "stock."
    )
    yield Caution(Message(text, values), 3, "stock_bore")


def _of_operation(number: int, one: OperationDone) -> Iterator[Caution]:
    named: dict[str, Value] = {"number": number, "name": one.name}
    for hit in one.hits[:1]:
        values = {**named, "pass": hit.pass_name, "what": hit.what}
        text = "Operation {number}, {name}: in pass “{pass}” the tool runs into the {what}. Do not run it; change it."
        yield Caution(Message(text, values), 3, "operations")
    if one.too_deep:
        values = {**named, "depth": Quantity(one.too_deep.depth, LENGTH), "spot": one.too_deep.spot}
        text = "Operation {number}, {name}, cuts {depth} into the part, at {spot}. Take fewer rows or another tool."
        yield Caution(Message(text, values), 3, "operations")
    if one.dropped:
        values = {**named, "count": len(one.dropped)}
        text = (
            "Operation {number}, {name}: passes left out, since no path clear of stock and holder leads to them: "
            "{count}. Take another tool, or cut that stretch differently."
        )
        yield Caution(Message(text, values), 3, "operations")


def part_drawing(job: Job) -> Drawing:
    """The sketch: the print in its bar with its bore, chuck at the left."""
    _, _, z_high, r_high = job.stock.bounds
    prints = [each.drawn or each for each in (job.outside, job.inside) if each is not None]
    return Drawing(
        title="The part in its bar",
        description="Section with the axis across the page, the chuck at the left.",
        part=_section(job.outside.chain, None if job.inside is None else job.inside.chain),
        bar_radius=r_high,
        stock_face=z_high if z_high > 0.0 else None,
        dimensions=tuple(size for each in prints for size in each.sizes),
    )


def _section(outside: Chain, inside: Chain | None) -> Chain:
    """The part's outline from the outside of the bar to the axis, or to the far end of its bore.

    The face is taken away inside the bore's mouth. Where the bore does not begin on the outside's first face, the
    outside alone is drawn.

    >>> from calc.contour import Point
    >>> outside = Chain((Line(Point(0.0, 0.0), Point(0.0, 9.0)), Line(Point(0.0, 9.0), Point(-20.0, 9.0))))
    >>> bore = Chain((Line(Point(0.0, 4.0), Point(-20.0, 4.0)),))
    >>> [element.end for element in _section(outside, bore)]
    [Point(z=0.0, r=9.0), Point(z=0.0, r=4.0), Point(z=-20.0, r=4.0)]
    """
    inward = outside if outside.start.r >= outside.end.r else outside.reversed()
    if inside is None:
        return inward
    mouth, last = inside.start, inward.elements[-1]
    faced = last.end if abs(last.end.z - last.start.z) > SAME else last.start
    if abs(faced.z - mouth.z) > SAME or mouth.r > faced.r - SAME:
        return inward
    kept = inward.elements if faced is last.end else inward.elements[:-1]
    return Chain((*kept, Line(faced, mouth), *inside.elements))
