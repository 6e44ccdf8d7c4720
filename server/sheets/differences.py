"""What changed between two revisions, in words: a person reads them before saving over somebody else's work."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from calc.language.fields import specs
from calc.language.messages import Noun, Phrase, Typed, joined
from calc.language.spec import Spec
from server.sheets.addresses import Question, question_at
from server.sheets.fields import declarations
from server.sheets.model import Sheet
from server.sheets.rowwise import changed, rows_changed, rows_in, taken

SHORT = 60  # characters of a text that a sentence still quotes
SWITCHES = {"units": "Units", "x": "X means", "zplus": "+Z points"}
NAMED_BY = {"steps": ("title", "address"), "touches": ("tool",), "checks": ("what",)}


def differences(old: Sheet, new: Sheet) -> list[str]:
    """Sentences that say how `new` came out of `old`; none when they are the same.

    >>> from dataclasses import replace
    >>> from server.sheets.model import Heading, Step
    >>> old = Sheet(steps=(Step("a", "Dish"), Step("b", "Spindle"), Step("c", "Finish")))
    >>> new = Sheet(Heading(part="Seat"), (old.steps[2], old.steps[0], replace(old.steps[1], note="New insert")))
    >>> differences(old, new)
    ['part now “Seat”', 'step 3 “Finish”: moved to 1', 'step 3 “Spindle”: note now “New insert”']
    """
    return list(_record(old, new, ""))


def _record(old: Any, new: Any, called: str) -> Iterator[str]:
    for declared in declarations(type(new)):
        before, after = getattr(old, declared.name), getattr(new, declared.name)
        if before == after or declared.written == "key":
            continue
        if declared.role == "part":
            yield from _record(before, after, called)
        elif declared.role == "rows":
            yield from _rows(declared, before, after)
        else:
            said = _changed(declared, before, after)
            yield Phrase("{called}: {said}", called=called, said=said) if called else said


def _rows(declared: Spec, old: Sequence[Any], new: Sequence[Any]) -> Iterator[str]:
    was = {row.key: index for index, row in enumerate(old)}
    now = {row.key: index for index, row in enumerate(new)}
    for row in old:
        if row.key not in now:
            yield Phrase("{called}: removed", called=_called(declared, row, was[row.key]))
    for row in new:
        if row.key not in was:
            yield Phrase("{called}: added", called=_called(declared, row, now[row.key]))
    for row_key in _moved([row.key for row in old if row.key in now], [row.key for row in new if row.key in was]):
        yield Phrase(
            "{called}: moved to {now}", called=_called(declared, old[was[row_key]], was[row_key]), now=now[row_key] + 1
        )
    for row in new:
        if row.key in was:
            yield from _record(old[was[row.key]], row, _called(declared, row, now[row.key]))


def _called(declared: Spec, row: Any, index: int) -> str:
    name = next((text for field in NAMED_BY[declared.name] if (text := getattr(row, field))), "")
    one = Noun(declared.repeated.one)
    if not name:
        return Phrase("{one} {number}", one=one, number=index + 1)
    return Phrase("{one} {number} “{name}”", one=one, number=index + 1, name=Typed(name.split("?", 1)[0]))


def _moved(old: Sequence[str], new: Sequence[str]) -> list[str]:
    """The fewest keys whose moving makes the new order out of the old one, in the new order."""
    place = {row_key: index for index, row_key in enumerate(old)}
    stay = _longest_rise([place[row_key] for row_key in new])
    return [row_key for index, row_key in enumerate(new) if index not in stay]


def _longest_rise(values: Sequence[int]) -> set[int]:
    """The indices of a longest rising subsequence."""
    ends: list[int] = []
    ends_at: list[int] = []
    before: list[int] = []
    for index, value in enumerate(values):
        length = bisect_left(ends, value)
        before.append(ends_at[length - 1] if length else -1)
        ends[length:], ends_at[length:] = [value, *ends[length + 1 :]], [index, *ends_at[length + 1 :]]
    found, index = set(), ends_at[-1] if ends_at else -1
    while index >= 0:
        found.add(index)
        index = before[index]
    return found


def _changed(declared: Spec, before: Any, after: Any) -> str:
    label = Noun(declared.label)
    if declared.role == "flag":
        return Phrase("{label}: {said}", label=label, said="yes" if after else "no")
    if declared.written == "address":
        return _question_changed(before, after)
    was, now = (_said(declared, value) for value in (before, after))
    if not now:
        text = "{label} cleared" if len(was) > SHORT else "{label} cleared (was “{was}”)"
    elif len(was) > SHORT or len(now) > SHORT or "\n" in was + now:
        text = "{label} changed"
    else:
        text = "{label} now “{now}” (was “{was}”)" if was else "{label} now “{now}”"
    return Phrase(text, label=label, was=was, now=now)


def _said(declared: Spec, value: Any) -> str:
    if value is None:
        return ""
    return declared.choices.get(value, value) if declared.role == "choice" and value else Typed(value)


def _question_changed(before: str, after: str) -> str:
    old, new = question_at(before), question_at(after)
    if isinstance(old, str) or isinstance(new, str) or old.feature is not new.feature:
        was, now = (Typed(address.split("?", 1)[0]) for address in (before, after))
        return Phrase("page now {now} (was {was})", now=now, was=was)
    return Phrase("page: {changes}", changes=joined(parameters_changed(old, new)))


def parameters_changed(old: Question, new: Question) -> Iterable[str]:
    """Sentences on how a question came out of another one of the same page."""
    declared = {spec.name: spec for spec in specs(new.feature.inputs)}
    blank = taken(declared.values())
    was, now = dict(old.parameters), dict(new.parameters)
    for name in dict.fromkeys([*was, *now]):
        before, after = (texts.get(name) or blank.get(name, "") for texts in (was, now))
        if before == after:
            continue
        rows = [rows_in(declared[name], text) for text in (before, after)] if name in declared else [None]
        if rows[0] is not None and rows[-1] is not None:
            yield from rows_changed(rows[0], rows[-1])
        else:
            yield _parameter_changed(declared.get(name), name, before, after)


def _parameter_changed(declared: Spec | None, name: str, before: str, after: str) -> str:
    if declared is None:
        return changed(Noun(SWITCHES.get(name, name)), before, after, {})
    return changed(Noun(declared.label), before, after, declared.choices, number=declared.kind is not None)
