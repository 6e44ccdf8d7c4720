"""The passes of an operation as the nose goes over the contour: facing, levels, parallels, finishing.

A pass is planned as pieces of contact and nose centre, with the path in that suits it; how the tool comes and goes is
found when the stock of that moment is known.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from calc.contour import Chain, Line, Point, Side, Vector, other_side
from calc.cutting.nouns import Lead, Split
from calc.language.messages import Message, Phrase, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import RADIUS
from calc.machining.job import Where
from calc.machining.passes import Piece, depths, not_too_many_in_all
from calc.machining.removal.polygons import Area
from calc.machining.removal.stock import Stock
from calc.machining.removal.sweep import round_nose, slot
from calc.machining.removal.taking import THINNEST
from calc.machining.roughing.levels import (
    SLIVER,
    Axis,
    Keeping,
    first_touch,
    flank_at,
    ground_of,
    level_depths,
    levels,
    stretch_count,
)
from calc.tool.nose_path import Step, nose_path

PLUNGE_SHARE = 0.5
"""A plunge into a pocket goes at half the feed (common practice, no source)."""

ON_FACE = 1e-6
"""mm: a face is where the contour is within this of its foremost Z."""

NO_FEED = 1.0
"""mm/rev: stands in the pieces of a pass whose feed is not given, for which nothing is timed."""


@dataclass(frozen=True, slots=True)
class Work:
    """What is planned on (mm): the contour as far as the edges get, its side, where it lies, the stock to take.

    `kept` is the contour with the allowances in front of it, None where they leave nothing of it.
    """

    chain: Chain
    kept: Chain | None
    side: Side
    where: Where
    to_take: Stock
    reach: float


@dataclass(frozen=True, slots=True)
class Leading:
    """How the nose is led (mm, mm/rev): its radius, depth of a pass, feed, what is kept, the run-in, the lift.

    `made` is how many passes the plan has before these. A finishing pass leads in and out by `lead`, of `lead_size`.
    """

    nose: float
    depth: float = 1.0
    feed: float | None = None
    keeping: Keeping = Keeping()
    before: float = 2.0
    lift: float = 0.5
    split: Split = "equal"
    made: int = 0
    lead: Lead = "straight"
    lead_size: float = 2.0


@dataclass(frozen=True, slots=True)
class Planned:
    """A pass: name, kind, pieces of contact and nose centre, the direction (unit) away from the surface at its start.

    `opens` is a pass that begins straight ahead of the stock, so that its own first element leads in; `flank` is the
    line up the contour from where another one begins, as far as it is clear.
    """

    name: str
    kind: Literal["face", "rough", "finish"]
    pieces: tuple[Piece, ...]
    away: Vector
    feed: float | None
    opens: bool = False
    flank: Line | None = None


def in_cutting_direction(chain: Chain, side: Side, where: Where) -> tuple[Chain, Side]:
    """The contour travelled from where the tool comes: a face from the outside, all else from the front.

    >>> back = Chain((Line(Point(-9.0, 6.0), Point(0.0, 6.0)),))
    >>> in_cutting_direction(back, "left", "outside")[1]
    'right'
    """
    start, end = chain.start, chain.end
    is_so = start.r >= end.r if where == "face" else start.z >= end.z
    return (chain, side) if is_so else (chain.reversed(), other_side(side))


def front_of(chain: Chain, where: Where) -> Line | None:
    """The contour's face: a first element along X from the axis, in front of all else; None where there is none."""
    first = chain.elements[0]
    if where != "outside" or not isinstance(first, Line) or abs(first.direction.z) > ON_FACE:
        return None
    is_front = abs(first.start.z - chain.bounds.z_max) <= ON_FACE and abs(first.start.r) <= ON_FACE
    return first if is_front else None


def facing(stock: tuple[float, float, float, float], face: float, leading: Leading) -> Iterator[Planned]:
    """Passes inward over a stock's bounds (mm) down to the face at that z, until the nose's centre is on the axis."""
    _, r_low, front, r_high = stock
    inner = max(r_low, 0.0)
    steps = depths(front - face, leading.depth, leading.split, "for facing") if front - face > ON_FACE else []
    for number, step in enumerate(steps, 1):
        z = face if number == len(steps) else front - step
        yield _inward(Phrase("face {number}", number=number), "face", z, (r_high, inner), leading)


def finish_face(face: Line, radii: tuple[float, float], leading: Leading) -> Planned:
    """The pass inward along the contour's face over a stock between two `radii` (mm, the outer first).

    Over a hole that is open it ends a nose past the hole's edge, else on the axis.
    """
    outer, hole = radii
    return _inward("finish face", "finish", face.start.z, (outer, max(hole - leading.nose, 0.0)), leading)


def _inward(
    name: str, kind: Literal["face", "finish"], z: float, radii: tuple[float, float], leading: Leading
) -> Planned:
    """A cut along X between two radii, from clear outside of the stock."""
    clear = Point(z, radii[0] + leading.nose + leading.before)
    contacts = (Line(clear, Point(z, radii[0])), Line(Point(z, radii[0]), Point(z, radii[1])))
    feed = leading.feed or NO_FEED
    pieces = tuple(Piece(each, each.shifted(leading.nose, 0.0), feed, each is contacts[0]) for each in contacts)
    return Planned(name, kind, pieces, Vector(1.0, 0.0), leading.feed, opens=True)


def by_levels(work: Work, leading: Leading, axis: Axis) -> Iterator[Planned]:
    """Levels along Z or along X, then a single pass along the allowances over what they leave.

    Raises `OutOfRange` for too many levels, or stretches of them, before the first is planned.
    """
    if work.to_take.area <= SLIVER:
        return
    ground = ground_of(work.to_take, work.reach, work.chain, work.side, leading.nose, leading.keeping)
    steps = level_depths(ground, axis, leading.depth, leading.split)
    not_too_many_in_all(stretch_count(ground, axis, work.where, steps), leading.made)
    z_high, r_high = work.to_take.bounds[2] + leading.nose, work.to_take.bounds[3] + leading.nose
    left, number = work.to_take, 0
    for level in levels(ground, axis, work.where, steps, leading.before):
        left = level.left
        for line in level.lines:
            number += 1
            outward = axis == "x" and line.direction.r > 0.0 and work.where == "face"
            opens = outward or (line.start.z >= z_high if axis == "z" else line.start.r >= r_high)
            planned = _level(Phrase("rough {number}", number=number), line, work.where, axis, leading)
            yield replace(planned, opens=opens, flank=None if opens else flank_at(ground, line, planned.away))
    yield from _along_the_allowance(work, leading, left)


def _level(name: str, line: Line, where: Where, axis: Axis, leading: Leading) -> Planned:
    away = Vector(1.0, 0.0) if axis == "x" else Vector(0.0, -1.0 if where == "bore" else 1.0)
    touch = line.shifted(-away.z * leading.nose, -away.r * leading.nose)
    piece = Piece(touch, line, leading.feed or NO_FEED)
    return Planned(name, "rough", (piece,), away, leading.feed)


def parallels(work: Work, leading: Leading) -> Iterator[Planned]:
    """Passes along the contour from the outside in: over a face moved along Z, else parallel to it."""
    if work.kept is not None and work.to_take.area > SLIVER:
        runs = _lifted_runs(work, work.kept, leading)
        yield from _passes(runs, lambda number: Phrase("rough {number}", number=number), work, leading, work.to_take)


def _lifted_runs(work: Work, chain: Chain, leading: Leading) -> Iterator[list[Piece]]:
    for lift in _lifts(work, chain, leading):
        if work.where == "face":
            runs = nose_path(chain, leading.nose, work.side).runs
            yield from ([_moved(each, lift) for each in _pieces(run, leading)] for run in runs)
        else:
            runs = nose_path(chain, leading.nose + lift, work.side).runs
            yield from ([_lifted(each, lift, leading.nose) for each in _pieces(run, leading)] for run in runs)


def _passes(
    runs: Iterable[Sequence[Piece]], named: Callable[[int], str], work: Work, leading: Leading, left: Stock
) -> Iterator[Planned]:
    """A pass along each of the runs that still takes anything of what is left, on this side of the axis."""
    number, pieces = 0, list[Piece]()
    for run in runs:
        left = _after(left, pieces, leading.nose)
        pieces = _cutting(_on_this_side(run), left, leading.nose)
        if pieces:
            number += 1
            yield _along(named(number), "rough", pieces, work.side, leading)


def _lifts(work: Work, chain: Chain, leading: Leading) -> list[float]:
    """How far above the allowances each pass goes, mm."""
    import shapely  # noqa: PLC0415 - loaded on first use

    if work.where == "face":
        total = work.to_take.bounds[2] - chain.bounds.z_min
    else:
        places = shapely.get_coordinates(work.to_take.whole)
        total = max(chain.distance_to(Point(float(z), float(r))) for z, r in places)
    return [max(total - depth, 0.0) for depth in depths(total, leading.depth, leading.split, "for roughing")]


def _along_the_allowance(work: Work, leading: Leading, left: Stock) -> Iterator[Planned]:
    runs = nose_path(work.kept, leading.nose, work.side).runs if work.kept else ()
    pieces = (_pieces(run, leading) for run in runs)
    return _passes(pieces, lambda number: Phrase("along the allowance {number}", number=number), work, leading, left)


def _pieces(run: Sequence[Step], leading: Leading) -> list[Piece]:
    return [Piece(step.contact, step.element, leading.feed or NO_FEED) for step in run]


def _moved(piece: Piece, along_z: float) -> Piece:
    contact, path = piece.contact, piece.path
    return Piece(contact.shifted(along_z, 0.0), path.shifted(along_z, 0.0), piece.feed)


def _lifted(piece: Piece, lift: float, nose: float) -> Piece:
    """A piece along the path of a nose that is larger by a lift (mm), with what the nose itself touches there."""
    if lift <= 0.0:
        return piece
    path, contact, share = piece.path, piece.contact, nose / (nose + lift)
    first, last = (contact, contact) if isinstance(contact, Point) else (contact.start, contact.end)
    start = path.start.moved(path.start.to(first), share)
    return replace(piece, contact=replace(path, start=start, end=path.end.moved(path.end.to(last), share)))


def _on_this_side(run: Sequence[Piece]) -> list[Piece]:
    """The pieces without what lies beyond the axis at their ends: there a nose would cut the far wall's allowance."""
    parts = [part for piece in run for part in piece.split_at_centre_r(0.0)]
    here = [index for index, part in enumerate(parts) if part.path.point_at(part.path.length / 2.0).r >= 0.0]
    return parts[here[0] : here[-1] + 1] if here else []


def _cutting(run: Sequence[Piece], left: Stock, nose: float) -> list[Piece]:
    """The pieces of a run from where it first takes anything of what is left to the last that does."""
    found = ((index, taken) for index, piece in enumerate(run) if (taken := _taken(piece, left, nose)))
    first, taken = next(found, (len(run), []))
    if not taken:
        return []
    last = next(index for index in range(len(run) - 1, first - 1, -1) if _taken(run[index], left, nose))
    path = run[first].path
    begun = run[first].between(first_touch(path, taken, nose) / path.length, 1.0)
    return [begun, *run[first + 1 : last + 1]]


def _taken(piece: Piece, left: Stock, nose: float) -> list[Area]:
    """What a piece takes of what is left; none where that is next to nothing."""
    taken = left.common(_slot(piece, nose))
    return taken if sum(part.area for part in taken) > SLIVER + THINNEST * piece.path.length else []


def _slot(piece: Piece, nose: float) -> Area:
    return slot(round_nose(nose), piece.path)


def _after(left: Stock, pieces: Sequence[Piece], nose: float) -> Stock:
    """What is left to take after pieces."""
    for piece in pieces:
        left = left.less(_slot(piece, nose))
    return left


def finishing(chain: Chain, side: Side, leading: Leading, *, after: Line | None = None) -> Iterator[Planned]:
    """Passes along the contour, without its face where that has been finished `after` another way.

    Raises `Impossible` for a nose that touches nothing.
    """
    runs = nose_path(chain, leading.nose, side).runs
    kept_runs = [steps for run in runs if (steps := _behind(run, after))]
    if not kept_runs and after is None:
        text = "A nose of {nose} cannot touch this contour anywhere: take a smaller one, or the other side."
        raise Impossible(Fault("nose_radius", Message(text, {"nose": Quantity(leading.nose, RADIUS)})))
    for number, run in enumerate(kept_runs, 1):
        name = "finish" if len(kept_runs) == 1 else Phrase("finish {number}", number=number)
        yield _along(name, "finish", _pieces(run, leading), side, leading)


def backward(planned: Planned, side: Side) -> Planned:
    """The pass the other way along the same path, from its end to its start; `side` is that of the pass as it was."""
    pieces = [
        replace(
            piece,
            contact=piece.contact if isinstance(piece.contact, Point) else piece.contact.reversed(),
            centre=piece.path.reversed(),
        )
        for piece in reversed(planned.pieces)
    ]
    away = _away(pieces, other_side(side))
    return replace(planned, pieces=tuple(pieces), away=away, opens=False)


def _behind(run: Sequence[Step], face: Line | None) -> list[Step]:
    """The steps of a run behind the face and the corner round which the nose would swing from it."""
    if face is None:
        return list(run)
    first = next((at for at, step in enumerate(run) if step.of and not isinstance(step.contact, Point)), len(run))
    return list(run[first:])


def _along(
    name: str, kind: Literal["rough", "finish"], pieces: Sequence[Piece], side: Side, leading: Leading
) -> Planned:
    """A pass along pieces of the nose's path."""
    return Planned(name, kind, tuple(pieces), _away(pieces, side), leading.feed)


def _away(pieces: Sequence[Piece], side: Side) -> Vector:
    """The direction away from the surface where the pieces begin."""
    return pieces[0].path.normal_at(0.0, side)
