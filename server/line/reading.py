"""What a typed line can mean: questions with their fields filled and answered, pages and saved words that it names."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from calc.answer.feature import Feature
from calc.cutting.materials import search
from calc.language.fields import flat
from calc.language.limited import Limited, aimed
from calc.language.messages import Message, say_text
from calc.language.problems import Problem
from calc.language.quantities import View
from calc.language.tables import read_table
from calc.language.worded import worded_specs
from server.catalogue import FEATURES, PAGES
from server.computing.weight import is_heavy
from server.line.forms import designations, designations_with_a_word, questions
from server.links import address
from server.query import read_query, with_points

WORDS = Path(__file__).parent / "words.toml"
LONGEST = 120
"""Characters of a line; what is longer is no line."""
_MATERIAL = re.compile(r"[A-Za-z]{2}|[A-Za-z]\d|\d{3}|\d\.\d{2}")
"""How names of materials begin."""
MOST = 8
"""Pages offered at most."""
SHEETS = {"/sheet": "Job sheets", "/shop": "The shop's tools and proven cuts"}
# The headline of a page that plans a whole cut is asked of the question about its shape alone.
SHAPE_OF = {"/dish": next(feature for feature in FEATURES if feature.path == "geometry/dish")}


@dataclass(frozen=True, slots=True)
class Headline:
    """The one number of an answer: what it is, the number in the reader's unit, and as it stands on a page."""

    name: str
    label: str
    value: float | str
    unit: str
    text: str


@dataclass(frozen=True, slots=True)
class Reading:
    """One thing that a line can mean: the question's title, its address with the fields filled, the fields.

    `headline` is the answer's one number, if it has one; `needs` says what is missing for an answer.
    """

    question: str
    page: str
    fields: Mapping[str, str]
    headline: Headline | None = None
    needs: str = ""


@cache
def _words() -> dict[str, dict[str, Any]]:
    return read_table(WORDS)


@cache
def subjects() -> dict[str, frozenset[str]]:
    """The words that may stand beside the values of each page."""
    return {page: frozenset(row.get("subject", ())) for page, row in _words().items()}


def readings(line: str, view: View) -> list[Reading]:
    """Everything that the line can mean, what it answers before what it only names; nothing is guessed.

    >>> [(each.question, each.headline.text) for each in readings("R90 4.5 deep", View())]
    [('Dish', 'Ø56.205 mm')]
    >>> [each.page for each in readings("chatter", View())]
    ['/bar']
    """
    line = " ".join(line.split())
    if not line or len(line) > LONGEST:
        return []
    asked = list(designations(line)) or list(designations_with_a_word(line, subjects()))
    asked += questions(line, subjects())
    asked = asked or list(questions(line, subjects(), whole=False))
    found = [
        reading
        for page, fields in asked
        if page in PAGES and (reading := _answered(page, fields, view, _wanted(page, line)))
    ]
    return found + [named for named in _named(line, view) if named.page not in {each.page for each in found}][:MOST]


def _wanted(page: str, line: str) -> str:
    """The result that the line asks for by a word of the trade; blank where it is the page's own headline."""
    asked = line.casefold()
    wanted = _words().get(page, {}).get("wanted", {})
    return next((name for name, words in wanted.items() if any(word in asked for word in words)), "")


def _answered(page: str, fields: dict[str, str], view: View, wanted: str) -> Reading | None:
    """The question with its answer; None where the fields cannot be read or cannot be.

    The headline is the result that is `wanted`, the page's own where none is.
    """
    feature = SHAPE_OF.get(page, PAGES[page])
    fields = dict(with_points(list(fields.items()), feature, view.language))
    items = [*fields.items(), ("units", view.units), ("x", view.x), ("zplus", view.zplus)]
    target = _address(page, fields, view)
    query = read_query(items, feature.inputs, view.language)
    title = say_text(feature.title, view)
    if query.faults:
        return None
    if is_heavy(feature.path, items):
        return Reading(title, target, fields)
    try:
        answer, _ = feature.answer(query.inputs(feature.inputs))
    except Problem as problem:
        return Reading(title, target, fields, needs=" ".join(said for _, said in problem.say(view)))
    return Reading(title, target, fields, _headline(feature, answer.results, wanted or answer.headline, view))


def _address(page: str, fields: Mapping[str, str], view: View) -> str:
    """The page's address with the fields and the conventions that are not the usual ones."""
    usual = View()
    chosen = {"units": view.units, "x": view.x, "zplus": view.zplus}
    return address(page, {**fields, **{name: text for name, text in chosen.items() if text != getattr(usual, name)}})


def _headline(feature: Feature[Any, Any], results: Any, name: str, view: View) -> Headline | None:
    spec = next((each for each in worded_specs(feature.results, view) if each.name == name), None)
    value = flat(results).get(name)
    if spec is None or value is None:
        return None
    if spec.kind is None or not isinstance(value, (float, int, Limited)):
        words = say_text(spec.choices.get(value, str(value)), view)
        return Headline(name, spec.label, words, "", words)
    number = aimed(value)
    unit = spec.kind.unit(view)
    return Headline(name, spec.label, spec.kind.shown(number, view), unit.code, spec.kind.say(number, view))


def _named(line: str, view: View) -> Iterator[Reading]:
    """Pages that the line names by a word of the trade, best fit first, then materials near to it."""
    wanted = line.casefold()
    ranked = [(rank, page) for page, names in _names().items() if (rank := _rank(wanted, names)) is not None]
    for _, page in sorted(ranked, key=lambda one: one[0]):
        title = PAGES[page].title if page in PAGES else SHEETS[page]
        yield Reading(say_text(title, view), _address(page, {}, view), {})
    if _MATERIAL.match(line):
        for one in search(line)[:3]:
            yield Reading(
                Message("Material {title}", {"title": one.title}).say(view),
                _address("/material", {"material": one.code}, view),
                {"material": one.code},
            )


@cache
def _names() -> dict[str, tuple[str, ...]]:
    """The words that find each page: its title and the words of the trade."""
    rows = {page: tuple(row["page"]) for page, row in _words().items() if page in PAGES or page in SHEETS}
    titles = {page: (feature.title.casefold(),) for page, feature in PAGES.items()}
    return {page: (*titles.get(page, ()), *rows.get(page, ())) for page in {**titles, **rows}}


def _rank(wanted: str, names: tuple[str, ...]) -> int | None:
    """0 for a whole name, 1 for its beginning, 2 for a word in it, None for none of them."""
    ranks = []
    for name in names:
        folded = name.casefold()
        if folded == wanted:
            ranks.append(0)
        elif len(wanted) > 2 and folded.startswith(wanted):
            ranks.append(1)
        elif len(wanted) > 2 and wanted in folded.split():
            ranks.append(2)
    return min(ranks, default=None)
