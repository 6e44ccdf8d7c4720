"""The chip that a round edge or a straight one takes off: engagement, thickness, width.

A round edge meets the work from the depth line, where its chip is thickest, down to nothing at the surface it leaves.
Its chip is described by the largest thickness, which loads the edge, and by the
mean, which shows whether it cuts or rubs.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, cos, pi, radians, sin

from calc.language.checks import require_positive
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import ANGLE, Angle, Feed, Length, Radius, Ratio
from calc.language.working import formula

_ROUND = "geometry of the round edge; 'Heat resistant super alloys' (printed guide), p. 19"
_STRAIGHT = "geometry of the straight edge; ISO 3002-3"
_AREA = "feed times depth, spread over the edge in cut"

_THINNEST = "minimum chip thickness: 0.2 to 0.4 of the edge's radius, from memory"

RIGHT_ANGLE = pi / 2
LEAST_CHIP_SHARE = 0.3  # of the edge's radius; the middle of 0.2 to 0.4, from memory
LARGEST_ENTERING_ANGLE = radians(170.0)  # beyond it an edge lies along the feed


@formula(source=_ROUND, means="angle of the edge in cut", result="phi")
def engagement_angle(a: Length, r: Radius) -> Angle:
    """Angle [rad] of a nose of radius `r` [mm] that cuts at depth `a` [mm, at most the nose's diameter].

    Source: cos phi = 1 - a/r, 'Heat resistant super alloys' (printed guide), p. 19.

    >>> from math import degrees
    >>> round(degrees(engagement_angle(0.25, 0.5)), 6)
    60.0
    """
    return acos(1 - a / r)


@formula(source=_ROUND, means="largest chip thickness", result="h_max")
def largest_chip(f: Feed, phi: Angle) -> Length:
    """Largest chip thickness [mm] at feed `f` [mm/rev] with the edge in cut up to `phi` [rad].

    Source: 'Heat resistant super alloys' (printed guide), p. 19.

    >>> from math import radians
    >>> round(largest_chip(0.12, radians(60.0)), 4)
    0.1039
    """
    return f * sin(phi)


@formula(source=_ROUND, means="feed for a largest chip thickness", result="f_chip")
def feed_for_largest_chip(h_max: Length, phi: Angle) -> Feed:
    """Feed [mm/rev] at which the largest chip is `h_max` [mm]. Source: as `largest_chip`, solved for the feed.

    >>> from math import radians
    >>> round(feed_for_largest_chip(0.1, radians(60.0)), 4)
    0.1155
    """
    return h_max / sin(phi)


@formula(source="geometry of the round edge", means="length of the edge in cut", result="b")
def round_edge_in_cut(r: Radius, phi: Angle) -> Length:
    """Length [mm] of the arc of radius `r` [mm] over angle `phi` [rad]. Source: arc length.

    >>> round_edge_in_cut(6.0, 0.5)
    3.0
    """
    return r * phi


@formula(source="geometry of nose and straight edge", means="length of the edge in cut", result="b")
def nose_and_edge_in_cut(a: Length, r: Radius, kappa: Angle) -> Length:
    """Length [mm] of nose and straight edge in cut at depth `a` [mm] above the nose, entering angle `kappa` [rad].

    Source: geometry; the straight edge goes on from the nose without a corner.

    >>> nose_and_edge_in_cut(2.0, 0.0, RIGHT_ANGLE)
    2.0
    """
    return r * kappa + (a - r * (1 - cos(kappa))) / sin(kappa)


@formula(source=_AREA, means="mean chip thickness", result="h_m")
def mean_chip(f: Feed, a: Length, b: Length) -> Length:
    """Mean chip thickness [mm] at feed `f` [mm/rev] and depth `a` [mm] over the edge in cut `b` [mm].

    Source: the area f a of the chip, spread over the edge.

    >>> round(mean_chip(0.2, 0.3, 2.0), 4)
    0.03
    """
    return f * a / b


@formula(source=_AREA, means="feed for a mean chip thickness", result="f_mean")
def feed_for_mean_chip(h_m: Length, a: Length, b: Length) -> Feed:
    """Feed [mm/rev] at which the mean chip is `h_m` [mm]. Source: as `mean_chip`, solved for the feed.

    >>> round(feed_for_mean_chip(0.03, 0.3, 2.0), 4)
    0.2
    """
    return h_m * b / a


@formula(source=_STRAIGHT, means="chip thickness", result="h")
def straight_chip(f: Feed, kappa: Angle) -> Length:
    """Chip thickness [mm] of a straight edge at entering angle `kappa` [rad]. Source: geometry; ISO 3002-3.

    >>> from math import radians
    >>> round(straight_chip(0.3, radians(95.0)), 7)
    0.2988584
    """
    return f * sin(kappa)


@formula(source=_STRAIGHT, means="chip width", result="b")
def straight_width(a: Length, kappa: Angle) -> Length:
    """Chip width [mm] of a straight edge at depth `a` [mm] and entering angle `kappa` [rad]. Source: as above.

    >>> from math import radians
    >>> round(straight_width(3.0, radians(95.0)), 7)
    3.0114595
    """
    return a / sin(kappa)


@formula(source=_THINNEST, means="smallest sensible chip thickness", result="h_min")
def least_chip(c: Ratio, rho: Radius) -> Length:
    """Chip thickness [mm] below which an edge rounded by `rho` [mm] presses instead of cutting: `c` times it.

    Source: research on the minimum chip thickness, c from 0.2 to 0.4; from memory.

    >>> round(least_chip(0.3, 0.03), 4)
    0.009
    """
    return c * rho


@formula(source=_ROUND, means="feed over the largest chip", result="q_f")
def feed_over_chip(phi: Angle) -> Ratio:
    """How many times the largest chip the feed is, with the edge in cut up to `phi` [rad].

    Source: 'Heat resistant super alloys' (printed guide), p. 19.

    >>> from math import radians
    >>> round(feed_over_chip(radians(60.0)), 3)
    1.155
    """
    return 1 / sin(phi)


@dataclass(frozen=True, slots=True)
class Edge:
    """The edge that cuts: its nose radius [mm, 0 for a sharp corner] and entering angle [rad].

    Without an entering angle it is a round insert, whose nose is all there is; at most half of it can cut.
    """

    nose_radius: float
    entering_angle: float = RIGHT_ANGLE

    def nose_depth(self) -> float:
        """The depth [mm] up to which the nose alone cuts.

        >>> Edge(6.0).nose_depth()
        6.0
        """
        return (
            self.nose_radius * (1 - cos(self.entering_angle))
            if self.entering_angle != RIGHT_ANGLE
            else self.nose_radius
        )


@dataclass(frozen=True, slots=True)
class Engagement:
    """How an edge stands in the cut: angle of its thickest chip [rad] and length of edge in cut [mm]."""

    depth: float
    thickest_at: float
    width: float
    edge: Edge


def engagement(depth: float, edge: Edge) -> Engagement:
    """How `edge` stands in a cut of `depth` [mm].

    A depth above the nose is cut by the straight edge as well. Raises OutOfRange for a depth, nose or angle that
    cannot be.

    >>> from math import degrees
    >>> found = engagement(0.3, Edge(6.0))
    >>> round(degrees(found.thickest_at), 3), round(found.width, 4)
    (18.195, 1.9054)
    """
    require_positive(depth=depth)
    _require_edge(edge)
    r, kappa = edge.nose_radius, edge.entering_angle
    if r == 0.0:
        return Engagement(depth, kappa, straight_width(depth, kappa), edge)
    if depth <= edge.nose_depth():
        phi = engagement_angle(depth, r)
        return Engagement(depth, min(phi, RIGHT_ANGLE), round_edge_in_cut(r, phi), edge)
    return Engagement(depth, min(kappa, RIGHT_ANGLE), nose_and_edge_in_cut(depth, r, kappa), edge)


def _require_edge(edge: Edge) -> None:
    if not edge.nose_radius >= 0.0:
        raise OutOfRange(Fault("nose_radius", Message("The nose radius must be 0 or more.")))
    if not 0.0 < edge.entering_angle <= LARGEST_ENTERING_ANGLE:
        values = {"angle": Quantity(edge.entering_angle, ANGLE), "most": Quantity(LARGEST_ENTERING_ANGLE, ANGLE)}
        said = Message("The entering angle must lie between 0 and {most}; {angle} does not.", values)
        raise OutOfRange(Fault("entering_angle", said))
