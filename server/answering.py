"""What answers a question once it is read from a request: as a page, as JSON, as a file. Here or in another process."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from starlette.responses import HTMLResponse, JSONResponse, PlainTextResponse, RedirectResponse, Response

from calc.answer.feature import Feature
from calc.language.fields import Spec, specs
from calc.language.messages import Message, say_text
from calc.language.problems import Fault, Problem
from calc.language.quantities import View
from calc.language.translating import Language
from server import row_texts
from server.answers import JsonAnswer, answer_json, errors_json
from server.catalogue import FEATURES, PAGES, POSTS
from server.context import PageView, while_typing
from server.contour_json import read_body
from server.exports import Exports
from server.languages import VARY
from server.links import LATER, OPERATOR, POINTS, address
from server.old_names import present
from server.pages import Page, contours_of
from server.posting import Post
from server.query import kinds_of, read_query, with_points
from server.rendering import environment, rendered
from server.row_texts import Gathered
from server.rows import gathered
from server.sheets.answers import sheet_json
from server.sheets.attempts import NothingToPractise, attempt_at
from server.sheets.model import Step
from server.sheets.revisions import Revision
from server.sheets.showing import sheet_view
from server.shop.entry import Whole
from server.start_context import FaultView
from server.typed import doubtful, typed_in

Items = Sequence[tuple[str, str]]
UNPROCESSABLE, UNAVAILABLE = 422, 503
# A form on one of our pages must say that it is ours: with no referrer at all, a browser hides the origin too.
SHEET_HEADERS = {"Cache-Control": "no-store", "Referrer-Policy": "same-origin"}
LAYOUTS: Mapping[str, str] = {POINTS: "points.html", OPERATOR: "operator.html", LATER: "later.html"}
"""Other ways to lay a page's answer out, by the last word of their addresses."""
_NAMED: Mapping[str, Mapping[str, Any]] = {
    "page": PAGES,
    "file": PAGES,
    "api": {feature.path: feature for feature in FEATURES},
    "post": {post.path: post for post in POSTS},
}


@dataclass(frozen=True, slots=True)
class PageAsked:
    """A question to a page: the query's items, and what of the request shapes the answer.

    `base` is the address for links, `partial` asks for the part that changes, `typing` names the field being typed in,
    `layout` another way to lay the answer out, `language` is that of the page, `shop` what the shop's lists hold.
    """

    items: Items
    base: str
    partial: bool = False
    typing: str = ""
    layout: str = ""
    language: Language = "en"
    shop: Whole | None = None


class Answering:
    """Answers questions; what it is made from can be had in any process."""

    def __init__(self, templates: Path, static: Path) -> None:
        self.templates = environment(templates, static)
        self.exports = Exports(static)

    def compile_templates(self) -> None:
        """Compile every template now."""
        for name in self.templates.list_templates():
            self.templates.get_template(name)

    def named(self, kind: str, name: str, *arguments: Any) -> Response:
        """The answer of the method `kind` to the page or call of that name: how another process is asked."""
        return getattr(self, kind)(_NAMED[kind][name], *arguments)  # type: ignore[no-any-return]

    def api(self, feature: Feature[Any, Any], items: Items) -> Response:
        """The answer of a feature's call in JSON: 200 with the answer, 422 with what is wrong."""
        query = read_query(present(feature.path, items), feature.inputs)
        if query.faults:
            return JsonAnswer(errors_json(query.faults, query.view), UNPROCESSABLE)
        try:
            answer, steps = feature.answer(query.inputs(feature.inputs))
        except Problem as problem:
            return JsonAnswer(errors_json(problem.faults, query.view), UNPROCESSABLE)
        return JsonAnswer(answer_json(feature, query, answer, steps))

    def post(self, post: Post, body: bytes, view: View) -> Response:
        """The answer of a call that takes a body."""
        try:
            return JsonAnswer(post.answer(read_body(body), view))
        except Problem as problem:
            return JsonAnswer(errors_json(problem.faults, view) | post.refused(problem, view), UNPROCESSABLE)

    def file(self, feature: Feature[Any, Any], name: str, items: Items, language: Language = "en") -> Response:
        """A file of a page's answer."""
        return self.exports.answer(feature, name, items, language)

    def page(self, feature: Feature[Any, Any], asked: PageAsked) -> Response:
        """A feature's page, or the part of it that changes."""
        items = present(feature.path, asked.items)
        asked_items = with_points(items, feature, asked.language)
        lists = row_texts.gathered(asked_items, _lists(feature))
        rows = _gathered(feature, lists.items)
        changed = rows.changed or lists.changed or asked_items != items
        compact = address(feature.page, dict(rows.items))
        focus = rows.focus or lists.focus
        if changed and not asked.partial:
            return RedirectResponse(f"{compact}#{focus}" if focus else compact, 303)
        page = _page(feature, rows.items, focus, asked)
        if typed_in(items) and not typed_in(rows.items) and not (rows.acted or lists.acted):
            page.query = replace(page.query, doubtful=doubtful(items, kinds_of(feature.inputs)))  # type: ignore[arg-type]
        view = page.context()
        response = self._shown(view, asked, 422 if view.errors else 200)
        if changed:
            response.headers.update(_moving(compact, acted=rows.acted or lists.acted))
        return response

    def page_stopped(self, feature: Feature[Any, Any], asked: PageAsked, sentence: str) -> Response:
        """The page with the question as it was typed, and the sentence that says why there is no answer."""
        lists = row_texts.gathered(present(feature.path, asked.items), _lists(feature))
        page = _page(feature, _gathered(feature, lists.items).items, lists.focus, asked)
        return self._shown(page.stopped(Fault("", Message("{why}", {"why": sentence}))), asked, UNAVAILABLE)

    def sheet(self, revision: Revision, base: str, owner: bool, seen: int, language: Language = "en") -> Response:
        """A sheet to read and to print."""
        view = sheet_view(revision, base, owner=owner, seen=seen, language=language)
        back = f"/sheet/{revision.sheet}"
        html = rendered(self.templates, "sheet/read.html", language, page=view, back=back)
        return HTMLResponse(html, 200, SHEET_HEADERS)

    def sheet_in_json(self, revision: Revision, owner: bool) -> Response:
        """A sheet with what its steps say today."""
        return JSONResponse(sheet_json(revision, owner=owner), 200, {"Cache-Control": "no-store"})

    def practise(
        self, step: Step, path: str, asked: Mapping[str, str], base: str, language: Language = "en"
    ) -> Response:
        """A step to practise."""
        back = address(path, dict(asked))
        try:
            view = attempt_at(step, path, asked, base, language)
        except NothingToPractise as error:
            said = View(language=language)
            page = FaultView(error.status, say_text(error.title, said), say_text(error.faults[0].message, said))
            html = rendered(self.templates, "error.html", language, page=page, back=back)
            return HTMLResponse(html, error.status, SHEET_HEADERS)
        html = rendered(self.templates, "sheet/practise.html", language, page=view, back=back)
        return HTMLResponse(html, 200, SHEET_HEADERS)

    def _shown(self, view: PageView, asked: PageAsked, status: int) -> Response:
        view = replace(view, partial=asked.partial)
        template = LAYOUTS.get(asked.layout, "feature.html")
        if asked.typing:
            view = while_typing(view, asked.typing, asked.language)
        headers = {
            "Vary": f"HX-Request-Type, Typed-Field, {VARY}",
            "Cache-Control": "no-store" if asked.partial else "no-cache",
        }
        if view.played:  # it has a form that saves
            headers["Referrer-Policy"] = SHEET_HEADERS["Referrer-Policy"]
        html = rendered(self.templates, template, asked.language, page=view, back=view.back_address)
        return HTMLResponse(html, status, headers)


def _page(feature: Feature[Any, Any], items: Items, focus: str, asked: PageAsked) -> Page:
    query = read_query(items, feature.inputs, asked.language, typed_in(items))
    opened = asked.layout == LATER
    return Page(feature, query, asked.base, datetime.date.today(), focus, asked.shop, opened=opened)


def _lists(feature: Feature[Any, Any]) -> dict[str, Spec]:
    """The lists of rows among the inputs, by name."""
    return {spec.name: spec for spec in specs(feature.inputs) if spec.rows is not None}


def _gathered(feature: Feature[Any, Any], items: list[tuple[str, str]]) -> Gathered:
    """The items with the rows of every contour gathered into its one text."""
    found = Gathered(items)
    for spec in contours_of(feature):
        one = gathered(found.items, spec.name, spec.prefix)
        found = Gathered(one.items, found.changed or one.changed, found.acted or one.acted, found.focus or one.focus)
    return found


def file_stopped(sentence: str) -> Response:
    """What stands in for a file that was not made."""
    return PlainTextResponse(f"{sentence}\n", UNAVAILABLE)


def _moving(compact: str, *, acted: bool) -> dict[str, str]:
    """Where the address bar goes: an action can be taken back, and its rows are laid out anew."""
    if acted:
        return {"HX-Push-Url": compact, "HX-Reswap": "innerHTML"}
    return {"HX-Replace-Url": compact}
