"""Tapping a hole: drill and its depth, speed, feed, torque, power, time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from calc.answer.feature import Answer, Feature
from calc.cutting import nouns
from calc.cutting.drilling import USUAL_POINT, drill_power, point_length
from calc.cutting.force import specific_force
from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import Cut, LoadResults, Machine, Work, limited_rpm, load_of
from calc.cutting.materials import Material, material
from calc.cutting.speed import spindle_speed, surface_speed
from calc.cutting.thin_chips import LEAST_GROUND, Shaving
from calc.cutting.tools import operations
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, needed, part, result, word
from calc.language.messages import Caution, Digits, Message, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import (
    COUNT,
    DIAMETER,
    FEED,
    LENGTH,
    POWER,
    RATIO,
    SPINDLE_SPEED,
    SURFACE_SPEED,
    TIME,
    TORQUE,
)
from calc.threads import tapping as formulas
from calc.threads.drills import TapDrill, share_left, tap_drill
from calc.threads.sizes import Diameters
from calc.threads.tapping import CHAMFERS, TapChamfer
from calc.threads.thread import Thread, thread_of

TAPPED = ("M", "UN", "G")
FAST_TAP = 2.0  # times the usual speed, from which a tap of high-speed steel wears at once; common practice, no source
DEEP = 2.5  # diameters of thread above which chips jam in a blind hole; common practice, no source
FULL = 0.83  # of the thread: above it a tap breaks easily in tough material; common practice, no source
APPROACH = 2.0  # mm in air before the tap touches; common practice, no source


class TappingInputs(Declared):
    """The thread, how deep, and what it is cut with."""

    designation: str = nouns.THREAD.needed(hint="as written: M10-6H, 1/4-20 UNC-2B, G 1/4")
    length: float = needed(LENGTH, "Length of full thread", "t", above=0.0)
    material: str = nouns.MATERIAL.needed()
    hole: Literal["blind", "through"] = choice("Hole", {"blind": "blind", "through": "through"}, "blind")
    chamfer: TapChamfer = choice("Chamfer of the tap", {code: words for code, (_, words) in CHAMFERS.items()}, "C")
    flutes: float | None = given(COUNT, "Flutes", "z", least=2.0, most=8.0, blank="3")
    drill: float | None = given(DIAMETER, "Drill at hand", "d_t", above=0.0, blank="the standard tap drill")
    surface_speed: float | None = nouns.SURFACE_SPEED.given(blank="usual for high-speed steel")
    machine: Machine = part(Machine, "Machine and chuck")
    work: Work = part(Work, "Work")


class TappingResults(Declared):
    """What to drill and set, and what it takes."""

    tap_drill: float = result(DIAMETER, "Drill", "d_t")
    tap_drill_name: str | None = word("Drill, by name")
    thread_share: float = result(RATIO, "Share of the thread", hint="of 3/4 H per side")
    drill_depth: float = result(LENGTH, "Drill this deep at full diameter", "t_d")
    hole_depth: float = result(LENGTH, "Depth with the drill's point")
    rpm: float = result(SPINDLE_SPEED, "Spindle speed", "n")
    feed: float = result(FEED, "Feed, the pitch", "P")
    surface_speed: float = result(SURFACE_SPEED, "Surface speed", "v")
    chip_thickness: float = result(LENGTH, "Chip of one tooth", "h")
    torque: float = result(TORQUE, "Torque, sharp tap", "M")
    torque_worn: float = result(TORQUE, "Torque, worn tap", hint="about twice")
    power: float = result(POWER, "Power at the spindle", "P")
    time: float = result(TIME, "Time in and out", "t")
    machine_load: LoadResults = part(LoadResults, "Against the machine")


@dataclass(frozen=True, slots=True)
class _Tapping:
    """The question with what is blank filled in."""

    inputs: TappingInputs
    thread: Thread
    work: Material
    drill: TapDrill
    share: float
    rpm: float
    speed: float
    chamfer: float


def solve(inputs: TappingInputs) -> Answer[TappingResults]:
    """Drill, speed, torque, time. Raises Missing, OutOfRange; Impossible for what is not tapped and drills that miss.

    >>> found = solve(TappingInputs(designation="M10-6H", length=20.0, material="C45")).results
    >>> found.tap_drill, found.drill_depth, round(found.rpm)
    (8.5, 25.25, 382)
    """
    require(inputs)
    asked = _filled(inputs)
    thread, drilled = asked.thread, asked.drill.diameter
    deep = _drilled(asked)
    chip = _chip(asked)
    torque = _torque(asked, chip)
    cut = _cut(asked, torque)
    load = load_of(cut, inputs.machine, inputs.work)
    return Answer(
        results=TappingResults(
            tap_drill=drilled,
            tap_drill_name=asked.drill.name or None,
            thread_share=asked.share,
            drill_depth=deep,
            hole_depth=deep + point_length(drilled, USUAL_POINT),
            rpm=asked.rpm,
            feed=thread.named.pitch,
            surface_speed=asked.speed,
            chip_thickness=chip,
            torque=torque,
            torque_worn=formulas.WORN * torque,
            power=cut.power,
            time=formulas.tapping_time(deep + APPROACH, thread.named.pitch, asked.rpm),
            machine_load=load,
        ),
        headline="tap_drill",
        cautions=(*_cautions(asked), *limits(_case(asked.rpm, chip, cut, load), inputs.machine, inputs.work)),
        notes=tuple(_notes(asked)),
    )


def _drilled(asked: _Tapping) -> float:
    """How deep the drill goes at its full diameter [mm]."""
    reserve = 0.0 if asked.inputs.hole == "through" else formulas.RESERVE
    return formulas.drill_depth(asked.inputs.length, asked.chamfer, reserve, asked.thread.named.pitch)


def _case(rpm: float, chip: float, cut: Cut, load: LoadResults) -> Case:
    """The tap at `rpm` [1/min], whose teeth take a `chip` [mm], to be held against the limits."""
    chips = (Shaving(chip, "chamfer", LEAST_GROUND, tabled=0.0, remedy=_SHORTER),)
    return Case(running=Running(rpm, rpm), cut=cut, load=load, chips=chips)


def _chip(asked: _Tapping) -> float:
    """The chip of one tooth."""
    z = formulas.USUAL_FLUTES if asked.inputs.flutes is None else asked.inputs.flutes
    return formulas.chip_of_tooth((asked.thread.named.diameter - asked.drill.diameter) / 2, asked.chamfer, z)


def _torque(asked: _Tapping, chip: float) -> float:
    """The torque of a sharp tap, by the area of thread that it cuts and the chip of one tooth."""
    thread, drilled, used = asked.thread, asked.drill.diameter, asked.work.forces[0]
    kc = specific_force(used.kc11, chip, used.mc)
    section = formulas.section_cut(thread, drilled)
    return formulas.tap_torque(operations()["thread"].force_factor, kc, section, thread.named.diameter)


def _cut(asked: _Tapping, torque: float) -> Cut:
    """The tap's load as a force at the thread's diameter, which the machine and the grip must hold."""
    diameter = asked.thread.named.diameter
    force = 2 * torque / diameter
    return Cut(force, formulas.WORN * force, drill_power(torque, asked.rpm), diameter, asked.rpm, tilts=False)


def _filled(inputs: TappingInputs) -> _Tapping:
    thread = thread_of(inputs.designation, "inside")
    if thread.named.family not in TAPPED or thread.named.starts > 1:
        raise Impossible(Fault("designation", Message(_NOT_TAPPED, {"text": thread.named.text})))
    work = material(inputs.material)
    drill = TapDrill(inputs.drill) if inputs.drill is not None else tap_drill(thread)
    if drill is None:
        raise Impossible(
            Fault("drill", Message("No standard drill is listed for {text}: give it.", {"text": thread.named.text}))
        )
    _require_hole(thread, drill)
    wanted = formulas.SPEEDS[work.group] if inputs.surface_speed is None else inputs.surface_speed
    rpm = limited_rpm(spindle_speed(wanted, thread.named.diameter), inputs.machine)
    speed = surface_speed.at("with the limit")(thread.named.diameter, rpm)
    share = share_left(thread, drill.diameter)
    return _Tapping(inputs, thread, work, drill, share, rpm, speed, CHAMFERS[inputs.chamfer][0])


def _require_hole(thread: Thread, drill: TapDrill) -> None:
    """A drill between the least core and the thread itself."""
    least, most = thread.sizes.basic.minor - thread.sizes.depth, thread.named.diameter
    if least < drill.diameter < most:
        return
    values: dict[str, Value] = {"drill": Quantity(drill.diameter, DIAMETER), "text": thread.named.text}
    text = "A drill of {drill} is far too small for {text}."
    if drill.diameter >= most:
        text = "A drill of {drill} leaves no thread for {text}."
    raise Impossible(Fault("drill", Message(text, values)))


def _notes(asked: _Tapping) -> Iterator[Message]:
    if asked.inputs.surface_speed is None:
        values: dict[str, Value] = {
            "v": Quantity(formulas.SPEEDS[asked.work.group], SURFACE_SPEED),
            "work": asked.work.title,
        }
        yield Message(
            "Surface speed to start with for a tap of high-speed steel in {work}: {v} (common practice, no source).",
            values,
        )
    minor: Diameters = asked.thread.sizes.minor
    if not isinstance(minor, float):
        values = {"low": Quantity(minor.lower, DIAMETER), "high": Quantity(minor.upper, DIAMETER)}
        yield Message("The minor diameter may be {low} to {high} by its class.", values)
    yield Message(_SYNCHRONOUS)


def _cautions(asked: _Tapping) -> Iterator[Caution]:
    minor, drilled = asked.thread.sizes.minor, asked.drill.diameter
    if not isinstance(minor, float) and drilled > minor.upper:
        values: dict[str, Value] = {"drill": Quantity(drilled, DIAMETER), "most": Quantity(minor.upper, DIAMETER)}
        yield Caution(Message(_OVERSIZE, values), 3, "tap_drill")
    if asked.share > FULL:
        values = {"share": Digits(f"{asked.share:.0%}"), "drill": Quantity(drilled, DIAMETER)}
        yield Caution(Message(_TIGHT, values), 2, "tap_drill")
    deep = asked.inputs.length / asked.thread.named.diameter
    if deep > DEEP and asked.inputs.hole == "blind":
        values = {"ratio": f"{deep:.1f}", "most": f"{DEEP:g}"}
        yield Caution(Message(_DEEP, values), 2, "length")
    usual, given = formulas.SPEEDS[asked.work.group], asked.inputs.surface_speed
    if given is not None and given > FAST_TAP * usual:
        values = {
            "speed": Quantity(given, SURFACE_SPEED),
            "times": f"{given / usual:.1f}",
            "usual": Quantity(usual, SURFACE_SPEED),
            "material": asked.work.code,
        }
        yield Caution(Message(_FAST, values), 3, "surface_speed")
    if asked.inputs.hole == "blind" and asked.inputs.chamfer == "B":
        yield Caution(Message(_POINT), 2, "chamfer")


_NOT_TAPPED = "{text} is turned or milled, not tapped: plan its passes instead."
_SYNCHRONOUS = (
    "The tap must leave at the feed of one pitch too: tap in step with the spindle or in a floating holder, and clear "
    "the chips before."
)
_OVERSIZE = (
    "A drill of {drill} is above {most}, the upper limit of the minor diameter: the thread is out of its class. Take a "
    "smaller drill."
)
_TIGHT = (
    "A drill of {drill} leaves {share} of the thread: torque rises steeply and the tap breaks more easily. A larger "
    "drill within the limits is easier on the tap."
)
_DEEP = (
    "The thread is {ratio} diameters deep, more than {most} in a blind hole: chips jam and break the tap. Take a "
    "spiral flute, tap in stages, or shorten the thread."
)
_FAST = (
    "{speed} is {times} times {usual}, the usual start for a tap of high-speed steel in {material}: it wears out or "
    "breaks at once. Start there; a carbide tap takes more, by its maker's table."
)
_SHORTER = "Take a tap with a shorter chamfer or fewer flutes."
_POINT = "A spiral point pushes the chips ahead to the bottom of a blind hole: take form C with spiral flutes."

FEATURE = Feature(
    path="speed-feed/tapping",
    title="Tapping",
    summary="Drill, depth with chamfer and point, speed, feed, torque, power and time for a tapped hole.",
    solve=solve,
    page="/tapping",
    supporting=("drill_depth", "rpm", "feed", "torque"),
    example={"designation": "M10-6H", "length": "20", "material": "C45", "max_rpm": "2000"},
)
