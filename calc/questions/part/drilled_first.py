"""The hole that a bored part is drilled with, from the solid: spotted, piloted where it is large, then drilled."""

from __future__ import annotations

import math
from collections.abc import Iterator

from calc.contour import Chain
from calc.cutting.drilling import USUAL_POINT, point_length
from calc.cutting.holes import peck_rule, pilot_for
from calc.cutting.materials import Material
from calc.language.messages import Message, Quantity, Value
from calc.language.quantities import DIAMETER, LENGTH
from calc.machining.job import Cut
from calc.questions.operations.hole.tools import SPOT_SHARE
from calc.questions.part.choosing import SAME
from calc.questions.part.close_sizes import Close
from calc.questions.part.job import Countersink, Drill, Job, Operation
from calc.questions.part.parted import deep_for_parting, drilled_to, is_through, narrowest

ABOVE_THE_BOTTOM = 0.1
"""mm: a drill's point keeps so far off the bottom of a blind bore, which is bored flat (common practice, no source)."""

STEP = 0.1
"""mm: depths are proposed in steps of this."""

Reasoned = tuple[Operation, Message]


def drilled_first(job: Job, work: Material, close: tuple[Close, ...]) -> Iterator[Reasoned]:
    """What makes the hole before it is bored or reamed, each operation with its reason; nothing where there is one.

    Spot and pilot are those that a hole by itself has. Source: common practice.
    """
    diameter = drilled_to(job, work, close)
    if diameter is None or job.inside is None:
        return
    deep = deep_for_parting(job, diameter)
    through = is_through(job)
    if not through:
        deep = _blind(job.inside.chain, diameter)
        if deep <= 0.0:
            return
    pilot = pilot_for(diameter)
    first = diameter if pilot is None else pilot
    said: dict[str, Value] = {"d": Quantity(first, DIAMETER, brief=True)}
    yield Operation("countersink", Countersink(round(SPOT_SHARE * first, 1))), Message(_SPOT, said)
    if pilot is not None:
        said = {"d": Quantity(diameter, DIAMETER, brief=True)}
        yield _drill(job, work, pilot, deep), Message(_PILOT, said)
    rest = 2.0 * narrowest(job.inside.chain) - diameter
    said = {"d": Quantity(diameter, DIAMETER, brief=True), "rest": Quantity(round(rest, 1), LENGTH, brief=True)}
    text = _BLIND if not through else _DRILL if deep is None else _TO_THE_PARTING
    yield _drill(job, work, diameter, deep), Message(text, said)


def _blind(inside: Chain, diameter: float) -> float:
    """How deep (mm) a drill may go at full diameter, so that its point stays above the bottom of a blind bore."""
    wall = -min(each.end.z for each in inside if each.end.r > SAME)
    tip = -inside.bounds.z_min - ABOVE_THE_BOTTOM - point_length.function(diameter, USUAL_POINT)
    return round(math.floor(min(wall, tip) / STEP + SAME) * STEP, 3)


def _drill(job: Job, work: Material, diameter: float, deep: float | None) -> Operation:
    """A drill of high-speed steel to a depth (mm; None: of the bore), in pecks where that is deep for it."""
    rule = peck_rule("HSS", work.group, flooded=False)
    length = job.length if deep is None else deep
    step = rule.following * diameter if length > rule.deep * diameter else None
    return Operation("drill", Drill(diameter), Cut(depth=step), depth=deep)


_SPOT = "Spot the middle, so that the drill of {d} starts on the axis; leave this out for one that centres itself."
_PILOT = (
    "A pilot a little wider than the web of the drill of {d}, which then pushes less and keeps to the axis; leave this "
    "out for a drill with inserts or one of solid carbide."
)
_DRILL = "There is no hole yet: drill {d} from the solid, {rest} below the bore, first."
_TO_THE_PARTING = (
    "There is no hole yet: drill {d} from the solid, {rest} below the bore, through to where it is parted."
)
_BLIND = "There is no hole yet: drill {d} from the solid, {rest} below the bore; its point stays above the bottom."
