"""From JSON to a sheet and back: all that is wrong is said at its field, nothing is taken that is not declared."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Collection, Mapping
from typing import Any, TypeVar

from calc.language.messages import Phrase, Typed, as_text, joined
from calc.language.quantities import DIAMETER, UnitSystem, View
from calc.language.reading import ReadingError, read
from calc.language.spec import Spec
from server.sheets.addresses import fault_of, question_at
from server.sheets.fields import declarations
from server.sheets.keys import ALPHABET, new_key
from server.sheets.model import FORMAT, VERSION, Sheet
from server.sheets.refusals import Fault, Invalid
from server.sheets.texts import tidied, what_is_wrong

Json = Any
Kept = TypeVar("Kept")

MOST_FAULTS = 20
_ENVELOPE = ("format", "version")


def read_json(body: bytes) -> Json:
    """The value of a request's body. Raises `Invalid` for what is not strict JSON: a name twice, NaN, half a pair.

    >>> read_json(b'{"a": 1}')
    {'a': 1}
    """
    try:
        return json.loads(body.decode(), object_pairs_hook=_once, parse_constant=_no_constant)
    except UnicodeDecodeError:
        raise Invalid([Fault("", "The body must be JSON in UTF-8.")]) from None
    except RecursionError:
        raise Invalid([Fault("", "The body is nested too deeply.")]) from None
    except ValueError as error:
        raise Invalid([Fault("", Phrase("The body must be JSON: {error}.", error=Typed(str(error)[:200])))]) from None


def read_sheet(document: Json, known: Collection[str] = ()) -> Sheet:
    """The sheet that a document holds. Raises `Invalid` with every fault, an unknown version alone.

    Addresses that are `known`, since the sheet held them before, are not asked again whether their values can be read:
    what was saved once must never keep the rest from being saved.

    >>> read_sheet({"format": FORMAT, "version": 1, "heading": {"part": "Seat"}}).heading.part
    'Seat'
    """
    if not isinstance(document, dict):
        raise Invalid([Fault("", "A sheet is a JSON object.")])
    _check_version(document)
    reader = _Reader(_units(document), known)
    content = {name: value for name, value in document.items() if name not in _ENVELOPE}
    sheet = reader.record(Sheet, content, "")
    if reader.faults:
        raise Invalid(reader.faults[:MOST_FAULTS])
    return sheet


def document_of(sheet: Sheet) -> dict[str, Json]:
    """The document of a sheet, every field in its place.

    >>> document_of(Sheet())["version"]
    1
    """
    return {"format": FORMAT, "version": VERSION, **dataclasses.asdict(sheet)}


def written(sheet: Sheet) -> str:
    """The one text that a sheet is stored and exported as; reading it gives the same sheet.

    >>> read_sheet(read_json(written(Sheet()).encode())) == Sheet()
    True
    """
    return json.dumps(document_of(sheet), ensure_ascii=False, separators=(",", ":"), default=list)


def as_sent(sheet: Sheet) -> Json:
    """The document of a sheet as a client sends it.

    >>> as_sent(Sheet())["steps"]
    []
    """
    return json.loads(written(sheet))


def stored_sheet(text: str) -> Sheet:
    """The sheet of a stored text, which was checked when it was saved."""
    document = json.loads(text)
    addresses = {step.get("address", "") for step in document.get("steps", ())}
    return read_sheet(document, addresses)


def _check_version(document: Mapping[str, Json]) -> None:
    if document.get("format") != FORMAT:
        raise Invalid(
            [Fault("format", Phrase("This is no job sheet: its format must be “{format}”.", format=Typed(FORMAT)))]
        )
    version = document.get("version")
    if version != VERSION or isinstance(version, bool):
        text = "This server reads version {version} of a sheet, not the version {other}."
        if not isinstance(version, int):
            text = "This server reads version {version} of a sheet, not the version that it names."
        message = Phrase(text, version=VERSION, other=Typed(str(version)[:40]))
        raise Invalid([Fault("version", message)])


def _units(document: Mapping[str, Json]) -> UnitSystem:
    heading = document.get("heading")
    units = heading.get("units") if isinstance(heading, dict) else None
    return "inch" if units == "inch" else "mm"


class _Reader:
    """Walks a document along its declarations and collects what is wrong."""

    def __init__(self, units: UnitSystem, known: Collection[str]) -> None:
        self.units = units
        self.known = known
        self.faults: list[Fault] = []

    def record(self, of: type[Kept], value: Json, where: str) -> Kept:
        """An instance of a declared class; missing names take their defaults."""
        if not isinstance(value, dict):
            self._fault(where, "This must be an object.")
            return of()
        declared = declarations(of)
        for name in sorted(value.keys() - {each.name for each in declared}):
            self._fault(_at(where, name[:40]), "A sheet has no such field.")
        given = [each for each in declared if each.name in value]
        return of(**{each.name: self._value(each, value[each.name], _at(where, each.name)) for each in given})

    def _value(self, declared: Spec, value: Json, where: str) -> Any:
        if declared.role == "part":
            return self.record(declared.repeated.row, value, where)
        if declared.role == "rows":
            return self._rows(declared, value, where)
        if declared.role == "flag":
            return self._flag(value, where)
        if declared.most is not None:
            return self._whole(int(declared.most), value, where)
        return self._text(declared, value, where)

    def _rows(self, declared: Spec, value: Json, where: str) -> tuple[Any, ...]:
        if not isinstance(value, list):
            self._fault(where, "This must be a list.")
            return ()
        if len(value) > declared.repeated.most:
            text = "There are {count} of these; at most {most} fit on one sheet."
            self._fault(where, Phrase(text, count=len(value), most=declared.repeated.most))
            return ()
        rows = [self.record(declared.repeated.row, row, f"{where}.{index}") for index, row in enumerate(value)]
        return _with_keys(rows)

    def _flag(self, value: Json, where: str) -> bool:
        if not isinstance(value, bool):
            self._fault(where, "This must be true or false.")
        return value is True

    def _whole(self, most: int, value: Json, where: str) -> int | None:
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= most:
            self._fault(where, Phrase("This must be a whole number from 0 to {most}, or blank.", most=most))
            return None
        return value

    def _text(self, declared: Spec, value: Json, where: str) -> str:
        if not isinstance(value, str):
            self._fault(where, "This must be a text.")
            return ""
        text = tidied(value)
        wrong = self._wrong(declared, text)
        if wrong:
            self._fault(where, wrong)
            return ""
        return self._canonical(text) if declared.written == "address" else text

    def _wrong(self, declared: Spec, text: str) -> str:
        if declared.role == "choice":
            allowed = joined(Typed(code) for code in declared.choices if code)
            return "" if text in declared.choices else Phrase("This must be one of: {allowed}.", allowed=allowed)
        wrong = what_is_wrong(text, declared.longest, may_have_lines=declared.lines)
        if wrong or not declared.written:
            return wrong
        if declared.written == "key":
            return "" if set(text) <= set(ALPHABET) else "A key has small letters and digits alone."
        return self._wrong_length(text) if declared.written == "length" else self._wrong_address(text)

    def _wrong_length(self, text: str) -> str:
        view = View(self.units)
        try:
            value = read(text, DIAMETER, view)
        except ReadingError as error:
            return as_text(error.message)
        return "" if value is None or value > 0 else "This must be more than 0."

    def _wrong_address(self, text: str) -> str:
        question = question_at(text)
        if isinstance(question, str):
            return "" if text in self.known else question
        return "" if text in self.known else fault_of(question)

    def _canonical(self, text: str) -> str:
        question = question_at(text)
        return text if isinstance(question, str) or text in self.known else question.address

    def _fault(self, where: str, message: str) -> None:
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(Fault(where, message))


def _with_keys(rows: list[Any]) -> tuple[Any, ...]:
    """The rows with a key each: a missing one is given, a repeated one (a duplicated row) is given anew."""
    seen: set[str] = set()
    found = []
    for row in rows:
        kept = row if row.key and row.key not in seen else dataclasses.replace(row, key=new_key())
        seen.add(kept.key)
        found.append(kept)
    return tuple(found)


def _at(where: str, name: str) -> str:
    return f"{where}.{name}" if where else name


def _once(pairs: list[tuple[str, Json]]) -> dict[str, Json]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a name stands twice in one object")
    if any("\ud800" <= character <= "\udfff" for name in found for character in name):
        raise ValueError("a name holds half of a pair of characters")
    return found


def _no_constant(name: str) -> Json:
    raise ValueError(f"{name} is no number")
