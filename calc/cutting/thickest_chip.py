"""The chip where it is thickest, exactly: between the edge now and one turn ago, up to the surface before the cut.

The printed rule, feed times the sine of the angle at the depth line, takes the edge a turn ago for a parallel one. In a
shallow cut it is not: the chip ends at the surface, and can be no thicker than the depth.
"""

from __future__ import annotations

from math import cos, sin, sqrt

from calc.cutting.chip import RIGHT_ANGLE, Edge, Engagement, mean_chip, straight_chip
from calc.language.quantities import Angle, Feed, Length, Radius
from calc.language.working import formula, recording

_EXACT = "geometry of two arcs of the nose, a feed apart"


@formula(source=_EXACT, means="reach of the edge in cut along the feed", result="s")
def reach_of_nose(a: Length, r: Radius) -> Length:
    """How far [mm] the nose of radius `r` [mm] cuts ahead of its lowest point at depth `a` [mm]. Source: geometry.

    >>> round(reach_of_nose(0.1, 0.8), 4)
    0.3873
    """
    return sqrt(a * (2 * r - a))


@formula(source="geometry of nose and straight edge", means="reach of the edge in cut along the feed", result="s")
def reach_of_edge(a: Length, r: Radius, kappa: Angle) -> Length:
    """How far [mm] nose and straight edge at `kappa` [rad] cut ahead of the lowest point. Source: geometry.

    >>> from math import radians
    >>> round(reach_of_edge(2.0, 0.8, radians(45.0)), 4)
    2.3314
    """
    return r * sin(kappa) + (a - r * (1 - cos(kappa))) * cos(kappa) / sin(kappa)


@formula(source=_EXACT, means="largest chip thickness", result="h_max")
def chip_on_nose(a: Length, r: Radius, s: Length, f: Feed) -> Length:
    """Largest chip thickness [mm] on a nose of radius `r` [mm] at depth `a` [mm, at most r], reach `s` [mm], feed `f`.

    Where the feed is larger than the reach the chip is as thick as the cut is deep. Source: geometry.

    >>> round(chip_on_nose(0.05, 0.8, reach_of_nose(0.05, 0.8), 0.3), 4)
    0.05
    >>> round(chip_on_nose(0.1, 0.8, reach_of_nose(0.1, 0.8), 0.2), 4)
    0.0754
    """
    return a if f >= s else r - sqrt((s - f) ** 2 + (r - a) ** 2)


@formula(source=_EXACT, means="feed for a largest chip thickness", result="f_chip")
def feed_for_chip_on_nose(h_max: Length, a: Length, r: Radius, s: Length) -> Feed:
    """Feed [mm/rev] at which the largest chip on the nose is `h_max` [mm, below `a`]. Source: as above, solved.

    >>> round(feed_for_chip_on_nose(0.0754, 0.1, 0.8, reach_of_nose(0.1, 0.8)), 3)
    0.2
    """
    return s - sqrt((r - h_max) ** 2 - (r - a) ** 2)


def thickest_chip(feed: float, depth: float, edge: Edge) -> float:
    """The largest chip thickness [mm] at `feed` [mm/rev] and `depth` [mm]. Source: geometry.

    >>> round(thickest_chip(0.3, 0.05, Edge(0.8)), 4), round(thickest_chip(0.2, 2.0, Edge(0.8)), 4)
    (0.05, 0.2)
    """
    r, kappa = edge.nose_radius, edge.entering_angle
    if r == 0.0:
        return straight_chip(feed, kappa)
    if depth < min(r, edge.nose_depth()):
        return chip_on_nose(depth, r, reach_of_nose(depth, r), feed)
    if on_straight_edge(feed, depth, edge):
        return straight_chip(feed, min(kappa, RIGHT_ANGLE))
    return chip_on_nose(depth, r, reach_of_edge(depth, r, kappa), feed)


@formula(source="definition of a mean", means="mean chip thickness, no more than the largest", result="h_m")
def mean_at_most(h_max: Length) -> Length:
    """Mean chip thickness [mm] where the rule for it gives more than the largest `h_max` [mm]. Source: definition.

    >>> mean_at_most(0.05)
    0.05
    """
    return h_max


def mean_thickness(feed: float, cut: Engagement) -> float:
    """Mean chip thickness [mm] at `feed` [mm/rev], never above the largest.

    The rule spreads feed times depth over the edge in cut. Where the feed is longer than the edge reaches ahead, ridges
    stay between the turns, less than that is cut, and the chip is no thicker than the cut is deep. Source: geometry.

    >>> from calc.cutting.chip import engagement
    >>> [round(mean_thickness(feed, engagement(0.05, Edge(0.8))), 4) for feed in (0.1, 0.3, 1.0)]
    [0.0176, 0.05, 0.05]
    """
    with recording():
        by_rule, most = mean_chip(feed, cut.depth, cut.width), thickest_chip(feed, cut.depth, cut.edge)
    if by_rule > most:
        return mean_at_most(thickest_chip(feed, cut.depth, cut.edge))
    return mean_chip(feed, cut.depth, cut.width)


def on_straight_edge(feed: float, depth: float, edge: Edge) -> bool:
    """Whether the corner where the surface meets the edge a turn ago faces the straight edge, not the nose.

    `feed` [mm/rev], `depth` [mm]. Source: geometry.

    >>> from math import radians
    >>> on_straight_edge(0.2, 2.0, Edge(0.8, radians(45.0))), on_straight_edge(0.3, 0.3, Edge(0.8, radians(45.0)))
    (True, False)
    """
    kappa = edge.entering_angle
    if kappa >= RIGHT_ANGLE:
        return True
    return depth - feed * sin(kappa) * cos(kappa) >= edge.nose_depth()


def feed_for_thickest_chip(thickness: float, depth: float, edge: Edge) -> float | None:
    """The feed [mm/rev] up to which no chip at `depth` [mm] is thicker than `thickness` [mm]; None for any feed.

    Source: geometry.

    >>> round(feed_for_thickest_chip(0.0754, 0.1, Edge(0.8)), 3), feed_for_thickest_chip(0.1, 0.05, Edge(0.8))
    (0.2, None)
    """
    r, kappa = edge.nose_radius, edge.entering_angle
    nose_only = r > 0.0 and depth < min(r, edge.nose_depth())
    if nose_only:
        return None if thickness >= depth else feed_for_chip_on_nose(thickness, depth, r, reach_of_nose(depth, r))
    feed = thickness / sin(min(kappa, RIGHT_ANGLE))
    if r == 0.0 or on_straight_edge(feed, depth, edge):
        return feed
    return None if thickness >= depth else feed_for_chip_on_nose(thickness, depth, r, reach_of_edge(depth, r, kappa))
