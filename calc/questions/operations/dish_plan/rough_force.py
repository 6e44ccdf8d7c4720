"""Force and power in the deepest roughing pass, with the spread of the published values, against the machine."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from calc.cutting.components import most_axial
from calc.cutting.force import CutForce, cutting_power
from calc.cutting.limits import Case, limits
from calc.cutting.machine import Cut, LoadResults, Machine, Work, available_power, load_of
from calc.cutting.thin_chips import Shaving
from calc.language.messages import Caution, Message, Quantity
from calc.language.quantities import SPINDLE_SPEED, X
from calc.language.working import recording
from calc.machining.forces import cut_of, deepest
from calc.machining.machine import Done, Made
from calc.machining.passes import Referral, Spindle
from calc.machining.speed_along import Station, stations
from calc.questions.operations.dish_plan.cutting import Settled
from calc.questions.operations.dish_plan.inputs import DishPlanInputs
from calc.questions.operations.dish_plan.results import ForceResults

PLACES = 24


@dataclass(frozen=True, slots=True)
class ForcePart:
    """Results and cautions about force and power; `sentences` say where the machine was asked."""

    results: ForceResults = ForceResults()
    load: LoadResults = LoadResults()
    cautions: tuple[Caution, ...] = ()
    sentences: tuple[Message, ...] = ()


def force_part(inputs: DishPlanInputs, settled: Settled, roughing: Sequence[Done], referral: Referral) -> ForcePart:
    """The force on the round nose at the deepest roughing cut, and the power against the machine where it is hardest.

    Blank throughout while nose, feed or material is open; the power waits for the surface speed.
    """
    nose, feed = inputs.tool.nose(), inputs.cut.rough_feed
    hardest = deepest(roughing)
    if nose is None or feed is None or settled.material is None or hardest is None:
        return ForcePart()
    depth = hardest.removal.depth
    chip, force = cut_of(depth, feed, nose, settled.material)
    results = ForceResults(
        force_depth=depth,
        chip_thickness=chip.thickness,
        cutting_force=force.force,
        cutting_force_low=force.low,
        cutting_force_high=force.high,
    )
    if settled.rough_surface_speed is None:
        return ForcePart(results)
    places = _places(hardest, referral, Spindle(settled.rough_surface_speed, inputs.machine.max_rpm))
    fastest = max((station.true_speed for station in places), default=settled.rough_surface_speed)
    power = cutting_power(force.force, fastest)
    results = replace(results, power=power, power_high=cutting_power.function(force.high, fastest))
    return _held_against(inputs, settled, results, force, places, power)


def _places(made: Made, referral: Referral, spindle: Spindle) -> list[Station]:
    """Places along the pass; none without a spindle limit, which leaves the speed on the axis open."""
    if spindle.max_rpm is None:
        return []
    with recording():
        return stations([piece for piece in made.pieces if not piece.in_air], referral, spindle, PLACES)


def _held_against(
    inputs: DishPlanInputs,
    settled: Settled,
    results: ForceResults,
    force: CutForce,
    places: Sequence[Station],
    power: float,
) -> ForcePart:
    """The power against the machine's curve where its margin is smallest, the grip against the largest torque."""
    machine = inputs.machine
    held = inputs.work
    work = Work(work_diameter=held.bar_diameter, length_out=held.length_out, grip_length=held.grip_length)
    axial = None if settled.material is None else most_axial(force.force, settled.material.group)
    hardest = _hardest(places, machine)
    outermost = max((2 * abs(station.contact.r) for station in places), default=None)
    if hardest:
        power = cutting_power.at("where it is hardest")(force.force, hardest.true_speed)
    cut = Cut(force.force, force.high, power, outermost, hardest.rpm if hardest else None, axial)
    load = load_of(cut, machine, work)
    thickness = results.chip_thickness
    chips = () if thickness is None else (Shaving(thickness),)
    unlimited = replace(machine, chuck_limit=None, max_rpm=None)
    found = limits(Case(cut=cut, load=load, chips=chips), unlimited, work)
    cautions = (each for each in found if each.about != "length_out")  # as the spindle's, given with the speeds
    return ForcePart(results, load, tuple(cautions), tuple(_where(hardest)))


def _hardest(places: Sequence[Station], machine: Machine) -> Station | None:
    """Where the speed takes the largest share of the machine's power; None where nothing of either is known."""
    with recording():
        shares = [
            (station.true_speed / given, station)
            for station in places
            if (given := available_power(machine, station.rpm))
        ]
    return max(shares, key=lambda pair: pair[0], default=(0.0, None))[1]


def _where(hardest: Station | None) -> Iterator[Message]:
    if hardest is not None:
        values = {"x": Quantity(abs(hardest.contact.r), X), "rpm": Quantity(hardest.rpm, SPINDLE_SPEED)}
        yield Message("Compared with the machine at {x}, where it turns at {rpm} and has the smallest margin.", values)
