"""`POST /api/plan/part`: a whole part, its operations in order on both ends, each on the stock of the one before."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calc.language.messages import worst_first
from calc.language.problems import Problem
from calc.language.quantities import (
    FORCE,
    LENGTH,
    POWER,
    SPINDLE_SPEED,
    TIME,
    VOLUME,
    Kind,
    View,
)
from calc.language.working import Step
from calc.machining.machine import Dropped
from calc.questions.part.done import Hit, OperationDone, PartDone
from calc.questions.part.job import VERSION
from calc.questions.part.restart import restart_notes, restarted
from calc.questions.part.run import run
from calc.questions.part.shown import part_cautions
from calc.questions.part.turret import tools_of
from calc.questions.part.words import part_words
from server.answers import framed, step_json
from server.part_reading import NAMES, PartReading
from server.part_tools import tool_json
from server.posting import Post

Json = dict[str, Any]


def answer(body: Json, view: View) -> Json:
    """The plan of a body's part. Raises `Problem` with the body's field names."""
    try:
        reading = PartReading(body, view)
        done = restarted(run(reading.job), reading.restart)
    except Problem as problem:
        raise problem.renamed(lambda name: OF_BODY.get(name, name)) from problem
    return {
        "inputs": body,
        "results": {"total_time": _shown(done.total_time, TIME, view)},
        "operations": [_wrapped(_row(each, view), view) for each in done.operations],
        "collisions": [{"operation": at, "name": hit.pass_name, "hits": hit.what} for at, hit in _hits(done)],
        "to_run": [_wrapped(row, view) for row in _to_run(done)],
        "left_out": [{"operation": at, "name": out.name} for at, out in _left_out(done)],
        "tools": [{**tool_json(tool, view), "operations": numbers} for tool, numbers in tools_of(done)],
        "cautions": [each.message.say(view) for each in worst_first(part_cautions(done, reading.job))],
        "notes": [
            *(note.say(view) for note in restart_notes(done)),
            "The time is that of feeding: rapid moves and tool changes come on top.",
        ],
        **({"words": part_words(done, view, reading.job.machine.max_rpm)} if reading.words else {}),
        "working": [{**step_json(step, view), "operation": at} for at, step in _steps(done)],
        **framed(view),
        "version": VERSION,
    }


OF_BODY = {"material": "part.material", "restart_operation": "restart.operation", "restart_pass": "restart.pass"}
"""What the fields of the page are called in the body."""


def _to_run(done: PartDone) -> Iterator[Json]:
    """The passes that still run after a broken edge; none without a restart."""
    for number, one in done.to_run if done.is_restart else ():
        for each in one.passes:
            depth, time = (each.row.depth, each.row.time) if each.row is not None else (None, None)
            yield {"operation": number, "name": each.name, "depth": depth, "volume": each.volume, "time": time}


def _hits(done: PartDone) -> Iterator[tuple[int, Hit]]:
    return ((at, hit) for at, each in enumerate(done.operations, 1) for hit in each.hits)


def _left_out(done: PartDone) -> Iterator[tuple[int, Dropped]]:
    return ((at, out) for at, each in enumerate(done.operations, 1) for out in each.dropped)


def _steps(done: PartDone) -> Iterator[tuple[int, Step]]:
    return ((at, step) for at, each in enumerate(done.operations, 1) for step in each.steps)


SHOWN: dict[str, Kind] = {
    "time": TIME,
    "depth": LENGTH,
    "volume": VOLUME,
    "volume_before": VOLUME,
    "volume_after": VOLUME,
    "material_left": LENGTH,
    "cut_too_deep": LENGTH,
    "rpm_max": SPINDLE_SPEED,
    "force_max": FORCE,
    "power_max": POWER,
}


def _row(one: OperationDone, view: View) -> Json:
    """What one operation did, mm and min; force and power null without a material."""
    return {
        "name": one.name,
        "time": one.time,
        "volume_before": one.before.volume,
        "volume_after": one.after.volume,
        "material_left": one.left.depth if one.left else 0.0,
        "cut_too_deep": one.too_deep.depth if one.too_deep else 0.0,
        "rpm_max": one.rpm_max,
        "force_max": one.force_max,
        "power_max": one.power_max,
        "notes": [note.say(view) for note in one.notes],
        "cautions": [caution.message.say(view) for caution in one.cautions],
    }


def _wrapped(row: Json, view: View) -> Json:
    return {name: _shown(value, SHOWN[name], view) if name in SHOWN else value for name, value in row.items()}


def _shown(value: float | None, kind: Kind, view: View) -> Json | None:
    unit = kind.unit(view)
    return None if value is None else {"value": unit.shown(value) + 0.0, "unit": unit.code}


TYPES = {"setups": "array", "words": "boolean", "version": "integer"}
POST = Post(
    path="/api/plan/part",
    title="Plan of a whole part",
    summary="Operations in order on both ends, each on the stock of the one before, with time, load and what is left.",
    body={name: {"type": TYPES.get(name, "object")} for name in NAMES[""]},
    lists=("operations", "collisions", "tools", "to_run"),
    answer=answer,
)
