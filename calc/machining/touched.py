"""What the nose touches along a pass: how deep the pass cuts is the distance of what it takes from there."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from calc.contour import Arc, ContourError, Element, Point, Turn
from calc.machining.job import Move
from calc.machining.passes import Piece
from calc.machining.roughing.planning import Planned

SAME = 1e-9
"""mm: places nearer than this are one."""


def contacts_of(planned: Planned, moves: Sequence[Move], nose: float) -> list[Element]:
    """What the nose touches along a pass, and its arcs in inside corners and at the end, for the depth of the cut.

    Of the `moves` before it (nose radius in mm) the path in belongs to it where that cuts too: how deep a pass cuts is
    not how far from its own beginning the stock ends.
    """
    planned = _led(planned, moves, nose)
    touched: list[Element] = []
    for index, piece in enumerate(planned.pieces):
        contact = piece.contact
        if isinstance(contact, Point):
            continue
        if touched and touched[-1].end.distance_to(contact.start) > SAME:
            joint = planned.pieces[index].path.start
            turn = joint.to(touched[-1].end).cross(joint.to(contact.start))
            touched += _rounding(touched[-1].end, contact.start, joint, "ccw" if turn > 0.0 else "cw")
        touched.append(contact)
    for index, sense in ((0, -1.0), (-1, 1.0)):
        touched += _rounded_end(planned, index, sense)
    return touched


def _led(planned: Planned, moves: Sequence[Move], nose: float) -> Planned:
    """The pass with the path in before it where that cuts too."""
    if not moves or moves[-1].why != "cut":
        return planned
    path = moves[-1].elements[0]
    side = path.tangent_at(0.0).left()
    out = side.dot(planned.away)
    inward = -math.copysign(nose, out) if abs(out) > SAME else 0.0
    contact = path.shifted(side.z * inward, side.r * inward)
    return replace(planned, pieces=(Piece(contact, path, planned.pieces[0].feed), *planned.pieces))


def _rounded_end(planned: Planned, index: int, sense: float) -> list[Element]:
    """The nose's arc ahead of where a pass ends, or behind where it begins (`sense` -1)."""
    contact, centre = planned.pieces[index].contact, planned.pieces[index].path
    if isinstance(contact, Point):
        return []
    here, touched = (centre.end, contact.end) if sense > 0.0 else (centre.start, contact.start)
    ahead = centre.tangent_at(centre.length if sense > 0.0 else 0.0).times(sense * here.distance_to(touched))
    turn = here.to(touched).cross(ahead)
    return _rounding(touched, here.moved(ahead), here, "ccw" if turn > 0.0 else "cw")


def _rounding(start: Point, end: Point, joint: Point, turn: Turn) -> list[Element]:
    """The nose's arc about a joint of its path; none where the two places are not as far from it."""
    try:
        return [Arc(start, end, joint, turn)]
    except ContourError:
        return []
