"""Parting off: speed, feed, force, power, time to the axis or to the bore."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from math import radians

from calc.answer.feature import Answer, Feature, Rows
from calc.cutting import nouns
from calc.cutting.blade import corner_lead, pip_on_the_bar
from calc.cutting.feeding import inside_cautions
from calc.cutting.insert_widths import USUAL_WIDTHS, next_insert
from calc.cutting.machine import LoadResults, Machine, Work
from calc.cutting.materials import Material, material
from calc.cutting.operation import material_cautions, starting_speed, unusual_speed
from calc.cutting.parting_path import Parting, parting_moves
from calc.cutting.plunging import Plunge, limit_takes_over, settle_feed, time_of_plunge
from calc.cutting.speed import spindle_at
from calc.language.checks import require
from calc.language.fields import Declared, given, needed, part, result
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Impossible
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
    X,
)
from calc.questions.operations.plunge_fields import (
    BladeInputs,
    BladeResults,
    MoveRow,
    Plunged,
    factor_note,
    move_rows,
)
from calc.questions.operations.plunge_sketches import parting_sketch

SLOW_SHARE = 0.5  # of the feed, near the axis; common practice, no source
SLOW_DIAMETER = 4.0  # mm; common practice, no source
DEEPEST = 8.0  # insert widths deep; common practice, no source
STEEP = radians(8.0)  # lead angle from which a blade runs off clearly; common practice, no source


class EdgeInputs(Declared):
    """The front edge of the insert, and how far it goes."""

    edge_lead: float = nouns.EDGE_LEAD.given(blank="0, neutral", default=0.0)
    edge_corner: float = given(LENGTH, "Corner radius of the edge", "r", least=0.0, most=2.0, blank="0", default=0.0)
    past_end: float | None = given(
        LENGTH, "Feed past the axis or the bore", "u", least=0.0, hint="per side", blank="corner radius and lead"
    )
    part_length: float | None = given(
        LENGTH, "Part length", "L", above=0.0, hint="finished", blank="Z0 is at the parted face"
    )
    part_chamfer: float = given(
        LENGTH, "Chamfer on the part", "c", least=0.0, hint="45°, at the parted end", blank="none", default=0.0
    )
    bar_chamfer: float = given(
        LENGTH, "Chamfer on the bar", "c_b", least=0.0, hint="45°, of the next part", blank="none", default=0.0
    )


class PartingInputs(Declared):
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
    edge: EdgeInputs = part(EdgeInputs, "Edge, path, chamfers")
    blade: BladeInputs = part(BladeInputs, "Blade")
    machine: Machine = part(Machine, "Machine and chuck")
    work: Work = part(Work, "Work")


class EndResults(Declared):
    """Where the cut ends, and what it leaves."""

    end_x: float = result(X, "Feed to", hint="below 0: past the axis")
    past: float = result(LENGTH, "past the axis or the bore by", "u")
    lead: float = result(LENGTH, "Corner on the part's side leads by", "e")
    pip_diameter: float | None = result(
        DIAMETER, "Pip left on the bar", "d_pip", hint="none: a neutral edge, either side"
    )
    ring_thickness: float | None = result(LENGTH, "Ring left on the bar", hint="of a tube, as the part comes free")
    slow_rpm: float | None = result(SPINDLE_SPEED, "Spindle speed where the feed is less")


class PartingResults(Declared):
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
    end: EndResults = part(EndResults, "Path and what it leaves")
    blade: BladeResults = part(BladeResults, "Blade")
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
    plunged = Plunged.at(cut, spindle, work, "part", inputs)
    slows = cut.slow_from is not None and cut.slow_from > cut.end
    blade = plunged.blade(inputs.blade, inputs.edge.edge_lead)
    results = PartingResults(
        **plunged.by_result(),
        rpm=spindle.rpm,
        slow_feed=cut.slow_feed if slows else None,
        slow_diameter=cut.slow_from if slows else None,
        time=time_of_plunge(cut, inputs.machine.max_rpm).total,
        limit_diameter=limit_takes_over(cut, inputs.machine.max_rpm),
        end=_end(inputs, cut, slows=slows),
        blade=blade,
        machine_load=plunged.found,
    )
    return Answer(
        results=results,
        headline="feed",
        tables={"moves": tuple(move_rows(parting_moves(_asked_path(inputs, cut))))},
        drawing=partial(parting_sketch, _asked_path(inputs, cut), inputs.inner_diameter / 2, inputs.edge.part_length),
        cautions=(*_cautions(inputs, cut, work), *plunged.cautions(inputs.blade, blade)),
        notes=(*notes, factor_note("part", plunged.load)),
    )


def _plunge(inputs: PartingInputs, work: Material) -> tuple[Plunge, tuple[Message, ...]]:
    outer, inner, width = inputs.outer_diameter, inputs.inner_diameter, inputs.insert_width
    if inner >= outer:
        values = {"inner": Quantity(inner, DIAMETER), "outer": Quantity(outer, DIAMETER)}
        said = Message("The bore {inner} must be smaller than the outer diameter, {outer}.", values)
        raise Impossible(Fault("inner_diameter", said))
    start = starting_speed(work, "part", inputs.tool, inputs.surface_speed)
    feed, notes = settle_feed(inputs.feed, width, work)
    end = inner - 2 * _past(inputs)
    _require_chamfers(inputs)
    slow_from = SLOW_DIAMETER if inputs.slow_diameter is None else inputs.slow_diameter
    slow_feed = SLOW_SHARE * feed if inputs.slow_feed is None else inputs.slow_feed
    return Plunge(outer, end, width, feed, start.speed, slow_from if slow_from > 0.0 else None, slow_feed), (
        *start.notes,
        *notes,
    )


def _past(inputs: PartingInputs) -> float:
    """How far the leading corner goes on past the axis or through the bore, so that all of the edge is through."""
    edge = inputs.edge
    if edge.past_end is not None:
        return edge.past_end
    return edge.edge_corner + (corner_lead(inputs.insert_width, edge.edge_lead) if edge.edge_lead else 0.0)


def _require_chamfers(inputs: PartingInputs) -> None:
    """The first plunge, below the chamfers, stays above the bore or the axis."""
    wall = (inputs.outer_diameter - inputs.inner_diameter) / 2
    for name in ("part_chamfer", "bar_chamfer"):
        size = getattr(inputs.edge, name)
        if size >= wall / 2:
            values = {"size": Quantity(size, LENGTH), "wall": Quantity(wall, LENGTH)}
            said = Message("A chamfer of {size} is half of the {wall} to part through, or more.", values)
            raise Impossible(Fault(name, said))


def _end(inputs: PartingInputs, cut: Plunge, *, slows: bool) -> EndResults:
    edge = inputs.edge
    lead = corner_lead.function(cut.width, edge.edge_lead)
    solid = inputs.inner_diameter == 0.0
    slow_rpm = None
    if slows and cut.slow_from is not None:
        slow_rpm = spindle_at(cut.slow_from, cut.speed, inputs.machine.max_rpm, "there").rpm
    return EndResults(
        end_x=cut.end / 2,
        past=(inputs.inner_diameter - cut.end) / 2,
        lead=lead,
        pip_diameter=pip_on_the_bar(lead) if solid and lead else None,
        ring_thickness=lead if lead and not solid else None,
        slow_rpm=slow_rpm,
    )


def _asked_path(inputs: PartingInputs, cut: Plunge) -> Parting:
    edge = inputs.edge
    return Parting(
        outer=cut.start / 2,
        end=cut.end / 2,
        z=0.0 if edge.part_length is None else -edge.part_length,
        width=cut.width,
        feed=cut.feed,
        slow_from=None if cut.slow_from is None else cut.slow_from / 2,
        slow_feed=cut.slow_feed,
        part_chamfer=edge.part_chamfer,
        bar_chamfer=edge.bar_chamfer,
    )


def _cautions(inputs: PartingInputs, cut: Plunge, work: Material) -> Iterator[Caution]:
    yield from material_cautions(work)
    if inputs.slow_feed is not None:
        yield from inside_cautions(inputs.slow_feed, cut.feed, "slow_feed")
    deep = (cut.start - cut.end) / 2
    values: dict[str, Value] = {
        "depth": Quantity(deep, LENGTH),
        "width": Quantity(cut.width, LENGTH),
        "most": f"{DEEPEST:.0f}",
    }
    if deep > DEEPEST * cut.width:
        wider = next_insert(deep / DEEPEST)
        values["wider"] = Quantity(wider or USUAL_WIDTHS[-1], LENGTH)
        yield Caution(Message(_DEEP if wider else _TOO_DEEP, values), 2, "insert_width")
    if inputs.work.held in ("tailstock", "centres"):
        yield Caution(Message(_BETWEEN), 3, "held")
    yield from unusual_speed(work, ("part",), inputs.tool, cut.speed)
    if inputs.inner_diameter == 0.0:
        yield Caution(Message(_TO_THE_AXIS), 1, "inner_diameter")
    else:
        yield Caution(Message(_TUBE), 1, "inner_diameter")
    if inputs.edge.edge_lead > STEEP:
        values["angle"] = Quantity(inputs.edge.edge_lead, ANGLE)
        yield Caution(Message(_SLANTS, values), 1, "edge_lead")


_DEEP = (
    "{depth} deep with an insert {width} wide is more than {most} widths: the blade may run off and break. Take one of "
    "{wider} or wider, or withdraw to clear the chips."
)
_TOO_DEEP = (
    "{depth} deep with an insert {width} wide is more than {most} widths: the blade may run off and break. The widest "
    "usual one, {wider}, does not reach either: saw it off, or take a reinforced blade and withdraw to clear the chips."
)
_BETWEEN = (
    "Held at both ends, the work closes on the blade and breaks it when it is nearly through: do not part off there. "
    "Stop before, and saw or break the rest."
)
_TUBE = (
    "A ring comes free before the edge is through the bore, and may hang on the blade or on a tool in the bore: catch "
    "it on a mandrel or in a tray, never by hand."
)
_SLANTS = (
    "A lead angle of {angle} pushes the blade sideways and leaves the face hollow or crowned: feed less, or take one "
    "of 4° to 8°."
)
_TO_THE_AXIS = (
    "Toward the axis the surface speed falls away and the part drops before it: set the edge on centre height, feed "
    "less there, and catch the part, never by hand."
)

FEATURE = Feature(
    path="speed-feed/parting",
    title="Parting off",
    summary="Speed, feed, force, time for parting off a bar or a tube; path past the axis, chamfers, pip, blade.",
    solve=solve,
    page="/parting",
    rows={"moves": Rows(MoveRow, "Moves of the edge", "Path and what it leaves")},
    supporting=("surface_speed", "rpm", "time", "cutting_force"),
    example={
        "material": "C45",
        "outer_diameter": "42",
        "insert_width": "3",
        "part_length": "40",
        "part_chamfer": "1",
        "edge_lead": "6",
        "edge_corner": "0.2",
        "max_rpm": "2000",
        "chuck_limit": "3200",
    },
)
