"""The OpenAPI description of a feature, made from its declarations."""

from __future__ import annotations

from typing import Any

from calc.answer.feature import Feature
from calc.language.fields import Spec, specs
from server.query import CONVENTIONS

Json = dict[str, Any]

_CONVENTION_HELP = {
    "units": "units of numbers without a typed unit, and of the answer",
    "x": "what x, x1, x2 and centre_x mean; a name with diameter in it is always a diameter",
    "zplus": "where +Z points: out of the part (ISO 841) or into it",
}
LIMITS = ("aimed", "lower", "upper")
ERROR: Json = {
    "description": "What is wrong, at which input",
    "content": {
        "application/json": {
            "schema": {
                "type": "object",
                "properties": {
                    "errors": {
                        "type": "array",
                        "items": {
                            "type": "object",
                            "properties": {"field": {"type": "string"}, "message": {"type": "string"}},
                        },
                    }
                },
            }
        }
    },
}


def conventions() -> list[Json]:
    """The conventions as parameters of the query."""
    return [_convention(name, allowed) for name, allowed in CONVENTIONS.items()]


def operation(feature: Feature[Any, Any]) -> Json:
    """The OpenAPI operation of a feature."""
    parameters = [_parameter(spec, feature.example.get(spec.name)) for spec in specs(feature.inputs)]
    return {
        "summary": feature.title,
        "description": feature.summary,
        "operationId": feature.path,
        "tags": [feature.path.split("/", 1)[0]],
        "parameters": parameters + conventions(),
        "responses": {
            "200": {"description": "The answer", "content": {"application/json": {"schema": _answer(feature)}}},
            "422": ERROR,
        },
    }


def _parameter(spec: Spec, example: str | None) -> Json:
    schema: Json = {"type": "string"}
    if spec.rows is not None:
        schema["description"] = "rows between stars, each name:text between tildes"
    if spec.choices:
        schema |= {"enum": list(spec.choices), "default": spec.start}
    parameter: Json = {
        "name": spec.name,
        "in": "query",
        "required": False,
        "description": _description(spec),
        "schema": schema,
    }
    return parameter | ({"example": example} if example else {})


def _description(spec: Spec) -> str:
    words = spec.label + (f" ({spec.help})" if spec.help else "")
    if spec.kind is None:
        return words
    metric, inch = spec.kind.metric.label or "a ratio", spec.kind.inch.label or "a ratio"
    return f"{words}, {metric}" if metric == inch else f"{words}, {metric} or {inch}"


def _convention(name: str, allowed: tuple[str, ...]) -> Json:
    return {
        "name": name,
        "in": "query",
        "required": False,
        "description": _CONVENTION_HELP[name],
        "schema": {"type": "string", "enum": list(allowed), "default": allowed[0]},
    }


def _answer(feature: Feature[Any, Any]) -> Json:
    lists = {name: _array(_declared(rows.row)) for name, rows in feature.rows.items()}
    properties: Json = {
        "inputs": _declared(feature.inputs),
        "results": _declared(feature.results),
        "points": _array({"type": "object"}),
        "working": _array({"type": "object"}),
        "cautions": _array({"type": "string"}),
        "notes": _array({"type": "string"}),
        "conventions": {"type": "object"},
        "edition": {"type": "string"},
        "plots": {"type": "object", "description": "where there are any: curves or a field, as lists of numbers"},
    }
    return {"type": "object", "properties": properties | lists}


def _array(items: Json) -> Json:
    return {"type": "array", "items": items}


def _declared(declared: type[Any]) -> Json:
    return {"type": "object", "properties": {spec.name: _value(spec) for spec in specs(declared)}}


def _value(spec: Spec) -> Json:
    if spec.rows is not None:
        return {**_array(_declared(spec.rows.row)), "description": spec.label}
    if spec.role == "flag":
        return {"type": "boolean", "description": spec.label, "nullable": True}
    if spec.kind is None:
        return {"type": "string", "description": spec.label, "nullable": True}
    units = sorted({spec.kind.metric.code, spec.kind.inch.code})
    return {
        "type": "object",
        "description": spec.label,
        "nullable": True,
        "properties": {
            "value": {"type": "number", "description": "the nominal, where there are limits"},
            "unit": {"type": "string", "enum": units},
            **{name: {"type": "number", "description": "where there are limits"} for name in LIMITS},
        },
    }
