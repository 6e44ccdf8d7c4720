"""A restart after a broken edge: the stock that stands, the passes that still run, from an operation and a pass on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calc.language.fields import Declared, given, result, word
from calc.language.messages import Message, Phrase, Quantity, Value
from calc.language.problems import Fault, Impossible, Missing, OutOfRange
from calc.language.quantities import COUNT, LENGTH, TIME, VOLUME
from calc.machining.removal.stock import Stock
from calc.machining.roughing.planning import Leading
from calc.machining.routing import Router
from calc.questions.part.done import OperationDone, PartDone, PassDone
from calc.questions.part.turret import place_of, places_of

SAME = 1e-9
"""mm: places nearer than this are one."""


class RestartInputs(Declared):
    """Where the edge broke."""

    restart_operation: float | None = given(
        COUNT,
        "Operation in which the edge broke",
        above=0.0,
        most=1000.0,
        hint="its number in the tables",
        blank="no restart",
    )
    restart_pass: float | None = given(COUNT, "Pass in which it broke", above=0.0, most=1000.0, blank="its first")


class ToRunResult(Declared):
    """A pass that still runs."""

    operation: str = word("Still to run")
    tool: str = word("Tool")
    depth: float | None = result(LENGTH, "depth")
    removed: float = result(VOLUME, "removes")
    time: float | None = result(TIME, "time")


def restarted(done: PartDone, asked: RestartInputs) -> PartDone:
    """The part from where an edge broke on; the whole of it where none did. Raises `Missing`, `OutOfRange`.

    The first operation that still runs begins with the pass in which it broke, on the stock before that.
    """
    if asked.restart_operation is None:
        if asked.restart_pass is not None:
            raise Missing(Fault("restart_operation", Message("Give the operation in which the edge broke, too.")))
        return done
    number = _within(asked.restart_operation, len(done.operations), "restart_operation", "operations")
    broken = done.operations[number - 1]
    if asked.restart_pass is None:
        return replace(done, from_operation=number)
    first = _within(asked.restart_pass, len(broken.passes), "restart_pass", "passes")
    rest = broken.passes[first - 1 :]
    stood = broken.before if first == 1 else broken.passes[first - 2].stock
    if stood is None:
        text = "The stock in the middle of this operation is not known: begin with its first pass."
        raise OutOfRange(Fault("restart_pass", Message(text)))
    rest = (_reached(broken, rest[0], stood), *rest[1:])
    times = [each.row.time for each in rest if each.row is not None]
    left = replace(broken, passes=rest, before=stood, time=sum(times) if times else None)
    return replace(done, from_operation=number, begins=left)


def _reached(broken: OperationDone, one: PassDone, stood: Stock) -> PassDone:
    """The pass with the rapid moves to it from where the tool waits. Raises `Impossible` where none are in air."""
    home = broken.passes[0].tool_pass.moves[0].elements[0].start
    start = one.tool_pass.moves[0].elements[0].start
    if one.outline is None or home.distance_to(start) < SAME:
        return one
    operation = broken.operation
    where = operation.where or ("bore" if operation.kind == "bore" else "outside")
    path = Router(home, where, Leading(one.outline.nose), one.outline, stood).path_to(start, stood)
    if path is None:
        text = "No path clear of the stock leads to this pass from where the tool waits: begin with a pass before it."
        raise Impossible(Fault("restart_pass", Message(text)))
    return replace(one, tool_pass=replace(one.tool_pass, moves=(*path, *one.tool_pass.moves)))


def _within(value: float, most: int, field: str, things: str) -> int:
    number = round(value)
    if number != value or not 1 <= number <= most:
        values: dict[str, Value] = {"most": most, "things": things}
        raise OutOfRange(
            Fault(field, Message("Give a whole number from 1 to {most}: there are only that many {things}.", values))
        )
    return number


def restart_notes(done: PartDone) -> Iterator[Message]:
    """What an operator does first, and what still runs."""
    if not done.is_restart:
        return
    number, broken = done.to_run[0]
    runs = [each for _, one in done.to_run for each in one.passes]
    times = [one.time for _, one in done.to_run if one.time is not None]
    name = broken.passes[0].name if broken.passes else broken.name
    values: dict[str, Value] = {"number": number, "name": name, "count": len(runs), "time": Quantity(sum(times), TIME)}
    yield Message(
        "Restart in operation {number} with pass “{name}”. Passes still to run: {count}, {time} in feed. Pictures and "
        "words begin there, on the stock as it stands before that pass.",
        values,
    )
    yield Message(
        "First take out what is left of the edge and of its chips, change the edge, touch it off anew, and measure "
        "what stands: part of the broken pass may be cut, and deeper than it should."
    )


def to_run_rows(done: PartDone) -> Iterator[ToRunResult]:
    """A row for each pass that still runs; none without a restart."""
    places = places_of(done)
    if not done.is_restart:
        return
    for number, one in done.to_run:
        for each in one.passes:
            row = each.row
            yield ToRunResult(
                operation=Phrase("{number} {name}", number=number, name=each.name),
                tool=place_of(one, places),
                depth=row.depth if row else None,
                removed=each.volume,
                time=row.time if row else None,
            )
