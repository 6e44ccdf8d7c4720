"""From a sheet to the typed contexts of its pages."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping, Sequence
from typing import Any
from urllib.parse import urlsplit

from calc.language.messages import Message, say_text
from calc.language.quantities import METRIC, View
from calc.language.translating import Language, in_sentence
from server.computing.budget import Budget, OutOfTime
from server.links import address
from server.pages import Page
from server.saved_place import SavedPlace
from server.sheets.addresses import question_at
from server.sheets.answers import said_time
from server.sheets.fields import declarations
from server.sheets.forms import fields_of
from server.sheets.gathering import LATE, SHEET_SECONDS, numbered, tool_of
from server.sheets.merging import Conflict
from server.sheets.model import Check, Heading, Setup, Sheet, Step, Touch
from server.sheets.reading import document_of, stored_sheet
from server.sheets.revisions import Revision
from server.sheets.views import EditView, HistoryView, RowForm, SheetView, StepPage

Json = Any


def name_of(sheet: Sheet, view: View = METRIC) -> str:
    """What a sheet is called.

    >>> name_of(Sheet(Heading(part="Seat"))), name_of(Sheet())
    ('Seat', 'Job sheet')
    """
    return sheet.heading.title or sheet.heading.part or say_text("Job sheet", view)


def said_when(milliseconds: int) -> str:
    """A time for people, in UTC as the server keeps it.

    >>> said_when(1_700_000_000_000)
    '2023-11-14 22:13 UTC'
    """
    return f"{said_time(milliseconds)[:16].replace('T', ' ')} UTC"


def step_page(step: Step, number: int, place: SavedPlace, base: str, language: Language = "en") -> StepPage:
    """One step with its feature's page, worked through now."""
    view = View(language=language)
    question = question_at(step.address, language)
    if isinstance(question, str):
        problem = say_text(question, view)
        return StepPage(number, step, step.title or _numbered_step(number, view), step.address, problem=problem)
    page = Page(question.feature, question.query, base, datetime.date.today()).context()
    practise = f"/sheet/{place.sheet}/practise/{step.key}" if step.practice else ""
    problem = " ".join(error.message for error in page.errors) or page.prompt
    kept = question.feature.version or question.feature.kept_with
    change = address(page.path, [*question.parameters, ("saved", place.text)]) if kept else ""
    return StepPage(
        number,
        step,
        step.title or page.title,
        step.address,
        page,
        problem,
        practise,
        change,
        is_readings=bool(question.feature.kept_with),
    )


def _in_time(step: Step, number: int, revision: Revision, base: str, budget: Budget, language: Language) -> StepPage:
    try:
        with budget.share():
            return step_page(step, number, SavedPlace(revision.sheet, revision.number, step.key), base, language)
    except OutOfTime:
        view = View(language=language)
        title = step.title or _numbered_step(number, view)
        return StepPage(number, step, title, step.address, problem=say_text(LATE, view), late=True)


def _numbered_step(number: int, view: View) -> str:
    return Message("Step {number}", {"number": number}).say(view)


def sheet_view(revision: Revision, base: str, *, owner: bool, seen: int, language: Language = "en") -> SheetView:
    """The page to read."""
    sheet = stored_sheet(revision.document)
    budget, view = Budget(*SHEET_SECONDS), View(language=language)
    numbered_steps = enumerate(sheet.steps, 1)
    steps = tuple(_in_time(step, number, revision, base, budget, language) for number, step in numbered_steps)
    return SheetView(
        id=revision.sheet,
        title=name_of(sheet, view),
        sheet=sheet,
        revision=revision.number,
        saved=said_when(revision.saved_at),
        steps=steps,
        cautions=_numbered(view, ((text, each.number) for each in steps if each.page for text in each.page.cautions)),
        tools=_numbered(view, ((tool, each.number) for each in steps if (tool := _tool(each.step, language)))),
        setup=tuple(_setup(sheet.setup, view)),
        reading_address=f"{base}/sheet/{revision.sheet}",
        owner=owner,
        ended=revision.ended,
        seen=seen if 0 < seen < revision.number else 0,
    )


def _tool(step: Step, language: Language) -> str:
    question = question_at(step.address, language)
    return "" if isinstance(question, str) else tool_of(question)


def _numbered(view: View, pairs: Iterable[tuple[str, int]]) -> tuple[tuple[str, str], ...]:
    return tuple((text, _said_steps(steps, view)) for text, steps in numbered(pairs))


def _said_steps(steps: Sequence[int], view: View) -> str:
    text = "steps {numbers}" if len(steps) > 1 else "step {numbers}"
    return Message(text, {"numbers": ", ".join(map(str, steps))}).say(view)


def _setup(setup: Setup, view: View) -> Iterable[tuple[str, str]]:
    for declared in declarations(Setup):
        value = getattr(setup, declared.name)
        if declared.role != "rows" and value:
            said = declared.choices.get(value)
            yield say_text(declared.label, view), say_text(said, view) if said else value


def edit_view(
    sheet_id: str,
    revision: int,
    document: Mapping[str, Json],
    base: str,
    secret: str,
    view: View = METRIC,
    **more: Any,
) -> EditView:
    """The owner's form for a document, which may hold what was typed wrong."""
    errors: Mapping[str, str] = dict(more.get("errors", ()))
    setup = document.get("setup") or {}
    heading = document.get("heading") or {}
    reading = f"{base}/sheet/{sheet_id}"
    return EditView(
        id=sheet_id,
        title=heading.get("title") or heading.get("part") or say_text("Job sheet", view),
        revision=revision,
        heading=fields_of(Heading, heading, "heading.", errors, view),
        steps=_rows(Step, document.get("steps", ()), "steps", errors, view),
        setup=fields_of(Setup, setup, "setup.", errors, view),
        touches=_rows(Touch, setup.get("touches", ()), "setup.touches", errors, view),
        checks=_rows(Check, document.get("checks", ()), "checks", errors, view),
        reading_address=reading,
        owner_address=f"{reading}/own/{secret}",
        **more,
    )


def _rows(
    of: type[Any], rows: Sequence[Mapping[str, Json]], where: str, errors: Mapping[str, str], view: View
) -> tuple[RowForm, ...]:
    return tuple(
        RowForm(
            key=row.get("key", ""),
            title=_title(row, view) or f"{index + 1}",
            fields=fields_of(of, row, f"{where}.{index}.", errors, view),
            first=index == 0,
            last=index == len(rows) - 1,
        )
        for index, row in enumerate(rows)
    )


def _title(row: Mapping[str, Json], view: View) -> str:
    """What tells a row from its neighbours: its own title, else its page's."""
    own = str(row.get("title") or row.get("tool") or row.get("what") or "")
    question = question_at(str(row.get("address", ""))) if not own and row.get("address") else ""
    return own if isinstance(question, str) else say_text(question.feature.title, view)


def history_view(current: int, history: Mapping[str, Json], sheet_id: str, view: View = METRIC) -> HistoryView:
    """The list of revisions."""
    entries = tuple(
        (
            each["revision"],
            each["saved_at"][:16].replace("T", " "),
            tuple(say_text(change, view) for change in each["changes"]),
        )
        for each in history["revisions"]
    )
    older = entries[-1][0] if history["more"] and entries else 0
    return HistoryView(sheet_id, say_text("Revisions", view), current, entries, older)


def said_conflict(conflict: Conflict, view: View = METRIC) -> tuple[str, str]:
    """A field that two people changed, with what the second had put there.

    >>> said_conflict(Conflict("steps.0.note", "Mine")), said_conflict(Conflict("steps", ["b", "a"]))
    (('Steps 1, note', 'Mine'), ('Steps', 'another order'))
    """
    where = said_place(conflict.field, view)
    if isinstance(conflict.mine, list):
        return where, say_text("another order", view)
    return where, say_text("removed", view) if conflict.mine is None else str(conflict.mine)


def said_place(place: str, view: View = METRIC) -> str:
    """A place in a document in the words of the form.

    >>> said_place("setup.touches.0.reads"), said_place("based_on")
    ('Setup, tool points touched 1, reads there', 'Based_on')
    """
    words: list[str] = []
    of: type[Any] | None = Sheet
    for part in place.split("."):
        if part.isdecimal() and words:
            words[-1] += f" {int(part) + 1}"
            continue
        declared = next((each for each in declarations(of) if each.name == part), None) if of else None
        label = say_text(declared.label, view) if declared else part
        words.append(in_sentence(label, view.language))
        of = declared.rows.row if declared and declared.rows else None
    joined = ", ".join(words)
    return joined[:1].upper() + joined[1:]


def own_address(text: str) -> str:
    """The path and question of a full address of ours, so that a pasted link is taken too.

    >>> own_address("http://shop.example:8000/dish?radius=75"), own_address("/dish?radius=75")
    ('/dish?radius=75', '/dish?radius=75')
    """
    try:
        parts = urlsplit(text.strip())
    except ValueError:
        return text
    return parts._replace(scheme="", netloc="").geturl() if parts.scheme in ("http", "https") else text.strip()


def document_to_edit(revision: Revision) -> Json:
    """The stored document as a form takes it."""
    return document_of(stored_sheet(revision.document))
