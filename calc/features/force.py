"""Cutting force, power and torque of a turning cut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians

from calc.cutting.checks import require
from calc.cutting.chip import LARGEST_ENTERING_ANGLE, Edge
from calc.cutting.force import (
    THICKEST,
    THINNEST,
    Chip,
    CutForce,
    chip_of,
    cutting_power,
    cutting_torque,
    force_of,
    removal_rate,
)
from calc.cutting.materials import Material, material
from calc.feature import Answer, Feature
from calc.fields import given, result, word
from calc.messages import Caution, Message, Quantity
from calc.problems import Fault, Missing
from calc.quantities import (
    ANGLE,
    DIAMETER,
    FEED,
    FORCE,
    LENGTH,
    POWER,
    PRESSURE,
    RADIUS,
    REMOVAL_RATE,
    SURFACE_SPEED,
    TORQUE,
)


@dataclass(frozen=True, kw_only=True)
class ForceInputs:
    """Material, cut and edge; the diameter, if the torque is wanted."""

    material: str | None = word("Material", hint="any of its names: C45, 1.0503, 1045, 6061-T6")
    depth: float | None = given(LENGTH, "Depth of cut", "a", above=0.0, least=0.001)
    feed: float | None = given(FEED, "Feed", "f", above=0.0, least=0.001)
    surface_speed: float | None = given(SURFACE_SPEED, "Surface speed", "v", above=0.0, least=1000.0)
    entering_angle: float | None = given(
        ANGLE,
        "Entering angle",
        "κ",
        above=0.0,
        least=radians(5.0),
        most=LARGEST_ENTERING_ANGLE,
        hint="blank for a round insert",
    )
    nose_radius: float | None = given(RADIUS, "Nose radius", "r", least=0.0, hint="blank: the straight edge alone cuts")
    diameter: float | None = given(DIAMETER, "Diameter", "D", above=0.0, least=0.001, hint="for the torque")


@dataclass(frozen=True, kw_only=True)
class ForceResults:
    """Chip, force, power, torque and removal rate; low and high span the published values of the material."""

    chip_thickness: float = result(LENGTH, "Chip thickness", "h", hint="the mean one where a nose cuts")
    chip_width: float = result(LENGTH, "Chip width", "b")
    specific_force: float = result(PRESSURE, "Specific cutting force", "k_c")
    cutting_force: float = result(FORCE, "Cutting force", "F_c")
    cutting_force_low: float = result(FORCE, "Cutting force, lowest published")
    cutting_force_high: float = result(FORCE, "Cutting force, highest published")
    power: float = result(POWER, "Power at the spindle", "P", hint="the motor gives more: its losses come on top")
    power_low: float = result(POWER, "Power, lowest published")
    power_high: float = result(POWER, "Power, highest published")
    torque: float | None = result(TORQUE, "Torque at the spindle", "M")
    removal_rate: float = result(REMOVAL_RATE, "Removal rate", "Q")


def solve(inputs: ForceInputs) -> Answer[ForceResults]:
    """Force, power, torque. Raises Missing, and OutOfRange for values that cannot be meant or an unknown material.

    >>> cut = ForceInputs(material="C45", depth=3.0, feed=0.3, surface_speed=200_000.0, entering_angle=radians(95.0))
    >>> round(solve(cut).results.cutting_force)
    2366
    """
    require(inputs, "material", "depth", "feed", "surface_speed")
    work = material(inputs.material or "")
    depth, feed, v = inputs.depth or 0.0, inputs.feed or 0.0, inputs.surface_speed or 0.0
    chip = chip_of(depth, feed, _edge(inputs))
    found = force_of(chip, work)
    return Answer(
        results=ForceResults(
            chip_thickness=chip.thickness,
            chip_width=chip.width,
            specific_force=found.specific,
            cutting_force=found.force,
            cutting_force_low=found.low,
            cutting_force_high=found.high,
            power=cutting_power(found.force, v),
            power_low=found.low * v,
            power_high=found.high * v,
            torque=None if inputs.diameter is None else cutting_torque(found.force, inputs.diameter),
            removal_rate=removal_rate(v, feed, depth),
        ),
        headline="cutting_force",
        cautions=tuple(_cautions(inputs, work, chip)),
        notes=(_spread(work, found),),
    )


def _edge(inputs: ForceInputs) -> Edge:
    nose, angle = inputs.nose_radius or 0.0, inputs.entering_angle
    if angle is not None:
        return Edge(nose, angle)
    if nose == 0.0:
        said = Message("Give the entering angle, or the nose radius of a round insert.")
        raise Missing(Fault("entering_angle", said))
    return Edge(nose)


def _cautions(inputs: ForceInputs, work: Material, chip: Chip) -> Iterator[Caution]:
    nose, depth, v = inputs.nose_radius or 0.0, inputs.depth or 0.0, inputs.surface_speed or 0.0
    if inputs.entering_angle is None and depth > nose:
        values = {"depth": Quantity(depth, LENGTH), "nose": Quantity(nose, RADIUS)}
        yield Caution(Message(_DEEPER_THAN_ROUND, values), 3, "depth")
    if not THINNEST <= chip.thickness <= THICKEST:
        values = {"chip": Quantity(chip.thickness, LENGTH)}
        ends = {"thin": Quantity(THINNEST, LENGTH), "thick": Quantity(THICKEST, LENGTH)}
        text = _TOO_THIN if chip.thickness < THINNEST else _TOO_THICK
        yield Caution(Message(text, values | ends), 2, "cutting_force")
    if work.speeds and not min(one.low for one in work.speeds) <= v <= max(one.high for one in work.speeds):
        yield Caution(_unusual_speed(work, v), 2, "surface_speed")


def _unusual_speed(work: Material, v: float) -> Message:
    return Message(
        "{speed} is outside the {low} to {high} in which {material} is started with {tool}: force and edge life may "
        "differ from what the tables say.",
        {
            "speed": Quantity(v, SURFACE_SPEED),
            "low": Quantity(min(one.low for one in work.speeds), SURFACE_SPEED),
            "high": Quantity(max(one.high for one in work.speeds), SURFACE_SPEED),
            "material": work.code,
            "tool": work.speeds[0].tool,
        },
    )


def _spread(work: Material, found: CutForce) -> Message:
    return Message(
        "{material}, {condition}: published values span {low} to {high} for a sharp edge; a worn edge takes more.",
        {
            "material": work.title,
            "condition": work.condition,
            "low": Quantity(found.low, FORCE),
            "high": Quantity(found.high, FORCE),
        },
    )


_DEEPER_THAN_ROUND = (
    "{depth} is deeper than a round insert of {nose} can cut; it is reckoned as if the edge went on straight. Give the "
    "entering angle, or cut less deep."
)
_TOO_THIN = (
    "The chip is {chip} thick; the tables begin at {thin}. The real force is higher, as the edge presses more "
    "than it cuts."
)
_TOO_THICK = "The chip is {chip} thick; the tables end at {thick}. Take the force as a guess."

FEATURE = Feature(
    path="speed-feed/force",
    title="Cutting force and power",
    summary="Chip, cutting force, power, torque and removal rate of a cut, and the spread of published values.",
    inputs=ForceInputs,
    results=ForceResults,
    solve=solve,
    example={"material": "C45", "depth": "0.84", "feed": "0.25", "surface_speed": "180", "nose_radius": "6"},
)
