"""Drilling from the solid on the axis: speed, feed, torque, thrust, power, time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians
from typing import Literal, NamedTuple

from calc.answer.feature import Answer, Feature
from calc.cutting import drilling as formulas
from calc.cutting import nouns
from calc.cutting.drilling import DRILLS, DrillKind
from calc.cutting.feeding import fed_drill
from calc.cutting.force import share_of_highest, specific_force
from calc.cutting.holding import force_at_jaws, grip_against_both
from calc.cutting.holes import insert_drill
from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import (
    FRICTION,
    GRIP_SAFETY,
    Cut,
    LoadResults,
    Machine,
    Work,
    limited_rpm,
    load_of,
)
from calc.cutting.materials import Material, material
from calc.cutting.operation import StartingSpeed, material_cautions, starting_speed, unusual_speed
from calc.cutting.speed import spindle_speed, surface_speed
from calc.cutting.thin_chips import WHOLE, drill_shaving
from calc.cutting.tools import habits, operations
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, needed, part, result
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import (
    ANGLE,
    DIAMETER,
    FEED,
    FORCE,
    LENGTH,
    POWER,
    REMOVAL_RATE,
    SPINDLE_SPEED,
    SURFACE_SPEED,
    TIME,
    TORQUE,
)

APPROACH = 2.0  # mm in air before the point touches; common practice, no source
DEEP = 3.0  # diameters deep from which chips must be cleared; common practice, no source
VERY_DEEP = 8.0  # diameters deep that a twist drill is not meant for without special care; common practice, no source
LONGEST_WITH_INSERTS = 5.0  # diameters deep; common practice, no source
BIG = 25.0  # mm: from here the web's thrust is worth a pilot hole; common practice, no source
WEB_SHARE = 0.2  # of the drill, a little more than its web is thick; common practice, no source
SMALL = 3.0  # mm: below it a drill breaks easily; common practice, no source
FACTOR = operations()["drill"].force_factor  # of the cutting force, by its source in the table


class DrillingInputs(Declared):
    """Material, drill, hole, and what is set; what is blank is started from the material."""

    material: str = nouns.MATERIAL.needed()
    drill_diameter: float = needed(DIAMETER, "Drill diameter", "d", above=0.0, least=0.1, most=200.0)
    hole_depth: float = needed(LENGTH, "Depth of the hole", "t", hint="to the full diameter", above=0.0)
    drill_material: DrillKind = choice("Drill", DRILLS, "HSS")
    through: Literal["blind", "through"] = choice("Hole", {"blind": "blind", "through": "through"}, "blind")
    feed: float | None = nouns.FEED_RATE.given(blank="usual for the diameter")
    surface_speed: float | None = nouns.SURFACE_SPEED.given(blank="usual for the material")
    point_angle: float | None = given(
        ANGLE,
        "Point angle",
        "σ",
        above=0.0,
        least=radians(1.0),
        most=radians(180.0),
        hint="solid carbide often 140°",
        blank="118°; with inserts 180°",
    )
    machine: Machine = part(Machine, "Machine and chuck")
    work: Work = part(Work, "Work")


class DrillingResults(Declared):
    """What to set, and what it takes."""

    rpm: float = result(SPINDLE_SPEED, "Spindle speed", "n")
    feed: float = result(FEED, "Feed", "f")
    surface_speed: float = result(SURFACE_SPEED, "Surface speed", "v")
    time: float = result(TIME, "Time in cut", "t_c")
    torque: float = result(TORQUE, "Torque", "M")
    thrust: float = result(FORCE, "Thrust along the axis", "F_f")
    cutting_force: float = result(FORCE, "Cutting force of each edge", "F_c")
    power: float = result(POWER, "Power at the spindle", "P")
    power_high: float = result(POWER, "Power, highest published")
    removal_rate: float = result(REMOVAL_RATE, "Removal rate", "Q")
    point_height: float = result(LENGTH, "Height of the point", "h_p")
    chip_thickness: float = result(LENGTH, "Chip thickness", "h")
    grip_with_thrust: float | None = result(
        FORCE, "Grip needed without a stop", hint="all jaws, smooth: torque and thrust held by friction alone"
    )
    machine_load: LoadResults = part(LoadResults, "Against the machine")


@dataclass(frozen=True, slots=True)
class _Drilling:
    """The question with what is blank filled in."""

    inputs: DrillingInputs
    work: Material
    d: float
    depth: float
    feed: float
    speed: float
    rpm: float
    point: float
    notes: tuple[Message, ...]


def solve(inputs: DrillingInputs) -> Answer[DrillingResults]:
    """Speed, feed, torque, time. Raises Missing and OutOfRange.

    >>> found = solve(DrillingInputs(material="C45", drill_diameter=10.0, hole_depth=30.0)).results
    >>> round(found.rpm), round(found.feed, 3)
    (764, 0.18)
    """
    require(inputs)
    asked = _filled(inputs)
    force = _force(asked)
    cut = force.cut(asked)
    load = load_of(cut, inputs.machine, inputs.work)
    height = formulas.point_length.at("of the drill", D="d", result="h_p")(asked.d, asked.point)
    time, thrust = _time(asked, height), _thrust(asked, force.kc)
    results = DrillingResults(
        rpm=asked.rpm,
        feed=asked.feed,
        surface_speed=asked.speed,
        time=time,
        torque=force.torque,
        thrust=thrust,
        cutting_force=FACTOR * force.kc * asked.d * asked.feed / 4,
        power=cut.power,
        power_high=cut.power * force.share_high,
        removal_rate=formulas.drilling_removal(asked.d, asked.feed, asked.rpm),
        point_height=height,
        chip_thickness=force.chip,
        grip_with_thrust=_grip(inputs.work.work_diameter, force.torque, thrust),
        machine_load=load,
    )
    return Answer(
        results=results,
        headline="rpm",
        cautions=(*_cautions(asked), *_against_machine(asked, cut, results)),
        notes=(*asked.notes, _factor_note(asked.work)),
    )


class _Force(NamedTuple):
    """What the drill takes: chip [mm], specific force [N/mm2], torque [N mm], share of the highest published."""

    chip: float
    kc: float
    torque: float
    share_high: float

    def cut(self, asked: _Drilling) -> Cut:
        """The load as a force at the drill's diameter, which the machine and the grip must hold."""
        around, power = 2 * self.torque / asked.d, formulas.drill_power(self.torque, asked.rpm)
        return Cut(around, around * self.share_high, power, asked.d, asked.rpm, tilts=False)


def _force(asked: _Drilling) -> _Force:
    chip, used = _chip(asked.inputs, asked.feed, asked.point), asked.work.forces[0]
    kc = specific_force(used.kc11, chip, used.mc)
    return _Force(chip, kc, formulas.drill_torque(FACTOR, kc, asked.d, asked.feed), share_of_highest(asked.work, chip))


def _thrust(asked: _Drilling, kc: float) -> float:
    return formulas.drill_thrust(formulas.THRUST_SHARE, FACTOR, kc, asked.d, asked.feed, asked.point)


def _time(asked: _Drilling, height: float) -> float:
    """The time in cut [min], with the point's `height` [mm] and what the drill runs before and beyond."""
    overrun = APPROACH if asked.inputs.through == "blind" else 2 * APPROACH
    return formulas.drilling_time(asked.depth, height, overrun, asked.feed, asked.rpm)


def _chip(inputs: DrillingInputs, feed: float, point: float) -> float:
    if inputs.drill_material == "indexable":
        return formulas.insert_drill_chip(feed, point)
    return formulas.drill_chip(feed, point)


def _grip(held_on: float | None, torque: float, thrust: float) -> float | None:
    """The grip that holds torque and thrust by friction; None where it is not known what is held."""
    if held_on is None:
        return None
    return grip_against_both(GRIP_SAFETY, force_at_jaws(torque, held_on), thrust, FRICTION)


def _against_machine(asked: _Drilling, cut: Cut, found: DrillingResults) -> Iterator[Caution]:
    inputs, share = asked.inputs, insert_drill()[0] if asked.inputs.drill_material == "indexable" else None
    fed = fed_drill(asked.feed, asked.work, asked.d, WHOLE if share is None else share)
    chip = drill_shaving(found.chip_thickness, asked.work, asked.d, asked.point, share)
    case = Case(running=Running(asked.rpm, asked.rpm), cut=cut, load=found.machine_load, fed=(fed,), chips=(chip,))
    yield from limits(case, inputs.machine, inputs.work)
    if inputs.drill_material == "HSS" and asked.d >= BIG:
        values: dict[str, Value] = {
            "d": Quantity(asked.d, DIAMETER),
            "thrust": Quantity(found.thrust, FORCE),
            "pilot": Quantity(WEB_SHARE * asked.d, DIAMETER),
        }
        yield Caution(Message(_BIG, values), 1, "thrust")
    yield from _pushed_back(inputs.machine, found)


def _pushed_back(machine: Machine, found: DrillingResults) -> Iterator[Caution]:
    """Where the grip holds the torque but not the thrust with it."""
    grip, torque_alone = found.grip_with_thrust, found.machine_load.grip_needed
    if grip is None or machine.grip_force is None or grip <= machine.grip_force:
        return
    if torque_alone is not None and torque_alone > machine.grip_force:
        return
    values: dict[str, Value] = {
        "thrust": Quantity(found.thrust, FORCE),
        "needed": Quantity(grip, FORCE),
        "grip": Quantity(machine.grip_force, FORCE),
    }
    yield Caution(Message(_PUSHED_BACK, values), 2, "grip_force")


def _starting(inputs: DrillingInputs, work: Material) -> tuple[StartingSpeed, float]:
    """The speed to start with, and the share of a twist drill's feed; inserts run at the speed of boring."""
    if inputs.drill_material == "indexable":
        return starting_speed(work, "bore", "coated carbide", inputs.surface_speed), insert_drill()[0]
    return starting_speed(work, "drill", inputs.drill_material, inputs.surface_speed), 1.0


def _filled(inputs: DrillingInputs) -> _Drilling:
    work = material(inputs.material)
    d = inputs.drill_diameter
    start, share = _starting(inputs, work)
    notes = list(start.notes)
    feed = inputs.feed
    if feed is None:
        usual = habits(work.group).drill_feed
        feed = formulas.starting_feed(share * usual.usual, d)
        values: dict[str, Value] = {
            "low": Quantity(formulas.starting_feed.function(share * usual.low, d), FEED),
            "high": Quantity(formulas.starting_feed.function(share * usual.high, d), FEED),
            "source": usual.source,
        }
        notes.append(Message("Feed to start with from the range {low} to {high} for this diameter ({source}).", values))
    wanted = spindle_speed(start.speed, d)
    rpm = limited_rpm(wanted, inputs.machine)
    speed = start.speed if rpm == wanted else surface_speed.at("with the limit")(d, rpm)
    usual_point = formulas.FLAT if inputs.drill_material == "indexable" else formulas.USUAL_POINT
    point = usual_point if inputs.point_angle is None else inputs.point_angle
    return _Drilling(inputs, work, d, inputs.hole_depth, feed, speed, rpm, point, tuple(notes))


def _cautions(asked: _Drilling) -> Iterator[Caution]:
    yield from material_cautions(asked.work)
    deep = asked.depth / asked.d
    values: dict[str, Value] = {
        "depth": Quantity(asked.depth, LENGTH),
        "ratio": f"{deep:.1f}",
        "d": Quantity(asked.d, DIAMETER),
    }
    inserts = asked.inputs.drill_material == "indexable"
    smallest = insert_drill()[1] if inserts else 0.0
    if inserts and deep > LONGEST_WITH_INSERTS:
        yield Caution(Message(_TOO_LONG, values), 3, "hole_depth")
    elif deep > VERY_DEEP:
        yield Caution(Message(_VERY_DEEP, values), 3, "hole_depth")
    elif deep > DEEP:
        yield Caution(Message(_DEEP, values), 2, "hole_depth")
    names, tool = (("rough", "bore"), "coated carbide") if inserts else (("drill",), asked.inputs.drill_material)
    yield from unusual_speed(asked.work, names, tool, asked.speed)
    if asked.inputs.through == "through":
        yield Caution(Message(_SLUG if inserts else _THROUGH), 2 if inserts else 1, "through")
    if asked.d < smallest:
        values["smallest"] = Quantity(smallest, DIAMETER)
        yield Caution(Message(_NO_INSERTS, values), 2, "drill_diameter")
    if asked.d < SMALL:
        yield Caution(Message(_SMALL, values), 1, "drill_diameter")


def _factor_note(work: Material) -> Message:
    drill = operations()["drill"]
    values: dict[str, Value] = {
        "factor": f"{drill.force_factor:g}",
        "source": drill.force_source,
        "material": work.title,
        "share": f"{formulas.THRUST_SHARE:g}",
    }
    return Message(
        "Force by Kienzle for {material} times {factor} for drilling ({source}); thrust {share} of it, 0.5 with a "
        "thinned chisel edge to 1.0 with a wide one (from memory).",
        values,
    )


_VERY_DEEP = (
    "{depth} is {ratio} diameters deep: a twist drill runs off and packs with chips. Peck, clear the chips often, or "
    "take a deep-hole drill with coolant through it."
)
_TOO_LONG = (
    "{depth} is {ratio} diameters deep: drills with inserts are made for 2 to 5. Take a drill of solid carbide or "
    "high-speed steel."
)
_DEEP = (
    "{depth} is {ratio} diameters deep: withdraw to clear the chips, with coolant through the drill if there is any, "
    "and start at a lower speed."
)
_BIG = (
    "A drill of {d} from the solid pushes with {thrust}: see that turret or tailstock bear it, and take the web's "
    "share away with a pilot hole of about {pilot}."
)
_THROUGH = "Breaking through, the drill is pulled in and may grab: ease the feed for the last of the depth."
_SLUG = (
    "Breaking through, a drill with inserts throws out a disc with sharp edges: close the guard, and ease the feed for "
    "the last of the depth."
)
_NO_INSERTS = "Drills with inserts begin at about {smallest}: for {d} take one of solid carbide or high-speed steel."
_PUSHED_BACK = (
    "The thrust of {thrust} pushes the work back into the chuck: without a stop behind it smooth jaws need a grip of "
    "{needed}, but there is {grip}. Set the work against a stop or a step of the jaws."
)
_SMALL = "A drill of {d} breaks easily: spot the centre first, and clear the chips often."

FEATURE = Feature(
    path="speed-feed/drilling",
    title="Drilling",
    summary="Speed, feed, torque, thrust, power and time for a hole drilled on the axis.",
    solve=solve,
    page="/drilling",
    supporting=("feed", "time", "torque", "thrust"),
    example={"material": "C45", "drill_diameter": "12", "hole_depth": "30", "drill_material": "HSS", "max_rpm": "2000"},
)
