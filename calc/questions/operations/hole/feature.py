"""A hole on the axis from spot to finish: tools in order, depths, pecks, speeds, forces, time, what to mind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from math import pi

from calc.answer.drawing import Dimension, Drawing
from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Chain, Line, Point
from calc.cutting.holes import DRILL_MAKES, bore_allowance, left_per_side, ream_allowance, runs
from calc.cutting.limits import Running, spindle_cautions
from calc.cutting.materials import Material, material
from calc.language.checks import require
from calc.language.limited import limited
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Impossible, Missing
from calc.language.quantities import DIAMETER, LENGTH
from calc.questions.operations.hole.bored import bored
from calc.questions.operations.hole.drilled import OF_THE_TAP, POINTS, Drilled, Sized, drilled, sized
from calc.questions.operations.hole.fields import DepthResults, HoleInputs, HoleResults, PeckRow, ToolRow
from calc.questions.operations.hole.tools import rows_of, spot_of, sunk_depth
from calc.shapes.holes import HoleShape, outline
from calc.shapes.listing import key_points

WIDE = 1.6  # of the widest diameter: how much of the part is drawn around the hole
NEAR = 0.5  # of the usual allowance: less than this and a reamer rubs, a boring bar does not clean up


def solve(inputs: HoleInputs) -> Answer[HoleResults]:
    """The hole. Raises Missing, OutOfRange, Contradiction, Impossible.

    >>> found = solve(HoleInputs(material="C45", bore_diameter=12.0, hole_depth=40.0, finished="reamed"))
    >>> found.results.drill_diameter, found.results.peck_count, [row.tool for row in found.tables["tools"]]
    (11.7, 3.0, ['Spot, 90°', 'Drill', 'Reamer'])
    """
    require(inputs)
    work = material(inputs.material)
    size = sized(inputs, work)
    _require_mouth(inputs, size.diameter if inputs.bore_diameter is None else inputs.bore_diameter)
    main = drilled(inputs, work, size)
    bar = bored(inputs, work, size)
    tools = list(rows_of(inputs, work, size, main, bar))
    shape = _shape(inputs, size)
    chain, names = outline(shape)
    return Answer(
        results=_results(inputs, size, main, tools),
        headline="drill_diameter",
        tables={"tools": tools, "pecks": list(_peck_rows(main))},
        points=key_points(chain, names),
        points_note=Message(
            "The hole as finished, from its mouth inward; what the drill leaves below is not included."
        ),
        contour=chain,
        cautions=(
            *_cautions(inputs, work, size, main),
            *main.answer.cautions,
            *(() if bar is None else bar.cautions()),
            *_of_the_tap(size),
            *_faster_tools(inputs, main, tools),
        ),
        notes=(*_notes(inputs, work, size), *main.answer.notes),
        drawing=partial(hole_sketch, shape),
    )


def _require_mouth(inputs: HoleInputs, hole: float) -> None:
    """Countersink and counterbore are wider than the hole, and a counterbore is not as deep as it."""
    mouth = inputs.mouth
    for name in ("countersink_diameter", "counterbore_diameter"):
        value = getattr(mouth, name)
        if value is not None and value <= hole:
            values = {"value": Quantity(value, DIAMETER), "hole": Quantity(hole, DIAMETER)}
            raise Impossible(Fault(name, Message("{value} must be wider than the hole, {hole}.", values)))
    if (mouth.counterbore_diameter is None) != (mouth.counterbore_depth is None):
        name = "counterbore_depth" if mouth.counterbore_depth is None else "counterbore_diameter"
        raise Missing(Fault(name, Message("Give diameter and depth of the counterbore.")))
    if mouth.countersink_diameter is not None and mouth.counterbore_diameter is not None:
        wide = Quantity(mouth.counterbore_diameter, DIAMETER)
        if mouth.countersink_diameter >= mouth.counterbore_diameter:
            said = Message("The countersink is at the bottom of the counterbore: smaller than {wide}.", {"wide": wide})
            raise Impossible(Fault("countersink_diameter", said))
    deep = sunk_depth(inputs, hole)
    if mouth.counterbore_depth is not None:
        deep += mouth.counterbore_depth
    if deep >= inputs.hole_depth:
        values = {"deep": Quantity(deep, LENGTH), "depth": Quantity(inputs.hole_depth, LENGTH)}
        name = "counterbore_depth" if mouth.counterbore_depth is not None else "countersink_diameter"
        said = Message("Countersink and counterbore take {deep}, all of the hole's {depth}.", values)
        raise Impossible(Fault(name, said))


def _results(inputs: HoleInputs, size: Sized, main: Drilled, tools: list[ToolRow]) -> HoleResults:
    found = main.answer.results
    spot = spot_of(inputs, size.diameter)
    sunk = None
    if inputs.mouth.countersink_diameter is not None:
        sunk = sunk_depth(inputs, size.diameter)
    return HoleResults(
        drill_diameter=size.diameter,
        tip_depth=main.tip_depth,
        rpm=found.rpm,
        feed=found.feed,
        surface_speed=found.surface_speed,
        peck_count=float(len(main.pecks)),
        time=sum(row.time for row in tools if row.time is not None),
        drill_time=main.time,
        torque=found.torque,
        thrust=found.thrust,
        power=found.power,
        grip_with_thrust=found.grip_with_thrust,
        depths=DepthResults(
            full_depth=main.full_depth,
            spot_diameter=spot[0] if spot else None,
            spot_depth=spot[1] if spot else None,
            left=size.left,
            per_side=None if size.left is None else left_per_side(size.diameter + size.left, size.diameter),
            countersink_depth=sunk,
        ),
        machine_load=found.machine_load,
    )


def _peck_rows(main: Drilled) -> Iterator[PeckRow]:
    last = len(main.pecks)
    for number, peck in enumerate(main.pecks, start=1):
        if number == last:
            then = "out, done"
        else:
            then = (
                "out of the hole, chips cleared, back to just above the bottom" if not peck.back_to else "back a little"
            )
        yield PeckRow(number=float(number), deep=peck.deep, tip=peck.end, then=then)


def _shape(inputs: HoleInputs, size: Sized) -> HoleShape:
    """The hole as finished."""
    diameter = size.diameter if inputs.bore_diameter is None or inputs.finished == "tapped" else inputs.bore_diameter
    flat = inputs.finished == "bored" and inputs.bottom == "flat"
    angle = POINTS[inputs.drill.drill_material] if inputs.drill.drill_point is None else inputs.drill.drill_point
    mouth = inputs.mouth
    shape = HoleShape(diameter, inputs.hole_depth, None if inputs.through == "through" else pi if flat else angle)
    if mouth.countersink_diameter is not None:
        shape = replace(shape, countersink=mouth.countersink_diameter, countersink_angle=mouth.countersink_angle)
    if mouth.counterbore_diameter is not None and mouth.counterbore_depth is not None:
        shape = replace(shape, counterbore=mouth.counterbore_diameter, counterbore_depth=mouth.counterbore_depth)
    return shape


def hole_sketch(hole: HoleShape) -> Drawing:
    """The section of a part with the hole in it, with its dimensions.

    >>> hole_sketch(HoleShape(10.0, 20.0, pi)).bar_radius
    8.0
    """
    chain, _ = outline(hole)
    outside = Point(0.0, WIDE * max(hole.diameter, hole.countersink, hole.counterbore) / 2)
    return Drawing(
        title="The hole",
        description="Section with the axis across the page; the hole goes in from the right.",
        part=Chain((Line(outside, chain.start), *chain)),
        bar_radius=outside.r,
        hole_radius=hole.diameter / 2 if hole.point_angle is None else 0.0,
        dimensions=tuple(_dimensions(hole)),
    )


def _dimensions(hole: HoleShape) -> Iterator[Dimension]:
    rim, corner = Point(0.0, hole.diameter / 2), Point(-hole.depth, hole.diameter / 2)
    yield Dimension("diameter", corner, corner.mirrored(), hole.diameter, DIAMETER, "bore_diameter", "D")
    yield Dimension("length", corner, rim, hole.depth, LENGTH, "hole_depth", "t")
    if hole.countersink:
        edge = Point(-hole.counterbore_depth, hole.countersink / 2)
        yield Dimension("diameter", edge, edge.mirrored(), hole.countersink, DIAMETER, "countersink_diameter", "D_c")
    if hole.counterbore:
        edge = Point(0.0, hole.counterbore / 2)
        yield Dimension("diameter", edge, edge.mirrored(), hole.counterbore, DIAMETER, "counterbore_diameter", "D_b")


def _notes(inputs: HoleInputs, work: Material, size: Sized) -> Iterator[Message]:
    if inputs.finished == "reamed" and inputs.bore_diameter is not None:
        usual, how = ream_allowance(work.group, inputs.bore_diameter), runs("ream")
        values: dict[str, Value] = {
            "low": Quantity(usual.low, LENGTH),
            "high": Quantity(usual.high, LENGTH),
            "source": usual.source,
            "speed": f"{how.speed:g}",
            "feed": f"{how.feed:g}",
            "how": how.source,
        }
        yield Message(_REAM, values)
    if inputs.finished == "bored" and size.left is not None:
        yield Message(_BORE)
    yield Message(_SHELF)


def _cautions(inputs: HoleInputs, work: Material, size: Sized, main: Drilled) -> Iterator[Caution]:
    finished = inputs.bore_diameter
    limits = limited(finished)
    if inputs.finished == "drilled" and limits is not None and limits.upper - limits.lower < DRILL_MAKES:
        close: dict[str, Value] = {
            "width": Quantity(limits.upper - limits.lower, LENGTH),
            "makes": Quantity(DRILL_MAKES, LENGTH),
        }
        yield Caution(Message(_CLOSE, close), 2, "finished")
    if size.left is None or finished is None:
        return
    values: dict[str, Value] = {"left": Quantity(size.left, LENGTH), "drill": Quantity(size.diameter, DIAMETER)}
    if inputs.finished == "reamed":
        usual = ream_allowance(work.group, finished)
        values |= {"low": Quantity(usual.low, LENGTH), "high": Quantity(usual.high, LENGTH)}
        if size.left < NEAR * usual.low:
            yield Caution(Message(_RUBS, values), 2, "left")
        elif size.left > 2 * usual.high:
            yield Caution(Message(_TOO_MUCH, values), 2, "left")
    elif size.left < 2 * NEAR * bore_allowance(finished):
        values["usual"] = Quantity(2 * bore_allowance(finished), LENGTH)
        yield Caution(Message(_SKIN, values), 2, "left")
    if inputs.finished == "reamed" and inputs.bottom == "flat":
        yield Caution(Message(_NO_FLAT), 1, "bottom")
    if main.full_depth > inputs.hole_depth and inputs.through == "blind":
        values = {"deep": Quantity(main.tip_depth, LENGTH), "depth": Quantity(inputs.hole_depth, LENGTH)}
        yield Caution(Message(_DEEPER, values), 1, "tip_depth")


def _faster_tools(inputs: HoleInputs, main: Drilled, tools: list[ToolRow]) -> Iterator[Caution]:
    """The spindle where another tool of the hole turns faster than the drill, if the drill's speed is kept."""
    fastest = max(row.rpm for row in tools if row.rpm is not None)
    if fastest > main.answer.results.rpm and not any(each.about == "max_rpm" for each in main.answer.cautions):
        yield from spindle_cautions(Running(fastest, fastest), inputs.machine)


def _of_the_tap(size: Sized) -> Iterator[Caution]:
    if size.tapped is not None:
        for caution in size.tapped.cautions:
            yield replace(caution, about=OF_THE_TAP.get(caution.about, caution.about))


_REAM = (
    "A reamer takes {low} to {high} on the diameter here ({source}); it runs at {speed} times the speed of a drill and "
    "{feed} times its feed ({how}). It follows the drilled hole: where position counts, bore before reaming. Never "
    "turn a reamer backward."
)
_BORE = (
    "A drilled hole is wider than its drill and may lean: the boring bar needs enough on each side to clean it up. "
    "Its deflection and the finish are on the page for boring."
)
_SHELF = (
    "Drills are those on the shelf in millimetres (usual steps of DIN 338 and DIN 345, from memory): for another one "
    "give the drill at hand. Other tools of the hole are of high-speed steel."
)
_RUBS = (
    "{drill} leaves only {left} for a reamer that takes {low} to {high}: it rubs and the hole becomes rough. Take a "
    "smaller drill."
)
_TOO_MUCH = (
    "{drill} leaves {left} for a reamer that takes {low} to {high}: it clogs and cuts oversize. Take a larger drill "
    "or bore in between."
)
_SKIN = (
    "{drill} leaves {left} on the diameter, less than half of the usual {usual}: where the drill leans the bar does "
    "not clean up. Take a smaller drill."
)
_CLOSE = (
    "The hole has {width} between its limits, a twist drill holds {makes} at best and cuts wider than itself: ream or "
    "bore it."
)
_NO_FLAT = "A reamer leaves the drill's cone: a flat bottom has to be bored."
_DEEPER = "The drill's tip goes to {deep}, deeper than the {depth} of the hole: check that the part has room for it."

FEATURE = Feature(
    path="plan/hole",
    title="Hole on the axis",
    summary="Spot, pilot, drill, pecks, reamer, tap, countersink and counterbore of a hole, with depths, forces, time.",
    solve=solve,
    page="/hole",
    rows={
        "tools": Rows(ToolRow, "Tools in their order", "Tools and depths"),
        "pecks": Rows(PeckRow, "Pecks of the drill", "Tools and depths"),
    },
    supporting=("tip_depth", "rpm", "feed", "peck_count", "time"),
    blank=hole_sketch(HoleShape(20.0, 40.0, POINTS["HSS"])).with_symbols_only(),
    example={
        "material": "C45",
        "finished": "reamed",
        "bore_diameter": "12",
        "hole_depth": "45",
        "countersink_diameter": "14",
        "max_rpm": "2000",
        "chuck_limit": "3200",
    },
)
