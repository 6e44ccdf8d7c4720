"""Whether a blade passes over the walls and the bottom of a groove without cutting into the part beside them."""

from __future__ import annotations

from calc.contour import Chain
from calc.language.problems import Impossible
from calc.machining.blades import Blade, forbidden, walls
from calc.machining.job import Contour, Where
from calc.machining.removal.polygons import pairs, points_along
from calc.machining.roughing.planning import in_cutting_direction

INTO_IT = 5e-3
"""mm: a path that goes no farther than this into the part is taken for one along it."""


def cuts_into(blade: Blade, part: Contour, groove: Chain) -> bool:
    """Whether finishing the elements of a groove with a blade would cut into the part, or cannot be led at all.

    >>> from itertools import pairwise
    >>> from calc.contour import Line, Point
    >>> corners = [(0.0, 9.0), (-4.0, 9.0), (-4.0, 7.0), (-6.0, 7.0), (-6.0, 8.0), (-8.0, 8.0), (-8.0, 7.0)]
    >>> corners += [(-10.0, 7.0), (-10.0, 9.0), (-14.0, 9.0)]
    >>> ribbed = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))
    >>> cuts_into(Blade(1.5, 0.2, "outside"), Contour(ribbed, "right"), Chain(ribbed.elements[1:8]))
    True
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    side: Where = "bore" if blade.where == "bore" else "outside"
    chain, cut_side = in_cutting_direction(part.chain, part.side, side)
    bounds = chain.bounds
    reach = max(map(abs, (bounds.z_min, bounds.z_max, bounds.r_max)))
    ground = forbidden(blade, Contour(chain, cut_side), 0.0, 0.0, reach)
    try:
        paths = [[piece.centre for piece in way if piece.centre] for way in walls(blade, part, groove, 1.0)]
    except Impossible:
        return True
    lines = shapely.MultiLineString([pairs(points_along(path)).tolist() for path in paths if path])
    return bool(lines.intersection(ground.buffer(-INTO_IT)).length > INTO_IT)
