"""An entry of one of the shop's lists: the texts as they were typed, the units they are in, and what is wrong there."""

from __future__ import annotations

import datetime
import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calc.cutting.materials import read as read_material
from calc.language.fields import Spec, specs
from calc.language.messages import Message, Typed
from calc.language.problems import Fault, Problem
from calc.language.quantities import UnitSystem, View
from calc.language.translating import Language
from calc.threads.designation import read_designation
from calc.tool.holder import read_holder
from calc.tool.insert import read_insert
from server.query import Query, read_query
from server.sheets.fields import LINE
from server.sheets.refusals import Fault as Wrong
from server.sheets.refusals import Invalid
from server.sheets.texts import tidied, what_is_wrong
from server.shop.model import VERSION, Listed

Json = Any
Texts = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Content:
    """What an entry holds: the typed texts by field, and the units of those that say none."""

    texts: Texts
    units: UnitSystem = "mm"

    def query(self, listed: Listed, language: Language = "en") -> Query:
        """The texts read against the declaration of their list, for a reader of a language."""
        return read_query([*self.texts.items(), ("units", self.units)], listed.row, language)

    def view(self, language: Language = "en") -> View:
        """How the numbers of the texts are meant, for a reader of a language."""
        return View(self.units, language=language)


@dataclass(frozen=True, slots=True)
class Given:
    """An entry as somebody gives it, unchecked: a new one where `key` is blank, else a changed one."""

    texts: Mapping[str, Any]
    units: Any = "mm"
    key: str = ""
    based_on: int = 0
    language: Language = "en"


@dataclass(frozen=True, slots=True)
class Entry:
    """A tool or a proven cut as it is kept; `saved_at` and `removed_at` in milliseconds since 1970, UTC."""

    key: str
    listed: Listed
    revision: int
    content: Content
    saved_at: int
    removed_at: int | None = None


@dataclass(frozen=True, slots=True)
class Whole:
    """Both lists at one moment: how often they were changed (0 before they are begun), and every entry."""

    change: int
    entries: tuple[Entry, ...] = ()

    def standing(self, listed: Listed) -> list[Entry]:
        """The entries that stand in a list, oldest first."""
        return [each for each in self.entries if each.listed == listed and each.removed_at is None]

    def removed(self, listed: Listed) -> list[Entry]:
        """The entries that were taken out of a list, the latest first."""
        gone = [each for each in self.entries if each.listed == listed and each.removed_at is not None]
        return sorted(gone, key=lambda each: each.removed_at or 0, reverse=True)


def checked(listed: Listed, given: Given, today: datetime.date) -> Content:
    """What is to be kept of an entry, blank texts left out. Raises `Invalid` with every fault at its field.

    >>> from server.shop.model import LISTS
    >>> given = Given({"use": "turning", "insert": " CNMG 120408 "})
    >>> checked(LISTS["tools"], given, datetime.date(2026, 11, 3)).texts
    {'use': 'turning', 'insert': 'CNMG 120408'}
    """
    declared = {spec.name: spec for spec in specs(listed.row)}
    faults = [Wrong(name[:40], "There is no such field here.") for name in given.texts if name not in declared]
    faults += [
        Wrong(name, "This must be a text.") for name in declared if not isinstance(given.texts.get(name, ""), str)
    ]
    if given.units not in ("mm", "inch"):
        faults.append(Wrong("units", "units is either mm or inch."))
    if faults:
        raise Invalid(faults)
    texts = {name: text for name in declared if (text := tidied(given.texts.get(name, "")))}
    content = Content(texts, given.units)
    faults = [*_unkeepable(declared, texts), *_faults(listed, content, given.language, today)]
    if faults:
        raise Invalid(faults)
    return content


def _unkeepable(declared: Mapping[str, Spec], texts: Texts) -> Iterator[Wrong]:
    """Texts that are too long, or hold what cannot be shown."""
    for name, text in texts.items():
        wrong = what_is_wrong(text, declared[name].longest or LINE, may_have_lines=declared[name].lines)
        if wrong:
            yield Wrong(name, wrong)


def _faults(listed: Listed, content: Content, language: Language, today: datetime.date) -> Iterator[Wrong]:
    """What is wrong with the values, and what an entry cannot do without."""
    query = content.query(listed, language)
    for fault in query.faults:
        yield Wrong(fault.field, fault.message.say(query.view))
    lacking = _tool_lacks if listed.name == "tools" else _cut_lacks
    for fault in lacking(content.texts, today):
        yield Wrong(fault.field, fault.message.say(query.view))


def _tool_lacks(texts: Texts, _: datetime.date) -> Iterator[Fault]:
    if not texts.get("use"):
        yield Fault("use", Message("Choose the kind of tool."))
    if not any(texts.get(name) for name in ("name", "insert", "holder", "size", "thread")):
        text = "Give its designation, its size, its thread or what the shop calls it."
        yield Fault("insert", Message(text))


def _cut_lacks(texts: Texts, today: datetime.date) -> Iterator[Fault]:
    if not texts.get("material"):
        yield Fault("material", Message("Give the material that it is proven on."))
    if not any(texts.get(name) for name in ("surface_speed", "feed", "depth")):
        yield Fault("surface_speed", Message("Give the surface speed, the feed or the depth that is proven."))
    typed = texts.get("proved_out", "")
    if typed and _date(typed) is None:
        yield Fault("proved_out", Message("Give the date as year, month and day: 2026-11-03."))
    found = _date(typed)
    if found is not None and found > today + datetime.timedelta(days=1):  # a day, for clocks on the other side
        yield Fault("proved_out", Message("This day is still to come: give the day of the first good part."))


def _date(text: str) -> datetime.date | None:
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        return None


_Reader = Callable[[str], object]
_READERS: dict[str, _Reader] = {"insert": read_insert, "holder": read_holder, "thread": read_designation}
_KEPT = "“{typed}” is kept as it is, though it is not a designation that is known here: {why}"


def remarks(content: Content) -> tuple[Fault, ...]:
    """What is not known here of designations and materials, in words: it is kept all the same.

    >>> [each.field for each in remarks(Content({"insert": "XY-17", "holder": "PCLNR 2525M12"}))]
    ['insert']
    """
    found = []
    for name, reader in _READERS.items():
        if typed := content.texts.get(name, ""):
            try:
                reader(typed)
            except Problem as problem:
                why = problem.faults[0].message
                found.append(Fault(name, Message(_KEPT, {"typed": Typed(typed), "why": why})))
    material = content.texts.get("material", "")
    if material and read_material(material).one is None:
        text = "“{typed}” is kept as it is: no material here has this name, so the cut is offered under it alone."
        found.append(Fault("material", Message(text, {"typed": Typed(material)})))
    return tuple(found)


def written(listed: Listed, content: Content) -> str:
    """The one text that an entry is stored as.

    >>> from server.shop.model import LISTS
    >>> read_document(written(LISTS["tools"], Content({"insert": "A"}, "inch"))).units
    'inch'
    """
    document = {"format": listed.format, "version": VERSION, "units": content.units, "texts": dict(content.texts)}
    return json.dumps(document, ensure_ascii=False, separators=(",", ":"))


def read_document(text: str) -> Content:
    """The content of a stored document, which was checked when it was kept."""
    document = json.loads(text)
    return Content(document["texts"], document["units"])
