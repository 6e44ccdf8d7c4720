"""What speed takes from a chuck's grip, and the speed up to which what is left holds the cut."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

import numpy as np

from calc.answer.feature import Answer, Feature
from calc.answer.plotting import Axis, Column, Curve, Level, Mark, Plot, evenly
from calc.cutting import nouns
from calc.cutting.grip import (
    LARGEST_LOSS,
    grip_for_cut,
    grip_left_inside,
    grip_left_outside,
    grip_loss,
    grip_to_set,
    moment_of_jaws,
    speed_at_largest_loss,
    speed_limit_of_grip,
)
from calc.cutting.holding import force_at_jaws, grip_against_both, grip_against_tilt
from calc.cutting.machine import FRICTION
from calc.language.checks import require
from calc.language.fields import MOST, Declared, choice, given, needed, part, result
from calc.language.kinds import INERTIA, MASS_MOMENT
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Contradiction, Fault, Impossible, Missing
from calc.language.quantities import COUNT, DIAMETER, FORCE, LENGTH, MASS, RATIO, SPINDLE_SPEED
from calc.language.working.vectorised import vectorised

LEAST_SAFETY = 1.5  # VDI 3106, for the cut's need and for the whole


class JawsInputs(Declared):
    """The jaws, where the chuck's manual does not give their moment as a whole."""

    jaw_count: float | None = given(COUNT, "Jaws", "i", least=2.0, most=12.0)
    base_moment: float = given(
        MASS_MOMENT, "Moment of a base jaw", "M_base", least=0.0, hint="chuck's manual", default=0.0
    )
    jaw_mass: float | None = given(MASS, "Mass of a top jaw", "m", above=0.0, most=200.0)
    jaw_radius: float | None = given(LENGTH, "Centre of mass from the axis", "r_s", above=0.0)


class NeedInputs(Declared):
    """What the cut needs: as a grip, or from the cutting force."""

    needed: float | None = given(FORCE, "Grip the cut needs", "F_need", least=0.0, hint="or from the cutting force")
    cutting_force: float | None = given(FORCE, "Cutting force", "F_c", above=0.0)
    cut_diameter: float | None = given(DIAMETER, "Cutting diameter", "D", above=0.0)
    grip_diameter: float | None = given(DIAMETER, "Grip diameter", "D_g", above=0.0)
    axial_force: float | None = given(FORCE, "Force along the axis", "F_a", least=0.0, hint="feed force or thrust")
    length_out: float | None = nouns.LENGTH_OUT.given(hint="for the tilt, with the length in the jaws")
    grip_length: float | None = nouns.GRIP_LENGTH.given()
    friction: float | None = given(RATIO, "Friction at the jaws", "μ", above=0.0, most=1.0, blank="0.1")
    safety_of_cut: float | None = given(RATIO, "Safety of the cut", "S_z", least=1.0, most=10.0, blank="1.5")
    safety: float | None = given(RATIO, "Safety of the grip", "S_s", least=1.0, most=10.0, blank="1.5")


class GripInputs(Declared):
    """The chuck's grip at rest and the moment of its jaws; the speed asked for."""

    grip: float = needed(FORCE, "Grip at rest", "F_0", above=0.0, hint="all jaws together, as measured")
    jaw_moment: float | None = given(
        MASS_MOMENT, "Moment of all jaws", "M_c", above=0.0, hint="mass times radius, from the chuck's manual"
    )
    rpm: float | None = given(SPINDLE_SPEED, "Spindle speed", "n", above=0.0, least=1.0)
    chuck_limit: float | None = nouns.CHUCK_LIMIT.given()
    gripped: Literal["outside", "inside"] = choice(
        "Held", {"outside": "from outside", "inside": "in a bore"}, "outside"
    )
    jaws: JawsInputs = part(JawsInputs, "Jaws")
    need: NeedInputs = part(NeedInputs, "What the cut needs")


class GripResults(Declared):
    """The speed up to which the grip holds; at a given speed what is left."""

    speed_limit: float | None = result(SPINDLE_SPEED, "Grip holds up to", "n_grip")
    grip_left: float | None = result(FORCE, "Grip at this speed", "F_left")
    loss: float | None = result(FORCE, "Grip lost at this speed", "F_loss")
    share_lost: float | None = result(RATIO, "of the grip at rest")
    speed_at_largest_loss: float | None = result(SPINDLE_SPEED, "Two thirds are lost at", "n_loss", hint="EN 1550")
    grip_to_set: float | None = result(FORCE, "Grip to set at rest", "F_set", hint="for this speed and cut")
    needed: float | None = result(FORCE, "Grip the cut needs", "F_need")
    moment: float = result(MASS_MOMENT, "Moment of all jaws", "M_c")


def solve(inputs: GripInputs) -> Answer[GripResults]:
    """What is left of the grip. Raises Missing, OutOfRange, Contradiction, Impossible.

    >>> from calc.language.kinds import MASS_MOMENT
    >>> found = solve(GripInputs(grip=69_947.05, jaw_moment=MASS_MOMENT.internal(2.668), rpm=1200.0,
    ...     need=NeedInputs(needed=3000.0))).results
    >>> round(found.speed_limit), round(found.loss)
    (1200, 42131)
    """
    require(inputs)
    moment, needed = _moment(inputs), _needed(inputs.need)
    safety, safety_of_cut = inputs.need.safety or LEAST_SAFETY, inputs.need.safety_of_cut or LEAST_SAFETY
    grip, rpm, outside = inputs.grip, inputs.rpm, inputs.gripped == "outside"
    if not outside and rpm is None:
        raise Missing(Fault("rpm", Message("Give the spindle speed: in a bore the grip grows with it.")))
    loss = None if rpm is None else grip_loss(moment, rpm)
    left = None if loss is None else (grip_left_outside if outside else grip_left_inside)(grip, loss)
    results = GripResults(
        speed_limit=speed_limit_of_grip(grip, safety, needed, safety_of_cut, moment) if outside else None,
        grip_left=left,
        loss=loss if outside else None,
        share_lost=loss / grip if loss is not None and outside else None,
        speed_at_largest_loss=speed_at_largest_loss.function(grip, moment) if outside else None,
        grip_to_set=_to_set(safety, needed, safety_of_cut, loss, outside=outside),
        needed=needed or None,
        moment=moment,
    )
    return Answer(
        results=results,
        headline="speed_limit" if outside else "grip_left",
        cautions=tuple(_cautions(inputs, results)),
        notes=(Message(_ASSUMED),),
        plots=(_plot(inputs, results, safety_of_cut * needed),),
    )


def _to_set(safety: float, needed: float, safety_of_cut: float, loss: float | None, *, outside: bool) -> float | None:
    """The grip to set at rest for a cut; in a bore the speed adds to it, so it is least as the cut starts."""
    lost = loss if outside else 0.0
    return None if lost is None or not needed else grip_to_set(safety, needed, safety_of_cut, lost)


def _moment(inputs: GripInputs) -> float:
    jaws = inputs.jaws
    parts = (jaws.jaw_count, jaws.jaw_mass, jaws.jaw_radius)
    if inputs.jaw_moment is not None:
        if any(value is not None for value in parts):
            said = Message("Give the moment of all jaws or the jaws one by one, not both.")
            raise Contradiction(Fault("jaw_moment", said), fields=("jaw_moment",))
        return inputs.jaw_moment
    count, mass, radius = parts
    if count is None or mass is None or radius is None:
        said = Message("Give the moment of all jaws; or how many jaws, the mass of a top jaw and where it turns.")
        raise Missing(Fault("jaw_moment", said))
    if count != round(count):
        raise Impossible(Fault("jaw_count", Message("The number of jaws must be a whole one.")))
    return moment_of_jaws(count, jaws.base_moment, mass * float(INERTIA), radius)


def _needed(need: NeedInputs) -> float:
    cut = (need.cutting_force, need.cut_diameter, need.grip_diameter)
    if need.needed is not None:
        if need.cutting_force is not None:
            said = Message("Give the grip that the cut needs or the cutting force, not both.")
            raise Contradiction(Fault("needed", said), fields=("needed", "cutting_force"))
        return need.needed
    if all(value is None for value in (*cut, need.axial_force)):
        return 0.0
    force, cut_at, held_at = cut
    if force is None or cut_at is None or held_at is None:
        said = Message("For the grip that the cut needs give the cutting force, where it cuts and where it is held.")
        raise Missing(Fault("cutting_force", said))
    friction = FRICTION if need.friction is None else need.friction
    turned = grip_for_cut(force, cut_at, friction, held_at)
    if need.axial_force:
        around = force_at_jaws(force * cut_at / 2, held_at)
        turned = grip_against_both.at("", result="F_need")(1.0, around, need.axial_force, friction)
    tilted = _against_tilt(need, force, friction, held_at)
    return turned if tilted is None else max(turned, tilted)


def _against_tilt(need: NeedInputs, force: float, friction: float, held_at: float) -> float | None:
    """The grip [N] against tilting, before any reserve; None where one of both lengths is not known."""
    if need.length_out is None or need.grip_length is None:
        return None
    return grip_against_tilt(1.0, force, need.length_out, need.grip_length, friction, held_at)


def _cautions(inputs: GripInputs, found: GripResults) -> Iterator[Caution]:
    rpm, limit = inputs.rpm, found.speed_limit
    if rpm is not None and limit is not None and rpm > limit * (1 + 1e-9):
        values = {"rpm": Quantity(rpm, SPINDLE_SPEED), "limit": Quantity(limit, SPINDLE_SPEED)}
        values["left"] = Quantity(0.0 if found.grip_left is None else max(found.grip_left, 0.0), FORCE)
        yield Caution(Message(_TOO_FAST, values), 3, "rpm")
    top = max((speed for speed in (rpm, limit) if speed is not None), default=0.0)
    if inputs.chuck_limit is not None and top > inputs.chuck_limit:
        values = {"chuck": Quantity(inputs.chuck_limit, SPINDLE_SPEED), "top": Quantity(top, SPINDLE_SPEED)}
        text = _MARKED if rpm == top else _HOLDS_BEYOND
        yield Caution(Message(text, values), 3, "chuck_limit")
    if found.needed is None:
        yield Caution(Message(_NO_NEED), 2, "speed_limit")
    if inputs.gripped == "inside":
        yield from _too_little_in_a_bore(inputs, found)
        yield Caution(Message(_IN_A_BORE), 2, "grip_left")


def _too_little_in_a_bore(inputs: GripInputs, found: GripResults) -> Iterator[Caution]:
    if found.needed is None or found.grip_to_set is None or inputs.grip >= found.grip_to_set * (1 - 1e-9):
        return
    values: dict[str, Value] = {
        "needed": Quantity(found.needed, FORCE),
        "to_set": Quantity(found.grip_to_set, FORCE),
        "grip": Quantity(inputs.grip, FORCE),
    }
    yield Caution(Message(_TOO_LITTLE, values), 3, "grip")


def _plot(inputs: GripInputs, found: GripResults, least: float) -> Plot:
    grip, outside = inputs.grip, inputs.gripped == "outside"
    speeds = [speed for speed in (found.speed_limit, inputs.rpm) if speed is not None]
    farthest = [*speeds, *(loss for loss in (found.speed_at_largest_loss,) if loss is not None)]
    highest = min(1.25 * max(farthest, default=1.0), MOST["spindle speed"])
    xs = evenly(0.0, highest, 81)
    rows = sorted({*evenly(0.0, highest, 8), *speeds})
    levels = [] if least == 0.0 else [Level(least, "y", Message("cut needs"))]
    if inputs.chuck_limit is not None and inputs.chuck_limit <= highest:
        levels.append(Level(inputs.chuck_limit, "x", Message("marked")))
    note: dict[str, Value] = {"least": Quantity(least, FORCE), "share": f"{100 * LARGEST_LOSS:.0f}"}
    return Plot(
        key="over-speed",
        title="Grip over the spindle speed",
        description=Message(
            "What is left of {grip} of grip as the spindle turns faster.", {"grip": Quantity(grip, FORCE)}
        ),
        x=Axis("Spindle speed", SPINDLE_SPEED, "n"),
        y=Axis("Grip", FORCE, "F_left", (0.0,)),
        curves=(Curve("grip left", xs, left_at(xs, grip, found.moment, outside=outside), "main"),),
        marks=tuple(_marks(inputs, found)),
        levels=tuple(levels),
        caption="Grip for each spindle speed",
        columns=(Column("Spindle speed", SPINDLE_SPEED), Column("Grip", FORCE), Column("Lost", FORCE)),
        rows=tuple((x, *_row(x, grip, found.moment, outside=outside)) for x in rows),
        note=Message("With its safety the cut needs {least}; at most {share} % of the grip may be lost.", note)
        if outside
        else None,
    )


def _marks(inputs: GripInputs, found: GripResults) -> Iterator[Mark]:
    """The speed that the grip holds to, and the one asked for."""
    outside = inputs.gripped == "outside"
    for x, name in ((found.speed_limit, "holds to here"), (inputs.rpm, "asked for")):
        if x:
            yield Mark(x, left_at([x], inputs.grip, found.moment, outside=outside)[0], Message(name))


def left_at(speeds: list[float], grip: float, moment: float, *, outside: bool) -> list[float]:
    """The grip [N] at each of `speeds` [1/min], never below 0; `moment` [N min2] is that of all jaws.

    >>> left_at([0.0], 50_000.0, 0.001, outside=True)
    [50000.0]
    """
    loss = vectorised(grip_loss)(moment, np.array(speeds))
    left = vectorised(grip_left_outside if outside else grip_left_inside)(grip, loss)
    found: list[float] = np.maximum(left, 0.0).tolist()
    return found


def _row(speed: float, grip: float, moment: float, *, outside: bool) -> tuple[float, float]:
    left = left_at([speed], grip, moment, outside=outside)[0]
    return left, max(grip - left, 0.0) if outside else 0.0


_ASSUMED = (
    "Grip and moment are those of the chuck as it is now: greased, with these jaws, measured. Dirt, wear and a taller "
    "top jaw take from it; a chuck whose jaws are balanced loses less."
)
_TOO_FAST = (
    "At {rpm} only {left} of grip is left, too little for this cut: the part may be thrown. Turn at most {limit}, grip "
    "harder, or take lighter jaws."
)
_MARKED = "At {top} the chuck is over its marked {chuck}: the chuck itself may burst. Turn at {chuck} or less."
_HOLDS_BEYOND = (
    "The grip would hold up to {top}, but the chuck is marked {chuck}. Never turn faster, whatever the grip allows: "
    "the chuck itself may burst."
)
_NO_NEED = (
    "The grip that the cut needs is not given: this speed only makes sure that a third of the grip is left. Give the "
    "cutting force before you rely on it."
)
_TOO_LITTLE = (
    "The cut needs {needed} of grip, {to_set} with its reserve, and at rest there are only {grip}: the part may "
    "turn or fly off. Grip harder, or cut less."
)
_IN_A_BORE = (
    "In a bore the grip grows with the speed and may burst or spread a thin part; when the spindle stops it falls "
    "back to the grip at rest."
)

FEATURE = Feature(
    path="speed-feed/grip",
    page="/grip",
    title="Chuck grip at speed",
    summary="What the speed takes from a chuck's grip, and the speed up to which what is left still holds the cut.",
    solve=solve,
    supporting=("grip_left", "loss", "grip_to_set", "speed_at_largest_loss"),
    example={
        "grip": "60000",
        "jaw_moment": "0.4",
        "rpm": "2000",
        "chuck_limit": "3200",
        "cutting_force": "1500",
        "cut_diameter": "60",
        "grip_diameter": "60",
        "friction": "0.15",
    },
)
