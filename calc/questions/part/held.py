"""A turning tool of a part, by its designations or its nose, and how its shank may stand."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.questions.operations.contour_plan.tool import plan_tool
from calc.questions.part.job import Turning

IN_A_BORE: Final = "2"
"""The tool point of a boring bar: toward the wall and the chuck (common practice; controls differ)."""


def turning_tool(asked: ToolInputs, *, bar: bool = False, shank: str = "") -> Turning:
    """The tool that is asked for; a `bar` stands along the axis, so does another whose `shank` is "along".

    With no word about its shank it stands across, and along the axis before a dish. Raises what `plan_tool` does.

    >>> turning_tool(ToolInputs(insert="DCMT 11T304", holder="SDJCR 2020K11")).tool.nose
    0.4
    """
    if bar:
        asked = replace(asked, tool_point=IN_A_BORE)
    found = plan_tool(asked, along=bar or shank == "along")
    either = None if shank or bar else plan_tool(asked, along=True).tool
    return Turning(found.tool, either, asked.insert or "", asked.holder or "", found.cautions)
