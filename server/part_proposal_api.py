"""`POST /api/plan/part/proposal`: operations to start from, as the plan of a whole part takes them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from calc.language.messages import Message
from calc.language.problems import Fault, OutOfRange, Problem
from calc.language.quantities import FEED, LENGTH, SURFACE_SPEED, Kind, View
from calc.questions.part.called import Called
from calc.questions.part.job import VERSION, Operation, Setup
from calc.questions.part.proposal import propose
from calc.questions.part.reasons import Reason
from server.answers import framed
from server.contour_json import given_or
from server.part_reading import WHERE, PartReading
from server.part_tools import tool_body
from server.posting import Post

Json = dict[str, Any]
SIDES = {"outside": "outside", "inside": "bore"}
MOST_THREADS = 12


def answer(body: Json, view: View) -> Json:
    """Operations for a body's part, without setups of its own. Raises `Problem` with the body's field names.

    >>> line = lambda x, z: {"kind": "line", "x": x, "z": z}
    >>> outside = {"start": {"x": 0, "z": 0}, "elements": [line(30, 0), line(30, -20)]}
    >>> body = {"part": {"material": "C45", "outside": outside}, "stock": {"bar_diameter": 32, "face_stock": 1}}
    >>> [row["kind"] for row in answer(body, View())["setups"][0]["operations"]]
    ['face', 'rough', 'finish', 'part-off']
    """
    reading = PartReading(body, view, planned=False)
    threads = tuple(_called(reading, each, f"threads.{at}") for at, each in enumerate(_threads(reading)))
    reading.reader.done()
    try:
        found = propose(reading.job, threads, knurls=reading.knurls)
    except Problem as problem:
        raise problem.renamed(lambda name: "part.material" if name == "material" else name) from problem
    setups = [_setup_json(*each, view) for each in zip(found.setups, found.reasons, strict=True)]
    return {
        "inputs": body,
        "results": {"count": sum(len(setup["operations"]) for setup in setups)},
        "setups": setups,
        "cautions": [],
        "notes": [
            *(point.say(view) for point in found.open_points),
            "A start, not a decision: change every line, then plan the part to see what is left and what is hit.",
        ],
        "working": [],
        **framed(view),
        "version": VERSION,
    }


def _setup_json(setup: Setup, reasons: Sequence[Reason], view: View) -> Json:
    """A setup as the plan of a part reads it, with the reason of each operation."""
    both = zip(setup.operations, reasons, strict=True)
    operations = [{**operation_json(operation, view), "reason": reason.message.say(view)} for operation, reason in both]
    return {"end": setup.end, "operations": operations}


def _threads(reading: PartReading) -> list[Any]:
    value = given_or(reading.body.get("threads"), [])
    if not isinstance(value, list) or len(value) > MOST_THREADS:
        raise OutOfRange(Fault("threads", Message("Give a list of threads, each with its rows.")))
    return value


def _called(reading: PartReading, value: Any, field: str) -> Called:
    of = reading.reader.named(value, ("thread", "from", "to", "where"), field)
    name = reading.reader.word(of.get("thread"), f"{field}.thread")
    where = reading.reader.one_of(of.get("where", "outside"), tuple(SIDES), f"{field}.where")
    first, last = (_row(reading, of, each, field) for each in ("from", "to"))
    if name is None:
        reading.reader.fault(f"{field}.thread", "Give the thread as it is written.")
    reading.reader.done()
    return Called(name or "", first, last, "bore" if where == "inside" else "outside")


def _row(reading: PartReading, of: Json, name: str, field: str) -> int:
    value = of.get(name)
    if type(value) is int:
        return value
    reading.reader.fault(f"{field}.{name}", "Give the row's number.")
    return 0


def operation_json(operation: Operation, view: View) -> Json:
    """An operation as the plan of a part reads it, numbers bare in the reader's units; what is not given left out."""
    cut = operation.cut
    values: dict[str, tuple[float | None, Kind]] = {
        "surface_speed": (cut.surface_speed, SURFACE_SPEED),
        "feed": (cut.feed, FEED),
        "depth": (cut.depth, LENGTH),
        "allowance_z": (cut.along_z or None, LENGTH),
        "allowance_x": (cut.along_x or None, LENGTH),
    }
    where = next((name for name, place in WHERE.items() if place == operation.where), None)
    row = {
        "kind": operation.kind,
        "tool": None if operation.tool is None else tool_body(operation.tool, view),
        "cut": {name: _number(value, kind, view) for name, (value, kind) in values.items() if value is not None},
        "depth": None if operation.depth is None else _number(operation.depth, LENGTH, view),
        "from": operation.first,
        "to": operation.last,
        "where": where,
    }
    return {name: value for name, value in row.items() if value is not None}


def _number(value: float, kind: Kind, view: View) -> float:
    """A number in the reader's unit without what computing it has left behind its ninth digit.

    >>> _number(0.1 + 0.2, LENGTH, View())
    0.3
    """
    return float(f"{kind.unit(view).shown(value):.9g}")


POST = Post(
    path="/api/plan/part/proposal",
    title="Operations to start a part from",
    summary="Face, drill, rough, bore, finish, groove, thread, part off in order, each with tool and reason.",
    body={
        "version": {"type": "integer"},
        "part": {"type": "object"},
        "stock": {"type": "object"},
        "machine": {"type": "object"},
        "threads": {"type": "array"},
    },
    lists=("setups",),
    answer=answer,
)
