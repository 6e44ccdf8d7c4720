"""A live centre in the tailstock: the force that keeps the work on it, what it carries, and its maker's limits."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from calc.answer.feature import Answer, Feature
from calc.cutting import nouns
from calc.cutting.centre_load import (
    FREE_ENDS,
    HELD_END,
    buckling_force,
    load_along,
    load_square,
    load_together,
    reaction_between_centres,
    reaction_with_chuck,
    square_force,
    weight,
    weight_between_centres,
    weight_with_chuck,
)
from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import Machine
from calc.cutting.stiffness import WORK, Beam, WorkOf
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, needed, part, result
from calc.language.messages import Caution, Digits, Message, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import FORCE, LENGTH, MASS, PRESSURE, RATIO, SPINDLE_SPEED
from calc.shapes.centre_holes import POINT, centre_holes, cone_pressure, force_to_keep

SAFETY = 2.0  # on the force that keeps the point in its hole; common practice, no source
NEAR_BUCKLING = 0.1  # of Euler's force, above which work bends visibly more; common practice, no source
PRESSED = 200.0  # N/mm2 on the cone that soft steel bears without being coined; common practice, no source
OtherEnd = Literal["tailstock", "centres"]
OTHER_ENDS: dict[OtherEnd, str] = {"tailstock": "held in a chuck", "centres": "on a centre too"}
Toward = Literal["chuck", "tailstock"]
TOWARD: dict[Toward, str] = {"chuck": "toward the chuck", "tailstock": "toward the tailstock"}
SIZES = {"": "not known", **{name: name for name in centre_holes()}}


class CentreLimitsInputs(Declared):
    """What the centre's maker allows, typed from its table; what is left blank is not checked against it."""

    square_allowed: float | None = given(FORCE, "Load allowed, square to the axis", "F_q,max", above=0.0)
    along_allowed: float | None = given(FORCE, "Load allowed, along the axis", "F_x,max", above=0.0)
    mass_allowed: float | None = given(MASS, "Mass of work allowed", above=0.0)
    centre_rpm: float | None = given(SPINDLE_SPEED, "Centre's speed limit", above=0.0, least=1.0)
    rpm: float | None = given(SPINDLE_SPEED, "Spindle speed", "n", above=0.0, least=1.0)
    chuck_limit: float | None = nouns.CHUCK_LIMIT.given()


class CentreInputs(Declared):
    """The work, how it is held, the cut, and the tailstock's force."""

    other_end: OtherEnd = choice("Other end", OTHER_ENDS, "tailstock")
    work_diameter: float = nouns.WORK_DIAMETER.needed(symbol="D", hint="its slenderest long stretch")
    length_out: float = nouns.LENGTH_OUT.needed(symbol="L", hint="from the chuck, or the other centre, to the centre")
    cutting_force: float = needed(FORCE, "Cutting force", "F_c", above=0.0)
    passive_force: float = nouns.PASSIVE_FORCE.needed(
        hint="square to the axis; roughly a third to half the cutting force"
    )
    feed_force: float = given(FORCE, "Feed force", "F_f", least=0.0, blank="0", default=0.0)
    feed_toward: Toward = choice("Fed", TOWARD, "chuck")
    cut_at: float | None = given(
        LENGTH, "Cut, from the chuck", "a", above=0.0, blank="at the centre, where it carries most"
    )
    work_mass: float | None = given(MASS, "Mass of the work", "m", above=0.0, blank="that of the cylinder")
    work_material: WorkOf = choice("Work", {code: work.words for code, work in WORK.items()}, "steel")
    tailstock_force: float | None = given(FORCE, "Tailstock force", "F_a", above=0.0, blank="the least that keeps it")
    centre_hole_size: str = choice("Centre hole, pilot in mm", SIZES, "")
    allowed: CentreLimitsInputs = part(CentreLimitsInputs, "What the centre is marked for")


class CentreResults(Declared):
    """The force to set, and what the centre carries."""

    force_to_keep: float = result(FORCE, "Tailstock force, at least", "F_k", hint="twice what keeps the work on it")
    load_square: float = result(FORCE, "Load square to the axis", "F_q")
    load_along: float = result(FORCE, "Load along the axis", "F_x")
    share_square: float | None = result(RATIO, "Share of the load allowed, square")
    share_along: float | None = result(RATIO, "Share of the load allowed, along")
    share_together: float | None = result(RATIO, "Both together", hint="added, on the safe side")
    pressure: float | None = result(PRESSURE, "Mean pressure in the centre hole", "p")
    buckling_force: float = result(FORCE, "Work buckles at", "F_E")
    work_mass: float = result(MASS, "Mass of the work", "m")


def solve(inputs: CentreInputs) -> Answer[CentreResults]:
    """What the centre carries. Raises Missing, OutOfRange; Impossible for a cut beyond the centre.

    >>> asked = CentreInputs(work_diameter=40.0, length_out=300.0, cutting_force=3000.0, passive_force=1200.0)
    >>> found = solve(asked).results
    >>> round(found.load_square), round(found.force_to_keep)
    (3242, 3744)
    """
    require(inputs)
    beam = Beam(inputs.length_out, inputs.work_diameter, WORK[inputs.work_material])
    mass = _mass(inputs, beam)
    square = load_square(_cut(inputs), _carried(inputs, mass))
    keep = force_to_keep(SAFETY, square, POINT)
    force = keep if inputs.tailstock_force is None else inputs.tailstock_force
    along = load_along(force, inputs.feed_force) if inputs.feed_toward == "tailstock" else force
    share_square, share_along = _shares(inputs.allowed, square, along)
    results = CentreResults(
        force_to_keep=keep,
        load_square=square,
        load_along=along,
        share_square=share_square,
        share_along=share_along,
        share_together=_together(share_square, share_along),
        pressure=_pressure(inputs.centre_hole_size, along),
        buckling_force=_buckling(beam, inputs.other_end),
        work_mass=mass,
    )
    return Answer(
        results=results,
        headline="force_to_keep",
        cautions=(
            *_cautions(results, force),
            *_beyond(inputs.allowed, results),
            *_limits(inputs.allowed),
        ),
        notes=(Message(_ASSUMED),),
    )


def _limits(allowed: CentreLimitsInputs) -> tuple[Caution, ...]:
    speed = allowed.rpm
    case = Case(running=None if speed is None else Running(speed, speed))
    return tuple(limits(case, Machine(chuck_limit=allowed.chuck_limit)))


def _together(square: float | None, along: float | None) -> float | None:
    """The share of both loads at once; None unless both are known."""
    return None if square is None or along is None else load_together(square, along)


def _buckling(beam: Beam, other_end: str) -> float:
    """The force along the work [N] at which it buckles, by how its other end is held."""
    ends = HELD_END if other_end == "tailstock" else FREE_ENDS
    return buckling_force(beam.material.modulus, beam.section(), ends, beam.length)


def _mass(inputs: CentreInputs, beam: Beam) -> float:
    """The mass of the work [kg]: the given one, or that of a cylinder as long as it stands out."""
    return beam.mass() if inputs.work_mass is None else inputs.work_mass


def _cut(inputs: CentreInputs) -> float:
    """The centre's share of the cut [N]."""
    at, length = inputs.cut_at, inputs.length_out
    if at is not None and at > length:
        values = {"at": Quantity(at, LENGTH), "length": Quantity(length, LENGTH)}
        raise Impossible(Fault("cut_at", Message("{at} from the chuck is beyond the centre at {length}.", values)))
    force = square_force(inputs.cutting_force, inputs.passive_force)
    reaction = reaction_with_chuck if inputs.other_end == "tailstock" else reaction_between_centres
    return reaction(force, length if at is None else at, length)


def _carried(inputs: CentreInputs, mass: float) -> float:
    """The centre's share of the weight [N]."""
    return (weight_with_chuck if inputs.other_end == "tailstock" else weight_between_centres)(weight(mass))


def _shares(allowed: CentreLimitsInputs, square: float, along: float) -> tuple[float | None, float | None]:
    return (
        None if allowed.square_allowed is None else square / allowed.square_allowed,
        None if allowed.along_allowed is None else along / allowed.along_allowed,
    )


def _pressure(size: str, along: float) -> float | None:
    """The mean pressure [N/mm2] in a centre hole of a listed `size`."""
    if not size:
        return None
    hole = centre_holes()[size]
    return cone_pressure.at("", F_a="F_x")(along, hole.cone, hole.pilot)


def _cautions(found: CentreResults, force: float) -> Iterator[Caution]:
    values: dict[str, Value] = {"force": Quantity(force, FORCE), "keep": Quantity(found.force_to_keep, FORCE)}
    if force < found.force_to_keep:
        yield Caution(Message(_COMES_OUT, values), 3, "tailstock_force")
    if found.load_along > NEAR_BUCKLING * found.buckling_force:
        values = {"along": Quantity(found.load_along, FORCE), "most": Quantity(found.buckling_force, FORCE)}
        beyond = found.load_along >= found.buckling_force
        yield Caution(Message(_BUCKLES if beyond else _BENDS, values), 3 if beyond else 2, "tailstock_force")
    if found.pressure is not None and found.pressure > PRESSED:
        values = {"pressure": Quantity(found.pressure, PRESSURE), "most": Quantity(PRESSED, PRESSURE)}
        yield Caution(Message(_PRESSED, values), 2, "centre_hole_size")


def _beyond(allowed: CentreLimitsInputs, found: CentreResults) -> Iterator[Caution]:
    """What is beyond the centre's own limits, and that they are not known."""
    held = (
        (found.load_square, allowed.square_allowed, FORCE, "square_allowed"),
        (found.load_along, allowed.along_allowed, FORCE, "along_allowed"),
        (found.work_mass, allowed.mass_allowed, MASS, "mass_allowed"),
        (allowed.rpm, allowed.centre_rpm, SPINDLE_SPEED, "centre_rpm"),
    )
    over = [(value, most, kind, name) for value, most, kind, name in held if value and most and value > most]
    for value, most, kind, name in over:
        values: dict[str, Value] = {"value": Quantity(value, kind), "most": Quantity(most, kind)}
        yield Caution(Message(_OVER[name], values), 3, name)
    if not over and found.share_together is not None and found.share_together > 1.0:
        yield Caution(Message(_TOGETHER, {"share": Digits(f"{found.share_together:.0%}")}), 2, "share_together")
    if all(most is None for _, most, _, _ in held):
        yield Caution(Message(_NOT_KNOWN), 2, "square_allowed")


_ASSUMED = (
    "Weight and cut are taken in one direction, the weight as spread evenly; friction in the centre hole, which helps, "
    "is left out. Work grows as it warms: a quill that does not give presses harder, so set it again after roughing."
)
_COMES_OUT = (
    "A tailstock force of {force} is less than the {keep} that keeps the work on its centre under this cut: the work "
    "may climb out. Press harder, never above what centre and tailstock are marked for, or cut less."
)
_BENDS = (
    "{along} along the axis is more than a tenth of the {most} at which this work buckles: it bows, and "
    "bends more under the cut. Press less, cut less, or set a steady."
)
_BUCKLES = (
    "{along} along the axis is above the {most} at which this work buckles: it may fly off. Press less or "
    "set a steady before the spindle turns."
)
_PRESSED = (
    "The centre hole bears {pressure}, more than about {most}: soft steel is coined and the work runs out. "
    "Take a larger centre hole or press less."
)
_OVER = {
    "square_allowed": (
        "The centre carries {value} square to its axis, {most} is allowed: cut less, or take a larger one."
    ),
    "along_allowed": "The centre carries {value} along its axis, {most} is allowed: press less, or take a larger one.",
    "mass_allowed": "The work weighs {value} and the centre is marked for {most}: take a larger one, or set a steady.",
    "centre_rpm": "At {value} the centre is over its {most}: it runs hot and may seize. Turn at {most} or less.",
}
_TOGETHER = (
    "Both loads together use {share} of what the centre is marked for one by one: see in its maker's table whether it "
    "bears both at once."
)
_NOT_KNOWN = "The limits of the centre are not given: enter them from its maker's table before you rely on this."

FEATURE = Feature(
    path="speed-feed/centre",
    title="Centre and tailstock",
    summary="The tailstock force that keeps work on its centre; what the centre carries against its maker's limits.",
    solve=solve,
    page="/centre",
    supporting=("load_square", "load_along", "share_together", "pressure", "buckling_force"),
    example={
        "other_end": "tailstock",
        "work_diameter": "40",
        "length_out": "300",
        "cutting_force": "1800",
        "passive_force": "700",
        "tailstock_force": "3000",
        "centre_hole_size": "4",
        "square_allowed": "5000",
        "along_allowed": "8000",
        "centre_rpm": "5000",
        "rpm": "1400",
    },
)
