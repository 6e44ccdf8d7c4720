"""Parting off: speed, feed, force, power, time to the axis or to the bore."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from calc.answer.feature import Answer, Feature
from calc.cutting import nouns
from calc.cutting.cautions import chuck_caution
from calc.cutting.machine import Cut, LoadResults, Machine, Work, load_of, machine_cautions
from calc.cutting.materials import Material, material
from calc.cutting.operation import TOOLS, material_cautions, speed_caution, starting_speed
from calc.cutting.plunging import Plunge, PlungeLoad, limit_takes_over, load_of_plunge, settle_feed, time_of_plunge
from calc.cutting.speed import SpindleState, spindle_at, surface_speed
from calc.cutting.tools import operations
from calc.language.checks import require
from calc.language.fields import given, needed, part, result
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import (
    DIAMETER,
    FEED,
    FORCE,
    LENGTH,
    POWER,
    REMOVAL_RATE,
    SPINDLE_SPEED,
    SURFACE_SPEED,
    TIME,
)

SLOW_SHARE = 0.5  # of the feed, near the axis; common practice, no source
SLOW_DIAMETER = 4.0  # mm; common practice, no source
DEEPEST = 8.0  # insert widths deep; common practice, no source
PLUNGE_TOOLS = {name: TOOLS[name] for name in ("", "HSS", "uncoated carbide", "coated carbide")}


@dataclass(frozen=True, kw_only=True)
class PartingInputs:
    """Material, bar, insert, and what is set; what is blank is started from the material."""

    material: str = nouns.MATERIAL.needed()
    outer_diameter: float = nouns.OUTER_DIAMETER.needed()
    inner_diameter: float = nouns.INNER_DIAMETER.given(default=0.0, hint="of a tube", blank="solid, to the axis")
    insert_width: float = needed(LENGTH, "Insert width", "w", above=0.0, least=0.3, most=20.0)
    tool: str = nouns.TOOL.chosen()
    feed: float | None = nouns.FEED_RATE.given(blank="usual for the width")
    surface_speed: float | None = nouns.SURFACE_SPEED.given(blank="usual for the material")
    slow_diameter: float | None = given(
        DIAMETER, "Less feed inside", hint="0: nowhere", blank="Ø4 mm (Ø.16 in)", least=0.0
    )
    slow_feed: float | None = given(FEED, "Feed inside it", above=0.0, least=0.001, blank="half")
    machine: Machine = part(Machine, "Machine and chuck")
    work: Work = part(Work, "Work")


@dataclass(frozen=True, kw_only=True)
class PartingResults:
    """What to set, and what it takes."""

    rpm: float = result(SPINDLE_SPEED, "Spindle speed at the outside", "n")
    surface_speed: float = result(SURFACE_SPEED, "Surface speed", "v")
    feed: float = result(FEED, "Feed", "f")
    slow_feed: float | None = result(FEED, "Feed near the axis")
    slow_diameter: float | None = result(DIAMETER, "Less feed inside")
    time: float = result(TIME, "Time in cut", "t")
    limit_diameter: float | None = result(DIAMETER, "Limit takes over at", "D_lim")
    cutting_force: float = result(FORCE, "Cutting force", "F_c")
    cutting_force_high: float = result(FORCE, "Cutting force, highest published")
    feed_force: float = result(FORCE, "Feed force, toward the axis", "F_f")
    power: float = result(POWER, "Power at the spindle", "P")
    removal_rate: float = result(REMOVAL_RATE, "Removal rate", "Q")
    machine_load: LoadResults = part(LoadResults, "Against the machine")


def solve(inputs: PartingInputs) -> Answer[PartingResults]:
    """Speed, feed, force, time. Raises Missing, OutOfRange; Impossible when the bore is not the smaller one.

    >>> found = solve(PartingInputs(material="C45", outer_diameter=60.0, insert_width=3.0)).results
    >>> round(found.feed, 3), round(found.rpm)
    (0.12, 668)
    """
    require(inputs)
    work = material(inputs.material)
    cut, notes = _plunge(inputs, work)
    spindle = spindle_at(cut.start, cut.speed, inputs.machine.max_rpm)
    load = load_of_plunge(at_the_outside(cut, spindle), work, "part")
    asked = Cut(load.force.force, load.force.high, load.power, cut.start, spindle.rpm)
    found = load_of(asked, inputs.machine, inputs.work)
    slows = cut.slow_from is not None and cut.slow_from > cut.end
    return Answer(
        results=PartingResults(
            rpm=spindle.rpm,
            surface_speed=cut.speed,
            feed=cut.feed,
            slow_feed=cut.slow_feed if slows else None,
            slow_diameter=cut.slow_from if slows else None,
            time=time_of_plunge(cut, inputs.machine.max_rpm).total,
            limit_diameter=limit_takes_over(cut, inputs.machine.max_rpm),
            cutting_force=load.force.force,
            cutting_force_high=load.force.high,
            feed_force=load.thrust,
            power=load.power,
            removal_rate=load.removal,
            machine_load=found,
        ),
        headline="feed",
        cautions=(
            *_cautions(inputs, cut, work),
            *machine_cautions(asked, found, inputs.machine, inputs.work),
        ),
        notes=(*notes, factor_note("part", load)),
    )


def _plunge(inputs: PartingInputs, work: Material) -> tuple[Plunge, tuple[Message, ...]]:
    outer, inner, width = inputs.outer_diameter, inputs.inner_diameter, inputs.insert_width
    if inner >= outer:
        values = {"inner": Quantity(inner, DIAMETER), "outer": Quantity(outer, DIAMETER)}
        said = Message("The bore {inner} must be smaller than the outer diameter, {outer}.", values)
        raise Impossible(Fault("inner_diameter", said))
    start = starting_speed(work, "part", inputs.tool, inputs.surface_speed)
    feed, notes = settle_feed(inputs.feed, width, work)
    slow_from = SLOW_DIAMETER if inputs.slow_diameter is None else inputs.slow_diameter
    slow_feed = SLOW_SHARE * feed if inputs.slow_feed is None else inputs.slow_feed
    return Plunge(outer, inner, width, feed, start.speed, slow_from, slow_feed), (*start.notes, *notes)


def at_the_outside(cut: Plunge, spindle: SpindleState) -> Plunge:
    """The plunge at the surface speed that the spindle really gives where it begins.

    >>> slow = at_the_outside(Plunge(10.0, 0.0, 2.0, 0.1, 126_000.0), SpindleState(2000.0, limited=True))
    >>> round(slow.speed)
    62832
    """
    if not spindle.limited:
        return cut
    return replace(cut, speed=surface_speed.at("with the limit")(cut.start, spindle.rpm))


def factor_note(operation: str, load: PlungeLoad) -> Message:
    """What the force of a plunge is made from, and its spread.

    >>> from calc.cutting.materials import material
    >>> load = load_of_plunge(Plunge(60.0, 0.0, 3.0, 0.12, 126_000.0), material("C45"), "part")
    >>> factor_note("part", load).say()[:40]
    'Force by Kienzle times 1.3 for parting ('
    """
    found = operations()[operation]
    values: dict[str, Value] = {
        "factor": f"{found.force_factor:g}",
        "operation": found.title,
        "source": found.force_source,
        "low": Quantity(load.force.low, FORCE),
        "high": Quantity(load.force.high, FORCE),
    }
    text = "Force by Kienzle times {factor} for {operation} ({source}); published values span {low} to {high}."
    return Message(text, values)


def _cautions(inputs: PartingInputs, cut: Plunge, work: Material) -> Iterator[Caution]:
    yield from material_cautions(work)
    if inputs.machine.max_rpm is None:
        unlimited = chuck_caution(None, inputs.machine.chuck_limit)
        if unlimited is not None:
            yield unlimited
    deep = (cut.start - cut.end) / 2
    values: dict[str, Value] = {
        "depth": Quantity(deep, LENGTH),
        "width": Quantity(cut.width, LENGTH),
        "wider": Quantity(deep / DEEPEST, LENGTH),
        "most": f"{DEEPEST:.0f}",
    }
    if deep > DEEPEST * cut.width:
        yield Caution(Message(_DEEP, values), 2, "insert_width")
    if inputs.work.held in ("tailstock", "centres"):
        yield Caution(Message(_BETWEEN), 3, "held")
    unusual = speed_caution(work, ("part",), inputs.tool, cut.speed)
    if unusual is not None:
        yield unusual
    if cut.end == 0.0:
        yield Caution(Message(_TO_THE_AXIS), 1, "inner_diameter")


_DEEP = (
    "{depth} deep with an insert {width} wide is more than {most} widths: the blade may run off and break. Take one of "
    "{wider} or wider, or withdraw to clear the chips."
)
_BETWEEN = (
    "Held at both ends, the work closes on the blade and breaks it when it is nearly through: do not part off there. "
    "Stop before, and saw or break the rest."
)
_TO_THE_AXIS = (
    "Toward the axis the surface speed falls away and the part drops before it: set the edge on centre height, feed "
    "less there, and catch the part, never by hand."
)

FEATURE = Feature(
    path="speed-feed/parting",
    title="Parting off",
    summary="Speed, feed, force, power and time for parting off a bar or a tube, with less feed near the axis.",
    inputs=PartingInputs,
    results=PartingResults,
    solve=solve,
    page="/parting",
    supporting=("surface_speed", "rpm", "time", "cutting_force"),
    example={
        "material": "C45",
        "outer_diameter": "42",
        "insert_width": "3",
        "max_rpm": "2000",
        "chuck_limit": "3200",
    },
)
