"""What parting and grooving ask alike of blade and path, and answer: deflection of the blade, moves in their order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Protocol

from calc.cutting.blade import STEEL, THINNER, blade_deflection, side_force
from calc.cutting.feeding import fed_plunge
from calc.cutting.limits import Case, limits, running
from calc.cutting.machine import Cut, LoadResults, Machine, Work, load_of
from calc.cutting.materials import Material
from calc.cutting.parting_path import Move
from calc.cutting.plunging import Plunge, PlungeLoad, load_of_plunge
from calc.cutting.speed import SpindleState, surface_speed
from calc.cutting.thin_chips import Shaving
from calc.cutting.tools import operations
from calc.language.fields import Declared, given, result, word
from calc.language.kinds import DEFLECTION
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import FEED, FORCE, LENGTH, RATIO, X, Z

LONGEST = 10.0  # insert widths that a blade may stand out; common practice, no source
SPARE = 2.0  # mm that a blade stands out more than it goes deep; common practice, no source
SINKS = 0.1  # mm: an edge that sinks further below centre leaves a pip and may dig in; common practice, no source


class BladeInputs(Declared):
    """The blade that carries the insert (mm)."""

    blade_overhang: float | None = given(
        LENGTH, "Blade overhang", "L_b", above=0.0, hint="from its block to the edge", blank="the depth and 2 mm"
    )
    blade_height: float | None = given(
        LENGTH, "Blade height", "h_b", above=0.0, least=1.0, hint="of its steel; for the deflection"
    )
    blade_thickness: float | None = given(
        LENGTH, "Blade thickness", "b_b", above=0.0, least=0.1, blank="0.8 of the insert width"
    )


class BladeResults(Declared):
    """What the blade does under the cut; None where its height is not given."""

    overhang: float = result(LENGTH, "Blade overhang", "L_b")
    overhang_ratio: float = result(RATIO, "Overhang over insert width")
    sinks_by: float | None = result(DEFLECTION, "Edge sinks by", "δ")
    side_force: float = result(FORCE, "Side force", "F_s", hint="of the lead angle")
    sideways: float | None = result(DEFLECTION, "Edge goes sideways by", "δ_s")


class MoveRow(Declared):
    """One move of the edge, set by its corner on the side away from the chuck."""

    move: str = word("Move")
    x: float = result(X, "X")
    z: float = result(Z, "Z")
    feed: float | None = result(FEED, "Feed", hint="none: rapid")


def blade_results(inputs: BladeInputs, width: float, deep: float, forces: tuple[float, float, float]) -> BladeResults:
    """The blade under its cut: `width` of the insert and how `deep` it goes [mm].

    `forces` are cutting and feed force [N] and the lead angle [rad].

    >>> found = blade_results(BladeInputs(blade_height=26.0), 3.0, 20.0, (1000.0, 500.0, 0.0))
    >>> found.overhang, round(found.sinks_by, 4), found.sideways
    (22.0, 0.0048, 0.0)
    """
    cutting, feeding, lead = forces
    out = deep + SPARE if inputs.blade_overhang is None else inputs.blade_overhang
    thick = THINNER * width if inputs.blade_thickness is None else inputs.blade_thickness
    pushed = side_force(feeding, lead) if lead else 0.0
    sinks = sideways = None
    if inputs.blade_height is not None:
        high = inputs.blade_height
        sinks = blade_deflection.at("downward")(cutting, out, STEEL, thick, high)
        sideways = blade_deflection.at("sideways")(pushed, out, STEEL, high, thick) if pushed else 0.0
    return BladeResults(overhang=out, overhang_ratio=out / width, sinks_by=sinks, side_force=pushed, sideways=sideways)


def blade_cautions(inputs: BladeInputs, found: BladeResults, width: float, deep: float) -> Iterator[Caution]:
    """What blade and insert of this `width`, so `deep` in the work [mm], give cause to mind.

    >>> short = BladeInputs(blade_overhang=10.0)
    >>> [one.about for one in blade_cautions(short, blade_results(short, 3.0, 20.0, (1.0, 1.0, 0.0)), 3.0, 20.0)]
    ['blade_overhang']
    """
    values: dict[str, Value] = {
        "out": Quantity(found.overhang, LENGTH),
        "deep": Quantity(deep, LENGTH),
        "width": Quantity(width, LENGTH),
        "ratio": f"{found.overhang_ratio:.1f}",
        "most": f"{LONGEST:.0f}",
    }
    if found.overhang < deep:
        yield Caution(Message(_SHORT, values), 3, "blade_overhang")
    if inputs.blade_overhang is not None and found.overhang_ratio > LONGEST:
        yield Caution(Message(_LONG, values), 2, "blade_overhang")
    if inputs.blade_thickness is not None and inputs.blade_thickness >= width:
        values["thick"] = Quantity(inputs.blade_thickness, LENGTH)
        yield Caution(Message(_THICK, values), 3, "blade_thickness")
    if found.sinks_by is not None and found.sinks_by > SINKS:
        values["sinks"] = Quantity(found.sinks_by, DEFLECTION)
        yield Caution(Message(_SINKS, values), 2, "sinks_by")


def plunge_case(cut: Plunge, work: Material, asked: Cut, found: LoadResults, max_rpm: float | None) -> Case:
    """What a plunge in a material names, to be held against the limits: its load is `asked` of the machine and `found`.

    `max_rpm` [1/min] is the spindle's limit.
    """
    return Case(
        running=running(cut.speed, cut.start, cut.end, max_rpm),
        cut=asked,
        load=found,
        fed=(fed_plunge(cut.feed, work, cut.width),),
        chips=(Shaving(cut.feed),),
    )


def at_the_outside(cut: Plunge, spindle: SpindleState) -> Plunge:
    """The plunge at the surface speed that the spindle really gives where it begins.

    >>> slow = at_the_outside(Plunge(10.0, 0.0, 2.0, 0.1, 126_000.0), SpindleState(2000.0, limited=True))
    >>> round(slow.speed)
    62832
    """
    if not spindle.limited:
        return cut
    return replace(cut, speed=surface_speed.at("with the limit")(cut.start, spindle.rpm))


def factor_note(operation: str, load: PlungeLoad) -> Message:
    """What the force of a plunge is made from, and its spread.

    >>> from calc.cutting.materials import material
    >>> load = load_of_plunge(Plunge(60.0, 0.0, 3.0, 0.12, 126_000.0), material("C45"), "part")
    >>> factor_note("part", load).say()[:40]
    'Force by Kienzle times 1.3 for parting ('
    """
    found = operations()[operation]
    values: dict[str, Value] = {
        "factor": f"{found.force_factor:g}",
        "operation": found.title,
        "source": found.force_source,
        "low": Quantity(load.force.low, FORCE),
        "high": Quantity(load.force.high, FORCE),
    }
    text = "Force by Kienzle times {factor} for {operation} ({source}); published values span {low} to {high}."
    return Message(text, values)


@dataclass(frozen=True, slots=True)
class Plunged:
    """A plunge held against machine and chuck: its load, what it asks of them, what they have left."""

    cut: Plunge
    material: Material
    machine: Machine
    work: Work
    load: PlungeLoad
    asked: Cut
    found: LoadResults

    @classmethod
    def at(cls, cut: Plunge, spindle: SpindleState, material: Material, operation: str, inputs: Holding) -> Plunged:
        """The plunge of an operation (by its name in the table) at the speed of the spindle where it begins."""
        load = load_of_plunge(at_the_outside(cut, spindle), material, operation)
        asked = Cut(load.force.force, load.force.high, load.power, cut.start, spindle.rpm)
        found = load_of(asked, inputs.machine, inputs.work)
        return cls(cut, material, inputs.machine, inputs.work, load, asked, found)

    @property
    def deep(self) -> float:
        """How deep it goes per side [mm]."""
        return abs(self.cut.start - self.cut.end) / 2

    def blade(self, blade: BladeInputs, lead: float = 0.0) -> BladeResults:
        """What the blade does under it; `lead` is the angle of its edge [rad]."""
        return blade_results(blade, self.cut.width, self.deep, (self.load.force.force, self.load.thrust, lead))

    def cautions(self, blade: BladeInputs, found: BladeResults) -> Iterator[Caution]:
        """What blade, insert, machine and chuck give cause to mind."""
        yield from blade_cautions(blade, found, self.cut.width, self.deep)
        yield from self.limits()

    def limits(self) -> Iterator[Caution]:
        """Where it is beyond machine, chuck or insert."""
        case = plunge_case(self.cut, self.material, self.asked, self.found, self.machine.max_rpm)
        yield from limits(case, self.machine, self.work)

    def by_result(self) -> dict[str, float]:
        """What is set and what it takes, by the names of the results."""
        return {
            "surface_speed": self.cut.speed,
            "feed": self.cut.feed,
            "cutting_force": self.load.force.force,
            "cutting_force_high": self.load.force.high,
            "feed_force": self.load.thrust,
            "power": self.load.power,
            "removal_rate": self.load.removal,
        }


class Holding(Protocol):
    """Inputs that name the machine and how the work is held."""

    @property
    def machine(self) -> Machine:
        """Spindle and chuck."""

    @property
    def work(self) -> Work:
        """The work in the chuck."""


def move_rows(moves: Iterable[Move]) -> Iterator[MoveRow]:
    """The moves as declared rows.

    >>> [row.move for row in move_rows([Move("out", 21.0, -40.0)])]
    ['out']
    """
    for move in moves:
        yield MoveRow(move=move.why, x=move.r, z=move.z, feed=move.feed)


_SHORT = (
    "The blade stands out {out} but goes {deep} deep: its block runs into the work. Set it out further, or part from a "
    "smaller diameter."
)
_LONG = (
    "The blade stands out {out}, {ratio} widths of its insert, more than {most}: it bends and chatters. Set it only as "
    "far out as the cut needs, or take a wider insert."
)
_THICK = "A blade {thick} thick does not clear the slot of an insert {width} wide: it rubs and breaks."
_SINKS = (
    "Under the cut the edge sinks by {sinks}: below centre it leaves a pip and may be pulled in. Shorten the blade, or "
    "take a higher one."
)
