"""An operation on the stock that it finds: the moves of the tool, proved by the sweep, and what they leave."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from calc.contour import Chain, Point
from calc.language.messages import Phrase
from calc.machining.job import Contour, Move, Operation, Setup, Slower, ToolPass
from calc.machining.passes import Piece, not_too_many_in_all, slowed_inside
from calc.machining.removal.bites import SLIVER
from calc.machining.removal.judging import Judged, without_slivers
from calc.machining.removal.polygons import only_areas
from calc.machining.removal.region import Regions, in_front_of, work_of
from calc.machining.removal.stock import Stock, spread, stock_of
from calc.machining.removal.taking import THINNEST, Removal, Taking, guard_of
from calc.machining.roughing.allowance import kept
from calc.machining.roughing.kept_chip import fed_by_depth
from calc.machining.roughing.levels import Keeping
from calc.machining.roughing.planning import (
    Leading,
    Planned,
    Work,
    backward,
    by_levels,
    facing,
    finish_face,
    finishing,
    front_of,
    in_cutting_direction,
    parallels,
)
from calc.machining.roughing.reachable import Reachable, reachable
from calc.machining.routing import Router, home_of
from calc.machining.stretches import Stretch
from calc.machining.touched import contacts_of

SAME = 1e-9
"""mm: places nearer than this are one."""

CORNERS = 12
"""About how many corners a stock comes to have for each element of the contour."""


@dataclass(frozen=True, slots=True)
class Made:
    """A pass as it was planned, and what it did."""

    planned: Planned
    removal: Removal

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Contact and nose centre along all that is fed up to the end of the cut, for time and force."""
        first = self.planned.pieces[0]
        lead = next(move for move in self.removal.tool_pass.moves if move.kind == "feed")
        if lead.elements[0] == first.centre:
            return self.planned.pieces
        return (_leading_in(lead, first), *self.planned.pieces)


def _leading_in(lead: Move, first: Piece) -> Piece:
    """The path in: what is touched first, moved back as the nose's centre is."""
    line = lead.elements[0]
    contact = first.contact if isinstance(first.contact, Point) else first.contact.start
    offset = line.end.to(contact)
    return Piece(line.shifted(offset.z, offset.r), line, lead.feed or first.feed, in_air=lead.why == "approach")


@dataclass(frozen=True, slots=True)
class Dropped:
    """A pass that is left out: no clear path leads to it, or there the `holder` would run into stock."""

    name: str
    holder: bool


@dataclass(frozen=True)
class Done:
    """What an operation did: its passes in order, the stock after it, and the passes that cannot be made.

    `regions` are the stock before, the finished part and what is between; `reach` is what the tool's edges get at.
    `keeps` is whether the allowances leave a contour to rough along.
    """

    operation: Operation
    part: Contour
    regions: Regions
    reach: Reachable
    made: tuple[Made, ...]
    after: Stock
    dropped: tuple[Dropped, ...] = ()
    stretch: Stretch | None = None
    keeps: bool = True

    @property
    def moves(self) -> tuple[Move, ...]:
        """All moves in order, each from where the one before ends."""
        return tuple(move for each in self.made for move in each.removal.tool_pass.moves)

    @property
    def removals(self) -> tuple[Removal, ...]:
        """What each pass took."""
        return tuple(each.removal for each in self.made)

    @property
    def hits(self) -> tuple[Removal, ...]:
        """The passes in which the part, or stock at a rapid move or by the holder, is hit; none as it should be."""
        return tuple(removal for removal in self.removals if removal.hits)

    @cached_property
    def judged(self) -> Judged:
        """What is left on the part and what was cut too deep, against the print."""
        return self.judged_in(self.regions)

    def judged_in(self, regions: Regions) -> Judged:
        """The same of other regions, such as those beside a stretch alone."""
        finished = [piece for each in self.made if each.planned.kind == "finish" for piece in each.planned.pieces]
        path = [piece.path for piece in finished]
        return Judged(regions, self.after.whole, self.part.chain, self.operation.tool.nose, path)


def machine(operation: Operation, before: Stock, part: Contour, setup: Setup | None = None, made: int = 0) -> Done:
    """Run an operation on a stock: passes that leave the part's contour, each reached and left through air.

    A pass to which no clear path leads, or in which the holder would run into stock, is left out, named in `dropped`.
    `made` is how many passes the plan has before this operation. Raises `Impossible` for a contour that cannot be
    turned so or a nose that touches nothing, `OutOfRange` for too many passes.

    >>> from calc.contour import Chain, Line
    >>> from calc.machining.job import Cut, Tool
    >>> from calc.machining.removal.region import Bar
    >>> from calc.machining.removal.sweep import Outline
    >>> corners = [Point(0.0, 0.0), Point(0.0, 6.0), Point(-3.0, 6.0), Point(-3.0, 9.0)]
    >>> part = Contour(Chain(tuple(Line(a, b) for a, b in zip(corners, corners[1:]))), "right")
    >>> tool = Tool(Outline((Point(0.0, 0.0),), 1.2))
    >>> face = Operation(tool, Cut(depth=1.0, feed=0.2, along_z=0.1), "face")
    >>> rough = Operation(tool, Cut(depth=2.0, feed=0.2, along_z=0.1, along_x=0.2), "rough along z")
    >>> finish = Operation(tool, Cut(feed=0.1), "finish")
    >>> stock, done = stock_of(Bar(9.0, 1.0, -8.0).area()), []
    >>> for operation in (face, rough, finish):
    ...     done.append(machine(operation, stock, part))
    ...     stock = done[-1].after
    >>> [each.removal.name for one in done for each in one.made]
    ['face 1', 'rough 1', 'rough 2', 'along the allowance 1', 'finish face', 'finish']
    >>> [one.hits for one in done], round(stock.area, 2), done[-1].judged.too_deep
    ([(), (), ()], 63.31, ())
    """
    setup = setup or Setup()
    given = part.chain
    part = Contour(*in_cutting_direction(part.chain, part.side, operation.where), part.faced)
    stretch = _stretch(operation, part.chain, turned=part.chain.start != given.start)
    outline, faced = operation.tool.outline, operation.where != "bore" and part.faced
    regions = work_of(before.whole, part.chain, part.side, outline.nose, faced=faced)
    corners = CORNERS * len(part.chain)
    stock, guard = spread(before, corners), guard_of(regions.finished, corners)
    reach, leading = reachable(part.chain, part.side, operation.tool.edges), _leading(operation, setup, made)
    reached = Contour(reach.chain, part.side, faced)
    work = _work(operation, before, reached, regions, stretch) if operation.roughs else None
    home = home_of(before.bounds, operation.where, leading, outline)
    router = Router(home, operation.where, leading, outline, guard, setup.around)
    run = _Run(router, Taking(outline, guard), stock, operation)
    for planned in stretch.only(_planned(operation, reached, work, leading, stock)):
        run.make(planned)
        not_too_many_in_all(len(run.made), made)
    run.go_home()
    made_all, dropped, keeps = tuple(run.made), tuple(run.dropped), work is None or work.kept is not None
    return Done(operation, part, regions, reach, made_all, run.stock, dropped, stretch, keeps)


def _stretch(operation: Operation, chain: Chain, *, turned: bool) -> Stretch:
    """The operation's stretch of the contour in cutting direction, which may have been `turned` to it."""
    begin, end = 0, len(chain) - 1
    first = begin if operation.first is None else operation.first
    last = end if operation.last is None else operation.last
    return Stretch(chain, *((end - last, end - first) if turned else (first, last)), operation.where)


def _work(operation: Operation, before: Stock, part: Contour, regions: Regions, stretch: Stretch) -> Work:
    """What there is to rough: the stock down to the allowances, beside the stretch."""
    cut, corners = operation.cut, CORNERS * len(part.chain)
    with_rest = kept(part.chain, part.side, cut.along_z, cut.along_x)
    to_take = regions.to_remove
    if with_rest is not None and with_rest is not part.chain and not to_take.is_empty:
        to_take = work_of(to_take, with_rest, part.side, operation.tool.nose, faced=part.faced).to_remove
    to_take = without_slivers(to_take)
    if stretch.is_bounded:
        to_take = only_areas(to_take.intersection(stretch.beside()))
    return Work(part.chain, with_rest, part.side, operation.where, stock_of(to_take, corners), _reach(before))


def _reach(stock: Stock) -> float:
    return max(map(abs, stock.bounds))


def _leading(operation: Operation, setup: Setup, made: int) -> Leading:
    cut = operation.cut
    keeping = Keeping(cut.along_z, cut.along_x)
    nose = operation.tool.nose
    return Leading(
        nose,
        cut.depth or setup.lift,
        cut.feed,
        keeping,
        setup.run_in,
        setup.lift,
        cut.split,
        made,
        cut.lead,
        cut.lead_size,
    )


def _planned(
    operation: Operation, part: Contour, work: Work | None, leading: Leading, stock: Stock
) -> Iterator[Planned]:
    if work is not None and operation.strategy == "rough along the contour":
        yield from parallels(work, leading)
    elif work is not None:
        yield from by_levels(work, leading, "z" if operation.strategy == "rough along z" else "x")
    elif operation.strategy == "face":
        yield from _faced(part, leading, stock)
    else:
        finished = _finished(part, operation, leading, stock)
        yield from (_slowed(planned, operation.cut.slower) for planned in finished)


def _faced(part: Contour, leading: Leading, stock: Stock) -> Iterator[Planned]:
    face = part.chain.bounds.z_max + leading.keeping.along_z
    front = in_front_of(stock, face)
    if front is not None:
        yield from facing(front, face, leading)


def _finished(part: Contour, operation: Operation, leading: Leading, stock: Stock) -> Iterator[Planned]:
    """The contour, its face first and inward where it has one in front; then again along it for each spring pass."""
    face = front_of(part.chain, operation.where)
    front = None if face is None else in_front_of(stock, face.start.z)
    if face is not None and front is not None:
        yield finish_face(face, (front[3], front[1]), leading)
    along = list(finishing(part.chain, part.side, leading, after=face))
    if operation.cut.backward:
        along = [backward(each, part.side) for each in reversed(along)]
    yield from along
    for number in range(1, operation.cut.spring + 1):
        yield from (
            replace(planned, name=Phrase("{name}, spring {number}", name=planned.name, number=number))
            for planned in along
        )


def _slowed(planned: Planned, slower: Slower | None) -> Planned:
    if slower is None:
        return planned
    return replace(planned, pieces=tuple(slowed_inside(planned.pieces, slower.diameter, slower.feed)))


class _Run:
    """The passes one after the other, each on the stock that the one before has left."""

    def __init__(self, router: Router, taking: Taking, stock: Stock, operation: Operation) -> None:
        self.router, self.taking, self.stock, self.operation = router, taking, stock, operation
        self.made: list[Made] = []
        self.dropped: list[Dropped] = []

    def make(self, planned: Planned) -> None:
        """Lead to the pass, cut, lead off; a pass that would take nothing is left out unless it finishes."""
        moves = self.router.way_in(planned, self.stock)
        if moves is None:
            self.dropped.append(Dropped(planned.name, holder=False))
            return
        contacts = contacts_of(planned, moves, self.operation.tool.nose)
        moves += _cuts(planned)
        removal = self.taking.take(self.stock, ToolPass(planned.name, tuple(moves)), contacts)
        if planned.kind != "finish" and removal.area <= SLIVER + THINNEST * sum(move.length for move in moves):
            return
        if removal.holder:
            self.dropped.append(Dropped(planned.name, holder=True))
            return
        planned, moves, removal = fed_by_depth(self.operation, planned, moves, removal)
        moves += self.router.way_off(planned, moves, removal.stock)
        self.stock = removal.stock
        self.made.append(Made(planned, replace(removal, tool_pass=ToolPass(planned.name, tuple(moves)))))

    def go_home(self) -> None:
        """The return of the last pass."""
        back = self.router.way_home(self.stock) if self.made else None
        if back:
            last = self.made[-1].removal
            led = ToolPass(last.name, (*last.tool_pass.moves, *back))
            self.made[-1] = replace(self.made[-1], removal=replace(last, tool_pass=led))


def _cuts(planned: Planned) -> list[Move]:
    """The pieces as moves, those with one feed together."""
    moves: list[Move] = []
    for index, piece in enumerate(planned.pieces):
        feed = None if planned.feed is None else piece.feed
        centre = planned.pieces[index].path
        if moves and moves[-1].feed == feed:
            moves[-1] = replace(moves[-1], elements=(*moves[-1].elements, centre))
        else:
            moves.append(Move((centre,), feed))
    return moves
