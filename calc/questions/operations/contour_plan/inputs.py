"""What the plan of a contour asks."""

from __future__ import annotations

import math
from typing import Literal

from calc.contour.text import ContourGiven
from calc.cutting import nouns
from calc.cutting.nouns import PointNumber, Split
from calc.language.fields import Declared, choice, contour, given, part
from calc.language.quantities import ANGLE, DIAMETER, LENGTH
from calc.machining.job import Where
from calc.machining.reach.tool import Cuts
from calc.questions.tools.reach_asked import FEEDS
from calc.shapes.chosen import OWN, SHAPES, SIDES, ShapeName, SideAsked

WHERE: dict[Where, str] = {"outside": "outside", "face": "a face or dish", "bore": "a bore"}
RoughingKind = Literal["along z", "along x", "contour", "none"]
ROUGHING: dict[RoughingKind, str] = {
    "along z": "level by level along Z",
    "along x": "level by level along X",
    "contour": "parallel to the contour",
    "none": "finishing only",
}


class StockInputs(Declared):
    """What the part is turned from (mm)."""

    bar_diameter: float | None = nouns.BAR_DIAMETER.given()
    material: str | None = nouns.MATERIAL.given(hint="for speed, feed and depth to start with")
    face_stock: float = nouns.FACE_STOCK.given(default=0.0)
    stock_bore: float = given(DIAMETER, "Bore of the stock", "", least=0.0, blank="none", brief="bore", default=0.0)
    bore_depth: float | None = given(LENGTH, "Depth of that bore", "", above=0.0, blank="through")
    turned_before: ContourGiven | None = contour(
        "Turned before",
        hint="a contour as a text, such as s_x0_z0*f_x30*t_z-20",
        blank="the bar is as it came",
        typed=True,
    )


class ToolInputs(Declared):
    """The insert and how it is held."""

    insert: str | None = nouns.INSERT.given(blank="a round nose alone")
    holder: str | None = nouns.HOLDER.given(hint="such as SDJCR 2020K11")
    nose_radius: float | None = nouns.NOSE_RADIUS.given(blank="by the designation")
    entering_angle: float | None = nouns.ENTERING_ANGLE.given(hint="without a holder designation")
    cuts: Cuts = choice("Entering angle relative to", FEEDS, "side")
    margin: float | None = given(
        ANGLE, "Keep edges off walls by", "", least=0.0, most=math.radians(20.0), blank="2°, common practice"
    )
    tool_point: PointNumber = nouns.TOOL_POINT.chosen(hint="controls differ")


class PassInputs(Declared):
    """How the stock is taken off (mm)."""

    roughing: RoughingKind = choice("Roughing", ROUGHING, "along z")
    pass_depth: float | None = nouns.PASS_DEPTH.given(hint="of a radius", start=(1.0, 0.04))
    pass_split: Split = nouns.PASS_SPLIT.chosen()
    allowance_z: float = nouns.ALLOWANCE_Z.given(default=0.0, brief="Z", start=(0.1, 0.004))
    allowance_x: float = nouns.ALLOWANCE_X.given(default=0.0, start=(0.3, 0.012))
    lead_in: float | None = nouns.LEAD_IN.given(start=(2.0, 0.08))
    spring_passes: float = nouns.SPRING_PASSES.given(default=0.0)
    feed_rule: nouns.FeedRule = nouns.FEED_RULE.chosen()
    cut_direction: nouns.CutDirection = nouns.CUT_DIRECTION.chosen()
    lead_form: nouns.Lead = nouns.LEAD_FORM.chosen()
    lead_size: float | None = nouns.LEAD_SIZE.given()


class CutInputs(Declared):
    """Speeds and feeds."""

    surface_speed: float | None = nouns.SURFACE_SPEED.given(brief="finishing", blank="middle of the material's range")
    rough_surface_speed: float | None = nouns.ROUGH_SURFACE_SPEED.given(
        blank="middle of the material's range, or as finishing"
    )
    feed: float | None = nouns.FEED_RATE.given(brief="feed", start=(0.2, 0.008))
    rough_feed: float | None = nouns.ROUGH_FEED.given(start=(0.25, 0.01))
    max_rpm: float | None = nouns.MAX_RPM.given(symbol="n", start=(2000.0, 2000.0))
    chuck_limit: float | None = nouns.CHUCK_LIMIT.given()


class ContourPlanInputs(Declared):
    """Everything that the plan of a contour can use."""

    shape: ShapeName = choice("Contour", SHAPES, OWN)
    contour: ContourGiven | None = contour("Contour", hint="my own")
    side: SideAsked = choice("Tool stands", SIDES, "")
    where: Where = choice("It is", WHERE, "outside")
    stock: StockInputs = part(StockInputs, "Stock")
    tool: ToolInputs = part(ToolInputs, "Insert and holder")
    passes: PassInputs = part(PassInputs, "Passes")
    cut: CutInputs = part(CutInputs, "Speed and feed")
