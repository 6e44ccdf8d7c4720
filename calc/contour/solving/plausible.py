"""How likely a print means an element as it came out: the lower the cost, the likelier.

Common practice, no source: a contour stays on its side of the axis, arcs are shorter than half a turn, travel goes on
rather than back, and of two ways the shorter is meant.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from itertools import pairwise

from calc.contour.solving.unknowns import Piece, Values

BEYOND_AXIS = 20.0
LONG_ARC = 6.0
SHARP_BACK = 3.0
SAME_TURN = 1.5
MIRRORED, SAME_LEAN = 0.25, 0.005
_SHARP = math.radians(150.0)


def sweep_of(piece: Piece, values: Values) -> float:
    """By how much an arc turns, rad, counter-clockwise positive; 0 for a line."""
    if piece.is_line:
        return 0.0
    turned = cmath.phase(values[piece.arrive] / values[piece.leave])
    if values[piece.size].real > 0.0:
        return turned if turned > 0.0 else turned + math.tau
    return turned if turned < 0.0 else turned - math.tau


def cost_of_element(piece: Piece, values: Values, size: float) -> float:
    """The cost of one element with all its values known; ``size`` is that of the part, mm."""
    cost = BEYOND_AXIS if values[piece.end + 1].real < -1e-9 * size else 0.0
    if piece.is_line:
        return cost + values[piece.size].real / size
    sweep = abs(sweep_of(piece, values))
    cost += sweep / math.pi + sweep * abs(values[piece.size].real) / size
    return cost + (LONG_ARC if sweep > math.pi * (1.0 + 1e-9) else 0.0)


def cost_of_joint(arrive: complex, leave: complex) -> float:
    """The cost of a corner between the headings `arrive` and `leave`: travel that turns back is seldom meant."""
    turn = abs(cmath.phase(leave / arrive))
    return turn / math.pi + (SHARP_BACK if turn > _SHARP else 0.0)


def cost_of_bend(radius: float, next_radius: float) -> float:
    """The cost of two arcs that join smoothly (positive for ccw): most turn opposite ways.

    ``radius`` and ``next_radius`` are in mm.
    """
    return SAME_TURN if radius * next_radius > 0.0 else 0.0


def bends(pieces: Sequence[Piece]) -> list[tuple[int, int]]:
    """The sizes, as unknowns, of each two arcs that follow each other smoothly, with a line between them or none."""
    return [(a.size, b.size) for a, b in pairwise(p for p in pieces if not p.is_line) if a.arrive == b.leave]


def corners(pieces: Sequence[Piece]) -> list[tuple[Piece, Piece]]:
    """Each two elements that follow each other and meet in a corner."""
    return [(a, b) for a, b in pairwise(pieces) if b.index == a.index + 1 and a.arrive != b.leave]


def smooth_joints(pieces: Sequence[Piece]) -> list[int]:
    """The directions in which arcs join the elements after them smoothly, as unknowns."""
    return [a.arrive for a, b in pairwise(pieces) if a.arrive == b.leave and not (a.is_line and b.is_line)]


def cost_of_mirrored(smooth: Sequence[complex]) -> float:
    """The cost of joints of arcs (their directions) that lean alike, some toward the chuck and some away from it.

    A form that repeats goes the same way each time.

    >>> cost_of_mirrored([cmath.rect(1.0, 1.8), cmath.rect(1.0, math.pi - 1.8), 1j])
    0.5
    """
    ordered = sorted(smooth, key=lambda direction: direction.imag)
    cost, first = 0.0, 0
    for after in range(1, len(ordered) + 1):
        if after == len(ordered) or ordered[after].imag - ordered[after - 1].imag > SAME_LEAN:
            alike = [direction.real for direction in ordered[first:after]]
            cost += MIRRORED * len(alike) if min(alike) < -SAME_LEAN and max(alike) > SAME_LEAN else 0.0
            first = after
    return cost
