"""Drilling from the solid on the axis: speed, feed, torque, thrust, power, time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians

from calc.answer.feature import Answer, Feature
from calc.cutting import drilling as formulas
from calc.cutting import nouns
from calc.cutting.force import specific_force
from calc.cutting.machine import Cut, LoadResults, Machine, limited_rpm, load_of, machine_cautions
from calc.cutting.materials import Material, material
from calc.cutting.operation import TOOLS, material_cautions, speed_caution, starting_speed
from calc.cutting.speed import spindle_speed, surface_speed
from calc.cutting.tools import habits, operations
from calc.language.checks import require
from calc.language.fields import choice, given, needed, part, result
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
SMALL = 3.0  # mm: below it a drill breaks easily; common practice, no source


@dataclass(frozen=True, kw_only=True)
class DrillingInputs:
    """Material, drill, hole, and what is set; what is blank is started from the material."""

    material: str = nouns.MATERIAL.needed()
    drill_diameter: float = needed(DIAMETER, "Drill diameter", "d", above=0.0, least=0.1, most=200.0)
    hole_depth: float = needed(LENGTH, "Depth of the hole", "t", hint="to the full diameter", above=0.0)
    drill_material: str = choice("Drill made of", {name: TOOLS[name] for name in ("HSS", "coated carbide")}, "HSS")
    through: str = choice("Hole", {"blind": "blind", "through": "through"}, "blind")
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
        blank="118°",
    )
    machine: Machine = part(Machine, "Machine and chuck")


@dataclass(frozen=True, kw_only=True)
class DrillingResults:
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
    d, feed = asked.d, asked.feed
    factor = operations()["drill"].force_factor
    thickness = formulas.drill_chip(feed, asked.point)
    used = asked.work.forces[0]
    kc = specific_force(used.kc11, thickness, used.mc)
    highest = max(specific_force.function(one.kc11, thickness, one.mc) for one in asked.work.forces)
    torque = formulas.drill_torque(factor, kc, d, feed)
    power = formulas.drill_power(torque, asked.rpm)
    cut = Cut(2 * torque / d, 2 * torque / d * highest / kc, power, d, asked.rpm)
    load = load_of(cut, inputs.machine)
    height = formulas.point_height(d, asked.point)
    overrun = APPROACH if inputs.through == "blind" else 2 * APPROACH
    return Answer(
        results=DrillingResults(
            rpm=asked.rpm,
            feed=feed,
            surface_speed=asked.speed,
            time=formulas.drilling_time(asked.depth, height, overrun, feed, asked.rpm),
            torque=torque,
            thrust=formulas.drill_thrust(formulas.THRUST_SHARE, factor, kc, d, feed, asked.point),
            cutting_force=factor * kc * d * feed / 4,
            power=power,
            power_high=power * highest / kc,
            removal_rate=formulas.drilling_removal(d, feed, asked.rpm),
            point_height=height,
            chip_thickness=thickness,
            machine_load=load,
        ),
        headline="rpm",
        cautions=(*_cautions(asked), *machine_cautions(cut, load, inputs.machine)),
        notes=(*asked.notes, _factor_note(asked.work)),
    )


def _filled(inputs: DrillingInputs) -> _Drilling:
    work = material(inputs.material)
    d = inputs.drill_diameter
    start = starting_speed(work, "drill", inputs.drill_material, inputs.surface_speed)
    notes = list(start.notes)
    feed = inputs.feed
    if feed is None:
        usual = habits(work.group).drill_feed
        feed = formulas.starting_feed(usual.usual, d)
        values: dict[str, Value] = {
            "low": Quantity(formulas.starting_feed.function(usual.low, d), FEED),
            "high": Quantity(formulas.starting_feed.function(usual.high, d), FEED),
            "source": usual.source,
        }
        notes.append(Message("Feed to start with from the range {low} to {high} for this diameter ({source}).", values))
    wanted = spindle_speed(start.speed, d)
    rpm = limited_rpm(wanted, inputs.machine)
    speed = start.speed if rpm == wanted else surface_speed.at("with the limit")(d, rpm)
    point = formulas.USUAL_POINT if inputs.point_angle is None else inputs.point_angle
    return _Drilling(inputs, work, d, inputs.hole_depth, feed, speed, rpm, point, tuple(notes))


def _cautions(asked: _Drilling) -> Iterator[Caution]:
    yield from material_cautions(asked.work)
    deep = asked.depth / asked.d
    values: dict[str, Value] = {
        "depth": Quantity(asked.depth, LENGTH),
        "ratio": f"{deep:.1f}",
        "d": Quantity(asked.d, DIAMETER),
        "feed": Quantity(asked.feed, FEED),
    }
    if deep > VERY_DEEP:
        yield Caution(Message(_VERY_DEEP, values), 3, "hole_depth")
    elif deep > DEEP:
        yield Caution(Message(_DEEP, values), 2, "hole_depth")
    usual = habits(asked.work.group).drill_feed
    most = formulas.starting_feed.function(usual.high, asked.d)
    if asked.feed > 1.5 * most:
        values["most"] = Quantity(most, FEED)
        yield Caution(Message(_FED_HARD, values), 2, "feed")
    unusual = speed_caution(asked.work, ("drill",), asked.inputs.drill_material, asked.speed)
    if unusual is not None:
        yield unusual
    if asked.inputs.through == "through":
        yield Caution(Message(_THROUGH), 1, "through")
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
_DEEP = (
    "{depth} is {ratio} diameters deep: withdraw to clear the chips, with coolant through the drill if there is any, "
    "and start at a lower speed."
)
_FED_HARD = "{feed} is far above the {most} that a drill of {d} is usually fed: it may break. Feed less."
_THROUGH = "Breaking through, the drill is pulled in and may grab: ease the feed for the last of the depth."
_SMALL = "A drill of {d} breaks easily: spot the centre first, and clear the chips often."

FEATURE = Feature(
    path="speed-feed/drilling",
    title="Drilling",
    summary="Speed, feed, torque, thrust, power and time for a hole drilled on the axis.",
    inputs=DrillingInputs,
    results=DrillingResults,
    solve=solve,
    page="/drilling",
    supporting=("feed", "time", "torque", "thrust"),
    example={"material": "C45", "drill_diameter": "12", "hole_depth": "30", "drill_material": "HSS", "max_rpm": "2000"},
)
