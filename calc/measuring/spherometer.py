"""Radius of a sphere from how far its middle stands below or above a ring or three ball legs."""

from __future__ import annotations

from math import sqrt

from calc.language.quantities import Diameter, Length, Radius, Ratio
from calc.language.working import formula

CHORD = "chord of a circle: half the chord is the mean proportional of the two parts of the diameter"
PARALLEL = "the balls' centres lie on a sphere that runs one ball radius beside the surface"


@formula(means="radius of the circle that the legs stand on", source="equilateral triangle", result="rho")
def leg_circle_radius(a: Length) -> Radius:
    """Radius (mm) of the circle through three legs that stand the distance a (mm) apart.

    Source: circumscribed circle of an equilateral triangle.

    >>> round(leg_circle_radius(30.0), 9)
    17.320508076
    """
    return a / sqrt(3)


@formula(means="radius by sagitta", source=CHORD, result="R_c")
def radius_by_sagitta(rho: Radius, h: Length) -> Radius:
    """Radius (mm) of the sphere on which a circle of radius rho lies, h (mm) from the middle of the cap.

    Source: school laboratories' R = rho2/(2h) + h/2.

    >>> round(radius_by_sagitta(25.0, 1.2), 6)
    261.016667
    """
    return rho**2 / (2 * h) + h / 2


@formula(means="radius of the surface, the legs' balls taken off", source=PARALLEL, result="R")
def radius_under_balls(R_c: Radius, d_b: Diameter, s: Ratio) -> Radius:
    """Radius (mm) of the surface that balls d_b (mm) touch whose centres lie on R_c (mm); s is +1 hollow, -1 crowned.

    Source: parallel of a circle.

    >>> radius_under_balls(70.0, 10.0, 1.0), radius_under_balls(80.0, 10.0, -1.0)
    (75.0, 75.0)
    """
    return R_c + s * d_b / 2


@formula(means="sagitta that this radius should show", source=CHORD, result="h_0")
def sagitta_of(R_c: Radius, rho: Radius) -> Length:
    """Height (mm) of the cap of a sphere R_c (mm) above its circle of radius rho (mm), without loss where it is flat.

    Source: chord of a circle.

    >>> sagitta_of(12.5, 10.0)
    5.0
    """
    return rho**2 / (R_c + sqrt(R_c**2 - rho**2))


@formula(means="what one step of the sagitta changes the radius by", source="derivative of the radius", result="k")
def radius_per_sagitta(rho: Radius, h: Length) -> Ratio:
    """Change of the radius for a change of the sagitta h (mm) over a circle of radius rho (mm), without its sign.

    Source: derivative of rho2/(2h) + h/2.

    >>> radius_per_sagitta(20.0, 2.0)
    49.5
    """
    return (rho**2 / h**2 - 1) / 2
