"""The formulas of a seat and its pad: radii, sagittas and the gap between them."""

from __future__ import annotations

from math import sqrt

from calc.language.quantities import Diameter, Length, Radius
from calc.language.working import formula
from calc.shapes.segment import SEGMENT

TWO_CIRCLES = "two circles with their centres on the axis: intersecting them"


@formula(means="difference of the radii", source="definition", result="delta")
def radius_difference(R_s: Radius, R_p: Radius) -> Length:
    """Seat radius less pad radius (mm).

    Source: definition.

    >>> radius_difference(75.0, 74.5)
    0.5
    """
    return R_s - R_p


@formula(means="pad radius from the difference", source="definition", result="R_p")
def pad_from_difference(R_s: Radius, delta: Length) -> Radius:
    """Pad radius (mm) that is delta (mm) smaller than the seat radius R_s (mm).

    Source: definition.

    >>> pad_from_difference(75.0, 0.5)
    74.5
    """
    return R_s - delta


@formula(means="seat radius from the difference", source="definition", result="R_s")
def seat_from_difference(R_p: Radius, delta: Length) -> Radius:
    """Seat radius (mm) that is delta (mm) larger than the pad radius R_p (mm).

    Source: definition.

    >>> seat_from_difference(74.5, 0.5)
    75.0
    """
    return R_p + delta


@formula(means="depth of the arc at the rim", source=SEGMENT, result="h")
def sagitta(R: Radius, D_r: Diameter) -> Length:
    """Height (mm) of an arc of radius R over the diameter D_r of the rim (mm).

    Written without the difference of two near lengths, in which the gap would drown.

    Source: height of a circular segment, Machinery's Handbook 31, p. 83.

    >>> sagitta(5.0, 8.0)
    2.0
    """
    return (D_r / 2) ** 2 / (R + sqrt(R**2 - (D_r / 2) ** 2))


@formula(means="gap along the axis", source="difference of the two depths", result="g")
def gap(h_1: Length, h_2: Length) -> Length:
    """Gap (mm) along the axis between two arcs of the depths h_1 and h_2 at the rim (mm).

    Source: difference of lengths.

    >>> gap(2.5, 2.0)
    0.5
    """
    return abs(h_1 - h_2)


@formula(means="depth at which the two are a film apart", source=TWO_CIRCLES, result="h_t")
def film_depth(g_t: Length, R_1: Radius, R_2: Radius) -> Length:
    """Depth (mm), in the larger arc R_1, at which the smaller R_2 has left it by g_t (mm) after touching on the axis.

    Source: intersection of two circles.

    >>> film_depth(0.0, 75.0, 74.0)
    0.0
    """
    return g_t * (R_1 + R_2 - (R_1 - R_2 + g_t)) / (2 * (R_1 - R_2 + g_t))


@formula(means="diameter at which the two are a film apart", source=SEGMENT, result="D_t")
def film_diameter(R_1: Radius, h_t: Length) -> Diameter:
    """Diameter (mm) of an arc R_1 at the depth h_t (mm).

    Source: chord of a circular segment, Machinery's Handbook 31, p. 83.

    >>> film_diameter(5.0, 2.0)
    8.0
    """
    return 2 * sqrt(h_t * (2 * R_1 - h_t))
