"""How a turned operation's rows are shared out: outside, in a bore, over a dish; narrow grooves taken as filled."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from calc.contour import Chain, Line
from calc.machining.blades import dips
from calc.machining.job import Contour, Strategy, Tool, Where
from calc.machining.machine import SAME
from calc.machining.roughing.reachable import reachable
from calc.questions.part.asked import Asked, between
from calc.questions.part.ends import halves, shared_arc
from calc.questions.part.job import End, Job

NARROW = 12.0
"""mm: a groove that is no wider is for a grooving tool (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Share:
    """A part of an operation: elements of a contour (in the frame of the end that is worked on), how they are cut.

    `filled` are the runs of elements of the print over which a line stands instead.
    """

    part: Contour
    first: int
    last: int
    where: Where
    strategy: Strategy
    filled: tuple[tuple[int, int], ...] = ()

    def has(self, of: int, cut: Chain) -> bool:
        """Whether the element `of` the contour as it was `cut`, in cutting direction, is of the stretch."""
        turned_round = cut.start != self.part.chain.start
        index = len(self.part.chain) - 1 - of if turned_round else of
        return self.first <= index <= self.last


def shares_of(asked: Asked, tool: Tool, *, finishing: bool) -> Iterator[Share]:
    """What of the stretch is cut from which side: the outside behind the foremost face, a dish before it from there.

    `finishing` goes along it once, instead of roughing. A narrow groove that the tool's edges cannot follow is taken
    as filled. Raises as rows do.
    """
    where = asked.operation.where or ("bore" if asked.operation.kind == "bore" else "outside")
    side: Where = "bore" if where == "bore" else "outside"
    first, last = asked.elements(side)
    part = asked.seen(asked.job.contour(side))
    rough: Strategy = "finish" if finishing else "face" if asked.operation.kind == "face" else asked.operation.strategy
    if asked.operation.kind == "face":
        yield Share(part, first, last, side, rough)
        return
    if where == "bore":
        yield filled(Share(part, first, last, side, rough), tool)
        return
    low, high = dish_of(part.chain, asked.end)
    inside, outside = _overlap((first, last), (low, high)), _outside_of((first, last), (low, high))
    if outside is not None:
        yield halved(filled(Share(part, *outside, "outside", rough), tool), asked)
    if inside is not None:
        bowl = Contour(Chain(part.chain.elements[low : high + 1]), part.side, part.faced)
        over: Strategy = "finish" if finishing else "rough along the contour"
        yield Share(bowl, inside[0] - low, inside[1] - low, "face", over)


def dish_of(chain: Chain, end: End) -> tuple[int, int]:
    """The elements (first, last) from an axis behind the foremost Z out to that; (0, -1) where there is no dish.

    `end` says at which end of the contour, in the frame of that end, the axis is.
    """
    elements = chain.elements if end == "first" else chain.reversed().elements
    front = chain.bounds.z_max
    if elements[0].start.z > front - SAME or elements[0].start.r > SAME:
        return 0, -1
    last = next(index for index, each in enumerate(elements) if each.bounds().z_max > front - SAME)
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


def filled(share: Share, tool: Tool) -> Share:
    """The share with a line over each narrow groove that the tool's edges cannot follow; its own rows stay."""
    chain, side = share.part.chain, share.part.side
    runs = []
    for first, last in dips(chain, share.where):
        groove = Chain(chain.elements[first : last + 1])
        is_own = share.first >= first and share.last <= last
        is_narrow = groove.bounds.z_max - groove.bounds.z_min <= NARROW
        if is_narrow and not is_own and first > 0 and last < len(chain) - 1:
            around = Chain(chain.elements[first - 1 : last + 2])
            if reachable(around, side, tool.edges).shadows:
                runs.append((first, last))
    for first, last in reversed(runs):
        share = _over(share, first, last)
    return replace(share, filled=tuple(runs))


def halved(share: Share, asked: Asked) -> Share:
    """The share with its end's half alone of an arc over the largest diameter, where both ends turn its row."""
    arc = shared_arc(asked.job.outside.chain)
    if arc is None or len(set(_ends_turning(asked.job, arc))) < 2:
        return share
    elements = share.part.chain.elements
    whole = asked.seen(asked.job.contour("outside")).chain.elements[arc]
    at = share.last if asked.end == "first" else share.first
    if elements[at] != whole:
        return share
    chain = Chain((*elements[:at], *halves(whole), *elements[at + 1 :]))
    part = Contour(chain, share.part.side, share.part.faced)
    if asked.end == "first":
        return replace(share, part=part)
    return replace(share, part=part, first=share.first + 1, last=share.last + 1)


def _ends_turning(job: Job, index: int) -> Iterator[End]:
    """The ends from which an element of the outside is turned."""
    for setup, operation in job.in_order():
        if operation.kind in ("rough", "finish") and operation.where in (None, "outside"):
            first, last = between(job.outside, operation.first, operation.last)
            if first <= index <= last:
                yield setup.end


def _over(share: Share, first: int, last: int) -> Share:
    """The share with a line over one groove."""
    elements = share.part.chain.elements
    start, end = elements[first].start, elements[last].end
    bridge = (Line(start, end),) if start.distance_to(end) > SAME else ()
    gone = last - first + 1 - len(bridge)
    chain = Chain((*elements[:first], *bridge, *elements[last + 1 :]))

    def now(index: int) -> int:
        return index - gone if index > last else min(index, first)

    part = Contour(chain, share.part.side, share.part.faced)
    return replace(share, part=part, first=now(share.first), last=now(share.last))
