"""The line as a page and as a call."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from fastapi import FastAPI, Request, Response
from starlette.responses import JSONResponse

from calc.language.messages import Message, say_text
from calc.language.problems import Fault
from server.answering import UNPROCESSABLE
from server.answers import JsonAnswer, errors_json
from server.languages import language_of
from server.line.reading import LONGEST, Reading, readings
from server.query import view_of
from server.site import Site
from server.start_context import FoundView, LineView
from server.terms import named_in

EXAMPLES = ("R90 4.5 deep", "24 g6", "Morse 3", "220 m/min Ø60", "Ra 0.8 nose 0.4", "42CrMo4", "DNMG 150608", "chatter")


def mount_line(app: FastAPI, site: Site) -> None:
    """Give the line its page and its call."""

    async def page(request: Request) -> Response:
        line = request.query_params.get("q", "").strip()
        view = view_of(request.query_params, [], language_of(request))
        found = tuple(map(_found, readings(line, view)))
        terms = tuple((say_text(term.term, view), say_text(term.means, view), term.address) for term in named_in(line))
        examples = tuple(say_text(each, view) for each in EXAMPLES)
        shown = LineView(line, found, examples, len(line) > LONGEST, terms)
        return site.html(request, "line.html", page=shown)

    async def call(request: Request) -> Response:
        line = request.query_params.get("q", "").strip()
        faults = _faults(line)
        view = view_of(request.query_params, faults)
        if faults:
            return JsonAnswer(errors_json(faults, view), UNPROCESSABLE)
        return JSONResponse({"q": line, "readings": [reading_json(each) for each in readings(line, view)]})

    app.add_route("/ask", page, methods=["GET", "HEAD"])
    app.add_api_route(
        "/api/ask",
        call,
        methods=["GET"],
        tags=["ask"],
        summary="What a line as a person types it can mean: questions, addresses, fields, headlines",
        openapi_extra={"parameters": [_LINE]},
    )


_LINE = {"name": "q", "in": "query", "required": True, "schema": {"type": "string"}, "example": EXAMPLES[0]}


def _faults(line: str) -> list[Fault]:
    if not line:
        return [Fault("q", Message("Type a line to ask: {example}.", {"example": EXAMPLES[0]}))]
    if len(line) > LONGEST:
        return [Fault("q", Message("A line has at most {most} characters.", {"most": LONGEST}))]
    return []


def _found(reading: Reading) -> FoundView:
    headline = reading.headline
    label, text = (headline.label, headline.text) if headline else ("", "")
    return FoundView(reading.question, reading.page, label, text, reading.needs, reading.taken, reading.read_as)


def reading_json(reading: Reading) -> dict[str, Any]:
    """A reading as it stands in the JSON answer."""
    headline = None if reading.headline is None else asdict(reading.headline)
    return {
        "question": reading.question,
        "page": reading.page,
        "fields": dict(reading.fields),
        "headline": headline,
        "needs": reading.needs,
        "taken": [{"label": label, "text": text} for label, text in reading.taken],
        "read_as": reading.read_as,
    }
