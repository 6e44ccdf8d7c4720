"""The rows of a contour on its page: from the form's fields to the one text of the address, and to what is shown."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from calc.contour.text import (
    FLAGS,
    KINDS,
    LETTERS,
    OF_ROW,
    BadWord,
    ContourGiven,
    Row,
    RowKind,
    read_rows,
    rows_of,
    text_of,
)
from calc.language.messages import Message, say_text
from calc.language.quantities import METRIC, View
from calc.language.translating import marked_typed
from calc.threads.on_print import NAMES
from server.field_context import FieldView
from server.row_context import AddView, FlagView, RowView
from server.row_labels import FLAGS_TOLD, HINTS, MAIN, TITLES, TOLD, as_z_points, label_of
from server.row_texts import ACTION, Gathered
from server.row_understood import understood
from server.typed import doubt_said, is_doubtful

FIELD = re.compile(r"([a-z_]+)\.(\d{1,3})\.([a-z]+)")
FIRST = "rows"
"""What the rows' fields of a page's first contour begin with."""
NAMED: Mapping[str, RowKind] = {kind: kind for kind in LETTERS.values()}
WIDE = 10
"""Characters that a field holds at a third of a phone's width."""

TURNS = (("", "either way"), ("cw", "clockwise"), ("ccw", "counter-clockwise"))
TURNED = {"cw", "ccw"}
JOINING: tuple[RowKind, ...] = ("face", "cylinder", "line", "arc")
ELEMENTS: Mapping[RowKind, int] = {**dict.fromkeys((*JOINING, "thread"), 1), "groove": 3}
"""How many elements a row stands for."""


def gathered(items: Iterable[tuple[str, str]], name: str, prefix: str = FIRST) -> Gathered:
    """The items with the fields of the rows, which begin with `prefix`, put together as the text `name`.

    What a button of the form asks for (add, insert, remove, move) is done on the way; those of another contour than
    the first say which (`inside:add-line`).

    >>> gathered([("rows.0.kind", "start"), ("rows.0.x", "30"), ("do", "add-arc"), ("units", "mm")], "contour")
    Gathered(items=[('units', 'mm'), ('contour', 's_x30*a')], changed=True, acted=True, focus='rows.1')
    """
    fields: dict[int, dict[str, str]] = {}
    rest: list[tuple[str, str]] = []
    action = ""
    for key, text in items:
        match = FIELD.fullmatch(key)
        if match and match[1] == prefix:
            fields.setdefault(int(match[2]), {})[match[3]] = text
        elif key == ACTION and _meant(text) == prefix:
            action = text.rpartition(":")[2]
        else:
            rest.append((key, text))
    if not fields and not action:
        return Gathered(rest)
    given = next((text for key, text in rest if key == name), "")
    rows = [_row(fields[number]) for number in sorted(fields)] if fields else list(_readable(given))
    after, focus = acted(rows, action, in_a_bore=prefix != FIRST)
    kept = [(key, text) for key, text in rest if key != name]
    return Gathered([*kept, (name, text_of(after))], True, bool(action), "" if focus is None else f"{prefix}.{focus}")


def _meant(action: str) -> str:
    """The prefix of the contour that a button belongs to."""
    return action.rpartition(":")[0] or FIRST


def _row(texts: Mapping[str, str]) -> Row:
    kind = NAMED.get(texts.get("kind", ""), "line")
    flags = {flag for flag in FLAGS if texts.get(flag)} | ({texts.get("turn", "")} & TURNED)
    return Row(kind, {name: texts.get(name, "") for name in OF_ROW[kind]}, frozenset(flags))


def acted(rows: list[Row], action: str, *, in_a_bore: bool = False) -> tuple[list[Row], int | None]:
    """The rows after an action, and the row to go on with; unknown actions do nothing.

    A new groove `in_a_bore` goes away from the axis.

    Actions are `add-KIND`, `after-N-KIND`, `remove-N`, `up-N`, `down-N`.

    >>> rows, focus = acted([Row("start"), Row("line"), Row("arc")], "up-2")
    >>> [row.kind for row in rows], focus
    (['start', 'arc', 'line'], 1)
    """
    verb, _, rest = action.partition("-")
    number, _, kind = rest.partition("-")
    if verb == "add" and rest in NAMED and rest != "start":
        before = rows or [Row("start", {"x": "0", "z": "0"})]
        return [*before, _new(NAMED[rest], in_a_bore=in_a_bore)], len(before)
    if not number.isdecimal() or int(number) >= len(rows):
        return rows, None
    at = int(number)
    if verb == "after" and kind in NAMED and kind != "start":
        return [*rows[: at + 1], _new(NAMED[kind], in_a_bore=in_a_bore), *rows[at + 1 :]], at + 1
    if verb == "remove" and at > 0:
        left = rows[:at] + rows[at + 1 :]
        return left, min(at, len(left) - 1)
    return _moved(rows, at, at - 1 if verb == "up" else at + 1) if verb in ("up", "down") else (rows, None)


def _new(kind: RowKind, *, in_a_bore: bool) -> Row:
    return Row(kind, {}, frozenset({"outward"} if in_a_bore and kind == "groove" else ()))


def _moved(rows: list[Row], at: int, other: int) -> tuple[list[Row], int | None]:
    if min(at, other) < 1 or max(at, other) >= len(rows):
        return rows, None
    moved = list(rows)
    moved[at], moved[other] = moved[other], moved[at]
    return moved, other


def _readable(text: str) -> tuple[Row, ...]:
    try:
        return rows_of(text)
    except BadWord:
        return ()


def without_text(text: str, name: str) -> str:
    """The contour with the field of this name (`rows.2.r`, `rows.2.smooth`) left blank.

    >>> without_text("s_x0_z0*l_x20_z-5_smooth", "rows.1.z")
    's_x0_z0*l_x20_smooth'
    """
    match = FIELD.fullmatch(name)
    rows = list(_readable(text))
    if match is None or int(match[2]) >= len(rows):
        return text
    row = rows[int(match[2])]
    kept = {each: typed for each, typed in row.texts.items() if each != match[3]}
    rows[int(match[2])] = Row(row.kind, kept, row.flags - {match[3]})
    return text_of(rows)


def numbers_of(rows: Sequence[Row]) -> tuple[str, ...]:
    """How each row is called: elements are counted, the start and what stands between elements are not.

    >>> numbers_of(rows_of("s_x0_z0*f_x20*c1*t_z-5"))
    ('', '1', '', '2')
    >>> numbers_of(rows_of("s_x20_z0*t_z-5*g_w2_dep1*t_z-9"))
    ('', '1', '2-4', '5')
    """
    numbers, count = [], 0
    for row in rows:
        own = ELEMENTS.get(row.kind, 0)
        numbers.append({0: "", 1: str(count + 1)}.get(own, f"{count + 1}-{count + own}"))
        count += own
    return tuple(numbers)


def name_of(text: str, field_name: str, view: View = METRIC) -> str:
    """A field or a row in words: `Line 2, to X`.

    >>> name_of("s_x0_z0*f_x20*c1*l_x30", "rows.3.x"), name_of("s_x0_z0*f_x20*c1*l_x30", "rows.2")
    ('Line 2, to X', 'Chamfer after 1')
    """
    _, number, *rest = field_name.split(".")
    rows = _readable(text)
    if not number.isdecimal() or int(number) >= len(rows):
        return field_name
    said = _title(rows, int(number), view)
    known = bool(rest) and rest[0] in OF_ROW[rows[int(number)].kind]
    label = label_of(rows[int(number)].kind, rest[0])[0] if known else FLAGS_TOLD.get(rest[0], "") if rest else ""
    return f"{said}, {as_z_points(say_text(label, view), view)}" if label else said


def _title(rows: Sequence[Row], index: int, view: View) -> str:
    row, number = rows[index], numbers_of(rows)[index]
    title = say_text(TITLES[row.kind], view)
    if number or row.kind == "start":
        return f"{title} {number}".strip()
    before = next((each for each in reversed(numbers_of(rows)[:index]) if each), "")
    return Message("{title} after {number}", {"title": title, "number": before}).say(view) if before else title


@dataclass(frozen=True, slots=True)
class RowsShown:
    """The rows of a contour text as the page shows them, with errors and solved values by field (`rows.2.x`).

    `moving` says of rows (`rows.2`) what would settle them; `focus` is the row to go on with (`rows.2`). All begin with
    the contour's `prefix`. `given` is the text as it was read, where that has been done. `doubtful` are the fields
    whose typed point may group thousands.
    """

    text: str
    view: View
    errors: Mapping[str, str] = field(default_factory=dict)
    solved: Mapping[str, float] = field(default_factory=dict)
    moving: Mapping[str, str] = field(default_factory=dict)
    focus: str = ""
    given: ContourGiven | None = None
    prefix: str = FIRST
    doubtful: frozenset[str] = frozenset()

    def views(self) -> tuple[RowView, ...]:
        """All rows; a page without any begins with the start."""
        begin = {"x": "0", "z": "0"} if self.prefix == FIRST else {"z": "0"}
        rows = _readable(self.text) or (Row("start", begin),)
        given = self.given or read_rows(rows, self.view, NAMES)[0]
        return tuple(self._view(index, rows, given) for index in range(len(rows)))

    def _view(self, index: int, rows: Sequence[Row], given: ContourGiven) -> RowView:
        row = rows[index]
        main = tuple(self._field(index, row, name, given) for name in MAIN[row.kind])
        more = tuple(self._field(index, row, name, given) for name in OF_ROW[row.kind] if name not in MAIN[row.kind])
        turned = row.flags & TURNED
        return RowView(
            index=index,
            kind=row.kind,
            title=_title(rows, index, self.view),
            hint=say_text(HINTS[row.kind], self.view),
            told=self._told(row),
            found=self._found(main),
            note=self.moving.get(self._name(index), ""),
            error=self.errors.get(self._name(index), ""),
            is_open=self._is_open(index, rows, (*main, *more)),
            focused=self._name(index) == self.focus,
            main=main,
            more=more,
            more_open=bool(turned)
            or not row.flags.isdisjoint(("down", "outward"))
            or any(each.text.strip() or each.error for each in more),
            turns=self._turns(turned) if row.kind == "arc" else (),
            smooth="smooth" in row.flags if row.kind in JOINING and index > 1 else None,
            down="down" in row.flags if row.kind == "line" else None,
            outward="outward" in row.flags if row.kind == "groove" else None,
            movable_up=index > 1,
            movable_down=0 < index < len(rows) - 1,
        )

    def _turns(self, turned: frozenset[str]) -> tuple[FlagView, ...]:
        return tuple(
            FlagView(code, say_text(words, self.view), code in turned or not (code or turned)) for code, words in TURNS
        )

    def _name(self, index: int) -> str:
        return f"{self.prefix}.{index}"

    def _is_open(self, index: int, rows: Sequence[Row], fields: Sequence[FieldView]) -> bool:
        """A row stands open while it is empty, wrong, gone on with, or the only one."""
        wrong = self._name(index) in self.errors or any(each.error for each in fields)
        empty = not any(each.text.strip() or each.solved for each in fields)
        return wrong or empty or self._name(index) == self.focus or len(rows) == 1

    def _told(self, row: Row) -> str:
        """What is given, in one line."""
        texts = [(name, row.texts.get(name, "").strip()) for name in OF_ROW[row.kind]]
        words = {name: say_text(TOLD.get(f"{row.kind}.{name}") or TOLD[name], self.view) for name, _ in texts}
        given = [f"{words[name]} {self._typed(name, text)}".strip() for name, text in texts if text]
        return ", ".join([*given, *(say_text(FLAGS_TOLD[flag], self.view) for flag in FLAGS if flag in row.flags)])

    def _typed(self, name: str, text: str) -> str:
        """What was typed, a number with the decimal mark of the page."""
        return marked_typed(text, self.view.language) if name in KINDS else text

    def _found(self, main: Sequence[FieldView]) -> str:
        """What was solved of where the element ends and of its radius, in one line."""
        named = [(each.name.rpartition(".")[2], each.solved) for each in main if each.solved]
        found = [(name, solved) for name, solved in named if name in ("x", "z", "r")]
        return ", ".join(f"{say_text(TOLD[name], self.view)} {solved}" for name, solved in found)

    def _field(self, index: int, row: Row, name: str, given: ContourGiven) -> FieldView:
        label, hint = (say_text(words, self.view) for words in label_of(row.kind, name))
        text, kind, key = row.texts.get(name, ""), KINDS.get(name), f"{self._name(index)}.{name}"
        value = self.solved.get(key)
        solved = "" if text.strip() or value is None or kind is None else kind.text(value, self.view)
        return FieldView(
            name=key,
            label=as_z_points(label, self.view),
            symbol="",
            hint=hint,
            text=self._typed(name, text),
            unit=kind.unit(self.view).label if kind else "",
            role="word" if kind is None or max(len(text), len(solved)) > WIDE else "quantity",
            error=self.errors.get(key, ""),
            solved=solved,
            understood=self._understood(index, name, text, given),
        )

    def _understood(self, index: int, name: str, text: str, given: ContourGiven) -> str:
        """How a field was read, where that is worth saying."""
        key = f"{FIRST}.{index}.{name}"
        if is_doubtful(text) and f"{self._name(index)}.{name}" in self.doubtful and key in given.typed:
            return doubt_said(text, given.typed[key], KINDS[name], self.view)
        return understood(key, name, given, self.view) if text.strip() else ""


def additions(view: View = METRIC) -> tuple[AddView, ...]:
    """What can be added to a contour."""
    return tuple(
        AddView(kind, say_text(TITLES[kind], view), say_text(HINTS[kind], view))
        for kind in LETTERS.values()
        if kind != "start"
    )
