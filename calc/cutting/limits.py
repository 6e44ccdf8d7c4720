"""The limits that every answer is held against: each check once, for whatever page names a speed, a feed or a force.

A page makes a `Case` of what it names; `limits` yields what that case triggers, with its amounts, consequence and
remedy. What is not known stays None and is not judged.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from calc.cutting.feeding import Fed, feed_cautions
from calc.cutting.machine import Cut, LoadResults, Machine, Work
from calc.cutting.speed import NO_DIAMETER, limit_diameter, spindle_speed
from calc.cutting.thin_chips import Shaving, chip_cautions
from calc.language.messages import Caution, Digits, Listed, Message, Quantity, Value
from calc.language.quantities import DIAMETER, FORCE, LENGTH, POWER, SPINDLE_SPEED

LONGEST_OVERHANG = 3.0  # length out over diameter, held in a chuck alone; common practice, no source
RUNS_UP = 2.0  # times its speed at the start, from which a spindle without a limit is worth a word; common practice
HIGHEST_BASE_SPEED = 1500.0  # 1/min, of lathes' main drives; common practice, no source
FAST = 6000.0  # 1/min: chucks are seldom marked for more; common practice, no source
NEAR_STALL = 0.9  # share of what the machine gives; common practice, no source


@dataclass(frozen=True, slots=True)
class Running:
    """How fast the spindle turns over a cut [1/min]: where it is outermost, on `outer` [mm], and where it is fastest.

    `fastest` None is a spindle that runs up toward the axis without a limit; `speed` is the surface speed [mm/min].
    Where `outer` is not known, the start is not told.
    """

    start: float | None
    fastest: float | None
    outer: float | None = None
    speed: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """What an answer names of a cut: spindle, force with its load, feeds, chips."""

    running: Running | None = None
    cut: Cut | None = None
    load: LoadResults | None = None
    fed: tuple[Fed, ...] = ()
    chips: tuple[Shaving, ...] = ()


def running(speed: float, outer: float, inner: float, max_rpm: float | None) -> Running:
    """The spindle at surface `speed` [mm/min] from `outer` to `inner` diameter [mm], either way; None is no limit.

    >>> found = running(180_000.0, 60.0, 20.0, None)
    >>> round(found.start), round(found.fastest or 0)
    (955, 2865)
    >>> running(180_000.0, 60.0, 0.0, None).fastest is None, running(180_000.0, 60.0, 0.0, 2000.0).fastest
    (True, 2000.0)
    """
    small, large = sorted((abs(outer), abs(inner)))
    at_large, at_small = (None if d < NO_DIAMETER else spindle_speed.function(speed, d) for d in (large, small))
    if max_rpm is not None:
        at_large, at_small = (max_rpm if n is None else min(n, max_rpm) for n in (at_large, at_small))
    return Running(at_large, at_small, large, speed)


def limits(case: Case, machine: Machine | None = None, work: Work | None = None) -> Iterator[Caution]:
    """What `case` triggers on this machine, with this work: feed, stall, grip, chuck, chip, length out.

    A feed comes first of what is equally grave: with a slipped decimal all else is wrong too.

    >>> machine = Machine(chuck_limit=3200.0)
    >>> [caution.about for caution in limits(Case(running=Running(9470.0, 9470.0)), machine)]
    ['max_rpm']
    """
    machine = Machine() if machine is None else machine
    for fed in case.fed:
        yield from feed_cautions(fed)
    if case.cut is not None and case.load is not None:
        yield from _load_cautions(case.cut, case.load)
        yield from _below_base_speed(case.cut, case.load, machine)
        yield from _grip_cautions(case.load, machine)
        yield from _grip_unjudged(case.cut, case.load, machine, work)
    yield from spindle_cautions(case.running, machine)
    yield from chip_cautions(case.chips)
    if work is not None and work.held == "chuck":
        yield from overhang_cautions(work.length_out, work.work_diameter)


def spindle_cautions(turned: Running | None, machine: Machine) -> Iterator[Caution]:
    """The fastest that the spindle turns, and its limit, held against the chuck's marking.

    >>> [caution.severity for caution in spindle_cautions(None, Machine(max_rpm=4000.0, chuck_limit=3200.0))]
    [3]
    >>> list(spindle_cautions(running(135_000.0, 60.0, 52.0, None), Machine()))
    []
    """
    limit, chuck = machine.max_rpm, machine.chuck_limit
    fastest = None if turned is None else turned.start if turned.fastest is None else turned.fastest
    values: dict[str, Value] = {}
    if chuck is not None:
        values["chuck"] = Quantity(chuck, SPINDLE_SPEED)
    if limit is not None and chuck is not None and limit > chuck:
        values["limit"] = Quantity(limit, SPINDLE_SPEED)
        yield Caution(Message(_ABOVE_CHUCK, values), 3, "max_rpm")
    elif chuck is not None and fastest is not None and fastest > chuck:
        values["speed"] = Quantity(fastest, SPINDLE_SPEED)
        yield Caution(Message(_RUNS_ABOVE_CHUCK, values), 3, "max_rpm")
    elif turned is not None and limit is None:
        yield from _runs_up(turned, chuck)


def _runs_up(turned: Running, chuck: float | None) -> Iterator[Caution]:
    """A spindle without a limit that runs up on its way in."""
    if turned.start is None:
        return
    values: dict[str, Value] = {"start": Quantity(turned.start, SPINDLE_SPEED)}
    if turned.outer is not None:
        values["outer"] = Quantity(turned.outer, DIAMETER)
    if turned.fastest is None:
        text = _NO_LIMIT
        if chuck is not None and turned.speed is not None:
            text = _NO_LIMIT_OF_CHUCK
            values["chuck"] = Quantity(chuck, SPINDLE_SPEED)
            values["inside"] = Quantity(limit_diameter.function(turned.speed, chuck), DIAMETER)
        yield Caution(Message(_NO_LIMIT_AT_ALL if turned.outer is None else text, values), 3, "max_rpm")
    elif chuck is None and turned.fastest > RUNS_UP * turned.start:
        values["fastest"] = Quantity(turned.fastest, SPINDLE_SPEED)
        yield Caution(Message(_NO_MARKING, values), 2, "max_rpm")
    elif chuck is None and turned.fastest > FAST:
        values |= {"fastest": Quantity(turned.fastest, SPINDLE_SPEED), "usual": Quantity(FAST, SPINDLE_SPEED)}
        yield Caution(Message(_FAST, values), 2, "max_rpm")


def overhang_cautions(length_out: float | None, diameter: float | None) -> Iterator[Caution]:
    """The length out of the chuck [mm] held against the work's diameter [mm].

    >>> [len(list(overhang_cautions(length, 60.0))) for length in (60.0, 240.0)]
    [0, 1]
    """
    if not length_out or not diameter or length_out <= LONGEST_OVERHANG * diameter:
        return
    values: dict[str, Value] = {
        "length": Quantity(length_out, LENGTH),
        "diameter": Quantity(diameter, DIAMETER),
        "ratio": f"{length_out / diameter:.1f}",
        "most": f"{LONGEST_OVERHANG:.0f}",
    }
    yield Caution(Message(_LONG_OUT, values), 3, "length_out")


def _grip_cautions(found: LoadResults, machine: Machine) -> Iterator[Caution]:
    for needed, text in ((found.grip_needed, _SLIPS), (found.grip_against_tilt, _TILTS)):
        if needed is not None and machine.grip_force is not None and needed > machine.grip_force:
            values: dict[str, Value] = {"needed": Quantity(needed, FORCE), "grip": Quantity(machine.grip_force, FORCE)}
            yield Caution(Message(text, values), 3, "grip_force")


def _grip_unjudged(cut: Cut, found: LoadResults, machine: Machine, work: Work | None) -> Iterator[Caution]:
    """A grip that is given and cannot be held against all that pulls at it: what is asked for."""
    if machine.grip_force is None or work is None:
        return
    tilts = cut.tilts and work.held == "chuck" and found.grip_against_tilt is None
    asked = [(_HELD_ON, work.work_diameter, found.grip_needed is None or tilts)]
    asked += [(_OUT, work.length_out, tilts), (_IN_JAWS, work.grip_length, tilts)]
    lacking = [what for what, value, wanted in asked if wanted and value is None]
    if lacking:
        against = "turning, pulling out or tilting" if found.grip_needed is None and tilts else "tilting"
        against = "turning or pulling out" if not tilts else against
        grip = Quantity(machine.grip_force, FORCE)
        values: dict[str, Value] = {"grip": grip, "against": against, "lacking": Listed(tuple(lacking), " and ")}
        yield Caution(Message(_UNJUDGED, values), 1, "grip_force")


def _below_base_speed(cut: Cut, found: LoadResults, machine: Machine) -> Iterator[Caution]:
    """A machine of which only the power is given, where a usual base speed would leave too little of it."""
    available = found.power_available
    if machine.base_rpm is not None or machine.rated_torque is not None or not cut.rpm or available is None:
        return
    stalls_below = cut.rpm * available / cut.power if cut.power else HIGHEST_BASE_SPEED
    if cut.rpm >= stalls_below or stalls_below >= HIGHEST_BASE_SPEED:
        return
    values: dict[str, Value] = {
        "given": Quantity(available, POWER),
        "rpm": Quantity(cut.rpm, SPINDLE_SPEED),
        "base": Quantity(stalls_below, SPINDLE_SPEED),
        "power": Quantity(cut.power, POWER),
    }
    yield Caution(Message(_NOT_KNOWN_BELOW, values), 2, "base_rpm")


def _load_cautions(cut: Cut, found: LoadResults) -> Iterator[Caution]:
    if found.load is None or found.power_available is None:
        return
    worst = cut.power * cut.force_high / cut.force
    values: dict[str, Value] = {
        "power": Quantity(cut.power, POWER),
        "worst": Quantity(worst, POWER),
        "given": Quantity(found.power_available, POWER),
        "share": Digits(f"{found.load:.0%}"),
    }
    if found.load > 1.0:
        yield Caution(Message(_STALLS, values), 3, "load")
    elif found.load > NEAR_STALL:
        yield Caution(Message(_NEAR, values), 2, "load")
    elif worst > found.power_available:
        yield Caution(Message(_PERHAPS, values), 1, "load")


_NO_LIMIT_AT_ALL = (
    "Without a spindle limit the spindle runs up toward the axis as far as the machine goes, and may throw the part. "
    "Set a limit not above the chuck's marking."
)
_NO_LIMIT = (
    "Without a spindle limit the spindle runs up from {start} at {outer} toward the axis as far as the machine goes, "
    "and may throw the part. Set a limit not above the chuck's marking."
)
_NO_LIMIT_OF_CHUCK = (
    "Without a spindle limit the spindle runs up from {start} at {outer} toward the axis: inside {inside} it is over "
    "the {chuck} marked on the chuck, and may throw the part. Set a spindle limit of {chuck} or less."
)
_NO_MARKING = (
    "Without a spindle limit the spindle runs up from {start} at {outer} to {fastest}: see that the chuck is marked "
    "for that, or set a limit."
)
_FAST = (
    "{fastest} is faster than chucks are usually marked for, {usual}: the jaws may lose their grip. Compare it with "
    "the chuck's marking and the machine, or set a spindle limit."
)
_ABOVE_CHUCK = (
    "The spindle limit of {limit} is above the {chuck} marked on the chuck: the jaws may lose their grip. Set it no "
    "higher than the marking."
)
_RUNS_ABOVE_CHUCK = (
    "At {speed} the chuck is over its marked {chuck}: the jaws may lose their grip. Set a spindle limit of {chuck} or "
    "less."
)
_LONG_OUT = (
    "{length} out of the chuck on {diameter} is {ratio} diameters, more than {most} without a tailstock: the "
    "work may bend, whip or climb out of the jaws. Support it, or turn slower."
)
_STALLS = (
    "The cut takes {power} at the spindle, but the machine gives {given} at most: it stalls. Cut less deep, or "
    "feed less."
)
_NEAR = (
    "The cut takes {power} at the spindle, {share} of the {given} that the machine gives at most: a worn edge "
    "stalls it. Cut less deep, or feed less."
)
_PERHAPS = (
    "By the highest published force the cut takes {worst}, more than the {given} that the machine gives at most: "
    "watch the load, and be ready to feed less."
)
_SLIPS = (
    "Against the force of this cut smooth jaws need a grip of {needed}, but there is {grip}, and less at speed: the "
    "work may slip. Cut less deep, feed less or grip harder."
)
_TILTS = (
    "At the free end this cut tilts the work out of the jaws: holding it needs a grip of {needed}, but there is "
    "{grip}. Clamp more of it, let less stand out, support it, cut less deep or grip harder."
)
_HELD_ON, _OUT, _IN_JAWS = "the work diameter", "the length out of the chuck", "the length in the jaws"
_UNJUDGED = "To check the grip of {grip} against {against}, enter {lacking}."
_NOT_KNOWN_BELOW = (
    "The {given} hold from the base speed up; what the machine gives at {rpm} is not known. With a base speed above "
    "{base} it is less than the {power} of this cut. Give the base speed or the largest torque."
)
