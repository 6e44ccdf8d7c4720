"""Points and vectors of the half plane: z to the right (away from the chuck), r up (a radius, mm)."""

from __future__ import annotations

import math
from typing import NamedTuple


class Vector(NamedTuple):
    """A step in the plane, mm; or a direction, when its length is 1."""

    z: float
    r: float

    @classmethod
    def at_angle(cls, heading: float) -> Vector:
        """Unit vector at ``heading`` rad from +Z, counter-clockwise positive.

        >>> Vector.at_angle(0.0)
        Vector(z=1.0, r=0.0)
        """
        return cls(math.cos(heading), math.sin(heading))

    @property
    def length(self) -> float:
        """Length, mm."""
        return math.hypot(self.z, self.r)

    @property
    def heading(self) -> float:
        """Angle from +Z, rad, counter-clockwise positive, above -pi up to pi."""
        return math.atan2(self.r, self.z)

    def dot(self, other: Vector) -> float:
        """Scalar product, mm2."""
        return self.z * other.z + self.r * other.r

    def cross(self, other: Vector) -> float:
        """Product positive when ``other`` points to the left of this vector, mm2."""
        return self.z * other.r - self.r * other.z

    def times(self, factor: float) -> Vector:
        """The vector ``factor`` times as long."""
        return Vector(self.z * factor, self.r * factor)

    def unit(self) -> Vector:
        """The direction: the same vector with length 1."""
        return self.times(1.0 / self.length)

    def left(self) -> Vector:
        """The vector turned a quarter to the left."""
        return Vector(-self.r, self.z)

    def turned(self, angle: float) -> Vector:
        """The vector turned by ``angle`` rad, counter-clockwise positive."""
        c, s = math.cos(angle), math.sin(angle)
        return Vector(c * self.z - s * self.r, s * self.z + c * self.r)


class Point(NamedTuple):
    """A point: ``z`` mm along the axis, ``r`` mm from it (negative beyond the axis)."""

    z: float
    r: float

    def to(self, other: Point) -> Vector:
        """The step from here to ``other``.

        >>> Point(0.0, 10.0).to(Point(-3.0, 14.0)).length
        5.0
        """
        return Vector(other.z - self.z, other.r - self.r)

    def moved(self, step: Vector, times: float = 1.0) -> Point:
        """The point ``times`` steps away."""
        return Point(self.z + times * step.z, self.r + times * step.r)

    def shifted(self, dz: float, dr: float) -> Point:
        """The point moved by ``dz`` and ``dr`` mm."""
        return Point(self.z + dz, self.r + dr)

    def scaled(self, factor: float) -> Point:
        """The point ``factor`` times as far from z = r = 0."""
        return Point(self.z * factor, self.r * factor)

    def mirrored(self) -> Point:
        """The point on the other side of the axis."""
        return Point(self.z, -self.r)

    def distance_to(self, other: Point) -> float:
        """Straight distance, mm."""
        return math.hypot(other.z - self.z, other.r - self.r)

    def midway_to(self, other: Point) -> Point:
        """The point halfway to ``other``."""
        return Point((self.z + other.z) / 2.0, (self.r + other.r) / 2.0)

    @property
    def size(self) -> float:
        """The larger of the two coordinates without sign, mm: what rounding is relative to."""
        return max(abs(self.z), abs(self.r))


class Bounds(NamedTuple):
    """The smallest upright rectangle around something, mm."""

    z_min: float
    z_max: float
    r_min: float
    r_max: float

    @classmethod
    def around(cls, *points: Point) -> Bounds:
        """Bounds of one or more points.

        >>> Bounds.around(Point(0.0, 5.0), Point(-2.0, 8.0))
        Bounds(z_min=-2.0, z_max=0.0, r_min=5.0, r_max=8.0)
        """
        zs, rs = zip(*points, strict=True)
        return cls(min(zs), max(zs), min(rs), max(rs))

    def joined(self, other: Bounds) -> Bounds:
        """Bounds around both."""
        return Bounds(
            min(self.z_min, other.z_min),
            max(self.z_max, other.z_max),
            min(self.r_min, other.r_min),
            max(self.r_max, other.r_max),
        )

    def overlaps(self, other: Bounds, margin: float = 0.0) -> bool:
        """Whether the two come within ``margin`` mm of each other."""
        return (
            self.z_min <= other.z_max + margin
            and other.z_min <= self.z_max + margin
            and self.r_min <= other.r_max + margin
            and other.r_min <= self.r_max + margin
        )

    @property
    def size(self) -> float:
        """The largest coordinate without sign, mm."""
        return max(map(abs, self))
