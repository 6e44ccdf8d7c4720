"""Facing, roughing, finishing and boring of a part: the passes of a turning tool over a stretch of its contour."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from calc.cutting.nouns import SMALLEST
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Missing, OutOfRange
from calc.language.quantities import LENGTH
from calc.language.working import recording
from calc.machining.cautions import deeper_cautions, narrow_cautions
from calc.machining.forces import PassForce, forces
from calc.machining.job import Cut, Operation, Setup
from calc.machining.machine import Done, Made, machine
from calc.machining.passes import Pass, Referral
from calc.machining.removal.judging import Judged, worst_of
from calc.machining.removal.polygons import only_areas
from calc.machining.roughing.kept_chip import require_round
from calc.machining.times import times
from calc.questions.operations.strategies import led_otherwise
from calc.questions.part.asked import Asked, reported
from calc.questions.part.choosing import Side
from calc.questions.part.done import OperationDone, PassDone
from calc.questions.part.job import Turning
from calc.questions.part.limits import turned_cautions
from calc.questions.part.proposed_grooves import undercut_runs
from calc.questions.part.shares import Share, shares_of

CONTACT = Referral()
OUTSIDE: Side = "outside"
BORE: Side = "bore"
_TO_THE_PRINT = (
    "A finish goes to the print: it does not leave the {allowance} asked for. To leave stock for grinding or plating, "
    "rough to that allowance and leave the finish of these rows out."
)


def turned(asked: Asked) -> OperationDone:
    """The passes of a turning tool: outside or in a bore, then over a dish where its rows have one.

    Raises `Missing` without a depth or an inside, and what `machine` raises.
    """
    cut, tool = _cut(asked), _tool(asked)
    stock, done, coming = asked.before, [], Setup(around=asked.around)
    for share in shares_of(asked, tool.tool, finishing=cut.depth is None):
        held = tool.along if share.where == "face" and tool.along else tool.tool
        require_round(cut, held)
        operation = Operation(held, cut, share.strategy, share.where, share.first, share.last)
        done.append((share, machine(operation, stock, share.part, coming)))
        stock = done[-1][1].after
    return _reported(asked, done)


def _cut(asked: Asked) -> Cut:
    """The cut, without a depth where it finishes."""
    operation = asked.operation
    if operation.kind == "finish":
        return replace(operation.cut, depth=None)
    if operation.kind != "bore" and operation.cut.depth is None:
        raise Missing(Fault("cut.depth", Message("This operation needs the depth per pass.")))
    if operation.cut.depth is not None and operation.cut.depth < SMALLEST:
        values: dict[str, Value] = {"least": Quantity(SMALLEST, LENGTH)}
        raise OutOfRange(Fault("cut.depth", Message("A pass takes at least {least}.", values)))
    return operation.cut


def _tool(asked: Asked) -> Turning:
    if not isinstance(asked.operation.tool, Turning):
        raise OutOfRange(Fault("tool", Message("This operation needs a turning tool.")))
    return asked.operation.tool


def _reported(asked: Asked, shares: Sequence[tuple[Share, Done]]) -> OperationDone:
    max_rpm, done, tool = asked.max_rpm, [one for _, one in shares], _tool(asked)
    with recording() as steps:
        rows = times(done, CONTACT, max_rpm)
        loads = forces(done, asked.work, max_rpm) if asked.work else []
    judged = [_judged(one) for one in done]
    pairs = zip(shares, judged, strict=True)
    left = [place for (share, one), held in pairs for place in held.left if share.has(place.of, one.part.chain)]
    found = reported(
        asked,
        [removal for one in done for removal in one.removals],
        tuple(_passes([(one, made) for one in done for made in one.made], rows, loads)),
        after=done[-1].after if done else None,
        left=worst_of(left),
        too_deep=worst_of([place for held in judged for place in held.too_deep]),
        cautions=(
            *tool.cautions,
            *narrow_cautions(done),
            *deeper_cautions(done, "depth"),
            *_to_the_print(asked),
            *turned_cautions(asked, loads, rows),
        ),
        steps=steps,
        notes=(
            *_turned_round(tool, shares),
            *_for_another_tool(asked, shares),
            *(note for one in done for note in led_otherwise(one)),
        ),
    )
    return replace(found, dropped=tuple(out for one in done for out in one.dropped), rests=tuple(left))


def _to_the_print(asked: Asked) -> Iterator[Caution]:
    """That a finish leaves no allowance, where one is asked of it."""
    cut = asked.operation.cut
    most = max(cut.along_x, cut.along_z)
    if _cut(asked).depth is None and most > 0.0:
        values: dict[str, Value] = {"allowance": Quantity(most, LENGTH)}
        yield Caution(Message(_TO_THE_PRINT, values), 3, "allowance_x" if cut.along_x else "allowance_z")


def _judged(one: Done) -> Judged:
    """What is off the print; of a stretch only what is left beside it: what is behind its end is of later rows."""
    if one.stretch is None or not one.stretch.is_bounded:
        return one.judged
    beside = only_areas(one.regions.to_remove.intersection(one.stretch.beside()))
    return one.judged_in(replace(one.regions, to_remove=beside))


def _turned_round(tool: Turning, shares: Sequence[tuple[Share, Done]]) -> Iterator[Message]:
    """That the tool stands along the axis for a dish."""
    if tool.along is not None and tool.along != tool.tool and any(share.where == "face" for share, _ in shares):
        yield Message("Before the face the shank is taken as standing along the axis: across it would hit the part.")


def _for_another_tool(asked: Asked, shares: Sequence[tuple[Share, Done]]) -> Iterator[Message]:
    """Which grooves are left to a grooving tool, by the rows of the print; undercuts are the finish's own."""
    for share, _ in shares:
        inside = asked.job.inside if share.where == "bore" else None
        print_, side = asked.job.outside if inside is None else inside, OUTSIDE if inside is None else BORE
        undercuts = undercut_runs(asked.seen(asked.job.contour(side)).chain, side) if share.filled else []
        for first, last in share.filled:
            rows = print_.numbers[first], print_.numbers[last]
            if (first, last) not in undercuts:
                values: dict[str, Value] = {"first": rows[0], "last": rows[1]}
                one = "The groove of row {first} is left to a grooving tool."
                several = "The groove of rows {first} to {last} is left to a grooving tool."
                yield Message(one if rows[0] == rows[1] else several, values)


def _passes(every: Sequence[tuple[Done, Made]], rows: list[Pass], loads: list[PassForce]) -> Iterator[PassDone]:
    for index, (one, made) in enumerate(every):
        removal = made.removal
        load = loads[index] if loads else None
        yield PassDone(
            name=removal.name,
            tool_pass=removal.tool_pass,
            volume=removal.volume,
            row=rows[index] if rows else None,
            force=load.force if load else None,
            power=load.power if load else None,
            rpm=load.rpm if load else None,
            outline=one.operation.tool.outline,
        )
