"""Drilling, reaming and tapping on the part's axis."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from calc.answer.feature import Answer
from calc.contour import Line, Point
from calc.cutting.drilling import drilling_time
from calc.cutting.machine import limited_rpm
from calc.cutting.speed import spindle_speed, surface_speed
from calc.language.messages import Caution, Message, Quantity
from calc.language.problems import Fault, Missing, OutOfRange
from calc.language.quantities import DIAMETER, LENGTH
from calc.language.working import Step
from calc.machining.job import Contour, ToolPass
from calc.machining.passes import Pass
from calc.machining.removal.judging import Place
from calc.machining.removal.taking import Removal
from calc.machining.straight_in import Leg, drill_outline, moves_of, pecks
from calc.questions.operations.drilling import APPROACH, DrillingInputs, DrillingResults
from calc.questions.operations.drilling import FEATURE as DRILLING
from calc.questions.part.asked import Asked, cut_too_deep, left_on, reported, speed_cautions
from calc.questions.part.done import OperationDone, PassDone
from calc.questions.part.job import Drill, Reamer, Tap
from calc.questions.part.rows import SetTo, straight_row
from calc.questions.threads.tapping import FEATURE as TAPPING
from calc.questions.threads.tapping import TappingInputs, TappingResults

SAME = 1e-6
"""mm: a hole that ends so near to the part's other face goes through."""

MOST_REAMED = 0.5
"""mm on the diameter: more than this is not reamed (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole to be made (mm): where the stock begins, its full depth from Z zero, whether it goes through."""

    top: float
    depth: float
    through: bool
    stretch: Contour | None

    @property
    def length(self) -> float:
        """From where the stock begins to the full depth."""
        return self.top + self.depth


def hole_of(asked: Asked) -> Hole:
    """The hole that is asked for: to the depth that is given, else to the end of the rows of the inside.

    Raises `Missing` where neither says how deep.
    """
    depth, job = asked.operation.depth, asked.job
    stretch = None if job.inside is None else asked.stretch("bore")
    if depth is None:
        if stretch is None:
            raise Missing(Fault("depth", Message("Give how deep, or the print's inside contour.")))
        depth = -stretch.chain.bounds.z_min
    return Hole(asked.before.bounds[2], depth, depth >= job.length - SAME, stretch)


def drilled(asked: Asked) -> OperationDone:
    """A hole drilled in one go or in pecks: load and time as drilling by itself has them. Raises `Problem`."""
    tool, hole = asked.operation.tool, hole_of(asked)
    if not isinstance(tool, Drill):
        raise OutOfRange(Fault("tool", Message("Drilling needs a drill: give its diameter.")))
    answer, steps = _drilling_alone(asked, tool, hole)
    found = answer.results
    bottom = -hole.depth - found.point_height - (APPROACH if hole.through else 0.0)
    path = hole.top + APPROACH, bottom, found.feed, asked.operation.cut.depth
    removal = _swept(asked, tool.diameter, tool.point, path)
    set_to = SetTo(found.feed, found.surface_speed, found.rpm)
    row = axis_row(asked, removal, set_to, _time_of(removal, found.rpm), tool.diameter / 2.0)
    done = _pass_of(removal, row, tool.diameter, tool.point)
    return reported(
        asked,
        [removal],
        [replace(done, force=found.cutting_force, power=found.power)],
        left=_left(asked, hole, removal),
        too_deep=_too_deep(asked, hole, removal),
        cautions=tuple(_of_drilling(asked, hole, answer)),
        notes=answer.notes,
        steps=steps,
    )


def _of_drilling(asked: Asked, hole: Hole, answer: Answer[DrillingResults]) -> Iterator[Caution]:
    """What drilling by itself warns of, its thrust from the solid only where there is no pilot hole."""
    solid = hole_radius(asked, hole) == 0.0
    return (each for each in answer.cautions if solid or each.about != "thrust")


def _pass_of(removal: Removal, row: Pass, diameter: float, point: float) -> PassDone:
    """A pass of a tool on the axis, of a diameter (mm) and a point angle (rad)."""
    outline = drill_outline(diameter, point)
    return PassDone(removal.name, removal.tool_pass, removal.volume, row, outline=outline)


def _drilling_alone(asked: Asked, tool: Drill, hole: Hole) -> tuple[Answer[DrillingResults], list[Step]]:
    """What drilling by itself answers for this hole."""
    cut = asked.operation.cut
    return DRILLING.answer(
        DrillingInputs(
            material=asked.material,
            drill_diameter=tool.diameter,
            hole_depth=hole.length,
            drill_material=tool.made_of,
            through="through" if hole.through else "blind",
            feed=cut.feed,
            surface_speed=cut.surface_speed,
            point_angle=tool.point_angle,
            machine=asked.job.machine,
        )
    )


def reamed(asked: Asked) -> OperationDone:
    """A hole reamed to size; its force is not calculated. Raises `Missing` without speed and feed, `OutOfRange`."""
    tool, hole, cut = asked.operation.tool, hole_of(asked), asked.operation.cut
    if not isinstance(tool, Reamer):
        raise OutOfRange(Fault("tool", Message("Reaming needs a reamer: give its diameter.")))
    speed, feed = asked.needed("surface_speed", cut.surface_speed), asked.needed("feed", cut.feed)
    rpm = limited_rpm(spindle_speed(speed, tool.diameter), asked.job.machine)
    bottom = -hole.depth - (APPROACH if hole.through else 0.0)
    removal = _swept(asked, tool.diameter, math.pi, (hole.top + APPROACH, bottom, feed, None))
    time = drilling_time(hole.length, 0.0, hole.top + APPROACH - bottom - hole.length, feed, rpm)
    speed = surface_speed.function(tool.diameter, rpm)
    row = axis_row(asked, removal, SetTo(feed, speed, rpm), time, tool.diameter / 2.0)
    return reported(
        asked,
        [removal],
        [_pass_of(removal, row, tool.diameter, math.pi)],
        left=_left(asked, hole, removal),
        too_deep=_too_deep(asked, hole, removal),
        cautions=(*_of_reaming(asked, hole, tool), *speed_cautions(asked, rpm)),
        notes=(Message("The force of a reamer is not calculated; its chamfer is taken as flat."),),
    )


def _of_reaming(asked: Asked, hole: Hole, tool: Reamer) -> Iterator[Caution]:
    """Whether there is a hole to ream, with a rest that a reamer takes."""
    there = 2.0 * hole_radius(asked, hole)
    values = {"reamer": Quantity(tool.diameter, DIAMETER), "hole": Quantity(there, DIAMETER)}
    values["rest"] = Quantity(tool.diameter - there, LENGTH)
    if there == 0.0:
        yield Caution(Message("A reamer does not cut from the solid: drill first.", values), 3, "tool")
    elif tool.diameter <= there:
        yield Caution(Message("The hole of {hole} is not smaller than the reamer, {reamer}.", values), 3, "tool")
    elif tool.diameter - there > MOST_REAMED:
        text = "{rest} on the diameter is a lot for a reamer of {reamer}: bore or drill closer to size first."
        yield Caution(Message(text, values), 2, "tool")


def tapped(asked: Asked) -> OperationDone:
    """A tapped hole; the stock stays at the hole's diameter, its thread is named. Raises `Problem`."""
    tool, hole = asked.operation.tool, hole_of(asked)
    if not isinstance(tool, Tap):
        raise OutOfRange(Fault("tool", Message("Tapping needs a tap: give the thread's designation.")))
    there = 2.0 * hole_radius(asked, hole)
    if there == 0.0:
        raise OutOfRange(Fault("tool", Message("There is no hole to tap yet: drill it first.")))
    answer, steps = _tapping_alone(asked, tool, hole, there)
    found = answer.results
    removal = _tap_led(asked, hole, found, there)
    row = axis_row(asked, removal, SetTo(found.feed, found.surface_speed, found.rpm), found.time, there / 2.0)
    force = 2.0 * found.torque / there
    notes = (*answer.notes, Message("Stock stands at the hole's diameter: the thread's flanks are not swept."))
    return reported(
        asked,
        [],
        [PassDone("tap", removal.tool_pass, 0.0, row, force, found.power)],
        cautions=(*answer.cautions, *_bottoms(removal)),
        notes=notes,
        steps=steps,
    )


def _tapping_alone(asked: Asked, tool: Tap, hole: Hole, there: float) -> tuple[Answer[TappingResults], list[Step]]:
    """What tapping by itself answers for this hole, of a diameter (mm)."""
    return TAPPING.answer(
        TappingInputs(
            designation=tool.designation,
            length=hole.length,
            material=asked.material,
            hole="through" if hole.through else "blind",
            chamfer=tool.chamfer,
            drill=there,
            surface_speed=asked.operation.cut.surface_speed,
            machine=asked.job.machine,
        )
    )


def _tap_led(asked: Asked, hole: Hole, found: TappingResults, there: float) -> Removal:
    """The tap led in and out; what it would take of a hole of a diameter (mm) is its bottom."""
    top, bottom = hole.top + APPROACH, hole.top - found.drill_depth
    legs = [Leg(Point(bottom, 0.0), found.feed), Leg(Point(top, 0.0), found.feed, "feed", "retract")]
    start = Point(top + APPROACH, 0.0)
    led = ToolPass("tap", moves_of(start, [Leg(Point(top, 0.0), None, "rapid", "approach"), *legs]))
    return asked.taking(drill_outline(there - 2.0 * SAME, math.pi)).take(asked.before, led)


def _bottoms(removal: Removal) -> Iterator[Caution]:
    if removal.area > 0.0:
        text = (
            "The tap, its chamfer and reserve included, goes deeper than the hole: it runs into the bottom. Drill "
            "deeper, or shorten the thread."
        )
        yield Caution(Message(text), 3, "depth")


def hole_radius(asked: Asked, hole: Hole) -> float:
    """The radius (mm) of the stock's hole half way along the hole that is to be made; 0 in the solid."""
    top = hole.top if hole.stretch is None else min(hole.stretch.chain.bounds.z_max, hole.top)
    middle = (top - hole.depth) / 2.0
    found = asked.before.radii(middle - SAME, middle + SAME)
    return 0.0 if found is None else found[0]


def _swept(asked: Asked, diameter: float, point: float, path: tuple[float, float, float, float | None]) -> Removal:
    """The tool of a diameter (mm) and point angle (rad) led from a top to a bottom (z, mm) at a feed, in pecks."""
    top, bottom, feed, step = path
    start = Point(top + APPROACH, 0.0)
    legs = [Leg(Point(top, 0.0), None, "rapid", "approach"), *pecks(top, bottom, step, feed)]
    led = ToolPass(asked.operation.kind, moves_of(start, [*legs, Leg(start, None, "rapid", "return")]))
    return asked.taking(drill_outline(diameter, point)).take(asked.before, led)


def _time_of(removal: Removal, rpm: float) -> float:
    """The time (min) of all that is fed, at one spindle speed."""
    moves = removal.tool_pass.moves
    return sum(drilling_time(move.length, 0.0, 0.0, move.feed, rpm) for move in moves if move.feed is not None)


def axis_row(asked: Asked, removal: Removal, set_to: SetTo, time: float, depth: float) -> Pass:
    """The row of a pass along the axis, from where it is first fed to the bottom.

    It takes a `time` (min) and is `depth` (mm) deep: the tool's radius.
    """
    fed = [move for move in removal.tool_pass.moves if move.feed is not None and move.why == "cut"]
    along = Line(fed[0].elements[0].start, fed[-1].elements[-1].end)
    length = sum(move.length for move in fed)
    return straight_row(asked.operation.kind, along, set_to, depth, time, length, APPROACH)


def _left(asked: Asked, hole: Hole, removal: Removal) -> Place | None:
    return None if hole.stretch is None else left_on(hole.stretch, asked.before, removal.stock, SAME)


def _too_deep(asked: Asked, hole: Hole, removal: Removal) -> Place | None:
    if hole.stretch is None:
        return None
    return cut_too_deep(asked, asked.seen(asked.job.contour("bore")), removal.stock)
