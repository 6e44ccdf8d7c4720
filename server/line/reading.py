"""What a typed line can mean: questions with their fields filled and answered, pages and saved words that it names."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from calc.answer.feature import Feature
from calc.cutting.materials import read as read_material
from calc.cutting.materials import search
from calc.language.fields import flat
from calc.language.limited import Limited, aimed
from calc.language.messages import Message, say_text
from calc.language.problems import Problem
from calc.language.quantities import FEED, LENGTH, ROUGHNESS, SURFACE_SPEED, View
from calc.language.spec import Spec
from calc.language.translating import pointed
from calc.language.worded import worded_specs
from server.catalogue import FEATURES, PAGES
from server.computing.weight import is_heavy
from server.line.converted import Converted, converted, named_drill
from server.line.forms import designations, questions, rows
from server.line.inches import has_inch_unit, has_ruler_fraction
from server.line.named import named
from server.line.rewritten import in_thousands, rewritten, with_grade
from server.line.spelling import respelled
from server.line.tags import FILLERS, tagged
from server.line.unanswered import DRILL, OTHER_UNITS, cannot
from server.links import address
from server.query import read_query, with_points

LONGEST = 120
"""Characters of a line; what is longer is no line."""
_MATERIAL = re.compile(r"[A-Za-z]{2}|[A-Za-z]\d|\d{3}|\d\.\d{2}")
"""How names of materials begin."""
_AND, _COMMA = re.compile(r"\s*(?:;|\b(?:and|und|y)\b|&)\s*", re.IGNORECASE), re.compile(r",\s+")
"""What stands between two questions of one line, and what may."""
_IN_INCHES = (LENGTH, FEED, SURFACE_SPEED, ROUGHNESS)
"""What a line in inch sizes has a unit of its own of."""
WORDS_OF_A_MATERIAL = 3
"""Words that a line has at most that may be the name of a material."""
MATERIALS = 4
"""Materials offered at most."""
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

    `headline` is the answer's one number, if it has one; `needs` says what is missing for an answer; `taken` is what
    the values were taken as, as (label, value with its unit), `read_as` the line in which a misspelt word was mended.
    """

    question: str
    page: str
    fields: Mapping[str, str]
    headline: Headline | None = None
    needs: str = ""
    taken: tuple[tuple[str, str], ...] = ()
    read_as: str = ""


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
    in_full, of_grade = (
        [each for each in _written_as(other, _readings(pointed(other, view.language), view)) if each.headline]
        for other in (in_thousands(line, view.language), with_grade(line))
    )
    materials = (each for each in of_grade if each.page.partition("?")[0] == "/material")
    return [*in_full, *_readings(pointed(line, view.language), view), *materials]


def _readings(line: str, view: View) -> list[Reading]:
    """The same for a line whose numbers have points; nothing for a blank one."""
    if not line:
        return []
    if found := [each for other in rewritten(line) for each in _written_as(other, _found(other, view))]:
        return found
    found = _found(line, view) or _other_units(line, view) or _drill(line, view)
    pages = {each.page for each in found}
    if not found and (lacking := cannot(line)):
        return [replace(_page(lacking[0], view), needs=lacking[1].say(view))]
    named = [each for each in page_names(line, view) if each.page not in pages]
    if not found and not named:
        other = respelled(line)
        if other != line:
            return _written_as(other, _readings(other, view))
        named = list(pages_of_words(line, view))
    of_material = [] if found and found[0].page.partition("?")[0] != "/material" else _materials(line, view)
    return [*found, *named, *of_material][: MOST + len(found)]


def _written_as(other: str, found: Iterable[Reading]) -> list[Reading]:
    """Readings of a line that stands for the typed one."""
    return [replace(each, read_as=each.read_as or other) for each in found]


def _found(line: str, view: View) -> list[Reading]:
    """What is answered: two questions with a word between them, the whole line, its parts; or what is not whole."""
    for found in (_of_parts(_AND, line, view), answered(line, view), _of_parts(_COMMA, line, view)):
        if found and not all(each.needs for each in found):
            return found
    return _incomplete(line, view)


def answered(line: str, view: View) -> list[Reading]:
    """What the line as a whole asks, answered in the reader's units; first in inches where it is written in them."""
    asked = [(page, fields) for page, fields, _ in questions(line)] or list(designations(line))
    return _alone([reading for reading in _in_units(asked, line, view) if reading is not None])


def _in_units(asked: Iterable[tuple[str, dict[str, str]]], line: str, view: View) -> Iterator[Reading | None]:
    """Each page with its fields, read in each system of units that the line can mean."""
    for page, fields in asked:
        wanted = _wanted(page, line, fields)
        yield from (_answered(page, fields, units, wanted) for units in _units(page, fields, line, view))


def _units(page: str, fields: Mapping[str, str], line: str, view: View) -> tuple[View, ...]:
    """The reader's units; before them inches where the line is written in them and means something else so."""
    inch = replace(view, units="inch")
    if view == inch or not (has_inch_unit(line, _IN_INCHES) or has_ruler_fraction(line)):
        return (view,)
    feature = SHAPE_OF.get(page, PAGES[page])
    inches, own = (
        read_query([*fields.items(), ("units", each.units)], feature.inputs, view.language).values
        for each in (inch, view)
    )
    return (view,) if inches == own else (inch, view)


def _alone(found: list[Reading]) -> list[Reading]:
    """The readings that have an answer where any has; of those that say the same the first."""
    sound = [each for each in found if not each.needs] or found
    seen: dict[tuple[object, ...], Reading] = {}
    for each in sound:
        seen.setdefault((each.question, each.headline and each.headline.text, each.taken, each.needs), each)
    return list(seen.values())


def _of_parts(between: re.Pattern[str], line: str, view: View) -> list[Reading]:
    """The answers of a line's parts, where it asks several things at once and each of them can be answered."""
    parts = [part for part in between.split(line) if part]
    each = [answered(part, view) for part in parts] if len(parts) > 1 else []
    complete = all(those and not those[0].needs for those in each)
    return _alone([reading for those in each for reading in those]) if complete else []


def _incomplete(line: str, view: View) -> list[Reading]:
    """The questions that need more than the line gives, each with what it still needs."""
    found = _in_units(((page, fields) for page, fields, _ in questions(line, whole=False)), line, view)
    return [reading for reading in found if reading is not None][:MOST]


def _wanted(page: str, line: str, fields: Collection[str]) -> str:
    """The result that the line asks for by a word of the trade and does not give; blank for the page's own headline."""
    asked = line.casefold()
    wanted = rows().get(page, {}).get("wanted", {})
    asked_for = (name for name, words in wanted.items() if any(word in asked for word in words))
    return next((name for name in asked_for if name not in fields), "")


def _answered(page: str, fields: dict[str, str], view: View, wanted: str) -> Reading | None:
    """The question with its answer; None where the fields cannot be read or cannot be.

    The headline is the result that is `wanted`, the page's own where none is.
    """
    feature = SHAPE_OF.get(page, PAGES[page])
    fields = dict(with_points(list(fields.items()), feature, view.language))
    items = [*fields.items(), ("units", view.units), ("x", view.x), ("zplus", view.zplus)]
    query = read_query(items, feature.inputs, view.language)
    if query.faults:
        return None
    taken = _taken(feature, query.values, fields, view)
    reading = Reading(say_text(feature.title, view), _address(page, fields, view), fields, taken=taken)
    if is_heavy(feature.path, items):
        return reading
    try:
        answer, _ = feature.answer(query.inputs(feature.inputs))
    except Problem as problem:
        return replace(reading, needs=" ".join(dict.fromkeys(said for _, said in problem.say(view))))
    shown = (_headline(feature, answer.results, name, view) for name in (wanted, answer.headline) if name)
    return replace(reading, headline=next((each for each in shown if each is not None), None))


def _taken(
    feature: Feature[Any, Any], values: Mapping[str, Any], fields: Mapping[str, str], view: View
) -> tuple[tuple[str, str], ...]:
    """What the line's values were taken as: each field's label, and the value with its unit."""
    return tuple(
        (spec.label, _said(spec, values.get(spec.name), fields[spec.name], view))
        for spec in worded_specs(feature.inputs, view)
        if spec.name in fields
    )


def _said(spec: Spec, value: Any, typed: str, view: View) -> str:
    if spec.kind is not None and isinstance(value, (float, int)):
        return spec.kind.say(value, view)
    return say_text(spec.choices[value], view) if isinstance(value, str) and value in spec.choices else typed


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
    text = spec.kind.say(number, view)
    limits = f", {value.say(spec.kind, view)}" if isinstance(value, Limited) else ""
    return Headline(name, spec.label, spec.kind.shown(number, view), spec.kind.unit(view).code, f"{text}{limits}")


def page_names(line: str, view: View) -> Iterator[Reading]:
    """Pages that the line names by a word of the trade, best fit first."""
    wanted = line.casefold().strip("?!. ")
    ranked = [(rank, page) for page, names in _names().items() if (rank := _rank(wanted, names)) is not None]
    yield from (_page(page, view) for _, page in sorted(ranked, key=lambda one: one[0]))


def pages_of_words(line: str, view: View) -> Iterator[Reading]:
    """Pages of whose names some words stand in the line, those first of which most do: they are only named."""
    words = {word for each in named(line) for word in tagged(each.rest).words}
    counted = [(len(words & subject), page) for page, subject in _subjects().items() if words & subject]
    most = max((count for count, _ in counted), default=0)
    yield from (_page(page, view) for count, page in counted if count == most)


def _page(page: str, view: View) -> Reading:
    title = PAGES[page].title if page in PAGES else SHEETS[page]
    return Reading(say_text(title, view), _address(page, {}, view), {})


def _other_units(line: str, view: View) -> list[Reading]:
    """A value alone in the units of the other system."""
    found = converted(line, view)
    if found is None:
        return []
    if found.limited:
        size = _answered("/limits", {"size": found.limited}, found.view, "")
        return [size] if size and size.headline else []
    return [_converted(line, found, OTHER_UNITS, view)]


def _drill(line: str, view: View) -> list[Reading]:
    """A drill by its number or its letter."""
    size = named_drill(line)
    return [] if size is None else [_converted(line, Converted(LENGTH, size, view), DRILL, view)]


def _converted(line: str, found: Converted, label: Message, view: View) -> Reading:
    unit, text = found.kind.unit(found.view), found.kind.say(found.value, found.view)
    headline = Headline("value", label.say(view), found.kind.shown(found.value, found.view), unit.code, text)
    return Reading(line, _address("/ask", {"q": line}, view), {}, headline)


def _materials(line: str, view: View) -> list[Reading]:
    """Materials that the line may mean: those that its word has, else those that have a name like it."""
    if not _MATERIAL.match(line) or len(line.split()) > WORDS_OF_A_MATERIAL:
        return []
    found = read_material(line).several or search(line)
    return [
        Reading(
            Message("Material {title}", {"title": one.title}).say(view),
            _address("/material", {"material": one.code}, view),
            {"material": one.code},
        )
        for one in found[:MATERIALS]
    ]


@cache
def _names() -> dict[str, tuple[str, ...]]:
    """The words that find each page: its title and the words of the trade."""
    words = {page: tuple(row["page"]) for page, row in rows().items() if page in PAGES or page in SHEETS}
    titles = {page: (feature.title.casefold(),) for page, feature in PAGES.items()}
    return {page: (*titles.get(page, ()), *words.get(page, ())) for page in {**titles, **words}}


@cache
def _subjects() -> dict[str, frozenset[str]]:
    """The single words of the names of each page, those left out that say nothing."""
    return {
        page: frozenset(word for name in names for word in (name, *name.split())) - FILLERS
        for page, names in _names().items()
    }


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
