"""The passes as pictures: what is left of the stock after each, the tool and its way."""

from __future__ import annotations

from calc.answer.drawing import Picture
from calc.contour import Chain, Line, Point
from calc.language.messages import Message, Quantity
from calc.language.quantities import AREA, VOLUME
from calc.machining.removal.polygons import Area, Places, rings
from calc.machining.removal.simulating import Removal, Simulation
from calc.machining.removal.sweep import Outline

COARSE = 0.01
"""mm: how far a pictured outline may be from the true one."""


def pictures_of(found: Simulation, outline: Outline, chain: Chain) -> tuple[Picture, ...]:
    """One picture of the stock, one for each pass, and a last one of what differs from the print."""
    insert = tuple(Point(float(place.real), float(place.imag)) for place in outline.rim)
    first = Picture("the stock", _rings(found.work.stock), chain)
    steps = [_step(removal, insert, outline, chain) for removal in found.removals]
    wrong = (*_rings(found.over), *_rings(found.under)) if found.proud or found.gouged else ()
    last = Picture("the end", _rings(found.left), chain, wrong=wrong)
    return (first, *steps, last)


def _step(removal: Removal, insert: tuple[Point, ...], outline: Outline, chain: Chain) -> Picture:
    fed = tuple(Chain(move.elements) for move in removal.tool_pass.moves if move.feed is not None)
    values = {"area": Quantity(removal.area, AREA), "volume": Quantity(removal.volume, VOLUME)}
    return Picture(
        removal.name,
        _rings(removal.left),
        chain,
        fed,
        insert,
        outline.holders,
        note=Message("takes {area}, {volume}", values),
    )


def _rings(area: Area) -> tuple[tuple[Point, ...], ...]:
    return tuple(tuple(ring) for ring in rings(area.simplify(COARSE)))


def chain_of_ring(places: Places, centre: Point) -> Chain:
    """Points about a centre as a closed chain of lines.

    >>> import numpy as np
    >>> chain_of_ring(np.array([0j, 1 + 0j, 1j]), Point(5.0, 5.0)).is_closed
    True
    """
    points = [centre.shifted(float(place.real), float(place.imag)) for place in places]
    pairs = zip(points, [*points[1:], points[0]], strict=True)
    return Chain(tuple(Line(a, b) for a, b in pairs if a.distance_to(b) > 1e-9))
