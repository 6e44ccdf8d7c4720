"""The curves of a pass: power against X and along the path, with what the machine gives; the force along the path."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import nan

from calc.answer.plotting import Axis, Column, Curve, Mark, Plot
from calc.language.messages import Message, Quantity
from calc.language.quantities import FORCE, LENGTH, POWER, SPINDLE_SPEED, X
from calc.machining.force_along import Load
from calc.questions.cutting.tool_path import SAME_PLACE


def plots(found: Sequence[Load], rows: Sequence[Load]) -> Iterator[Plot]:
    """The plots of a pass, power against X first; it is left out along a cylinder, where X stays."""
    xs = [abs(load.station.contact.r) for load in found]
    places = [load.along for load in found]
    if max(xs) - min(xs) >= SAME_PLACE:
        yield _power_across(
            Axis("X of the contact", X, "X", (0.0,) if min(xs) < 0.4 * max(xs) else ()), xs, found, rows
        )
    along = Axis("Length along the contour", LENGTH, "L", (0.0,))
    yield _power_along(along, places, found, rows)
    yield _force_along(along, places, found, rows)


def _power_across(across: Axis, xs: list[float], found: Sequence[Load], rows: Sequence[Load]) -> Plot:
    return Plot(
        key="power-across",
        title="Power along X",
        description=Message(
            "The power of the cut against X, beside what the machine gives at the spindle's speed there."
        ),
        x=across,
        y=Axis("Power at the spindle", POWER, "P", (0.0,)),
        curves=_powers(xs, found),
        marks=(_largest_power(xs, found),),
        caption="Power along X",
        columns=(Column(across.label, X), *_POWERS),
        rows=tuple((abs(each.station.contact.r), *_powers_of(each)) for each in rows),
        note=_told(found),
    )


def _power_along(along: Axis, places: list[float], found: Sequence[Load], rows: Sequence[Load]) -> Plot:
    return Plot(
        key="power-along",
        title="Power along the path",
        description=Message(
            "The power of the cut from the start of the pass to its end, beside what the machine gives."
        ),
        x=along,
        y=Axis("Power at the spindle", POWER, "P", (0.0,)),
        curves=_powers(places, found),
        marks=(_largest_power(places, found),),
        caption="Power along the path",
        columns=(Column(along.label, LENGTH), *_POWERS),
        rows=tuple((each.along, *_powers_of(each)) for each in rows),
        note=_told(found),
    )


def _force_along(along: Axis, places: list[float], found: Sequence[Load], rows: Sequence[Load]) -> Plot:
    largest = max(range(len(found)), key=lambda index: found[index].force.force)
    return Plot(
        key="force-along",
        title="Cutting force along the path",
        description=Message(
            "The cutting force from the start of the pass to its end, with the spread of published values."
        ),
        x=along,
        y=Axis("Cutting force", FORCE, "F_c", (0.0,)),
        curves=(
            Curve("cutting force", places, [each.force.force for each in found], "main"),
            Curve("highest published", places, [each.force.high for each in found]),
        ),
        marks=(Mark(places[largest], found[largest].force.force, Message("largest")),),
        caption="Cutting force along the path",
        columns=(
            Column(along.label, LENGTH),
            Column("Depth", LENGTH),
            Column("Force", FORCE),
            Column("Highest", FORCE),
        ),
        rows=tuple((each.along, each.depth, each.force.force, each.force.high) for each in rows),
        note=Message("Largest: {force}.", {"force": Quantity(found[largest].force.force, FORCE)}),
    )


_POWERS = (Column("Spindle", SPINDLE_SPEED), Column("Power", POWER), Column("Machine gives", POWER))


def _powers(xs: list[float], found: Sequence[Load]) -> tuple[Curve, ...]:
    cut = Curve("the cut", xs, [each.power for each in found], "main")
    if not any(each.available for each in found):
        return (cut,)
    given = [nan if each.available is None else each.available for each in found]
    return (cut, Curve("the machine gives", xs, given))


def _powers_of(load: Load) -> tuple[float | None, ...]:
    return (load.station.rpm, load.power, load.available)


def _largest_power(xs: list[float], found: Sequence[Load]) -> Mark:
    largest = max(range(len(found)), key=lambda index: found[index].power)
    return Mark(xs[largest], found[largest].power, Message("largest"))


def _told(found: Sequence[Load]) -> Message:
    return Message("Largest: {power}.", {"power": Quantity(max(each.power for each in found), POWER)})
