"""The sheets' pages to read: the sheet, its QR code, its revisions, the owner's link."""

from __future__ import annotations

import io
from collections.abc import Awaitable, Callable, Mapping
from typing import Any

from fastapi import FastAPI, Request
from fastapi.responses import RedirectResponse, Response

from calc.language.messages import say_text
from calc.language.quantities import View
from server.answering import SHEET_HEADERS
from server.computing.weight import are_heavy
from server.languages import language_of
from server.sheets.answers import history_json
from server.sheets.api import HISTORY, NEWEST
from server.sheets.desk import Desk, whole_number
from server.sheets.lanes import COMPUTING, READING
from server.sheets.reading import stored_sheet
from server.sheets.refusals import Late, NotOwner, Refusal
from server.sheets.requests import check_site, give_cookies, secret_of
from server.sheets.showing import history_view
from server.site import Site
from server.start_context import FaultView

Handler = Callable[[Request], Awaitable[Response]]


class SheetPages:
    """The pages of a sheet that anybody with its address can read, and its revisions for the owner."""

    def __init__(self, desk: Desk, site: Site) -> None:
        self.desk = desk
        self.site = site

    def mount(self, app: FastAPI) -> None:
        """Give the app the routes."""
        self.route(app, "GET", "/sheet/{sheet}", self.read)
        self.route(app, "GET", "/sheet/{sheet}/qr.svg", self.qr)
        self.route(app, "GET", "/sheet/{sheet}/revisions", self.history)
        self.route(app, "GET", "/sheet/{sheet}/own/{secret}", self.own)

    def route(self, app: FastAPI, method: str, path: str, handler: Handler) -> None:
        """Mount a page; a refusal becomes a page in plain words."""

        async def answer(request: Request) -> Response:
            try:
                if method == "POST":
                    check_site(request)
                return await handler(request)
            except Refusal as error:
                return self.refused(request, error)

        app.add_route(path, answer, methods=[method, "HEAD"] if method == "GET" else [method])

    async def read(self, request: Request) -> Response:
        """The sheet, to read and to print. `seen` is the revision that a print's QR code gives."""
        revision, owner = await READING.run(self.desk.read, sheet_of(request), secret_of(request))
        if revision.sheet != sheet_of(request):  # in another spelling; an owner's cookie goes to this one alone
            return RedirectResponse(f"/sheet/{revision.sheet}", 308)
        seen = request.query_params.get("seen", "0")
        number = int(seen) if seen.isascii() and seen.isdecimal() and len(seen) < 9 else 0
        heavy = are_heavy([step.address for step in stored_sheet(revision.document).steps])
        return await self.computed(
            request, heavy, "sheet", revision, self.site.base(request), owner, number, language_of(request)
        )

    async def computed(self, request: Request, heavy: bool, name: str, *arguments: Any) -> Response:
        """What `Answering` makes of it: heavy steps in a process, others in a thread of computing."""
        if not heavy:
            return await COMPUTING.run(getattr(self.site.answering, name), *arguments)

        def stopped(sentence: str) -> Response:
            return self.refused(request, Late(sentence))

        return await self.site.asking.heavy(request, stopped, name, *arguments)

    async def qr(self, request: Request) -> Response:
        """The QR code of the reading address, with the revision that is printed beside it."""
        revision, _ = await READING.run(self.desk.read, sheet_of(request), secret_of(request))
        import segno  # noqa: PLC0415 - see server/site.py

        code = segno.make(
            f"{self.site.base(request)}/sheet/{revision.sheet}?seen={revision.number}", error="m", micro=False
        )
        drawn = io.BytesIO()
        code.save(drawn, kind="svg", scale=4, border=4, dark="#000", light="#fff", omitsize=True, xmldecl=False)
        return Response(drawn.getvalue(), media_type="image/svg+xml", headers=SHEET_HEADERS)

    async def history(self, request: Request) -> Response:
        """The revisions with what each changed."""
        return await READING.run(self._history, request)

    def _history(self, request: Request) -> Response:
        sheet, secret = sheet_of(request), secret_of(request)
        before = whole_number(request.query_params.get("before", str(NEWEST)), "before")
        current, owner = self.desk.read(sheet, secret)
        if not owner:
            raise NotOwner
        history = history_json(self.desk.history(sheet, secret, before, HISTORY), HISTORY)
        shown = history_view(current.number, history, current.sheet, self.view(request))
        return self.html(request, "sheet/revisions.html", page=shown)

    async def own(self, request: Request) -> Response:
        """Exchange the owner's secret for cookies, and lead on at once, so that it is in no page's address."""
        secret = str(request.path_params["secret"])
        owned = await READING.run(self.desk.own, sheet_of(request), secret)
        return leading_on(request, owned, secret)

    def html(self, request: Request, template: str, status: int = 200, **context: Any) -> Response:
        """A page made from its template, in the language of whoever asks."""
        return self._with(self.site.html(request, template, status, **context), SHEET_HEADERS)

    @staticmethod
    def view(request: Request) -> View:
        """How whoever asks wants words; numbers as usual."""
        return View(language=language_of(request))

    def refused(self, request: Request, error: Refusal) -> Response:
        """The page that says in plain words what was not done."""
        view = self.view(request)
        said = " ".join(say_text(fault.message, view) for fault in error.faults)
        page = FaultView(error.status, say_text(error.title, view), said)
        return self._with(self.html(request, "error.html", error.status, page=page), error.headers)

    @staticmethod
    def _with(response: Response, headers: Mapping[str, str]) -> Response:
        response.headers.update(headers)
        return response


def sheet_of(request: Request) -> str:
    """The id that stands in the address."""
    return str(request.path_params["sheet"])


def leading_on(request: Request, sheet: str, secret: str, to: str = "/edit") -> Response:
    """Make this browser the owner, and go to the owner's page, or to another one of the sheet."""
    response = RedirectResponse(f"/sheet/{sheet}{to}", 303, {"Cache-Control": "no-store"})
    give_cookies(request, response, sheet, secret)
    return response
