"""The formulas of a dish: a circular segment, an edge that touches two curves, a spherical cap."""

from __future__ import annotations

from math import asin, atan2, pi, sqrt

from calc.language.quantities import Angle, Diameter, Length, Radius, Volume, ZCoordinate
from calc.language.working import formula

SEGMENT = "circular segment: Machinery's Handbook 31, p. 83"
RIGHT_TRIANGLE = "right triangle through the two arc centres"
SIMILAR_TRIANGLES = "similar triangles along the line of the two arc centres"
CIRCLE = "right triangle of axis, arc centre and the point on the arc"
SPHERE = "volume of a spherical segment, as tables of solids give it"


@formula(means="mouth diameter from radius and depth", source=SEGMENT, result="D")
def mouth_from_radius_and_depth(R: Radius, h: Length) -> Diameter:
    """Mouth diameter (mm) of a dish of radius R and depth h (mm).

    Source: chord of a circular segment, Machinery's Handbook 31, p. 83.

    >>> round(mouth_from_radius_and_depth(90.0, 4.5), 5)
    56.20498
    """
    return 2 * sqrt(h * (2 * R - h))


@formula(means="depth from radius and mouth diameter", source=SEGMENT, result="h")
def depth_from_radius_and_mouth(R: Radius, D: Diameter) -> Length:
    """Depth (mm) of a dish of radius R whose mouth has the diameter D (mm).

    Source: height of a circular segment, Machinery's Handbook 31, p. 83.

    >>> round(depth_from_radius_and_mouth(90.0, 56.204982), 6)
    4.5
    """
    return R - sqrt(R**2 - (D / 2) ** 2)


@formula(means="dish radius from depth and mouth diameter", source=SEGMENT, result="R")
def radius_from_depth_and_mouth(h: Length, D: Diameter) -> Radius:
    """Radius (mm) of the dish that is h deep under a mouth of diameter D (mm).

    Source: radius of a circular segment, Machinery's Handbook 31, p. 83.

    >>> round(radius_from_depth_and_mouth(4.5, 56.204982), 4)
    90.0
    """
    return (D**2 + 4 * h**2) / (8 * h)


@formula(
    means="arc centre in front of the face", source="the deepest point is one radius from the centre", result="Z_M"
)
def centre_height(R: Radius, h: Length) -> ZCoordinate:
    """Z of the arc centre (mm, plus in front of the face) of a dish of radius R and depth h (mm).

    Source: definition of the radius.

    >>> centre_height(90.0, 4.5)
    85.5
    """
    return R - h


@formula(
    means="slope of the dish at the mouth, from the face", source="the slope is square to the radius", result="theta"
)
def mouth_slope(D: Diameter, Z_M: ZCoordinate) -> Angle:
    """Angle (rad) between the face and the dish's tangent at the mouth of diameter D (mm), centre at Z_M (mm).

    Source: the tangent is square to the radius.

    >>> round(mouth_slope(51.1761, 70.5), 5)
    0.34817
    """
    return atan2(D / 2, Z_M)


@formula(means="arc length from mouth to end", source="arc = radius × angle", result="L")
def arc_length(R: Radius, theta: Angle, theta_0: Angle) -> Length:
    """Length (mm) of the arc of radius R (mm) between the angles theta and theta_0 (rad) from the axis.

    Source: definition of the angle in radians.

    >>> arc_length(10.0, 1.0, 0.0)
    10.0
    """
    return R * (theta - theta_0)


@formula(means="volume of the dish", source=SPHERE, result="V")
def cap_volume(R: Radius, h: Length) -> Volume:
    """Volume (mm3) of the spherical cap of radius R and height h (mm).

    Source: spherical segment of one base.

    >>> round(cap_volume(1.0, 1.0) / (2 / 3 * pi), 12)
    1.0
    """
    return pi * h**2 * (3 * R - h) / 3


@formula(means="diameter where the edge radius leaves the face", source=RIGHT_TRIANGLE, result="D_f")
def edge_face_diameter(R: Radius, h: Length, r_e: Radius) -> Diameter:
    """Diameter (mm) on the face where an edge radius r_e begins, tangent to face and dish (radius R, depth h; mm).

    The centres of two circles that touch are R + r_e apart, so this is the mouth of a dish of that radius and depth h.

    Source: right triangle through the two arc centres.

    >>> round(edge_face_diameter(90.0, 4.5, 0.8), 5)
    56.46061
    """
    return 2 * sqrt(h * (2 * (R + r_e) - h))


@formula(means="diameter where the edge radius meets the dish", source=SIMILAR_TRIANGLES, result="D_a")
def edge_arc_diameter(D_f: Diameter, R: Radius, r_e: Radius) -> Diameter:
    """Diameter (mm) where the edge radius r_e meets the dish of radius R; D_f is where it leaves the face (mm).

    Source: similar triangles along the line of the two centres.

    >>> round(edge_arc_diameter(56.460608, 90.0, 0.8), 5)
    55.96316
    """
    return D_f * R / (R + r_e)


@formula(means="Z where the edge radius meets the dish", source=SIMILAR_TRIANGLES, result="Z_a")
def edge_arc_z(R: Radius, h: Length, r_e: Radius) -> ZCoordinate:
    """Z (mm) where the edge radius r_e meets the dish of radius R and depth h (mm).

    Source: similar triangles along the line of the two centres.

    >>> round(edge_arc_z(90.0, 4.5, 0.8), 5)
    -0.03965
    """
    return -h * r_e / (R + r_e)


@formula(
    means="angle of the dish's slope at the chamfer's inner end",
    source="chord = 2 R sin(half its angle)",
    result="theta_a",
)
def chamfer_end_slope(theta: Angle, c: Length, R: Radius) -> Angle:
    """Slope (rad) of the dish where a leg c (mm), measured straight from the sharp corner, ends on the arc.

    Source: chord of a circle, Machinery's Handbook 31, p. 83.

    >>> round(chamfer_end_slope(0.3, 0.0, 90.0), 12)
    0.3
    """
    return theta - 2 * asin(c / (2 * R))


@formula(
    means="chamfer's angle from the face (equal legs)", source="base angle of an equal-sided triangle", result="beta"
)
def equal_leg_angle(theta: Angle, theta_a: Angle) -> Angle:
    """Angle (rad) from the face of a chamfer with equal legs between face and dish.

    The straight leg along the dish leans by the mean of theta and theta_a.

    Source: angles of an isosceles triangle.

    >>> equal_leg_angle(0.4, 0.4)
    0.2
    """
    return (theta + theta_a) / 4


@formula(means="Z on the dish at a diameter", source=CIRCLE, result="Z")
def z_on_dish(Z_M: ZCoordinate, R: Radius, D: Diameter) -> ZCoordinate:
    """Z (mm) of the dish of radius R and centre Z_M at the diameter D (mm).

    Source: circle about the arc centre.

    >>> z_on_dish(85.5, 90.0, 0.0)
    -4.5
    """
    return Z_M - sqrt(R**2 - (D / 2) ** 2)
