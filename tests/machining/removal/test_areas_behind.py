"""What of an area lies behind places along a line, against the geometry library's own clipping (shapely)."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from calc.contour import Line, Point
from calc.machining.removal.polygons import areas_behind

STAR = shapely.Polygon(
    [(0, 0), (7, 1), (9, 6), (5, 3), (3, 9), (1, 4)], holes=[[(2, 2), (4, 1.5), (3, 3)]]
)  # not convex, with a hole
BOTH = shapely.union_all([STAR, shapely.box(11.0, 2.0, 12.5, 8.0)])
PLACES = [-1.0, 0.0, 1.75, 3.0, 6.2, 11.5, 20.0]


@pytest.mark.parametrize(
    ("line", "kept"),
    [
        (Line(Point(0.0, 5.0), Point(9.0, 5.0)), lambda place: (-99.0, -99.0, place, 99.0)),
        (Line(Point(12.0, 5.0), Point(-9.0, 5.0)), lambda place: (12.0 - place, -99.0, 99.0, 99.0)),
        (Line(Point(4.0, 0.0), Point(4.0, 7.0)), lambda place: (-99.0, -99.0, 99.0, place)),
        (Line(Point(4.0, 9.0), Point(4.0, 1.0)), lambda place: (-99.0, 9.0 - place, 99.0, 99.0)),
    ],
)
def test_it_is_what_clipping_leaves(line: Line, kept) -> None:  # type: ignore[no-untyped-def]  # a box for a place
    clipped = [shapely.intersection(BOTH, shapely.box(*kept(place))).area for place in PLACES]
    assert areas_behind([BOTH], line, PLACES) == pytest.approx(np.array(clipped), abs=1e-9)
