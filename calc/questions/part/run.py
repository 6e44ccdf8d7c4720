"""A part done: each operation on the stock that the one before has left, on both ends."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from calc.cutting.materials import material
from calc.language.messages import Message
from calc.language.problems import Fault, OutOfRange, Problem
from calc.machining.whole import turned_stock
from calc.questions.part.done import OperationDone, PartDone
from calc.questions.part.job import End, Job, Kind, Operation
from calc.questions.part.turning import Asked, turned

RUNNERS: Mapping[Kind, Callable[[Asked], OperationDone]] = {
    "face": turned,
    "rough": turned,
    "finish": turned,
    "bore": turned,
}


def run(job: Job) -> PartDone:
    """Run all operations of a job in order. Raises `Problem` with the operation's `field` before the names of faults.

    >>> from calc.contour import Chain, Line, Point
    >>> from calc.machining.job import Cut, Tool
    >>> from calc.machining.removal.region import Bar
    >>> from calc.machining.removal.stock import stock_of
    >>> from calc.machining.removal.sweep import Outline
    >>> from calc.questions.part.job import Print, Setup, Turning
    >>> corners = [Point(0.0, 0.0), Point(0.0, 6.0), Point(-3.0, 6.0), Point(-3.0, 9.0)]
    >>> outside = Print(Chain(tuple(Line(a, b) for a, b in zip(corners, corners[1:]))))
    >>> tool = Turning(Tool(Outline((Point(0.0, 0.0),), 1.2)))
    >>> face = Operation("face", tool, Cut(depth=1.0, feed=0.2, surface_speed=200_000.0))
    >>> finish = Operation("finish", tool, Cut(feed=0.1, surface_speed=200_000.0))
    >>> job = Job(outside, stock_of(Bar(9.0, 1.0, -8.0).area()), (Setup("first", (face, finish)),))
    >>> done = run(job)
    >>> [one.name for one in done.operations], [len(one.passes) for one in done.operations]
    (['face, first end', 'finish, first end'], [1, 1])
    """
    work = None if job.material is None else material(job.material)
    done: list[OperationDone] = []
    stock, end = job.stock, "first"
    for setup, operation in job.in_order():
        if setup.end != end:
            stock, end = turned_stock(stock, job.length), setup.end
        asked = Asked(job, operation, setup.end, stock, work, operation.name or _name(operation, setup.end))
        done.append(_one(asked))
        stock = done[-1].after
    return PartDone(tuple(done), job.length)


def _one(asked: Asked) -> OperationDone:
    operation = asked.operation
    try:
        runner = RUNNERS.get(operation.kind)
        if runner is None:
            text = "This kind of operation is not planned here yet: plan it on its own page."
            raise OutOfRange(Fault("kind", Message(text)))
        return runner(asked)
    except Problem as problem:
        raise problem.renamed(lambda name: _placed(operation.field, name)) from problem


OWN = ("kind", "tool", "cut", "from", "to")
KNOWN_AS = {"pass_depth": "cut.depth", "nose_radius": "tool.nose_radius"}
"""What the fields of shared checks are called in an operation."""


def _placed(field: str, name: str) -> str:
    """The field of a fault: one of the operation's, the part's own where that lacks something, else the operation."""
    known = KNOWN_AS.get(name, name)
    if known.startswith("part."):
        return known
    return f"{field}.{known}".lstrip(".") if known.partition(".")[0] in OWN else field


def _name(operation: Operation, end: End) -> str:
    return f"{operation.kind}, {end} end"
