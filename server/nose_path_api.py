"""`POST /api/nose-radius/path`: the round nose on a contour in JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, cast

from calc.contour import Chain, Point, Side
from calc.language.messages import Message, worst_first
from calc.language.problems import Fault, Missing
from calc.language.quantities import AREA, LENGTH, RADIUS, View, X, Z
from calc.language.working import recording
from calc.questions.tools.nose_contour import FEATURE, answer_of
from calc.questions.tools.nosed_contour import Question
from calc.tool.nose_path import Gouge, NosePath, Step, Unreached, nose_path
from calc.tool.nose_shift import keyed_steps
from server.answers import elements_json, framed, results_json, step_json
from server.contour_chain import chain_of
from server.contour_json import BodyReader, read_contour
from server.posting import Post

Json = dict[str, Any]
FIELDS = ("contour", "nose_radius", "tool_point", "side")
TOOL_POINTS = tuple(str(number) for number in range(10))


@dataclass(frozen=True, slots=True)
class Asked:
    """A body as it was read: the contour, nose (mm), tool point and side."""

    chain: Chain
    nose: float
    number: int
    side: Side


def answer(body: Json, view: View) -> Json:
    """The nose on the contour of a body. Raises `Problem` with the body's field names.

    >>> line = {"start": {"x": 20, "z": 0}, "elements": [{"kind": "line", "x": 20, "z": -5}]}
    >>> found = answer({"contour": line, "nose_radius": 0.8, "tool_point": 3, "side": "right"}, View())
    >>> found["nose_centre"][0]["x1"], found["tool_point"][0]["x1"]
    (21.6, 20.0)
    """
    asked = read_asked(body, view)
    with recording() as steps:
        found = answer_of(Question(asked.chain, asked.nose, asked.number, asked.side))
    path = nose_path(asked.chain, asked.nose, asked.side)
    step = path.tool_point_chains(asked.number)
    return {
        "inputs": {"nose_radius": _length(asked.nose, view), "tool_point": asked.number, "side": asked.side},
        "results": results_json(found.results, view),
        "elements": elements_json(asked.chain, view),
        "nose_centre": list(_paths(path.runs, path.centre_chains, view)),
        "tool_point": list(_paths(path.runs, step, view)),
        "key_points": list(_keyed(path, asked.number, view)),
        "unreached": [_unreached(gap, path, view) for gap in path.unreached],
        "gouges": [_gouge(gouge, view) for gouge in path.gouges],
        "measured": [results_json(row, view) for row in found.tables["measured"]],
        "working": [step_json(each, view) for each in dict.fromkeys(steps)],
        "cautions": [caution.message.say(view) for caution in worst_first(found.cautions)],
        "notes": [note.say(view) for note in found.notes],
        **framed(view),
    }


def read_asked(body: Json, view: View) -> Asked:
    """What a body asks; raises `Missing` and `OutOfRange` naming its fields."""
    reader = BodyReader(view)
    reader.named(body, FIELDS, "")
    nose = reader.number(body.get("nose_radius"), RADIUS, "nose_radius")
    if nose is not None and not 0.0 < nose <= 1000.0:
        reader.fault("nose_radius", "The nose radius must be more than 0 and at most 1000 mm.")
    number = body.get("tool_point", 3)
    number = reader.one_of(str(number) if isinstance(number, int) else number, TOOL_POINTS, "tool_point")
    side = reader.one_of(body.get("side", "left"), ("left", "right"), "side")
    start, elements = read_contour(body.get("contour"), reader, "contour.")
    reader.done()
    if nose is None:
        raise Missing(Fault("nose_radius", Message("Give the nose radius.")))
    return Asked(chain_of(start, elements, "contour."), nose, int(number or "3"), cast("Side", side or "left"))


def _paths(runs: Sequence[Sequence[Step]], chains: Sequence[Chain], view: View) -> Iterator[Json]:
    """The elements of the runs, each with the index `of` the contour's element and the number of its run."""
    for number, (run, chain) in enumerate(zip(runs, chains, strict=True)):
        for step, element in zip(run, elements_json(chain, view), strict=True):
            around = isinstance(step.contact, Point)
            yield {**element, "of": step.of, "run": number, "around_corner": around}


def _keyed(path: NosePath, number: int, view: View) -> Iterator[Json]:
    for index, run in enumerate(keyed_steps(path, number)):
        for step, element in zip(run, elements_json(Chain(tuple(each.element for each in run)), view), strict=True):
            yield {**element, "of": step.of, "run": index}


def _unreached(gap: Unreached, path: NosePath, view: View) -> Json:
    elements = path.chain.elements
    return {
        "elements": list(gap.elements),
        "reason": gap.reason,
        "size": _length(gap.size, view),
        "left": None if gap.left is None else _length(gap.left, view),
        "area": None if gap.area is None else {"value": AREA.shown(gap.area, view), "unit": AREA.unit(view).code},
        "from": _spot(elements[gap.first.of].point_at(gap.first.s), view),
        "to": _spot(elements[gap.last.of].point_at(gap.last.s), view),
        "nose_centre": gap.centre and _spot(gap.centre, view),
    }


def _gouge(gouge: Gouge, view: View) -> Json:
    return {"of": gouge.of, "into": gouge.into, "depth": _length(gouge.depth, view), **_spot(gouge.contact, view)}


def _spot(point: Point, view: View) -> Json:
    return {"x": X.shown(point.r, view) + 0.0, "z": Z.shown(point.z, view) + 0.0}


def _length(value: float, view: View) -> Json:
    return {"value": LENGTH.shown(value, view), "unit": LENGTH.unit(view).code}


_NUMBER: Json = {"oneOf": [{"type": "number"}, {"type": "string"}], "nullable": True}
_CONTOUR: Json = {
    "type": "object",
    "properties": {
        "start": {"type": "object", "properties": {"x": _NUMBER, "z": _NUMBER}},
        "elements": {"type": "array", "items": {"type": "object"}},
    },
}
POST = Post(
    path=f"/api/{FEATURE.path}",
    title="Nose on a contour in JSON",
    summary="The contour as start and elements, in the direction of travel; the paths of nose centre and tool point.",
    body={
        "contour": _CONTOUR,
        "nose_radius": _NUMBER,
        "tool_point": {"type": "integer", "minimum": 0, "maximum": 9, "default": 3},
        "side": {"type": "string", "enum": ["left", "right"], "default": "left"},
    },
    lists=("nose_centre", "tool_point", "key_points", "unreached", "gouges", "measured"),
    answer=answer,
)
