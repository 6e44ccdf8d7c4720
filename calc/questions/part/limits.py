"""What a turned cut triggers on the machine, in the chuck, for the material, by the checks of every question."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calc.cutting.chip import Edge
from calc.cutting.feeding import fed_edge
from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import Cut, Work, load_of
from calc.cutting.operation import material_cautions, speed_caution
from calc.language.messages import Caution
from calc.language.working import recording
from calc.machining.forces import PassForce
from calc.questions.part.asked import Asked
from calc.questions.part.job import Turning


def turned_cautions(asked: Asked, loads: Sequence[PassForce]) -> Iterator[Caution]:
    """What the hardest and the fastest pass of an operation trigger; nothing of the force without a material."""
    cut, tool = asked.operation.cut, asked.operation.tool
    if cut.feed is not None and isinstance(tool, Turning):
        yield from limits(Case(fed=(fed_edge(cut.feed, asked.work, Edge(tool.tool.nose), cut.depth),)))
    if asked.work is not None:
        yield from material_cautions(asked.work)
        unusual = None
        if cut.surface_speed is not None:
            unusual = speed_caution(asked.work, ("rough", "finish"), "", cut.surface_speed)
        if unusual is not None:
            yield unusual
    yield from _against_the_machine(asked, loads)


def _against_the_machine(asked: Asked, loads: Sequence[PassForce]) -> Iterator[Caution]:
    hardest = max(loads, key=lambda each: each.force, default=None)
    if hardest is None or hardest.power is None or asked.work is None or hardest.force <= 0.0:
        return
    used = asked.work.forces[0]
    high = hardest.force * max(one.kc11 for one in asked.work.forces) / used.kc11
    fastest = max((each.rpm for each in loads if each.rpm is not None), default=None)
    diameter = 2.0 * asked.before.bounds[3]
    load = Cut(hardest.force, high, hardest.power, diameter, fastest)
    work = Work(work_diameter=diameter, length_out=asked.setup.length_out)
    machine = asked.job.machine
    with recording():
        found = load_of(load, machine, work)
    turned = None if fastest is None else Running(fastest, fastest)
    yield from limits(Case(running=turned, cut=load, load=found), machine, work)
