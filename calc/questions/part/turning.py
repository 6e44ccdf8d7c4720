"""Facing, roughing, finishing and boring of a part: the passes of a turning tool over a stretch of its contour."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from calc.contour import Chain
from calc.language.messages import Message
from calc.language.problems import Fault, Missing, OutOfRange
from calc.machining.forces import PassForce, forces
from calc.machining.job import Contour, Cut, Operation, Strategy, Where
from calc.machining.machine import SAME, Done, Made, machine
from calc.machining.passes import Pass, Referral
from calc.machining.removal.judging import Place, worst_of
from calc.machining.times import times
from calc.questions.part.asked import Asked, reported
from calc.questions.part.done import OperationDone, PassDone
from calc.questions.part.job import End, Kind, Turning
from calc.questions.part.limits import turned_cautions

STRATEGIES: dict[Kind, Strategy] = {
    "face": "face",
    "rough": "rough along z",
    "finish": "finish",
    "bore": "rough along z",
}
CONTACT = Referral()


@dataclass(frozen=True, slots=True)
class _Share:
    """A part of an operation: elements of a contour (in the frame of the end that is worked on), how they are cut."""

    part: Contour
    first: int
    last: int
    where: Where
    strategy: Strategy


def turned(asked: Asked) -> OperationDone:
    """The passes of a turning tool: outside or in a bore, then over a dish where its rows have one.

    Raises `Missing` without a depth or an inside, and what `machine` raises.
    """
    cut, tool = _cut(asked), _tool(asked)
    stock, done = asked.before, []
    for share in _shares(asked, finishing=cut.depth is None):
        held = tool.along if share.where == "face" and tool.along else tool.tool
        operation = Operation(held, cut, share.strategy, share.where, share.first, share.last)
        done.append((share, machine(operation, stock, share.part)))
        stock = done[-1][1].after
    return _reported(asked, done)


def _cut(asked: Asked) -> Cut:
    """The cut, without a depth where it finishes."""
    operation = asked.operation
    if operation.kind == "finish":
        return replace(operation.cut, depth=None)
    if operation.kind != "bore" and operation.cut.depth is None:
        raise Missing(Fault("cut.depth", Message("This operation needs the depth per pass.")))
    return operation.cut


def _shares(asked: Asked, *, finishing: bool) -> Iterator[_Share]:
    """What of the stretch is cut from which side: the outside behind the foremost face, a dish before it from there."""
    where = asked.operation.where or ("bore" if asked.operation.kind == "bore" else "outside")
    side: Where = "bore" if where == "bore" else "outside"
    first, last = asked.elements(side)
    part = asked.seen(asked.job.contour(side))
    rough: Strategy = "finish" if finishing else STRATEGIES[asked.operation.kind]
    if asked.operation.kind == "face" or where == "bore":
        yield _Share(part, first, last, side, rough)
        return
    low, high = _dish(part.chain, asked.end)
    inside, outside = _overlap((first, last), (low, high)), _outside_of((first, last), (low, high))
    if outside is not None:
        yield _Share(part, *outside, "outside", rough)
    if inside is not None:
        bowl = Contour(Chain(part.chain.elements[low : high + 1]), part.side, part.faced)
        over: Strategy = "finish" if finishing else "rough along the contour"
        yield _Share(bowl, inside[0] - low, inside[1] - low, "face", over)


def _dish(chain: Chain, end: End) -> tuple[int, int]:
    """The elements (first, last) from an axis behind the foremost Z out to that; (0, -1) where there is no dish."""
    elements = chain.elements if end == "first" else chain.reversed().elements
    front = chain.bounds.z_max
    if elements[0].start.z > front - SAME or elements[0].start.r > SAME:
        return 0, -1
    last = next(index for index, each in enumerate(elements) if each.end.z > front - SAME)
    return (0, last) if end == "first" else (len(elements) - 1 - last, len(elements) - 1)


def _overlap(a: tuple[int, int], b: tuple[int, int]) -> tuple[int, int] | None:
    low, high = max(a[0], b[0]), min(a[1], b[1])
    return (low, high) if low <= high else None


def _outside_of(a: tuple[int, int], b: tuple[int, int]) -> tuple[int, int] | None:
    """What of `a` is not in `b`, which is at one end of the contour."""
    if b[1] < b[0]:
        return a
    low, high = (max(a[0], b[1] + 1), a[1]) if b[0] == 0 else (a[0], min(a[1], b[0] - 1))
    return (low, high) if low <= high else None


def _tool(asked: Asked) -> Turning:
    if not isinstance(asked.operation.tool, Turning):
        raise OutOfRange(Fault("tool", Message("This kind of operation needs a turning tool.")))
    return asked.operation.tool


def _reported(asked: Asked, shares: Sequence[tuple[_Share, Done]]) -> OperationDone:
    max_rpm, done, tool = asked.max_rpm, [one for _, one in shares], _tool(asked)
    rows = times(done, CONTACT, max_rpm)
    loads = forces(done, asked.work, max_rpm) if asked.work else []
    left = [place for share, one in shares for place in one.judged.left if _is_on(share, one, place)]
    found = reported(
        asked,
        [removal for one in done for removal in one.removals],
        tuple(_passes([made for one in done for made in one.made], rows, loads)),
        after=done[-1].after if done else None,
        left=worst_of(left),
        too_deep=worst_of([place for one in done for place in one.judged.too_deep]),
        cautions=(*tool.cautions, *turned_cautions(asked, loads)),
        notes=tuple(_turned_round(tool, shares)),
    )
    return replace(found, dropped=tuple(out for one in done for out in one.dropped))


def _turned_round(tool: Turning, shares: Sequence[tuple[_Share, Done]]) -> Iterator[Message]:
    """That the tool stands along the axis for a dish."""
    if tool.along is not None and tool.along != tool.tool and any(share.where == "face" for share, _ in shares):
        yield Message("Before the face the shank is taken as standing along the axis: across it would hit the part.")


def _is_on(share: _Share, one: Done, place: Place) -> bool:
    """Whether a place is beside an element of the stretch; those of the result are in cutting direction."""
    turned_round = one.part.chain.start != share.part.chain.start
    of = len(share.part.chain) - 1 - place.of if turned_round else place.of
    return share.first <= of <= share.last


def _passes(every: Sequence[Made], rows: list[Pass], loads: list[PassForce]) -> Iterator[PassDone]:
    for index, made in enumerate(every):
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
        )
