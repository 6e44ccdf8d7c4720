"""What a nose sweeps on the way of its centre, by a general geometry library, as shapes in the (z, r) half plane."""

from __future__ import annotations

import math
from collections.abc import Iterable

import shapely
from shapely import LineString

from calc.contour import Arc, Element
from calc.machining.passes import Piece

STEP = 0.02  # rad between points of an arc that stands for it


def points_of(element: Element) -> list[tuple[float, float]]:
    count = max(1, math.ceil(element.angle / STEP)) if isinstance(element, Arc) else 1
    points = [element.point_at(element.length * i / count) for i in range(count + 1)]
    return [(point.z, point.r) for point in points]


def swept(pieces: Iterable[Piece], nose: float) -> shapely.Geometry:
    """All places that the disc passes over, run-ins left out."""
    ways = [points_of(piece.centre) for piece in pieces if piece.centre is not None and not piece.in_air]
    return shapely.union_all([LineString(way).buffer(nose, quad_segs=90) for way in ways])
