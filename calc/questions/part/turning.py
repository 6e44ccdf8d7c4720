"""Facing, roughing, finishing and boring of a part: the passes of a turning tool over a stretch of its contour."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from calc.contour import Chain
from calc.cutting.materials import Material
from calc.language.messages import Message
from calc.language.problems import Fault, Missing, OutOfRange
from calc.machining import job as machining
from calc.machining.forces import PassForce, forces
from calc.machining.job import Contour, Strategy, Where
from calc.machining.machine import SAME, Done, machine
from calc.machining.passes import Pass, Referral
from calc.machining.removal.judging import worst_of
from calc.machining.removal.stock import Stock
from calc.machining.times import times
from calc.machining.whole import too_deep, turned_contour
from calc.questions.part.done import Hit, OperationDone, PassDone
from calc.questions.part.job import End, Job, Kind, Operation, Print, Turning

STRATEGIES: dict[Kind, Strategy] = {
    "face": "face",
    "rough": "rough along z",
    "finish": "finish",
    "bore": "rough along z",
}
CONTACT = Referral()


@dataclass(frozen=True)
class Asked:
    """One operation with all that it is done on."""

    job: Job
    operation: Operation
    end: End
    before: Stock
    work: Material | None
    name: str

    def contours(self) -> tuple[Contour, ...]:
        """The print's contours in the frame of the end that is worked on."""
        wheres: tuple[Where, ...] = ("outside",) if self.job.inside is None else ("outside", "bore")
        return tuple(self.seen(self.job.contour(where)) for where in wheres)

    def seen(self, contour: Contour) -> Contour:
        """A contour of the first end's frame in that of the end that is worked on."""
        return turned_contour(contour, self.job.length) if self.end == "second" else contour


def turned(asked: Asked) -> OperationDone:
    """The passes of a turning tool. Raises `Missing` without a depth or an inside, and what `machine` does."""
    operation = asked.operation
    where: Where = "bore" if operation.kind == "bore" else "outside"
    stretch = _stretch(asked, where)
    cut, strategy = operation.cut, STRATEGIES[operation.kind]
    if operation.kind == "finish" or (operation.kind == "bore" and cut.depth is None):
        cut, strategy = replace(cut, depth=None), "finish"
    elif cut.depth is None:
        raise Missing(Fault("cut.depth", Message("This operation needs the depth per pass.")))
    asked_for = machining.Operation(_tool(operation).tool, cut, strategy, where)
    done = machine(asked_for, asked.before, asked.seen(stretch))
    return _reported(asked, done, asked.seen(asked.job.contour(where)))


def _tool(operation: Operation) -> Turning:
    if not isinstance(operation.tool, Turning):
        raise OutOfRange(Fault("tool", Message("This kind of operation needs a turning tool.")))
    return operation.tool


def _stretch(asked: Asked, where: Where) -> Contour:
    """The stretch of the print that is worked on, in the first end's frame."""
    job, operation = asked.job, asked.operation
    if where == "bore" and job.inside is None:
        raise Missing(Fault("part.inside", Message("Boring needs the inside contour.")))
    print_ = job.inside if where == "bore" and job.inside is not None else job.outside
    chain = rows_between(print_, operation.first, operation.last)
    whole, part = print_.chain.bounds, chain.bounds
    at_first = asked.end == "first"
    if abs(part.z_max - whole.z_max if at_first else part.z_min - whole.z_min) > SAME:
        text = "A stretch that does not begin at the face of its end is not planned here yet: take in the rows to it."
        raise OutOfRange(Fault("from" if at_first else "to", Message(text)))
    return replace(job.contour(where), chain=chain)


def rows_between(print_: Print, first: int | None, last: int | None) -> Chain:
    """The elements of the rows from `first` to `last` (None: from the first, to the last). Raises `OutOfRange`.

    >>> from calc.contour import Line, Point
    >>> corners = [Point(0.0, 0.0), Point(0.0, 6.0), Point(-3.0, 6.0)]
    >>> chain = Chain((Line(corners[0], corners[1]), Line(corners[1], corners[2])))
    >>> len(rows_between(Print(chain), 2, None))
    1
    """
    numbers = print_.numbers
    low, high = min(numbers) if first is None else first, max(numbers) if last is None else last
    values = {"low": min(numbers), "high": max(numbers)}
    for name, row in (("from", low), ("to", high)):
        if not min(numbers) <= row <= max(numbers):
            raise OutOfRange(Fault(name, Message("Give a row number from {low} to {high}.", values)))
    if low > high:
        raise OutOfRange(Fault("from", Message("The first row must not come after the last.")))
    kept = tuple(each for each, row in zip(print_.chain, numbers, strict=True) if low <= row <= high)
    return Chain(kept)


def _reported(asked: Asked, done: Done, whole: Contour) -> OperationDone:
    max_rpm = asked.job.machine.max_rpm
    rows = times([done], CONTACT, max_rpm)
    loads = forces([done], asked.work, max_rpm) if asked.work else []
    return OperationDone(
        operation=asked.operation,
        end=asked.end,
        name=asked.name,
        before=asked.before,
        after=done.after,
        contours=asked.contours(),
        passes=tuple(_passes(done, rows, loads)),
        time=sum(row.time for row in rows) if rows or not done.made else None,
        left=worst_of(done.judged.left),
        too_deep=too_deep(whole, asked.before, done),
        hits=tuple(hit for removal in done.hits for hit in _hits(removal.name, removal.gouged, removal.rapid)),
        dropped=done.dropped,
        cautions=_tool(asked.operation).cautions,
    )


def _passes(done: Done, rows: list[Pass], loads: list[PassForce]) -> Iterator[PassDone]:
    for index, made in enumerate(done.made):
        removal = made.removal
        load = loads[index] if loads else None
        yield PassDone(
            name=removal.name,
            tool_pass=removal.tool_pass,
            volume=removal.volume,
            row=rows[index] if rows else None,
            force=load.force if load else None,
            power=load.power if load else None,
            rpm=load.rpm if load else None,
        )


def _hits(name: str, gouged: float, rapid: float) -> Iterator[Hit]:
    """What a pass hits: the print, stock at a rapid move, else stock with the holder."""
    if gouged:
        yield Hit(name, "part")
    if rapid:
        yield Hit(name, "stock at a rapid move")
    if not gouged and not rapid:
        yield Hit(name, "holder")
