"""Lists of rows in a question (operations, a contour): two of them compared in words, two changes of one joined."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from typing import NamedTuple

from calc.contour.text import FLAGS, BadWord, Row, rows_of
from calc.contour.text import text_of as contour_text_of
from calc.language.fields import Spec, specs
from calc.language.messages import Noun, Phrase, Typed, TypedNumber, joined
from server.row_labels import FLAGS_TOLD, TITLES, TOLD
from server.row_texts import BadRow, text_of, texts_of

Texts = Mapping[str, str]
KIND = "kind"
"""What a row is, among its texts."""
NAMES = frozenset({"named", "relief", "br", "size"})
"""The fields of a contour's row that are designations, no numbers."""
LONGEST = 90  # characters of a text that a sentence still quotes


@dataclass(frozen=True)
class Rows:
    """The rows of one text: how they are called, and how the text is made of them again.

    `choices` holds the words of a field's codes, `taken` the code that is taken where a field is blank, `numbers` the
    fields whose text is a number.
    """

    rows: tuple[Texts, ...]
    called: Callable[[int, Texts], str]
    labels: Mapping[str, str]
    written: Callable[[Sequence[Texts]], str]
    choices: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    taken: Texts = field(default_factory=dict)
    numbers: Collection[str] = ()


def rows_in(spec: Spec, text: str) -> Rows | None:
    """The rows of an input's text; None for an input without any, and for a text that is none.

    >>> from calc.questions.part.declared import PartInputs
    >>> plan = next(spec for spec in specs(PartInputs) if spec.name == "operations")
    >>> rows = rows_in(plan, "kind:face~feed:0.2*kind:finish")
    >>> [rows.called(number, row) for number, row in enumerate(rows.rows, 1)]
    ['operation 1 facing', 'operation 2 finishing']
    """
    try:
        if spec.role == "contour":
            return _of_contour(spec, text)
        return _listed(spec, text) if spec.rows is not None else None
    except (BadWord, BadRow):
        return None


def _listed(spec: Spec, text: str) -> Rows:
    declared = specs(spec.repeated.row)
    lead, one = declared[0], Noun(spec.repeated.one)

    def called(number: int, row: Texts) -> str:
        typed = row.get(lead.name, "")
        what = _said(typed, lead.choices, number=lead.kind is not None)
        return Phrase("{one} {number} {what}" if typed else "{one} {number}", one=one, number=number, what=what)

    labels = {each.name: each.label for each in declared}
    choices = {each.name: each.choices for each in declared if each.choices}
    numbers = {each.name for each in declared if each.kind is not None}
    return Rows(texts_of(text, spec.repeated.row), called, labels, text_of, choices, taken(declared), numbers)


def taken(declared: Iterable[Spec]) -> Texts:
    """The codes that choices stand at, and so what is meant where they are left blank."""
    return {each.name: each.start for each in declared if each.choices and isinstance(each.start, str)}


def _of_contour(spec: Spec, text: str) -> Rows:
    name = Noun(spec.label)
    rows = tuple({KIND: row.kind, **row.texts, **dict.fromkeys(row.flags, "yes")} for row in rows_of(text))

    def called(number: int, row: Texts) -> str:
        title = Noun(TITLES[row[KIND]])  # type: ignore[index]  # it is a kind of row
        return Phrase("{name}, row {number} {title}", name=name, number=number - 1, title=title)

    def written(found: Sequence[Texts]) -> str:
        return contour_text_of(_row(each) for each in found)

    labels, flags = {**TOLD, **FLAGS_TOLD}, {name: {"yes": "yes"} for name in FLAGS}
    return Rows(rows, called, labels, written, flags, numbers=TOLD.keys() - NAMES)


def _row(texts: Texts) -> Row:
    flags = frozenset(name for name in FLAGS if texts.get(name))
    plain = {name: text for name, text in texts.items() if name != KIND and name not in FLAGS}
    return Row(texts[KIND], plain, flags)  # type: ignore[arg-type]  # it was a kind when it was read


def rows_changed(old: Rows, new: Rows) -> Iterator[str]:
    """Sentences on how the rows of `new` came out of those of `old`."""
    for low, high, now, end in _edits(old.rows, new.rows):
        gone, come = list(range(low, high)), list(range(now, end))
        while gone and come and old.rows[gone[0]].get(KIND) == new.rows[come[0]].get(KIND):
            at, there = gone.pop(0), come.pop(0)
            if changes := joined(_fields_changed(old.rows[at], new.rows[there], new)):
                yield Phrase("{called}: {said}", called=new.called(there + 1, new.rows[there]), said=changes)
        yield from (Phrase("{called}: removed", called=old.called(at + 1, old.rows[at])) for at in gone)
        yield from (Phrase("{called}: added", called=new.called(at + 1, new.rows[at])) for at in come)


def _edits(old: Sequence[Texts], new: Sequence[Texts]) -> Iterator[tuple[int, int, int, int]]:
    """The runs of rows of `old` (from, to) that are others in `new` (from, to)."""
    hashed = [[tuple(sorted(row.items())) for row in rows] for rows in (old, new)]
    matched = SequenceMatcher(None, hashed[0], hashed[1], autojunk=False)
    for what, low, high, now, end in matched.get_opcodes():
        if what != "equal":
            yield low, high, now, end


def _fields_changed(old: Texts, new: Texts, rows: Rows) -> Iterator[str]:
    for name in dict.fromkeys([*old, *new]):
        before, after = (texts.get(name) or rows.taken.get(name, "") for texts in (old, new))
        if before != after:
            label = Noun(rows.labels.get(name, name))
            yield changed(label, before, after, rows.choices.get(name, {}), number=name in rows.numbers)


def changed(label: str, before: str, after: str, words: Mapping[str, str], *, number: bool = False) -> str:
    """What the text of a field called `label` became and what it was, in the words of its choices.

    >>> changed("place", "", "last", {"last": "at the end"}), changed("", "0.12", "", {}, number=True)
    ('place at the end (was open)', 'left open (was 0.12)')
    """
    was, now = (_said(text, words, number=number) for text in (before, after))
    if not after:
        text = "{label} left open (was {was})" if label else "left open (was {was})"
    elif before:
        text = "{label} {now} (was {was})" if label else "{now} (was {was})"
    else:
        text = "{label} {now} (was open)" if label else "{now} (was open)"
    return Phrase(text, label=label, was=was, now=now)


def _said(text: str, words: Mapping[str, str], *, number: bool) -> str:
    """The words of a choice; any other text as it was typed, cut where it is long."""
    if text in words:
        return words[text]
    short = text if len(text) <= LONGEST else f"{text[:LONGEST]}…"
    return TypedNumber(short) if number else Typed(short)


def rows_joined(base: Rows, saved: Rows, mine: Rows) -> str | None:
    """The text with both changes of `base`; None where they meet in one field, or in rows that came or went."""
    edits = sorted([*_single(base.rows, saved.rows, 0), *_single(base.rows, mine.rows, 1)], key=lambda each: each[:2])
    found: list[Texts] = []
    done = 0
    while edits:
        group = [edits.pop(0)]
        while edits and (edits[0].low < group[-1].high or edits[0].low == group[-1].low):
            group.append(edits.pop(0))
        rows = _joined(base.rows, group)
        if rows is None:
            return None
        found += [*base.rows[done : group[0].low], *rows]
        done = group[0].high
    return base.written([*found, *base.rows[done:]])


class _Edit(NamedTuple):
    """Rows of the base, from `low` to `high`, for which one side (0 the saved one, 1 mine) has others."""

    low: int
    high: int
    side: int
    rows: tuple[Texts, ...]


def _single(base: Sequence[Texts], other: Sequence[Texts], side: int) -> Iterator[_Edit]:
    """The changes of one side, row by row where as many rows came as went."""
    for low, high, now, end in _edits(base, other):
        if high - low == end - now:
            yield from (_Edit(low + at, low + at + 1, side, (other[now + at],)) for at in range(high - low))
        else:
            yield _Edit(low, high, side, tuple(other[now:end]))


def _joined(base: Sequence[Texts], group: Sequence[_Edit]) -> Sequence[Texts] | None:
    """The rows instead of those that a group of changes meets in: the one change, or two of one row field by field."""
    if len(group) == 1:
        return group[0].rows
    low, high = group[0].low, group[0].high
    alike = all((each.low, each.high, len(each.rows)) == (low, low + 1, 1) for each in group)
    if len(group) > len({each.side for each in group}) or not alike or high != low + 1:
        return None
    saved, mine = (each.rows[0] for each in sorted(group, key=lambda each: each.side))
    row = _fields_joined(base[low], saved, mine)
    return None if row is None else (row,)


def _fields_joined(base: Texts, saved: Texts, mine: Texts) -> Texts | None:
    found = {}
    for name in dict.fromkeys([*base, *saved, *mine]):
        was, theirs, own = (row.get(name, "") for row in (base, saved, mine))
        if was not in (theirs, own) and theirs != own:
            return None
        found[name] = own if theirs == was else theirs
    return {name: text for name, text in found.items() if text}
