"""Work in a collet or on a mandrel: is it in its range, what torque and push are held, how does it come off."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians
from typing import Literal

from calc.answer.feature import Answer, Feature
from calc.cutting import nouns
from calc.cutting.holding import force_at_jaws
from calc.cutting.machine import GRIP_SAFETY
from calc.cutting.stiffness import WORK, WorkOf
from calc.cutting.wedges import (
    axial_held,
    friction_angle,
    grip_of_cone,
    half_angle_of_taper,
    hoop_stress,
    outside_spread,
    pressure_around,
    push_off,
    seat_on_taper,
    share_of_friction,
    torque_held,
)
from calc.language.checks import require, require_wall
from calc.language.fields import Declared, choice, given, needed, part, result
from calc.language.kinds import DEFLECTION, FINE_RATIO
from calc.language.limited import Limited, limited
from calc.language.messages import Caution, Digits, Message, Quantity, Value
from calc.language.problems import Fault, Impossible, Missing
from calc.language.quantities import ANGLE, DIAMETER, FORCE, LENGTH, PRESSURE, RATIO, TORQUE

Kind = Literal["collet", "expanding", "taper"]
KINDS: dict[Kind, str] = {
    "collet": "in a collet",
    "expanding": "on an expanding mandrel",
    "taper": "on a plain mandrel with a slight taper",
}
USUAL_ANGLE = radians(15.0)  # half angle of many collets' cones; common practice, no source
USUAL_TAPER = 0.0005  # 1:2000, .006 in a foot, of plain mandrels; common practice, no source
ON_CONE = 0.1  # friction of greased steel on steel; handbooks of machine elements, from memory
AT_WORK = 0.1  # friction of steel on turned steel, dry or with a film of oil; the same
YIELDS = 200.0  # N/mm2 at which soft metals begin to yield; common practice, no source


class RangeInputs(Declared):
    """The sizes that the collet or mandrel takes, by its marking."""

    range_from: float | None = given(
        DIAMETER, "Smallest size it takes", "D_a", above=0.0, hint="small end of a taper mandrel"
    )
    range_to: float | None = given(DIAMETER, "Largest size it takes", "D_b", above=0.0)
    cone_angle: float | None = given(
        ANGLE, "Cone, half angle", "θ", above=0.0, most=radians(60.0), blank="15°; of a taper mandrel by its taper"
    )
    mandrel_taper: float | None = given(
        FINE_RATIO, "Taper of the mandrel", "C", above=0.0, most=0.1, blank="0.0005, 1:2000"
    )
    cone_friction: float = given(
        RATIO, "Friction on the cone", "μ_c", least=0.0, most=1.0, blank="0.1", default=ON_CONE
    )


class SleeveInputs(Declared):
    """The work around a mandrel, and the cut."""

    outer_diameter: float | None = nouns.OUTER_DIAMETER.given(hint="of work on a mandrel")
    work_material: WorkOf = choice("Work", {code: work.words for code, work in WORK.items()}, "steel")
    work_friction: float = given(RATIO, "Friction at the work", "μ", above=0.0, most=1.0, blank="0.1", default=AT_WORK)
    safety_held: float = given(RATIO, "Safety", "S", least=1.0, most=10.0, blank="1.5", default=GRIP_SAFETY)
    cutting_force: float | None = given(FORCE, "Cutting force", "F_c", above=0.0)
    cut_diameter: float | None = given(
        DIAMETER, "Cutting diameter", "D", above=0.0, blank="outside, or where it is held"
    )
    axial_force: float = given(
        FORCE, "Force along the axis", "F_a", least=0.0, hint="feed force or thrust", blank="0", default=0.0
    )


class ColletMandrelInputs(Declared):
    """How the work is held, on which diameter, with what pull or push."""

    holder_kind: Kind = choice("Held", KINDS, "collet")
    grip_diameter: float = needed(DIAMETER, "Grip diameter", "D_g", above=0.0, hint="such as 20 h9 or 25 H7")
    grip_length: float = nouns.GRIP_LENGTH.needed(symbol="l_g", hint="in the collet, on the mandrel")
    draw_force: float = needed(FORCE, "Force along the axis of the cone", "F_d", above=0.0, hint="draw tube or press")
    sizes: RangeInputs = part(RangeInputs, "Collet or mandrel")
    sleeve: SleeveInputs = part(SleeveInputs, "Work and cut")


class ColletMandrelResults(Declared):
    """What it holds."""

    torque_held: float = result(TORQUE, "Torque it holds", "M_h", hint="with the safety")
    axial_held: float = result(FORCE, "Push along the axis it holds", "F_h", hint="with the safety, alone")
    grip: float = result(FORCE, "Grip, all around", "F_g")
    share_used: float | None = result(RATIO, "Share used by the cut", hint="torque and push together")
    push_off: float | None = result(FORCE, "Pushed off with", "F_off")
    seat: float | Limited | None = result(LENGTH, "Seats from the small end", "z_s")
    seats_within: float | None = result(LENGTH, "Parts seat within", hint="by the limits of their bores")
    pressure: float = result(PRESSURE, "Pressure where it is held", "p")
    hoop_stress: float | None = result(PRESSURE, "Hoop stress in the bore", "σ_t")
    outside_spread: float | None = result(
        DEFLECTION, "Springs back smaller by", "dD_1", hint="on the outside diameter, when it comes off"
    )


def solve(inputs: ColletMandrelInputs) -> Answer[ColletMandrelResults]:
    """What collet or mandrel holds. Raises Missing, OutOfRange; Impossible for work outside the range, without a wall.

    >>> found = solve(ColletMandrelInputs(grip_diameter=20.0, grip_length=30.0, draw_force=10_000.0)).results
    >>> round(found.grip), round(found.torque_held)
    (26449, 17633)
    """
    require(inputs)
    _hold_in_range(inputs)
    sleeve, held_on = inputs.sleeve, float(inputs.grip_diameter)
    grip, off = _grip(inputs)
    torque = torque_held(sleeve.work_friction, grip, held_on, sleeve.safety_held)
    pressure = pressure_around(grip, held_on, inputs.grip_length)
    stress, spread = _spread(inputs, pressure)
    seat, within = _seat(inputs)
    results = ColletMandrelResults(
        torque_held=torque,
        axial_held=axial_held(sleeve.work_friction, grip, sleeve.safety_held),
        grip=grip,
        share_used=_share(inputs, torque),
        push_off=off,
        seat=seat,
        seats_within=within,
        pressure=pressure,
        hoop_stress=stress,
        outside_spread=spread,
    )
    return Answer(
        results=results,
        headline="torque_held",
        cautions=tuple(_cautions(inputs, results)),
        notes=(Message(_NOTES[inputs.holder_kind]),),
    )


def _hold_in_range(inputs: ColletMandrelInputs) -> None:
    """Raise Impossible for work of which any size within its limits is outside the range."""
    if inputs.holder_kind == "taper":
        return
    low, high = inputs.sizes.range_from, inputs.sizes.range_to
    if low is not None and high is not None and low >= high:
        raise Impossible(Fault("range_to", Message("The range must end above where it begins.")))
    small, large = _ends(inputs)
    if low is not None and small < low:
        raise Impossible(_outside(_BELOW, small, low))
    if high is not None and large > high:
        raise Impossible(_outside(_ABOVE, large, high))


def _outside(text: str, size: float, end: float) -> Fault:
    return Fault("grip_diameter", Message(text, {"size": Quantity(size, DIAMETER), "end": Quantity(end, DIAMETER)}))


def _ends(inputs: ColletMandrelInputs) -> tuple[float, float]:
    """The smallest and the largest size of the work where it is held [mm]."""
    ends = limited(inputs.grip_diameter)
    return (float(inputs.grip_diameter),) * 2 if ends is None else (ends.lower, ends.upper)


def _grip(inputs: ColletMandrelInputs) -> tuple[float, float | None]:
    """The grip all around [N], and what pushes it off again; a cone that frees itself needs nothing."""
    sizes = inputs.sizes
    if inputs.holder_kind == "taper":
        theta, rho = (
            half_angle_of_taper(_taper(inputs)),
            friction_angle.at("work", mu_c="μ")(inputs.sleeve.work_friction),
        )
    else:
        theta = USUAL_ANGLE if sizes.cone_angle is None else sizes.cone_angle
        rho = friction_angle(sizes.cone_friction)
    grip = grip_of_cone(inputs.draw_force, theta, rho)
    return grip, push_off(grip, theta, rho) if rho > theta else None


def _taper(inputs: ColletMandrelInputs) -> float:
    return USUAL_TAPER if inputs.sizes.mandrel_taper is None else inputs.sizes.mandrel_taper


def _seat(inputs: ColletMandrelInputs) -> tuple[float | Limited | None, float | None]:
    """Where on a taper mandrel the bore seats [mm from its small end], and over which length by its limits."""
    if inputs.holder_kind != "taper":
        return None, None
    small_end, ends = inputs.sizes.range_from, limited(inputs.grip_diameter)
    taper = _taper(inputs)
    within = None if ends is None else seat_on_taper.at("limits")(ends.upper, ends.lower, taper)
    if small_end is None:
        return None, within
    first = seat_on_taper.function(_ends(inputs)[0], small_end, taper)
    if first < 0.0:
        raise Impossible(_outside(_NOT_ON, _ends(inputs)[0], small_end))
    aim = seat_on_taper(float(inputs.grip_diameter), small_end, taper)
    return (aim if within is None else Limited(aim, aim, first, first + within)), within


def _spread(inputs: ColletMandrelInputs, pressure: float) -> tuple[float | None, float | None]:
    """Hoop stress [N/mm2] in work on a mandrel, and by how much its outside is spread [mm]."""
    outer, bore = inputs.sleeve.outer_diameter, float(inputs.grip_diameter)
    if inputs.holder_kind == "collet" or outer is None:
        return None, None
    require_wall("outer_diameter", bore, outer)
    modulus = WORK[inputs.sleeve.work_material].modulus
    return hoop_stress(pressure, bore, outer), outside_spread(pressure, bore, outer, modulus)


def _share(inputs: ColletMandrelInputs, torque: float) -> float | None:
    """What the cut uses of what is held: its pull around the work and along the axis together."""
    sleeve, held_on = inputs.sleeve, float(inputs.grip_diameter)
    if sleeve.cutting_force is None:
        if sleeve.axial_force:
            raise Missing(Fault("cutting_force", Message("Give the cutting force beside the force along the axis.")))
        return None
    outer = sleeve.outer_diameter if inputs.holder_kind != "collet" else None
    at = sleeve.cut_diameter or outer or held_on
    around = force_at_jaws(sleeve.cutting_force * at / 2, held_on)
    return share_of_friction(around, sleeve.axial_force, force_at_jaws.function(torque, held_on))


def _cautions(inputs: ColletMandrelInputs, found: ColletMandrelResults) -> Iterator[Caution]:
    values: dict[str, Value] = {}
    if found.share_used is not None and found.share_used > 1.0:
        values = {"share": Digits(f"{found.share_used:.0%}"), "torque": Quantity(found.torque_held, TORQUE)}
        yield Caution(Message(_SLIPS, values), 3, "share_used")
    if found.hoop_stress is not None and found.hoop_stress > YIELDS:
        yield Caution(Message(_YIELDS, {"stress": Quantity(found.hoop_stress, PRESSURE)}), 2, "hoop_stress")
    if inputs.holder_kind != "taper" and found.push_off is not None:
        values = {"force": Quantity(found.push_off, FORCE)}
        yield Caution(Message(_STICKS, values), 1, "cone_angle")
    if found.seats_within is not None and found.seats_within > inputs.grip_length:
        yield Caution(Message(_SPREAD_SEATS, {"within": Quantity(found.seats_within, LENGTH)}), 1, "seats_within")
    if inputs.holder_kind == "collet" and (inputs.sizes.range_from is None or inputs.sizes.range_to is None):
        yield Caution(Message(_NO_RANGE), 2, "range_from")


_NOTES = {
    "collet": (
        "The draw force less what springs the collet shut. A collet bears all over only near its marked size: away "
        "from it, it holds at one end, and short work tilts; put a plug of the same size at its back."
    ),
    "expanding": (
        "The force on the cone less what spreads the mandrel. Its speed limit and the size it may be opened to without "
        "work are its maker's: never spread it empty."
    ),
    "taper": (
        "A bore near its upper limit seats further along. Let the feed press the part on, toward the mandrel's large "
        "end: nothing but the friction of the pressing on holds it."
    ),
}
_BELOW = "Work of {size} is below the {end} at which the range begins: it is held at one end only or not at all."
_ABOVE = "Work of {size} does not go in or on: the range ends at {end}."
_NOT_ON = "A bore of {size} does not go onto a small end of {end}."
_SLIPS = (
    "The cut uses {share} of what is held, {torque} of torque alone: the work slips and may come out. Pull or press "
    "harder within what collet or mandrel is marked for, hold it longer, or cut less."
)
_YIELDS = "A hoop stress of {stress} may leave the bore of soft metal larger for good: press less or spread it less."
_STICKS = "This cone holds by itself: it needs {force} to come free. Plan how to push it off."
_SPREAD_SEATS = (
    "By the limits of their bores the parts seat within {within} of each other: lengths cannot be set from the "
    "mandrel, touch each part off."
)
_NO_RANGE = "The range of the collet is not given: check that the whole tolerance of the work lies within its marking."

FEATURE = Feature(
    path="speed-feed/collet-mandrel",
    title="Collet or mandrel",
    summary="Whether work is in the range, the torque and push that a collet or mandrel holds, how it comes off.",
    solve=solve,
    page="/collet-mandrel",
    supporting=("grip", "axial_held", "share_used", "push_off"),
    example={
        "holder_kind": "collet",
        "grip_diameter": "20 h9",
        "grip_length": "30",
        "draw_force": "12000",
        "range_from": "19.5",
        "range_to": "20",
        "cutting_force": "700",
    },
    examples={
        "Sleeve on a tapered mandrel": {
            "holder_kind": "taper",
            "grip_diameter": "25 H7",
            "grip_length": "21",
            "draw_force": "3000",
            "range_from": "24.99",
            "outer_diameter": "42",
            "cutting_force": "150",
        },
    },
)
