"""The closed forms of reach: flank in a hollow, smallest bore, edge in use, tool off the centre height."""

from __future__ import annotations

from math import sin, sqrt

from calc.language.quantities import Angle, Diameter, Length, Radius
from calc.language.working import formula

FLANK = "heel of the flank against a circle: right triangles"
CENTRE_HEIGHT = "right triangle of centre height and reach, common practice"


@formula(means="smallest hollow radius that the flank clears", source=FLANK, result="R_min")
def least_hollow_radius(s: Length, alpha: Angle) -> Radius:
    """Radius (mm) of the smallest bore whose wall the flank of clearance alpha (rad) and height s (mm) just touches.

    The flank has drawn back s tan(alpha) at its heel, where the wall of radius R stands R - sqrt(R^2 - s^2) nearer.

    Source: right triangles.

    >>> from math import radians
    >>> round(least_hollow_radius(3.96875, radians(7.0)), 3)
    16.405
    """
    return s / sin(2 * alpha)


@formula(means="smallest bore for the bar", source="the bar's far side, common practice", result="D_min")
def least_bore(f: Length, d_b: Diameter) -> Diameter:
    """Diameter (mm) of the smallest bore for a bar d_b (mm) with its nose f (mm) from its middle; no room for chips.

    Source: the bar's far side.

    >>> least_bore(11.0, 16.0)
    19.0
    """
    return f + d_b / 2


@formula(means="edge in use", source="depth across an inclined edge; ISO 3002-1", result="l_a")
def edge_in_use(a_p: Length, kappa: Angle) -> Length:
    """Length (mm) of straight edge in the cut at a depth a_p (mm) square to the contour and an entering angle (rad).

    Source: ISO 3002-1.

    >>> from math import radians
    >>> round(edge_in_use(2.0, radians(30.0)), 9)
    4.0
    """
    return a_p / sin(kappa)


@formula(means="pip left on the axis", source=CENTRE_HEIGHT, result="d_p")
def pip_diameter(e: Length) -> Diameter:
    """Diameter (mm) of the pip that a tool e (mm) above or below the centre leaves on the axis.

    Source: it never comes nearer to the axis than its height error.

    >>> pip_diameter(-0.1)
    0.2
    """
    return 2 * sqrt(e**2)


@formula(means="diameter that is turned", source=CENTRE_HEIGHT, result="D_e")
def diameter_off_centre(D: Diameter, e: Length) -> Diameter:
    """Diameter (mm) turned by a tool that stands D / 2 from the axis plane and e (mm) above or below the centre.

    Source: right triangle.

    >>> round(diameter_off_centre(6.0, 4.0), 9)
    10.0
    """
    return 2 * sqrt((D / 2) ** 2 + e**2)
