"""The table beside a plot, and the plot's numbers for the API."""

from __future__ import annotations

import math
from typing import Any

from calc.answer.plotting import Bound, Cell, Column, Curve, Field, Noted, Plot
from calc.language.messages import Message, Noun, Value
from calc.language.quantities import Kind, View
from calc.language.translating import marked
from server.context import TableView

Json = Any


def plot_table(plot: Plot, view: View) -> TableView:
    """The plot's table in the reader's units: heads with units, cells in digits."""
    heads = tuple(_head(column, view) for column in plot.columns)
    rows = tuple(_row(row, plot, view) for row in plot.rows)
    note = plot.note.say(view) if plot.note else _field_note(plot, view)
    numeric = frozenset(
        index for index, column in enumerate(plot.columns) if column.kind is not None or column.at is not None
    )
    return TableView(plot.key, plot.caption or plot.title, heads, rows, note, numeric)


def _field_note(plot: Plot, view: View) -> str:
    """What the numbers of a field's table are, "" for curves, whose columns say it."""
    if plot.field is None:
        return ""
    inner, across = plot.field.kind.unit(view).label, plot.x.kind.unit(view).label
    values: dict[str, Value] = {
        "inside": plot.field.label, "unit": inner, "across": Noun(plot.x.label), "unit_across": across
    }  # fmt: skip
    return Message("Inside: {inside}, {unit}. Across: {across}, {unit_across}.", values).say(view)


def _row(row: tuple[Cell, ...], plot: Plot, view: View) -> tuple[str, ...]:
    """The cells of a row; the first one, which heads it, without zeros at its end."""
    first, *others = (_cell(cell, column.kind, view) for cell, column in zip(row, plot.columns, strict=True))
    return (_brief(first), *others)


def _brief(digits: str) -> str:
    return digits.rstrip("0").rstrip(".,") or "0" if "." in digits or "," in digits else digits


def _head(column: Column, view: View) -> str:
    if column.at is not None:
        return _brief(column.at.kind.text(column.at.value, view))
    unit = column.kind.unit(view).label if column.kind else ""
    return f"{column.label}, {unit}" if unit else column.label


def _cell(cell: Cell, kind: Kind | None, view: View) -> str:
    if cell is None:
        return ""
    if isinstance(cell, Message):
        return cell.say(view)
    if isinstance(cell, str):
        return cell
    if isinstance(cell, Noted):
        return f"{_cell(cell.value, kind, view)} {cell.note}".strip()
    return kind.text(cell, view) if kind else marked(f"{cell:g}", view.language)


def plot_json(plot: Plot, view: View) -> Json:
    """The plot as lists of numbers in the reader's units at full precision; null where there is no value."""
    body: Json = {"title": plot.title, "x": _axis(plot.x.label, plot.x.kind, view)}
    body["y"] = _axis(plot.y.label, plot.y.kind, view)
    if plot.field is not None:
        return body | {"field": _field(plot, plot.field, view)}
    body["curves"] = [_curve(curve, plot, view) for curve in plot.curves]
    body["marks"] = [
        {"x": _shown(mark.x, plot.x.kind, view), "y": _shown(mark.y, plot.y.kind, view), "label": mark.label.say(view)}
        for mark in plot.marks
    ]
    return body


def _axis(label: str, kind: Kind, view: View) -> Json:
    return {"label": label, "unit": kind.unit(view).code}


def _curve(curve: Curve, plot: Plot, view: View) -> Json:
    return {
        "label": curve.label,
        "x": [_shown(x, plot.x.kind, view) for x in curve.xs],
        "y": [_shown(y, plot.y.kind, view) for y in curve.ys],
    }


def _field(plot: Plot, field: Field, view: View) -> Json:
    unit = field.kind.unit(view)
    return {
        "label": field.label,
        "unit": unit.code,
        "x": [_shown(x, plot.x.kind, view) for x in field.acrosses],
        "y": [_shown(y, plot.y.kind, view) for y in field.ups],
        "values": [[_shown(value, field.kind, view) for value in row] for row in field.values],
        "limits": [_bound(bound, view) for bound in field.bounds],
    }


def _bound(bound: Bound, view: View) -> Json:
    broken = [[excess > 0.0 for excess in row] for row in bound.excess]
    return {"name": bound.name, "label": bound.label.say(view), "broken": broken}


def _shown(value: float, kind: Kind, view: View) -> float | None:
    return kind.shown(value, view) + 0.0 if math.isfinite(value) else None
