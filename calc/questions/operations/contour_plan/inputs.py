"""What the plan of a contour asks."""

from __future__ import annotations

import math
from dataclasses import dataclass

from calc.contour.text import ContourGiven
from calc.language.fields import choice, contour, given, part, word
from calc.language.quantities import ANGLE, DIAMETER, FEED, LENGTH, RADIUS, SPINDLE_SPEED, SURFACE_SPEED
from calc.questions.operations.dish_plan.inputs import TOOL_POINTS
from calc.shapes.chosen import OWN, SHAPES, SIDES

WHERE = {"outside": "outside", "face": "a face or dish", "bore": "a bore"}
ROUGHING = {
    "along z": "level by level along Z",
    "along x": "level by level along X",
    "contour": "parallel to the contour",
    "none": "finishing only",
}


@dataclass(frozen=True, kw_only=True)
class StockInputs:
    """What the part is turned from (mm)."""

    bar_diameter: float | None = given(DIAMETER, "Bar diameter", "B", above=0.0, brief="bar")
    face_stock: float | None = given(LENGTH, "Stock on the face", "", least=0.0, start=(1.0, 0.04), brief="face")
    bore_diameter: float | None = given(DIAMETER, "Bore in the bar", "", least=0.0, blank="none", brief="bore")
    bore_depth: float | None = given(LENGTH, "its depth", "", above=0.0, blank="through")
    turned_before: str | None = word(
        "Turned before", hint="a contour as a text, mm, X as diameter", blank="the bar is as it came"
    )


@dataclass(frozen=True, kw_only=True)
class ToolInputs:
    """The insert and how it is held."""

    insert: str | None = word("Insert designation", hint="such as DCMT 11T304", blank="a round nose alone")
    holder: str | None = word("Holder or bar designation", hint="such as SDJCR 2020K11")
    nose_radius: float | None = given(RADIUS, "Nose radius", "r", above=0.0, blank="by the designation")
    entering_angle: float | None = given(
        ANGLE, "Entering angle", "κ", above=0.0, most=math.pi, hint="without a holder designation"
    )
    cuts: str = choice("measured to a feed", {"side": "along the axis", "end": "toward the axis"}, "side")
    margin: float | None = given(
        ANGLE, "Keep edges off walls by", "", least=0.0, most=math.radians(20.0), blank="2°, common practice"
    )
    tool_point: str = choice("Tool point", TOOL_POINTS, "3", brief="tool point", hint="controls differ")


@dataclass(frozen=True, kw_only=True)
class PassInputs:
    """How the stock is taken off (mm)."""

    roughing: str = choice("Roughing", ROUGHING, "along z")
    pass_depth: float | None = given(
        LENGTH, "Depth per pass, at most", "", above=0.0, start=(1.5, 0.06), hint="of a radius", brief="at most"
    )
    allowance_z: float | None = given(LENGTH, "Allowance along Z", "", least=0.0, start=(0.1, 0.004), brief="Z")
    allowance_x: float | None = given(
        LENGTH, "Allowance along X, per side", "", least=0.0, start=(0.3, 0.012), brief="X"
    )
    lead_in: float | None = given(LENGTH, "Start clear of the stock by", "", least=0.0, start=(2.0, 0.08))


@dataclass(frozen=True, kw_only=True)
class CutInputs:
    """Speeds and feeds."""

    surface_speed: float | None = given(SURFACE_SPEED, "Surface speed, finishing", "v", above=0.0, brief="finishing")
    rough_surface_speed: float | None = given(
        SURFACE_SPEED, "Surface speed, roughing", "", above=0.0, blank="as finishing", brief="roughing"
    )
    feed: float | None = given(FEED, "Feed, finishing", "f", above=0.0, start=(0.15, 0.006), brief="feed")
    rough_feed: float | None = given(FEED, "Feed, roughing", "", above=0.0, start=(0.25, 0.01), brief="roughing feed")
    max_rpm: float | None = given(SPINDLE_SPEED, "Spindle limit", "n", above=0.0, start=(2000.0, 2000.0), brief="limit")


@dataclass(frozen=True, kw_only=True)
class ContourPlanInputs:
    """Everything that the plan of a contour can use."""

    shape: str = choice("Contour", SHAPES, OWN)
    contour: ContourGiven | None = contour("My own contour")
    side: str = choice("Tool stands", SIDES, "")
    where: str = choice("It is", WHERE, "outside")
    stock: StockInputs = part(StockInputs, "Stock")
    tool: ToolInputs = part(ToolInputs, "Insert and holder")
    passes: PassInputs = part(PassInputs, "Passes")
    cut: CutInputs = part(CutInputs, "Speed and feed")
