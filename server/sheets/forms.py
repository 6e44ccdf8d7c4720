"""Forms of the sheets' pages: from what a browser posts to a document, and the fields that show it again.

A field is named by its place in the document (`steps.2.note`). Every button sends the whole form, so that no press ever
loses what was typed: `do` then says what else to do, `up:KEY` moving that row up.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import parse_qsl

from fastapi import Request

from calc.language.quantities import METRIC, View
from calc.language.spec import Spec
from server.sheets.fields import declarations
from server.sheets.keys import new_key
from server.sheets.model import FORMAT, VERSION, Sheet
from server.sheets.refusals import Fault, Invalid
from server.sheets.requests import body_within

MOST_FIELDS = 2000
_DO = re.compile(r"(up|down|remove|double|add):([a-z0-9]+)")

Json = Any


@dataclass(frozen=True, slots=True)
class Field:
    """One field as a form shows it."""

    name: str
    declared: Spec
    value: Any = ""
    error: str = ""


async def form_of(request: Request, most: int) -> dict[str, str]:
    """The fields of a posted form, of a file its text. Raises `Invalid` for what is none, `TooLarge`."""
    body = await body_within(request, most)
    kind = request.headers.get("Content-Type", "")
    try:
        if kind.startswith("multipart/form-data"):
            return _parts(kind, body)
        pairs = parse_qsl(body.decode(), keep_blank_values=True, errors="strict", max_num_fields=MOST_FIELDS)
    except ValueError:
        raise Invalid([Fault("", "This form cannot be read. Load the page again and try once more.")]) from None
    return dict(pairs)


def _parts(kind: str, body: bytes) -> dict[str, str]:
    from email.parser import BytesParser  # noqa: PLC0415 - 2 MB that only a file's form needs
    from email.policy import HTTP  # noqa: PLC0415

    message = BytesParser(policy=HTTP).parsebytes(b"Content-Type: " + kind.encode() + b"\r\n\r\n" + body)
    if not message.is_multipart():
        raise ValueError("no parts")
    found = {}
    for part in message.iter_parts():
        name = part.get_param("name", header="content-disposition")
        content = part.get_payload(decode=True)
        if isinstance(name, str) and isinstance(content, bytes):
            found[name] = content.decode()
    return found


def document_in(form: Mapping[str, str]) -> Json:
    """The document that a form holds, unchecked: a text where a number should be stays a text, and is said later.

    >>> document_in({"heading.part": "Seat", "steps.0.key": "a", "steps.0.practice": "on"})["steps"][0]["practice"]
    True
    """
    return {"format": FORMAT, "version": VERSION, **_record(Sheet, form, "")}


def _record(of: type[Any], form: Mapping[str, str], where: str) -> Json:
    return {each.name: _value(each, form, f"{where}{each.name}") for each in declarations(of)}


def _value(declared: Spec, form: Mapping[str, str], name: str) -> Json:
    if declared.role == "part":
        return _record(declared.repeated.row, form, f"{name}.")
    if declared.role == "rows":
        rows = range(_count(form, name, declared.repeated.most))
        return [_record(declared.repeated.row, form, f"{name}.{row}.") for row in rows]
    text = form.get(name, "")
    if declared.role == "flag":
        return bool(text)
    if declared.most is not None:
        digits = text.strip()
        is_number = digits.isascii() and digits.isdecimal() and len(digits) < 10
        return int(digits) if is_number else digits or None
    return text


def _count(form: Mapping[str, str], name: str, most: int) -> int:
    """How many rows the form has, each known by its hidden key; one more than fit is enough to be refused."""
    return next((row for row in range(most + 1) if f"{name}.{row}.key" not in form), most + 1)


def carried_out(document: Json, do: str) -> Json:
    """The document after what a button asks for: a row moved up or down, removed, doubled, or a new one added.

    >>> document = {"steps": [{"key": "a"}, {"key": "b"}], "setup": {"touches": []}, "checks": []}
    >>> [step["key"] for step in carried_out(document, "up:b")["steps"]]
    ['b', 'a']
    """
    found = _DO.fullmatch(do)
    if not found:
        return document
    what, which = found.groups()
    lists = {"steps": document["steps"], "touches": document["setup"]["touches"], "checks": document["checks"]}
    if what == "add" and which in lists:
        lists[which].append({"key": new_key()})
        return document
    for rows in lists.values():
        index = next((index for index, row in enumerate(rows) if row.get("key") == which), None)
        if index is not None:
            _move(rows, index, what)
    return document


def _move(rows: list[Json], index: int, what: str) -> None:
    if what == "remove":
        del rows[index]
    elif what == "double":
        rows.insert(index + 1, {**rows[index], "key": new_key()})
    else:
        to = index - 1 if what == "up" else index + 1
        if 0 <= to < len(rows):
            rows[index], rows[to] = rows[to], rows[index]


def fields_of(
    of: type[Any],
    document: Mapping[str, Json],
    where: str = "",
    errors: Mapping[str, str] | None = None,
    view: View = METRIC,
) -> dict[str, Field]:
    """The fields of one record by their short names, with the values of a document, checked or not."""
    return {
        each.name: Field(
            f"{where}{each.name}",
            each if view.language == "en" else each.worded(view),
            document.get(each.name, ""),
            (errors or {}).get(f"{where}{each.name}", ""),
        )
        for each in declarations(of)
        if each.rows is None
    }
