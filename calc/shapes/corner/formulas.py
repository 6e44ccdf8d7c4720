"""The formulas of a corner: an arc that touches two lines, a triangle that a chamfer cuts off."""

from __future__ import annotations

from math import atan2, cos, pi, sin, sqrt, tan

from calc.language.quantities import Angle, Length, Radius
from calc.language.working import formula

TANGENT = "right triangle between corner, tangent point and arc centre"
SINES = "law of sines in the triangle that is cut off"


@formula(means="angle between the two lines", source="the lines turn by what is missing to 180°", result="gamma")
def angle_between(delta: Angle) -> Angle:
    """Angle (rad) of the wedge between two lines, the second of which turns by delta (rad) from the first.

    Source: angles on a straight line.

    >>> round(angle_between(pi / 2) / pi, 12)
    0.5
    """
    return pi - delta


@formula(means="from the sharp corner to each tangent point", source=TANGENT, result="t")
def tangent_length(R: Radius, delta: Angle) -> Length:
    """Distance (mm) of the tangent points of the radius R (mm) from the corner where the lines turn by delta (rad).

    Source: right triangle.

    >>> round(tangent_length(8.0, pi / 6), 6)
    2.143594
    """
    return R * tan(delta / 2)


@formula(means="radius from the distance of its tangent points", source=TANGENT, result="R")
def radius_from_tangent(t: Length, delta: Angle) -> Radius:
    """Radius (mm) that begins t (mm) before a corner where the lines turn by delta (rad).

    Source: right triangle.

    >>> round(radius_from_tangent(5.0, pi / 2), 9)
    5.0
    """
    return t / tan(delta / 2)


@formula(means="from the sharp corner to the arc", source=TANGENT, result="g")
def corner_gap(R: Radius, delta: Angle) -> Length:
    """Shortest distance (mm) between the corner, where the lines turn by delta (rad), and the radius R (mm) in it.

    Source: right triangle.

    >>> round(corner_gap(1.0, pi / 2), 6)
    0.414214
    """
    return R * (1 / cos(delta / 2) - 1)


@formula(means="radius from its distance to the corner", source=TANGENT, result="R")
def radius_from_gap(g: Length, delta: Angle) -> Radius:
    """Radius (mm) that stays g (mm) away from a corner where the lines turn by delta (rad).

    Source: right triangle.

    >>> round(radius_from_gap(0.41421356, pi / 2), 6)
    1.0
    """
    return g / (1 / cos(delta / 2) - 1)


@formula(means="chamfer angle for equal legs", source="base angle of an equal-sided triangle", result="epsilon")
def equal_angle(delta: Angle) -> Angle:
    """Angle (rad) between the first line and a chamfer with equal legs; the lines turn by delta (rad).

    Source: angles of an isosceles triangle.

    >>> equal_angle(1.0)
    0.5
    """
    return delta / 2


@formula(means="second leg of the chamfer", source=SINES, result="b")
def second_leg(a: Length, epsilon: Angle, delta: Angle) -> Length:
    """Leg (mm) on the second line of a chamfer with the leg a (mm) and the angle epsilon (rad) on the first.

    Source: law of sines.

    >>> round(second_leg(1.0, pi / 4, pi / 2), 9)
    1.0
    """
    return a * sin(epsilon) / sin(delta - epsilon)


@formula(means="first leg of the chamfer", source=SINES, result="a")
def first_leg(b: Length, epsilon: Angle, delta: Angle) -> Length:
    """Leg (mm) on the first line of a chamfer with the leg b (mm) on the second and the angle epsilon (rad).

    Source: law of sines.

    >>> round(first_leg(1.0, pi / 4, pi / 2), 9)
    1.0
    """
    return b * sin(delta - epsilon) / sin(epsilon)


@formula(means="chamfer angle from both legs", source="right triangle beside the second leg", result="epsilon")
def angle_from_legs(a: Length, b: Length, delta: Angle) -> Angle:
    """Angle (rad) between the first line and a chamfer with the legs a and b (mm); the lines turn by delta (rad).

    Source: right triangle.

    >>> round(angle_from_legs(1.0, 1.0, pi / 2) / pi, 9)
    0.25
    """
    return atan2(b * sin(delta), a + b * cos(delta))


@formula(means="width of the chamfer", source="law of cosines", result="w")
def chamfer_width(a: Length, b: Length, delta: Angle) -> Length:
    """Length (mm) of the chamfer itself, between the ends of its legs a and b (mm).

    Source: law of cosines.

    >>> round(chamfer_width(3.0, 4.0, pi / 2), 9)
    5.0
    """
    return sqrt(a**2 + b**2 + 2 * a * b * cos(delta))
