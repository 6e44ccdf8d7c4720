"""A whole list as CSV, and back: one row for each entry, one column for each field, to the digit as it was typed.

The first columns are the entry's key, its revision and its units: a row that bears them changes the entry, one without
them adds one. Spreadsheets write commas, semicolons or tabs between the columns; each is read.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence

from calc.language.fields import specs
from calc.language.messages import Phrase, Typed, joined
from server.sheets.refusals import Fault, Invalid
from server.shop.entry import Entry, Given
from server.shop.model import Listed

MARKS = ("key", "revision", "units")
SEPARATORS = (",", ";", "\t")
_CALCULATED = ("=", "+", "@", "\t")  # with which a spreadsheet begins to calculate
_GUARD = "'"


def columns(listed: Listed) -> tuple[str, ...]:
    """The heads of the columns."""
    return (*MARKS, *(spec.name for spec in specs(listed.row)))


def as_csv(listed: Listed, entries: Iterable[Entry]) -> str:
    """The entries as CSV. A text that a spreadsheet would calculate stands behind an apostrophe."""
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\r\n")
    writer.writerow(columns(listed))
    for each in entries:
        marks = {"key": each.key, "revision": str(each.revision), "units": each.content.units}
        row = {**each.content.texts, **marks}
        writer.writerow([_guarded(row.get(name, "")) for name in columns(listed)])
    return written.getvalue()


def rows_in(listed: Listed, text: str) -> list[Given]:
    """The entries that a CSV holds. Raises `Invalid` for what is none, with the row where there is one.

    >>> from server.shop.model import LISTS
    >>> rows_in(LISTS["cuts"], "material;feed\\nC45;0,25")[0].texts
    {'material': 'C45', 'feed': '0,25'}
    """
    lines = text.removeprefix("\ufeff")
    head = lines.partition("\n")[0]
    separator = max(SEPARATORS, key=head.count)
    reader = csv.reader(io.StringIO(lines, newline=""), delimiter=separator, strict=True)
    try:
        rows = [row for row in reader if any(row)]
    except csv.Error:
        text = "Line {number} cannot be read as CSV: look for a quotation mark too many or too few."
        raise Invalid([Fault("file", Phrase(text, number=reader.line_num))]) from None
    if not rows:
        raise Invalid([Fault("file", "Choose a file, or paste its rows.")])
    names = [name.strip().lower() for name in rows[0]]
    _check_heads(listed, names)
    return [_given(names, row, number) for number, row in enumerate(rows[1:], 2)]


def _check_heads(listed: Listed, names: Sequence[str]) -> None:
    known = columns(listed)
    unknown = [name for name in names if name and name not in known]
    if unknown or not set(names) & set(known):
        text = "The first row must name the columns; “{name}” is none. Known: {known}."
        name = Typed((unknown or names)[0][:40])
        raise Invalid([Fault("file", Phrase(text, name=name, known=joined(map(Typed, known))))])
    twice = next((name for name in names if name and names.count(name) > 1), "")
    if twice:
        raise Invalid([Fault("file", Phrase("The column “{name}” stands twice.", name=Typed(twice)))])


def _given(names: Sequence[str], row: Sequence[str], number: int) -> Given:
    if any(cell.strip() for cell in row[len(names) :]):
        raise Invalid([Fault("file", Phrase("Row {number} has more cells than there are columns.", number=number))])
    cells: Mapping[str, str] = {name: _bare(cell) for name, cell in zip(names, row, strict=False) if name}
    revision = cells.get("revision", "").strip() or "0"
    if not (revision.isascii() and revision.isdecimal() and len(revision) < 9):
        text = "Row {number}, revision: this must be a whole number, or blank for a new row."
        raise Invalid([Fault("file", Phrase(text, number=number))])
    texts = {name: text for name, text in cells.items() if name not in MARKS}
    return Given(texts, cells.get("units", "").strip() or "mm", cells.get("key", "").strip(), int(revision))


def _guarded(text: str) -> str:
    return _GUARD + text if text.startswith(_CALCULATED) else text


def _bare(cell: str) -> str:
    return cell[1:] if cell.startswith(_GUARD) and cell[1:].startswith(_CALCULATED) else cell
