"""The hole that a bored part is drilled with, from the solid: spotted, piloted where it is large, then drilled."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from calc.contour import Chain
from calc.cutting.drilling import USUAL_POINT, point_length
from calc.cutting.holes import peck_rule, pilot_for
from calc.cutting.machine import available_power
from calc.cutting.materials import Material
from calc.language.messages import Message
from calc.language.working import recording
from calc.machining.job import Cut
from calc.questions.operations.drilling import DrillingInputs
from calc.questions.operations.drilling import solve as drilling
from calc.questions.operations.hole.tools import SPOT_SHARE
from calc.questions.part.called import Reasoned
from calc.questions.part.choosing import IN_HAND, SAME, is_upright
from calc.questions.part.hole_made import HoleMade, mouth_chamfer, narrowest
from calc.questions.part.job import Countersink, Drill, Job, Operation
from calc.questions.part.parted import deep_for_parting, is_through
from calc.questions.part.reasons import Reason

ABOVE_THE_BOTTOM = 0.1
"""mm: a drill's point keeps so far off the bottom of a blind bore, which is bored flat (common practice, no source)."""

ABOVE_A_FLAT = 0.1
"""mm: the same of a drill with inserts, for the finish to take (common practice, no source)."""

WITH_INSERTS = 16.0
"""mm: drills with inserts are common from here on (common practice, no source)."""

A_METRE = 1000.0
"""mm/min: surface speeds are proposed in whole metres a minute."""

STEP = 0.1
"""mm: depths are proposed in steps of this."""


def drilled_first(job: Job, work: Material, made: HoleMade) -> Iterator[Reasoned]:
    """What makes the hole before it gets its size, each operation with its reason; nothing where there is one.

    Spot and pilot are those that a hole by itself has. Source: common practice.
    """
    diameter = made.drill
    if diameter is None or job.inside is None:
        return
    deep = deep_for_parting(job, diameter)
    if not is_through(job):
        deep = _blind(job.inside.chain, diameter)
        if deep <= 0.0:
            return
    flat = _flat_depth(job.inside.chain)
    if made.how == "bore" and diameter >= WITH_INSERTS and flat is not None and not is_through(job):
        rest = round(2.0 * narrowest(job.inside.chain) - diameter, 1)
        drill = Operation("drill", Drill(diameter, made_of="indexable"), depth=flat)
        yield _within_power(drill, job), Reason("drill-flat", {"d": diameter, "rest": rest})
        return
    pilot = pilot_for(diameter)
    first = diameter if pilot is None else pilot
    mouth = None if made.how == "bore" else mouth_chamfer(job.inside.chain)
    spot = round(SPOT_SHARE * first, 1) if mouth is None else 2.0 * mouth
    yield Operation("countersink", Countersink(spot)), Reason("spot" if mouth is None else "spot-chamfer", {"d": first})
    if pilot is not None:
        yield _drill(job, work, pilot, deep), Reason("pilot", {"d": diameter})
    yield (
        _within_power(_drill(job, work, diameter, deep), job),
        _why(made, diameter, narrowest(job.inside.chain), _ends(job, deep)),
    )


def flat_bottom(job: Job, made: HoleMade) -> Iterator[Message]:
    """That a hole which nothing but a drill makes is drawn with a flat bottom."""
    inside = None if job.inside is None else job.inside.chain
    if made.how == "bore" or made.drill is None or inside is None or is_through(job):
        return
    if _ends_flat(inside):
        yield Message(_FLAT)


_FLAT = (
    "The hole is drawn with a flat bottom, which a drill does not leave: draw its point as the last row if the print "
    "allows it, or add what cuts the bottom."
)


def _why(made: HoleMade, diameter: float, least: float, key: str) -> Reason:
    """Why a hole of a diameter is drilled for a bore whose least radius is given (mm); `key` says to where."""
    if made.how == "drill":
        return Reason("drill-to-size", {"d": diameter})
    if made.thread is not None:
        return Reason("drill-to-tap", {"d": diameter, "thread": made.thread.designation})
    rest = round(2.0 * least - diameter, 1)
    return Reason(key, {"d": diameter, "rest": rest})


def _ends(job: Job, deep: float | None) -> str:
    """The reason that says where the hole ends."""
    if not is_through(job):
        return "drill-blind"
    return "drill" if deep is None else "drill-to-parting"


def _flat_depth(inside: Chain) -> float | None:
    """How deep (mm) a drill that is flat at its end goes in a bore with a flat bottom; None for another bottom."""
    if not _ends_flat(inside):
        return None
    return round(math.floor((-inside.end.z - ABOVE_A_FLAT) / STEP + SAME) * STEP, 3)


def _ends_flat(inside: Chain) -> bool:
    """Whether a bore ends on the axis with a bottom square to it."""
    return inside.end.r < SAME and is_upright(inside.elements[-1])


def _blind(inside: Chain, diameter: float) -> float:
    """How deep (mm) a drill may go at full diameter, so that its point stays above the bottom of a blind bore.

    A bottom that the print draws as that of a drill takes the point.
    """
    wall = -min(each.end.z for each in inside if each.end.r > SAME)
    point = point_length.function(diameter, USUAL_POINT)
    if -inside.bounds.z_min - wall > point - ABOVE_THE_BOTTOM:
        return wall
    tip = -inside.bounds.z_min - ABOVE_THE_BOTTOM - point
    return round(math.floor(min(wall, tip) / STEP + SAME) * STEP, 3)


def _within_power(drill: Operation, job: Job) -> Operation:
    """The drill at a surface speed that leaves a fifth of the machine's power in hand; as it is where that is so."""
    power = available_power(job.machine, None)
    if not power or job.material is None or not isinstance(drill.tool, Drill):
        return drill
    with recording():
        asked = DrillingInputs(
            material=job.material,
            drill_diameter=drill.tool.diameter,
            hole_depth=job.length if drill.depth is None else drill.depth,
            drill_material=drill.tool.made_of,
            machine=job.machine,
        )
        found = drilling(asked).results
    if found.power <= IN_HAND * power:
        return drill
    speed = math.floor(found.surface_speed * IN_HAND * power / found.power / A_METRE) * A_METRE
    return replace(drill, cut=replace(drill.cut, surface_speed=max(speed, A_METRE)))


def _drill(job: Job, work: Material, diameter: float, deep: float | None) -> Operation:
    """A drill of high-speed steel to a depth (mm; None: of the bore), in pecks where that is deep for it."""
    rule = peck_rule("HSS", work.group, flooded=False)
    length = job.length if deep is None else deep
    step = rule.following * diameter if length > rule.deep * diameter else None
    return Operation("drill", Drill(diameter), Cut(depth=step), depth=deep)
