"""What a turned cut triggers on the machine, in the chuck, for the material, by the checks of every question."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calc.cutting.chip import Edge
from calc.cutting.components import most_axial
from calc.cutting.feeding import fed_edge
from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import Cut, Work, load_of
from calc.cutting.operation import material_cautions, unusual_speed
from calc.language.messages import Caution
from calc.language.working import recording
from calc.machining.forces import PassForce
from calc.machining.passes import Pass
from calc.questions.part.asked import Asked
from calc.questions.part.job import Turning


def turned_cautions(asked: Asked, loads: Sequence[PassForce], rows: Sequence[Pass] = ()) -> Iterator[Caution]:
    """What the hardest and the fastest pass of an operation trigger; nothing of the force without a material.

    `loads` and `rows` are those of its passes.
    """
    cut, tool = asked.operation.cut, asked.operation.tool
    if cut.feed is not None and isinstance(tool, Turning):
        yield from limits(Case(fed=(fed_edge(cut.feed, asked.work, Edge(tool.tool.nose), cut.depth),)))
    if asked.work is not None:
        yield from material_cautions(asked.work)
        if cut.surface_speed is not None:
            yield from unusual_speed(asked.work, ("rough", "finish"), "", cut.surface_speed)
    yield from _against_the_machine(asked, loads, _running(asked, loads, rows))


def _running(asked: Asked, loads: Sequence[PassForce], rows: Sequence[Pass]) -> Running | None:
    """How slowly and how fast the spindle turns; without end where a pass goes to the axis and nothing limits it."""
    ends = [speed for row in rows for speed in (row.rpm_start, row.rpm_end)]
    known = [each for each in [*ends, *(load.rpm for load in loads)] if each is not None]
    if not known:
        return None
    fastest = None if None in ends else max(known)
    return Running(min(known), fastest, 2.0 * asked.before.bounds[3], asked.operation.cut.surface_speed)


def _against_the_machine(asked: Asked, loads: Sequence[PassForce], turned: Running | None) -> Iterator[Caution]:
    hardest = max(loads, key=lambda each: each.force, default=None)
    diameter = 2.0 * asked.before.bounds[3]
    work = Work(work_diameter=diameter, length_out=asked.setup.length_out)
    if hardest is None or hardest.power is None or asked.work is None or hardest.force <= 0.0:
        yield from limits(Case(running=turned), asked.job.machine, work)
        return
    rpm, axial = None if turned is None else turned.start, most_axial(hardest.force, asked.work.group)
    load = Cut(hardest.force, hardest.high, hardest.power, diameter, rpm, axial)
    machine = asked.job.machine
    with recording():
        found = load_of(load, machine, work)
    yield from limits(Case(running=turned, cut=load, load=found), machine, work)
