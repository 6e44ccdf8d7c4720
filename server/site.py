"""The pages for people: start, features, the QR code of a question, and what stands in when a page cannot be given."""

from __future__ import annotations

import re
from collections.abc import Awaitable, Callable, Iterable
from typing import Any

from fastapi import FastAPI, Request, Response
from fastapi.responses import FileResponse, HTMLResponse, JSONResponse, RedirectResponse
from starlette.convertors import StringConvertor, register_url_convertor
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect
from starlette.routing import Match

from calc.answer.feature import Feature
from calc.language.messages import say_text
from calc.language.quantities import View
from server.answering import LAYOUTS, PageAsked, file_stopped
from server.catalogue import PAGES
from server.computing.asking import Asking
from server.computing.weight import is_heavy
from server.languages import VARY, language_of, mount_languages
from server.links import OPERATOR, QR_MOST, address
from server.mistyped import likely_pages
from server.old_names import present
from server.rendering import rendered
from server.settings import Settings
from server.shop.entry import Whole
from server.shop.filling import with_taken
from server.shop.offering import operations_of, relevant, takes_something
from server.shop.shelf import Shelf
from server.start import start_view
from server.start_context import FaultView
from server.terms import TermsView, glossary_for

AT_THE_ROOT = {"/worker.js": "text/javascript", "/manifest.webmanifest": "application/manifest+json"}
"""Static files that a browser takes for all pages only from the root, and their types."""

BELOW = "below"
"""The kind of the last part of an address: a file of a page, or a layout of it."""


def one_of(words: Iterable[str]) -> StringConvertor:
    """The kind of a part of an address that is one of the words."""

    class OneOf(StringConvertor):
        regex = "|".join(map(re.escape, words))

    return OneOf()


class Site:
    """Mounts the pages on an app."""

    def __init__(self, app: FastAPI, settings: Settings, asking: Asking, shelf: Shelf) -> None:
        self.settings = settings
        self.shelf = shelf
        self.asking = asking
        self.answering = asking.answering
        self.templates = asking.answering.templates
        app.add_route("/", self.start, methods=["GET", "HEAD"])
        mount_languages(app, settings.static)
        app.add_route("/terms", self.terms, methods=["GET", "HEAD"])
        register_url_convertor(BELOW, one_of((*self.answering.exports.makers, *LAYOUTS)))
        for path, kind in AT_THE_ROOT.items():
            app.add_route(path, self._given(path, kind), methods=["GET", "HEAD"])
        for feature in PAGES.values():
            self.mount(app, feature)
        app.add_route("/qr/{page:path}", self.qr, methods=["GET", "HEAD"])
        app.add_exception_handler(HTTPException, self.fault)
        app.add_exception_handler(ClientDisconnect, left)
        app.add_exception_handler(Exception, self.broken)

    def mount(self, app: FastAPI, feature: Feature[Any, Any]) -> None:
        """Give a feature's page its route, and what stands below it another: one for each were 1,000."""

        async def show(request: Request) -> Response:
            return await self.feature_page(feature, request)

        async def below(request: Request) -> Response:
            name = request.path_params["name"]
            if name == OPERATOR and not feature.has_operator_sheet:
                raise HTTPException(404)
            return await (self.feature_page if name in LAYOUTS else self.file)(feature, request)

        app.add_route(feature.page, show, methods=["GET", "HEAD"])
        app.add_route(f"{feature.page}/{{name:{BELOW}}}", below, methods=["GET", "HEAD"])

    def _given(self, path: str, kind: str) -> Callable[[Request], Awaitable[Response]]:
        """A static file that has to lie at the root, asked for anew each time."""

        async def give(_: Request) -> Response:
            return FileResponse(self.settings.static / path[1:], media_type=kind, headers={"Cache-Control": "no-cache"})

        return give

    async def start(self, request: Request) -> Response:
        """The start page."""
        return self.html(request, "start.html", page=start_view(_said_to(request)))

    async def terms(self, request: Request) -> Response:
        """The glossary."""
        return self.html(request, "terms.html", page=TermsView(glossary_for(_said_to(request))))

    async def feature_page(self, feature: Feature[Any, Any], request: Request) -> Response:
        """A feature's page, or the part of it that changes when htmx asks for that."""
        items = request.query_params.multi_items()
        renamed = present(feature.path, items)
        partial = request.headers.get("HX-Request-Type") == "partial"
        if renamed != items and not partial:
            return RedirectResponse(address(request.url.path, renamed), 301)
        layout = request.url.path.removeprefix(feature.page).strip("/")
        shop = await self.shelf.whole() if takes_something(feature) else Whole(0)
        asked = PageAsked(
            with_taken(renamed, operations_of(feature), shop),
            self.base(request),
            partial,
            request.headers.get("Typed-Field", ""),
            layout,
            language_of(request),
            relevant(shop, renamed),
        )
        if not is_heavy(feature.path, asked.items):
            return self.answering.page(feature, asked)

        def stopped(sentence: str) -> Response:
            return self.answering.page_stopped(feature, asked, sentence)

        return await self.asking.heavy(request, stopped, "named", "page", feature.page, asked)

    async def file(self, feature: Feature[Any, Any], request: Request) -> Response:
        """A file of a page's answer."""
        items, name = request.query_params.multi_items(), request.url.path.rpartition("/")[2]
        language = language_of(request)
        if not is_heavy(feature.path, items):
            return self.answering.file(feature, name, items, language)
        return await self.asking.heavy(request, file_stopped, "named", "file", feature.page, name, items, language)

    def base(self, request: Request) -> str:
        """The address that other devices reach this server by."""
        own = str(request.base_url).rstrip("/")
        is_local = request.url.hostname in ("localhost", "127.0.0.1", "::1")
        return self.settings.address if self.settings.address and is_local else own

    async def qr(self, request: Request) -> Response:
        """The QR code of a question on one of our own pages."""
        page = request.path_params["page"]
        if f"/{page}" not in PAGES:
            raise HTTPException(404)
        target = self.base(request) + address(f"/{page}", dict(request.query_params))
        if len(target) > QR_MOST:
            raise HTTPException(414, "This address is too long for a QR code.")
        import segno  # noqa: PLC0415 - 2 MB that only a code to point a phone at needs

        code = segno.make(target, error="l", micro=False)
        svg = code.svg_inline(scale=4, border=4, dark="#000", light="#fff", omitsize=True)
        headers = {"Cache-Control": "public, max-age=86400"}
        return Response(_with_namespace(svg), media_type="image/svg+xml", headers=headers)

    async def fault(self, request: Request, error: Exception) -> Response:
        """What is shown instead of a page or an answer that does not exist."""
        status = error.status_code if isinstance(error, HTTPException) else 500
        title, *sentences = _WORDS.get(status, _WORDS[500])
        if status == 500 and request.method in ("GET", "HEAD"):
            sentences.append("Your question is still in the address.")
        if request.url.path.startswith("/api/"):
            response = _json({"errors": [{"field": "", "message": " ".join(sentences)}]}, status)
        else:
            view = _said_to(request)
            likely = likely_pages(request.url.path, view) if status == 404 else ()
            message = " ".join(say_text(sentence, view) for sentence in sentences)
            response = self.html(
                request, "error.html", status, page=FaultView(status, say_text(title, view), message, likely)
            )
        if status == 405:
            response.headers["Allow"] = _allowed(request)
        return response

    async def broken(self, request: Request, error: Exception) -> Response:
        """What is shown when something here is broken: plain words, no trace.

        The server closes the connection after a fault, so it says so: a client that knew nothing of it would send its
        next question into a closed one.
        """
        response = await self.fault(request, error)
        response.headers["Connection"] = "close"
        return response

    def html(self, request: Request, template: str, status: int = 200, **context: Any) -> Response:
        """A page in the language of whoever asks."""
        back = address(request.url.path, dict(request.query_params))
        html = rendered(self.templates, template, language_of(request), back=back, **context)
        return HTMLResponse(html, status, {"Vary": VARY})


async def left(_: Request, __: Exception) -> Response:
    """What stands in the log for a question whose asker left before all of it had come: nothing here is broken."""
    return Response(status_code=400)


def _said_to(request: Request) -> View:
    """How whoever asks wants words; numbers as usual."""
    return View(language=language_of(request))


_WORDS = {
    404: ("Not here", "There is no page at this address. It may be a mistyped link."),
    405: ("Not this way", "This address does not take this kind of request."),
    414: ("Too long", "This address is too long for a QR code. Copy the link instead."),
    500: ("Something here is broken", "The fault is the program's, not yours."),
}


def _allowed(request: Request) -> str:
    """The methods that the address takes, on whichever of its routes."""
    found: set[str] = set()
    for route in request.app.routes:
        if route.matches(request.scope)[0] is not Match.NONE:
            found |= getattr(route, "methods", None) or set()
    return ", ".join(sorted(found))


def _json(body: dict[str, Any], status: int) -> Response:
    return JSONResponse(body, status)


def _with_namespace(svg: str) -> str:
    return svg if "xmlns" in svg else svg.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"', 1)
