"""What a plan asks besides the print: bar and material, insert, speeds and feeds, passes, machine and chuck."""

from __future__ import annotations

from dataclasses import dataclass

from calc.cutting.machine import Machine
from calc.language.fields import choice, given, part, word
from calc.language.quantities import DIAMETER, FEED, LENGTH, RADIUS, ROUGHNESS, SURFACE_SPEED
from calc.shapes.dish.bowl import DishInputs
from calc.tool.insert import NOSE_AS, NoseAs, nose_of

TOOL_POINTS = {
    "0": "0, the nose centre",
    "1": "1, above right, toward +X and +Z",
    "2": "2, above left, toward +X and −Z",
    "3": "3, below left, toward −X and −Z",
    "4": "4, below right, toward −X and +Z",
    "5": "5, right, toward +Z",
    "6": "6, above, toward +X",
    "7": "7, left, toward −Z",
    "8": "8, below, toward −X",
    "9": "9, the nose centre",
}


@dataclass(frozen=True, kw_only=True)
class WorkInputs:
    """The bar and what it is made of (mm)."""

    bar_diameter: float | None = given(DIAMETER, "Bar diameter", "B", above=0.0, brief="bar")
    material: str | None = word("Material", hint="any of its names: C45, 1.0503, 1045, 6061-T6")
    length_out: float | None = given(LENGTH, "Length out of the chuck", "", above=0.0, brief="out of the chuck")
    face_stock: float | None = given(
        LENGTH, "Stock on the face", "", hint="in front of the finished face", least=0.0, brief="face"
    )
    z_zero: str = choice("Z zero", {"finished": "on the finished face", "raw": "on the raw face"}, "finished")


@dataclass(frozen=True, kw_only=True)
class ToolInputs:
    """The insert's nose and the point that the control is told; a designation says the nose by itself."""

    insert: str | None = word("Insert designation", hint="such as RCMT 1204M0; its nose is used instead of the field's")
    nose_as: NoseAs = choice("Nose of the designation", NOSE_AS, "nominal")
    nose_radius: float | None = given(
        RADIUS, "Nose radius", "r", above=0.0, least=0.01, start=(0.8, 0.03125), brief="nose"
    )
    tool_point: str = choice(
        "Tool point",
        TOOL_POINTS,
        "3",
        brief="tool point",
        hint="seen from the nose centre, chuck to the left; signs for +Z away from the chuck; controls differ",
    )

    def nose(self) -> float | None:
        """The nose radius (mm): that of the designation, or the one given.

        Raises `Problem` at the field `insert` for a designation that says none.

        >>> ToolInputs(insert="DCMT 11T304", nose_radius=0.8).nose()
        0.4
        """
        return nose_of(self.insert, self.nose_as, "insert") if self.insert else self.nose_radius


@dataclass(frozen=True, kw_only=True)
class CutInputs:
    """Speeds, feeds and the finish that is wanted."""

    surface_speed: float | None = given(
        SURFACE_SPEED,
        "Surface speed, finishing",
        "v",
        blank="middle of the material's range",
        above=0.0,
        least=1000.0,
        brief="finishing",
    )
    rough_surface_speed: float | None = given(
        SURFACE_SPEED,
        "Surface speed, roughing",
        "",
        blank="middle of the material's range",
        above=0.0,
        least=1000.0,
        brief="roughing",
    )
    feed: float | None = given(FEED, "Feed, finishing", "f", above=0.0, least=0.001, start=(0.2, 0.008), brief="feed")
    rough_feed: float | None = given(
        FEED, "Feed, roughing", "", above=0.0, least=0.001, start=(0.25, 0.010), brief="roughing feed"
    )
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
    inner_diameter: float | None = given(DIAMETER, "from this diameter in", "", above=0.0, brief="inside Ø")
    ra: float | None = given(ROUGHNESS, "Ra wanted", "Ra", above=0.0, least=0.00001, brief="Ra")
    speed_at: str = choice(
        "Surface speed held at",
        {"contact": "where the nose touches", "point": "the tool point"},
        "contact",
        hint="most controls hold it at the tool point's X",
    )
    feed_at: str = choice(
        "Feed counted along",
        {"contour": "the contour", "centre": "the nose centre's way"},
        "contour",
        hint="with nose compensation some controls feed the nose centre",
    )


@dataclass(frozen=True, kw_only=True)
class PassInputs:
    """How the stock is taken off (mm)."""

    roughing: str = choice(
        "Roughing", {"contour": "follows the dish", "facing": "level by level, at constant Z"}, "contour"
    )
    pass_depth: float | None = given(
        LENGTH, "Depth per pass, at most", "", above=0.0, start=(1.0, 0.040), brief="at most"
    )
    pass_split: str = choice("Passes", {"equal": "of equal depth", "rest": "full, the last takes the rest"}, "equal")
    allowance_z: float | None = given(
        LENGTH,
        "Allowance along Z",
        "",
        hint="left in front of the finished dish",
        least=0.0,
        start=(0.3, 0.012),
        brief="allowance Z",
    )
    allowance_x: float | None = given(
        LENGTH, "Allowance along X, per side", "", hint="left toward the axis", least=0.0, start=(0.0, 0.0), brief="X"
    )
    lead_in: float | None = given(
        LENGTH, "Run-in before each cut", "", hint="straight, in air", least=0.0, start=(2.0, 0.080), brief="run-in"
    )


@dataclass(frozen=True, kw_only=True)
class DishPlanInputs:
    """Everything that the plan of a dish can use; what is blank leaves its part of the plan open."""

    dish: DishInputs = part(DishInputs, "On the print")
    work: WorkInputs = part(WorkInputs, "Bar and material")
    tool: ToolInputs = part(ToolInputs, "Insert")
    cut: CutInputs = part(CutInputs, "Speed and feed")
    passes: PassInputs = part(PassInputs, "Passes")
    machine: Machine = part(Machine, "Machine and chuck", starts={"max_rpm": (2000.0, 2000.0)})
