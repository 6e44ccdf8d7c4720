"""A boring cut: speed, feed, chip, the three forces, power, time, and whether the bar is short enough."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians

from calc.answer.feature import Answer, Feature
from calc.cutting import nouns
from calc.cutting.chip import Edge
from calc.cutting.components import ComponentResults, pulled_in
from calc.cutting.force import cutting_torque, removal_rate
from calc.cutting.limits import limits
from calc.cutting.machine import LoadResults, Machine, ToolBar, Work, limited_rpm
from calc.cutting.materials import Material, material
from calc.cutting.operation import material_cautions, starting_speed, unusual_speed
from calc.cutting.speed import spindle_speed, surface_speed
from calc.cutting.stiffness import BARS, Beam, deflection, diameter_error
from calc.cutting.time import time_at_limit
from calc.cutting.tools import operations
from calc.cutting.turned import Turned, Turning, ratio_note, turned
from calc.language.checks import require
from calc.language.fields import Declared, given, part, result
from calc.language.kinds import DEFLECTION, FREQUENCY
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import (
    DIAMETER,
    FORCE,
    LENGTH,
    POWER,
    RADIUS,
    RATIO,
    REMOVAL_RATE,
    SPINDLE_SPEED,
    SURFACE_SPEED,
    TIME,
    TORQUE,
    Diameter,
    Length,
    Ratio,
)
from calc.language.working import formula

SHALLOWEST = 2 / 3  # of the nose radius: above it the thrust turns from the bar toward its axis; common practice
CHIP_ROOM = 0.75  # bar over bore, above which chips do not get out; common practice, no source


class BoringInputs(Declared):
    """Material, bore, edge, and what is set; what is blank is started from the material."""

    material: str = nouns.MATERIAL.needed()
    bore_diameter: float = nouns.BORE_DIAMETER.needed(hint="after the cut")
    depth: float = nouns.DEPTH_OF_CUT.needed(hint="per side")
    feed: float = nouns.FEED_RATE.needed()
    nose_radius: float = nouns.NOSE_OR_SHARP.needed()
    entering_angle: float | None = nouns.ENTERING_ANGLE.given(blank="93°")
    surface_speed: float | None = nouns.SURFACE_SPEED.given(blank="usual for the material")
    bore_length: float | None = given(LENGTH, "Length of the cut", "L", above=0.0, hint="for the time")
    tool: str = nouns.TOOL.chosen()
    bar: ToolBar = part(ToolBar, "Boring bar")
    machine: Machine = part(Machine, "Machine and chuck")
    work: Work = part(Work, "Work")


class BarBent(Declared):
    """What the bar does under the passive force; blank without its diameter and stick-out."""

    bar_deflection: float | None = result(DEFLECTION, "Bar deflection", "δ", hint="clamped hard: the least to expect")
    diameter_error: float | None = result(DEFLECTION, "Bore comes out smaller by", "dD", hint="if nothing is corrected")
    diameter_error_high: float | None = result(DEFLECTION, "Bore comes out smaller by, at most")
    frequency: float | None = result(FREQUENCY, "First natural frequency of the bar", "f_1")


class BoringResults(Declared):
    """What to set, and what it takes."""

    rpm: float = result(SPINDLE_SPEED, "Spindle speed", "n")
    surface_speed: float = result(SURFACE_SPEED, "Surface speed", "v")
    time: float | None = result(TIME, "Time in cut", "t")
    chip_thickness: float = result(LENGTH, "Chip thickness, mean", "h")
    chip_width: float = result(LENGTH, "Chip width", "b")
    cutting_force: float = result(FORCE, "Cutting force", "F_c", hint="bends the bar downward")
    cutting_force_low: float = result(FORCE, "Cutting force, lowest published")
    cutting_force_high: float = result(FORCE, "Cutting force, highest published")
    power: float = result(POWER, "Power at the spindle", "P")
    torque: float = result(TORQUE, "Torque at the spindle", "M")
    removal_rate: float = result(REMOVAL_RATE, "Removal rate", "Q")
    slenderness: float | None = result(RATIO, "Stick-out in bar diameters")
    bar: BarBent = part(BarBent, "Bar under this cut")
    components: ComponentResults = part(ComponentResults, "Feed and passive force")
    machine_load: LoadResults = part(LoadResults, "Against the machine")

    @property
    def in_cut(self) -> float:
        """The time in cut [min] of a bore whose length is known; a TypeError for another."""
        if self.time is None:
            raise TypeError("a bore of no known length has no time in cut")
        return self.time


@formula(source="definition", means="stick-out in bar diameters", result="q_L")
def slenderness(L_b: Length, d_b: Diameter) -> Ratio:
    """Stick-out `L_b` [mm] over the bar's diameter `d_b` [mm]. Source: definition.

    >>> slenderness(100.0, 25.0)
    4.0
    """
    return L_b / d_b


@dataclass(frozen=True, slots=True)
class _Boring:
    """The question with what is blank filled in."""

    inputs: BoringInputs
    cut: Turning
    rpm: float
    wanted_speed: float
    notes: tuple[Message, ...]


def solve(inputs: BoringInputs) -> Answer[BoringResults]:
    """Speed, forces, power, time. Raises Missing, OutOfRange; Impossible for a bar that does not go into the bore.

    >>> cut = BoringInputs(material="C45", bore_diameter=40.0, depth=1.0, feed=0.15, nose_radius=0.4)
    >>> round(solve(cut).results.rpm)
    1218
    """
    require(inputs)
    _check_bar(inputs)
    asked = _filled(inputs)
    found = turned(asked.cut, operations()["bore"].force_factor, inputs.machine, inputs.work)
    results = _results(asked, found)
    work, force, bar = asked.cut.work, found.force, inputs.bar
    pulled = pulled_in(results.bar.bar_deflection, bar_given=bool(bar.stick_out and bar.tool_bar_diameter))
    return Answer(
        results=results,
        headline="rpm",
        cautions=(*_cautions(asked, results.slenderness), *limits(found.case(), inputs.machine, inputs.work)),
        notes=(*asked.notes, _factor_note(work, force.low, force.high), *pulled),
        sentences={"Feed and passive force": (ratio_note(work),)},
    )


def _results(asked: _Boring, found: Turned) -> BoringResults:
    cut, force, bar, length = asked.cut, found.force, asked.inputs.bar, asked.inputs.bore_length
    slender = slenderness(bar.stick_out, bar.tool_bar_diameter) if bar.stick_out and bar.tool_bar_diameter else None
    return BoringResults(
        rpm=asked.rpm,
        surface_speed=cut.speed,
        time=time_at_limit.at("", n_max="n")(length, cut.feed, asked.rpm) if length else None,
        chip_thickness=found.chip.thickness,
        chip_width=found.chip.width,
        cutting_force=force.force,
        cutting_force_low=force.low,
        cutting_force_high=force.high,
        power=found.power,
        torque=cutting_torque(force.force, asked.inputs.bore_diameter),
        removal_rate=removal_rate(cut.speed, cut.feed, cut.depth),
        slenderness=slender,
        bar=_bent(bar, found.components),
        components=found.components,
        machine_load=found.load,
    )


def _bent(bar: ToolBar, pushed: ComponentResults) -> BarBent:
    """The bar under the passive force, by the formulas of the page of its deflection."""
    force = pushed.passive_force
    if not bar.stick_out or not bar.tool_bar_diameter or not force or force <= 0.0:
        return BarBent()
    beam = Beam(bar.stick_out, bar.tool_bar_diameter, BARS[bar.tool_bar_material])
    section = beam.section()
    bent = deflection(beam, force, beam.length, "chuck", section)
    error = diameter_error(bent)
    return BarBent(
        bar_deflection=bent,
        diameter_error=error,
        diameter_error_high=error * (pushed.passive_force_high or force) / force,
        frequency=beam.frequency("chuck", section),
    )


def _check_bar(inputs: BoringInputs) -> None:
    bar, bore, depth = inputs.bar.tool_bar_diameter, inputs.bore_diameter, inputs.depth
    if 2 * depth >= bore:
        values = {"depth": Quantity(depth, LENGTH), "bore": Quantity(bore, DIAMETER)}
        said = Message("A cut {depth} deep per side to {bore} leaves no hole to start from: drill first.", values)
        raise Impossible(Fault("depth", said))
    if bar is not None and bar >= bore - 2 * depth:
        sizes = {"bar": Quantity(bar, DIAMETER), "hole": Quantity(bore - 2 * depth, DIAMETER)}
        said = Message("The bar {bar} does not go into the hole before the cut, {hole}.", sizes)
        raise Impossible(Fault("tool_bar_diameter", said))


def _filled(inputs: BoringInputs) -> _Boring:
    work = material(inputs.material)
    diameter = inputs.bore_diameter
    start = starting_speed(work, "bore", inputs.tool, inputs.surface_speed)
    wanted = spindle_speed(start.speed, diameter)
    rpm = limited_rpm(wanted, inputs.machine)
    speed = start.speed if rpm == wanted else surface_speed.at("with the limit")(diameter, rpm)
    angle = radians(93.0) if inputs.entering_angle is None else inputs.entering_angle
    edge = Edge(inputs.nose_radius, angle)
    cut = Turning(work, edge, inputs.depth, inputs.feed, speed, diameter, rpm)
    return _Boring(inputs, cut, rpm, start.speed, start.notes)


def _cautions(asked: _Boring, slender: float | None) -> Iterator[Caution]:
    yield from material_cautions(asked.cut.work)
    yield from _bar_cautions(asked.inputs, slender)
    values: dict[str, Value] = {
        "depth": Quantity(asked.cut.depth, LENGTH),
        "nose": Quantity(asked.cut.edge.nose_radius, RADIUS),
    }
    if asked.cut.depth < SHALLOWEST * asked.cut.edge.nose_radius:
        yield Caution(Message(_SHALLOW, values), 2, "depth")
    yield from unusual_speed(asked.cut.work, ("bore",), asked.inputs.tool, asked.wanted_speed)


def _bar_cautions(inputs: BoringInputs, slender: float | None) -> Iterator[Caution]:
    bar = inputs.bar
    longest = BARS[bar.tool_bar_material].longest
    if slender is not None and slender > longest:
        said: dict[str, Value] = {
            "ratio": f"{slender:.1f}",
            "most": f"{longest:g}",
            "made": BARS[bar.tool_bar_material].words,
        }
        yield Caution(Message(_TOO_LONG, said), 3 if slender > 1.5 * longest else 2, "stick_out")
    hole = inputs.bore_diameter - 2 * inputs.depth
    if bar.tool_bar_diameter is not None and bar.tool_bar_diameter > CHIP_ROOM * hole:
        sizes: dict[str, Value] = {
            "bar": Quantity(bar.tool_bar_diameter, DIAMETER),
            "hole": Quantity(hole, DIAMETER),
        }
        yield Caution(Message(_NO_ROOM, sizes), 1, "tool_bar_diameter")
    if bar.stick_out is not None and inputs.bore_length is not None and bar.stick_out < inputs.bore_length:
        lengths: dict[str, Value] = {
            "out": Quantity(bar.stick_out, LENGTH),
            "cut": Quantity(inputs.bore_length, LENGTH),
        }
        yield Caution(Message(_TOO_SHORT, lengths), 3, "stick_out")


def _factor_note(work: Material, low: float, high: float) -> Message:
    bore = operations()["bore"]
    values: dict[str, Value] = {
        "factor": f"{bore.force_factor:g}",
        "source": bore.force_source,
        "material": work.title,
        "low": Quantity(low, FORCE),
        "high": Quantity(high, FORCE),
    }
    text = (
        "Force by Kienzle for {material} times {factor} for boring ({source}); published values span {low} to {high}."
    )
    return Message(text, values)


_TOO_LONG = (
    "The bar sticks out {ratio} times its diameter; one of {made} should stay within {most}: it bends and chatters. "
    "Clamp it shorter, take a thicker or stiffer bar, a smaller nose, or less depth."
)
_TOO_SHORT = (
    "The bar sticks out {out}, less than the cut is long, {cut}: the holder strikes the work. Set it out farther."
)
_NO_ROOM = "A bar {bar} leaves little room in a hole of {hole}: chips may jam. Flush them out, or take a thinner bar."
_SHALLOW = (
    "{depth} is less than two thirds of the {nose} nose: most of the thrust pushes the bar away and the bore comes out "
    "small. Take a smaller nose, or cut deeper."
)

FEATURE = Feature(
    path="speed-feed/boring-cut",
    title="Boring cut",
    summary="Speed, forces, power and time for a cut in a bore, and whether the bar is short enough for it.",
    solve=solve,
    page="/boring-cut",
    supporting=("surface_speed", "cutting_force", "passive_force", "time"),
    example={
        "material": "C45",
        "bore_diameter": "32",
        "depth": "0.5",
        "feed": "0.15",
        "nose_radius": "0.4",
        "bore_length": "50",
        "tool_bar_diameter": "16",
        "stick_out": "60",
        "tool_bar_material": "steel",
        "max_rpm": "2000",
        "chuck_limit": "3200",
    },
)
