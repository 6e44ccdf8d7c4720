"""The passes over any contour: levels or the contour itself for roughing, then finishing; approach and retract.

A pass holds the moves of the nose centre, for what they remove, and pieces of contact, for what they take in time. The
tool comes and goes where there is nothing: over the outside, in front of the face, in front of a bore.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from calc.contour import Chain, Element, Line, Point, Side, Vector
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible, OutOfRange
from calc.language.quantities import RADIUS
from calc.machining.passes import Piece
from calc.machining.removal.polygons import Area
from calc.machining.removal.simulating import Move, ToolPass
from calc.machining.removal.sweep import Outline, swept
from calc.machining.roughing.levels import SLIVER, Ground, Keeping, Where, ground_of, levels
from calc.tool.nose_path import Step, nose_path

Roughing = Literal["along z", "along x", "contour", "none"]
MOST_PASSES = 120
PLUNGE_SHARE = 0.5
"""A plunge into a pocket goes at half the feed (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Job:
    """What is to be planned (mm, mm/rev): the contour as far as the tool reaches it, the stock, nose, depth, feeds."""

    chain: Chain
    side: Side
    stock: Area
    where: Where
    nose: float
    depth: float
    feed: float
    finish_feed: float
    keeping: Keeping = Keeping()
    before: float = 2.0
    lift: float = 0.5


@dataclass(frozen=True, slots=True)
class Planned:
    """A pass: name, kind, moves of the nose centre, pieces of contact, and the depth that it was planned with."""

    name: str
    kind: Literal["rough", "finish"]
    moves: tuple[Move, ...]
    pieces: tuple[Piece, ...]
    depth: float

    @property
    def tool_pass(self) -> ToolPass:
        """The pass as it is simulated."""
        return ToolPass(self.name, self.moves)


def in_cutting_direction(chain: Chain, side: Side, where: Where) -> tuple[Chain, Side]:
    """The contour travelled from where the tool comes: a face from the outside, all else from the front.

    >>> back = Chain((Line(Point(-9.0, 6.0), Point(0.0, 6.0)),))
    >>> in_cutting_direction(back, "left", "outside")[1]
    'right'
    """
    start, end = chain.start, chain.end
    is_so = start.r >= end.r if where == "face" else start.z >= end.z
    return (chain, side) if is_so else (chain.reversed(), "right" if side == "left" else "left")


def plan_passes(job: Job, roughing: Roughing) -> list[Planned]:
    """All passes in order, the finishing ones last.

    Raises `OutOfRange` for more than `MOST_PASSES`, `Impossible` for a nose that touches nothing.

    >>> from calc.machining.removal.region import Bar
    >>> turned = Chain((Line(Point(0.0, 6.0), Point(-3.0, 6.0)),))
    >>> job = Job(turned, "right", Bar(10.0, 0.0, -8.0).area(), "outside", 0.8, 2.0, 0.2, 0.1, Keeping(0.1, 0.2))
    >>> [each.name for each in plan_passes(job, "along z")]
    ['rough 1', 'rough 2', 'finish']
    """
    planned: list[Planned] = []
    ground = ground_of(job.stock, job.chain, job.side, job.nose, job.keeping)
    if roughing != "none" and not ground.to_take.is_empty:
        if _count(ground, job) > MOST_PASSES:
            text = "That would be more than {most} passes. Take a larger depth per pass."
            raise OutOfRange(Fault("pass_depth", Message(text, {"most": MOST_PASSES})))
        if roughing == "contour":
            planned += _following(job, ground, ground.to_take)
        else:
            planned += _levelled(job, ground, roughing)
            planned += _following(job, ground, _left_by(planned, ground), once=True)
    planned += _finishing(job)
    if not planned:
        text = "A nose of {nose} touches no place of this contour: take a smaller one, or the other side."
        raise Impossible(Fault("nose_radius", Message(text, {"nose": Quantity(job.nose, RADIUS)})))
    return planned


def _count(ground: Ground, job: Job) -> float:
    z_low, r_low, z_high, r_high = ground.to_take.bounds
    return float(max(z_high - z_low, r_high - r_low)) / job.depth


def _levelled(job: Job, ground: Ground, way: Literal["along z", "along x"]) -> Iterator[Planned]:
    outside = (ground.to_take.bounds[2] + job.nose, ground.to_take.bounds[3] + job.nose)
    number = 0
    for lines in levels(ground, way, job.where, job.depth, job.before):
        for line in lines:
            number += 1
            yield _level(f"rough {number}", line, job, way, opens=_opens(line, way, outside))


def _opens(line: Line, way: str, outside: tuple[float, float]) -> bool:
    """Whether a stretch begins in the open: in front of the stock, or outside of it."""
    return line.start.z >= outside[0] if way == "along z" else line.start.r >= outside[1]


def _level(name: str, line: Line, job: Job, way: str, *, opens: bool) -> Planned:
    """A straight cut with its entry, and the lift from the surface at its end."""
    away = _away(job.where, way)
    lifted = line.end.moved(Vector(away.z * job.lift + _back(line).z * job.lift, (away.r + _back(line).r) * job.lift))
    out = Line(line.end, lifted)
    moves = [Move((line,), job.feed), Move((out,), job.feed)]
    pieces = [_piece(line, away, job.nose, job.feed)]
    if not opens:
        plunge = Line(line.start.moved(away, job.depth + job.lift), line.start)
        moves.insert(0, Move((plunge,), job.feed * PLUNGE_SHARE))
        pieces.insert(0, _piece(plunge, away, job.nose, job.feed * PLUNGE_SHARE))
    return Planned(name, "rough", tuple(moves), tuple(pieces), job.depth)


def _away(where: Where, way: str) -> Vector:
    """From the surface of a level toward where the tool is."""
    if way == "along x":
        return Vector(1.0, 0.0)
    return Vector(0.0, -1.0 if where == "bore" else 1.0)


def _back(line: Line) -> Vector:
    return line.direction.times(-1.0)


def _piece(line: Line, away: Vector, nose: float, feed: float) -> Piece:
    touch = line.shifted(-away.z * nose, -away.r * nose)
    return Piece(touch, line, feed)


def _left_by(planned: Sequence[Planned], ground: Ground) -> Area:
    """What the levels leave to take."""
    left = ground.to_take
    disc = Outline((Point(0.0, 0.0),), ground.nose)
    for each in planned:
        left = left.difference(swept(disc, each.moves[-2].elements))
    return left


def _following(job: Job, ground: Ground, left: Area, *, once: bool = False) -> Iterator[Planned]:
    """Passes parallel to the contour from the outside in; what would cut air at both ends is left out.

    `once` is a single one along the allowance, over what levels have left.
    """
    chain = _with_allowance(job)
    farthest = 0.0 if once else _farthest(ground.to_take, chain)
    count = 1 if once else max(1, -int(-farthest / job.depth * (1.0 - 1e-9) // 1))
    number = 0
    for index in reversed(range(count)):
        lift = index * farthest / count
        for run in nose_path(chain, job.nose + lift, job.side).runs:
            first, steps, left = _cutting(run, left, job.nose)
            if steps:
                number += 1
                name = f"along the allowance {number}" if once else f"rough {number}"
                yield _along(name, "rough", steps, job, job.feed, job.depth if once else farthest / count, lift, first)


def _with_allowance(job: Job) -> Chain:
    """The contour moved by the allowances: toward +Z, and away from the metal along X."""
    outward = -1.0 if job.where == "bore" else 1.0
    along_x = 0.0 if job.where == "face" else job.keeping.along_x
    return job.chain.shifted(job.keeping.along_z, outward * along_x)


def _farthest(area: Area, chain: Chain) -> float:
    import shapely  # noqa: PLC0415 - loaded on first use

    places = shapely.get_coordinates(area)
    return max(chain.distance_to(Point(float(z), float(r))) for z, r in places)


def _cutting(run: Sequence[Step], left: Area, nose: float) -> tuple[int, list[Step], Area]:
    """The steps of a run from the first (its index) to the last that take anything, and what is left to take then."""
    disc = Outline((Point(0.0, 0.0),), nose)
    slots = [swept(disc, [step.element]) for step in run]
    takes = [index for index, slot in enumerate(slots) if left.intersection(slot).area > SLIVER]
    if not takes:
        return 0, [], left
    for slot in slots[takes[0] : takes[-1] + 1]:
        left = left.difference(slot)
    return takes[0], list(run[takes[0] : takes[-1] + 1]), left


def _finishing(job: Job) -> Iterator[Planned]:
    runs = nose_path(job.chain, job.nose, job.side).runs
    for number, run in enumerate(runs, 1):
        name = "finish" if len(runs) == 1 else f"finish {number}"
        yield _along(name, "finish", list(run), job, job.finish_feed, 0.0, 0.0, 0)


def _along(
    name: str,
    kind: Literal["rough", "finish"],
    steps: list[Step],
    job: Job,
    feed: float,
    depth: float,
    lift: float,
    first: int,
) -> Planned:
    """A pass along steps of the nose's way from its step `first` on, led in straight and lifted off at its end."""
    way = [step.element for step in steps]
    lead = _lead_in(way[0], job) if first == 0 else _lowered(way[0], job)
    off = Line(way[-1].end, way[-1].end.moved(_off(way[-1], job), job.lift))
    moves = (*([Move((lead,), feed)] if lead else []), Move(tuple(way), feed), Move((off,), feed))
    pieces = [Piece(step.contact if not lift else step.element, step.element, feed) for step in steps]
    if lead:
        touched = pieces[0].contact
        start = touched if isinstance(touched, Point) else touched.start
        back = lead.end.to(lead.start)
        pieces.insert(0, Piece(Line(start.moved(back), start), lead, feed, in_air=True))
    return Planned(name, kind, moves, tuple(pieces), depth)


def _lead_in(first: Element, job: Job) -> Line | None:
    """A straight run onto the first element: along it, or from the front where it begins on the axis."""
    if job.before <= 0.0:
        return None
    if abs(first.start.r) <= job.nose:
        clear = max(safe_place(job).z - first.start.z, job.before)
        return Line(first.start.shifted(clear, 0.0), first.start)
    return Line(first.start.moved(first.tangent_at(0.0), -job.before - job.nose), first.start)


def _lowered(first: Element, job: Job) -> Line:
    """A straight run onto an element amid the contour, square to it from where the pass before has cut."""
    normal = first.tangent_at(0.0).left().times(1.0 if job.side == "left" else -1.0)
    return Line(first.start.moved(normal, job.depth + job.lift), first.start)


def _off(last: Element, job: Job) -> Vector:
    """From the end of a cut away from the metal and a little back; on the axis along Z."""
    if last.end.r <= job.nose:
        return Vector(1.0, 0.0)
    ahead = last.tangent_at(last.length)
    normal = ahead.left() if job.side == "left" else ahead.left().times(-1.0)
    return Vector(normal.z - ahead.z, normal.r - ahead.r)


def with_rapids(planned: Sequence[Planned], job: Job) -> list[ToolPass]:
    """The passes with the rapid moves between them: out along the way that is free, across, and in again.

    Over a face and a bore the tool goes along Z first, outside along X first.
    """
    found: list[ToolPass] = []
    here: Point | None = None
    for each in planned:
        start = each.moves[0].elements[0].start
        way = _rapid_start(start, job) if here is None else _between(here, start, job)
        lines = tuple(Line(a, b) for a, b in pairwise(way) if a.distance_to(b) > 1e-9)
        found.append(ToolPass(each.name, (*([Move(lines)] if lines else []), *each.moves)))
        here = each.moves[-1].elements[-1].end
    return found


def safe_place(job: Job) -> Point:
    """Where the tool may wait: in front of the stock and, but for a bore, outside of it."""
    _, r_low, z_high, r_high = job.stock.bounds
    front = z_high + job.before + job.nose
    return Point(front, max(r_low - job.nose, 0.0) if job.where == "bore" else r_high + job.before + job.nose)


def _rapid_start(start: Point, job: Job) -> list[Point]:
    safe = safe_place(job)
    return [safe, *_in(safe, start, job)]


def _between(here: Point, start: Point, job: Job) -> list[Point]:
    safe = safe_place(job)
    if job.where == "outside":
        return [here, Point(here.z, safe.r), *_in(Point(here.z, safe.r), start, job)]
    return [here, Point(safe.z, here.r), *_in(Point(safe.z, here.r), start, job)]


def _in(here: Point, start: Point, job: Job) -> list[Point]:
    """From outside (or from in front) to where a pass starts."""
    return [Point(start.z, here.r) if job.where == "outside" else Point(here.z, start.r), start]
