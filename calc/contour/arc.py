"""The circular element."""

# ruff: noqa: D102 - what each method means stands at Curve

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal, TypeAlias

from calc.contour.carriers import Circle
from calc.contour.curve import Curve
from calc.contour.errors import ArcVanishes, NoArc, NoLength, NotPositive, RadiiDisagree, RadiusTooSmall
from calc.contour.line import require_finite, signed_distance
from calc.contour.points import Bounds, Point, Vector
from calc.contour.sides import Side
from calc.contour.tolerance import GAP, ROUNDING

Turn: TypeAlias = Literal["cw", "ccw"]
"""How an arc turns, seen with +Z to the right and +X up."""


@dataclass(frozen=True)
class Arc(Curve):
    """A circular element from ``start`` to ``end`` about ``centre``, mm, of less than a full turn.

    Raises `NoLength` if start and end are one point (a whole circle is two arcs), `RadiiDisagree` if they are not
    equally far from the centre, `NotFinite` for NaN or infinity.

    >>> arc = Arc(Point(0.0, 10.0), Point(-10.0, 0.0), Point(0.0, 0.0), "ccw")
    >>> arc.radius, round(arc.length, 6)
    (10.0, 15.707963)
    >>> arc.offset(4.0, "left").radius
    6.0
    """

    start: Point
    end: Point
    centre: Point
    turn: Turn
    radius: float = field(init=False, repr=False, compare=False)
    """Radius, mm."""

    def __post_init__(self) -> None:
        require_finite(self.start, self.end, self.centre)
        start_radius, end_radius = self.centre.distance_to(self.start), self.centre.distance_to(self.end)
        if self.start == self.end or min(start_radius, end_radius) == 0.0:
            raise NoLength(self.start)
        off = abs(start_radius - end_radius)
        if off and off > GAP * max(self.start.size, self.end.size, self.centre.size):
            raise RadiiDisagree(start_radius, end_radius)
        object.__setattr__(self, "radius", (start_radius + end_radius) / 2.0)

    @classmethod
    def from_angles(cls, centre: Point, radius: float, start_angle: float, end_angle: float, turn: Turn) -> Arc:
        """The arc about ``centre`` between two directions from it, rad from +Z. Raises `NotPositive` for the radius.

        >>> arc = Arc.from_angles(Point(0.0, 0.0), 5.0, 0.0, math.pi / 2, "ccw")
        >>> round(arc.length, 6)
        7.853982
        """
        if not radius > 0.0:
            raise NotPositive("radius", radius)
        start, end = (centre.moved(Vector.at_angle(angle), radius) for angle in (start_angle, end_angle))
        return cls(start, end, centre, turn)

    @classmethod
    def from_radius(cls, start: Point, end: Point, radius: float, turn: Turn, *, long: bool = False) -> Arc:
        """The arc of ``radius`` mm between two points; ``long`` picks the one of more than half a turn.

        Raises `RadiusTooSmall` when the points are farther apart than the diameter.

        >>> Arc.from_radius(Point(0.0, 4.0), Point(0.0, -4.0), 5.0, "ccw").centre
        Point(z=3.0, r=0.0)
        >>> Arc.from_radius(Point(0.0, 4.0), Point(0.0, -4.0), 5.0, "ccw", long=True).centre
        Point(z=-3.0, r=0.0)
        """
        if not radius > 0.0:
            raise NotPositive("radius", radius)
        half_chord = start.distance_to(end) / 2.0
        if half_chord == 0.0:
            raise NoLength(start)
        if half_chord - radius > ROUNDING * max(start.size, end.size, radius):
            raise RadiusTooSmall(radius, half_chord)
        away = math.sqrt(max((radius - half_chord) * (radius + half_chord), 0.0))
        to_left = away if (turn == "ccw") != long else -away
        return cls(start, end, start.midway_to(end).moved(start.to(end).unit().left(), to_left), turn)

    @classmethod
    def through(cls, start: Point, via: Point, end: Point) -> Arc:
        """The arc from ``start`` over ``via`` to ``end``. Raises `NoArc` when they lie on a straight line.

        >>> Arc.through(Point(5.0, 0.0), Point(0.0, 5.0), Point(-5.0, 0.0)).centre
        Point(z=0.0, r=0.0)
        >>> Arc.through(Point(-0.6, 0.8), Point(0.0, 1.0), Point(0.6, 0.8)).turn
        'cw'
        """
        a, b = start.to(via), start.to(end)
        twice_area = a.cross(b)
        if abs(twice_area) <= ROUNDING * a.length * b.length:
            raise NoArc(start, end)
        aa, bb = a.dot(a), b.dot(b)
        centre = start.shifted((b.r * aa - a.r * bb) / (2.0 * twice_area), (a.z * bb - b.z * aa) / (2.0 * twice_area))
        return cls(start, end, centre, "ccw" if twice_area > 0.0 else "cw")

    @classmethod
    def leaving(cls, start: Point, heading: float, end: Point) -> Arc:
        """The arc that leaves ``start`` at ``heading`` rad from +Z and goes to ``end``: it joins smoothly before.

        Raises `NoArc` when ``end`` lies straight ahead or straight behind, `NoLength` when it is the start.

        >>> arc = Arc.leaving(Point(0.0, 0.0), 0.0, Point(5.0, 5.0))
        >>> arc.turn, round(arc.radius, 9)
        ('ccw', 5.0)
        """
        if start == end:
            raise NoLength(start)
        step, left = start.to(end), Vector.at_angle(heading).left()
        aside = left.dot(step)
        if abs(aside) <= ROUNDING * step.length:
            raise NoArc(start, end)
        return cls(start, end, start.moved(left, step.dot(step) / (2.0 * aside)), "ccw" if aside > 0.0 else "cw")

    @cached_property
    def angle(self) -> float:
        """The angle between the directions to start and end along the arc, rad, above 0 and below a full turn."""
        turned = self._turned_to(self.end)
        return turned if turned > 0.0 else turned + math.tau

    @property
    def sweep(self) -> float:
        return self._sign * self.angle

    @property
    def curvature(self) -> float:
        return self._sign / self.radius

    @cached_property
    def length(self) -> float:
        return self.radius * self.angle

    @cached_property
    def carrier(self) -> Circle:
        return Circle(self.centre, self.radius)

    @property
    def sagitta(self) -> float:
        """Height of the arc above its chord, mm."""
        return 2.0 * self.radius * math.sin(self.angle / 4.0) ** 2

    @property
    def _sign(self) -> float:
        return 1.0 if self.turn == "ccw" else -1.0

    def _turned_to(self, point: Point) -> float:
        """Angle from the start to ``point`` in the sense of the turn, -pi to pi, exact on shallow arcs too."""
        out = self.centre.to(self.start)
        return math.atan2(self._sign * out.cross(self.start.to(point)), out.dot(self.centre.to(point)))

    def point_at(self, s: float) -> Point:
        if s == self.length:
            return self.end
        if s == 0.0:
            return self.start
        half = s / self.radius / 2.0
        return self.start.moved(self.tangent_at(s / 2.0), 2.0 * self.radius * math.sin(half))

    def tangent_at(self, s: float) -> Vector:
        return self._ahead.turned(self._sign * s / self.radius)

    @cached_property
    def _ahead(self) -> Vector:
        """The direction of travel at the start."""
        return self.centre.to(self.start).left().times(self._sign / self.centre.distance_to(self.start))

    def locate(self, point: Point) -> float:
        turned = self._turned_to(point)
        if turned < self.angle / 2.0 - math.pi:
            turned += math.tau
        return turned * self.radius

    def between(self, s_from: float, s_to: float) -> Arc:
        return Arc(self.point_at(s_from), self.point_at(s_to), self.centre, self.turn)

    def with_ends(self, start: Point, end: Point) -> Arc:
        return self if (start, end) == (self.start, self.end) else Arc(start, end, self.centre, self.turn)

    def reversed(self) -> Arc:
        return Arc(self.end, self.start, self.centre, opposite(self.turn))

    def shifted(self, dz: float, dr: float) -> Arc:
        return Arc(self.start.shifted(dz, dr), self.end.shifted(dz, dr), self.centre.shifted(dz, dr), self.turn)

    def mirrored(self) -> Arc:
        return Arc(self.start.mirrored(), self.end.mirrored(), self.centre.mirrored(), opposite(self.turn))

    def scaled(self, factor: float) -> Arc:
        return Arc(self.start.scaled(factor), self.end.scaled(factor), self.centre.scaled(factor), self.turn)

    def offset(self, distance: float, side: Side) -> Arc:
        inward = self._sign * signed_distance(distance, side)
        if inward >= self.radius * (1.0 - ROUNDING):
            raise ArcVanishes(self.radius, distance)
        start, end = (p.moved(p.to(self.centre).unit(), inward) for p in (self.start, self.end))
        return Arc(start, end, self.centre, self.turn)

    def bounds(self) -> Bounds:
        return self._bounds

    @cached_property
    def _bounds(self) -> Bounds:
        extremes = (self.centre.shifted(self.radius * z, self.radius * r) for z, r in _QUARTERS)
        return Bounds.around(self.start, self.end, *(p for p in extremes if 0.0 < self.locate(p) < self.length))

    def _positions_heading(self, along: Vector) -> list[float]:
        aside = along.left().times(self.radius)
        return [self.locate(self.centre.moved(aside, side)) for side in (1.0, -1.0)]


_QUARTERS = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))


def opposite(turn: Turn) -> Turn:
    """The other turn.

    >>> opposite("cw")
    'ccw'
    """
    return "cw" if turn == "ccw" else "ccw"
