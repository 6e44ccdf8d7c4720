"""Roughing level by level: straight passes along Z or along X, each as far as the nose may go."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from calc.contour import Chain, Line, Point, Side
from calc.machining.removal.polygons import Area
from calc.machining.removal.region import led_on, tool_side, work_of
from calc.machining.removal.sweep import Outline, swept

Way = Literal["along z", "along x"]
Where = Literal["outside", "bore", "face"]

SLIVER = 1e-4
"""mm2: a level that takes less than this is left out."""

TOUCH = 1e-6
"""mm: levels keep so far off a surface along which they run."""

SHORT = 1e-3
"""mm: a stretch of a level shorter than this is left out."""


@dataclass(frozen=True, slots=True)
class Keeping:
    """What is kept for finishing (mm): along Z and, of a radius, along X, on every side of the contour."""

    along_z: float = 0.0
    along_x: float = 0.0

    @property
    def corners(self) -> tuple[Point, ...]:
        """The rectangle that keeps both, counter-clockwise; a point when nothing is kept."""
        z, x = self.along_z, self.along_x
        if z == 0.0 and x == 0.0:
            return (Point(0.0, 0.0),)
        z, x = max(z, 1e-6), max(x, 1e-6)
        return (Point(-z, -x), Point(z, -x), Point(z, x), Point(-z, x))


@dataclass(frozen=True, slots=True)
class Ground:
    """Where the nose centre may not be (an area), and what there is to take (an area), for a nose (mm)."""

    forbidden: Area
    to_take: Area
    nose: float
    keeping: Keeping = Keeping()


def ground_of(stock: Area, chain: Chain, side: Side, nose: float, keeping: Keeping) -> Ground:
    """The ground for roughing a contour out of a stock with a nose (mm), keeping the allowances.

    >>> from calc.machining.removal.region import Bar
    >>> turned = Chain((Line(Point(0.0, 6.0), Point(-3.0, 6.0)),))
    >>> round(ground_of(Bar(10.0, 0.0, -8.0).area(), turned, "right", 0.8, Keeping()).to_take.area, 6)
    15.2
    """
    work = work_of(stock, chain, side, nose)
    reach = max(map(abs, stock.bounds))
    beyond = tool_side(chain, side, 4.0 * reach)
    near = swept(Outline(keeping.corners, nose), list(led_on(chain, side, reach + nose)))
    import shapely  # noqa: PLC0415 - loaded on first use

    whole = shapely.box(*(side_ * 8.0 * (reach + nose) for side_ in (-1.0, -1.0, 1.0, 1.0)))
    return Ground(whole.difference(beyond).union(near), work.to_remove, nose, keeping)


def levels(ground: Ground, way: Way, where: Where, depth: float, before: float) -> Iterator[list[Line]]:
    """For each level, from the outside of what is to take inward, the stretches that the nose centre goes, in order.

    Stretches that would cut nothing are left out. `depth` (mm) is how much a level takes at most, `before` (mm) how far
    off the stock a stretch begins that is open to where the tool comes from.
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    z_low, r_low, z_high, r_high = _to_the_allowance(ground, where)
    across, inward = (r_high - r_low, "r") if way == "along z" else (z_high - z_low, "z")
    count = max(1, -int(-across / depth * (1.0 - 1e-9) // 1))
    step = across / count
    left = ground.to_take
    for number in range(1, count + 1):
        if inward == "r":
            away = ground.nose + TOUCH
            r = r_low + number * step - away if where == "bore" else r_high - number * step + away
            line = shapely.LineString([(z_high + before + ground.nose, r), (z_low - ground.nose, r)])
        else:
            z = z_high - number * step + ground.nose + TOUCH
            ends = [(z, r_high + before + ground.nose), (z, min(r_low, 0.0))]
            line = shapely.LineString(ends[::-1] if where == "bore" else ends)
        lines = []
        for part in _straight(line.difference(ground.forbidden)):
            slot = swept(Outline((Point(0.0, 0.0),), ground.nose), [part])
            if left.intersection(slot).area > SLIVER:
                lines.append(_to_where_it_cuts(part, left, ground.nose))
                left = left.difference(slot)
        if lines:
            yield lines


def _to_the_allowance(ground: Ground, where: Where) -> tuple[float, float, float, float]:
    """The bounds of what is to take by the levels; at the axis nothing is kept."""
    z_low, r_low, z_high, r_high = ground.to_take.bounds
    keeping = ground.keeping
    if where == "bore":
        r_high -= keeping.along_x
    elif r_low > keeping.along_x:
        r_low += keeping.along_x
    return z_low + keeping.along_z, r_low, z_high, r_high


def _straight(parts: Area) -> list[Line]:
    lines = [
        part for part in getattr(parts, "geoms", [parts]) if part.geom_type == "LineString" and part.length > SHORT
    ]
    return [Line(Point(*part.coords[0]), Point(*part.coords[-1])) for part in lines]


def _to_where_it_cuts(line: Line, left: Area, nose: float) -> Line:
    """The line ended one nose behind the last place where there is anything to take."""
    import shapely  # noqa: PLC0415 - loaded on first use

    slot = swept(Outline((Point(0.0, 0.0),), nose), [line]).intersection(left)
    places = shapely.get_coordinates(slot)
    last = max(line.locate(Point(float(z), float(r))) for z, r in places)
    return line.between(0.0, min(line.length, last + nose)) if last + nose < line.length else line
