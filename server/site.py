"""The pages for people: start, features, the QR code of a question, and what stands in when a page cannot be given."""

from __future__ import annotations

import datetime
from dataclasses import replace
from typing import Any

import segno
from fastapi import FastAPI, Request, Response
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.exceptions import HTTPException

from calc.answer.feature import Feature
from calc.cutting.machine import Machine, ToolBar, Work
from calc.language.fields import Spec, specs
from server import row_texts
from server.assets import Addresses
from server.catalogue import GROUPS, PAGES
from server.context import FaultView, PageView, StartView, TileGroup, TileView, while_typing
from server.exports import Exports
from server.links import address
from server.pages import Page
from server.query import read_query
from server.rows import Gathered, gathered
from server.settings import Settings

QR_MOST = 2300  # characters; what a code at the medium level holds as bytes


def environment(settings: Settings) -> Environment:
    """The templates: escaping everywhere, and an error for a name that is not there."""
    found = Environment(
        loader=FileSystemLoader(settings.templates),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=False,
        auto_reload=False,
    )
    found.globals["asset"] = Addresses(settings.static).asset
    found.globals["kept_fields"] = [spec.name for declared in (Machine, Work, ToolBar) for spec in specs(declared)]
    return found


class Site:
    """Mounts the pages on an app."""

    def __init__(self, app: FastAPI, settings: Settings) -> None:
        self.settings = settings
        self.templates = environment(settings)
        self.exports = Exports(settings.static)
        app.add_route("/", self.start, methods=["GET", "HEAD"])
        for feature in PAGES.values():
            self.mount(app, feature)
        app.add_api_route("/qr/{page:path}", self.qr, methods=["GET"], include_in_schema=False)
        app.add_exception_handler(HTTPException, self.fault)
        app.add_exception_handler(Exception, self.broken)

    def mount(self, app: FastAPI, feature: Feature[Any, Any]) -> None:
        """Give a feature's page and its files their routes."""

        async def show(request: Request) -> Response:
            return self.feature_page(feature, request)

        async def give(request: Request) -> Response:
            return self.exports.answer(feature, request.url.path.rpartition("/")[2], request)

        app.add_route(feature.page, show, methods=["GET", "HEAD"])
        for name in self.exports.makers:
            app.add_route(f"{feature.page}/{name}", give, methods=["GET", "HEAD"])

    async def start(self, _: Request) -> Response:
        """The start page."""
        groups = tuple(
            TileGroup(title, tuple(TileView(each.page, each.title, each.summary) for each in features if each.page))
            for title, features in GROUPS.items()
        )
        return self._html("start.html", page=StartView(groups))

    def feature_page(self, feature: Feature[Any, Any], request: Request) -> Response:
        """A feature's page, or the part of it that changes when htmx asks for that."""
        partial = request.headers.get("HX-Request-Type") == "partial"
        lists = row_texts.gathered(request.query_params.multi_items(), _lists(feature))
        rows = _gathered(feature, lists.items)
        compact = address(feature.page, dict(rows.items))
        focus = lists.focus if rows.focus is None else f"rows.{rows.focus}"
        if (rows.changed or lists.changed) and not partial:
            return RedirectResponse(f"{compact}#{focus}" if focus else compact, 303)
        query = read_query(rows.items, feature.inputs)
        page = Page(feature, query, self.base(request), datetime.date.today(), rows.focus, lists.focus).context()
        page = replace(page, partial=partial)
        typed = request.headers.get("Typed-Field", "")
        if typed:
            page = while_typing(page, typed)
        status = 422 if page.errors else 200
        response = self._html("feature.html", status, page=page)
        if rows.changed or lists.changed:
            response.headers.update(_moving(compact, acted=rows.acted or lists.acted))
        response.headers["Vary"] = "HX-Request-Type, Typed-Field"
        response.headers["Cache-Control"] = "no-store" if partial else "no-cache"
        return response

    def base(self, request: Request) -> str:
        """The address that other devices reach this server by."""
        own = str(request.base_url).rstrip("/")
        is_local = request.url.hostname in ("localhost", "127.0.0.1", "::1")
        return self.settings.address if self.settings.address and is_local else own

    async def qr(self, page: str, request: Request) -> Response:
        """The QR code of a question on one of our own pages."""
        if f"/{page}" not in PAGES:
            raise HTTPException(404)
        target = self.base(request) + address(f"/{page}", dict(request.query_params))
        if len(target) > QR_MOST:
            raise HTTPException(414, "This address is too long for a QR code.")
        code = segno.make(target, error="l", micro=False)
        svg = code.svg_inline(scale=4, border=4, dark="#000", light="#fff", omitsize=True)
        headers = {"Cache-Control": "public, max-age=86400"}
        return Response(_with_namespace(svg), media_type="image/svg+xml", headers=headers)

    async def fault(self, request: Request, error: Exception) -> Response:
        """What is shown instead of a page or an answer that does not exist."""
        status = error.status_code if isinstance(error, HTTPException) else 500
        title, message = _WORDS.get(status, _WORDS[500])
        if request.url.path.startswith("/api/"):
            body = {"errors": [{"field": "", "message": message}]}
            return _json(body, status)
        return self._html("error.html", status, page=FaultView(status, title, message))

    async def broken(self, request: Request, error: Exception) -> Response:
        """What is shown when something here is broken: plain words, no trace."""
        return await self.fault(request, error)

    def _html(self, template: str, status: int = 200, **context: PageView | StartView | FaultView) -> Response:
        return HTMLResponse(self.templates.get_template(template).render(**context), status)


def _lists(feature: Feature[Any, Any]) -> dict[str, Spec]:
    """The lists of rows among the inputs, by name."""
    return {spec.name: spec for spec in specs(feature.inputs) if spec.rows is not None}


def _gathered(feature: Feature[Any, Any], items: list[tuple[str, str]]) -> Gathered:
    """The items with a contour's rows gathered into its one text."""
    name = next((spec.name for spec in specs(feature.inputs) if spec.role == "contour"), "")
    return gathered(items, name) if name else Gathered(items)


def _moving(compact: str, *, acted: bool) -> dict[str, str]:
    """Where the address bar goes: an action can be taken back, and its rows are laid out anew."""
    if acted:
        return {"HX-Push-Url": compact, "HX-Reswap": "innerHTML"}
    return {"HX-Replace-Url": compact}


_WORDS = {
    404: ("Not here", "There is no page at this address. It may be a mistyped link."),
    405: ("Not this way", "This address answers questions only; it takes no other request."),
    414: ("Too long", "This address is too long for a QR code. Copy the link instead."),
    500: ("Something here is broken", "The fault is the program's, not yours. Your question is still in the address."),
}


def _json(body: dict[str, Any], status: int) -> Response:
    return JSONResponse(body, status)


def _with_namespace(svg: str) -> str:
    return svg if "xmlns" in svg else svg.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"', 1)
