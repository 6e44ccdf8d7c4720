"""The raw path of the nose centre: the parallel of each element, the swings round convex joints."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from calc.contour import Element, Side, meet, toward
from calc.contour.many import Flags, Floats, Indices, Many, Places, many
from calc.contour.tolerance import GAP

SMOOTH = 1e-9
"""rad: below this two elements join smoothly, and their parallels do."""

SHALLOW = 0.05
"""rad: concave joints that turn by less are trimmed by themselves, where distances would hardly show it."""

STRAIGHT = 1e-5
"""rad: where they turn by less, rounding moves the crossing far along; half way between both ends it is no farther off
than a 10^-11th of the nose's radius."""


@dataclass(frozen=True, slots=True)
class Raw:
    """Pieces of the raw path, in order: each along the contour's element `of`, or `around` the joint at its end."""

    pieces: Many
    of: Indices
    around: Flags

    def __len__(self) -> int:
        return len(self.of)


def raw_path(shape: Many, turns: Floats, nose: float, side: Side) -> Raw:
    """The raw path of a nose centre (radius `nose`, mm) on the `side` of travel, in order, not trimmed.

    `turns` are the changes of heading (rad) at the joints of the contour's elements. Arcs too small for the nose leave
    no piece. Source: parallels of lines and circles.

    >>> from calc.contour import Line, Point
    >>> from calc.contour.many import many_of
    >>> corner = many_of((Line(Point(-9.0, 5.0), Point(0.0, 5.0)), Line(Point(0.0, 5.0), Point(0.0, 0.0))))
    >>> raw_path(corner, np.array([-np.pi / 2]), 1.0, "left").of.tolist()
    [0, 0, 1]
    """
    to_left = toward(side) * nose
    along = _along(shape, to_left)
    around = _around(shape, turns, to_left)
    of, swings = np.concatenate([along.of, around.of]), np.concatenate([along.around, around.around])
    order = np.lexsort((swings, of))
    raw = Raw(along.pieces.joined(around.pieces)[order], of[order], swings[order])
    return _trimmed(raw, turns)


def joint_turns(shape: Many, *, is_closed: bool) -> Floats:
    """The changes of heading (rad) at the joints; with `is_closed` the one at the start of a closed contour last."""
    before, after = shape.end_direction, np.roll(shape.direction, -1)
    turns: Floats = np.angle(after * before.conj())
    return turns if is_closed else turns[:-1]


def _along(shape: Many, to_left: float) -> Raw:
    inward = shape.sign * to_left
    kept = np.flatnonzero(~shape.is_arc | (shape.radius - inward > GAP * _sizes(shape)))
    part, inward = shape[kept], inward[kept]
    step = 1j * to_left * part.direction
    start, end = part.start + step, part.end + step
    arcs = part.is_arc
    for ends, from_ in ((start, part.start), (end, part.end)):
        toward = part.centre[arcs] - from_[arcs]
        ends[arcs] = from_[arcs] + inward[arcs] * toward / np.abs(toward)
    return Raw(many(start, end, part.centre, part.sign), kept, np.zeros(len(kept), dtype=bool))


def _sizes(shape: Many) -> Floats:
    """The largest coordinate of each, mm, of which a share is what the ends of an arc may be off its circle."""
    corners = np.stack([shape.start, shape.end, shape.centre])
    largest: Floats = np.maximum(np.abs(corners.real), np.abs(corners.imag)).max(axis=0)
    return largest


def _around(shape: Many, turns: Floats, to_left: float) -> Raw:
    """The swings round joints that turn away from the nose; a reversal is convex on both sides."""
    reverses = np.abs(turns) >= np.pi - SMOOTH
    swings = (np.abs(turns) > SMOOTH) & ((turns * to_left <= 0.0) | reverses)
    before = np.flatnonzero(swings)
    after = (before + 1) % len(shape)
    joint = shape.start[after]
    start = joint + 1j * to_left * shape.end_direction[before]
    end = joint + 1j * to_left * shape.direction[after]
    kept = start != end
    sign = np.full(int(kept.sum()), -1.0 if to_left > 0.0 else 1.0)
    return Raw(many(start[kept], end[kept], joint[kept], sign), before[kept], np.ones(len(sign), dtype=bool))


def _trimmed(raw: Raw, turns: Floats) -> Raw:
    """The pieces, two neighbours trimmed where they cross right beside a shallow concave joint."""
    follows = (raw.of[1:] == raw.of[:-1] + 1) & ~raw.around[:-1] & ~raw.around[1:]
    turn = np.abs(turns[np.minimum(raw.of[:-1], len(turns) - 1)]) if len(turns) else np.zeros(len(follows))
    shallow = np.flatnonzero(follows & (turn > SMOOTH) & (turn < SHALLOW)).tolist()
    if not shallow:
        return raw
    start, end = raw.pieces.start.copy(), raw.pieces.end.copy()
    for index in shallow:
        _trim(raw.pieces, index, start, end, is_straight=bool(turn[index] < STRAIGHT))
    return Raw(many(start, end, raw.pieces.centre, raw.pieces.sign), raw.of, raw.around)


def _trim(pieces: Many, index: int, start: Places, end: Places, *, is_straight: bool) -> None:
    before, after = _part(pieces, index, start, end), _part(pieces, index + 1, start, end)
    middle = before.end.midway_to(after.start)
    crossings = [] if is_straight else meet(before.carrier, after.carrier)
    corner = min(crossings, key=middle.distance_to, default=middle)
    if before.tolerance < before.locate(corner) and after.locate(corner) < after.length - after.tolerance:
        end[index] = start[index + 1] = complex(*corner)


def _part(pieces: Many, index: int, start: Places, end: Places) -> Element:
    one = slice(index, index + 1)
    return many(start[one], end[one], pieces.centre[one], pieces.sign[one]).element(0)
