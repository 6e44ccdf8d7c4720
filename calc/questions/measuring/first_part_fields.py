"""What is asked of the first part and what is answered, declared."""

from __future__ import annotations

from typing import Literal

from calc.contour.text import ContourGiven
from calc.cutting import nouns
from calc.cutting.nouns import PointNumber
from calc.language.fields import Declared, choice, contour, flag, given, needed, part, result, rows, word
from calc.language.kinds import EXPANSION, FINE_RATIO, TEMPERATURE
from calc.language.quantities import DIAMETER, LENGTH, RADIUS, X, Z
from calc.measuring.runout import Surface
from calc.measuring.temperature import MATERIALS, Expanding
from calc.questions.measuring.runout_rows import SURFACES
from calc.shapes.chosen import OWN, SHAPES, ShapeName, SideAsked

CheckKind = Literal[
    "diameter",
    "length",
    "depth",
    "radius",
    "over_wires",
    "pitch_diameter",
    "taper",
    "point_z",
    "point_x",
    "runout",
    "over_knurl",
]
WHATS: dict[CheckKind, str] = {
    "diameter": "diameter",
    "length": "length from Z 0",
    "depth": "depth from Z 0",
    "radius": "radius by gauge",
    "over_wires": "over wires or pins",
    "pitch_diameter": "pitch diameter of a thread",
    "over_knurl": "diameter over a knurl",
    "taper": "taper: diameter at Z less that at the second Z",
    "point_z": "point of an arc or slope, touched along Z: its depth from Z 0",
    "point_x": "point of an arc or slope, touched along X: its diameter",
    "runout": "runout",
}
Pip = Literal["", "stub", "cone", "none"]
PIPS: dict[Pip, str] = {
    "": "not looked at",
    "stub": "a stub that was not cut",
    "cone": "a cone that was pushed off",
    "none": "none, clean to the axis",
}
WhichPart = Literal["first", "second"]
PARTS: dict[WhichPart, str] = {"first": "first", "second": "second, turned after it"}
SIDES: dict[SideAsked, str] = {"": "by its tool point", "left": "left of travel", "right": "right of travel"}
ROW_HINT = (
    "The print's size with its limits (24 g6, 28 +0.1/0), or with upper and lower apart. Spread: half width at 95 % of "
    "this gauge. The gauge's error is taken off. With a ball a point is read at the ball's centre."
)


class Reading(Declared):
    """One check of the part: what, where, the print's size with its limits, what the gauge showed."""

    what: CheckKind = choice("What", WHATS, "diameter")
    at: float | None = given(Z, "At Z", least=-10_000.0)
    to_z: float | None = given(Z, "Second Z", least=-10_000.0, hint="of a taper")
    on_diameter: float | None = given(DIAMETER, "On diameter", least=0.0, hint="of a point touched along Z")
    ball_diameter: float | None = given(DIAMETER, "Ball", above=0.0, most=100.0, blank="a point of the surface")
    surface: Surface = choice("A runout's surface is", SURFACES, "")
    thread: str | None = word("Thread", hint="gives the size and its limits: M24x2-6g")
    wire: float | None = given(LENGTH, "Wire", above=0.0, hint="over three wires", blank="the best")
    nominal: float | None = given(LENGTH, "Size on the print", least=-10_000.0)
    upper: float | None = given(LENGTH, "Upper limit", least=-10_000.0)
    lower: float | None = given(LENGTH, "Lower limit", least=-10_000.0)
    measured: float = needed(LENGTH, "Measured", least=-10_000.0)
    spread: float | None = given(LENGTH, "Spread", least=0.0)
    gauge_offset: float = given(LENGTH, "Gauge's error", least=-10_000.0, blank="none", default=0.0)
    part: WhichPart = choice("On part", PARTS, "first")


class TemperatureInputs(Declared):
    """Temperatures of part and gauge; blank: 20 °C."""

    part_temperature: float | None = given(TEMPERATURE, "Part", "T_p", least=-50.0, most=300.0, brief="part")
    gauge_temperature: float | None = given(TEMPERATURE, "Gauge", "T_g", least=-50.0, most=300.0, brief="gauge")
    material: Expanding = choice("Material of the part", MATERIALS, "steel", hint="expansion in µm/(m K)")
    part_expansion: float | None = given(EXPANSION, "Expansion of the part", least=0.0, most=1e-4, hint="own value")
    gauge_expansion: float | None = given(EXPANSION, "Expansion of the gauge", least=0.0, most=1e-4, blank="steel")


class FirstPartInputs(Declared):
    """The contour as it was programmed, the tool that turned it, the readings."""

    shape: ShapeName = choice("Contour", SHAPES, OWN)
    contour: ContourGiven | None = contour("Contour", hint="my own, in the direction of travel")
    nose_radius: float | None = given(RADIUS, "Nose radius", "r", above=0.0, hint="as the control has it")
    tool_point: PointNumber = nouns.TOOL_POINT.chosen()
    side: SideAsked = choice("Tool stands", SIDES, "")
    readings: tuple[Reading, ...] = rows(Reading, "Readings", one="Reading", begin=3, most=60, hint=ROW_HINT)
    held_at: float | None = given(
        Z, "Held at Z", least=-10_000.0, hint="where the free length ends: asks whether the work springs away"
    )
    pip: Pip = choice("Pip after facing to the axis", PIPS, "", hint="shows on which side of centre the tool stands")
    usual_spread: float | None = given(
        LENGTH, "Spread of the others", above=0.0, hint="for readings without their own", blank="0.005 mm"
    )
    temperature: TemperatureInputs = part(TemperatureInputs, "Temperature")


class FirstPartResults(Declared):
    """What to change, each with its spread; what is blank these readings do not show."""

    offset_x: float | None = result(X, "Add to X wear", "X")
    offset_z: float | None = result(Z, "Add to Z wear", "Z")
    nose_radius_change: float | None = result(LENGTH, "Nose radius off by", hint="true minus assumed")
    true_nose: float | None = result(RADIUS, "True nose radius", "r")
    centre_height: float | None = result(
        LENGTH, "Tool off centre height by", hint="+ above, − below; without a sign while nobody looked at the pip"
    )
    taper: float | None = result(
        FINE_RATIO, "Taper of the work", hint="diameter per length; + grows away from the chuck"
    )
    deflection: float | None = result(LENGTH, "Work springs away by", hint="per side, at Z 0, its free end")
    growth: float | None = result(LENGTH, "Growth between the parts", hint="the second part’s faces stand out by this")
    not_told_apart: str | None = word("Cannot be told apart", hint="by the names of the call")
    state: str = word("Sizes")


class ReadingRow(Declared):
    """One reading judged: sizes in mm at 20 °C."""

    what: str = word("What")
    at: float | None = result(Z, "at Z")
    wanted: float | None = result(LENGTH, "contour")
    measured: float = result(LENGTH, "measured", hint="at 20 °C")
    deviation: float | None = result(LENGTH, "off by")
    residual: float | None = result(LENGTH, "unexplained")
    after_change: float | None = result(LENGTH, "after the change")
    verdict: str | None = word("verdict")
    in_doubt: bool | None = flag("in doubt")
