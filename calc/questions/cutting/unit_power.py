"""Power of a turning cut from the volume it removes, as inch handbooks calculate it, beside the cutting force."""

from __future__ import annotations

from collections.abc import Iterator

from calc.answer.feature import Answer, Feature
from calc.cutting import nouns
from calc.cutting.chip import Edge
from calc.cutting.feeding import fed_edge
from calc.cutting.force import chip_of, cutting_power, force_of, removal_rate
from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import (
    USUAL_EFFICIENCY,
    Cut,
    LoadResults,
    Machine,
    Work,
    limited_rpm,
    load_of,
    power_at_motor,
)
from calc.cutting.materials import Material, material
from calc.cutting.operation import unusual_speed
from calc.cutting.speed import spindle_speed
from calc.cutting.thin_chips import Shaving
from calc.cutting.unit_power import (
    UNIT_POWER,
    WEAR,
    EdgeState,
    UnitPowers,
    difference,
    feed_factor,
    power_by_volume,
    unit_power_of,
    wear_factor,
)
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, part, result
from calc.language.messages import Caution, Digits, Listed, Message, Quantity, Value
from calc.language.problems import Fault, Missing
from calc.language.quantities import COUNT, FORCE, POWER, RATIO, REMOVAL_RATE, SPINDLE_SPEED


class UnitPowerInputs(Declared):
    """Material and cut."""

    material: str = nouns.MATERIAL.needed(hint="any of its names: 4130, 25CrMo4, 1045")
    hardness: float | None = given(
        COUNT, "Hardness", "HB", above=0.0, least=20.0, most=600.0, blank="the middle of the material's"
    )
    depth: float = nouns.DEPTH_OF_CUT.needed()
    feed: float = nouns.FEED_RATE.needed()
    surface_speed: float = nouns.SURFACE_SPEED.needed()
    edge_state: EdgeState = choice("Edge", WEAR, "normal")
    diameter: float | None = nouns.DIAMETER_OF_CUT.given(hint="for spindle speed and grip", blank="the work's")
    machine: Machine = part(Machine, "Machine and chuck")
    work: Work = part(Work, "Work")


class UnitPowerResults(Declared):
    """Power by the volume removed, and the same cut by its force."""

    power: float = result(POWER, "Power at the spindle", "P_u")
    motor_power_needed: float = result(POWER, "Power at the motor", "P_m")
    removal_rate: float = result(REMOVAL_RATE, "Removal rate", "Q")
    unit_power: float = result(UNIT_POWER, "Unit power", "K_p")
    feed_factor: float = result(RATIO, "Factor for the feed", "C")
    wear_factor: float = result(RATIO, "Factor for the edge", "W")
    unit_power_low: float = result(UNIT_POWER, "Unit power, softest")
    unit_power_high: float = result(UNIT_POWER, "Unit power, hardest")
    power_by_force: float = result(POWER, "Power by the cutting force", "P", hint="sharp straight edge at 90°")
    force_difference: float = result(RATIO, "Difference from the cutting force's power", "d")
    spindle_rpm: float | None = result(SPINDLE_SPEED, "Spindle speed", "n")
    power_available: float | None = result(POWER, "Power that the machine gives")
    load: float | None = result(RATIO, "Share used")
    grip_needed: float | None = result(FORCE, "Grip force needed", hint="all jaws, smooth, at this speed")


def solve(inputs: UnitPowerInputs) -> Answer[UnitPowerResults]:
    """Power by unit power. Raises Missing (a material without a unit power, too) and OutOfRange.

    >>> cut = UnitPowerInputs(
    ...     material="4130", hardness=190.0, depth=2.54, feed=0.4064, surface_speed=106_680.0, edge_state="normal"
    ... )
    >>> round(POWER.inch.shown(solve(cut).results.power), 2)
    5.09
    """
    require(inputs)
    work = material(inputs.material)
    unit = _unit(work, inputs.hardness)
    depth, feed, v = inputs.depth, inputs.feed, inputs.surface_speed
    removal = removal_rate(v, feed, depth)
    factors = feed_factor(feed), wear_factor(inputs.edge_state)
    power = power_by_volume(unit.usual, factors[0], removal, factors[1])
    by_force = cutting_power(force_of(chip_of(depth, feed, Edge(0.0)), work).force, v)
    cut = _cut(inputs, power, unit.high / unit.usual)
    efficiency = USUAL_EFFICIENCY if inputs.machine.efficiency is None else inputs.machine.efficiency
    load = load_of(cut, inputs.machine, inputs.work)
    results = UnitPowerResults(
        power=power,
        motor_power_needed=power_at_motor(power, efficiency),
        removal_rate=removal,
        **_factors(unit, *factors),
        power_by_force=by_force,
        force_difference=difference(power, by_force),
        power_available=load.power_available,
        load=load.load,
        spindle_rpm=load.spindle_rpm,
        grip_needed=load.grip_needed,
    )
    return Answer(
        results=results,
        headline="power",
        cautions=tuple(_cautions(inputs, work, cut, load)),
        notes=tuple(_notes(work, unit, power, by_force)),
    )


def _factors(unit: UnitPowers, feed: float, wear: float) -> dict[str, float]:
    """The unit power and its factors for `feed` and `wear`, by the names of the results."""
    return {
        "unit_power": unit.usual,
        "unit_power_low": unit.low,
        "unit_power_high": unit.high,
        "feed_factor": feed,
        "wear_factor": wear,
    }


def _cut(inputs: UnitPowerInputs, power: float, highest: float) -> Cut:
    """The cut with its spindle speed where a diameter is known; `highest` is the share of the hardest unit power."""
    v = inputs.surface_speed
    diameter = inputs.diameter if inputs.diameter is not None else inputs.work.work_diameter
    rpm = None if diameter is None else limited_rpm(spindle_speed.function(v, diameter), inputs.machine)
    return Cut(power / v, power / v * highest, power, diameter, rpm)


def _unit(work: Material, hardness: float | None) -> UnitPowers:
    unit = unit_power_of(work, hardness)
    if unit is None:
        said = Message(
            "The handbook gives no unit power for {material}: calculate it from the cutting force.",
            {"material": work.title},
        )
        raise Missing(Fault("material", said))
    return unit


def _cautions(inputs: UnitPowerInputs, work: Material, cut: Cut, load: LoadResults) -> Iterator[Caution]:
    hardness, told = inputs.hardness, work.hardness
    if hardness is not None and told.scale == "HB" and not told.low * 0.8 <= hardness <= told.high * 1.25:
        values: dict[str, Value] = {"typed": f"{hardness:.0f}", "low": f"{told.low:g}", "high": f"{told.high:g}"}
        values["material"] = Listed((work.title, work.condition), ", ", ", ")
        yield Caution(Message(_OTHER_CONDITION, values), 2, "hardness")
    unusual = [list(unusual_speed(work, ("rough", "finish"), tool, inputs.surface_speed)) for tool in work.tools]
    if all(unusual):
        yield from unusual[0]
    turned = None if cut.rpm is None else Running(cut.rpm, cut.rpm)
    fed, chips = (fed_edge(inputs.feed, work),), (Shaving(inputs.feed, "power"),)
    yield from limits(Case(running=turned, cut=cut, load=load, fed=fed, chips=chips), inputs.machine, inputs.work)


def _notes(work: Material, unit: UnitPowers, power: float, by_force: float) -> Iterator[Message]:
    yield from work.notes
    yield Message("Unit power of {class}; source: {source}.", {"class": unit.title, "source": unit.source})
    values: dict[str, Value] = {
        "unit": Quantity(power, POWER),
        "force": Quantity(by_force, POWER),
        "share": Digits(f"{abs(power / by_force - 1):.0%}"),
        "more": "more" if power >= by_force else "less",
        "source": work.forces[0].source,
    }
    yield Message(_COMPARED, values)


_OTHER_CONDITION = (
    "{material} is {low} to {high} HB; {typed} HB is another condition. The unit power is that of the nearest row: "
    "take it as a guess."
)
_COMPARED = (
    "By unit power {unit}, {share} {more} than the {force} that the cutting force of a sharp edge gives ({source}): "
    "the two tables are of different origin, and the factor for the edge counts here."
)

FEATURE = Feature(
    path="speed-feed/unit-power",
    title="Power by unit power",
    summary="Power of a cut from the volume it removes, with the handbook's factors, beside that by the cutting force.",
    solve=solve,
    page="/unit-power",
    supporting=("motor_power_needed", "removal_rate", "power_by_force", "unit_power"),
    example={
        "units": "inch",
        "material": "AISI 4130",
        "hardness": "190",
        "depth": ".100",
        "feed": ".016",
        "surface_speed": "350",
        "edge_state": "normal",
        "efficiency": "0.8",
    },
)
