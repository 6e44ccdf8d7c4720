"""The documentation of the API as a page of our own, made from its OpenAPI description; nothing is from elsewhere."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from fastapi import FastAPI
from fastapi.responses import HTMLResponse
from jinja2 import Environment

from server.rendering import rendered


@dataclass(frozen=True, slots=True)
class ParameterView:
    """An input or a result: its name, what it is, which values or units it has."""

    name: str
    meaning: str
    values: str


@dataclass(frozen=True, slots=True)
class OperationView:
    """One call of the API; `example` is an address that can be opened as it is, "" where there is none."""

    method: str
    path: str
    title: str
    summary: str
    inputs: tuple[ParameterView, ...]
    results: tuple[ParameterView, ...]
    example: str


@dataclass(frozen=True, slots=True)
class DocsView:
    """The whole documentation page."""

    title: str
    operations: tuple[OperationView, ...]


def mount_docs(app: FastAPI, templates: Environment) -> None:
    """Give the app `/api/docs`."""

    async def docs() -> HTMLResponse:
        view = docs_view(app.openapi())
        return HTMLResponse(rendered(templates, "docs.html", "en", page=view, back="/api/docs"))

    app.add_api_route("/api/docs", docs, methods=["GET"], include_in_schema=False)


def docs_view(openapi: dict[str, Any]) -> DocsView:
    """The operations of an OpenAPI description, as the template needs them."""
    operations = [
        _operation(method.upper(), path, operation)
        for path, methods in openapi["paths"].items()
        for method, operation in methods.items()
    ]
    return DocsView(openapi["info"]["title"], tuple(operations))


def _operation(method: str, path: str, operation: dict[str, Any]) -> OperationView:
    parameters = tuple(_parameter(parameter) for parameter in operation.get("parameters", ()))
    answer = next(answer for status, answer in operation["responses"].items() if status.startswith("2"))
    schema = answer.get("content", {}).get("application/json", {}).get("schema", {})
    results = schema.get("properties", {}).get("results", {}).get("properties", {})
    named = tuple(ParameterView(name, value.get("description", ""), _units(value)) for name, value in results.items())
    given = "&".join(f"{p['name']}={p['example']}" for p in operation.get("parameters", ()) if "example" in p)
    opens = method == "GET" and "{" not in path
    return OperationView(
        method,
        path,
        operation.get("summary", ""),
        operation.get("description", ""),
        parameters,
        named,
        (f"{path}?{given}" if given else path) if opens else "",
    )


def _parameter(parameter: dict[str, Any]) -> ParameterView:
    values = ", ".join(value for value in parameter["schema"].get("enum", ()) if value)
    return ParameterView(parameter["name"], parameter.get("description", ""), values)


def _units(value: dict[str, Any]) -> str:
    return " or ".join(value.get("properties", {}).get("unit", {}).get("enum", (value.get("type", ""),)))
