"""The form of a feature as its page shows it: each field's text, how it was read, what is wrong, what it became."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby
from typing import Any

from calc.contour.point_text import lines_of
from calc.language.fields import Repeated, Spec
from calc.language.given import Given
from calc.language.limited import aimed, limited
from calc.language.messages import Message, Quantity, Value, say_text
from calc.language.quantities import View
from calc.language.reading import says_unit
from calc.language.translating import in_sentence, marked_typed
from calc.language.worded import worded_specs
from server.context import GroupView
from server.field_context import ChoiceView, FieldsView, FieldView
from server.query import Query
from server.row_texts import BadRow, texts_of
from server.typed import TYPED, doubt_said

_PLAIN_NUMBER = re.compile(r"[-+]?\d*[.,]?\d+\.?")


@dataclass(frozen=True, slots=True)
class Form:
    """A query against its declaration, with the errors by field and the values that were solved."""

    declared: type[Any]
    query: Query
    bare: bool
    errors: Mapping[str, str] = field(default_factory=dict)
    solved: Mapping[str, float | None] = field(default_factory=dict)
    focus: str = ""

    @property
    def view(self) -> View:
        """The conventions and the language of the page."""
        return self.query.view

    def groups(self) -> tuple[GroupView, ...]:
        """The groups in order; the first stands open, the others are folded into one line each."""
        declared = worded_specs(self.declared, self.view)
        fields = [spec for spec in declared if spec.role not in ("contour", "carried") or spec.typed]
        listed = [(title, list(members)) for title, members in groupby(fields, lambda spec: spec.group)]
        return tuple(self._group(index, title, members) for index, (title, members) in enumerate(listed))

    def _group(self, index: int, title: str, members: Sequence[Spec]) -> GroupView:
        fields = tuple(self._field(spec) for spec in members)
        said = (self._said(spec, view) for spec, view in zip(members, fields, strict=True))
        summary = ", ".join(words for words in said if words)
        wrong = any(view.is_wrong for view in fields)
        kept = sum(spec.kept for spec in members)
        shown, told = say_text(title or "Given", self.view), summary or say_text("not given", self.view)
        return GroupView(key_of(title), shown, fields, told, index > 0, wrong, kept)

    def _said(self, spec: Spec, field: FieldView) -> str:
        """A field in a group's one line: what is given or solved; choices only where they are not the plain ones."""
        if spec.role == "carried":
            return ""
        if spec.role == "choice":
            return _choice_said(spec, next((choice for choice in field.choices if choice.checked), None))
        if spec.role == "points":
            return counted(len(lines_of(field.text)), spec.label, self.view) if field.text.strip() else ""
        amount = field.text.strip() or field.solved
        if not amount:
            return ""
        own = spec.kind is not None and says_unit(self.query.texts.get(spec.name, ""), spec.kind, self.view)
        unit = f" {field.unit}" if field.unit and not own else ""
        return f"{spec.brief or in_sentence(spec.label, self.view.language)} {amount}{unit}"

    def _field(self, spec: Spec) -> FieldView:
        if spec.rows is not None:
            return self._list(spec, spec.rows)
        text = self.query.texts[spec.name] or (spec.start_text(self.query.view.units) if self.bare else "")
        return self._single(spec, text, self.query.values[spec.name])

    def _list(self, spec: Spec, rows: Repeated) -> FieldView:
        """A list of rows: those that were given, or as many empty ones as it begins with."""
        try:
            given: Sequence[Mapping[str, str]] = texts_of(self.query.texts[spec.name], rows.row)
        except BadRow:
            given = ()
        padded = [*given, *({} for _ in range(rows.begin - len(given)))]
        return FieldView(
            name=spec.name,
            label=spec.label,
            symbol=spec.symbol,
            hint=spec.hint,
            text=str(sum(map(bool, given)) or ""),
            unit="",
            role="rows",
            error=self.errors.get(spec.name, ""),
            rows=tuple(self._row(spec, rows, index, texts) for index, texts in enumerate(padded)),
            ordered=rows.ordered,
            switch=rows.switch,
        )

    def _row(self, spec: Spec, rows: Repeated, index: int, texts: Mapping[str, str]) -> FieldsView:
        of_row = worded_specs(rows.row, self.view)
        values = self.query.values[spec.name] or ()
        read = values[index] if index < len(values) else {}
        fields = tuple(
            self._single(
                replace(each, name=f"{spec.name}.{index}.{each.name}"), texts.get(each.name, ""), read.get(each.name)
            )
            for each in of_row
        )
        focused = self.focus == f"{spec.name}.{index}"
        told, title = "", f"{rows.one} {index + 1}"
        if rows.ordered and texts:
            lead, *others = (
                _bare(each, view) or self._said(each, view) for each, view in zip(of_row, fields, strict=True)
            )
            told, title = ", ".join(filter(None, others)), f"{index + 1} {lead}" if lead else title
        is_off = bool(rows.switch and texts.get(rows.switch))
        asked = tuple(view for each, view in zip(of_row, fields, strict=True) if _is_asked(each, view, rows, texts))
        return FieldsView(index + 1, title, asked, focused, told, is_off)

    def _single(self, spec: Spec, text: str, value: Any) -> FieldView:
        view = self.query.view
        return FieldView(
            name=spec.name,
            label=spec.label,
            symbol=spec.symbol,
            hint=self._hint(spec, text),
            blank=spec.blank,
            text=marked_typed(text, view.language) if spec.is_numeric and TYPED not in self.query.marks else text,
            unit=spec.kind.unit(view).label if spec.kind else "",
            role="lines" if spec.lines else spec.role,
            choices=self._choices(spec, text),
            error=self.errors.get(spec.name, ""),
            solved=self._solved(spec, text),
            starting=spec.role == "quantity" and text != "" and text == spec.start_text(view.units),
            because=spec.because,
            understood=self._understood(spec, text, value),
        )

    def _hint(self, spec: Spec, text: str) -> str:
        """The line beside a field; of a text that is carried the sentence that it stands for."""
        said = spec.said(text) if spec.said else None
        return spec.help_for(self.query.view) if said is None else said.say(self.query.view)

    def _choices(self, spec: Spec, text: str) -> tuple[ChoiceView, ...]:
        chosen = text if text in spec.choices else spec.start
        return tuple(ChoiceView(code, label, code == chosen) for code, label in spec.choices.items())

    def _solved(self, spec: Spec, text: str) -> str:
        value = self.solved.get(spec.name)
        if text.strip() or value is None or spec.kind is None:
            return ""
        return spec.kind.text(aimed(value), self.query.view)

    def _understood(self, spec: Spec, text: str, value: Any) -> str:
        if not isinstance(value, Given) or spec.kind is None:
            return ""
        limits = limited(value)
        if limits is not None:
            values: dict[str, Value] = {
                "aim": Quantity(float(value), spec.kind),
                "limits": limits.say(spec.kind, self.view),
            }
            return Message("aims at mid-limit, {aim}; limits {limits}", values).say(self.view)
        if spec.name in self.query.doubtful:
            return doubt_said(text, float(value), spec.kind, self.view)
        if _PLAIN_NUMBER.fullmatch(text.strip()):
            return ""
        return Message("read as {value}", {"value": Quantity(float(value), spec.kind)}).say(self.view)


def counted(count: int, label: str, view: View) -> str:
    """How many there are of what `label` names, right for one too; the label is in the reader's language.

    >>> counted(12, "Points", View()), counted(1, "Points", View())
    ('12 points', 'points: 1')
    """
    said = in_sentence(label, view.language)
    return f"{said}: {count}" if count == 1 else f"{count} {said}"


def key_of(title: str) -> str:
    """A name for use in an id.

    >>> key_of("Edge and hole")
    'edge-and-hole'
    """
    return re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-") or "given"


def _choice_said(spec: Spec, chosen: ChoiceView | None) -> str:
    if chosen is None or not chosen.code:
        return ""
    if spec.brief:
        return f"{spec.brief} {chosen.label.split(',', 1)[0]}"
    return chosen.label if chosen.code != spec.start else ""


def _is_asked(spec: Spec, view: FieldView, rows: Repeated, texts: Mapping[str, str]) -> bool:
    """Whether a row shows a field: one of its own, one that is wrong, one with something typed, which is not lost."""
    given = view.text.strip() not in ("", spec.start)
    return rows.asks(spec.name, texts) or bool(view.error) or given


def _bare(spec: Spec, field: FieldView) -> str:
    """A word in a row's one line: as it was typed, without what it is called."""
    return field.text.strip() if spec.role == "word" else ""
