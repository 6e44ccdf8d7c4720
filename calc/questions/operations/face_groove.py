"""A groove in a face: the first diameter that the blade clears, plunges from outside in, speed, feed, force, time."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import pairwise

from calc.answer.drawing import Dimension, Drawing
from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Chain, Line, Point
from calc.cutting import nouns
from calc.cutting.blade import smallest_first_diameter
from calc.cutting.drilling import drilling_time
from calc.cutting.groove_path import GrooveAsked, plunge_places
from calc.cutting.machine import LoadResults, Machine, Work
from calc.cutting.materials import Material, material
from calc.cutting.operation import material_cautions, starting_speed, unusual_speed
from calc.cutting.plunging import STEP, Plunge, dwell_time, plunges, settle_feed
from calc.cutting.speed import SpindleState, spindle_at, surface_speed
from calc.language.checks import require
from calc.language.fields import Declared, given, needed, part, result
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import (
    COUNT,
    DIAMETER,
    FEED,
    FORCE,
    LENGTH,
    POWER,
    SPINDLE_SPEED,
    SURFACE_SPEED,
    TIME,
)
from calc.questions.operations.plunge_fields import Plunged, factor_note

AIR = 1.0  # mm in front of the face; common practice, no source
TURNS = 2.0  # at the bottom of each plunge; common practice, no source
DEEPEST = 4.0  # insert widths deep for a blade in a face; common practice, no source
SLENDER = 200.0  # plunges


class FaceBladeInputs(Declared):
    """The blade, and the range of first diameters that is marked on it."""

    first_from: float | None = given(DIAMETER, "First diameter from", above=0.0, hint="as marked on the tool, outside")
    first_to: float | None = given(DIAMETER, "First diameter to", above=0.0)
    blade_below: float | None = given(
        LENGTH, "Blade below the edge", "h", above=0.0, hint="of a straight blade, where it enters"
    )
    blade_set_in: float | None = given(
        LENGTH, "Blade behind the outer corner", "s", above=0.0, hint="its side, from the insert's outer corner"
    )


class FaceGrooveInputs(Declared):
    """Material, groove, insert, and what is set; what is blank is started from the material."""

    material: str = nouns.MATERIAL.needed()
    groove_outer: float = needed(DIAMETER, "Outer wall", "D_o", above=0.0, least=0.5)
    groove_inner: float = needed(DIAMETER, "Inner wall", "D_i", least=0.0)
    face_depth: float = needed(LENGTH, "Depth of the groove", "t", above=0.0)
    insert_width: float = needed(LENGTH, "Insert width", "w", above=0.0, least=0.3, most=20.0)
    tool: str = nouns.TOOL.chosen()
    feed: float | None = nouns.FEED_RATE.given(blank="usual for the width")
    surface_speed: float | None = nouns.SURFACE_SPEED.given(blank="usual for the material")
    blade: FaceBladeInputs = part(FaceBladeInputs, "Blade")
    machine: Machine = part(Machine, "Machine and chuck")
    work: Work = part(Work, "Work")


class FacePlungeRow(Declared):
    """One plunge, in the order in which they are made."""

    number: float = result(COUNT, "Plunge")
    diameter: float = result(DIAMETER, "Outer corner on")
    chip_width: float = result(LENGTH, "Chip width")


class FaceGrooveResults(Declared):
    """What to set, and what it takes."""

    first_diameter: float = result(DIAMETER, "First plunge, outer corner on", "D_1")
    smallest_first: float | None = result(DIAMETER, "Smallest that a straight blade clears", "D_min")
    rpm: float = result(SPINDLE_SPEED, "Spindle speed", "n")
    surface_speed: float = result(SURFACE_SPEED, "Surface speed at the outer wall", "v")
    feed: float = result(FEED, "Feed", "f")
    plunges: float = result(COUNT, "Plunges", "N")
    time: float = result(TIME, "Time in cut", "t_c", hint="with the turns at the bottom")
    cutting_force: float = result(FORCE, "Cutting force", "F_c")
    feed_force: float = result(FORCE, "Feed force, along the axis", "F_f")
    power: float = result(POWER, "Power at the spindle", "P")
    machine_load: LoadResults = part(LoadResults, "Against the machine")


def solve(inputs: FaceGrooveInputs) -> Answer[FaceGrooveResults]:
    """The groove. Raises Missing, OutOfRange; Impossible for walls that leave the insert no room.

    >>> groove = FaceGrooveInputs(
    ...     material="C45", groove_outer=60.0, groove_inner=44.0, face_depth=6.0, insert_width=3.0
    ... )
    >>> found = solve(groove).results
    >>> found.first_diameter, found.plunges
    (60.0, 4.0)
    """
    require(inputs)
    work = material(inputs.material)
    width = _width(inputs)
    outer = inputs.groove_outer
    cut, spindle, notes = _plunge(inputs, work)
    plunged = Plunged.at(cut, spindle, work, "groove", inputs)
    load = plunged.load
    count = float(plunges(width, cut.width, STEP))
    results = FaceGrooveResults(
        first_diameter=outer,
        smallest_first=_smallest(inputs.blade),
        rpm=spindle.rpm,
        surface_speed=cut.speed,
        feed=cut.feed,
        plunges=count,
        time=_time(inputs.face_depth, count, cut.feed, spindle.rpm),
        cutting_force=load.force.force,
        feed_force=load.thrust,
        power=load.power,
        machine_load=plunged.found,
    )
    return Answer(
        results=results,
        headline="first_diameter",
        tables={"order": tuple(_rows(inputs, width, round(count)))},
        cautions=(*_of_the_material(inputs, work, cut.speed), *_cautions(inputs, results), *plunged.limits()),
        notes=(*notes, factor_note("groove", load), Message(_ORDER)),
        drawing=partial(face_groove_sketch, outer, inputs.groove_inner, inputs.face_depth),
    )


def _time(deep: float, count: float, feed: float, rpm: float) -> float:
    """The time [min] of `count` plunges so `deep` [mm], with their turns at the bottom."""
    each = drilling_time(deep, 0.0, AIR, feed, rpm)
    return count * each + dwell_time(count, TURNS, rpm)


def _plunge(inputs: FaceGrooveInputs, work: Material) -> tuple[Plunge, SpindleState, tuple[Message, ...]]:
    """One plunge at the outer wall, the spindle there, and why its speed and feed are what they are."""
    outer, insert = inputs.groove_outer, inputs.insert_width
    start = starting_speed(work, "groove", inputs.tool, inputs.surface_speed)
    feed, notes = settle_feed(inputs.feed, insert, work)
    spindle = spindle_at(outer, start.speed, inputs.machine.max_rpm)
    speed = surface_speed.at("with the limit")(outer, spindle.rpm) if spindle.limited else start.speed
    return Plunge(outer, outer, insert, feed, speed), spindle, (*start.notes, *notes)


def _of_the_material(inputs: FaceGrooveInputs, work: Material, speed: float) -> Iterator[Caution]:
    yield from material_cautions(work)
    yield from unusual_speed(work, ("groove",), inputs.tool, speed)


def _width(inputs: FaceGrooveInputs) -> float:
    width = (inputs.groove_outer - inputs.groove_inner) / 2
    values: dict[str, Value] = {"insert": Quantity(inputs.insert_width, LENGTH), "width": Quantity(width, LENGTH)}
    if width <= 0.0:
        said = Message("The inner wall must be smaller than the outer one.")
        raise Impossible(Fault("groove_inner", said))
    if inputs.insert_width > width:
        said = Message("The insert, {insert} wide, does not go into a groove {width} wide.", values)
        raise Impossible(Fault("insert_width", said))
    if width > SLENDER * STEP * inputs.insert_width:
        said = Message("A groove as wide as that is faced, not plunged.")
        raise Impossible(Fault("groove_inner", said))
    return width


def _smallest(blade: FaceBladeInputs) -> float | None:
    if blade.blade_below is None or blade.blade_set_in is None:
        return None
    return smallest_first_diameter(blade.blade_below, blade.blade_set_in)


def _rows(inputs: FaceGrooveInputs, width: float, count: int) -> Iterator[FacePlungeRow]:
    """The places across the face, counted from the outer wall inward."""
    across = GrooveAsked(0.0, 1.0, 0.0, width, inputs.insert_width, 0.0)
    for number, place in enumerate(plunge_places(across, count), start=1):
        diameter = inputs.groove_outer + 2 * place.z
        yield FacePlungeRow(number=float(number), diameter=diameter, chip_width=place.chip_width)


def _cautions(inputs: FaceGrooveInputs, found: FaceGrooveResults) -> Iterator[Caution]:
    blade, outer = inputs.blade, inputs.groove_outer
    values: dict[str, Value] = {"outer": Quantity(outer, DIAMETER)}
    if found.smallest_first is not None and outer < found.smallest_first:
        values["least"] = Quantity(found.smallest_first, DIAMETER)
        yield Caution(Message(_RUBS, values), 3, "smallest_first")
    if blade.first_from is not None and outer < blade.first_from:
        values["least"] = Quantity(blade.first_from, DIAMETER)
        yield Caution(Message(_BELOW, values), 3, "first_from")
    if blade.first_to is not None and outer > blade.first_to:
        values["most"] = Quantity(blade.first_to, DIAMETER)
        yield Caution(Message(_ABOVE, values), 3, "first_to")
    if all(value is None for value in (blade.first_from, blade.first_to, found.smallest_first)):
        yield Caution(Message(_UNKNOWN), 2, "first_from")
    if inputs.face_depth > DEEPEST * inputs.insert_width:
        values = {"depth": Quantity(inputs.face_depth, LENGTH), "most": f"{DEEPEST:.0f}"}
        yield Caution(Message(_DEEP, values), 2, "face_depth")


def face_groove_sketch(outer: float, inner: float, depth: float) -> Drawing:
    """The groove in its face: diameters of the `outer` and `inner` walls and `depth` [mm].

    >>> face_groove_sketch(60.0, 44.0, 6.0).title
    'The groove in the face'
    """
    rim = Point(0.0, outer / 2 + (outer - inner) / 2)
    walls = [Point(0.0, outer / 2), Point(-depth, outer / 2), Point(-depth, inner / 2), Point(0.0, inner / 2)]
    spots = [rim, *walls, Point(0.0, 0.0)] if inner else [rim, *walls[:3]]
    return Drawing(
        title="The groove in the face",
        description="Section with the axis across the page; the edge goes in from the right.",
        part=Chain(tuple(Line(a, b) for a, b in pairwise(spots))),
        bar_radius=rim.r,
        dimensions=(
            Dimension("diameter", walls[0], walls[0].mirrored(), outer, DIAMETER, "groove_outer", "D_o"),
            Dimension("diameter", walls[3], walls[3].mirrored(), inner, DIAMETER, "groove_inner", "D_i"),
            Dimension("length", walls[1], rim, depth, LENGTH, "face_depth", "t"),
        ),
    )


_ORDER = (
    "The first plunge is on the largest diameter, where the blade has most room on its outside; the others follow "
    "inward, where the groove is open already."
)
_RUBS = (
    "The outer wall of {outer} is below the {least} that this blade clears: below the edge its side runs into the wall "
    "and breaks. Take a curved blade or a thinner one."
)
_BELOW = "The outer wall of {outer} is below the {least} marked on the tool: its blade rubs outside and breaks."
_ABOVE = "The outer wall of {outer} is above the {most} marked on the tool: its blade rubs inside and breaks."
_UNKNOWN = (
    "A blade in a face clears only a range of first diameters: give what is marked on the tool, or its height and how "
    "far its side is set in."
)
_DEEP = "{depth} is more than {most} widths of the insert: chips jam. Withdraw to clear them, or take a wider insert."

FEATURE = Feature(
    path="speed-feed/face-groove",
    title="Groove in a face",
    summary="First diameter that the blade clears, plunges in their order, speed, feed, force and time in a face.",
    solve=solve,
    page="/face-groove",
    rows={"order": Rows(FacePlungeRow, "Plunges in their order")},
    supporting=("smallest_first", "rpm", "feed", "plunges", "time"),
    blank=face_groove_sketch(60.0, 44.0, 8.0).with_symbols_only(),
    example={
        "material": "C45",
        "groove_outer": "60",
        "groove_inner": "44",
        "face_depth": "6",
        "insert_width": "3",
        "first_from": "50",
        "first_to": "80",
        "max_rpm": "2000",
        "chuck_limit": "3200",
    },
)
