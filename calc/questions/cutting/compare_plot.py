"""The plot of two inputs compared, and the table beside it."""

from __future__ import annotations

from typing import Any

import numpy as np

from calc.answer.plotting import Axis, Bound, Column, Field, Noted, Plot
from calc.cutting.compare import SHOWN
from calc.language.messages import Listed, Message, Noun, Phrase, Quantity, in_a_row
from calc.language.quantities import Kind
from calc.questions.cutting.compare_inputs import COMPARED, CompareInputs, Swept

IN_TABLE = 5


def field_plot(inputs: CompareInputs, swept: Swept, values: Any, bounds: tuple[Bound, ...]) -> Plot:
    """The field with its limits as lines, and a few of its numbers as a table."""
    across, up, one = COMPARED[swept.across], COMPARED[swept.up], SHOWN[inputs.shown]
    return Plot(
        key="field",
        title=Phrase("{label} over {across} and {up}", label=one.label, across=Noun(across.words), up=Noun(up.words)),
        description=_described(one.label, across.words, up.words, bounds),
        x=Axis(across.words, across.kind),
        y=Axis(up.words, up.kind),
        field=Field(Noun(one.label), one.kind, swept.acrosses.tolist(), swept.ups.tolist(), values.tolist(), bounds),
        caption="after “no” come the numbers of the limits that are broken",
        **_table(swept, values, bounds, one.kind),
    )


def _described(label: str, across: str, up: str, bounds: tuple[Bound, ...]) -> Message:
    lines = Message(
        "{label} in lines of equal value, {across} across and {up} up.",
        {"label": label, "across": Noun(across), "up": Noun(up)},
    )
    if not bounds:
        return in_a_row(lines, Message("No limit is given."))
    limits = Listed(tuple(bound.label for bound in bounds), ", ", ", ")
    return in_a_row(lines, Message("Hatched where a limit is broken: {limits}.", {"limits": limits}))


def _table(swept: Swept, values: Any, bounds: tuple[Bound, ...], kind: Kind) -> dict[str, Any]:
    """A few rows and columns of the field, the largest row on top as in the plot."""
    rows = np.linspace(0, swept.shape[0] - 1, IN_TABLE).round().astype(int)[::-1].tolist()
    columns = np.linspace(0, swept.shape[1] - 1, IN_TABLE).round().astype(int).tolist()
    across, up = COMPARED[swept.across], COMPARED[swept.up]
    heads = (Column("", kind, Quantity(float(swept.acrosses[column]), across.kind)) for column in columns)
    cells = tuple(
        (float(swept.ups[row]), *(Noted(float(values[row, c]), _broken(bounds, row, c)) for c in columns))
        for row in rows
    )
    return {"columns": (Column(up.words, up.kind), *heads), "rows": cells}


def _broken(bounds: tuple[Bound, ...], row: int, column: int) -> str:
    numbers = [str(number) for number, bound in enumerate(bounds, 1) if bound.excess[row][column] > 0.0]
    return Phrase("no ({numbers})", numbers=", ".join(numbers)) if numbers else ""
