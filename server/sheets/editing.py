"""The owner's pages: making a sheet, putting questions on it, changing, restoring, copying and ending it. No script."""

from __future__ import annotations

from typing import Any
from urllib.parse import quote

from fastapi import FastAPI, Request
from fastapi.responses import RedirectResponse, Response

from calc.language.messages import say_text
from calc.language.quantities import View
from server.sheets.addresses import question_at
from server.sheets.answers import Overtaken
from server.sheets.desk import Desk, whole_number
from server.sheets.forms import carried_out, document_in, fields_of, form_of
from server.sheets.keys import new_key, read_id
from server.sheets.lanes import READING, WRITING
from server.sheets.limits import Limits
from server.sheets.model import FORMAT, VERSION, Heading
from server.sheets.pages import SheetPages, leading_on, sheet_of
from server.sheets.reading import as_sent, document_of, read_json, stored_sheet
from server.sheets.refusals import Fault, Invalid, NotOwner, Refusal
from server.sheets.requests import client_of, secret_of, sheets_here
from server.sheets.showing import document_to_edit, edit_view, name_of, own_address, said_conflict
from server.sheets.views import AddView
from server.site import Site

Form = dict[str, str]
Json = Any


class EditingPages(SheetPages):
    """Every form posts to its own address and leads on with 303, so that going back and reloading do no harm."""

    def __init__(self, desk: Desk, site: Site, limits: Limits) -> None:
        super().__init__(desk, site)
        self.limits = limits

    def mount(self, app: FastAPI) -> None:
        """Give the app the routes."""
        self.route(app, "GET", "/sheet", self.begin)
        self.route(app, "POST", "/sheet", self.make)
        self.route(app, "POST", "/sheet/add", self.find)
        self.route(app, "GET", "/sheet/{sheet}/edit", self.edit)
        self.route(app, "POST", "/sheet/{sheet}/edit", self.save)
        self.route(app, "POST", "/sheet/{sheet}/add", self.add)
        self.route(app, "POST", "/sheet/{sheet}/restore", self.restore)
        self.route(app, "POST", "/sheet/{sheet}/copy", self.copy)
        self.route(app, "POST", "/sheet/{sheet}/end", self.end)

    async def begin(self, request: Request) -> Response:
        """A sheet is begun, with the question of a page where one was brought along, or one of ours is chosen."""
        address = own_address(request.query_params.get("put", ""))
        return await READING.run(self._begin, request, address, {}, ())

    def _begin(self, request: Request, address: str, heading: Json, errors: tuple[tuple[str, str], ...]) -> Response:
        question = question_at(address) if address else ""
        view = self.view(request)
        what = "" if isinstance(question, str) else say_text(question.feature.title, view)
        if isinstance(question, str) and question:
            raise Invalid([Fault("", question)])
        shown = AddView(
            title=say_text("Put on a sheet" if address else "Job sheets", view),
            address=address,
            what=what,
            here=self._here(request),
            errors=errors,
            fields=fields_of(Heading, heading, "heading.", dict(errors), view),
        )
        return self.html(request, "sheet/new.html", 422 if errors else 200, page=shown)

    def _here(self, request: Request) -> tuple[tuple[str, str], ...]:
        """The sheets that this browser made or opened as their owner, with their names; ended ones are left out."""
        found = []
        for sheet in sheets_here(request):
            try:
                revision, _ = self.desk.read(sheet, "")
            except Refusal:
                continue
            found.append((revision.sheet, name_of(stored_sheet(revision.document), self.view(request))))
        return tuple(found)

    async def make(self, request: Request) -> Response:
        """Keep a new sheet: from the heading's fields and a page's address, or from an exported file."""
        form = await form_of(request, self.limits.body)
        return await WRITING.run(self._make, request, form)

    def _make(self, request: Request, form: Form) -> Response:
        address = own_address(form.get("address", ""))
        if form.get("file"):
            created = self.desk.create(read_json(form["file"].encode()), client_of(request))
            return leading_on(request, created.sheet, created.secret)
        heading = document_in(form)["heading"]
        heading["units"] = heading["units"] or "mm"
        steps = [{"address": address}] if address else []
        document = {"format": FORMAT, "version": VERSION, "heading": heading, "steps": steps}
        try:
            created = self.desk.create(document, client_of(request))
        except Invalid as invalid:
            return self._begin(request, address, heading, _said(invalid, self.view(request)))
        return leading_on(request, created.sheet, created.secret)

    async def find(self, request: Request) -> Response:
        """Lead a question on to the sheet whose id or address was typed; the browser posts it there again."""
        form = await form_of(request, self.limits.body)
        typed = form.get("sheet", "").strip().rstrip("/")
        named = typed.split("/sheet/", 1)[-1].split("/", 1)[0].split("?", 1)[0]
        return RedirectResponse(f"/sheet/{read_id(named) or quote(named or '-', safe='')}/add", 307)

    async def edit(self, request: Request) -> Response:
        """The owner's page. Who comes by a link in a message has the cookie only from the next request on."""
        return await READING.run(self._edit, request)

    def _edit(self, request: Request) -> Response:
        secret = secret_of(request)
        revision, owner = self.desk.read(sheet_of(request), secret)
        if not owner:
            return self.html(request, "sheet/owner.html", 403, page=revision.sheet)
        base = self.site.base(request)
        view = edit_view(revision.sheet, revision.number, document_to_edit(revision), base, secret, self.view(request))
        return self.html(request, "sheet/edit.html", page=view)

    async def save(self, request: Request) -> Response:
        """Keep the whole form as a further revision, after what the pressed button asks for."""
        await READING.run(self.desk.own, sheet_of(request), secret_of(request))
        form = await form_of(request, self.limits.body)
        return await WRITING.run(self._save, request, form)

    def _save(self, request: Request, form: Form) -> Response:
        sheet, secret = sheet_of(request), secret_of(request)
        based_on = whole_number(form.get("based_on", ""), "based_on")
        document = carried_out(document_in(form), form.get("do", ""))
        if form.get("new"):
            document["steps"].append({"key": new_key(), "address": own_address(form["new"])})
        try:
            self.desk.save(sheet, secret, based_on, document, client_of(request))
        except Overtaken as overtaken:
            return self.overtaken(request, overtaken)
        except Invalid as invalid:
            more = {"errors": _said(invalid, self.view(request)), "new_address": form.get("new", "")}
            view = edit_view(sheet, based_on, document, self.site.base(request), secret, self.view(request), **more)
            return self.html(request, "sheet/edit.html", 422, page=view)
        return RedirectResponse(f"/sheet/{sheet}/edit{_back_to(form.get('do', ''))}", 303)

    def overtaken(self, request: Request, overtaken: Overtaken) -> Response:
        """Both changes joined in the form, not yet saved; where they meet, what I had stands beside."""
        merged, said = overtaken.merged, self.view(request)
        view = edit_view(
            overtaken.current.sheet,
            overtaken.current.number,
            document_of(merged.sheet),
            self.site.base(request),
            secret_of(request),
            said,
            said=say_text(overtaken.faults[0].message, said),
            notes=tuple(say_text(change, said) for change in overtaken.changes),
            mine=tuple(said_conflict(conflict, said) for conflict in merged.conflicts),
        )
        return self.html(request, "sheet/edit.html", 409, page=view)

    async def add(self, request: Request) -> Response:
        """Put a page's question at the end of a sheet."""
        form = await form_of(request, self.limits.body)
        return await WRITING.run(self._add, request, own_address(form.get("address", "")))

    def _add(self, request: Request, address: str) -> Response:
        secret = secret_of(request)
        revision, owner = self.desk.read(sheet_of(request), secret)
        if not owner:
            raise NotOwner
        whole = as_sent(stored_sheet(revision.document))
        step = {"key": new_key(), "address": address}
        whole["steps"].append(step)
        self.desk.save(revision.sheet, secret, revision.number, whole, client_of(request))
        return RedirectResponse(f"/sheet/{revision.sheet}/edit#row-{step['key']}", 303)

    async def restore(self, request: Request) -> Response:
        """Make an older revision the newest."""
        form = await form_of(request, self.limits.body)
        number, based_on = (whole_number(form.get(name, ""), name) for name in ("revision", "based_on"))
        sheet, secret = sheet_of(request), secret_of(request)
        await WRITING.run(self.desk.restore, sheet, secret, number, based_on, client_of(request))
        return RedirectResponse(f"/sheet/{sheet}/edit", 303)

    async def copy(self, request: Request) -> Response:
        """Keep a copy as a sheet of one's own."""
        created = await WRITING.run(self.desk.copy, sheet_of(request), secret_of(request), client_of(request))
        return leading_on(request, created.sheet, created.secret)

    async def end(self, request: Request) -> Response:
        """End the link, once the box beside the button is ticked."""
        form = await form_of(request, self.limits.body)
        if not form.get("sure"):
            raise Invalid([Fault("sure", "Tick the box first: an ended link cannot be opened again.")])
        await WRITING.run(self.desk.end, sheet_of(request), secret_of(request))
        return RedirectResponse(f"/sheet/{sheet_of(request)}", 303)


def _said(invalid: Invalid, view: View) -> tuple[tuple[str, str], ...]:
    return tuple((fault.field, say_text(fault.message, view)) for fault in invalid.faults)


def _back_to(do: str) -> str:
    """Where on the page to land: at the row that was moved."""
    what, _, key = do.partition(":")
    return f"#row-{key}" if what in ("up", "down", "double") and key else ""
