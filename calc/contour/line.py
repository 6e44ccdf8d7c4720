"""The straight element."""

# ruff: noqa: D102 - what each method means stands at Curve

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from calc.contour.carriers import Straight
from calc.contour.curve import Curve
from calc.contour.errors import NoLength, NotFinite, NotPositive
from calc.contour.points import Bounds, Point, Vector
from calc.contour.sides import Side, toward


@dataclass(frozen=True)
class Line(Curve):
    """A straight element from ``start`` to ``end``, mm.

    Raises `NoLength` if they are one point, `NotFinite` for NaN or infinity.

    >>> line = Line(Point(0.0, 30.0), Point(-4.0, 27.0))
    >>> line.length
    5.0
    >>> Line(Point(0.0, 30.0), Point(-4.0, 30.0)).offset(2.0, "left").start
    Point(z=0.0, r=28.0)
    """

    start: Point
    end: Point

    def __post_init__(self) -> None:
        require_finite(self.start, self.end)
        if self.start == self.end:
            raise NoLength(self.start)

    @classmethod
    def at_angle(cls, start: Point, heading: float, length: float) -> Line:
        """The line of ``length`` mm from ``start`` at ``heading`` rad from +Z. Raises `NotPositive` for no length.

        >>> Line.at_angle(Point(0.0, 1.0), 0.0, 2.0).end
        Point(z=2.0, r=1.0)
        """
        if not length > 0.0:
            raise NotPositive("length", length)
        return cls(start, start.moved(Vector.at_angle(heading), length))

    @cached_property
    def length(self) -> float:
        return self.start.distance_to(self.end)

    @cached_property
    def direction(self) -> Vector:
        """The direction of travel, a unit vector."""
        return self.start.to(self.end).times(1.0 / self.length)

    @cached_property
    def carrier(self) -> Straight:
        return Straight(self.start, self.direction)

    @property
    def sweep(self) -> float:
        return 0.0

    @property
    def curvature(self) -> float:
        return 0.0

    def point_at(self, s: float) -> Point:
        if s == self.length:
            return self.end
        return self.start.moved(self.direction, s)

    def tangent_at(self, s: float) -> Vector:  # noqa: ARG002 - the same everywhere
        return self.direction

    def locate(self, point: Point) -> float:
        return self.direction.dot(self.start.to(point))

    def between(self, s_from: float, s_to: float) -> Line:
        return Line(self.point_at(s_from), self.point_at(s_to))

    def with_ends(self, start: Point, end: Point) -> Line:
        return self if (start, end) == (self.start, self.end) else Line(start, end)

    def reversed(self) -> Line:
        return Line(self.end, self.start)

    def shifted(self, dz: float, dr: float) -> Line:
        return Line(self.start.shifted(dz, dr), self.end.shifted(dz, dr))

    def mirrored(self) -> Line:
        return Line(self.start.mirrored(), self.end.mirrored())

    def scaled(self, factor: float) -> Line:
        return Line(
            Point(self.start.z * factor, self.start.r * factor), Point(self.end.z * factor, self.end.r * factor)
        )

    def offset(self, distance: float, side: Side) -> Line:
        step = self.direction.left().times(signed_distance(distance, side))
        return Line(self.start.moved(step), self.end.moved(step))

    def bounds(self) -> Bounds:
        return Bounds.around(self.start, self.end)

    def _positions_heading(self, along: Vector) -> list[float]:  # noqa: ARG002 - a line never turns
        return []


def require_finite(*points: Point) -> None:
    """Raise `NotFinite` for a coordinate that is NaN or infinite.

    >>> require_finite(Point(0.0, math.nan))
    Traceback (most recent call last):
    calc.contour.errors.NotFinite: r is nan, which is not a length
    """
    for z, r in points:
        if not math.isfinite(z):
            raise NotFinite("z", str(z))
        if not math.isfinite(r):
            raise NotFinite("r", str(r))


def signed_distance(distance: float, side: Side) -> float:
    """``distance`` mm as positive to the left of travel and negative to the right.

    Raises `NotFinite` for NaN or infinity and `NotPositive` below 0.

    >>> signed_distance(2.0, "right")
    -2.0
    """
    if not math.isfinite(distance):
        raise NotFinite("distance", str(distance))
    if distance < 0.0:
        raise NotPositive("distance", distance)
    return toward(side) * distance
