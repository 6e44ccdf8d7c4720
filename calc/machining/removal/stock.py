"""The stock in slabs along Z, so that a cut is worked out only where it is and costs the same in a long part."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from calc.machining.removal.polygons import Area, only_areas, parts_of, united, volume

if TYPE_CHECKING:
    from shapely import STRtree

FEW = 48
"""Up to so many corners an area stays in one slab; more are shared out, about so many to each."""

MOST_SLABS = 96

HAIR = 1e-6
"""mm: areas no farther apart along an edge hang together."""

NOWHERE = (math.inf, math.inf, -math.inf, -math.inf)


@dataclass(frozen=True)
class Stock:
    """An area of the half plane (z, r), mm, cut into slabs between the `edges` along Z, each with its bounds.

    Never changed: cuts give new ones.
    """

    edges: tuple[float, ...]
    slabs: tuple[Area, ...]
    boxes: tuple[tuple[float, float, float, float], ...]

    @cached_property
    def whole(self) -> Area:
        """The area in one."""
        return united(self.slabs) if len(self.slabs) > 1 else self.slabs[0]

    @cached_property
    def pieces(self) -> tuple[Area, ...]:
        """What hangs together, each in one area; parts that only rounding between slabs keeps apart are one.

        >>> import shapely
        >>> parts = [shapely.box(low, 0.0, high, 9.0) for low, high in ((-5.0, -1e-12), (0.0, 4.0), (6.0, 7.0))]
        >>> [piece.bounds[2] for piece in stock_of(shapely.MultiPolygon(parts)).pieces]
        [4.0, 7.0]
        """
        found: list[list[Area]] = []
        for part in parts_of(self.whole):
            joined, apart = [part], list[list[Area]]()
            for piece in found:
                if any(_hang_together(part, each) for each in piece):
                    joined += piece
                else:
                    apart.append(piece)
            found = [*apart, joined]
        return tuple(united(piece) for piece in found)

    @property
    def area(self) -> float:
        """The area, mm2."""
        return float(sum(slab.area for slab in self.slabs))

    @property
    def volume(self) -> float:
        """What the area makes about the axis, mm3."""
        return sum(volume(slab) for slab in self.slabs)

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least z, least r, greatest z, greatest r (mm), of an empty stock all 0."""
        filled = [box for box in self.boxes if box[0] <= box[2]]
        if not filled:
            return 0.0, 0.0, 0.0, 0.0
        z_low, r_low, z_high, r_high = zip(*filled, strict=True)
        return min(z_low), min(r_low), max(z_high), max(r_high)

    def common(self, area: Area) -> list[Area]:
        """What the stock has in common with an area, slab by slab.

        >>> import shapely
        >>> stock = stock_of(shapely.box(-10.0, 0.0, 0.0, 5.0))
        >>> [part.area for part in stock.common(shapely.box(-2.0, 4.0, 1.0, 9.0))]
        [2.0]
        """
        return list(self.common_at(area).values())

    def common_at(self, area: Area) -> dict[int, Area]:
        """The same with the index of the slab."""
        found = {index: self.slabs[index].intersection(area) for index in self._asked(area)}
        return {index: part for index, part in found.items() if part.area > 0.0}

    def radii(self, low: float, high: float) -> tuple[float, float] | None:
        """The least and the largest radius (mm) of the stock between two z (mm); None where nothing is there.

        >>> import shapely
        >>> stock = stock_of(shapely.box(-10.0, 2.0, 0.0, 5.0))
        >>> stock.radii(-3.0, -1.0), stock.radii(1.0, 2.0)
        ((2.0, 5.0), None)
        """
        import shapely  # noqa: PLC0415 - loaded on first use

        found = [part.bounds for part in self.common(shapely.box(low, 0.0, high, self.bounds[3] + 1.0))]
        if not found:
            return None
        return max(min(float(box[1]) for box in found), 0.0), max(float(box[3]) for box in found)

    def meets(self, area: Area) -> bool:
        """Whether the stock touches an area or has something in common with it."""
        return any(self.slabs[index].intersects(area) for index in self._asked(area))

    def met_by(self, areas: Sequence[Area]) -> NDArray[np.bool_]:
        """The same for each of several areas.

        >>> import shapely
        >>> bar = stock_of(shapely.box(-10.0, 0.0, 0.0, 5.0), 199)
        >>> bar.met_by([shapely.box(-2.0, 4.0, 1.0, 9.0), shapely.box(0.5, 4.0, 1.0, 9.0)]).tolist()
        [True, False]
        """
        import shapely  # noqa: PLC0415 - loaded on first use

        if not self.edges:
            return np.asarray(shapely.intersects(self.slabs[0], areas))
        met = np.zeros(len(areas), dtype=bool)
        met[self._tree.query(areas, predicate="intersects")[0]] = True
        return met

    def prepared(self) -> Stock:
        """The same stock, made ready to be asked often what it meets."""
        import shapely  # noqa: PLC0415 - loaded on first use

        shapely.prepare(self.slabs)
        return self

    @cached_property
    def _tree(self) -> STRtree:
        import shapely  # noqa: PLC0415 - loaded on first use

        return shapely.STRtree(self.slabs)

    def less(self, area: Area, grid: float = 0.0, at: Iterable[int] | None = None) -> Stock:
        """The stock without an area; on a `grid` (mm) the library rounds first, and is then sure of its result.

        `at` are the slabs with which the area has something in common, where that is known.

        >>> import shapely
        >>> stock_of(shapely.box(-10.0, 0.0, 0.0, 5.0)).less(shapely.box(-2.0, 4.0, 1.0, 9.0)).area
        48.0
        """
        slabs, boxes = list(self.slabs), list(self.boxes)
        for index in self._near(area) if at is None else at:
            slabs[index] = only_areas(slabs[index].difference(area, grid_size=grid or None))
            boxes[index] = _box(slabs[index])
        return Stock(self.edges, tuple(slabs), tuple(boxes))

    def _asked(self, area: Area) -> Sequence[int]:
        """The slabs near an area; a single one is asked at once: the library itself looks at the bounds first."""
        return self._near(area) if self.edges else range(1)

    def _near(self, area: Area) -> list[int]:
        return [] if area.is_empty else self.near(area.bounds)

    def near(self, bounds: tuple[float, float, float, float]) -> list[int]:
        """The slabs whose bounds overlap others: least z, least r, greatest z, greatest r (mm).

        >>> import shapely
        >>> bar = stock_of(shapely.box(-10.0, 0.0, 0.0, 5.0), 199)
        >>> bar.near((-3.0, 4.0, -1.0, 9.0)), bar.near((-3.0, 5.1, -1.0, 9.0))
        ([2, 3], [])
        """
        z_low, r_low, z_high, r_high = bounds
        near = []
        for index in range(bisect_left(self.edges, z_low), bisect_right(self.edges, z_high) + 1):
            box = self.boxes[index]
            if box[0] <= z_high and box[2] >= z_low and box[1] <= r_high and box[3] >= r_low:
                near.append(index)
        return near


def stock_of(area: Area, corners: int = 0) -> Stock:
    """An area as a stock; `corners` is how many it will come to have, if more than now.

    >>> import shapely
    >>> bar = shapely.box(-10.0, 0.0, 0.0, 5.0)
    >>> len(stock_of(bar).slabs), len(stock_of(bar, 199).slabs)
    (1, 4)
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    count = min(max(corners, shapely.get_num_coordinates(area)) // FEW, MOST_SLABS)
    if count < 2 or area.is_empty:
        return Stock((), (area,), (_box(area),))
    z_low, r_low, z_high, r_high = area.bounds
    cuts = np.linspace(z_low, z_high, count + 1)
    boxes = [shapely.box(low, r_low, high, r_high) for low, high in pairwise(cuts.tolist())]
    slabs = [only_areas(area.intersection(box)) for box in boxes]
    return Stock(tuple(cuts[1:-1].tolist()), tuple(slabs), tuple(map(_box, slabs)))


def _hang_together(a: Area, b: Area) -> bool:
    """Whether two areas have an edge in common, but for a hair."""
    import shapely  # noqa: PLC0415 - loaded on first use

    return bool(shapely.union(a, b, grid_size=HAIR).geom_type == "Polygon")


def _box(area: Area) -> tuple[float, float, float, float]:
    """The bounds of an area; of an empty one such that nothing is within."""
    return NOWHERE if area.is_empty else area.bounds


def spread(stock: Stock, corners: int) -> Stock:
    """A stock shared out into slabs for the `corners` that it will come to have, if it is not yet."""
    return stock_of(stock.whole, corners) if len(stock.slabs) == 1 else stock
