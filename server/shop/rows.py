"""The rows of a list that is taken in as a whole, settled against what stands: new ones, changed ones, joined ones."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from calc.language.fields import specs
from calc.language.messages import Phrase, Typed, TypedNumber
from server.sheets.refusals import Fault, Invalid, Refusal
from server.shop.entry import Content, Entry, Given, checked
from server.shop.joining import joined
from server.shop.model import Listed

MOST_FAULTS = 20
FIRST_ROW = 2  # the heads of the columns are row 1


@dataclass(frozen=True, slots=True)
class Settled:
    """An entry to be kept: a new one where `key` is blank, else the revision after `based_on`."""

    content: Content
    key: str = ""
    based_on: int = 0


RevisionOf = Callable[[str, int], Entry]


def settled_rows(
    listed: Listed, rows: Sequence[Given], standing: Mapping[str, Entry], revision: RevisionOf, today: datetime.date
) -> list[Settled]:
    """What is to be kept of the rows; those that change nothing are left out.

    Raises `Invalid` with what is wrong in each row, at `file`. `revision` gives an older revision of an entry.
    """
    found: list[Settled] = []
    faults: list[Fault] = []
    for number, row in enumerate(rows, FIRST_ROW):
        try:
            found += _settled(listed, row, standing, revision, today)
        except Refusal as refused:
            faults += [Fault("file", text) for text in _said(listed, number, refused)]
    if faults:
        raise Invalid(faults[:MOST_FAULTS])
    return found


def _settled(
    listed: Listed, row: Given, standing: Mapping[str, Entry], revision: RevisionOf, today: datetime.date
) -> Iterator[Settled]:
    content = checked(listed, row, today)
    if not row.key:
        yield Settled(content)
        return
    current = standing.get(row.key)
    if current is None:
        raise Invalid([Fault("key", "nothing in the list has this key; leave it out to add the row as a new one.")])
    if content == current.content:
        return
    if current.removed_at is not None:
        raise Invalid([Fault("key", "this was removed; bring it back first, or leave the key out to add it anew.")])
    if row.based_on != current.revision:
        content = _with_both(listed, revision(row.key, row.based_on).content, current.content, content)
    yield Settled(content, row.key, current.revision)


def _with_both(listed: Listed, base: Content, saved: Content, mine: Content) -> Content:
    both = joined(listed, base, saved, mine)
    if both.mine:
        numbers = {spec.name for spec in specs(listed.row) if spec.kind is not None}
        raise Invalid(
            [_met(name, saved, own, TypedNumber if name in numbers else Typed) for name, own in both.mine.items()]
        )
    return both.content


def _met(name: str, saved: Content, own: str, quoted: type[Typed]) -> Fault:
    """What is said of a field that somebody else changed too."""
    text = "somebody put “{saved}” here meanwhile, and this row has “{own}”."
    return Fault(name, Phrase(text, saved=quoted(saved.texts.get(name, "")), own=quoted(own)))


def _said(listed: Listed, number: int, refused: Refusal) -> Iterator[str]:
    labels = {spec.name: spec.label for spec in specs(listed.row)}
    for fault in refused.faults:
        text = "Row {number}, {field}: {message}" if fault.field else "Row {number}: {message}"
        field = labels.get(fault.field) or Typed(fault.field)
        yield Phrase(text, number=number, field=field, message=fault.message)
