"""Cutting time at constant surface speed with a spindle limit, along exact lines and arcs.

Two paths run side by side. The *speed path* is that of the point whose distance from the axis sets the spindle:
the contact of the nose, or the tool point. The *feed length* is what is travelled at the feed per revolution: the
contour's length, or that of the nose centre's path. Both are passed over in proportion. Where the spindle follows the
surface speed, a revolution takes longer the farther out it is, and the mean distance from the axis decides; where the
limit holds, only the number of revolutions counts. The speed path is cut where one becomes the other and at the axis.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import inf, pi, sin
from typing import NamedTuple, TypeAlias

from calc.contour import Arc, Element, Point
from calc.cutting.speed import limit_diameter
from calc.language.checks import require_positive
from calc.language.quantities import Angle, Diameter, Feed, Length, SpindleSpeed, SurfaceSpeed, Time
from calc.language.working import formula

SpeedPath: TypeAlias = Element | Point
"""A line or arc; or a point where the nose swings round a sharp edge while the contact stays."""


@formula(source="geometry", means="mean diameter along a line", result="D_m")
def mean_diameter_of_line(D_1: Diameter, D_2: Diameter) -> Diameter:
    """Mean diameter [mm] along a straight stretch between two diameters [mm]. Source: geometry.

    >>> mean_diameter_of_line(100.0, 0.0)
    50.0
    """
    return (D_1 + D_2) / 2


@formula(source="geometry: centroid of a circular arc", means="mean diameter along an arc", result="D_m")
def mean_diameter_of_arc(D_c: Diameter, D_h: Diameter, alpha: Angle) -> Diameter:
    """Mean diameter [mm] along an arc. Source: centroid of a circular arc.

    `D_c` is the diameter on which the arc's centre stands [mm, negative beyond the axis], `D_h` that of the point
    halfway along the arc [mm], `alpha` half of the angle that the arc spans [rad, above 0].

    >>> round(mean_diameter_of_arc(0.0, 20.0, pi / 2), 6)
    12.732395
    """
    return D_c + (D_h - D_c) * sin(alpha) / alpha


@formula(source="revolutions at constant surface speed", means="time at constant surface speed", result="t_v")
def time_at_surface_speed(D_m: Diameter, L: Length, v: SurfaceSpeed, f: Feed) -> Time:
    """Time [min] for the length `L` [mm] at feed `f` [mm/rev] and surface speed `v` [mm/min] on a mean diameter [mm].

    The spindle turns L / f times, and one turn takes pi D / v on average. Source: definition of surface speed.

    >>> round(60 * time_at_surface_speed(50.0, 50.0, 200_000.0, 0.2), 6)
    11.780972
    """
    return pi * D_m * L / (v * f)


@formula(source="definition of feed per revolution", means="time at constant spindle speed", result="t_n")
def time_at_limit(L: Length, f: Feed, n_max: SpindleSpeed) -> Time:
    """Time [min] for the length `L` [mm] at feed `f` [mm/rev] and `n_max` [1/min]. Source: definition of feed.

    >>> time_at_limit(40.0, 0.2, 2000.0)
    0.1
    """
    return L / (f * n_max)


@dataclass(frozen=True, slots=True)
class Leg:
    """A stretch at one feed: the way that governs the spindle, the length fed [mm], the feed [mm/rev]."""

    speed_path: SpeedPath
    length: float
    feed: float

    def split_at_diameter(self, diameter: float) -> list[Leg]:
        """The leg cut where its speed path passes `diameter` [mm], on either side of the axis.

        >>> from calc.contour import Line
        >>> facing = Leg(Line(Point(0.0, 30.0), Point(0.0, 0.0)), 30.0, 0.2)
        >>> [round(leg.length, 6) for leg in facing.split_at_diameter(8.0)]
        [26.0, 4.0]
        """
        if isinstance(self.speed_path, Point):
            return [self]
        pieces = _cut(self.speed_path, {diameter / 2, -diameter / 2})
        whole = self.speed_path.length
        return [Leg(piece, self.length * piece.length / whole, self.feed) for piece in pieces]


class CuttingTime(NamedTuple):
    """Time spent at constant surface speed and at the spindle limit [min]."""

    at_surface_speed: float
    at_limit: float

    @property
    def total(self) -> float:
        """Both together [min]."""
        return self.at_surface_speed + self.at_limit


def cutting_time(leg: Leg, v: float, max_rpm: float | None) -> CuttingTime:
    """The time for one leg at surface speed `v` [mm/min]; `max_rpm` [1/min] None is no limit.

    A path that reaches the axis takes finite time even without a limit. Raises OutOfRange for a speed, feed or limit
    that is not above 0, or a length below 0. Source: closed-form integral of the definitions of surface speed and feed.

    >>> from calc.contour import Line
    >>> facing = Leg(Line(Point(0.0, 50.0), Point(0.0, 0.0)), 50.0, 0.2)
    >>> round(60 * cutting_time(facing, 200_000.0, None).total, 6)
    11.780972
    >>> round(60 * cutting_time(facing, 200_000.0, 3000.0).total, 6)
    12.311489
    """
    return total_time([leg], v, max_rpm)


def total_time(legs: Iterable[Leg], v: float, max_rpm: float | None) -> CuttingTime:
    """The time for several legs one after the other; arguments and errors as for `cutting_time`.

    >>> from calc.contour import Line
    >>> facing = Leg(Line(Point(0.0, 50.0), Point(0.0, 0.0)), 50.0, 0.2)
    >>> round(60 * total_time(facing.split_at_diameter(8.0), 200_000.0, None).total, 6)
    11.780972
    """
    require_positive(surface_speed=v, max_rpm=inf if max_rpm is None else max_rpm)
    limit = None if max_rpm is None else limit_diameter(v, max_rpm)
    times = [_timed(leg, v, max_rpm, limit) for leg in legs]
    return CuttingTime(sum(t.at_surface_speed for t in times), sum(t.at_limit for t in times))


def _timed(leg: Leg, v: float, max_rpm: float | None, limit: float | None) -> CuttingTime:
    require_positive(feed=leg.feed, length=leg.length or inf)
    at_speed = at_limit = slow_length = 0.0
    for piece in _pieces(leg, limit) if leg.length else ():
        if limit is not None and 2 * abs(_halfway_r(piece.speed_path)) <= limit:
            slow_length += piece.length
        else:
            at_speed += time_at_surface_speed(_mean_diameter(piece.speed_path), piece.length, v, leg.feed)
    if max_rpm is not None and slow_length:
        at_limit = time_at_limit(slow_length, leg.feed, max_rpm)
    return CuttingTime(at_speed, at_limit)


def _pieces(leg: Leg, limit: float | None) -> list[Leg]:
    """The leg cut at the limit diameter, where there is one, and at the axis."""
    fast_and_slow = [leg] if limit is None else leg.split_at_diameter(limit)
    return [part for piece in fast_and_slow for part in piece.split_at_diameter(0.0)]


def _cut(path: Element, radii: Iterable[float]) -> list[Element]:
    positions = [path.locate(point) for r in radii if _may_reach(path, r) for point in path.points_at_r(r)]
    return list(path.split(*positions)) if positions else [path]


def _may_reach(path: Element, r: float) -> bool:
    """Whether a radius is not out of reach at first glance: no arc leaves its chord by more than its height."""
    beyond = path.sagitta if isinstance(path, Arc) else 0.0
    return min(path.start.r, path.end.r) - beyond <= r <= max(path.start.r, path.end.r) + beyond


def _halfway_r(path: SpeedPath) -> float:
    """The r [mm] in the middle of a path, negative beyond the axis."""
    return path.r if isinstance(path, Point) else path.point_at(path.length / 2).r


def _mean_diameter(path: SpeedPath) -> float:
    """The mean distance from the axis along a path that does not cross it, as a diameter [mm]; noted as a step."""
    if isinstance(path, Point):
        return 2 * abs(path.r)
    twice = -2.0 if _halfway_r(path) < 0.0 else 2.0
    if isinstance(path, Arc):
        return mean_diameter_of_arc(twice * path.centre.r, twice * _halfway_r(path), path.angle / 2)
    return mean_diameter_of_line(twice * path.start.r, twice * path.end.r)
