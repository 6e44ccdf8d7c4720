"""Facing, roughing, finishing and boring of a part: the passes of a turning tool over a stretch of its contour."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calc.language.messages import Message
from calc.language.problems import Fault, Missing, OutOfRange
from calc.machining.forces import PassForce, forces
from calc.machining.job import Contour, Operation, Strategy, Where
from calc.machining.machine import SAME, Done, machine
from calc.machining.passes import Pass, Referral
from calc.machining.removal.judging import worst_of
from calc.machining.times import times
from calc.machining.whole import too_deep
from calc.questions.part.asked import Asked, reported
from calc.questions.part.done import OperationDone, PassDone
from calc.questions.part.job import Kind, Turning

STRATEGIES: dict[Kind, Strategy] = {
    "face": "face",
    "rough": "rough along z",
    "finish": "finish",
    "bore": "rough along z",
}
CONTACT = Referral()


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
    asked_for = Operation(_tool(asked).tool, cut, strategy, where)
    done = machine(asked_for, asked.before, stretch)
    return _reported(asked, done, asked.seen(asked.job.contour(where)))


def _tool(asked: Asked) -> Turning:
    if not isinstance(asked.operation.tool, Turning):
        raise OutOfRange(Fault("tool", Message("This kind of operation needs a turning tool.")))
    return asked.operation.tool


def _stretch(asked: Asked, where: Where) -> Contour:
    """The stretch of the print that is worked on, in the frame of the end that is worked on."""
    stretch, whole = asked.stretch(where), asked.seen(asked.job.contour(where))
    if abs(stretch.chain.bounds.z_max - whole.chain.bounds.z_max) > SAME:
        text = "A stretch that does not begin at the face of its end is not planned here yet: take in the rows to it."
        raise OutOfRange(Fault("from" if asked.end == "first" else "to", Message(text)))
    return stretch


def _reported(asked: Asked, done: Done, whole: Contour) -> OperationDone:
    max_rpm = asked.max_rpm
    rows = times([done], CONTACT, max_rpm)
    loads = forces([done], asked.work, max_rpm) if asked.work else []
    found = reported(
        asked,
        done.removals,
        tuple(_passes(done, rows, loads)),
        after=done.after,
        left=worst_of(done.judged.left),
        too_deep=too_deep(whole, asked.before, done),
        cautions=_tool(asked).cautions,
    )
    return replace(found, dropped=done.dropped)


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
