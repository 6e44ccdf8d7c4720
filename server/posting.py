"""API calls that take JSON: the conventions stand in the query string, what is wrong is said at the body's fields."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from anyio import to_thread
from starlette.requests import Request
from starlette.responses import Response

from calc.language.problems import Problem
from calc.language.quantities import View
from server.answers import JsonAnswer, errors_json, json_stopped
from server.computing.weight import is_heavy_body
from server.query import read_query
from server.schema import ERROR, conventions

if TYPE_CHECKING:
    from fastapi import FastAPI

    from server.computing.asking import Asking

Json = dict[str, Any]
UNPROCESSABLE, TOO_LARGE = 422, 413
MOST_BODY = 1024 * 1024
"""Bytes: 10,000 points of a curve in full digits."""


@dataclass(frozen=True)
class Nothing:
    """No inputs but the conventions."""


def nothing_more(_: Problem, __: View) -> Json:
    """A refusal that says no more than its errors."""
    return {}


@dataclass(frozen=True, slots=True)
class Post:
    """A call: its address, what its body may hold, the lists of its answer, and what answers a body for a view.

    `refused` gives what a refusal says beside its errors.
    """

    path: str
    title: str
    summary: str
    body: Json
    lists: tuple[str, ...]
    answer: Callable[[Json, View], Json]
    refused: Callable[[Problem, View], Json] = nothing_more


def mount_posts(app: FastAPI, posts: Sequence[Post], asking: Asking) -> None:
    """Give each call its route, and its place in the API's description."""
    for post in posts:
        app.add_route(post.path, _route(post, asking), methods=["POST"], name=f"post {post.path}")
    described = app.openapi

    def openapi() -> Json:
        description = described()
        paths = dict(description.get("paths", {}))
        for post in posts:
            paths[post.path] = {**paths.get(post.path, {}), "post": operation(post)}
        return {**description, "paths": paths}

    app.openapi = openapi  # type: ignore[method-assign]  # the framework's way to extend the description


def _route(post: Post, asking: Asking) -> Callable[[Request], Awaitable[Response]]:
    async def answer(request: Request) -> Response:
        query = read_query(request.query_params.multi_items(), Nothing)
        if query.faults:
            return JsonAnswer(errors_json(query.faults, query.view), UNPROCESSABLE)
        body = await _body(request)
        if body is None:
            sentence = f"This is more than fits in one request: at most {MOST_BODY // 1024} KiB."
            return JsonAnswer({"errors": [{"field": "", "message": sentence}]}, TOO_LARGE)
        if not is_heavy_body(post.path.removeprefix("/api/"), body):
            return await to_thread.run_sync(asking.answering.post, post, body, query.view)
        return await asking.heavy(request, json_stopped, "named", "post", post.path, body, query.view)

    return answer


async def _body(request: Request) -> bytes | None:
    """The whole body, None for one that is too large."""
    body = bytearray()
    async for chunk in request.stream():
        if len(body) <= MOST_BODY:
            body += chunk
    return bytes(body) if len(body) <= MOST_BODY else None


def operation(post: Post) -> Json:
    """The OpenAPI operation of a call."""
    lists: Json = {name: {"type": "array", "items": {"type": "object"}} for name in post.lists}
    schema: Json = {"type": "object", "properties": {"results": {"type": "object"}, **lists}}
    return {
        "summary": post.title,
        "description": post.summary,
        "operationId": f"post {post.path.removeprefix('/api/')}",
        "tags": [post.path.split("/")[2]],
        "parameters": conventions(),
        "requestBody": {
            "required": True,
            "content": {"application/json": {"schema": {"type": "object", "properties": post.body}}},
        },
        "responses": {
            "200": {"description": "The answer", "content": {"application/json": {"schema": schema}}},
            "422": ERROR,
        },
    }
