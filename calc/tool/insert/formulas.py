"""The formulas of an insert's outline: edge length and nose height from the inscribed circle."""

from __future__ import annotations

from math import pi, sin, tan

from calc.language.quantities import Angle, Count, Diameter, Length, Radius
from calc.language.working import formula

TANGENTS = "tangents to the inscribed circle; the lengths of ISO 1832 are these"
ISO_3364 = "nose height m of ISO 3364 and ISO 6987: tangents to the inscribed circle"
ISO_1832 = "ISO 1832, dimension m of an odd number of edges: from the edge opposite to the nose"


@formula(means="edge length of a rhombus", source=TANGENTS, result="l")
def rhombus_edge(d: Diameter, epsilon: Angle) -> Length:
    """Edge length (mm) of a rhombus with inscribed circle d (mm) and included angle epsilon (rad).

    Source: tangents to the inscribed circle.

    >>> from math import radians
    >>> round(rhombus_edge(12.7, radians(80.0)), 3)
    12.896
    """
    return d / sin(epsilon)


@formula(means="edge length of a regular polygon", source=TANGENTS, result="l")
def polygon_edge(d: Diameter, n: Count) -> Length:
    """Edge length (mm) of a regular polygon of n corners with inscribed circle d (mm).

    Source: tangents to the inscribed circle.

    >>> round(polygon_edge(9.525, 3), 3), round(polygon_edge(12.7, 4), 3)
    (16.498, 12.7)
    """
    return d * tan(pi / n)


@formula(means="edge length of a trigon", source=TANGENTS, result="l")
def trigon_edge(d: Diameter, epsilon: Angle) -> Length:
    """Edge length (mm) of a trigon with inscribed circle d (mm) and included angle epsilon (rad).

    Its other corners have 240° less that angle, so the three of each kind close the figure.

    Source: tangents to the inscribed circle.

    >>> from math import radians
    >>> round(trigon_edge(12.7, radians(80.0)), 3)
    8.687
    """
    return d / 2 * (1 / tan(epsilon / 2) + tan(epsilon / 2 - pi / 6))


@formula(means="nose height above the inscribed circle", source=ISO_3364, result="m")
def nose_height(d: Diameter, r: Radius, epsilon: Angle) -> Length:
    """Distance (mm) from the inscribed circle d (mm) to the nose of radius r (mm) of a corner epsilon (rad).

    Source: ISO 3364 (dimension m).

    >>> from math import radians
    >>> round(nose_height(12.7, 0.79375, radians(80.0)), 3)
    3.088
    """
    return (d / 2 - r) * (1 / sin(epsilon / 2) - 1)


@formula(means="nose height above the opposite edge", source=ISO_1832, result="m")
def nose_height_odd(d: Diameter, r: Radius, epsilon: Angle) -> Length:
    """Distance (mm) from the opposite edge to the nose of radius r (mm), for a triangle or pentagon around d (mm).

    Source: ISO 1832 (dimension m of inserts with an odd number of edges); ISO 3364 lists it.

    >>> from math import radians
    >>> round(nose_height_odd(9.525, 0.79375, radians(60.0)), 3)
    13.494
    """
    return d / 2 + (d / 2 - r) / sin(epsilon / 2) + r


@formula(means="nose radius of a round insert", source="its edge is the circle itself", result="r")
def round_nose(d: Diameter) -> Radius:
    """Nose radius (mm) of a round insert of diameter d (mm).

    Source: definition of the radius.

    >>> round_nose(12.0)
    6.0
    """
    return d / 2
