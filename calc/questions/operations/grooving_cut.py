"""The cut of a groove, plunge by plunge, outside or in a bore: speed, feed, force, power, time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from calc.answer.feature import Answer, Feature
from calc.cutting import nouns
from calc.cutting.cautions import chuck_caution
from calc.cutting.machine import Cut, LoadResults, Machine, Work, load_of, machine_cautions
from calc.cutting.materials import Material, material
from calc.cutting.operation import material_cautions, speed_caution, starting_speed
from calc.cutting.plunging import (
    STEP,
    Plunge,
    dwell_time,
    limit_takes_over,
    load_of_plunge,
    plunges,
    settle_feed,
    time_of_plunge,
)
from calc.cutting.speed import spindle_at
from calc.language.checks import require
from calc.language.fields import given, needed, part, result
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import (
    COUNT,
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
from calc.questions.operations.parting import at_the_outside, factor_note

DEEPEST = 5.0  # insert widths deep for a plain grooving tool; common practice, no source
ENOUGH_TURNS = 2.0  # at the bottom, so that it is round; common practice, no source
MOST_PLUNGES = 500.0


@dataclass(frozen=True, kw_only=True)
class GroovingInputs:
    """Material, groove, insert, and what is set; what is blank is started from the material."""

    material: str = nouns.MATERIAL.needed()
    start_diameter: float = needed(
        DIAMETER, "Surface diameter", "D_1", above=0.0, least=0.1, hint="where the groove begins"
    )
    bottom_diameter: float = needed(
        DIAMETER, "Bottom diameter", "D_2", above=0.0, hint="larger than the surface in a bore"
    )
    groove_width: float | None = given(LENGTH, "Groove width", "B", above=0.0, blank="as wide as the insert")
    insert_width: float = needed(LENGTH, "Insert width", "w", above=0.0, least=0.3, most=20.0)
    tool: str = nouns.TOOL.chosen()
    feed: float | None = nouns.FEED_RATE.given(blank="usual for the width")
    surface_speed: float | None = nouns.SURFACE_SPEED.given(blank="usual for the material")
    dwell_turns: float | None = given(
        COUNT, "Turns at the bottom", "u", least=0.0, most=100.0, hint="of each plunge", blank="2"
    )
    machine: Machine = part(Machine, "Machine and chuck")
    work: Work = part(Work, "Work")


@dataclass(frozen=True, kw_only=True)
class GroovingResults:
    """What to set, and what it takes."""

    rpm: float = result(SPINDLE_SPEED, "Spindle speed at the surface", "n")
    surface_speed: float = result(SURFACE_SPEED, "Surface speed", "v")
    feed: float = result(FEED, "Feed", "f")
    plunges: float = result(COUNT, "Plunges", "N")
    groove_depth: float = result(LENGTH, "Groove depth, per side")
    time: float = result(TIME, "Time in cut", "t", hint="all plunges with their turns at the bottom")
    dwell: float = result(TIME, "Dwell at the bottom", "t_d")
    limit_diameter: float | None = result(DIAMETER, "Limit takes over at", "D_lim")
    cutting_force: float = result(FORCE, "Cutting force", "F_c")
    cutting_force_high: float = result(FORCE, "Cutting force, highest published")
    feed_force: float = result(FORCE, "Feed force, square to the axis", "F_f")
    power: float = result(POWER, "Power at the spindle", "P")
    removal_rate: float = result(REMOVAL_RATE, "Removal rate", "Q")
    machine_load: LoadResults = part(LoadResults, "Against the machine")


class _Groove(NamedTuple):
    """The groove: one plunge of it, its width [mm], whether it lies in a bore, turns at the bottom."""

    cut: Plunge
    width: float
    inside: bool
    turns: float


def solve(inputs: GroovingInputs) -> Answer[GroovingResults]:
    """Speed, feed, force, time. Raises Missing, OutOfRange; Impossible for a groove that the insert does not fit.

    >>> groove = GroovingInputs(material="C45", start_diameter=60.0, bottom_diameter=52.0, insert_width=3.0)
    >>> found = solve(groove).results
    >>> round(found.feed, 3), found.plunges, found.groove_depth
    (0.12, 1.0, 4.0)
    """
    require(inputs)
    work = material(inputs.material)
    groove, notes = _groove(inputs, work)
    cut, max_rpm = groove.cut, inputs.machine.max_rpm
    times = float(plunges(groove.width, cut.width, STEP))
    spindle, at_bottom = (spindle_at(d, cut.speed, max_rpm) for d in (cut.start, cut.end))
    load = load_of_plunge(at_the_outside(cut, spindle), work, "groove")
    dwell = dwell_time(times, groove.turns, at_bottom.rpm)
    asked = Cut(load.force.force, load.force.high, load.power, cut.start, spindle.rpm)
    found = load_of(asked, inputs.machine, inputs.work)
    return Answer(
        results=GroovingResults(
            rpm=spindle.rpm,
            surface_speed=cut.speed,
            feed=cut.feed,
            plunges=times,
            groove_depth=abs(cut.start - cut.end) / 2,
            time=times * time_of_plunge(cut, max_rpm).total + dwell,
            dwell=dwell,
            limit_diameter=limit_takes_over(cut, max_rpm),
            cutting_force=load.force.force,
            cutting_force_high=load.force.high,
            feed_force=load.thrust,
            power=load.power,
            removal_rate=load.removal,
            machine_load=found,
        ),
        headline="feed",
        cautions=(*_cautions(inputs, groove, work), *machine_cautions(asked, found, inputs.machine, inputs.work)),
        notes=(*notes, factor_note("groove", load)),
    )


def _groove(inputs: GroovingInputs, work: Material) -> tuple[_Groove, tuple[Message, ...]]:
    start, end, insert = inputs.start_diameter, inputs.bottom_diameter, inputs.insert_width
    width = insert if inputs.groove_width is None else inputs.groove_width
    if start == end:
        said = Message("The bottom has the diameter of the surface, {d}: there is no groove.", {"d": _said(start)})
        raise Impossible(Fault("bottom_diameter", said))
    if insert > width:
        values: dict[str, Value] = {"insert": Quantity(insert, LENGTH), "width": Quantity(width, LENGTH)}
        said = Message("The insert, {insert} wide, does not go into a groove {width} wide.", values)
        raise Impossible(Fault("insert_width", said))
    if width > MOST_PLUNGES * STEP * insert:
        said = Message("A groove as wide as that is not plunged: turn it between two plunges.")
        raise Impossible(Fault("groove_width", said))
    speed = starting_speed(work, "groove", inputs.tool, inputs.surface_speed)
    feed, notes = settle_feed(inputs.feed, insert, work)
    turns = ENOUGH_TURNS if inputs.dwell_turns is None else inputs.dwell_turns
    cut = Plunge(start, end, insert, feed, speed.speed)
    return _Groove(cut, width, end > start, turns), (*speed.notes, *notes)


def _said(diameter: float) -> Quantity:
    return Quantity(diameter, DIAMETER)


def _cautions(inputs: GroovingInputs, groove: _Groove, work: Material) -> Iterator[Caution]:
    yield from material_cautions(work)
    cut = groove.cut
    if inputs.machine.max_rpm is None and not groove.inside:
        unlimited = chuck_caution(None, inputs.machine.chuck_limit)
        if unlimited is not None:
            yield unlimited
    deep = abs(cut.start - cut.end) / 2
    if deep > DEEPEST * cut.width:
        values: dict[str, Value] = {
            "depth": Quantity(deep, LENGTH),
            "width": Quantity(cut.width, LENGTH),
            "most": f"{DEEPEST:.0f}",
        }
        yield Caution(Message(_DEEP, values), 2, "insert_width")
    if groove.inside:
        yield Caution(Message(_INSIDE), 1, "bottom_diameter")
    if groove.turns < 1.0:
        yield Caution(Message(_NOT_ROUND), 1, "dwell_turns")
    unusual = speed_caution(work, ("groove",), inputs.tool, cut.speed)
    if unusual is not None:
        yield unusual


_DEEP = (
    "{depth} deep with an insert {width} wide is more than {most} widths: the tool may run off or break. Withdraw to "
    "clear the chips, or take a blade for parting."
)
_INSIDE = (
    "In a bore the chips stay in the groove and the bar deflects: check that tool and bar clear the bore, and flush "
    "the chips out between plunges."
)
_NOT_ROUND = "With less than one turn at the bottom the groove is not round there: let it turn once or twice."

FEATURE = Feature(
    path="speed-feed/grooving-cut",
    title="Cutting a groove",
    summary="Speed, feed, plunges, force, power and time for a groove on a cylinder or in a bore.",
    inputs=GroovingInputs,
    results=GroovingResults,
    solve=solve,
    page="/grooving-cut",
    supporting=("surface_speed", "plunges", "time", "cutting_force"),
    example={
        "material": "42CrMo4",
        "start_diameter": "60",
        "bottom_diameter": "52",
        "groove_width": "8",
        "insert_width": "3",
        "max_rpm": "2000",
        "chuck_limit": "3200",
    },
)
