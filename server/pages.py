"""From a question to the typed context of its page."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from markupsafe import Markup

from calc.answer.drawing import Drawing
from calc.answer.feature import Answer, Feature, Unfinished
from calc.language.fields import Spec, flat, in_one_sentence, specs
from calc.language.limited import aimed
from calc.language.messages import Message, Typed, say_text, worst_first
from calc.language.problems import Contradiction, Fault, Missing, Problem
from calc.language.quantities import View
from calc.language.translating import in_sentence, marked_typed
from calc.language.worded import worded_specs
from calc.language.working import Step
from server.context import ErrorView, PageView, ResultView
from server.form import Form
from server.links import QR_MOST, Links
from server.query import Query
from server.row_context import ContourView, SolutionView
from server.row_texts import texts_of
from server.rows import RowsShown, additions, name_of, without_text
from server.sections import sections
from server.shop.entry import Whole
from server.shop.offering import offers_on, proven_for
from server.shown import echoed, in_row, long_parts, opened_at, picture_views, plot_view, result_view
from server.sketch import detail_count, draw, draw_details, draw_legend
from server.switching import conventions, family_switch, meant, switches
from server.terms import terms_of
from server.typed import form_mark

_LEFT_OUT = "The address has “{name}”, which this page does not know; it was left out."
STEP = "shown_step"
"""The input that says which picture of a sequence stands open."""


def contours_of(feature: Feature[Any, Any]) -> tuple[Spec, ...]:
    """The inputs of a feature that hold a contour row by row."""
    return tuple(spec for spec in specs(feature.inputs) if spec.role == "contour" and not spec.typed)


class Page:
    """One request for a feature's page, worked through to the context of its template; `opened` with its long parts."""

    def __init__(
        self,
        feature: Feature[Any, Any],
        query: Query,
        base: str,
        today: datetime.date,
        focus: str = "",
        shop: Whole | None = None,
        *,
        opened: bool = False,
    ) -> None:
        self.feature = feature
        self.opened = opened
        self.shop = shop or Whole(0)
        self.focus = focus
        self.query = query
        self.base = base.rstrip("/")
        self.today = today
        self.links = Links(feature, query)

    @property
    def view(self) -> View:
        """The conventions of the page, and its language."""
        return self.query.view

    @property
    def _inputs(self) -> tuple[Spec, ...]:
        """The declared inputs in the reader's language."""
        return worded_specs(self.feature.inputs, self.view)

    def context(self) -> PageView:
        """The page as its template needs it: an answer, what is wrong, or what is still missing."""
        if self.query.faults:
            return self._wrong(self.query.faults)
        try:
            answer, steps = self.feature.answer(self.query.inputs(self.feature.inputs))
        except Missing as missing:
            return self._waiting(missing)
        except Problem as problem:
            return self._wrong(problem.faults, problem)
        return self._answered(answer, steps)

    def stopped(self, fault: Fault) -> PageView:
        """The page of a question whose computing was stopped: all that was typed, and why there is no answer."""
        return self._wrong((*self.query.faults, fault))

    def _waiting(self, missing: Missing) -> PageView:
        said = [(fault.field, fault.message.say(self.view)) for fault in missing.faults]
        first = [fault for fault in missing.faults if self._contour_of(fault.field) is None] or missing.faults
        sentences = in_one_sentence(fault.message for fault in first)
        state = "empty" if self.query.is_bare else "waiting"
        prompt = " ".join(dict.fromkeys(sentence.say(self.view) for sentence in sentences))
        drawing, blanks = self.feature.blank, {}
        if isinstance(missing, Unfinished):
            drawing, blanks = missing.drawing or drawing, dict(missing.solved)
        alone = sum(bool(fault.offers) for fault in missing.faults) == 1
        proven = proven_for(self.feature, self.query, self.shop, [fault.field for fault in missing.faults])
        proposed = (
            (self._proposal(fault.field, text, alone=alone), self.links.with_text(**{fault.field: text}))
            for fault in missing.faults
            for text in fault.offers
        )
        picks = (*proven, *proposed)
        shown = self._sketched(drawing)
        return self._framed(state, prompt=prompt, moving=dict(said), blanks=blanks, picks=picks, **shown)

    def _proposal(self, field: str, text: str, *, alone: bool) -> str:
        """What is offered for a blank, with its field where several are; of a list of rows what each of them is."""
        spec = next((spec for spec in self._inputs if spec.name == field and spec.rows is not None), None)
        if spec is None:
            return self._pick(field, text, alone=alone)
        lead = worded_specs(spec.repeated.row, self.view)[0]
        rows = [row.get(lead.name, "") for row in texts_of(text, spec.repeated.row)]
        proposed = ", ".join(lead.choices.get(code, code) for code in rows)
        return Message("Start from a proposal: {rows}", {"rows": proposed}).say(self.view)

    def _wrong(self, faults: Sequence[Fault], problem: Problem | None = None) -> PageView:
        errors = tuple(
            ErrorView(self._place(fault.field), self._name(fault.field), fault.message.say(self.view), offers)
            for fault in faults
            for offers in [self._offers(fault, problem)]
        )
        return self._framed("error", errors=errors, **self._sketched(self.feature.blank))

    def _offers(self, fault: Fault, problem: Problem | None) -> tuple[tuple[str, str], ...]:
        if isinstance(problem, Contradiction):
            return tuple(self._let_go(name, problem) for name in problem.fields if self._is_field(name))
        candidates = fault.offers or self.query.candidates.get(fault.field, ())
        return tuple(
            (marked_typed(text, self.view.language), self.links.with_text(**{fault.field: text})) for text in candidates
        )

    def _let_go(self, name: str, problem: Contradiction) -> tuple[str, str]:
        becomes = problem.otherwise.get(name)
        said_becomes = Message(" (it becomes {value})", {"value": becomes}).say(self.view) if becomes else ""
        of = self._contour_of(name)
        if of is not None:
            text = without_text(self.query.texts[of.name], name)
            let_go = Message("Let go: {name}", {"name": self._name(name)}).say(self.view)
            return f"{let_go}{said_becomes}", self.links.with_text(**{of.name: text})
        noun = in_sentence(self._name(name), self.view.language)
        let_go = Message("Let the {name} go", {"name": noun}).say(self.view)
        return f"{let_go}{said_becomes}", self.links.with_text(**{name: ""})

    def _name(self, field: str) -> str:
        """A field in words."""
        of = self._contour_of(field)
        if of is not None:
            return name_of(self.query.texts[of.name], field, self.view)
        whole, _, rest = field.partition(".")
        spec = next((spec for spec in self._inputs if spec.name == whole), None)
        if spec is None:
            return field
        return spec.label if spec.rows is None or not rest else in_row(spec.rows, rest, self.view)

    def _pick(self, name: str, text: str, *, alone: bool) -> str:
        """The words of a value to tap: with its field, where several fields can be filled."""
        text = marked_typed(say_text(text, self.view), self.view.language)
        return text if alone else f"{self._name(name)} {text}"

    def _place(self, field: str) -> str:
        """The id on the page that an error at the field leads to: that of the rows where it is the contour's."""
        of = next((spec for spec in self._contours if spec.name == field), None)
        return f"{of.name}-head" if of else field

    @property
    def _contours(self) -> tuple[Spec, ...]:
        """The inputs that hold a contour row by row."""
        return contours_of(self.feature)

    def _contour_of(self, field: str) -> Spec | None:
        """The contour that a row or one of its fields belongs to (`rows.2.x`); None for any other field."""
        prefix, dot, _ = field.partition(".")
        return next((spec for spec in self._contours if dot and spec.prefix == prefix), None)

    def _is_field(self, name: str) -> bool:
        """Whether it names something that was typed or ticked; a row as a whole (`rows.2`) was not."""
        return self._contour_of(name) is None or name.count(".") == 2

    def _answered(self, answer: Answer[Any], steps: Iterable[Step]) -> PageView:
        results, steps = self._results(answer), tuple(steps)
        shared = self.links.shared()
        return self._framed(
            "answered",
            solved=flat(answer.results),
            contour=answer.contour,
            blanks=answer.solved,
            found=answer.tables.get("solutions", ()),
            headline=results.get(answer.headline),
            supporting=tuple(
                results[name] for name in self.feature.supporting if name in results and name != answer.headline
            ),
            echo=self._echo(),
            cautions=tuple(caution.message.say(self.view) for caution in worst_first(answer.cautions)),
            notes=(*(note.say(self.view) for note in answer.notes), *self._left_out()),
            picks=self._picks(answer),
            sections=tuple(sections(self.links, answer, results)),
            onward=self.links.onward(answer.contour),
            share_address=self.base + shared,
            shared=shared,
            qr_address=f"/qr{shared}" if len(self.base + shared) <= QR_MOST else "",
            exports=self.links.exports(answer),
            plots=tuple(plot_view(plot, self.view) for plot in answer.plots),
            layouts=self.links.layouts(answer),
            **self._long_parts(answer, steps),
            **self._sketched(answer.drawn()),
        )

    def _picks(self, answer: Answer[Any]) -> tuple[tuple[str, str], ...]:
        """Values to tap, in words with their addresses."""
        alone = len(answer.picks) == 1
        return tuple(
            (self._pick(name, text, alone=alone), self.links.with_text(**{name: text}))
            for name, texts in answer.picks.items()
            for text in texts
        )

    def _framed(self, state: str, *, solved: dict[str, Any] | None = None, **rest: Any) -> PageView:
        form = self._form(rest.get("errors", ()), solved or {})
        return PageView(
            path=self.feature.page,
            title=say_text(self.feature.title, self.view),
            summary=say_text(self.feature.summary, self.view),
            state=state,
            prompt=rest.pop("prompt", ""),
            example=bool(self.query.marks.get("example")),
            example_changed=self._example_changed(),
            example_address=self.links.example() if self.feature.example else "",
            clear_address=self.links.cleared(),
            switches=switches(self.links),
            family=family_switch(self.links, rest.pop("contour", None)),
            hidden=self._hidden(),
            groups=form.groups(),
            starts=self.links.starts() if state == "empty" else (),
            contours=self._rows(form.errors, rest.pop("blanks", {}), rest.pop("found", ()), rest.pop("moving", {})),
            meant_offers=meant(self.links),
            played=self.feature.played,
            back_address=self.links.with_text(),
            saving=None if state == "empty" else self.links.saving(),
            terms=terms_of(self.feature, self.view),
            shop=offers_on(self.feature, self.query, self.shop, self.today),
            conventions=conventions(self.view),
            date=self.today.isoformat(),
            **rest,
        )

    def _form(self, errors: tuple[ErrorView, ...], solved: dict[str, Any]) -> Form:
        wrong = {error.field: error.message for error in reversed(errors)}
        return Form(self.feature.inputs, self.query, self.query.is_bare, wrong, solved, self.focus)

    def _rows(
        self, errors: Mapping[str, str], blanks: Mapping[str, float], found: Sequence[Any], moving: Mapping[str, str]
    ) -> tuple[ContourView, ...]:
        """The rows of each contour, of the first with the choice among several."""
        texts, values = self.query.texts, self.query.values
        return tuple(
            ContourView(
                name=spec.name,
                prefix=spec.prefix,
                title=say_text(spec.label, self.view) if len(self._contours) > 1 else "",
                hint=say_text(spec.hint, self.view) if len(self._contours) > 1 else "",
                rows=RowsShown(
                    *(texts[spec.name], self.view, errors, blanks, moving, self.focus),
                    *(values[spec.name], spec.prefix, self.query.doubtful),
                ).views(),
                additions=additions(self.view),
                solutions=() if index else self._solutions(found),
            )
            for index, spec in enumerate(self._contours)
        )

    def _solutions(self, found: Sequence[Any]) -> tuple[SolutionView, ...]:
        """Several contours with the same dimensions, as links that choose one."""
        chosen = self.query.texts.get("chosen", "")
        named = [(row.number, row.label, row.choice) for row in found]
        shown = next((choice for _, _, choice in named if choice == chosen), named[0][2] if named else "")
        return tuple(
            SolutionView(number, say_text(label, self.view), self.links.with_text(chosen=choice), choice == shown)
            for number, label, choice in named
        )

    def _long_parts(self, answer: Answer[Any], steps: Sequence[Step]) -> dict[str, Any]:
        later = "" if self.opened else self.links.later(len(steps), pictures=answer.pictures is not None)
        pictures = picture_views(answer, self.view) if self.feature.played or not later else ()
        shown = opened_at(self.query.texts.get(STEP, ""), len(pictures) - 1)
        found = long_parts(answer, steps, self.view, self._typed(), later)
        return {**found, "later": later, "pictures": pictures, "step": shown}

    def _sketched(self, drawing: Drawing | None) -> dict[str, Any]:
        # a sketch that comes only with the answer stands below the fields: it must not push them down
        drawn_from_the_start = self.feature.blank is not None or bool(self._contours)
        if drawing is None:
            return {"sketch_first": drawn_from_the_start}
        return {
            "sketch": Markup(draw(drawing, self.view)),
            "sketch_first": drawn_from_the_start,
            "details": tuple(Markup(svg) for svg in draw_details(drawing, self.view)),
            "detail_count": detail_count(drawing),
            "legend": Markup(draw_legend(drawing, self.view)),
        }

    def _results(self, answer: Answer[Any]) -> dict[str, ResultView]:
        values = flat(answer.results)
        return {
            spec.name: result_view(spec, values[spec.name], self.view)
            for spec in worded_specs(self.feature.results, self.view)
            if values[spec.name] is not None
        }

    def _hidden(self) -> tuple[tuple[str, str], ...]:
        example = (("example", "1"),) if self.query.marks.get("example") else ()
        carried = (
            (spec.name, self.query.texts[spec.name]) for spec in specs(self.feature.inputs) if spec.role == "carried"
        )
        saved = tuple(self.links.saved().items())
        typed = form_mark(self.query.marks, self.view.language)
        return (*self.links.conventions.items(), *typed, *example, *saved, *(pair for pair in carried if pair[1]))

    def _example_changed(self) -> bool:
        """Whether somebody typed over the example that the page began with."""
        cases = (self.feature.example, *self.feature.examples.values())
        texts = self.query.texts
        return bool(self.query.marks.get("example")) and not any(
            all(texts.get(name, text) == text for name, text in case.items()) for case in cases
        )

    def _echo(self) -> str:
        """The first group's given values in one line: what the answer was computed from."""
        declared = self._inputs
        first = [spec for spec in declared if spec.group == declared[0].group]
        pairs = [(spec, self.query.values[spec.name]) for spec in first if spec.role != "carried"]
        return ", ".join(echoed(spec, value, self.view) for spec, value in pairs if value is not None and value != [])

    def _typed(self) -> tuple[tuple[Spec, float], ...]:
        """The fields of one quantity that have a value, with it."""
        held = ((spec, self.query.values[spec.name]) for spec in self._inputs if spec.role == "quantity")
        return tuple((spec, aimed(value)) for spec, value in held if value is not None)

    def _left_out(self) -> list[str]:
        return [Message(_LEFT_OUT, {"name": Typed(name[:40])}).say(self.view) for name in self.query.unknown]
