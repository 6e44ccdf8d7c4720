"""What changed between two revisions, in words: a person reads them before saving over somebody else's work."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from calc.language.fields import specs
from calc.language.messages import Phrase
from calc.language.spec import Spec
from server.sheets.addresses import Question, question_at
from server.sheets.fields import declarations
from server.sheets.model import Sheet
from server.sheets.rowwise import changed, rows_changed, rows_in, taken

SHORT = 60  # characters of a text that a sentence still quotes
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


def _record(old: Any, new: Any, where: str) -> Iterator[str]:
    for declared in declarations(type(new)):
        before, after = getattr(old, declared.name), getattr(new, declared.name)
        if before == after or declared.written == "key":
            continue
        if declared.role == "part":
            yield from _record(before, after, where)
        elif declared.role == "rows":
            yield from _rows(declared, before, after)
        else:
            yield where + _changed(declared, before, after)


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
            yield from _record(old[was[row.key]], row, f"{_called(declared, row, now[row.key])}: ")


def _called(declared: Spec, row: Any, index: int) -> str:
    name = next((text for field in NAMED_BY[declared.name] if (text := getattr(row, field))), "")
    name = name.split("?", 1)[0]
    return f"{declared.repeated.one} {index + 1}" + (f" “{name}”" if name else "")


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
    label = declared.label[:1].lower() + declared.label[1:]
    if declared.role == "flag":
        return f"{label}: {'yes' if after else 'no'}"
    if declared.written == "address":
        return _question_changed(before, after)
    was, now = (_said(declared, value) for value in (before, after))
    if not now:
        return f"{label} cleared" if len(was) > SHORT else f"{label} cleared (was “{was}”)"
    if len(was) > SHORT or len(now) > SHORT or "\n" in was + now:
        return f"{label} changed"
    return f"{label} now “{now}”" + (f" (was “{was}”)" if was else "")


def _said(declared: Spec, value: Any) -> str:
    if value is None:
        return ""
    return declared.choices.get(value, value) if declared.role == "choice" and value else str(value)


def _question_changed(before: str, after: str) -> str:
    old, new = question_at(before), question_at(after)
    if isinstance(old, str) or isinstance(new, str) or old.feature is not new.feature:
        return f"page now {after.split('?', 1)[0]} (was {before.split('?', 1)[0]})"
    return "page: " + ", ".join(parameters_changed(old, new))


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
    label = declared.label[:1].lower() + declared.label[1:] if declared else name
    return f"{label} {changed(before, after, declared.choices if declared else {})}"[: 3 * SHORT]
