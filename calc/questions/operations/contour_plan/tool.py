"""The tool of the plan: from designations or measures to its outline, its edges, its nose."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import cast

from calc.contour import Point
from calc.language.messages import Caution, Message
from calc.language.problems import Fault, Missing
from calc.machining.reach.examine import Cutter, cutter_of
from calc.machining.reach.tool import Cuts, Hold, hold_of, shank_of
from calc.machining.removal.sweep import Outline
from calc.machining.roughing.reachable import USUAL_MARGIN, Edges
from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.tool.holder import Holder, misfits, read_holder
from calc.tool.insert import Insert, nose_of, read_insert


@dataclass(frozen=True, slots=True)
class PlanTool:
    """The nose (mm), the outline that cuts, the edges (None: round), and what speaks against the pair."""

    nose: float
    outline: Outline
    edges: Edges | None
    cautions: tuple[Caution, ...]


def plan_tool(inputs: ToolInputs, *, along: bool) -> PlanTool:
    """The tool of the question; `along` is a shank along the axis. Raises `Missing` where it is not told.

    >>> tool = plan_tool(ToolInputs(insert="DCMT 11T304", holder="SDJCR 2020K11"), along=False)
    >>> tool.nose, round(tool.edges.high - tool.edges.low, 6)
    (0.4, 0.959931)
    """
    if not inputs.insert:
        if inputs.nose_radius is None:
            text = "Give the insert's designation, or its nose radius."
            raise Missing(Fault("insert", Message(text)), Fault("nose_radius", Message(text)))
        return PlanTool(inputs.nose_radius, Outline((Point(0.0, 0.0),), inputs.nose_radius), None, ())
    insert = read_insert(inputs.insert, "insert")
    holder = read_holder(inputs.holder) if inputs.holder else None
    nose = inputs.nose_radius or nose_of(inputs.insert, "nominal")
    cutter = _cutter(inputs, insert, holder, nose, along=along)
    tool = cutter.tool
    edges = None if tool.low is None or tool.high is None else Edges(tool.low, tool.high)
    outline = Outline(tool.core, tool.nose, tool.holder)
    return PlanTool(nose, outline, edges, tuple(_misfits(insert, holder)))


def _cutter(inputs: ToolInputs, insert: Insert, holder: Holder | None, nose: float, *, along: bool) -> Cutter:
    hold = hold_of(holder, along=along) if holder else None
    if hold is None and inputs.entering_angle is not None:
        hold = Hold(inputs.entering_angle, cast("Cuts", inputs.cuts), "R", along)
    if hold is None and insert.shape.angle is not None:
        raise Missing(Fault("holder", Message("Give the holder's designation, or the entering angle.")))
    return cutter_of(insert, nose, hold, shank_of(holder, nose) if holder else None)


def _misfits(insert: Insert, holder: Holder | None) -> Iterator[Caution]:
    if holder is not None:
        yield from (Caution(message, 3, "holder") for message in misfits(insert, holder))


def margin_of(inputs: ToolInputs) -> float:
    """By how much edges are kept off walls, rad."""
    return USUAL_MARGIN if inputs.margin is None else inputs.margin
