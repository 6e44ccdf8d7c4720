"""The JSON API: one GET route for each feature, described from its declarations."""

from __future__ import annotations

from typing import Any

from fastapi import FastAPI, Request

from calc.feature import Feature
from calc.problems import Problem
from server.answers import JsonAnswer, answer_json, errors_json
from server.query import read_query
from server.schema import operation

UNPROCESSABLE = 422


def mount_api(app: FastAPI, feature: Feature[Any, Any]) -> None:
    """Give the feature its API route, `/api/` and its path."""

    async def answer(request: Request) -> JsonAnswer:
        return answer_to(feature, request.query_params.multi_items())

    app.add_api_route(
        f"/api/{feature.path}",
        answer,
        methods=["GET"],
        name=feature.path,
        summary=feature.title,
        description=feature.summary,
        tags=[feature.path.split("/", 1)[0]],
        response_class=JsonAnswer,
        response_model=None,
        openapi_extra=operation(feature),
    )


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
