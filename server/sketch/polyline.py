"""Path data of lines through many points, kept short."""

from __future__ import annotations

import math
from collections.abc import Sequence

from server.sketch.markup import num

TOLERANCE = 0.25
"""By how much a point may lie off the way and still be left out, px."""


def polyline(points: Sequence[tuple[float, float]], tolerance: float = TOLERANCE) -> str:
    """Path data through points, without those that lie on the way by less than `tolerance` px.

    >>> polyline([(0, 0), (5, 0.1), (10, 0)])
    'M0 0L10 0'
    """
    kept = [points[0], *_kept(points, tolerance), points[-1]] if len(points) > 1 else list(points)
    return "M" + "L".join(f"{num(x)} {num(y)}" for x, y in kept)


def _kept(points: Sequence[tuple[float, float]], tolerance: float) -> list[tuple[float, float]]:
    """The inner points that matter (Douglas and Peucker)."""
    (x1, y1), (x2, y2) = points[0], points[-1]
    dx, dy = x2 - x1, y2 - y1
    length = math.hypot(dx, dy)
    far, index = 0.0, 0
    for place, (x, y) in enumerate(points[1:-1], 1):
        away = abs(dx * (y - y1) - dy * (x - x1)) / length if length else math.hypot(x - x1, y - y1)
        if away > far:
            far, index = away, place
    if far <= tolerance:
        return []
    return [*_kept(points[: index + 1], tolerance), points[index], *_kept(points[index:], tolerance)]
