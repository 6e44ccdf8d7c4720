"""The rows of a contour on its page: from the form's fields to the one text of the address, and to what is shown."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from calc.contour_text import FLAGS, KINDS, LETTERS, OF_ROW, BadWord, Row, RowKind, read_rows, rows_of, text_of
from calc.quantities import Given, View
from server.context import AddView, FieldView, FlagView, RowView

FIELD = re.compile(r"row(\d{1,3})\.([a-z]+)")
ACTION = "do"
NAMED: Mapping[str, RowKind] = {kind: kind for kind in LETTERS.values()}

TITLES: Mapping[RowKind, str] = {
    "start": "Start",
    "face": "Face",
    "cylinder": "Cylinder",
    "line": "Line",
    "arc": "Arc",
    "chamfer": "Chamfer",
    "radius": "Edge radius or fillet",
}
HINTS: Mapping[RowKind, str] = {
    "start": "",
    "face": "Z stays",
    "cylinder": "X stays",
    "line": "a cone or any slant",
    "arc": "",
    "chamfer": "equal legs from the sharp corner",
    "radius": "between the elements before and after",
}
LABELS: Mapping[str, tuple[str, str]] = {
    "x": ("to X", ""),
    "z": ("to Z", ""),
    "dx": ("Step in X", "from the point before"),
    "dz": ("Step in Z", "from the point before"),
    "tp": ("Taper", "on diameter, such as 1:10"),
    "ha": ("Half angle", "to the axis"),
    "at": ("Angle from +Z", "counter-clockwise"),
    "len": ("Length", ""),
    "r": ("Radius", ""),
    "cx": ("Centre X", ""),
    "cz": ("Centre Z", ""),
    "size": ("Size", ""),
}
MAIN: Mapping[RowKind, tuple[str, ...]] = {
    "start": ("x", "z"),
    "face": ("x",),
    "cylinder": ("z",),
    "line": ("x", "z"),
    "arc": ("r", "x", "z"),
    "chamfer": ("size",),
    "radius": ("size",),
}
TURNS = (("", "not given"), ("cw", "clockwise"), ("ccw", "counter-clockwise"))
TURNED = {"cw", "ccw"}
JOINING = ("face", "cylinder", "line", "arc")


def gathered(items: Iterable[tuple[str, str]], name: str) -> tuple[list[tuple[str, str]], bool]:
    """The items with the fields of the rows put together as the text `name`; whether there were any.

    What a button of the form asks for (add, insert, remove, move) is done on the way.

    >>> gathered([("row0.kind", "start"), ("row0.x", "30"), ("do", "add-arc"), ("units", "mm")], "contour")
    ([('units', 'mm'), ('contour', 's_x30*a')], True)
    """
    fields: dict[int, dict[str, str]] = {}
    rest: list[tuple[str, str]] = []
    action = ""
    for key, text in items:
        match = FIELD.fullmatch(key)
        if match:
            fields.setdefault(int(match[1]), {})[match[2]] = text
        elif key == ACTION:
            action = text
        else:
            rest.append((key, text))
    if not fields and not action:
        return rest, False
    given = next((text for key, text in rest if key == name), "")
    rows = [_row(fields[number]) for number in sorted(fields)] if fields else list(_readable(given))
    return [(key, text) for key, text in rest if key != name] + [(name, text_of(acted(rows, action)))], True


def _row(texts: Mapping[str, str]) -> Row:
    kind = NAMED.get(texts.get("kind", ""), "line")
    flags = {flag for flag in FLAGS if texts.get(flag)} | ({texts.get("turn", "")} & TURNED)
    return Row(kind, {name: texts.get(name, "") for name in OF_ROW[kind]}, frozenset(flags))


def acted(rows: list[Row], action: str) -> list[Row]:
    """The rows after an action: `add-KIND`, `after-N-KIND`, `remove-N`, `up-N`, `down-N`; unknown ones do nothing.

    >>> [row.kind for row in acted([Row("start"), Row("line"), Row("arc")], "up-2")]
    ['start', 'arc', 'line']
    """
    verb, _, rest = action.partition("-")
    number, _, kind = rest.partition("-")
    if verb == "add" and rest in NAMED:
        return [*(rows or [Row("start")]), Row(NAMED[rest])]
    if not number.isdigit() or int(number) >= len(rows):
        return rows
    at = int(number)
    if verb == "after" and kind in NAMED:
        return [*rows[: at + 1], Row(NAMED[kind]), *rows[at + 1 :]]
    if verb == "remove" and at > 0:
        return rows[:at] + rows[at + 1 :]
    return _moved(rows, at, at - 1 if verb == "up" else at + 1) if verb in ("up", "down") else rows


def _moved(rows: list[Row], at: int, other: int) -> list[Row]:
    if min(at, other) < 1 or max(at, other) >= len(rows):
        return rows
    moved = list(rows)
    moved[at], moved[other] = moved[other], moved[at]
    return moved


def _readable(text: str) -> tuple[Row, ...]:
    try:
        return rows_of(text)
    except BadWord:
        return ()


@dataclass(frozen=True, slots=True)
class RowsShown:
    """The rows of a contour text as the page shows them, with errors and solved values by field (`rows.2.x`)."""

    text: str
    view: View
    errors: Mapping[str, str] = field(default_factory=dict)
    solved: Mapping[str, float] = field(default_factory=dict)

    def views(self) -> tuple[RowView, ...]:
        """All rows; a page without any begins with the start."""
        rows = _readable(self.text) or (Row("start", {"x": "0", "z": "0"}),)
        return tuple(self._view(index, row, len(rows)) for index, row in enumerate(rows))

    def _view(self, index: int, row: Row, count: int) -> RowView:
        more = tuple(self._field(index, row, name) for name in OF_ROW[row.kind] if name not in MAIN[row.kind])
        turned = row.flags & TURNED
        turns = tuple(FlagView(code, words, code in turned or not (code or turned)) for code, words in TURNS)
        return RowView(
            index=index,
            kind=row.kind,
            title=TITLES[row.kind],
            hint=HINTS[row.kind],
            main=tuple(self._field(index, row, name) for name in MAIN[row.kind]),
            more=more,
            more_open=bool(turned) or "down" in row.flags or any(each.text.strip() or each.error for each in more),
            turns=turns if row.kind == "arc" else (),
            smooth="smooth" in row.flags if row.kind in JOINING and index > 1 else None,
            down="down" in row.flags if row.kind == "line" else None,
            movable_up=index > 1,
            movable_down=0 < index < count - 1,
        )

    def _field(self, index: int, row: Row, name: str) -> FieldView:
        label, hint = LABELS[name]
        text, kind, key = row.texts.get(name, ""), KINDS[name], f"rows.{index}.{name}"
        value = self.solved.get(key)
        return FieldView(
            name=f"row{index}.{name}",
            label=label,
            symbol="",
            hint=hint,
            text=text,
            unit=kind.unit(self.view).label,
            role="quantity",
            error=self.errors.get(key, ""),
            solved="" if text.strip() or value is None else kind.text(value, self.view),
            understood=self._understood(row, name, text),
        )

    def _understood(self, row: Row, name: str, text: str) -> str:
        """What a value with limits aims at."""
        if not text.strip(" 0123456789.-+") or row.kind not in JOINING:
            return ""
        given, _ = read_rows([Row("start"), Row(row.kind, {name: text})], self.view)
        values = (getattr(given.elements[0], each) for each in ("z", "r", "dz", "dr", "radius", "length"))
        aimed = next((value for value in values if isinstance(value, Given) and value.nominal is not None), None)
        return "" if aimed is None else f"aims at mid-limit, {KINDS[name].say(aimed, self.view)}"


def additions() -> tuple[AddView, ...]:
    """What can be added to a contour."""
    return tuple(AddView(kind, TITLES[kind], HINTS[kind]) for kind in LETTERS.values() if kind != "start")
