"""What a turned cut triggers on the machine, in the chuck, for the material, by the checks of every question."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calc.cutting.machine import Cut, Work, load_of, machine_cautions
from calc.cutting.operation import material_cautions, speed_caution
from calc.language.messages import Caution
from calc.language.working import recording
from calc.machining.forces import PassForce
from calc.questions.part.asked import Asked


def turned_cautions(asked: Asked, loads: Sequence[PassForce]) -> Iterator[Caution]:
    """What the hardest and the fastest pass of an operation trigger; nothing of the force without a material."""
    cut = asked.operation.cut
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
    yield from machine_cautions(load, found, machine, work)
