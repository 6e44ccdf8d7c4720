"""What is asked of a hole on the axis and what is answered, declared."""

from __future__ import annotations

from math import pi, radians
from typing import Literal

from calc.cutting import nouns
from calc.cutting.drilling import DRILLS, DrillKind
from calc.cutting.machine import LoadResults, Machine, Work
from calc.language.fields import Declared, choice, given, needed, part, result, word
from calc.language.quantities import (
    ANGLE,
    COUNT,
    DIAMETER,
    FEED,
    FORCE,
    LENGTH,
    POWER,
    SPINDLE_SPEED,
    SURFACE_SPEED,
    TIME,
    TORQUE,
)
from calc.threads.synchrony import FEED_RATE

Finished = Literal["drilled", "reamed", "bored", "tapped"]
FINISHED: dict[Finished, str] = {"drilled": "as drilled", "reamed": "reamed", "bored": "bored", "tapped": "tapped"}
Bottom = Literal["cone", "flat"]
BOTTOMS: dict[Bottom, str] = {"cone": "cone of the drill", "flat": "flat, bored out"}
Retract = Literal["", "out", "break", "none"]
RETRACTS: dict[Retract, str] = {
    "": "usual for the depth",
    "out": "out of the hole",
    "break": "a little, to break the chip",
    "none": "none",
}
CoolantFrom = Literal["outside", "through"]
COOLANT: dict[CoolantFrom, str] = {"outside": "from outside", "through": "through the drill"}


class DrillInputs(Declared):
    """The drill; what is blank is usual for hole and material."""

    drill_material: DrillKind = choice("Drill", DRILLS, "HSS")
    drill_at_hand: float | None = given(
        DIAMETER, "Drill at hand", "d", above=0.0, least=0.1, most=200.0, blank="what the finish leaves room for"
    )
    pilot_diameter: float | None = given(
        DIAMETER, "Pilot drill", "d_p", least=0.0, hint="0: none", blank="above Ø20 mm, high-speed steel"
    )
    feed: float | None = nouns.FEED_RATE.given(blank="usual for the diameter")
    surface_speed: float | None = nouns.SURFACE_SPEED.given(blank="usual for the material")
    drill_point: float | None = given(
        ANGLE,
        "Point of the drill",
        "σ",
        above=0.0,
        least=radians(1.0),
        most=pi,
        blank="118°; solid carbide 140°; with inserts 180°",
    )


class PeckInputs(Declared):
    """How the chips are cleared."""

    coolant: CoolantFrom = choice("Coolant", COOLANT, "outside")
    retract: Retract = choice("Retract after each peck", RETRACTS, "")
    first_peck: float | None = given(LENGTH, "First peck", "p_1", above=0.0, blank="usual for the drill")
    following_peck: float | None = given(
        LENGTH, "Following pecks, at most", "p", above=0.0, blank="usual for the drill"
    )
    break_by: float = given(LENGTH, "Back to break the chip", above=0.0, blank="1 mm (.04 in)", default=1.0)
    rapid_rate: float | None = given(FEED_RATE, "Rapid rate", "v_r", above=0.0, blank="8 m/min")


class BoringBarInputs(Declared):
    """The boring bar of a bored hole."""

    nose_radius: float | None = nouns.NOSE_RADIUS.given(hint="of the boring insert", blank="0.4 mm (.016 in)")
    bore_feed: float | None = given(FEED, "Feed of the bar", "f_b", above=0.0, least=0.001, blank="usual for the nose")


class MouthInputs(Declared):
    """What the mouth of the hole gets."""

    countersink_diameter: float | None = given(DIAMETER, "Countersink diameter", "D_c", above=0.0, blank="none")
    countersink_angle: float = given(
        ANGLE, "Countersink angle", above=0.0, most=radians(170.0), blank="90°", default=pi / 2
    )
    counterbore_diameter: float | None = given(DIAMETER, "Counterbore diameter", "D_b", above=0.0, blank="none")
    counterbore_depth: float | None = given(LENGTH, "Counterbore depth", "t_b", above=0.0)


class HoleInputs(Declared):
    """The hole as the print has it, how it is finished, and the tools (mm)."""

    material: str = nouns.MATERIAL.needed()
    finished: Finished = choice("The hole is", FINISHED, "drilled")
    bore_diameter: float | None = nouns.BORE_DIAMETER.given(hint="finished; a tapped hole has its thread instead")
    designation: str | None = word("Thread", hint="of a tapped hole, as written: M10-6H, 1/4-20 UNC-2B")
    hole_depth: float = needed(LENGTH, "Depth of the hole", "t", hint="finished, to the full diameter", above=0.0)
    through: Literal["blind", "through"] = choice("Hole", {"blind": "blind", "through": "through"}, "blind")
    bottom: Bottom = choice("Bottom of a bored hole", BOTTOMS, "cone")
    left_for_finish: float | None = given(
        LENGTH, "Left for the finish, on the diameter", "c", above=0.0, blank="usual for reamer or boring bar"
    )
    drill: DrillInputs = part(DrillInputs, "Drill")
    peck: PeckInputs = part(PeckInputs, "Pecks and coolant")
    bar: BoringBarInputs = part(BoringBarInputs, "Boring bar")
    mouth: MouthInputs = part(MouthInputs, "Countersink, counterbore")
    machine: Machine = part(Machine, "Machine and chuck")
    work: Work = part(Work, "Work")


class ToolRow(Declared):
    """One tool of the hole, in the order in which they are used."""

    tool: str = word("Tool")
    diameter: float = result(DIAMETER, "Diameter")
    tip_depth: float = result(LENGTH, "Depth at the tip")
    rpm: float | None = result(SPINDLE_SPEED, "Spindle speed")
    feed: float | None = result(FEED, "Feed")
    torque: float | None = result(TORQUE, "Torque")
    thrust: float | None = result(FORCE, "Thrust")
    power: float | None = result(POWER, "Power")
    time: float | None = result(TIME, "Time with retracts")


class PeckRow(Declared):
    """One peck of the drill."""

    number: float = result(COUNT, "Peck")
    deep: float = result(LENGTH, "Peck depth")
    tip: float = result(LENGTH, "Tip at")
    then: str = word("Then")


class DepthResults(Declared):
    """Depths and diameters beside the drill's own."""

    full_depth: float = result(LENGTH, "Drill to the full diameter", "t_d")
    spot_diameter: float | None = result(DIAMETER, "Spot to")
    spot_depth: float | None = result(LENGTH, "Spot this deep")
    left: float | None = result(LENGTH, "Left for the finish, on the diameter", "c")
    per_side: float | None = result(LENGTH, "Left on each side", "c_s")
    countersink_depth: float | None = result(LENGTH, "Countersink this deep", hint="from the face or the counterbore")


class HoleResults(Declared):
    """What to drill with and set, and what it takes."""

    drill_diameter: float = result(DIAMETER, "Drill", "d")
    tip_depth: float = result(LENGTH, "Depth at the drill's tip", "t_t")
    rpm: float = result(SPINDLE_SPEED, "Spindle speed", "n")
    feed: float = result(FEED, "Feed", "f")
    surface_speed: float = result(SURFACE_SPEED, "Surface speed", "v")
    peck_count: float = result(COUNT, "Pecks")
    time: float = result(TIME, "Time, all tools", "t", hint="tool changes on top")
    drill_time: float = result(TIME, "Time of the drill, with retracts")
    torque: float = result(TORQUE, "Torque", "M")
    thrust: float = result(FORCE, "Thrust along the axis", "F_f")
    power: float = result(POWER, "Power at the spindle", "P")
    grip_with_thrust: float | None = result(FORCE, "Grip needed without a stop", hint="torque and thrust by friction")
    depths: DepthResults = part(DepthResults, "Tools and depths")
    machine_load: LoadResults = part(LoadResults, "Against the machine")
