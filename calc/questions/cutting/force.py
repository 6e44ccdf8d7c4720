"""Cutting force, power and torque of a turning cut, against what the machine gives."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians
from typing import Literal

from calc.answer.feature import Answer, Feature
from calc.cutting import nouns
from calc.cutting.chip import Edge
from calc.cutting.components import ComponentResults
from calc.cutting.corrections import WEAR, WEAR_FACTORS, Wear, correction, rake_factor, rake_of_tables, speed_factor
from calc.cutting.force import (
    CutForce,
    cutting_torque,
    removal_rate,
)
from calc.cutting.limits import limits
from calc.cutting.machine import LoadResults, Machine, Work, limited_rpm
from calc.cutting.materials import material
from calc.cutting.operation import material_cautions, unusual_speed
from calc.cutting.speed import spindle_speed, surface_speed
from calc.cutting.starting import starting_cut
from calc.cutting.turned import Turned, Turning, ratio_note, turned
from calc.cutting.unit_power import difference, feed_factor, power_by_volume, unit_power_of
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, part, result
from calc.language.messages import Caution, Digits, Message, Quantity, Value
from calc.language.problems import Fault, Missing
from calc.language.quantities import (
    ANGLE,
    FEED,
    FORCE,
    LENGTH,
    POWER,
    PRESSURE,
    RADIUS,
    RATIO,
    REMOVAL_RATE,
    SURFACE_SPEED,
    TORQUE,
)
from calc.tool.insert import nose_of, read_insert

UNCORRECTED = 1.0  # times the force of the tables
STEEPEST_RAKE = radians(30.0)


class EdgeInputs(Declared):
    """The edge as it is, where it differs from the one that the tables hold for."""

    tool: str = nouns.TOOL.chosen()
    rake_angle: float | None = given(
        ANGLE, "Rake", "γ", blank="as in the tables", least=-STEEPEST_RAKE, most=STEEPEST_RAKE
    )
    wear: Wear = nouns.WEAR.chosen()
    correct_speed: Literal["no", "yes"] = choice("Corrected for the surface speed", {"no": "no", "yes": "yes"}, "no")


class ForceInputs(Declared):
    """Material, cut and edge; the diameter, if the torque is wanted; the machine, if it is held against it."""

    material: str = nouns.MATERIAL.needed()
    depth: float = nouns.DEPTH_OF_CUT.needed()
    feed: float = nouns.FEED_RATE.needed()
    surface_speed: float = nouns.SURFACE_SPEED.needed()
    entering_angle: float | None = nouns.ENTERING_ANGLE.given(hint="blank for a round insert")
    insert: str | None = nouns.INSERT.given(hint="such as RCMT 1204M0: gives the nose, and whether it is round")
    nose_radius: float | None = nouns.NOSE_OR_SHARP.given(blank="the straight edge alone cuts")
    diameter: float | None = nouns.DIAMETER_OF_CUT.given(hint="for torque and spindle speed", blank="the work's")
    edge: EdgeInputs = part(EdgeInputs, "Edge and corrections")
    machine: Machine = part(Machine, "Machine and chuck")
    work: Work = part(Work, "Work")


class ComparedResults(Declared):
    """The same cut by the handbook's unit power."""

    power_by_unit_power: float | None = result(
        POWER, "Power by unit power", "P_u", hint="at the spindle, with the same edge"
    )
    unit_power_difference: float | None = result(RATIO, "Difference from the cutting force's power")


class ForceResults(Declared):
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
    correction: float | None = result(RATIO, "Correction of the force", "K")
    components: ComponentResults = part(ComponentResults, "Feed and passive force")
    machine_load: LoadResults = part(LoadResults, "Against the machine")
    compared: ComparedResults = part(ComparedResults, "By unit power")


@dataclass(frozen=True, slots=True)
class _Turning:
    """The question with what is blank filled in."""

    inputs: ForceInputs
    wanted_speed: float
    cut: Turning


def solve(inputs: ForceInputs) -> Answer[ForceResults]:
    """Force, power, torque. Raises Missing, and OutOfRange for values that cannot be meant or an unknown material.

    >>> cut = ForceInputs(material="C45", depth=3.0, feed=0.3, surface_speed=200_000.0, entering_angle=radians(95.0))
    >>> round(solve(cut).results.cutting_force)
    2366
    """
    require(inputs)
    asked = _turning(inputs)
    factor = _factor(asked)
    found = turned(asked.cut, UNCORRECTED if factor is None else factor, inputs.machine, inputs.work)
    results = _results(asked, found, factor)
    return Answer(
        results=results,
        headline="cutting_force",
        cautions=(*_cautions(asked), *limits(found.case(), inputs.machine, inputs.work)),
        notes=(*asked.cut.work.notes, _spread(asked, found.force), *_usual(asked.cut)),
        sentences={
            "Feed and passive force": (ratio_note(asked.cut.work),),
            "By unit power": tuple(_unit_power(asked, results.compared.unit_power_difference)),
        },
    )


def _results(asked: _Turning, found: Turned, factor: float | None) -> ForceResults:
    cut, force = asked.cut, found.force
    removal = removal_rate(cut.speed, cut.feed, cut.depth)
    return ForceResults(
        chip_thickness=found.chip.thickness,
        chip_width=found.chip.width,
        specific_force=force.specific,
        cutting_force=force.force,
        cutting_force_low=force.low,
        cutting_force_high=force.high,
        power=found.power,
        power_low=force.low * cut.speed,
        power_high=force.high * cut.speed,
        torque=None if cut.diameter is None else cutting_torque(force.force, cut.diameter),
        removal_rate=removal,
        correction=factor,
        components=found.components,
        machine_load=found.load,
        compared=_compared(asked, removal, found.power),
    )


def _turning(inputs: ForceInputs) -> _Turning:
    wanted = inputs.surface_speed
    diameter = inputs.diameter if inputs.diameter is not None else inputs.work.work_diameter
    speed, rpm = wanted, None
    if diameter is not None and (inputs.machine != Machine() or inputs.work != Work()):
        unlimited = spindle_speed(wanted, diameter)
        rpm = limited_rpm(unlimited, inputs.machine)
        speed = wanted if rpm == unlimited else surface_speed.at("with the limit")(diameter, rpm)
    work = material(inputs.material)
    return _Turning(inputs, wanted, Turning(work, _edge(inputs), inputs.depth, inputs.feed, speed, diameter, rpm))


def _edge(inputs: ForceInputs) -> Edge:
    insert = read_insert(inputs.insert, "insert") if inputs.insert else None
    named = nose_of(inputs.insert) if inputs.insert and inputs.nose_radius is None else 0.0
    nose, angle = inputs.nose_radius or named, inputs.entering_angle
    if angle is not None:
        return Edge(nose, angle)
    if nose == 0.0 or (insert is not None and insert.angle is not None):
        said = Message("Give the entering angle, or the nose radius of a round insert.")
        raise Missing(Fault("entering_angle", said))
    return Edge(nose)


def _factor(asked: _Turning) -> float | None:
    """The correction of the force, None when nothing is corrected."""
    edge = asked.inputs.edge
    if edge.rake_angle is None and edge.wear == "sharp" and edge.correct_speed == "no":
        return None
    rake = 1.0 if edge.rake_angle is None else rake_factor(edge.rake_angle, rake_of_tables(asked.cut.work.group))
    speed = speed_factor(asked.cut.speed) if edge.correct_speed == "yes" else 1.0
    return correction(rake, speed, WEAR_FACTORS[edge.wear], 1.0)


def _compared(asked: _Turning, removal: float, power: float) -> ComparedResults:
    unit = unit_power_of(asked.cut.work)
    if unit is None:
        return ComparedResults()
    by_volume = power_by_volume(unit.usual, feed_factor(asked.cut.feed), removal, WEAR_FACTORS[asked.inputs.edge.wear])
    return ComparedResults(power_by_unit_power=by_volume, unit_power_difference=difference(by_volume, power))


def _cautions(asked: _Turning) -> Iterator[Caution]:
    yield from material_cautions(asked.cut.work)
    inputs, nose = asked.inputs, asked.cut.edge.nose_radius
    if inputs.entering_angle is None and asked.cut.depth > nose:
        values = {"depth": Quantity(asked.cut.depth, LENGTH), "nose": Quantity(nose, RADIUS)}
        yield Caution(Message(_DEEPER_THAN_ROUND, values), 3, "depth")
    yield from unusual_speed(asked.cut.work, ("rough", "finish"), inputs.edge.tool, asked.wanted_speed)
    if asked.cut.speed < asked.wanted_speed:
        said = {
            "wanted": Quantity(asked.wanted_speed, SURFACE_SPEED),
            "reached": Quantity(asked.cut.speed, SURFACE_SPEED),
        }
        yield Caution(Message(_HELD, said), 1, "surface_speed")


def _spread(asked: _Turning, found: CutForce) -> Message:
    work, wear = asked.cut.work, asked.inputs.edge.wear
    text = (
        "{material}, {condition}: published values span {low} to {high} for a sharp edge; a worn edge takes more."
        if wear == "sharp"
        else "{material}, {condition}: published values span {low} to {high} for an edge that is {wear}, "
        "{factor} times."
    )
    return Message(
        text,
        {
            "material": work.title,
            "condition": work.condition,
            "wear": WEAR[wear],
            "factor": f"{WEAR_FACTORS[wear]:g}",
            "low": Quantity(found.low, FORCE),
            "high": Quantity(found.high, FORCE),
        },
    )


def _usual(asked: Turning) -> Iterator[Message]:
    """The feed and the depth that roughing with this nose in this material usually starts with, beside those given."""
    cut = starting_cut(asked.work, "rough", asked.edge.nose_radius)
    if cut is not None:
        values: dict[str, Value] = {
            "feed_low": Quantity(cut.feed.low, FEED),
            "feed_high": Quantity(cut.feed.high, FEED),
            "depth_low": Quantity(cut.depth.low, LENGTH),
            "depth_high": Quantity(cut.depth.high, LENGTH),
        }
        yield Message(_USUAL, values)


def _unit_power(asked: _Turning, share: float | None) -> Iterator[Message]:
    unit = unit_power_of(asked.cut.work)
    if unit is None or share is None:
        yield Message("The handbook gives no unit power for {material}.", {"material": asked.cut.work.title})
        return
    values: dict[str, Value] = {
        "class": unit.title,
        "source": unit.source,
        "factor": f"{feed_factor(asked.cut.feed):.2f}",
    }
    values |= {"share": Digits(f"{abs(share):.0%}"), "more": "more" if share >= 0.0 else "less"}
    yield Message("By unit power the cut takes {share} {more} than by the cutting force.", values)
    values["wear"] = f"{WEAR_FACTORS[asked.inputs.edge.wear]:g}"
    yield Message("Unit power of {class}, feed factor {factor}, edge factor {wear}; source: {source}.", values)


_USUAL = (
    "Roughing with this nose usually starts with a feed of {feed_low} to {feed_high} at {depth_low} to {depth_high}."
)
_DEEPER_THAN_ROUND = (
    "{depth} is deeper than a round insert of {nose} can cut; it is calculated as if the edge went on straight. "
    "Give the entering angle, or cut less deep."
)
_HELD = "The spindle limit holds here: the surface speed is {reached}, not {wanted}, and so is the power."

FEATURE = Feature(
    path="speed-feed/force",
    title="Cutting force and power",
    summary="Chip, cutting, feed and passive force, power against the machine's, and the spread of published values.",
    solve=solve,
    page="/force",
    supporting=("power", "passive_force", "removal_rate", "torque"),
    example={
        "material": "C45",
        "depth": "0.84",
        "feed": "0.25",
        "surface_speed": "180",
        "nose_radius": "6",
        "diameter": "60",
        "motor_power": "11",
        "base_rpm": "1000",
        "max_rpm": "2000",
        "chuck_limit": "3200",
    },
)
