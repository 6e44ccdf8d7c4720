"""The cut of a groove, plunge by plunge, outside or in a bore: speed, feed, force, power, time."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import pairwise
from typing import NamedTuple

from calc.answer.feature import Answer, Feature, Rows, named_as
from calc.contour import Line, Point
from calc.cutting import nouns
from calc.cutting.groove_path import GrooveAsked, PlungePlace, groove_moves, plunge_places
from calc.cutting.insert_widths import DEEPEST, chosen_insert, widest_insert
from calc.cutting.machine import LoadResults, Machine, Work
from calc.cutting.materials import Material, material
from calc.cutting.operation import material_cautions, starting_speed, unusual_speed
from calc.cutting.plunging import (
    STEP,
    Plunge,
    dwell_time,
    limit_takes_over,
    plunges,
    settle_feed,
    time_of_plunge,
)
from calc.cutting.speed import spindle_at
from calc.cutting.time import Leg, total_time
from calc.language.checks import require
from calc.language.fields import Declared, given, needed, part, result
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Impossible, Missing
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
    Z,
)
from calc.questions.operations.plunge_fields import (
    BladeInputs,
    BladeResults,
    MoveRow,
    Plunged,
    factor_note,
    move_rows,
)
from calc.questions.operations.plunge_sketches import groove_sketch

ENOUGH_TURNS = 2.0  # at the bottom, so that it is round; common practice, no source
MOST_PLUNGES = 500.0


class GrooveFinishInputs(Declared):
    """Where the groove lies, and what of it is passed over again (mm)."""

    groove_z: float = given(Z, "Wall away from the chuck at Z", blank="0", default=0.0)
    left_on_walls: float = given(
        LENGTH, "Left on each wall for the finish", least=0.0, most=5.0, blank="none", default=0.0
    )
    left_on_bottom: float = given(
        LENGTH, "Left on the bottom for the finish", least=0.0, most=5.0, hint="per side", blank="none", default=0.0
    )
    corner_break: float = given(
        LENGTH, "Break at both edges", "c", least=0.0, most=10.0, hint="45°", blank="none", default=0.0
    )


class GroovingInputs(Declared):
    """Material, groove, insert, and what is set; what is blank is started from the material."""

    material: str = nouns.MATERIAL.needed()
    start_diameter: float = needed(
        DIAMETER, "Surface diameter", "D_1", above=0.0, least=0.1, hint="where the groove begins"
    )
    bottom_diameter: float = needed(
        DIAMETER, "Bottom diameter", "D_2", above=0.0, hint="larger than the surface in a bore"
    )
    groove_width: float | None = given(LENGTH, "Groove width", "B", above=0.0, blank="as wide as the insert")
    insert_width: float | None = given(
        LENGTH, "Insert width", "w", above=0.0, least=0.3, most=20.0, blank="chosen for width and depth"
    )
    tool: str = nouns.TOOL.chosen()
    feed: float | None = nouns.FEED_RATE.given(blank="usual for the width")
    surface_speed: float | None = nouns.SURFACE_SPEED.given(blank="usual for the material")
    dwell_turns: float | None = given(
        COUNT, "Turns at the bottom", "u", least=0.0, most=100.0, hint="of each plunge", blank="2"
    )
    finish: GrooveFinishInputs = part(GrooveFinishInputs, "Walls, bottom, edges")
    blade: BladeInputs = part(BladeInputs, "Blade")
    machine: Machine = part(Machine, "Machine and chuck")
    work: Work = part(Work, "Work")


class PlungeRow(Declared):
    """One plunge, in the order in which they are made."""

    number: float = result(COUNT, "Plunge")
    z: float = result(Z, "Z")
    chip_width: float = result(LENGTH, "Chip width")


class GroovingResults(Declared):
    """What to set, and what it takes."""

    rpm: float = result(SPINDLE_SPEED, "Spindle speed at the surface", "n")
    surface_speed: float = result(SURFACE_SPEED, "Surface speed", "v")
    feed: float = result(FEED, "Feed", "f")
    insert: float | None = result(LENGTH, "Insert taken, width", "w")
    plunges: float = result(COUNT, "Plunges", "N")
    groove_depth: float = result(LENGTH, "Groove depth, per side")
    time: float = result(TIME, "Time in cut", "t", hint="all plunges with their turns at the bottom")
    dwell: float = result(TIME, "Dwell at the bottom", "t_d")
    finish_time: float | None = result(TIME, "Time of the finish")
    widest_insert: float | None = result(
        LENGTH, "Widest usual insert that fits", hint="list of usual widths, from memory"
    )
    limit_diameter: float | None = result(DIAMETER, "Limit takes over at", "D_lim")
    cutting_force: float = result(FORCE, "Cutting force", "F_c")
    cutting_force_high: float = result(FORCE, "Cutting force, highest published")
    feed_force: float = result(FORCE, "Feed force, square to the axis", "F_f")
    power: float = result(POWER, "Power at the spindle", "P")
    removal_rate: float = result(REMOVAL_RATE, "Removal rate", "Q")
    blade: BladeResults = part(BladeResults, "Blade and moves")
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
    times = float(plunges(groove.width - 2 * inputs.finish.left_on_walls, cut.width, STEP))
    spindle = spindle_at(cut.start, cut.speed, max_rpm)
    plunged, path = Plunged.at(cut, spindle, work, "groove", inputs), _path(inputs, groove)
    blade = plunged.blade(inputs.blade)
    results = GroovingResults(
        **plunged.by_result(),
        groove_depth=plunged.deep,
        rpm=spindle.rpm,
        insert=cut.width if inputs.insert_width is None else None,
        plunges=times,
        **_times(groove, times, max_rpm),
        finish_time=_finish_time(path, cut, max_rpm),
        widest_insert=widest_insert(groove.width - 2 * inputs.finish.left_on_walls),
        limit_diameter=limit_takes_over(cut, max_rpm),
        blade=blade,
        machine_load=plunged.found,
    )
    return Answer(
        results=results,
        headline="feed",
        tables=_tables(path, round(times)),
        drawing=partial(groove_sketch, path),
        cautions=(*_cautions(inputs, groove, work), *plunged.cautions(inputs.blade, blade)),
        notes=(*notes, factor_note("groove", plunged.load)),
    )


def _times(groove: _Groove, count: float, max_rpm: float | None) -> dict[str, float]:
    """The times [min] of so many plunges and of their turns at the bottom, by the names of the results."""
    dwell = dwell_time(count, groove.turns, spindle_at(groove.cut.end, groove.cut.speed, max_rpm).rpm)
    return {"time": count * time_of_plunge(groove.cut, max_rpm).total + dwell, "dwell": dwell}


def _groove(inputs: GroovingInputs, work: Material) -> tuple[_Groove, tuple[Message, ...]]:
    start, end = inputs.start_diameter, inputs.bottom_diameter
    if start == end:
        surface = {"d": Quantity(start, DIAMETER)}
        said = Message("The bottom has the diameter of the surface, {d}: there is no groove.", surface)
        raise Impossible(Fault("bottom_diameter", said))
    insert, width, chosen = _insert(inputs)
    room = width - 2 * inputs.finish.left_on_walls
    if insert <= width and insert > room:
        said = Message(_NO_ROOM, {"insert": Quantity(insert, LENGTH), "room": Quantity(room, LENGTH)})
        raise Impossible(Fault("left_on_walls", said))
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
    return _Groove(cut, width, end > start, turns), (*chosen, *speed.notes, *notes)


def _insert(inputs: GroovingInputs) -> tuple[float, float, tuple[Message, ...]]:
    """Width of insert and groove [mm], and why the insert is taken where none is given.

    Raises Missing where neither is given, Impossible where no usual insert goes in.
    """
    insert, width = inputs.insert_width, inputs.groove_width
    if insert is not None:
        return insert, insert if width is None else width, ()
    if width is None:
        raise Missing(Fault("groove_width", Message("Give the width of the groove, or that of the insert.")))
    deep = abs(inputs.start_diameter - inputs.bottom_diameter) / 2
    chosen = chosen_insert(width - 2 * inputs.finish.left_on_walls, deep)
    if chosen is None:
        said = Message("No usual insert goes into {width}: give its own.", {"width": Quantity(width, LENGTH)})
        raise Impossible(Fault("insert_width", said))
    return chosen.width, width, (chosen.why,)


def _path(inputs: GroovingInputs, groove: _Groove) -> GrooveAsked:
    """The groove as its path is asked. Raises Impossible where breaks or what is left leave no groove."""
    cut, finish = groove.cut, inputs.finish
    deep = abs(cut.start - cut.end) / 2
    if finish.corner_break >= deep:
        values: dict[str, Value] = {"size": Quantity(finish.corner_break, LENGTH), "deep": Quantity(deep, LENGTH)}
        said = Message("A break of {size} is as deep as the groove, {deep}, or deeper.", values)
        raise Impossible(Fault("corner_break", said))
    if finish.left_on_bottom >= deep:
        values = {"left": Quantity(finish.left_on_bottom, LENGTH), "deep": Quantity(deep, LENGTH)}
        raise Impossible(Fault("left_on_bottom", Message("{left} left of {deep} leaves nothing to plunge.", values)))
    return GrooveAsked(
        surface=cut.start / 2,
        bottom=cut.end / 2,
        z=finish.groove_z,
        width=groove.width,
        insert=cut.width,
        feed=cut.feed,
        on_walls=finish.left_on_walls,
        on_bottom=finish.left_on_bottom,
        corner_break=finish.corner_break,
    )


def _tables(path: GrooveAsked, count: int) -> dict[str, tuple[object, ...]]:
    places: tuple[PlungePlace, ...] = plunge_places(path, count)
    rows = tuple(
        PlungeRow(number=float(number), z=place.z, chip_width=place.chip_width)
        for number, place in enumerate(places, start=1)
    )
    return {"order": rows, "moves": tuple(move_rows(groove_moves(path, places)))}


def _finish_time(path: GrooveAsked, cut: Plunge, max_rpm: float | None) -> float | None:
    """The time [min] of the passes over walls and bottom; None without any."""
    if not path.is_finished:
        return None
    moves = list(groove_moves(path, ()))
    lines = [
        (Line(Point(a.z, a.r), Point(b.z, b.r)), b.feed)
        for a, b in pairwise(moves)
        if b.feed is not None and (a.z, a.r) != (b.z, b.r)
    ]
    return total_time([Leg(line, line.length, feed) for line, feed in lines], cut.speed, max_rpm).total


def _cautions(inputs: GroovingInputs, groove: _Groove, work: Material) -> Iterator[Caution]:
    yield from material_cautions(work)
    cut = groove.cut
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
    if groove.width > cut.width and not (inputs.finish.left_on_walls or inputs.finish.corner_break):
        yield Caution(Message(_NOT_FINISHED), 1, "left_on_walls")
    if groove.turns < 1.0:
        yield Caution(Message(_NOT_ROUND), 1, "dwell_turns")
    yield from unusual_speed(work, ("groove",), inputs.tool, cut.speed)


_NO_ROOM = (
    "With what is left on both walls an insert {insert} wide has only {room}: leave less, or take a narrower one."
)
_DEEP = (
    "{depth} deep with an insert {width} wide is more than {most} widths: the tool may run off or break. Withdraw to "
    "clear the chips, or take a blade for parting."
)
_NOT_FINISHED = (
    "Plunges alone leave steps at walls and bottom: leave some on each wall and pass over walls and bottom last."
)
_INSIDE = (
    "In a bore the chips stay in the groove and the bar deflects: check that tool and bar clear the bore, and flush "
    "the chips out between plunges."
)
_NOT_ROUND = "With less than one turn at the bottom the groove is not round there: let it turn once or twice."
FEATURE = Feature(
    path="speed-feed/grooving-cut",
    title="Cutting a groove",
    summary="Speed, feed, plunges in their order, finish, force, power, time for a groove outside or in a bore.",
    solve=solve,
    page="/grooving-cut",
    takes=named_as({"start_diameter": "diameter", "groove_width": "width"}),
    rows={
        "order": Rows(PlungeRow, "Plunges in their order", "Blade and moves"),
        "moves": Rows(MoveRow, "Moves of the edge", "Blade and moves"),
    },
    supporting=("insert", "surface_speed", "plunges", "time", "cutting_force"),
    example={
        "material": "42CrMo4",
        "start_diameter": "60",
        "bottom_diameter": "52",
        "groove_width": "8",
        "insert_width": "3",
        "left_on_walls": "0.2",
        "corner_break": "0.3",
        "max_rpm": "2000",
        "chuck_limit": "3200",
    },
)
