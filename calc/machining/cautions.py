"""What the passes of operations trigger: moves that hit something, passes that had to be left out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import LENGTH
from calc.machining.machine import Done, Made
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
DEEPER = 1.5
"""A pass that is engaged over more than so many times the depth that is set is named (common practice, no source)."""

LEAST = 1e-6
"""mm: places of a pass that are nearer than this are one."""

_DEEPER = (
    "Pass “{name}” is led into the stock down a wall, engaged over {deep} where a depth of {set} is set: force and "
    "power do not hold there. Feed less there, set less depth per pass, or take a tool whose edges come down that wall."
)
_AFTER_DROPPED = (
    "Pass “{name}” is engaged over {deep} where a depth of {set} is set: it takes what the passes that are left out "
    "would have taken. Take a tool that reaches those first."
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


def deeper_cautions(done: Sequence[Done], about: str) -> Iterator[Caution]:
    """Roughing that is engaged over much more than its depth, `about` that: led in, or where passes are left out."""
    for one in done:
        depth = one.operation.cut.depth
        if depth is None or not one.operation.roughs or not one.made:
            continue
        led, deep = max(one.made, key=_engaged_led_in), max(one.made, key=lambda made: made.removal.depth)
        found = ((_DEEPER, led, _engaged_led_in(led)), (_AFTER_DROPPED, deep, deep.removal.depth))
        for text, made, engaged in found[: 2 if one.dropped else 1]:
            if engaged > DEEPER * depth:
                values: dict[str, Value] = {"name": made.removal.name, "set": Quantity(depth, LENGTH)}
                values["deep"] = Quantity(engaged, LENGTH)
                yield Caution(Message(text, values), 2, about)


def _engaged_led_in(made: Made) -> float:
    """Over how much (mm) a pass is engaged at most while it is led in through stock; 0 where that is in air."""
    lead = made.pieces[0]
    if lead in made.planned.pieces or lead.in_air or not made.removal.chips:
        return 0.0
    chips = made.removal.chips
    end = chips[0].place + lead.path.length - LEAST
    return max(chip.width for chip in chips if chip.place < end)


def hit_cautions(done: Sequence[Done]) -> Iterator[Caution]:
    """What is cut too deep in the end, and the first rapid move that touches stock."""
    deep = worst_of(done[-1].judged.too_deep)
    if deep is not None:
        values: dict[str, Value] = {"depth": Quantity(deep.depth, LENGTH), "spot": deep.spot}
        yield Caution(Message("The tool cuts {depth} into the part, at {spot}.", values), 3, "gouged_most")
    first = next((removal for one in done for removal in one.removals if removal.rapid), None)
    if first is not None:
        yield Caution(Message(_RAPID, {"name": first.name}), 3, "roughing")
