"""Distances between a moving outline and the part, exact at each position: segments against lines and arcs.

A convex outline with a rounded rim is its core grown by the nose radius, so it clears the part as long as the core is
at least one nose radius away.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from calc.contour import Arc, Element, Line, Point

Array = NDArray[np.float64]


def gap_to(core: Sequence[Point], centres: Sequence[Point], element: Element) -> Array:
    """Distance (mm) of the core from the element for each place of the nose centre; 0 where they cross.

    >>> wall = Line(Point(-5.0, 0.0), Point(5.0, 0.0))
    >>> triangle = (Point(0.0, 0.0), Point(4.0, 3.0), Point(-4.0, 3.0))
    >>> [round(float(gap), 9) for gap in gap_to(triangle, [Point(0.0, 2.0), Point(8.0, 0.0), Point(0.0, -1.0)], wall)]
    [2.0, 1.8, 0.0]
    """
    moved = _array(centres)
    corners = [moved + _array([corner]) for corner in core]
    if len(corners) == 1:
        return _from_points(corners[0], element)
    edges = zip(corners, (*corners[1:], corners[0]), strict=True)
    least: Array = np.min([_from_segments(a, b, element) for a, b in edges], axis=0)
    return least


def _array(points: Iterable[Point]) -> Array:
    return np.array([(point.z, point.r) for point in points], dtype=np.float64)


def _from_points(points: Array, element: Element) -> Array:
    if isinstance(element, Line):
        start, end = _array([element.start]), _array([element.end])
        return _points_to_segments(points, start, end)
    out = points - _array([element.centre])
    distance = np.hypot(out[:, 0], out[:, 1])
    ends = np.minimum(_length(points - _array([element.start])), _length(points - _array([element.end])))
    return np.where(_faces(out, element), np.abs(distance - element.radius), ends)


def _from_segments(a: Array, b: Array, element: Element) -> Array:
    """The least of: ends of each to the other, the foot on an arc, and 0 where they cross."""
    found = [_from_points(a, element), _from_points(b, element)]
    found += [_points_to_segments(_array([end]), a, b) for end in (element.start, element.end)]
    if isinstance(element, Line):
        return np.where(_segments_cross(a, b, element), 0.0, np.min(found, axis=0))
    centre = _array([element.centre])
    foot = _foot(centre, a, b)
    out = foot - centre
    distance = _length(out)
    found.append(np.where(_faces(out, element), np.abs(distance - element.radius), np.inf))
    return np.where(_crosses_arc(a, b, element), 0.0, np.min(found, axis=0))


def _length(vectors: Array) -> Array:
    length: Array = np.hypot(vectors[:, 0], vectors[:, 1])
    return length


def _foot(points: Array, a: Array, b: Array) -> Array:
    """The nearest point of each segment."""
    along = b - a
    size = np.maximum((along**2).sum(axis=1), 1e-300)
    share = np.clip(((points - a) * along).sum(axis=1) / size, 0.0, 1.0)
    foot: Array = a + share[:, None] * along
    return foot


def _points_to_segments(points: Array, a: Array, b: Array) -> Array:
    return _length(points - _foot(points, a, b))


def _cross(a: Array, b: Array) -> Array:
    product: Array = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    return product


def _segments_cross(a: Array, b: Array, line: Line) -> NDArray[np.bool_]:
    start, end = _array([line.start]), _array([line.end])
    along, step = end - start, b - a
    sides = _cross(along, a - start) * _cross(along, b - start)
    ends = _cross(step, start - a) * _cross(step, end - a)
    crossing: NDArray[np.bool_] = (sides < 0.0) & (ends < 0.0)
    return crossing


def _faces(out: Array, arc: Arc) -> NDArray[np.bool_]:
    """Whether the direction from the arc's centre lies within the arc."""
    sign = 1.0 if arc.turn == "ccw" else -1.0
    first = np.arctan2(arc.start.r - arc.centre.r, arc.start.z - arc.centre.z)
    turned = np.mod(sign * (np.arctan2(out[:, 1], out[:, 0]) - first), 2.0 * np.pi)
    faces: NDArray[np.bool_] = turned <= arc.angle
    return faces


def _crosses_arc(a: Array, b: Array, arc: Arc) -> NDArray[np.bool_]:
    centre = _array([arc.centre])
    along = b - a
    size = np.maximum((along**2).sum(axis=1), 1e-300)
    middle = -((a - centre) * along).sum(axis=1) / size
    nearest = a + middle[:, None] * along - centre
    half = (arc.radius**2 - (nearest**2).sum(axis=1)) / size
    root = np.sqrt(np.maximum(half, 0.0))
    crossing = np.zeros(len(a), dtype=np.bool_)
    for share in (middle - root, middle + root):
        on_arc = _faces(a + share[:, None] * along - centre, arc)
        crossing |= (half > 0.0) & (share >= 0.0) & (share <= 1.0) & on_arc
    return crossing
