"""What elements lie on: the endless straight line and the whole circle, and where two of them meet."""

from __future__ import annotations

import math
from typing import NamedTuple, TypeAlias

from calc.contour.points import Point, Vector
from calc.contour.tolerance import ROUNDING


class Straight(NamedTuple):
    """An endless line through ``point`` along the unit vector ``direction``."""

    point: Point
    direction: Vector

    @property
    def size(self) -> float:
        """What rounding is relative to, mm."""
        return self.point.size

    def distance_to(self, point: Point) -> float:
        """Distance of ``point``, mm, positive to the left of the direction."""
        return self.direction.cross(self.point.to(point))

    def foot_of(self, point: Point) -> Point:
        """The point of the line nearest to ``point``."""
        return self.point.moved(self.direction, self.direction.dot(self.point.to(point)))


class Circle(NamedTuple):
    """A whole circle, mm."""

    centre: Point
    radius: float

    @property
    def size(self) -> float:
        """What rounding is relative to, mm."""
        return max(self.centre.size, self.radius)

    def distance_to(self, point: Point) -> float:
        """Distance of ``point`` from the circle, mm, positive outside."""
        return self.centre.distance_to(point) - self.radius


Carrier: TypeAlias = Straight | Circle


def meet(a: Carrier, b: Carrier) -> tuple[Point, ...]:
    """Where two carriers meet: none, one (crossing lines, or a touch) or two points.

    A touch (double root) is one point. Carriers that coincide, or are parallel, give none.

    >>> meet(Straight(Point(0.0, 0.0), Vector(1.0, 0.0)), Circle(Point(3.0, 4.0), 5.0))
    (Point(z=0.0, r=0.0), Point(z=6.0, r=0.0))
    """
    if isinstance(a, Straight):
        return _straight_straight(a, b) if isinstance(b, Straight) else _straight_circle(a, b)
    if isinstance(b, Straight):
        return _straight_circle(b, a)
    return _circle_circle(a, b)


def _straight_straight(a: Straight, b: Straight) -> tuple[Point, ...]:
    sine = a.direction.cross(b.direction)
    if abs(sine) <= ROUNDING / 64:
        return ()
    along = a.point.to(b.point).cross(b.direction) / sine
    return (a.point.moved(a.direction, along),)


def _straight_circle(line: Straight, circle: Circle) -> tuple[Point, ...]:
    distance = abs(line.distance_to(circle.centre))
    foot = line.foot_of(circle.centre)
    room = circle.radius - distance
    tolerance = ROUNDING * max(circle.size, foot.size)
    if abs(room) <= tolerance:
        return (foot,)
    if room < 0.0:
        return ()
    half_chord = math.sqrt(room * (circle.radius + distance))
    return (foot.moved(line.direction, -half_chord), foot.moved(line.direction, half_chord))


def _circle_circle(a: Circle, b: Circle) -> tuple[Point, ...]:
    small, large = (a, b) if a.radius <= b.radius else (b, a)
    apart = small.centre.distance_to(large.centre)
    tolerance = ROUNDING * max(small.size, large.size)
    if apart <= tolerance:
        return ()
    outside = apart - large.radius - small.radius
    inside = large.radius - small.radius - apart
    if max(outside, inside) > tolerance:
        return ()
    toward = small.centre.to(large.centre).times(1.0 / apart)
    if abs(outside) <= tolerance:
        return (small.centre.moved(toward, small.radius),)
    if abs(inside) <= tolerance:
        return (small.centre.moved(toward, -small.radius),)
    return _crossing_circles(small, large, apart, toward)


def _crossing_circles(small: Circle, large: Circle, apart: float, toward: Vector) -> tuple[Point, ...]:
    """Heron's product form keeps the half chord exact where the circles nearly touch."""
    r, R = small.radius, large.radius
    along = ((apart - R) * (apart + R) + r * r) / (2.0 * apart)
    product = (apart + R + r) * (R + r - apart) * (apart - R + r) * (apart + R - r)
    half_chord = math.sqrt(max(product, 0.0)) / (2.0 * apart)
    foot = small.centre.moved(toward, along)
    return (foot.moved(toward.left(), -half_chord), foot.moved(toward.left(), half_chord))
