"""One turning cut worked through: chip, force, power, its directions, and what machine and chuck say to it."""

from __future__ import annotations

from dataclasses import dataclass

from calc.cutting.chip import Edge, engagement
from calc.cutting.components import ComponentResults, components_of, edge_direction, ratio_of_thrust
from calc.cutting.feeding import fed_edge
from calc.cutting.force import Chip, CutForce, chip_of, cutting_power, force_of
from calc.cutting.limits import Case, Running
from calc.cutting.machine import Cut, LoadResults, Machine, Work, load_of
from calc.cutting.materials import Material
from calc.cutting.thin_chips import Shaving
from calc.language.messages import Message, Value


@dataclass(frozen=True, slots=True)
class Turning:
    """A cut before its force is known: depth, feed [mm], `speed` [mm/min], where known `diameter` [mm] and `rpm`."""

    work: Material
    edge: Edge
    depth: float
    feed: float
    speed: float
    diameter: float | None
    rpm: float | None


@dataclass(frozen=True, slots=True)
class Turned:
    """What a cut comes to."""

    asked: Turning
    chip: Chip
    force: CutForce
    power: float
    components: ComponentResults
    cut: Cut
    load: LoadResults

    def case(self) -> Case:
        """What the limits hold it against."""
        asked = self.asked
        running = None if asked.rpm is None else Running(asked.rpm, asked.rpm)
        fed = fed_edge(asked.feed, asked.work, asked.edge, asked.depth)
        return Case(running=running, cut=self.cut, load=self.load, fed=(fed,), chips=(Shaving(self.chip.thickness),))


def turned(asked: Turning, factor: float, machine: Machine, held: Work) -> Turned:
    """Chip, force, power [N mm/min], components and load of a cut, its force corrected by `factor`; noted as steps.

    Raises OutOfRange for a depth or feed that cannot be meant.

    >>> from math import radians
    >>> from calc.cutting.materials import material
    >>> cut = Turning(material("C45"), Edge(0.0, radians(95.0)), 3.0, 0.3, 200_000.0, None, None)
    >>> round(turned(cut, 1.0, Machine(), Work()).force.force)
    2366
    """
    chip = chip_of(asked.depth, asked.feed, asked.edge)
    found = force_of(chip, asked.work, factor)
    power = cutting_power(found.force, asked.speed)
    direction = edge_direction(engagement(asked.depth, asked.edge), asked.edge)
    components = components_of(found.force, found.high, direction, asked.work.group)
    cut = Cut(found.force, found.high, power, asked.diameter, asked.rpm, components.feed_force)
    return Turned(asked, chip, found, power, components, cut, load_of(cut, machine, held))


def ratio_note(work: Material) -> Message:
    """How large the thrust is taken, and from where."""
    ratio = ratio_of_thrust(work.group)
    values: dict[str, Value] = {
        "usual": f"{ratio.usual:g}",
        "low": f"{ratio.low:g}",
        "high": f"{ratio.high:g}",
        "source": ratio.source,
    }
    return Message("Thrust taken as {usual} of the cutting force, {low} to {high} ({source}).", values)
