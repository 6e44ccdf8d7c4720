"""The shop's lists in JSON: what is sent is read strictly, what is answered has the numbers beside the texts."""

from __future__ import annotations

from typing import Any

from calc.language.fields import specs
from server.answers import value_json
from server.sheets.answers import said_time
from server.sheets.refusals import Fault, Invalid
from server.shop.entry import Entry, Given, Whole, remarks
from server.shop.model import LISTS, VERSION, Listed

Json = dict[str, Any]
FIELDS = ("format", "version", "units", "texts")


def whole_json(whole: Whole) -> Json:
    """Both lists with all that stands in them."""
    return {
        "version": VERSION,
        "change": whole.change,
        **{name: [entry_json(each) for each in whole.standing(listed)] for name, listed in LISTS.items()},
    }


def list_json(listed: Listed, whole: Whole) -> Json:
    """One list: what stands in it, and what was removed."""
    return {
        "version": VERSION,
        "change": whole.change,
        listed.name: [entry_json(each) for each in whole.standing(listed)],
        "removed": [entry_json(each) for each in whole.removed(listed)],
    }


def entry_json(entry: Entry) -> Json:
    """An entry: its marks, the texts as they were typed, the values that they were read as, what is not known."""
    query = entry.content.query(entry.listed)
    declared = {spec.name: spec for spec in specs(entry.listed.row)}
    return {
        "key": entry.key,
        "revision": entry.revision,
        "saved_at": said_time(entry.saved_at),
        "removed": entry.removed_at is not None,
        "format": entry.listed.format,
        "version": VERSION,
        "units": entry.content.units,
        "texts": dict(entry.content.texts),
        "values": {name: value_json(declared[name], query.values[name], query.view) for name in entry.content.texts},
        "remarks": [
            {"field": each.field, "message": each.message.say(entry.content.view())} for each in remarks(entry.content)
        ],
    }


def given_in(listed: Listed, document: Any, key: str = "", based_on: int = 0) -> Given:
    """The entry that a document holds, its fields unchecked. Raises `Invalid` for what is no such document.

    >>> document = {"format": "chuckside tool", "version": 1, "texts": {"use": "drill", "size": "8.5"}}
    >>> given_in(LISTS["tools"], document).texts["size"]
    '8.5'
    """
    if not isinstance(document, dict):
        raise Invalid([Fault("", f"A {listed.one} is a JSON object.")])
    if document.get("format") != listed.format:
        raise Invalid([Fault("format", f"This is no {listed.one}: its format must be “{listed.format}”.")])
    if document.get("version") != VERSION or isinstance(document["version"], bool):
        raise Invalid([Fault("version", f"This server reads version {VERSION} of a {listed.one}.")])
    unknown = [Fault(name[:40], "There is no such field here.") for name in document if name not in FIELDS]
    if unknown:
        raise Invalid(unknown)
    texts = document.get("texts")
    if not isinstance(texts, dict):
        raise Invalid([Fault("texts", "This must be an object: a text for each field that is not blank.")])
    return Given(texts, document.get("units", "mm"), key, based_on)
