"""The JSON form of a question and its answer."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Iterable, Sequence
from typing import Any

from starlette.responses import JSONResponse

from calc.answer.feature import Answer, Feature, KeyPoint
from calc.answer.heads import head_of
from calc.contour import Arc, Chain
from calc.language.edition import TABLES
from calc.language.fields import Spec, flat, specs
from calc.language.known import Known
from calc.language.limited import limited
from calc.language.messages import worst_first
from calc.language.problems import Fault
from calc.language.quantities import RADIUS, View, X, Z
from calc.language.working import Step
from server.plots import plot_json
from server.query import Query

Json = Any
UNAVAILABLE = 503

_encode = json.JSONEncoder(ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode


class JsonAnswer(JSONResponse):
    """An answer as compact JSON, by an encoder made once."""

    def render(self, content: Json) -> bytes:
        """The body."""
        return _encode(content).encode()


def answer_json(
    feature: Feature[Any, Any], query: Query, answer: Answer[Any], steps: Iterable[Step]
) -> dict[str, Json]:
    """The whole answer: inputs, results, points, tables, working, cautions, each number with its unit."""
    view = query.view
    body: dict[str, Json] = {
        "inputs": {spec.name: _input(spec, query) for spec in specs(feature.inputs)},
        "results": results_json(answer.results, view),
        "points": [point_json(point, view) for point in answer.points],
        "working": [step_json(step, view) for step in steps],
        "cautions": [caution.message.say(view) for caution in worst_first(answer.cautions)],
        "notes": [*_notes(answer, view), *_unknown(query)],
        **framed(view),
    }
    if answer.plots:
        body["plots"] = {plot.key: plot_json(plot, view) for plot in answer.plots}
    if answer.words:
        body["words"] = answer.words(view)
    if answer.contour is not None:
        body["elements"] = elements_json(answer.contour, view)
    for item in dataclasses.fields(answer.results):
        if "part" in item.metadata:
            body[item.name] = results_json(getattr(answer.results, item.name), view)
    for name, rows in answer.tables.items():
        body[name] = [results_json(row, view) for row in rows]
    return body


def results_json(declared: Any, view: View) -> dict[str, Json]:
    """The values of a declared instance: numbers with unit, words and yes/no bare, None for what there is not."""
    values = flat(declared)
    return {spec.name: value_json(spec, values[spec.name], view) for spec in specs(type(declared))}


def value_json(spec: Spec, value: Any, view: View) -> Json:
    """One value in the reader's units, at full precision; one with limits is its nominal, and what else it has; a
    measured one has its spread.
    """
    if value is None or isinstance(value, (str, bool)):
        return value
    unit = spec.quantity.unit(view)
    limits = limited(value)
    if limits is not None:
        return {**dataclasses.asdict(limits.shown(spec.quantity, view)), "unit": unit.code}
    shown = {"value": unit.shown(value) + 0.0, "unit": unit.code}
    return shown | {"spread": value.shown_spread(spec.quantity, view)} if isinstance(value, Known) else shown


def _input(spec: Spec, query: Query) -> Json:
    if spec.role in ("contour", "points"):
        return query.texts[spec.name] or None
    value = query.values[spec.name]
    if spec.rows is not None:
        columns = specs(spec.rows.row)
        return [{each.name: _started(each, row.get(each.name), query.view) for each in columns} for row in value if row]
    return _started(spec, value, query.view)


def framed(view: View) -> dict[str, Json]:
    """What stands at the end of every answer: the conventions it is in, the edition of the tables.

    >>> framed(View())["conventions"]["x"]
    'diameter'
    """
    return {"conventions": {"units": view.units, "x": view.x, "zplus": view.zplus}, "edition": TABLES}


def _started(spec: Spec, value: Any, view: View) -> Json:
    """A value; a choice that nobody made is what it starts with."""
    return value_json(spec, spec.start if value is None and spec.role == "choice" else value, view)


def point_json(point: KeyPoint, view: View) -> dict[str, Json]:
    """A point to key in: bare numbers in the conventions of the answer; an arc with radius, centre and turn."""
    body: dict[str, Json] = {
        "label": point.label,
        "x": X.shown(point.spot.r, view) + 0.0,
        "z": Z.shown(point.spot.z, view) + 0.0,
    }
    if point.centre is not None and point.radius is not None:
        body |= _arc_json(point.radius, point.centre.r, point.centre.z, view) | {"turn": point.move}
    return body


def _arc_json(radius: float, centre_r: float, centre_z: float, view: View) -> dict[str, Json]:
    return {
        "radius": RADIUS.shown(radius, view),
        "centre_x": X.shown(centre_r, view) + 0.0,
        "centre_z": Z.shown(centre_z, view) + 0.0,
    }


def elements_json(chain: Chain, view: View) -> list[dict[str, Json]]:
    """The elements of a contour, each in full."""
    found = []
    for element in chain:
        body: dict[str, Json] = {
            "kind": "arc" if isinstance(element, Arc) else "line",
            "x1": X.shown(element.start.r, view) + 0.0,
            "z1": Z.shown(element.start.z, view) + 0.0,
            "x2": X.shown(element.end.r, view) + 0.0,
            "z2": Z.shown(element.end.z, view) + 0.0,
        }
        if isinstance(element, Arc):
            body |= _arc_json(element.radius, element.centre.r, element.centre.z, view) | {"turn": element.turn}
        found.append(body)
    return found


def step_json(step: Step, view: View) -> dict[str, Json]:
    """A step of the working as plain text."""
    return {
        "means": step.formula.means,
        "where": step.where,
        "head": head_of(step).title,
        "text": str(step.plain(view)),
        "source": step.formula.source,
    }


def _notes(answer: Answer[Any], view: View) -> Iterable[str]:
    """What is said beside the numbers, that of each group of results too, each once."""
    messages = [*answer.notes, *(each for group in answer.sentences.values() for each in group)]
    return dict.fromkeys(message.say(view) for message in messages)


def errors_json(faults: Sequence[Fault], view: View) -> dict[str, Json]:
    """The body of a 422: which field, the sentence about it, and what would do there instead, where that is known."""
    return {"errors": [_error_json(fault, view) for fault in faults]}


def _error_json(fault: Fault, view: View) -> dict[str, Json]:
    offers = {"offers": list(fault.offers)} if fault.offers else {}
    return {"field": fault.field, "message": fault.message.say(view), **offers}


def _unknown(query: Query) -> list[str]:
    return [f"There is no input “{name[:40]}” here; it was left out." for name in query.unknown]


def json_stopped(sentence: str) -> JsonAnswer:
    """What stands in for an answer whose computing was stopped."""
    return JsonAnswer({"errors": [{"field": "", "message": sentence}]}, UNAVAILABLE)
