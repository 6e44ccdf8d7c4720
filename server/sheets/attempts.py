"""One attempt at a step's practice, as its page needs it: all of it follows from the step and the address."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from urllib.parse import quote, urlencode

from markupsafe import Markup

from calc.answer.drawing import Drawing
from calc.language.fields import Spec, said
from calc.language.messages import Message, say_text
from calc.language.quantities import View
from calc.language.translating import Language, marked_typed, pointed
from calc.language.worded import worded_specs
from server.sheets.model import MOST_SEED, Step
from server.sheets.practice import HINTS, Case, case_of, hints, judge
from server.sheets.refusals import Refusal
from server.sheets.views import AskedView, HintView, PractiseView
from server.sketch import draw
from server.switching import conventions
from server.tables import rows_table

ANSWER, HINT = "a.", "h."
LONGEST = 60


class NothingToPractise(Refusal):
    """A step that is not there, not marked for practice, or without an answer."""

    status = 404
    title = "Nothing to practise here"


def attempt_at(step: Step, path: str, asked: Mapping[str, str], base: str, language: Language = "en") -> PractiseView:
    """The page of the attempt that an address holds. Raises `NothingToPractise` for a step without numbers."""
    case = case_of(step.address, _seed(asked.get("seed"), step), language)
    if isinstance(case, str):
        raise NothingToPractise(case)
    return practise_view(case, step, path, asked, base)


def practise_view(case: Case, step: Step, path: str, asked: Mapping[str, str], base: str) -> PractiseView:
    """The page of one attempt."""
    attempt = {"seed": "own" if case.seed is None else str(case.seed), **_kept(asked, case)}
    results = tuple(_asked(case, spec, path, attempt) for spec in case.asked)
    right, taken = sum(each.verdict == "right" for each in results), sum(each.taken for each in results)
    return PractiseView(
        sheet=path.split("/practise/", 1)[0],
        path=path,
        title=step.title or say_text(case.question.feature.title, case.view),
        note=step.note,
        given=tuple(_given(case)),
        conventions=_conventions(case),
        asked=results,
        seed=case.seed,
        hidden=tuple((name, text) for name, text in attempt.items() if not name.startswith(ANSWER)),
        own_address=_address(path, {"seed": "own"}),
        fresh_address=_address(path, {"seed": str((case.seed or 0) % MOST_SEED + 1)}),
        result_address=base + _address(path, attempt),
        told=_told(right, len(results), taken, case.view),
        sketch=_sketch(case),
    )


def _told(right: int, asked: int, hints_taken: int, view: View) -> str:
    """How the attempt stands."""
    text = {0: "{right} of {asked} right, no hints", 1: "{right} of {asked} right, 1 hint"}.get(
        hints_taken, "{right} of {asked} right, {hints} hints"
    )
    return Message(text, {"right": right, "asked": asked, "hints": hints_taken}).say(view)


def _seed(typed: str | None, step: Step) -> int | None:
    if typed is None:
        return step.seed
    is_number = typed.isascii() and typed.isdecimal() and len(typed) <= len(str(MOST_SEED))
    return int(typed) if is_number else None


def _kept(asked: Mapping[str, str], case: Case) -> dict[str, str]:
    """What of the address belongs to this attempt: answers, with points, and hints of what is asked for."""
    names, language = [spec.name for spec in case.asked], case.view.language
    answers = {f"{ANSWER}{name}": asked.get(f"{ANSWER}{name}", "").strip()[:LONGEST] for name in names}
    answers = {name: pointed(text, language) for name, text in answers.items()}
    taken = {f"{HINT}{name}": asked.get(f"{HINT}{name}", "") for name in names}
    levels = {name: text for name, text in taken.items() if text in map(str, range(1, HINTS + 1))}
    return {name: text for name, text in answers.items() if text} | levels


def _asked(case: Case, spec: Spec, path: str, attempt: Mapping[str, str]) -> AskedView:
    text, taken = attempt.get(f"{ANSWER}{spec.name}", ""), int(attempt.get(f"{HINT}{spec.name}", "0"))
    verdict = judge(case, spec, text)
    steps = hints(case, spec)
    more = _address(path, {**attempt, f"{HINT}{spec.name}": str(taken + 1)}) if steps and taken < HINTS else ""
    return AskedView(
        name=f"{ANSWER}{spec.name}",
        label=spec.label,
        symbol=spec.symbol,
        unit=spec.quantity.unit(case.view).label,
        text=marked_typed(text, case.view.language),
        verdict=verdict.kind if text else "",
        words=say_text(verdict.words, case.view),
        hints=tuple(
            HintView(
                say_text(each.formula.means, case.view),
                say_text(each.where, case.view),
                tuple(Markup(part) for part in each.mathml(case.view)[:taken]),
            )
            for each in steps
            if taken
        ),
        taken=taken,
        more_address=more,
    )


def _given(case: Case) -> list[tuple[str, str]]:
    query = case.question.query
    hidden = case.question.feature.guessed
    told = [
        (spec, query.values[spec.name])
        for spec in worded_specs(case.question.feature.inputs, case.view)
        if query.texts[spec.name] and spec.name not in hidden
    ]
    given = [(spec.label, said(spec, value, case.view)) for spec, value in told if isinstance(value, (float, str))]
    return [*given, *_found(case)] if case.is_guessed else given


def _found(case: Case) -> Iterator[tuple[str, str]]:
    """The lists of the answer, row by row, where they are given and what led to them is to be found."""
    for key, rows in case.question.feature.rows.items():
        table = rows_table(key, rows, case.answer.tables.get(key, ()), case.view)
        for first, *cells in table.rows:
            yield first, "; ".join(f"{head}: {cell}" for head, cell in zip(table.heads[1:], cells, strict=True) if cell)


def _conventions(case: Case) -> str:
    view = case.view
    asked = f"{say_text(_WHAT_WENT_WRONG, view)} " if case.is_guessed else ""
    return asked + conventions(view)


_PRACTISED = ("The case to practise", "The case to practise; symbols stand where the answers belong.")
_WHAT_WENT_WRONG = "This is the part that came out: what went wrong? One thing is off, the others are 0."


def _sketch(case: Case) -> str:
    drawing = case.answer.drawn()
    return Markup(draw(_hidden(drawing, case), case.view)) if drawing else ""


def _hidden(drawing: Drawing, case: Case) -> Drawing:
    """The sketch with what was given, and symbols where the answers would stand."""
    given = {name for name, text in case.question.query.texts.items() if text}
    dimensions = tuple(each if each.field in given else replace(each, value=None) for each in drawing.dimensions)
    title, description = (say_text(text, case.view) for text in _PRACTISED)
    return replace(drawing, dimensions=dimensions, spots=(), title=title, description=description)


def _address(path: str, parameters: Mapping[str, str]) -> str:
    return f"{path}?{urlencode(parameters, quote_via=quote)}"
