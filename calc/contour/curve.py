"""What a line and an arc have in common: a path of known length from a start to an end."""

from __future__ import annotations

from abc import ABC, abstractmethod
from functools import cached_property
from itertools import pairwise
from typing import Self

from calc.contour.carriers import Carrier, Straight, meet
from calc.contour.points import Bounds, Point, Vector
from calc.contour.sides import Side, toward
from calc.contour.tolerance import ROUNDING

_ALONG_Z = Vector(1.0, 0.0)
_ALONG_R = Vector(0.0, 1.0)


class Curve(ABC):
    """A bounded element of a contour. Positions ``s`` are mm from the start; beyond 0..length they prolong it."""

    start: Point
    end: Point

    @property
    @abstractmethod
    def length(self) -> float:
        """Length of the path, mm."""

    @property
    @abstractmethod
    def carrier(self) -> Carrier:
        """The endless line or whole circle that the element lies on."""

    @property
    @abstractmethod
    def sweep(self) -> float:
        """The angle that the heading turns from start to end, rad: counter-clockwise positive, 0 on a line."""

    @property
    @abstractmethod
    def curvature(self) -> float:
        """Heading change per length, 1/mm: counter-clockwise positive, 0 on a line."""

    @abstractmethod
    def point_at(self, s: float) -> Point:
        """The point after ``s`` mm of travel."""

    @abstractmethod
    def tangent_at(self, s: float) -> Vector:
        """The direction of travel after ``s`` mm, a unit vector."""

    @abstractmethod
    def locate(self, point: Point) -> float:
        """The position ``s``, mm, of the nearest point of the element prolonged both ways; below 0 before the start."""

    @abstractmethod
    def between(self, s_from: float, s_to: float) -> Self:
        """The part from position ``s_from`` to ``s_to`` (above it), mm."""

    @abstractmethod
    def with_ends(self, start: Point, end: Point) -> Self:
        """The part of the carrier from one point of it to another, travelled the same way."""

    @abstractmethod
    def reversed(self) -> Self:
        """The same path travelled the other way."""

    @abstractmethod
    def shifted(self, dz: float, dr: float) -> Self:
        """The element moved by ``dz`` and ``dr`` mm."""

    @abstractmethod
    def mirrored(self) -> Self:
        """The element on the other side of the axis (r becomes -r)."""

    @abstractmethod
    def scaled(self, factor: float) -> Self:
        """The element ``factor`` (above 0) times as large, about z = r = 0."""

    @abstractmethod
    def offset(self, distance: float, side: Side) -> Self:
        """The exact parallel ``distance`` mm (0 or more) to the ``side`` of travel.

        Raises `ArcVanishes` where an arc would shrink to nothing.
        """

    @abstractmethod
    def bounds(self) -> Bounds:
        """The smallest upright rectangle around the element, mm."""

    @cached_property
    def size(self) -> float:
        """The largest coordinate involved, mm: what rounding is relative to."""
        return max(self.start.size, self.end.size, self.carrier.size)

    @cached_property
    def tolerance(self) -> float:
        """What rounding may make of this element, mm."""
        return ROUNDING * self.size

    @property
    def chord(self) -> float:
        """Straight distance from start to end, mm."""
        return self.start.distance_to(self.end)

    def normal_at(self, s: float, side: Side) -> Vector:
        """The direction square to travel toward a side after ``s`` mm, a unit vector."""
        return self.tangent_at(s).left().times(toward(side))

    def heading_at(self, s: float) -> float:
        """The direction of travel after ``s`` mm, rad from +Z, counter-clockwise positive."""
        return self.tangent_at(s).heading

    @property
    def start_heading(self) -> float:
        """The direction of travel at the start, rad from +Z."""
        return self.heading_at(0.0)

    @property
    def end_heading(self) -> float:
        """The direction of travel at the end, rad from +Z."""
        return self.heading_at(self.length)

    def nearest(self, point: Point) -> Point:
        """The point of the element nearest to ``point``."""
        return self.point_at(min(max(self.locate(point), 0.0), self.length))

    def distance_to(self, point: Point) -> float:
        """Distance of ``point`` from the element, mm."""
        return self.nearest(point).distance_to(point)

    def spans(self, point: Point) -> bool:
        """Whether a point of the carrier lies between start and end, ends included within rounding."""
        return -self.tolerance <= self.locate(point) <= self.length + self.tolerance

    def split(self, *positions: float) -> list[Self]:
        """The pieces between the given positions (mm, any order); cuts at the very ends are none.

        Raises no error for positions outside the element: they cut nothing.
        """
        inner = sorted(s for s in positions if self.tolerance < s < self.length - self.tolerance)
        if not inner:
            return [self]
        cuts = [0.0]
        cuts += [s for before, s in pairwise([0.0, *inner]) if s - before > self.tolerance]
        return [self.between(a, b) for a, b in pairwise([*cuts, self.length])]

    def split_where_r_turns(self) -> list[Self]:
        """The pieces on each of which r only rises or only falls (or stays)."""
        return self.split(*self._positions_heading(_ALONG_Z))

    def split_where_z_turns(self) -> list[Self]:
        """The pieces on each of which z only rises or only falls (or stays)."""
        return self.split(*self._positions_heading(_ALONG_R))

    @abstractmethod
    def _positions_heading(self, along: Vector) -> list[float]:
        """Positions at which travel turns through the direction ``along``, either way."""

    def points_at_r(self, r: float) -> list[Point]:
        """The points at radius ``r`` mm in order of travel; a line that keeps this radius gives its two ends."""
        return self._points_on(Straight(Point(self.start.z, r), _ALONG_Z))

    def points_at_z(self, z: float) -> list[Point]:
        """The points at ``z`` mm in order of travel; a line that keeps this z gives its two ends."""
        return self._points_on(Straight(Point(z, self.start.r), _ALONG_R))

    def _points_on(self, line: Straight) -> list[Point]:
        if all(abs(line.distance_to(end)) <= self.tolerance for end in (self.start, self.end)) and not self.curvature:
            return [self.start, self.end]
        return sorted(filter(self.spans, meet(line, self.carrier)), key=self.locate)
