"""Which ways arcs in a row can turn: their steps and radii leave a heading to each, or none.

Along an arc the sine of the heading changes by the step along Z over the radius (positive for ccw), the cosine by that
along X over the radius, the other way round; along a line neither changes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate
from typing import TypeAlias

from calc.contour.solving.unknowns import Piece, Values

Turning: TypeAlias = list[tuple[int, float]]
"""Arcs that follow each other smoothly: the size of each, as an unknown, and its step along one axis, mm."""

WIDEST = 2.0 + 0.02
"""A sine goes from -1 to 1; the steps of a print are rounded."""


def possible(alternatives: Sequence[Values], pieces: Sequence[Piece], common: Values) -> list[Values]:
    """Those of the alternatives whose radii leave a heading to every arc that turns on from the one before.

    What all alternatives share is ``common``.
    """
    sizes = common.keys() | alternatives[0].keys()
    parts = (0, 1)
    chains = [chain for part in parts for chain in _chains(pieces, common, sizes, part) if len(chain) > 1]
    return [own for own in alternatives if all(_can_turn(chain, own, common) for chain in chains)]


def _chains(pieces: Sequence[Piece], common: Values, sizes: set[int], part: int) -> Iterator[Turning]:
    """The arcs of known sizes and known steps along one axis (0 is z, 1 is r), row by row."""
    chain: Turning = []
    arrive = -1
    for piece in pieces:
        start, end = common.get(piece.start + part), common.get(piece.end + part)
        is_known = piece.size in sizes and start is not None and end is not None
        if piece.leave != arrive or not (is_known or piece.is_line):
            yield chain
            chain = []
        if is_known and not piece.is_line and start is not None and end is not None:
            chain.append((piece.size, (end - start).real))
        arrive = piece.arrive
    yield chain


def _can_turn(chain: Turning, own: Values, common: Values) -> bool:
    levels = list(accumulate((step / (own.get(size) or common[size]).real for size, step in chain), initial=0.0))
    return max(levels) - min(levels) <= WIDEST
