"""A plot with its words in the reader's language."""

from __future__ import annotations

from dataclasses import replace

from calc.answer.plotting import Cell, Noted, Plot
from calc.language.messages import say_text
from calc.language.quantities import View


def worded_plot(plot: Plot, view: View) -> Plot:
    """The same plot for a reader with `view`: its title, axes, curves, limits, and the heads and words of its table."""
    if view.language == "en":
        return plot
    found = plot.field
    if found is not None:
        bounds = tuple(replace(bound, name=say_text(bound.name, view)) for bound in found.bounds)
        found = replace(found, label=say_text(found.label, view), bounds=bounds)
    return replace(
        plot,
        title=say_text(plot.title, view),
        caption=say_text(plot.caption, view),
        x=replace(plot.x, label=say_text(plot.x.label, view)),
        y=replace(plot.y, label=say_text(plot.y.label, view)),
        curves=tuple(replace(curve, label=say_text(curve.label, view)) for curve in plot.curves),
        field=found,
        columns=tuple(replace(column, label=say_text(column.label, view)) for column in plot.columns),
        rows=tuple(tuple(_cell(cell, view) for cell in row) for row in plot.rows),
    )


def _cell(cell: Cell, view: View) -> Cell:
    if isinstance(cell, Noted):
        return Noted(cell.value, say_text(cell.note, view))
    return say_text(cell, view) if isinstance(cell, str) else cell
