"""The templates and static files behind a small server of the tests' own, with pages made by hand."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

from jinja2 import Environment

from server.context import ErrorView, PageView, while_typing
from server.headers import HEADERS
from server.rendering import environment as made_environment
from server.rendering import rendered
from server.settings import STATIC, TEMPLATES
from server.start_context import FaultView, StartView, TileGroup, TileView
from tests.ui import pages

ROOT = Path(__file__).resolve().parents[2]
KINDS = {".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml"}


def environment() -> Environment:
    """The templates as the server has them: escaping, and an error for a name that is not there."""
    return made_environment(TEMPLATES, STATIC)


def render(template: str, page: PageView | StartView | FaultView) -> str:
    """A template with its page."""
    return rendered(environment(), template, "en", page=page, back="/")


START = StartView((TileGroup("Shapes", "shape", (TileView("/dish", "Dish"),)),), 4)
GONE = FaultView(404, "Not here", "There is no page at this address.")


def answered(radius: str, depth: str) -> PageView:
    """The page that follows from two texts: an answer, a request for more, or what is wrong."""
    page = pages.with_fields(pages.EMPTY, radius={"text": radius}, depth={"text": depth})
    if not radius or not depth:
        return replace(page, state="waiting", prompt="One more dimension.") if radius or depth else page
    if not depth.replace(".", "", 1).isdigit():
        message = f"Depth must be a number; “{depth}” is not."
        page = pages.with_fields(page, depth={"error": message})
        return replace(page, state="error", errors=(ErrorView("depth", "Depth", message),))
    headline = pages.quantity("mouth_diameter", "Mouth diameter", "D", f"{radius}/{depth}")
    echo = f"radius {radius}, depth {depth}"
    return replace(pages.SEAT, groups=page.groups, headline=headline, echo=echo, qr_address="")


class _Server(ThreadingHTTPServer):
    def handle_error(self, request: object, client_address: object) -> None:
        """Keep quiet about a browser that hangs up on an answer it no longer wants; tell of anything else."""
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)  # type: ignore[arg-type]


class _Handler(BaseHTTPRequestHandler):
    def do_GET(self) -> None:
        address = urlsplit(self.path)
        query = {name: texts[0] for name, texts in parse_qs(address.query).items()}
        if address.path.startswith("/static/"):
            self._answer(200, (ROOT / address.path[1:]).read_bytes(), KINDS[Path(address.path).suffix])
        elif address.path == "/":
            self._html(200, render("start.html", START))
        elif address.path.startswith("/state/"):
            self._html(200, render("feature.html", pages.STATES[address.path.removeprefix("/state/")]))
        elif address.path == "/dish":
            self._dish(query)
        else:
            self._html(404, render("error.html", GONE))

    def _dish(self, query: dict[str, str]) -> None:
        if query.get("radius") == "500":
            self._html(500, render("error.html", GONE))
            return
        page = answered(query.get("radius", ""), query.get("depth", ""))
        page = replace(page, partial=self.headers.get("HX-Request-Type") == "partial")
        page = while_typing(page, self.headers.get("Typed-Field", ""))
        self._html(422 if page.errors else 200, render("feature.html", page))

    def _html(self, status: int, text: str) -> None:
        self._answer(status, text.encode(), "text/html; charset=utf-8")

    def _answer(self, status: int, body: bytes, kind: str) -> None:
        self.send_response(status)
        for name, value in {**HEADERS, "Content-Type": kind, "Content-Length": str(len(body))}.items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002  # the name is the base class's
        """Keep quiet."""


@contextmanager
def served() -> Iterator[str]:
    """The address of a server that gives these pages."""
    with _Server(("127.0.0.1", 0), _Handler) as server:
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_address[1]}"
        finally:
            server.shutdown()
            thread.join()
