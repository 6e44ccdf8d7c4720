"""The JSON API: one GET route for each feature, described from its declarations.

The declarations already say what the framework would work out from a signature, for the reading as for the description,
so the routes are plain ones and the description is added to the framework's own.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence
from functools import cache
from typing import Any

from fastapi import FastAPI, Request

from calc.answer.feature import Feature
from calc.language.problems import Problem
from server.answers import JsonAnswer, answer_json, errors_json
from server.query import read_query
from server.schema import operation

UNPROCESSABLE = 422


def mount_api(app: FastAPI, features: Sequence[Feature[Any, Any]]) -> None:
    """Give each feature its API route, `/api/` and its path, and its place in the description."""
    for feature in features:
        app.add_route(f"/api/{feature.path}", _route(feature), methods=["GET"], name=feature.path)
    described = app.openapi

    @cache
    def openapi() -> dict[str, Any]:
        description = described()
        calls = {f"/api/{feature.path}": {"get": operation(feature)} for feature in features}
        return {**description, "paths": {**calls, **description.get("paths", {})}}

    app.openapi = openapi  # type: ignore[method-assign]  # the framework's way to extend the description


def _route(feature: Feature[Any, Any]) -> Callable[[Request], Awaitable[JsonAnswer]]:
    async def answer(request: Request) -> JsonAnswer:
        return answer_to(feature, request.query_params.multi_items())

    return answer


def answer_to(feature: Feature[Any, Any], items: list[tuple[str, str]]) -> JsonAnswer:
    """The answer to the question in the query's items: 200 with the answer, 422 with what is wrong."""
    query = read_query(items, feature.inputs)
    if query.faults:
        return JsonAnswer(errors_json(query.faults, query.view), UNPROCESSABLE)
    try:
        answer, steps = feature.answer(query.inputs(feature.inputs))
    except Problem as problem:
        return JsonAnswer(errors_json(problem.faults, query.view), UNPROCESSABLE)
    return JsonAnswer(answer_json(feature, query, answer, steps))
