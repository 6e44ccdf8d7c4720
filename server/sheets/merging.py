"""Joining two changes of one sheet: what only one of them touched is taken from it; what both touched is reported."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from typing import Any

from calc.language.fields import Spec, specs
from server.links import address
from server.sheets.addresses import question_at
from server.sheets.fields import declarations
from server.sheets.model import Sheet
from server.sheets.rowwise import rows_in, rows_joined


@dataclasses.dataclass(frozen=True, slots=True)
class Conflict:
    """A field (by its place in the joined sheet) that both changed, with what I put there; None: I removed it."""

    field: str
    mine: Any


@dataclasses.dataclass(frozen=True, slots=True)
class Merged:
    """A sheet with both changes, and the fields that both changed: there the saved one stands."""

    sheet: Sheet
    conflicts: tuple[Conflict, ...]


def merge(base: Sheet, saved: Sheet, mine: Sheet) -> Merged:
    """Join what was saved meanwhile with my own changes; both began with `base`.

    >>> from server.sheets.model import Check, Heading
    >>> base = Sheet()
    >>> saved, mine = Sheet(Heading(part="Seat")), Sheet(checks=(Check("a", "Depth"),))
    >>> merge(base, saved, mine) == Merged(Sheet(Heading(part="Seat"), checks=(Check("a", "Depth"),)), ())
    True
    """
    conflicts: list[Conflict] = []
    return Merged(_record(base, saved, mine, "", conflicts), tuple(conflicts))


def _record(base: Any, saved: Any, mine: Any, where: str, conflicts: list[Conflict]) -> Any:
    taken = {}
    for declared in declarations(type(base)):
        three = [getattr(each, declared.name) for each in (base, saved, mine)]
        taken[declared.name] = _value(declared, three, f"{where}{declared.name}", conflicts)
    return type(base)(**taken)


def _value(declared: Spec, three: Sequence[Any], where: str, conflicts: list[Conflict]) -> Any:
    base, saved, mine = three
    if saved in (base, mine):
        return mine
    if mine == base:
        return saved
    if declared.role == "part":
        return _record(base, saved, mine, f"{where}.", conflicts)
    if declared.role == "rows":
        return _rows(declared, three, where, conflicts)
    joined = _questions(base, saved, mine) if declared.written == "address" else None
    if joined is None:
        conflicts.append(Conflict(where, mine))
        return saved
    return joined


def _questions(base: str, saved: str, mine: str) -> str | None:
    """One question with both changes; None where they meet, or where it is another page's."""
    three = [question_at(each) for each in (base, saved, mine)]
    asked = [each for each in three if not isinstance(each, str)]
    if len(asked) < len(three) or len({each.feature.page for each in asked}) > 1:
        return None
    declared = {spec.name: spec for spec in specs(asked[0].feature.inputs)}
    texts = [dict(each.parameters) for each in asked]
    found = {name: _texts(declared.get(name), *(each.get(name, "") for each in texts)) for name in _names(texts)}
    return None if None in found.values() else address(asked[0].feature.page, _without_gaps(found))


def _names(texts: Sequence[Mapping[str, str]]) -> list[str]:
    return list(dict.fromkeys(name for each in texts for name in each))


def _without_gaps(found: Mapping[str, str | None]) -> dict[str, str]:
    return {name: text for name, text in found.items() if text}


def _texts(spec: Spec | None, base: str, saved: str, mine: str) -> str | None:
    """What a field of a question is after both changes; of a list of rows what each row is."""
    if saved in (base, mine):
        return mine
    if mine == base:
        return saved
    rows = [] if spec is None else [each for text in (base, saved, mine) if (each := rows_in(spec, text)) is not None]
    return rows_joined(*rows) if len(rows) == 3 else None


def _rows(declared: Spec, three: Sequence[Any], where: str, conflicts: list[Conflict]) -> tuple[Any, ...]:
    base, saved, mine = ({row.key: row for row in rows} for rows in three)
    order, both_reordered = _order(list(base), list(saved), list(mine))
    if both_reordered:
        conflicts.append(Conflict(where, list(mine)))
    found = []
    for index, row_key in enumerate(order):
        versions = [rows.get(row_key) for rows in (base, saved, mine)]
        row = _row(versions, f"{where}.{index}", conflicts)
        if row is not None:
            found.append(row)
    if len(found) > declared.repeated.most:
        conflicts.append(Conflict(where, list(mine)))
        return tuple(saved.values())
    return tuple(found)


def _row(versions: Sequence[Any], where: str, conflicts: list[Conflict]) -> Any:
    base, saved, mine = versions
    if saved in (base, mine):
        return mine
    if mine == base:
        return saved
    if base is not None and saved is not None and mine is not None:
        return _record(base, saved, mine, f"{where}.", conflicts)
    conflicts.append(Conflict(where, None if mine is None else mine.key))  # one changed what the other removed: kept
    return saved if saved is not None else mine


def _order(base: list[str], saved: list[str], mine: list[str]) -> tuple[list[str], bool]:
    """Every key of both once, additions after their neighbour; and whether both reordered, each in another way.

    The order is mine if only I changed it, else the saved one.
    """
    common = [row_key for row_key in base if row_key in saved and row_key in mine]
    saved_order, my_order = ([row_key for row_key in keys if row_key in common] for keys in (saved, mine))
    first, second = (mine, saved) if saved_order == common else (saved, mine)
    order = list(first)
    for index, row_key in enumerate(second):
        if row_key not in order:
            neighbour = next((each for each in reversed(second[:index]) if each in order), None)
            order.insert(order.index(neighbour) + 1 if neighbour else 0, row_key)
    return order, saved_order != my_order and common not in (saved_order, my_order)
