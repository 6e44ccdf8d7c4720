"""The JSON API of the sheets: each route reads its request, asks the desk, and answers."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping
from typing import Any

from fastapi import FastAPI, Request
from fastapi.responses import JSONResponse, Response

from server.computing.asking import Asking
from server.computing.weight import are_heavy
from server.sheets.answers import Json, history_json, revision_json
from server.sheets.desk import Desk, whole_number
from server.sheets.differences import differences
from server.sheets.lanes import COMPUTING, READING, WRITING
from server.sheets.limits import Limits
from server.sheets.reading import read_json, stored_sheet
from server.sheets.refusals import Fault, Invalid, Late, Refusal
from server.sheets.requests import body_within, check_site, client_of, secret_of
from server.sheets.revisions import Created
from server.sheets.schema import OPERATIONS

NEWEST = 10**8 - 1
HISTORY = 50
NO_STORE = {"Cache-Control": "no-store"}

Handler = Callable[[Request], Awaitable[Response]]


class SheetsApi:
    """The routes under `/api/sheets`."""

    def __init__(self, desk: Desk, limits: Limits, asking: Asking, base: Callable[[Request], str]) -> None:
        self.desk = desk
        self.asking = asking
        self.limits = limits
        self.base = base

    def mount(self, app: FastAPI) -> None:
        """Give the app the routes."""
        one = "/api/sheets/{sheet}"
        add_route(app, OPERATIONS, "POST", "/api/sheets", self.create)
        add_route(app, OPERATIONS, "GET", one, self.read)
        add_route(app, OPERATIONS, "PUT", one, self.save)
        add_route(app, OPERATIONS, "DELETE", one, self.end)
        add_route(app, OPERATIONS, "POST", f"{one}/copy", self.copy)
        add_route(app, OPERATIONS, "POST", f"{one}/restore", self.restore)
        add_route(app, OPERATIONS, "GET", f"{one}/export", self.export)
        add_route(app, OPERATIONS, "GET", f"{one}/revisions", self.history)
        add_route(app, OPERATIONS, "GET", f"{one}/revisions/{{revision}}", self.revision)
        add_route(app, OPERATIONS, "GET", f"{one}/difference", self.difference)

    async def create(self, request: Request) -> Response:
        """Keep a new sheet, or one that was exported elsewhere."""
        document = read_json(await self._body(request))
        created = await WRITING.run(self.desk.create, document, client_of(request))
        return self._created(request, created)

    async def read(self, request: Request) -> Response:
        """The newest revision with what its steps say today."""
        revision, owner = await READING.run(self.desk.read, _sheet(request), secret_of(request))
        if not are_heavy([step.address for step in stored_sheet(revision.document).steps]):
            return await COMPUTING.run(self.asking.answering.sheet_in_json, revision, owner)
        return await self.asking.heavy(request, _late, "sheet_in_json", revision, owner)

    async def save(self, request: Request) -> Response:
        """Keep a further revision."""
        sheet, secret = _sheet(request), secret_of(request)
        await READING.run(self.desk.own, sheet, secret)
        body = object_in(read_json(await self._body(request)), "based_on", "sheet")
        based_on = whole_number(body["based_on"], "based_on")
        revision = await WRITING.run(self.desk.save, sheet, secret, based_on, body["sheet"], client_of(request))
        return as_json(revision_json(revision))

    async def end(self, request: Request) -> Response:
        """End the link."""
        await WRITING.run(self.desk.end, _sheet(request), secret_of(request))
        return as_json({"ended": True})

    async def copy(self, request: Request) -> Response:
        """Keep a copy as a sheet of one's own."""
        created = await WRITING.run(self.desk.copy, _sheet(request), secret_of(request), client_of(request))
        return self._created(request, created)

    async def restore(self, request: Request) -> Response:
        """Make an older revision the newest."""
        body = object_in(read_json(await self._body(request)), "revision", "based_on")
        number, based_on = (whole_number(body[name], name) for name in ("revision", "based_on"))
        sheet, secret, client = _sheet(request), secret_of(request), client_of(request)
        revision = await WRITING.run(self.desk.restore, sheet, secret, number, based_on, client)
        return as_json(revision_json(revision))

    async def export(self, request: Request) -> Response:
        """The document alone, as a file."""
        revision, _ = await READING.run(self.desk.read, _sheet(request), secret_of(request))
        named = f'attachment; filename="sheet-{revision.sheet}-{revision.number}.json"'
        return Response(
            revision.document, media_type="application/json", headers={**NO_STORE, "Content-Disposition": named}
        )

    async def history(self, request: Request) -> Response:
        """The revisions with what each changed, newest first."""
        before = whole_number(request.query_params.get("before", str(NEWEST)), "before")
        return await READING.run(self._history, request, before)

    def _history(self, request: Request, before: int) -> Response:
        return as_json(history_json(self.desk.history(_sheet(request), secret_of(request), before, HISTORY), HISTORY))

    async def revision(self, request: Request) -> Response:
        """One revision."""
        number = whole_number(request.path_params["revision"], "revision")
        revision = await READING.run(self.desk.revision, _sheet(request), secret_of(request), number)
        return as_json(revision_json(revision))

    async def difference(self, request: Request) -> Response:
        """What changed from one revision to another, in words."""
        old, new = (whole_number(request.query_params.get(name, ""), name) for name in ("from", "to"))
        return await READING.run(self._difference, request, old, new)

    def _difference(self, request: Request, old: int, new: int) -> Response:
        asked = _sheet(request), secret_of(request)
        sheets = [stored_sheet(self.desk.revision(*asked, number).document) for number in (old, new)]
        return as_json({"from": old, "to": new, "changes": differences(*sheets)})

    async def _body(self, request: Request) -> bytes:
        return await body_within(request, self.limits.body)

    def _created(self, request: Request, created: Created) -> Response:
        reading = f"{self.base(request)}/sheet/{created.sheet}"
        body = {
            **revision_json(created.revision),
            "address": reading,
            "owner_address": f"{reading}/own/{created.secret}",
            "secret": created.secret,
        }
        return as_json(body, 201, {"Location": f"/api/sheets/{created.sheet}"})


def add_route(
    app: FastAPI,
    operations: Mapping[tuple[str, str], Any],
    method: str,
    path: str,
    handler: Handler,
    tag: str = "sheets",
) -> None:
    """Give the app a call as it is described."""
    described = operations[method, path]
    app.add_api_route(
        path,
        guarded(handler),
        methods=[method],
        name=f"{method} {path}",
        summary=described["summary"],
        description=described["description"],
        tags=[tag],
        response_class=Response,
        response_model=None,
        openapi_extra=described["more"],
    )


def _late(sentence: str) -> Response:
    return refused(Late(sentence))


def refused(error: Refusal) -> JSONResponse:
    """The answer to a request that was not carried out."""
    errors = [{"field": fault.field, "message": fault.message} for fault in error.faults]
    return as_json({"errors": errors, **error.more}, error.status, dict(error.headers))


def guarded(handler: Handler) -> Handler:
    """The handler, with a refusal answered in JSON, and no change that another site's page asked for."""

    async def answer(request: Request) -> Response:
        try:
            if request.method not in ("GET", "HEAD"):
                check_site(request)
            return await handler(request)
        except Refusal as error:
            return refused(error)

    return answer


def as_json(body: Json, status: int = 200, headers: dict[str, str] | None = None) -> JSONResponse:
    """An answer that nobody keeps."""
    return JSONResponse(body, status, {**NO_STORE, **(headers or {})})


def _sheet(request: Request) -> str:
    return str(request.path_params["sheet"])


def object_in(value: Any, *names: str) -> dict[str, Any]:
    """The object that a body holds. Raises `Invalid` for a name that is missing or not known."""
    if not isinstance(value, dict):
        raise Invalid([Fault("", "The body must be a JSON object.")])
    missing = [Fault(name, "This is missing.") for name in names if name not in value]
    unknown = [Fault(name[:40], "There is no such field here.") for name in value if name not in names]
    if missing or unknown:
        raise Invalid(missing + unknown)
    return value
