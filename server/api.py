"""The JSON API: one GET route for each feature, described from its declarations.

The declarations already say what the framework would work out from a signature, for the reading as for the description,
so the routes are plain ones and the description is added to the framework's own.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence
from typing import Any

from fastapi import FastAPI, Request, Response

from calc.answer.feature import Feature
from server.answers import json_stopped
from server.computing.asking import Asking
from server.computing.weight import is_heavy
from server.schema import operation


def mount_api(app: FastAPI, features: Sequence[Feature[Any, Any]], asking: Asking) -> None:
    """Give each feature its API route, `/api/` and its path, and its place in the description."""
    for feature in features:
        app.add_route(f"/api/{feature.path}", _route(feature, asking), methods=["GET"], name=feature.path)
    described = app.openapi

    def openapi() -> dict[str, Any]:
        description = described()
        calls = {f"/api/{feature.path}": {"get": operation(feature)} for feature in features}
        return {**description, "paths": {**calls, **description.get("paths", {})}}

    app.openapi = openapi  # type: ignore[method-assign]  # the framework's way to extend the description


def _route(feature: Feature[Any, Any], asking: Asking) -> Callable[[Request], Awaitable[Response]]:
    async def answer(request: Request) -> Response:
        items = request.query_params.multi_items()
        if not is_heavy(feature.path, items):
            return asking.answering.api(feature, items)
        return await asking.heavy(request, json_stopped, "named", "api", feature.path, items)

    return answer
