"""Lists of declared rows (readings, operations) in an address and in a form.

The compact text has a word for each row, between stars; a word has `name:text` for each field that is not blank,
between tildes. What follows a name is what somebody typed, to the digit; an empty word is a row yet to be filled in:

    x:10~z:-5*x:20~z:-7.5

A form has a field `readings.2.x` for each, rows counted from 0, and buttons that add or remove a row; rows whose order
counts can be copied and moved, and left out by their switch.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from calc.language.fields import Repeated, Spec, specs
from calc.language.quantities import Kind, View
from calc.language.reading import rewrite_for_switch, strip_unit

FIELD = re.compile(r"([a-z][a-z_0-9]*)\.(\d{1,3})\.([a-z][a-z_0-9]*)")
ACTION = "do"
ADD, REMOVE, COPY, UP, DOWN, SWITCH, FILL = VERBS = ("add", "remove", "copy", "up", "down", "switch", "fill")
MOST_TEXT = 24_000

# The separators, if somebody types them, as look-alikes that the text may hold.
_AWAY = str.maketrans("*~", "∗∼")
_BACK = str.maketrans("∗∼", "*~")

Texts = Mapping[str, str]


class BadRow(ValueError):
    """A word that is no row of this list; `position` counts from 1."""

    def __init__(self, position: int, word: str) -> None:
        self.position, self.word = position, word
        super().__init__(f"row {position}: {word!r}")


def texts_of(text: str, row: type[Any]) -> tuple[Texts, ...]:
    """The typed texts of each row by the names of the declared `row`. Raises `BadRow`.

    >>> from calc.language.fields import needed
    >>> from calc.language.quantities import X, Z
    >>> import dataclasses
    >>> Reading = dataclasses.make_dataclass(
    ...     "Reading", [("x", float, needed(X, "X")), ("z", float, needed(Z, "Z"))], kw_only=True
    ... )
    >>> texts_of("x:10~z:-5*", Reading)
    ({'x': '10', 'z': '-5'}, {})
    """
    names = {spec.name for spec in specs(row)}
    if len(text) > MOST_TEXT:
        raise BadRow(1, text)
    words = text.split("*") if text else []
    return tuple(_texts(position, word, names) for position, word in enumerate(words, 1))


def _texts(position: int, word: str, names: set[str]) -> Texts:
    parts = [part.partition(":") for part in word.split("~") if part.strip()]
    if any(name not in names or not colon for name, colon, _ in parts):
        raise BadRow(position, word)
    return {name: typed.translate(_BACK) for name, _, typed in parts}


def text_of(rows: Sequence[Texts]) -> str:
    """The compact text of the rows' typed texts, the reverse of `texts_of`.

    >>> text_of([{"x": "10", "z": ""}, {}])
    'x:10*'
    """
    return "*".join(
        "~".join(f"{name}:{text.strip().translate(_AWAY)}" for name, text in row.items() if text.strip())
        for row in rows
    )


def each_text(text: str, row: type[Any], change: Callable[[str, Kind], str]) -> str:
    """The compact text with every typed quantity changed; one that cannot be read stays as it is."""
    kinds = {spec.name: spec.kind for spec in specs(row) if spec.kind is not None}
    try:
        found = texts_of(text, row)
    except BadRow:
        return text
    return text_of(
        [{**each, **{name: change(each[name], kind) for name, kind in kinds.items() if name in each}} for each in found]
    )


def rewritten(text: str, row: type[Any], old: View, new: View) -> str:
    """The rows for a page whose conventions change: same meaning, same digits."""
    return each_text(text, row, lambda typed, kind: rewrite_for_switch(typed, kind, old, new))


def stripped(text: str, row: type[Any], view: View) -> str:
    """The rows without the other system's units: "I meant inches" right after a switch to inch."""
    return each_text(text, row, lambda typed, kind: strip_unit(typed, kind, view))


def with_text(text: str, row: type[Any], name: str, typed: str) -> str:
    """The rows with another text in one field, named as in a form (`readings.2.x`)."""
    match = FIELD.fullmatch(name)
    try:
        found = [dict(each) for each in texts_of(text, row)]
    except BadRow:
        return text
    if match is not None and int(match[2]) < len(found):
        found[int(match[2])][match[3]] = typed
    return text_of(found)


class Gathered(NamedTuple):
    """A request's items with the fields of rows put together as their text.

    `changed` says whether there were any; `acted` whether a button asked for something; `focus` is the row to go on
    with (`readings.2`), "" where nobody asked for anything.
    """

    items: list[tuple[str, str]]
    changed: bool = False
    acted: bool = False
    focus: str = ""


def gathered(items: Iterable[tuple[str, str]], lists: Mapping[str, Spec]) -> Gathered:
    """The items with the fields of each declared list (by name) put together, a button's wish done on the way."""
    fields: dict[str, dict[int, dict[str, str]]] = {}
    rest: list[tuple[str, str]] = []
    action: tuple[str, str, int] | None = None
    for key, text in items:
        match = FIELD.fullmatch(key)
        wish = _action(text, lists) if key == ACTION else None
        if match and match[1] in lists:
            fields.setdefault(match[1], {}).setdefault(int(match[2]), {})[match[3]] = text
        elif wish is not None:
            action = wish
        else:
            rest.append((key, text))
    if not fields and action is None:
        return Gathered(rest)
    focus = ""
    for name in dict.fromkeys([*fields, *([action[0]] if action else [])]):
        found = _rows(lists[name], fields.get(name, {}), dict(rest).get(name, ""))
        if action is not None and action[0] == name:
            found, at = _acted(found, action[1], action[2], lists[name])
            focus = f"{name}.{at}"
        rest = [*((key, text) for key, text in rest if key != name), (name, text_of(found))]
    return Gathered(rest, True, action is not None, focus)


def _action(text: str, lists: Mapping[str, Spec]) -> tuple[str, str, int] | None:
    """What a button asks for: `readings.add` or `readings.2.remove`; None for what is not of these lists."""
    name, _, rest = text.partition(".")
    number, _, verb = rest.rpartition(".")
    if name not in lists or verb not in VERBS:
        return None
    return name, verb, int(number) if number.isdecimal() else 0


def _rows(spec: Spec, fields: Mapping[int, dict[str, str]], given: str) -> list[dict[str, str]]:
    if not fields:
        try:
            return [dict(row) for row in texts_of(given, spec.repeated.row)]
        except BadRow:
            return []
    starts = {each.name: each.start for each in specs(spec.repeated.row) if each.role == "choice"}
    return [_without_starts(fields[number], starts) for number in sorted(fields)]


def _without_starts(row: Mapping[str, str], starts: Mapping[str, Any]) -> dict[str, str]:
    """A row in which nothing but choices stand that nobody touched is empty."""
    is_empty = all(not text.strip() or starts.get(name) == text for name, text in row.items())
    return {} if is_empty else dict(row)


def _acted(rows: list[dict[str, str]], verb: str, at: int, spec: Spec) -> tuple[list[dict[str, str]], int]:
    """The rows after an action, and the one to go on with."""
    if verb == REMOVE:
        left = rows[:at] + rows[at + 1 :]
        return left, max(0, min(at, len(left) - 1))
    if verb == FILL:  # the row's fields hold already what was chosen for it
        return rows, at
    if verb in (UP, DOWN):
        return _moved(rows, at, at - 1 if verb == UP else at + 1)
    if verb == SWITCH and at < len(rows):
        return [*rows[:at], _switched(rows[at], spec.repeated), *rows[at + 1 :]], at
    if verb == COPY and at < len(rows):
        return [*rows[: at + 1], dict(rows[at]), *rows[at + 1 :]][: spec.repeated.most], at + 1
    padded = rows + [{}] * max(0, spec.repeated.begin - len(rows))
    return [*padded, {}][: spec.repeated.most], min(len(padded), spec.repeated.most - 1)


def _moved(rows: list[dict[str, str]], at: int, other: int) -> tuple[list[dict[str, str]], int]:
    if max(at, other) >= len(rows) or other < 0:
        return rows, at
    moved = list(rows)
    moved[at], moved[other] = moved[other], moved[at]
    return moved, other


def _switched(row: Mapping[str, str], rows: Repeated) -> dict[str, str]:
    """The row with its switch turned over; as it was for rows without one."""
    spec = next((each for each in specs(rows.row) if each.name == rows.switch), None)
    if spec is None:
        return dict(row)
    off = next(code for code in spec.choices if code != spec.start)
    return {**row, spec.name: "" if row.get(spec.name) == off else off}
