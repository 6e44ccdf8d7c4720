"""Stock that is not a plain bar: turned before, or forged."""

from __future__ import annotations

import shapely

from calc.machining.removal.region import Bar
from calc.machining.removal.stock import Stock, stock_of


def blank(bar: tuple[float, float, float], *taken: tuple[float, float, float, float]) -> Stock:
    """A bar (radius, front, back; mm) less rings, each from a radius to a radius between two z."""
    area = Bar(*bar).area()
    for r_low, r_high, z_low, z_high in taken:
        area = area.difference(shapely.box(z_low, r_low, z_high, r_high + 1.0))
    return stock_of(area)
