"""The tool of the plan: from designations or measures to its outline, its edges, its nose."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from calc.contour import Point
from calc.language.messages import Caution, Message
from calc.language.problems import Fault, Missing
from calc.machining.job import Tool
from calc.machining.reach.described import described_tool
from calc.machining.reach.examine import Cutter, bar_bore, cutter_of
from calc.machining.reach.limits import Flank
from calc.machining.reach.tool import Hold, hold_of, shank_of
from calc.machining.reach.tool import Tool as HeldTool
from calc.machining.removal.sweep import Outline
from calc.machining.roughing.reachable import USUAL_MARGIN, Edges
from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.questions.tools.reach_asked import require_nose
from calc.tool.holder import Holder, misfits, read_holder
from calc.tool.insert import Insert, nose_of, read_insert


@dataclass(frozen=True, slots=True)
class PlanTool:
    """The tool, whether it is a bare nose without an insert, and what speaks against the pair of insert and holder."""

    tool: Tool
    bare: bool
    cautions: tuple[Caution, ...] = ()
    flank: Flank | None = None


def plan_tool(inputs: ToolInputs, *, along: bool) -> PlanTool:
    """The tool of the question; `along` is a shank along the axis. Raises `Missing` without an insert and a nose.

    >>> tool = plan_tool(ToolInputs(insert="DCMT 11T304", holder="SDJCR 2020K11"), along=False).tool
    >>> tool.nose, round(tool.edges.high - tool.edges.low, 6)
    (0.4, 1.029744)
    """
    if not inputs.insert:
        return _without_insert(inputs, along=along)
    insert = read_insert(inputs.insert, "insert")
    holder = read_holder(inputs.holder) if inputs.holder else None
    nose = inputs.nose_radius or nose_of(inputs.insert, "nominal")
    cutter = _cutter(inputs, insert, holder, nose, along=along)
    cautions = tuple(_misfits(insert, holder))
    return PlanTool(_tool(cutter.tool, inputs), bare=False, cautions=cautions, flank=cutter.flank())


def _without_insert(inputs: ToolInputs, *, along: bool) -> PlanTool:
    """A round nose alone, or the tool that the entering angle describes. Raises `Missing` without a nose radius."""
    if inputs.nose_radius is None:
        text = "Give the insert's designation, or its nose radius."
        raise Missing(Fault("insert", Message(text)), Fault("nose_radius", Message(text)))
    if inputs.entering_angle is None:
        nose = Outline((Point(0.0, 0.0),), inputs.nose_radius)
        return PlanTool(Tool(nose, None, int(inputs.tool_point)), bare=True)
    hold = Hold(inputs.entering_angle, inputs.cuts, "R", along)
    described = described_tool(inputs.nose_radius, hold)
    return PlanTool(_tool(described.tool, inputs), bare=False, cautions=(Caution(described.assumed, 2, "insert"),))


def _tool(held: HeldTool, inputs: ToolInputs) -> Tool:
    """The tool that cuts, its edges kept off walls by the margin."""
    edges = None if held.low is None or held.high is None else Edges(held.low, held.high).kept_off(_margin(inputs))
    return Tool(Outline(held.core, held.nose, held.holder), edges, int(inputs.tool_point))


def _cutter(inputs: ToolInputs, insert: Insert, holder: Holder | None, nose: float, *, along: bool) -> Cutter:
    hold = hold_of(holder, along=along) if holder else None
    if hold is None and inputs.entering_angle is not None:
        hold = Hold(inputs.entering_angle, inputs.cuts, "R", along)
    if hold is None and insert.shape.angle is not None:
        raise Missing(Fault("holder", Message("Give the holder's designation, or the entering angle.")))
    cutter = cutter_of(insert, nose, hold, shank_of(holder, nose) if holder else None)
    require_nose(cutter)
    return replace(cutter, bar_bore=bar_bore(holder))


def _misfits(insert: Insert, holder: Holder | None) -> Iterator[Caution]:
    if holder is not None:
        yield from (Caution(message, 3, "holder") for message in misfits(insert, holder))


def _margin(inputs: ToolInputs) -> float:
    """By how much edges are kept off walls, rad."""
    return USUAL_MARGIN if inputs.margin is None else inputs.margin
