"""The tool of one row of a part's operations: turning tools by their designations, others by a size or a thread."""

from __future__ import annotations

from calc.language.messages import Message
from calc.language.problems import Fault, Missing, Problem
from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.questions.part.declared import THREADED, TURNED, OperationRow
from calc.questions.part.held import turning_tool
from calc.questions.part.job import (
    AnyTool,
    CentreDrill,
    Counterbore,
    Countersink,
    Drill,
    Grooving,
    Reamer,
    Roll,
    Tap,
    Threading,
    Turning,
)


def tool_of(row: OperationRow, field: str) -> AnyTool | None:
    """The tool of a row, None for a stop. Raises `Missing` and what designations raise, at the fields of the row.

    >>> tool_of(OperationRow(kind="countersink", size=14.0), "operations.0").diameter
    14.0
    """
    return _turning(row, field) if row.kind in TURNED else _other(row, field)


def _turning(row: OperationRow, field: str) -> Turning:
    asked = ToolInputs(insert=row.insert, holder=row.holder, nose_radius=row.nose_radius)
    try:
        return turning_tool(asked, bar=row.kind == "bore")
    except Problem as problem:
        raise problem.renamed(lambda name: f"{field}.{name}") from problem


def _other(row: OperationRow, field: str) -> AnyTool | None:
    """A tool of one size or of a thread. Raises `Missing` for what it is known by."""
    if row.kind == "measure":
        return None
    if row.kind in THREADED:
        if row.thread is None:
            raise Missing(Fault(f"{field}.thread", Message("Give the thread as the print has it.")))
        return Tap(row.thread) if row.kind == "tap" else Threading(row.thread)
    if row.size is None:
        raise Missing(Fault(f"{field}.size", Message("Give the size of the tool.")))
    return _of_a_size(row, row.size)


def _of_a_size(row: OperationRow, size: float) -> AnyTool:
    """A tool on the axis, rolls or a blade; a blade that parts off has chamfers."""
    if row.kind == "knurl":
        return Roll(size, row.knurl_form, row.over_knurl)
    if row.kind == "part-off":
        return Grooving(size, part_chamfer=row.part_chamfer, bar_chamfer=row.bar_chamfer, edge_lead=row.edge_lead)
    return _on_axis(row, size) or Grooving(size)


def _on_axis(row: OperationRow, size: float) -> AnyTool | None:
    """A tool on the axis by its kind; None for another kind."""
    angle = row.point_angle
    tools: dict[str, AnyTool] = {
        "centre": CentreDrill(f"{size:g}", row.centre_form),
        "drill": Drill(size, angle, row.drill_material),
        "countersink": Countersink(size) if angle is None else Countersink(size, angle),
        "counterbore": Counterbore(size),
        "ream": Reamer(size),
    }
    return tools.get(row.kind)
