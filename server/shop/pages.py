"""The pages of the shop: both lists, the form of an entry, whole lists as CSV. No script is needed."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import Any

from fastapi import FastAPI, Request
from fastapi.responses import RedirectResponse, Response

from calc.language.fields import specs
from calc.language.messages import Message, Typed, say_text
from calc.language.quantities import View
from calc.language.translating import Language, pointed
from server.answering import SHEET_HEADERS
from server.languages import language_of
from server.sheets.addresses import question_at
from server.sheets.desk import Desk, whole_number
from server.sheets.forms import form_of
from server.sheets.lanes import READING, WRITING
from server.sheets.limits import Limits
from server.sheets.pages import SheetPages
from server.sheets.refusals import Fault, Invalid
from server.sheets.requests import client_of, give_owner, secret_of
from server.shop.csv_text import as_csv, rows_in
from server.shop.desk import ShopDesk, list_named
from server.shop.entry import Content, Entry, Given
from server.shop.from_part import keeping_operation
from server.shop.model import LISTS, Listed
from server.shop.refusals import EntryOvertaken
from server.shop.showing import against, entry_view, list_views, older_views
from server.shop.views import NoticeView, ShopView
from server.shop.words import title_of
from server.site import Site

PATHS = ("/shop", "/api/shop")
Form = Mapping[str, str]


class ShopPages(SheetPages):
    """Every form posts to an address of its own and leads on with 303, so that reloading does no harm."""

    def __init__(self, desk: Desk, shop: ShopDesk, site: Site, limits: Limits) -> None:
        super().__init__(desk, site)
        self.shop, self.limits = shop, limits

    def mount(self, app: FastAPI) -> None:
        """Give the app the routes."""
        self.route(app, "GET", "/shop", self.show)
        self.route(app, "POST", "/shop/begin", self.begin)
        self.route(app, "GET", "/shop/own/{secret}", self.own)
        self.route(app, "POST", "/shop/keep", self.keep)
        for name in LISTS:
            self.route(app, "GET", f"/shop/{name}.csv", self.csv)
        self.route(app, "POST", "/shop/{list}/csv", self.take_in)
        self.route(app, "GET", "/shop/{list}/new", self.new)
        self.route(app, "POST", "/shop/{list}/new", self.save)
        self.route(app, "GET", "/shop/{list}/{key}", self.edit)
        self.route(app, "POST", "/shop/{list}/{key}", self.save)
        self.route(app, "POST", "/shop/{list}/{key}/remove", self.remove)
        self.route(app, "POST", "/shop/{list}/{key}/bring-back", self.bring_back)
        self.route(app, "POST", "/shop/{list}/{key}/restore", self.restore)

    async def show(self, request: Request) -> Response:
        """Both lists, with what was just done and how to undo it."""
        return await READING.run(self._show, request)

    def _show(self, request: Request, errors: tuple[tuple[str, str], ...] = ()) -> Response:
        whole, secret = self.shop.whole(), secret_of(request)
        owner = self.shop.is_owner(secret)
        search = request.query_params.get("q", "")[:120]
        view = ShopView(
            begun=whole.change > 0,
            owner=owner,
            lists=list_views(whole, search, language_of(request)),
            search=search,
            owner_address=f"{self.site.base(request)}/shop/own/{secret}" if owner else "",
            notice=_notice(request.query_params.get("done", ""), whole.entries, language_of(request)),
            errors=errors,
        )
        return self.html(request, "shop/lists.html", 422 if errors else 200, page=view)

    async def begin(self, request: Request) -> Response:
        """Begin the lists; this browser is their owner. Whoever does it says so: a bare request begins nothing."""
        form = await form_of(request, self.limits.body)
        if form.get("mine") != "on":
            raise Invalid([Fault("mine", _WHOSE)])
        return _leading_on(request, await WRITING.run(self.shop.begin, client_of(request)))

    async def own(self, request: Request) -> Response:
        """Exchange the owner's secret for cookies, and lead on at once."""
        secret = str(request.path_params["secret"])
        await READING.run(self.shop.own, secret)
        return _leading_on(request, secret)

    async def csv(self, request: Request) -> Response:
        """A whole list as a file."""
        listed = list_named(request.url.path.rpartition("/")[2].removesuffix(".csv"))
        whole = await READING.run(self.shop.whole)
        named = f'attachment; filename="shop-{listed.name}.csv"'
        headers = {**SHEET_HEADERS, "Content-Disposition": named}
        text = "\ufeff" + as_csv(listed, whole.standing(listed))  # the mark by which spreadsheets know UTF-8
        return Response(text, media_type="text/csv; charset=utf-8", headers=headers)

    async def take_in(self, request: Request) -> Response:
        """Take a whole list in, from a file or from pasted rows."""
        await READING.run(self.shop.own, secret_of(request))
        form = await form_of(request, self.limits.body * 4)
        return await WRITING.run(self._take_in, request, form)

    def _take_in(self, request: Request, form: Form) -> Response:
        listed = _listed(request)
        try:
            rows = rows_in(listed, form.get("file", "").strip() or form.get("rows", ""))
            count = self.shop.take_in(listed, rows, secret_of(request), client_of(request))
        except Invalid as invalid:
            return self._show(
                request,
                tuple((f"csv-{listed.name}", text) for _, text in self._said(request, invalid)),
            )
        return _done(f"taken:{count}")

    async def new(self, request: Request) -> Response:
        """The form of a new entry: blank, with what a page brought along, or as a copy of another one."""
        return await READING.run(self._new, request)

    def _new(self, request: Request) -> Response:
        listed, given = _listed(request), dict(request.query_params)
        self.shop.own(secret_of(request))
        content = _content(listed, given, "en")
        if given.get("from"):
            texts = dict(self.shop.entry(listed, given["from"]).content.texts)
            content = Content({name: text for name, text in texts.items() if name != "turret"}, content.units)
        return self.html(
            request, "shop/entry.html", page=entry_view(listed, content, language_of(request), back=_back(given))
        )

    async def keep(self, request: Request) -> Response:
        """Lead an operation of a part on to the form of a new proven cut, with what the part says of it."""
        form = await form_of(request, self.limits.body)
        return RedirectResponse(keeping_operation(form, datetime.date.today()), 303, {"Cache-Control": "no-store"})

    async def edit(self, request: Request) -> Response:
        """The form of an entry, with its older revisions."""
        return await READING.run(self._edit, request)

    def _edit(self, request: Request) -> Response:
        listed, key = _listed(request), _key(request)
        self.shop.own(secret_of(request))
        newest, *older = self.shop.revisions(listed, key)
        view = entry_view(
            listed,
            newest.content,
            language_of(request),
            key=key,
            revision=newest.revision,
            older=older_views(older, language_of(request)),
        )
        return self.html(request, "shop/entry.html", page=view)

    async def save(self, request: Request) -> Response:
        """Keep the form as a new entry, or as the next revision of one."""
        await READING.run(self.shop.own, secret_of(request))
        form = await form_of(request, self.limits.body)
        return await WRITING.run(self._save, request, form)

    def _save(self, request: Request, form: Form) -> Response:
        listed, key, back = _listed(request), _key(request), _back(form)
        based_on = whole_number(form.get("based_on", "0"), "based_on")
        content = _content(listed, form, language_of(request))
        given = Given(content.texts, content.units, key, based_on, language_of(request))
        try:
            kept = self.shop.save(listed, given, secret_of(request), client_of(request))
        except EntryOvertaken as overtaken:
            return self._overtaken(request, overtaken, back)
        except Invalid as invalid:
            marks: dict[str, Any] = {"key": key, "revision": based_on, "back": back}
            view = entry_view(listed, content, given.language, errors=self._said(request, invalid), **marks)
            return self.html(request, "shop/entry.html", 422, page=view)
        if back:
            return RedirectResponse(back, 303)
        what = "added" if not key else "same" if kept.revision == based_on else "saved"
        return _done(f"{what}:{listed.name}:{kept.key}")

    def _said(self, request: Request, invalid: Invalid) -> tuple[tuple[str, str], ...]:
        return tuple((fault.field, say_text(fault.message, self.view(request))) for fault in invalid.faults)

    def _overtaken(self, request: Request, overtaken: EntryOvertaken, back: str = "") -> Response:
        current, both = overtaken.current, overtaken.joined
        view = entry_view(
            current.listed,
            both.content,
            language_of(request),
            key=current.key,
            revision=current.revision,
            mine=against(current.listed, both.mine, self.view(request)),
            said=say_text(overtaken.faults[0].message, self.view(request)),
            back=back,
        )
        return self.html(request, "shop/entry.html", 409, page=view)

    async def remove(self, request: Request) -> Response:
        """Take an entry out of its list."""
        form = await form_of(request, self.limits.body)
        return await WRITING.run(self._remove, request, form)

    def _remove(self, request: Request, form: Form) -> Response:
        listed, key = _listed(request), _key(request)
        based_on = whole_number(form.get("based_on", ""), "based_on")
        try:
            self.shop.remove(listed, key, based_on, secret_of(request), client_of(request))
        except EntryOvertaken as overtaken:
            return self._overtaken(request, overtaken)
        return _done(f"removed:{listed.name}:{key}")

    async def bring_back(self, request: Request) -> Response:
        """Put a removed entry into its list again."""
        listed, key = _listed(request), _key(request)
        await WRITING.run(self.shop.bring_back, listed, key, secret_of(request), client_of(request))
        return _done(f"back:{listed.name}:{key}")

    async def restore(self, request: Request) -> Response:
        """Make an older revision the newest one."""
        form = await form_of(request, self.limits.body)
        return await WRITING.run(self._restore, request, form)

    def _restore(self, request: Request, form: Form) -> Response:
        listed, key = _listed(request), _key(request)
        number, based_on = (whole_number(form.get(name, ""), name) for name in ("revision", "based_on"))
        try:
            self.shop.restore(listed, key, number, based_on, secret_of(request), client_of(request))
        except EntryOvertaken as overtaken:
            return self._overtaken(request, overtaken)
        return _done(f"back:{listed.name}:{key}")


def _listed(request: Request) -> Listed:
    return list_named(str(request.path_params["list"]))


def _key(request: Request) -> str:
    return str(request.path_params.get("key", ""))


def _content(listed: Listed, given: Form, language: Language) -> Content:
    """What a form in a language, or an address, brings for an entry, unchecked; its numbers get the point."""
    declared = {spec.name: spec for spec in specs(listed.row) if spec.name in given}
    texts = {name: pointed(given[name], language) if spec.kind else given[name] for name, spec in declared.items()}
    return Content(texts, "inch" if given.get("units") == "inch" else "mm")


def _back(given: Form) -> str:
    """The page of ours that a proven cut was brought from; "" for anything else."""
    address = given.get("back", "")
    return "" if isinstance(question_at(address), str) else address


def _leading_on(request: Request, secret: str) -> Response:
    response = RedirectResponse("/shop", 303, {"Cache-Control": "no-store"})
    give_owner(request, response, secret, *PATHS)
    return response


def _done(what: str) -> Response:
    return RedirectResponse(f"/shop?done={what}", 303, {"Cache-Control": "no-store"})


def _notice(done: str, entries: tuple[Entry, ...], language: Language) -> NoticeView | None:
    """What was just done, in words, with the form that undoes it."""
    what, _, rest = done.partition(":")
    view = View(language=language)
    if what == "taken" and rest.isascii() and rest.isdecimal():
        return NoticeView(Message(_TAKEN, {"count": int(rest)}).say(view))
    entry = next((each for each in entries if f"{each.listed.name}:{each.key}" == rest), None)
    if entry is None or what not in _SAID:
        return None
    title = Typed(title_of(entry.listed, entry.content, language))
    said = Message(_SAID[what], {"title": title}).say(view)
    undo, hidden = _undoing(what, entry)
    return NoticeView(said, undo, hidden)


def _undoing(what: str, entry: Entry) -> tuple[str, tuple[tuple[str, str], ...]]:
    """Where the form that undoes it posts to, and its hidden fields; nowhere for what needs no undoing."""
    at, newest = f"/shop/{entry.listed.name}/{entry.key}", ("based_on", str(entry.revision))
    if what == "removed":
        return f"{at}/bring-back", ()
    if what == "saved":
        return f"{at}/restore", (("revision", str(entry.revision - 1)), newest)
    return (f"{at}/remove", (newest,)) if what == "added" else ("", ())


_WHOSE = "Tick the box first: whoever begins the shop's lists owns them and looks after them."
_TAKEN = "Rows of the file that were new or changed, and are kept: {count}."
_SAID = {
    "added": "Added: {title}.",
    "saved": "Changed: {title}.",
    "same": "Nothing to change: {title}.",
    "removed": "Removed: {title}.",
    "back": "As it was: {title}.",
}
