"""How likely a print means an element as it came out: the lower the cost, the likelier.

Common practice, no source: a contour stays on its side of the axis, arcs are shorter than half a turn, travel goes on
rather than back, and of two ways the shorter is meant.
"""

from __future__ import annotations

import cmath
import math

from calc.contour.solving.unknowns import Piece, Values

BEYOND_AXIS = 20.0
LONG_ARC = 6.0
SHARP_BACK = 3.0
CROSSING = 100.0
SAME_TURN = 0.5
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
