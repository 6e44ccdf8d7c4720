"""Which stretches of the raw path the nose centre can stand on: nowhere nearer to the contour than its radius."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from calc.contour import Line, Point
from calc.contour.boxes import grown, in_groups, overlapping, overlaps
from calc.contour.many import Flags, Floats, Indices, Many, Places, many, many_of, meeting
from calc.tool.nose_path.raw import Raw

NEAR = 1e-9
"""Cuts nearer than this, as a share of the contour's size, are one."""

CLEAR = 1e-10
"""By how much, as a share of the contour's size, a place may be too near and still count as clear."""


AXIS = Line(Point(0.0, 0.0), Point(1.0, 0.0))


@dataclass(frozen=True, slots=True)
class Stretches:
    """Stretches of raw pieces that the nose centre can stand on, in order: `piece` is the index of the raw piece."""

    piece: Indices
    start: Places
    end: Places

    def __len__(self) -> int:
        return len(self.piece)

    def __getitem__(self, chosen: Indices) -> Stretches:
        return Stretches(self.piece[chosen], self.start[chosen], self.end[chosen])


@dataclass(frozen=True, slots=True)
class Ground:
    """What the nose must keep off: the contour's elements, its size (mm), whether it is closed."""

    shape: Many
    boxes: Floats
    size: float
    is_closed: bool


def clear_stretches(raw: Raw, behind: Raw, ground: Ground, nose: float) -> Stretches:
    """The stretches of the raw path (in order of travel) that keep the nose's radius (mm) from the whole contour.

    `behind` is the raw path on the other side: a contour that comes back may be met from behind.

    On a part that turns, a place beyond the axis is nearer to the far wall than to the contour, so it is not clear
    either, unless the contour itself runs beyond the axis.
    """
    near = NEAR * ground.size
    piece, start, end = _parts(raw.pieces, *_cuts(raw, behind, ground, nose, near), near)
    pieces = raw.pieces[piece]
    middles = pieces.onto(pieces.at((pieces.locate(start) + _behind(pieces, start, end)) / 2.0))
    clear = _clear(middles, ground, nose)
    return _merged(piece, start, end, clear)


def _behind(pieces: Many, start: Places, end: Places) -> Floats:
    """Positions of the ends, never before those of the starts."""
    return np.maximum(np.where(end == pieces.end, pieces.length, pieces.locate(end)), pieces.locate(start))


def _clear(middles: Places, ground: Ground, nose: float) -> Flags:
    """Whether each place is one nose radius or more from all elements, and not beyond the axis."""
    around = np.stack([middles.real - nose, middles.real + nose, middles.imag - nose, middles.imag + nose], axis=1)
    clear = np.ones(len(middles), dtype=bool)
    for place, element in overlaps(around, ground.boxes):
        too_near = ground.shape[element].distance(middles[place]) < nose - CLEAR * ground.size
        clear[place[too_near]] = False
    if ground.boxes[:, 2].min() >= -NEAR * ground.size:
        clear &= middles.imag >= -CLEAR * ground.size
    return clear


def _merged(piece: Indices, start: Places, end: Places, clear: Flags) -> Stretches:
    """The clear parts; neighbours on one raw piece become one stretch."""
    piece, start, end = piece[clear], start[clear], end[clear]
    if not len(piece):
        return Stretches(piece, start, end)
    goes_on = (piece[1:] == piece[:-1]) & (start[1:] == end[:-1])
    first = np.flatnonzero(np.concatenate([[True], ~goes_on]))
    last = np.concatenate([first[1:] - 1, [len(piece) - 1]])
    return Stretches(piece[first], start[first], end[last])


def _cuts(raw: Raw, behind: Raw, ground: Ground, nose: float, near: float) -> tuple[Indices, Places]:
    """The raw pieces and places at which they meet others or the axis, or come near to an end of the contour."""
    count = len(raw)
    every = raw.pieces.joined(behind.pieces)
    boxes = every.boxes()
    i, j = overlapping(grown(boxes[:count], near), boxes)
    i, j = i[j > i], j[j > i]
    pieces, found = [np.zeros(0, dtype=np.intp)], [np.zeros(0, dtype=complex)]
    for some in in_groups(len(i)):
        on, places = _shared(every[i[some]], every[j[some]], near)
        pieces += [i[some][on], j[some][on]]
        found += [places, places]
    piece, place = np.concatenate(pieces), np.concatenate(found)
    own = piece < count
    borders, at = _borders(raw.pieces, ground, nose, near)
    return np.concatenate([piece[own], borders]), np.concatenate([place[own], at])


def _shared(a: Many, b: Many, near: float) -> tuple[Indices, Places]:
    """The pairs and places where they meet; of two that lie on each other the ends."""
    places, there = meeting(a, b)
    column, on = np.nonzero(there.T)
    met = places[on, column]
    inside = a[on].spans(met, near) & b[on].spans(met, near)
    pairs, found = [on[inside]], [met[inside]]
    apart = np.flatnonzero(~there.any(axis=1))
    for one, other in ((a[apart], b[apart]), (b[apart], a[apart])):
        for end in (one.start, one.end):
            touching = np.flatnonzero(other.distance(end) <= near)
            pairs.append(apart[touching])
            found.append(end[touching])
    return np.concatenate(pairs), np.concatenate(found)


def _borders(pieces: Many, ground: Ground, nose: float, near: float) -> tuple[Indices, Places]:
    """Where pieces cross the axis, or the circles of the nose about the ends of an open contour."""
    ends: Places = np.zeros(0, dtype=complex)
    if not ground.is_closed:
        ends = np.array([ground.shape.start[0], ground.shape.end[-1]])
    axis = many_of([AXIS])
    borders = axis.joined(many(ends + nose, ends - nose, ends, np.ones(len(ends))))
    i, j = np.tile(np.arange(len(pieces)), len(borders)), np.repeat(np.arange(len(borders)), len(pieces))
    places, there = meeting(pieces[i], borders[j])
    column, pair = np.nonzero(there.T)
    at, on = places[pair, column], i[pair]
    inside = pieces[on].spans(at, near)
    return on[inside], at[inside]


def _parts(pieces: Many, cut: Indices, places: Places, near: float) -> tuple[Indices, Places, Places]:
    """The pieces cut at the places; cuts at their very ends, or where there is one already, are none."""
    s = pieces[cut].locate(places)
    inside = (s > near) & (pieces.length[cut] - s > near)
    cut, s, places = cut[inside], s[inside], places[inside]
    order = np.lexsort((s, cut))
    cut, s, places = cut[order], s[order], places[order]
    if len(cut):
        again = (cut[1:] == cut[:-1]) & (s[1:] - s[:-1] <= near)
        kept = np.concatenate([[True], ~again])
        cut, places = cut[kept], places[kept]
    whole = np.flatnonzero(pieces.length > near)
    kept = np.isin(cut, whole)
    cut, places = cut[kept], places[kept]
    owner = np.concatenate([whole, cut])
    start = np.concatenate([pieces.start[whole], places])
    order = np.argsort(owner, kind="stable")
    owner, start = owner[order], start[order]
    end = np.empty_like(start)
    last = np.concatenate([owner[1:] != owner[:-1], [True]]) if len(owner) else np.zeros(0, dtype=bool)
    end[:-1] = start[1:]
    end[last] = pieces.end[owner[last]]
    return owner, start, end
