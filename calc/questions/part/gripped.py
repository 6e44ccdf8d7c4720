"""Whether what is to hold a part fits where it holds: soft jaws on what the first side made, a collet's range."""

from __future__ import annotations

from collections.abc import Iterator

from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import DIAMETER, LENGTH
from calc.machining.removal.polygons import Area
from calc.machining.removal.stock import Stock
from calc.questions.part.choosing import SAME
from calc.questions.part.job import Kind, Setup
from calc.questions.part.obstacles import held_radius, jaws_at

LOOSE = 0.1
"""mm on the diameter: soft jaws bored larger than the work by more than this hold it on edges (common practice)."""

GRIPPED = 10.0
"""mm: jaws of which no depth is known hold the work so far behind their face (common practice, no source)."""

CRUMB = 1.0
"""mm2: a piece of less section is a chip."""

SEATED = 0.05
"""mm: a part that stands no farther off the ledge of soft jaws rests on it (common practice, no source)."""


_FREED = (
    "The cut goes through: a piece of the work comes free, and nothing holds it. Stop before, and part it off last."
)


def grip_cautions(setup: Setup, stock: Stock) -> Iterator[Caution]:
    """What speaks against the jaws or the collet of a clamping of this stock. Source: common practice."""
    z = jaws_at(setup, stock)
    if z is None:
        return
    held = 2.0 * held_radius(stock, z, setup.jaws.deep or GRIPPED)
    yield from _collet(setup, held)
    yield from _soft_jaws(setup, held)
    yield from _ledge(setup, stock, z)


def freed_cautions(operation: Kind, before: Stock, after: Stock) -> Iterator[Caution]:
    """That an operation which does not part off cuts the work in two, so that a piece of it is held by nothing."""
    if operation != "part-off" and len(_pieces(after)) > len(_pieces(before)):
        yield Caution(Message(_FREED), 3, "operations")


def _pieces(stock: Stock) -> list[Area]:
    return [each for each in stock.pieces if each.area > CRUMB]


def _collet(setup: Setup, held: float) -> Iterator[Caution]:
    if setup.jaws.collet is None or setup.jaws.collet[0] <= held <= setup.jaws.collet[1]:
        return
    low, high = (Quantity(each, DIAMETER, brief=True) for each in setup.jaws.collet)
    values: dict[str, Value] = {"low": low, "high": high, "held": Quantity(held, DIAMETER, brief=True)}
    text = "The collet holds {low} to {high}; where it holds the work, that is {held}: take another collet."
    yield Caution(Message(text, values), 3, "collet_to")


def _soft_jaws(setup: Setup, held: float) -> Iterator[Caution]:
    bored = setup.jaws.bored
    if bored is None or -SAME <= bored - held <= LOOSE + SAME:
        return
    values: dict[str, Value] = {"bored": Quantity(bored, DIAMETER), "held": Quantity(held, DIAMETER)}
    text = (
        "The soft jaws are bored to {bored}, the work is {held} where they hold it: it does not go in. Bore them to "
        "the work."
        if bored < held
        else "The soft jaws are bored to {bored}, the work is {held} where they hold it: it is held on edges. Bore "
        "them to the work."
    )
    yield Caution(Message(text, values), 3, "second_soft_bore")


def _ledge(setup: Setup, stock: Stock, z: float) -> Iterator[Caution]:
    deep, behind = setup.jaws.deep, z - stock.bounds[0]
    if deep is None or abs(deep - behind) <= SEATED:
        return
    values: dict[str, Value] = {"deep": Quantity(deep, LENGTH, brief=True), "behind": Quantity(behind, LENGTH)}
    text = (
        "The soft jaws are bored {deep} deep, but {behind} of the work is behind their face: it stands off their ledge."
        if behind < deep
        else "The soft jaws are bored {deep} deep, but {behind} of the work is behind their face: it cannot stand that "
        "far out."
    )
    yield Caution(Message(text, values), 2, "second_length_out")
