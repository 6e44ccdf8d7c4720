"""What a plan asks besides the print: bar and material, insert, speeds and feeds, passes, machine and chuck."""

from __future__ import annotations

from typing import Literal

from calc.cutting import nouns
from calc.cutting.machine import Machine
from calc.cutting.nouns import FeedAt, PointNumber, SpeedAt, Split
from calc.language.fields import Declared, choice, given, part
from calc.language.quantities import DIAMETER, FEED
from calc.shapes.dish.bowl import DishInputs
from calc.tool.insert import NoseAs, nose_of


class WorkInputs(Declared):
    """The bar and what it is made of (mm)."""

    bar_diameter: float | None = nouns.BAR_DIAMETER.given()
    material: str | None = nouns.MATERIAL.given()
    length_out: float | None = nouns.LENGTH_OUT.given()
    grip_length: float | None = nouns.GRIP_LENGTH.given()
    face_stock: float = nouns.FACE_STOCK.given(default=0.0)
    z_zero: Literal["finished", "raw"] = choice(
        "Z zero", {"finished": "on the finished face", "raw": "on the raw face"}, "finished"
    )


class ToolInputs(Declared):
    """The insert's nose and the point that the control is given; a designation says the nose by itself."""

    insert: str | None = nouns.INSERT.given(hint="such as RCMT 1204M0; its nose is used instead of the field's")
    nose_as: NoseAs = nouns.NOSE_AS.chosen()
    nose_radius: float | None = nouns.NOSE_RADIUS.given(start=(0.8, 0.03125))
    tool_point: PointNumber = nouns.TOOL_POINT.chosen(
        hint="seen from the nose centre, chuck to the left; signs for +Z away from the chuck; controls differ"
    )

    def nose(self) -> float | None:
        """The nose radius (mm): that of the designation, or the one given.

        Raises `Problem` at the field `insert` for a designation that says none.

        >>> ToolInputs(insert="DCMT 11T304", nose_radius=0.8).nose()
        0.4
        """
        return nose_of(self.insert, self.nose_as, "insert") if self.insert else self.nose_radius


class CutInputs(Declared):
    """Speeds, feeds and the finish that is wanted."""

    surface_speed: float | None = nouns.SURFACE_SPEED.given(blank="middle of the material's range", brief="finishing")
    rough_surface_speed: float | None = nouns.ROUGH_SURFACE_SPEED.given(blank="middle of the material's range")
    feed: float | None = nouns.FEED_RATE.given(brief="feed", start=(0.2, 0.008))
    rough_feed: float | None = nouns.ROUGH_FEED.given(start=(0.25, 0.010))
    inner_feed: float | None = given(
        FEED,
        "Feed near the axis",
        "",
        hint="finishing",
        blank="the same",
        above=0.0,
        least=0.001,
        brief="feed near the axis",
    )
    inner_feed_diameter: float | None = given(
        DIAMETER, "Feed near the axis, from diameter", "", above=0.0, brief="inside Ø"
    )
    ra: float | None = nouns.RA.given()
    speed_at: SpeedAt = nouns.SPEED_AT.chosen()
    feed_at: FeedAt = nouns.FEED_AT.chosen()


class PassInputs(Declared):
    """How the stock is taken off (mm)."""

    roughing: Literal["contour", "facing"] = choice(
        "Roughing", {"contour": "follows the dish", "facing": "level by level, at constant Z"}, "contour"
    )
    pass_depth: float | None = nouns.PASS_DEPTH.given(start=(1.0, 0.040))
    pass_split: Split = nouns.PASS_SPLIT.chosen()
    allowance_z: float = nouns.ALLOWANCE_Z.given(
        default=0.0, hint="left in front of the finished dish", start=(0.3, 0.012)
    )
    allowance_x: float = nouns.ALLOWANCE_X.given(
        default=0.0, hint="left toward the axis", start=(0.0, 0.0), because="a dish is left thicker along Z"
    )
    lead_in: float = nouns.LEAD_IN.given(default=0.0, hint="straight, in air", brief="run-in", start=(2.0, 0.080))


class DishPlanInputs(Declared):
    """Everything that the plan of a dish can use; what is blank leaves its part of the plan open."""

    dish: DishInputs = part(DishInputs, "On the print")
    work: WorkInputs = part(WorkInputs, "Bar and material")
    tool: ToolInputs = part(ToolInputs, "Insert")
    cut: CutInputs = part(CutInputs, "Speed and feed")
    passes: PassInputs = part(PassInputs, "Passes")
    machine: Machine = part(Machine, "Machine and chuck", starts={"max_rpm": (2000.0, 2000.0)})
