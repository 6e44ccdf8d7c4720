"""Lists of an answer as tables for a page: heads with units, cells in the reader's digits."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from calc.answer.feature import KeyPoint, Rows
from calc.language.fields import Spec, flat, said
from calc.language.limited import Limited, aimed
from calc.language.messages import Message, say_text
from calc.language.quantities import LENGTH, RADIUS, View, X, Z
from calc.language.unit import Unit
from calc.language.worded import worded_specs
from server.context import TableView
from server.row_labels import as_z_points

G_WORDS = {"": "", "line": "G1", "cw": "G2", "ccw": "G3"}

BRIEF = ("", "X", "Z", "", "R", "I", "K")
"""The columns of the points on a phone, beside each value."""


def points_table(points: Sequence[KeyPoint], note: Message | None, view: View) -> TableView:
    """The points to key in; arcs with radius and with centre relative to their start (I and K, ISO signs)."""
    x_means = "Ø" if view.x == "diameter" else say_text("radius", view)
    unit = LENGTH.unit(view).label
    k_means = "K" if view.zplus == "out" else "K (+Z out)"
    point, move, i_means, k_means = (say_text(head, view) for head in ("Point", "Move", "I (radius)", k_means))
    heads: tuple[str, ...] = (point, f"X ({x_means}), {unit}", f"Z, {unit}", move, "R", i_means, k_means)
    rows: tuple[tuple[str, ...], ...] = tuple(_point_row(number, points, view) for number in range(len(points)))
    brief: tuple[str, ...] = BRIEF
    if any(each.x_limits or each.z_limits for each in points):
        heads, brief = (*heads, say_text("Limits", view)), (*brief, "")
        rows = tuple((*row, _limits(each, view)) for row, each in zip(rows, points, strict=True))
    said_note = f"{note.say(view)} " if note else ""
    return TableView(
        "points",
        say_text("Points to key in", view),
        heads,
        rows,
        said_note + say_text("I and K run from the arc's start, ISO signs.", view),
        frozenset({1, 2, 4, 5, 6}),
        brief=brief,
    )


def _limits(point: KeyPoint, view: View) -> str:
    """The limits of X and Z at a point, the smaller number first."""
    both = (("X", X, point.x_limits), ("Z", Z, point.z_limits))
    said = []
    for name, kind, limits in both:
        if limits is not None:
            low, high = sorted(limits, key=lambda value: kind.unit(view).shown(value))
            values = {"name": name, "low": kind.text(low, view), "high": kind.text(high, view)}
            said.append(Message("{name} {low} to {high}", values).say(view))
    return ", ".join(said)


def _point_row(index: int, points: Sequence[KeyPoint], view: View) -> tuple[str, ...]:
    point = points[index]
    cells = [
        f"P{index + 1} {say_text(point.label, view)}",
        X.text(point.spot.r, view),
        Z.text(point.spot.z, view),
        G_WORDS[point.move],
    ]
    if point.centre is None or point.radius is None:
        return (*cells, "", "", "")
    start = points[index - 1].spot
    i, k = point.centre.r - start.r, point.centre.z - start.z
    return (*cells, RADIUS.text(point.radius, view), LENGTH.text(i, view), LENGTH.text(k, view))


def rows_table(key: str, rows: Rows, found: Sequence[Any], view: View) -> TableView:
    """A declared list as a table; a column in which no row has anything is left out, and one of names for programs."""
    columns = [spec for spec in worded_specs(rows.row, view) if spec.written != "key"]
    cells = [flat(row) for row in found]
    shown = [spec for spec in columns if any(row[spec.name] is not None for row in cells)]
    units = {spec.name: _unit(spec, [row[spec.name] for row in cells], view) for spec in shown}
    heads = tuple(_head(spec, units[spec.name], view) for spec in shown)
    body = tuple(tuple(_cell(spec, row[spec.name], units[spec.name], view) for spec in shown) for row in cells)
    numeric = frozenset(index for index, spec in enumerate(shown) if spec.kind is not None)
    names = tuple(spec.name for spec in shown)
    return TableView(key, say_text(rows.caption, view), heads, body, numeric=numeric, columns=names)


def _unit(spec: Spec, values: Sequence[Any], view: View) -> Unit | None:
    """The unit of a column: the one that the largest of its values is written in."""
    if spec.kind is None:
        return None
    unit = spec.kind.unit(view)
    return unit.written(max((aimed(value) for value in values if value is not None), key=abs, default=0.0))


def _head(spec: Spec, unit: Unit | None, view: View) -> str:
    label = as_z_points(spec.label, view)
    return f"{label}, {unit.label}" if unit and unit.label else label


def _cell(spec: Spec, value: Any, unit: Unit | None, view: View) -> str:
    if unit and isinstance(value, Limited):
        return f"{unit.text(value.aimed)} ({value.say(spec.quantity, view)})"
    if unit and isinstance(value, (int, float)) and not isinstance(value, bool):
        return unit.text(value)
    return said(spec, value, view)
