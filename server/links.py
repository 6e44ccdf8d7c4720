"""Addresses: the same question in other conventions, with one answer left open, as an example, to share."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any
from urllib.parse import quote

from calc.answer.feature import Answer, Feature
from calc.contour import Chain
from calc.contour.point_text import points_rewritten, points_stripped
from calc.contour.text import contour_rewritten, contour_stripped, contour_text
from calc.language.edition import TABLES
from calc.language.fields import specs
from calc.language.messages import say_text
from calc.language.quantities import View
from calc.language.reading import rewrite_for_switch, strip_unit
from server.catalogue import PAGES
from server.context import SavingView
from server.query import CONVENTIONS, Query
from server.row_texts import rewritten, stripped, with_text
from server.saved_place import place_in
from server.typed import TYPED

TABLE_FILE = "tables.csv"
EXPORTS: tuple[tuple[str, str, Mapping[str, str]], ...] = (
    ("Points as CSV", "points.csv", {}),
    ("Tables as CSV", TABLE_FILE, {}),
    ("Sketch as SVG", "sketch.svg", {}),
    ("Contour as words with R", "words.txt", {"arcs": "radius"}),
    ("Contour as words with I and K", "words.txt", {"arcs": "centre"}),
)
POINTS, OPERATOR, LATER = "one-by-one", "operator", "shown"
LAYOUT_WORDS = {POINTS: "Points, one a screen", OPERATOR: "Operator's sheet"}
MANY_STEPS = 20
"""Steps of a working that go out with the page; a longer one is fetched when it is opened."""

QR_MOST = 2300
"""Characters that a code holds so that a phone reads it."""
_SAFE = "/.:,*~"  # readable in an address bar, and understood by every reader of a query string
_PLAIN = re.compile(rf"[\w{_SAFE}-]*", re.ASCII)


def address(path: str, parameters: Mapping[str, str] | Iterable[tuple[str, str]]) -> str:
    """The path with the parameters that are not blank, spelled so that a person can read it.

    >>> address("/dish", {"radius": "3 1/4", "depth": ""})
    '/dish?radius=3%201/4'
    """
    pairs = parameters.items() if isinstance(parameters, Mapping) else parameters
    given = [f"{_spelled(name)}={_spelled(text)}" for name, text in pairs if text]
    return f"{path}?{'&'.join(given)}" if given else path


def _spelled(text: str) -> str:
    """The text in a query string; most are as they are, which is seen sooner than they are quoted."""
    return text if _PLAIN.fullmatch(text) else quote(text, safe=_SAFE)


class Links:
    """The addresses that belong to one question on one feature's page."""

    def __init__(self, feature: Feature[Any, Any], query: Query) -> None:
        self.feature = feature
        self.query = query
        view = query.view
        self.conventions = {"units": view.units, "x": view.x, "zplus": view.zplus}

    def with_text(self, **changed: str) -> str:
        """The same question with other texts in some fields; "" leaves a field open."""
        texts = dict(self.query.texts)
        lists = {spec.name: spec.rows.row for spec in specs(self.feature.inputs) if spec.rows is not None}
        for name, text in changed.items():
            whole = name.partition(".")[0]
            if whole in lists and name != whole:
                texts[whole] = with_text(texts[whole], lists[whole], name, text)
            else:
                texts[name] = text
        return self._asking(texts, self.conventions)

    def shared(self) -> str:
        """The whole question: every field, choices that nobody touched too, and the edition of the tables."""
        version = {"version": str(self.feature.version)} if self.feature.version else {}
        return address(self.feature.page, {**self._whole(), "edition": TABLES, **version})

    def _whole(self) -> dict[str, str]:
        """Every text and convention, choices that nobody touched too: another page may begin with another one."""
        texts = dict(self.query.texts)
        for spec in specs(self.feature.inputs):
            if spec.role == "choice" and not texts[spec.name]:
                texts[spec.name] = str(spec.start)
        return {**texts, **self.conventions, **self._example()}

    def switched(self, name: str, option: str) -> str:
        """The same question with one convention changed and every given text rewritten to mean the same."""
        conventions = {**self.conventions, name: option}
        old = self.query.view
        new = View(**conventions)  # type: ignore[arg-type]  # the options come from CONVENTIONS
        texts = dict(self.query.texts)
        for spec in specs(self.feature.inputs):
            if spec.role == "contour":
                texts[spec.name] = contour_rewritten(texts[spec.name], old, new)
            if spec.role == "points":
                texts[spec.name] = points_rewritten(texts[spec.name], old, new)
            if spec.rows is not None:
                texts[spec.name] = rewritten(texts[spec.name], spec.rows.row, old, new)
            if spec.kind is not None and texts[spec.name] and spec.kind.unit(new).size != spec.kind.unit(old).size:
                texts[spec.name] = rewrite_for_switch(texts[spec.name], spec.kind, old, new)
        was = {"was": self.query.view.units} if name == "units" and any(texts.values()) else {}
        return self._asking(texts, conventions | was)

    def meant(self) -> str:
        """Right after a switch of units: the bare numbers, meant in the new units."""
        texts = dict(self.query.texts)
        for spec in specs(self.feature.inputs):
            if spec.role == "contour":
                texts[spec.name] = contour_stripped(texts[spec.name], self.query.view)
            if spec.role == "points":
                texts[spec.name] = points_stripped(texts[spec.name], self.query.view)
            if spec.rows is not None:
                texts[spec.name] = stripped(texts[spec.name], spec.rows.row, self.query.view)
            if spec.kind is not None:
                texts[spec.name] = strip_unit(texts[spec.name], spec.kind, self.query.view)
        return self._asking(texts, self.conventions)

    def example(self) -> str:
        """The scenario's case, marked as an example, in its own units."""
        return address(self.feature.page, {**self.feature.example, "example": "1"})

    def starts(self) -> tuple[tuple[str, str], ...]:
        """Examples to start from, each under its name, marked as such."""
        named = self.feature.examples.items()
        view = self.query.view
        return tuple(
            (say_text(name, view), address(self.feature.page, {**texts, "example": "1"})) for name, texts in named
        )

    def exports(self, answer: Answer[Any]) -> tuple[tuple[str, str], ...]:
        """The files of an answer that it has something for, in words and as addresses."""
        asked = {**self.query.texts, **self.conventions}
        tables = any(answer.tables.get(key) for key in self.feature.rows)
        return tuple(
            (say_text(words, self.query.view), address(f"{self.feature.page}/{name}", {**asked, **options}))
            for words, name, options in EXPORTS
            if (tables if name == TABLE_FILE else answer.points)
        )

    def layouts(self, answer: Answer[Any]) -> tuple[tuple[str, str], ...]:
        """The same answer laid out otherwise, in words and as addresses."""
        offered = {POINTS: bool(answer.points), OPERATOR: self.feature.has_operator_sheet}
        whole = {**self._whole(), **self.saved()}
        return tuple(
            (say_text(LAYOUT_WORDS[name], self.query.view), address(f"{self.feature.page}/{name}", whole))
            for name, has in offered.items()
            if has
        )

    def later(self, steps: int, *, pictures: bool) -> str:
        """Where the long parts of the same answer stand that its page fetches when they are opened, if it has some."""
        return address(f"{self.feature.page}/{LATER}", self._whole()) if pictures or steps > MANY_STEPS else ""

    def onward(self, found: Chain | None = None) -> tuple[tuple[str, str], ...]:
        """Where this question goes on: words and addresses of pages that take its fields further.

        One that makes a contour of points has no field for it: its pages take the contour that was found.
        """
        given = self._whole()
        if found is not None and any(spec.role == "points" for spec in specs(self.feature.inputs)):
            given = {"contour": contour_text(found, self.query.view), **self.conventions, **self._example()}
        return tuple(
            (say_text(words, self.query.view), self._leading(page, given, found))
            for page, words in self.feature.leads_to.items()
        )

    def beside(self, page: str, found: Chain | None) -> str:
        """A near twin of this page with what it has a field for, or makes of the contour that was found.

        From a bare page the bare twin with its starts.
        """
        return page if self.query.is_bare else self._leading(page, self._whole(), found)

    def _leading(self, page: str, given: Mapping[str, str], found: Chain | None) -> str:
        """The address of a page with what it has a field for, or with what it makes of that."""
        there = PAGES[page]
        texts = given if there.takes is None else there.takes(given, found, self.query.view)
        known = {spec.name for spec in specs(there.inputs)} | {*CONVENTIONS, "example"}
        kept = self.saved() if there.kept_with == self.feature.page else {}
        return address(page, {**{name: text for name, text in texts.items() if name in known}, **kept})

    def cleared(self) -> str:
        """The empty page in the same conventions."""
        kept = {name: value for name, value in self.conventions.items() if value != CONVENTIONS[name][0]}
        return address(self.feature.page, kept)

    def _asking(self, texts: Mapping[str, str], conventions: Mapping[str, str]) -> str:
        return address(self.feature.page, {**texts, **conventions, **self._example(), **self.saved(), **self._typed()})

    def _typed(self) -> dict[str, str]:
        """The mark of texts as they were typed, where it is still asked what one of them means."""
        return {name: text for name, text in self.query.marks.items() if name == TYPED}

    def saved(self) -> dict[str, str]:
        """Where the question is saved, so that a change can be saved there too."""
        place = place_in(self.query.marks.get("saved", ""))
        return {} if place is None or not (self.feature.version or self.feature.kept_with) else {"saved": place.text}

    def saving(self) -> SavingView | None:
        """How the question is kept as work of its own; None for one that is no such work."""
        place = place_in(self.query.marks.get("saved", ""))
        if self.feature.kept_with:
            return None if place is None else SavingView(self.shared(), place, with_part=True)
        return SavingView(self.shared(), place) if self.feature.version else None

    def _example(self) -> dict[str, str]:
        return {"example": "1"} if self.query.marks.get("example") else {}
