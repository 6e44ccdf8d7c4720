"""The shape that a round nose leaves between two turns, on flat, concave and convex surfaces alike.

Everything is written in the angle u at which a point of the nose circle stands from the deepest point of its print, and
in the curvature of the surface, so that one set of expressions serves all three, small feeds lose no digits, and the
integrals are smooth up to the widest feed. With q = 1 - r k for nose radius r and curvature k:

- p = sqrt(1 - 4 q r k sin(u/2)^2) is the point's distance from the surface's centre, over the surface's radius,
- y = 4 q r sin(u/2)^2 / (1 + p) its height above the surface, measured toward the surface's centre,
- dx/du = r (q cos u + r k) / p^2 how fast it moves along the surface.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from math import asin, atan, cos, pi, sin, sqrt

from calc.cutting.finish_formulas import feed_rule_flat

_NODES = 32
"""Enough for all digits of the integrals below, up to the widest feed on any surface."""


@dataclass(frozen=True, slots=True)
class Scallop:
    """A nose of `nose_radius` [mm] on a surface of `curvature` [1/mm]: above 0 concave, 0 flat, below 0 convex.

    A concave surface's radius must be larger than the nose's.
    """

    nose_radius: float
    curvature: float = 0.0

    @property
    def centre_ratio(self) -> float:
        """Radius of the nose centres' way over that of the surface; 1 on a flat one."""
        return 1.0 - self.nose_radius * self.curvature


def widest_feed(shape: Scallop) -> float:
    """The feed [mm/rev] at which neighbouring prints of the nose only just meet, at the nose's full width.

    >>> widest_feed(Scallop(0.8))
    1.6
    """
    r, k = shape.nose_radius, shape.curvature
    if k == 0.0:
        return 2 * r
    return 2 / k * atan(r * k / shape.centre_ratio) if k > 0.0 else -2 / k * asin(-r * k / shape.centre_ratio)


def meeting_angle(shape: Scallop, feed: float) -> float:
    """The angle u [rad] on the nose at which neighbouring prints meet; `feed` [mm/rev] is at most the widest.

    >>> round(meeting_angle(Scallop(0.8), 0.8), 6) == round(pi / 6, 6)
    True
    """
    beta = feed * shape.curvature / 2
    half_spacing = shape.centre_ratio * (sin(beta) / shape.curvature if beta else feed / 2)
    return min(asin(min(half_spacing / shape.nose_radius, 1.0)) + beta, pi / 2)


def height(shape: Scallop, u: float) -> float:
    """Height [mm] above the surface of the nose's point at angle `u` [rad].

    >>> round(height(Scallop(0.8), pi / 2), 12)
    0.8
    """
    rise = 4 * shape.centre_ratio * shape.nose_radius * sin(u / 2) ** 2
    return rise / (1 + sqrt(1 - rise * shape.curvature))


def peak(shape: Scallop, feed: float) -> float:
    """Peak height [mm] at `feed` [mm/rev].

    >>> round(peak(Scallop(0.8), 0.2) * 1000, 4)
    6.2746
    """
    return height(shape, meeting_angle(shape, feed))


def ra(shape: Scallop, feed: float) -> float:
    """Ra [mm]: the mean distance from the mean line over one feed [mm/rev], measured square to the surface.

    The mean line is parallel to the surface. Source: definition of Ra (ISO 21920-2), nominal form removed.

    >>> round(ra(Scallop(0.8), 0.2) * 1000, 4)
    1.6088
    """
    half = feed / 2
    edge = meeting_angle(shape, feed)
    mean = _along_surface(shape, edge, lambda y: y) / half
    crossing = _angle_at_height(shape, mean)
    return 2 * _along_surface(shape, crossing, lambda y: mean - y) / half


def rq(shape: Scallop, feed: float) -> float:
    """Rq [mm]: the root of the mean square distance from the mean line over one feed [mm/rev].

    Source: definition of Rq (ISO 21920-2), nominal form removed.

    >>> round(rq(Scallop(0.8), 0.2) * 1000, 4)
    1.8697
    """
    half, edge = feed / 2, meeting_angle(shape, feed)
    mean = _along_surface(shape, edge, lambda y: y) / half
    return sqrt(_along_surface(shape, edge, lambda y: (y - mean) ** 2) / half)


def ra_per_peak(shape: Scallop, feed: float) -> float:
    """Ra as a share of the peak height: 4/(9 sqrt 3) for shallow peaks, less for tall ones.

    >>> round(ra_per_peak(Scallop(0.8), 0.001), 6) == round(4 / (9 * sqrt(3)), 6)
    True
    """
    tallest = peak(shape, feed)
    return ra(shape, feed) / tallest if tallest > 0.0 else 4 / (9 * sqrt(3))


def feed_for_ra(shape: Scallop, wanted: float) -> float:
    """The feed [mm/rev] that leaves Ra `wanted` [mm]; the widest feed if even that one leaves less.

    Solved by the false position of sqrt(Ra), which is nearly proportional to the feed, up to the feed of the rule if
    that one leaves enough (a circle leaves more than the rule's parabola), otherwise up to the widest.

    >>> round(feed_for_ra(Scallop(0.8), 0.0016087943), 6)
    0.2
    """
    widest = widest_feed(shape)
    if ra(shape, widest) <= wanted:
        return widest
    by_rule = min(feed_rule_flat.function(wanted, shape.nose_radius / shape.centre_ratio), widest)
    highest = by_rule if ra(shape, by_rule) >= wanted else widest
    return _false_position(lambda feed: sqrt(ra(shape, feed)) - sqrt(wanted), highest, -sqrt(wanted))


def _false_position(miss: Callable[[float], float], high: float, miss_at_zero: float) -> float:
    """The root of a rising function between 0 and `high` (Illinois variant: the stale end counts half)."""
    low, miss_low, miss_high = 0.0, miss_at_zero, miss(high)
    guess, was_above = high, None
    for _ in range(100):
        before, guess = guess, (low * miss_high - high * miss_low) / (miss_high - miss_low)
        missed = miss(guess)
        if missed == 0.0 or abs(guess - before) <= 1e-14 * guess:
            return guess
        above = missed > 0.0
        stale = 2 if above == was_above else 1
        if above:
            high, miss_high, miss_low = guess, missed, miss_low / stale
        else:
            low, miss_low, miss_high = guess, missed, miss_high / stale
        was_above = above
    return guess


def _angle_at_height(shape: Scallop, y: float) -> float:
    """The angle u [rad] at which the nose stands `y` [mm] above the surface."""
    share = y * (2 - y * shape.curvature) / (4 * shape.centre_ratio * shape.nose_radius)
    return 2 * asin(sqrt(min(share, 1.0)))


def _along_surface(shape: Scallop, to: float, of: Callable[[float], float]) -> float:
    """The integral of `of(y)` along the surface, from the deepest point of a print to angle `to` [rad]."""
    r, k, q = shape.nose_radius, shape.curvature, shape.centre_ratio
    total = 0.0
    for node, weight in _gauss_legendre():
        haversine = sin(to * node / 2) ** 2
        rise = 4 * q * r * haversine
        squared_distance = 1 - rise * k
        y = rise / (1 + sqrt(squared_distance))
        total += weight * of(y) * (q * (1 - 2 * haversine) + r * k) / squared_distance
    return to * r * total


@cache
def _gauss_legendre() -> tuple[tuple[float, float], ...]:
    """Nodes and weights on 0 to 1: the roots of a Legendre polynomial by Newton's method from their usual estimates."""
    found = []
    for number in range(_NODES):
        x, step = cos(pi * (number + 0.75) / (_NODES + 0.5)), 1.0
        while abs(step) > 1e-15:
            value, slope = _legendre(x)
            step = value / slope
            x -= step
        found.append(((x + 1) / 2, 1 / ((1 - x * x) * slope * slope)))
    return tuple(found)


def _legendre(x: float) -> tuple[float, float]:
    """The Legendre polynomial at `x`, within -1 to 1, and its slope."""
    before, value = 1.0, x
    for degree in range(2, _NODES + 1):
        before, value = value, ((2 * degree - 1) * x * value - (degree - 1) * before) / degree
    return value, _NODES * (x * value - before) / (x * x - 1)
