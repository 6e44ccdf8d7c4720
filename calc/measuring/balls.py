"""Cones, edges, arcs and dovetails measured over balls and rollers."""

from __future__ import annotations

from math import asin, atan, cos, sin, sqrt, tan

from calc.language.quantities import Angle, Diameter, Length, Radius, Ratio
from calc.language.working import formula

CENTRES = "right triangle between the centres of the two balls and the wall"
TANGENT = "a circle that touches a wall: its centre is one radius from it"


@formula(means="distance between the balls' centres", source="heights of their tops and their radii", result="L")
def centre_distance(h_d: Length, d: Diameter, h_D: Length, D: Diameter) -> Length:
    """Distance (mm) along the axis between the centres of two balls whose tops lie h_d and h_D below the face.

    Source: heights of their tops and their radii.

    >>> centre_distance(60.0, 20.0, 5.0, 30.0)
    50.0
    """
    return (h_d + d / 2) - (h_D + D / 2)


@formula(means="half angle of the bore", source=CENTRES, result="alpha")
def half_angle_by_balls(D: Diameter, d: Diameter, L: Length) -> Angle:
    """Half angle (rad) of a tapered bore in which balls D and d rest with their centres L (mm) apart.

    Source: right triangle between the centres and the wall.

    >>> round(half_angle_by_balls(30.0, 20.0, 50.0), 9)
    0.100167421
    """
    return asin((D - d) / (2 * L))


@formula(means="diameter at the face", source=CENTRES, result="D_f")
def bore_at_face(D: Diameter, h_D: Length, alpha: Angle) -> Diameter:
    """Diameter (mm) at the face of a bore of half angle alpha (rad); the top of a ball D in it is h_D below the face.

    Source: right triangle between the ball's centre and the wall.

    >>> bore_at_face(30.0, 5.0, 0.0)
    30.0
    """
    return D / cos(alpha) + 2 * (h_D + D / 2) * tan(alpha)


@formula(means="half angle over rollers at two heights", source="definition of a taper", result="alpha")
def half_angle_by_rollers(M_2: Length, M_1: Length, H: Length) -> Angle:
    """Half angle (rad) of an outside taper: over rollers M_1, and M_2 on blocks H (mm) higher; + when it widens upward.

    Source: definition of a taper.

    >>> half_angle_by_rollers(52.0, 50.0, 1.0) == atan(1.0)
    True
    """
    return atan((M_2 - M_1) / (2 * H))


@formula(means="diameter where the lower rollers stand", source=TANGENT, result="D_0")
def diameter_at_rollers(M_1: Length, d: Diameter, alpha: Angle) -> Diameter:
    """Diameter (mm) of a taper at the height on which rollers d stand that measure M_1 over them.

    Source: a circle that touches a wall.

    >>> diameter_at_rollers(50.0, 10.0, 0.0)
    30.0
    """
    return M_1 - d * (1 + (1 + sin(alpha)) / cos(alpha))


@formula(means="diameter of the countersink at the face", source=TANGENT, result="D_f")
def cone_at_face(d: Diameter, H: Length, alpha: Angle) -> Diameter:
    """Diameter (mm) at the face of a countersink of half angle alpha (rad); a ball d in it stands H above the face.

    Source: a circle that touches a wall.

    >>> round(cone_at_face(10.0, 5.0, 0.7853981633974483), 6)
    14.142136
    """
    return d / cos(alpha) - (2 * H - d) * tan(alpha)


@formula(means="diameter of the edge", source="chord of the ball", result="D_e")
def edge_under_ball(d: Diameter, H: Length) -> Diameter:
    """Diameter (mm) of a sharp edge on which a ball d rests, its top H above the edge's face.

    Source: chord of a circle.

    >>> edge_under_ball(10.0, 8.0)
    8.0
    """
    return 2 * sqrt(H * (d - H))


@formula(means="depth under the ball", source="definition", result="t")
def depth_under_ball(d: Diameter, H: Length) -> Length:
    """Depth (mm) of a dish on whose bottom a ball d stands, its top H above the face.

    Source: definition.

    >>> depth_under_ball(20.0, 15.5)
    4.5
    """
    return d - H


@formula(means="radius of a convex arc over two rollers", source=TANGENT, result="R")
def convex_over_rollers(M: Length, d: Diameter) -> Radius:
    """Radius (mm) of a convex arc that stands on a plate between two rollers d that measure M over them.

    Source: circles that touch each other and a line.

    >>> convex_over_rollers(90.0, 10.0)
    80.0
    """
    return (M - d) ** 2 / (8 * d)


@formula(means="radius of a concave arc by two rollers", source=TANGENT, result="R")
def concave_under_rollers(s: Length, d: Diameter) -> Radius:
    """Radius (mm) of a hollow arc in which two rollers d side by side stand s (mm) higher than one alone.

    Source: circles that touch each other and a larger one from inside.

    >>> concave_under_rollers(1.0, 10.0)
    18.0
    """
    return (s + d / 2) ** 2 / (2 * s)


@formula(means="size over the rollers beyond the corner", source=TANGENT, result="k")
def dovetail_factor(alpha: Angle) -> Ratio:
    """How many roller diameters the two rollers of a dovetail of angle alpha (rad) reach beyond its sharp corners.

    Source: a circle that touches both sides of a corner.

    >>> round(dovetail_factor(1.0471975511965976), 6)
    2.732051
    """
    return 1 + 1 / tan(alpha / 2)


@formula(means="width at the sharp corners of a tongue", source=TANGENT, result="w")
def tongue_width(M: Length, d: Diameter, k: Ratio) -> Length:
    """Width (mm) of a dovetail tongue at its foot: M over rollers d that lie in the corners.

    Source: a circle that touches both sides of a corner.

    >>> tongue_width(80.0, 10.0, 3.0)
    50.0
    """
    return M - d * k


@formula(means="width at the sharp corners of a slot", source=TANGENT, result="W")
def slot_width(M: Length, d: Diameter, k: Ratio) -> Length:
    """Width (mm) of a dovetail slot at its bottom: M between rollers d that lie in the corners.

    Source: a circle that touches both sides of a corner.

    >>> slot_width(20.0, 10.0, 3.0)
    50.0
    """
    return M + d * k


@formula(means="width at the other end of the flank", source="right triangle of the flank", result="W_2")
def width_beyond(W: Length, h: Length, alpha: Angle, s: Ratio) -> Length:
    """Width (mm) at the height h (mm) over the corner: s is +1 for a tongue, which widens, -1 for a slot.

    Source: right triangle of the flank.

    >>> round(width_beyond(50.0, 10.0, 0.7853981633974483, -1.0), 9)
    30.0
    """
    return W + 2 * s * h / tan(alpha)
