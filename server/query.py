"""From the query string to declared inputs: every text is kept as typed, every fault is said at its field."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cache, partial
from typing import Any, cast

from calc.answer.feature import Feature
from calc.contour.point_text import read_points
from calc.contour.text import (
    KINDS,
    MOST_ROWS,
    MOST_TEXT,
    BadWord,
    ContourGiven,
    TooLong,
    each_contour_text,
    read_rows,
    rows_of,
)
from calc.language.fields import Spec, build, specs
from calc.language.given import Given
from calc.language.messages import Message, Value
from calc.language.problems import Fault
from calc.language.quantities import Kind, UnitSystem, View, XMeans, ZPlus
from calc.language.reading import ReadingError, read
from calc.language.translating import Language, has_comma, pointed
from calc.threads.on_print import NAMES
from server.row_texts import BadRow, each_text, texts_of
from server.typed import TYPED, ambiguity, asks_back, numberless, typed_in

CONVENTIONS: Mapping[str, tuple[str, ...]] = {
    "units": ("mm", "inch"),
    "x": ("diameter", "radius"),
    "zplus": ("out", "in"),
}
# Names beside the inputs: an example's mark, the tables' edition, the version of what is asked, where it is saved, the
# units before a switch, the field being typed in, the language of the page that it was typed in.
MARKS = ("example", "edition", "version", "saved", "was", "typing", TYPED)


@dataclass(frozen=True, slots=True)
class Query:
    """A question as it was asked: the texts by field, what they were read as, and what is wrong with them.

    `doubtful` are the fields, of rows too, whose typed point may group thousands and was read as a decimal mark.
    """

    view: View
    texts: Mapping[str, str]
    values: Mapping[str, Any]
    faults: tuple[Fault, ...] = ()
    candidates: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    marks: Mapping[str, str] = field(default_factory=dict)
    unknown: tuple[str, ...] = ()
    doubtful: frozenset[str] = frozenset()

    @property
    def is_bare(self) -> bool:
        """Whether nothing but conventions was asked."""
        return not any(self.texts.values())

    def inputs(self, declared: type[Any]) -> Any:
        """The declared inputs; only to be asked for when there are no faults."""
        return build(declared, {name: value for name, value in self.values.items() if value is not None})


def read_query(
    items: Iterable[tuple[str, str]], declared: type[Any], language: Language = "en", typed: Language | None = None
) -> Query:
    """Read the parameters of a request for the declared inputs. A missing parameter is a blank one.

    Numbers have the point that links have, but those `typed` into a page of a language; `language` is that of the
    answer's words.

    >>> from calc.shapes.dish.bowl import DishInputs
    >>> query = read_query([("radius", "3-1/4"), ("units", "inch")], DishInputs)
    >>> query.values["radius"], query.view.units, query.faults
    (82.55, 'inch', ())
    """
    pairs = list(items)
    given = dict(pairs)
    repeated = [name for name, count in Counter(name for name, _ in pairs).items() if count > 1]
    faults = [Fault(name, Message("This is given twice; give it once.")) for name in repeated]
    view = view_of(given, faults, language)
    reader = FieldReader(view if typed is None else replace(view, language=typed), faults, typed=typed is not None)
    declared_specs = specs(declared)
    values = {spec.name: reader.value(spec, given.get(spec.name, "")) for spec in declared_specs}
    known = {spec.name for spec in declared_specs} | set(CONVENTIONS) | set(MARKS)
    return Query(
        view=view,
        texts={spec.name: given.get(spec.name, "") for spec in declared_specs},
        values=values,
        faults=tuple(faults),
        candidates=reader.candidates,
        marks={name: given[name] for name in MARKS if name in given},
        unknown=tuple(name for name in given if name not in known),
    )


def with_points(items: list[tuple[str, str]], feature: Feature[Any, Any], language: Language) -> list[tuple[str, str]]:
    """The items of a page with the points that links have, where its reader's language has a comma in numbers.

    Words that somebody chose stay as they are typed, and so do all where it must be asked what a typed point means.

    >>> from calc.questions.shapes.dish import FEATURE
    >>> with_points([("radius", "75,5"), ("depth", "4.5")], FEATURE, "de")
    [('radius', '75.5'), ('depth', '4.5')]
    """
    typed, kinds = typed_in(items), kinds_of(feature.inputs)  # type: ignore[arg-type]
    if typed and any(asks_back(text, kinds[numberless(name)]) for name, text in items if numberless(name) in kinds):
        return items
    language = typed or language
    items = [(name, text) for name, text in items if name != TYPED]
    if not has_comma(language):
        return items
    numbers = _names_of_numbers(feature.inputs)  # type: ignore[arg-type]
    found = [(name, pointed(text, language) if numberless(name) in numbers else text) for name, text in items]
    return _rows_with_points(found, feature, language) if typed else found


def _rows_with_points(
    items: list[tuple[str, str]], feature: Feature[Any, Any], language: Language
) -> list[tuple[str, str]]:
    """The same of the rows that stand in one text: so they are in an address that asked what a typed point means."""

    def change(text: str, _: Kind) -> str:
        return pointed(text, language)

    made: dict[str, Callable[[str], str]] = {}
    for spec in specs(feature.inputs):
        if spec.rows is not None:
            made[spec.name] = partial(each_text, row=spec.rows.row, change=change)
        elif spec.role == "contour":
            made[spec.name] = partial(each_contour_text, change=change)
    return [(name, made[name](text) if name in made else text) for name, text in items]


@cache
def kinds_of(declared: type[object]) -> Mapping[str, Kind]:
    """The kinds of the fields that hold one number, those of rows without the number of the row."""
    found: dict[str, Kind] = {}
    for spec in specs(declared):
        if spec.kind is not None:
            found[spec.name] = spec.kind
        if spec.role == "contour" and not spec.typed:
            found |= {f"{spec.prefix}.{name}": kind for name, kind in KINDS.items()}
        if spec.rows is not None:
            found |= {f"{spec.name}.{each.name}": each.kind for each in specs(spec.rows.row) if each.kind is not None}
    return found


@cache
def _names_of_numbers(declared: type[object]) -> frozenset[str]:
    """The fields that hold numbers, those of rows without the number of the row."""
    found: set[str] = set()
    for spec in specs(declared):
        if spec.is_numeric:
            found.add(spec.name)
        if spec.role == "contour" and not spec.typed:
            found |= {f"{spec.prefix}.{name}" for name in KINDS}
        if spec.rows is not None:
            found |= {f"{spec.name}.{each.name}" for each in specs(spec.rows.row) if each.kind is not None}
    return frozenset(found)


def view_of(given: Mapping[str, str], faults: list[Fault], language: Language = "en") -> View:
    """The conventions of a request; what is none of them is added to `faults`."""
    chosen = {}
    for name, allowed in CONVENTIONS.items():
        text = given.get(name, "").strip() or allowed[0]
        if text not in allowed:
            values = {"name": name, "first": allowed[0], "second": allowed[1]}
            faults.append(Fault(name, Message("{name} is either {first} or {second}.", values)))
            text = allowed[0]
        chosen[name] = text
    units, x, zplus = cast(UnitSystem, chosen["units"]), cast(XMeans, chosen["x"]), cast(ZPlus, chosen["zplus"])
    return View(units, x, zplus, language)


class FieldReader:
    """Reads one field after the other and collects what is wrong."""

    def __init__(self, view: View, faults: list[Fault], *, typed: bool = False) -> None:
        self.view = view
        self.typed = typed
        self.faults = faults
        self.candidates: dict[str, tuple[str, ...]] = {}

    def value(self, spec: Spec, text: str) -> Any:
        """What the text says for the field; None for a blank or faulty one, a row's values by name for each row."""
        if spec.role == "rows":
            return self._rows(spec, text)
        if spec.role == "quantity":
            return self._quantity(spec, spec.quantity, text)
        if spec.role == "choice":
            return self._choice(spec, text.strip())
        if spec.role == "points":
            found, faults = read_points(text, self.view, spec.name)
            self.faults.extend(faults)
            return found or None
        if spec.role == "contour":
            return self._contour(spec, text)
        return text.strip() or None

    def _quantity(self, spec: Spec, kind: Kind, text: str) -> Given | None:
        try:
            if self.typed and asks_back(text, kind):
                raise ambiguity(text)
            number = read(text, kind, self.view)
        except ReadingError as error:
            self.faults.append(Fault(spec.name, error.message))
            self.candidates[spec.name] = error.candidates
            return None
        fault = None if number is None else spec.fault(number)
        if fault is not None:
            self.faults.append(fault)
        return None if fault is not None else number

    def _contour(self, spec: Spec, text: str) -> ContourGiven | None:
        try:
            given, faults = read_rows(rows_of(text), self.view, NAMES, spec.prefix)
        except TooLong:
            text = "A contour has at most {rows} rows, and its text at most {letters} letters: leave some out."
            self.faults.append(Fault(spec.name, Message(text, {"rows": MOST_ROWS, "letters": MOST_TEXT})))
            return None
        except BadWord as error:
            values: dict[str, Value] = {"word": error.word[:40], "position": error.position}
            text = "Word {position} of the contour, “{word}”, is not known."
            self.faults.append(Fault(spec.name, Message(text, values)))
            return None
        self.faults.extend(Fault(spec.name, fault.message) if spec.typed else fault for fault in faults)
        return given if not faults and given.elements else None

    def _rows(self, spec: Spec, text: str) -> list[dict[str, Any]]:
        listed = spec.repeated
        texts = self._words(spec, text)
        if len(texts) > listed.most:
            values: dict[str, Value] = {"most": listed.most, "count": len(texts)}
            self.faults.append(Fault(spec.name, Message("At most {most} rows fit here; these are {count}.", values)))
            return []
        return [self.row(spec, index, row) for index, row in enumerate(texts)]

    def _words(self, spec: Spec, text: str) -> tuple[Mapping[str, str], ...]:
        try:
            return texts_of(text, spec.repeated.row)
        except BadRow as bad:
            values: dict[str, Value] = {"word": bad.word[:40], "position": bad.position}
            self.faults.append(Fault(spec.name, Message("Row {position}, “{word}”, is not known.", values)))
            return ()

    def row(self, spec: Spec, index: int, texts: Mapping[str, str]) -> dict[str, Any]:
        """The values of one row by name, what is blank left out; nothing where the row is empty."""
        if not any(text.strip() for text in texts.values()):
            return {}
        named = {each.name: replace(each, name=f"{spec.name}.{index}.{each.name}") for each in specs(spec.repeated.row)}
        found = {name: self.value(each, texts.get(name, "")) for name, each in named.items()}
        return {name: value for name, value in found.items() if value is not None}

    def _choice(self, spec: Spec, text: str) -> str | None:
        if not text:
            return None
        if text in spec.choices:
            return text
        allowed = ", ".join(code for code in spec.choices if code)
        values = {"typed": text[:40], "allowed": allowed}
        self.faults.append(Fault(spec.name, Message("“{typed}” is not one of: {allowed}.", values)))
        return None
