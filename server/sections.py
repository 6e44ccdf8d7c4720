"""An answer in sections: its points, its results by groups, its lists, what is explained about them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from calc.answer.feature import Answer, Rows
from calc.language.messages import Message, say_text
from calc.language.quantities import View
from calc.language.worded import worded_specs
from server.context import ResultView, SectionView, TableView
from server.form import key_of
from server.links import Links
from server.shown import explained, told_of
from server.tables import points_table, rows_table


def sections(links: Links, answer: Answer[Any], found: Mapping[str, ResultView]) -> Iterable[SectionView]:
    """The sections of an answer in their order; `found` are its results as they are shown."""
    view = links.query.view
    if answer.points:
        table = points_table(answer.points, answer.points_note, view)
        summary = Message("{count} points", {"count": len(table.rows)}).say(view)
        yield SectionView("points", table.caption, tables=(table,), folded=False, summary=summary)
    declared = {spec.name: spec for spec in worded_specs(links.feature.results, view)}
    by_group: dict[str, list[ResultView]] = {}
    for name, result in found.items():
        by_group.setdefault(declared[name].group, []).append(result)
    tables = {name: rows for name, rows in links.feature.rows.items() if answer.tables.get(name)}
    groups = dict.fromkeys([*by_group, *(rows.group for rows in tables.values()), *explained(answer)])
    for group in groups:
        results = tuple(by_group.get(group, ()))
        listed = tuple(
            _table(links, name, rows, answer.tables[name]) for name, rows in tables.items() if rows.group == group
        )
        summary = told_of(results, declared)
        folded = group not in links.feature.unfolded
        yield SectionView(
            key_of(group),
            say_text(group or "All values", view),
            results,
            listed,
            _sentences(group, answer, view),
            folded,
            summary,
        )


def _table(links: Links, name: str, rows: Rows, found: Sequence[Any]) -> TableView:
    """A list as a table, each row with the address that asks for it where a tap fills a field."""
    table = rows_table(name, rows, found, links.query.view)
    if not rows.fills:
        return table
    return replace(table, links=tuple(links.with_text(**{rows.fills: row[0]}) for row in table.rows))


def _sentences(group: str, answer: Answer[Any], view: View) -> tuple[str, ...]:
    return tuple(message.say(view) for message in answer.sentences.get(group, ()))
