"""The passes as pictures: what is left of the stock after each, the tool and its path."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from calc.answer.drawing import Picture
from calc.contour import Chain, Line, Point
from calc.language.messages import Message, Quantity
from calc.language.quantities import AREA, VOLUME
from calc.machining.machine import Done
from calc.machining.removal.polygons import Area, Places, rings
from calc.machining.removal.sweep import Outline
from calc.machining.removal.taking import Removal

COARSE = 0.01
"""mm: how far a pictured outline may be from the true one."""

BESIDE_PASSES = 2
"""Pictures beside one for each pass: of the stock and of the end."""


def pictures(done: Sequence[Done]) -> tuple[Picture, ...]:
    """One picture of the stock, one for each pass of operations, and a last one of what differs from the print."""
    chain, judged = done[-1].part.chain, done[-1].judged
    wrong = (*rings_of(judged.over), *rings_of(judged.under)) if judged.left or judged.too_deep else ()
    return (
        Picture("the stock", rings_of(done[0].regions.stock), chain),
        *(_step(each, one.operation.tool.outline, chain) for one in done for each in one.removals),
        Picture("the end", rings_of(done[-1].after.whole), chain, wrong=wrong),
    )


def _step(removal: Removal, outline: Outline, chain: Chain) -> Picture:
    fed = tuple(Chain(move.elements) for move in removal.tool_pass.moves if move.kind == "feed")
    values = {"area": Quantity(removal.area, AREA), "volume": Quantity(removal.volume, VOLUME)}
    return Picture(
        removal.name,
        rings_of(removal.left),
        chain,
        fed,
        insert_of(outline),
        outline.holders,
        note=Message("takes {area}, {volume}", values),
    )


@lru_cache(maxsize=16)
def insert_of(outline: Outline) -> tuple[Point, ...]:
    """The ring of an insert about its nose centre, mm.

    >>> len(insert_of(Outline((Point(0.0, 0.0),), 1.0))) > 8
    True
    """
    return tuple(Point(float(place.real), float(place.imag)) for place in outline.rim)


def rings_of(area: Area) -> tuple[tuple[Point, ...], ...]:
    """The outlines of an area to draw, no farther than `COARSE` from the true ones, mm.

    >>> import shapely
    >>> len(rings_of(shapely.box(0.0, 0.0, 2.0, 1.0))[0])
    4
    """
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
