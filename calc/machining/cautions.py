"""What the passes of operations trigger: moves that hit something, passes that had to be left out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import LENGTH
from calc.machining.machine import Done
from calc.machining.removal.judging import worst_of

_DROPPED = (
    (
        True,
        "The holder would run into what is left of the stock in pass “{name}”: left out of the plan. Take a slimmer "
        "holder or another tool there.",
        "The holder would run into what is left of the stock in pass “{name}” (further passes: {count}): left out of "
        "the plan. Take a slimmer holder or another tool there.",
    ),
    (
        False,
        "No clear path leads to pass “{name}”: left out of the plan. Take a slimmer holder or another tool there.",
        "No clear path leads to pass “{name}” (further passes: {count}): left out of the plan. Take a slimmer holder "
        "or another tool there.",
    ),
)
_TOO_NARROW = (
    "The allowances leave no room between two walls of this contour: no pass goes along them, and roughing leaves "
    "more there. Take smaller allowances for an even rest."
)
_NOT_ALONG = (
    "The allowances leave no room between two walls of this contour: nothing is roughed along it. Take smaller "
    "allowances, or rough level by level."
)
_RAPID = "A rapid move before pass “{name}” runs into the stock: no words are written."


def dropped_cautions(done: Sequence[Done]) -> Iterator[Caution]:
    """Passes that are left out, each reason once."""
    for holder, one, several in _DROPPED:
        names = [each.name for one in done for each in one.dropped if each.holder is holder]
        if names:
            values: dict[str, Value] = {"name": names[0], "count": len(names) - 1}
            yield Caution(Message(several if len(names) > 1 else one, values), 3, "holder")


def narrow_cautions(done: Sequence[Done]) -> Iterator[Caution]:
    """Roughing that cannot go along its allowances, since those of two walls meet."""
    for one in done:
        if not one.keeps:
            text = _NOT_ALONG if one.operation.strategy == "rough along the contour" else _TOO_NARROW
            yield Caution(Message(text), 2, "allowance_z")


def hit_cautions(done: Sequence[Done]) -> Iterator[Caution]:
    """What is cut too deep in the end, and the first rapid move that touches stock."""
    deep = worst_of(done[-1].judged.too_deep)
    if deep is not None:
        values: dict[str, Value] = {"depth": Quantity(deep.depth, LENGTH), "spot": deep.spot}
        yield Caution(Message("The tool cuts {depth} into the part, at {spot}.", values), 3, "gouged_most")
    first = next((removal for one in done for removal in one.removals if removal.rapid), None)
    if first is not None:
        yield Caution(Message(_RAPID, {"name": first.name}), 3, "roughing")
