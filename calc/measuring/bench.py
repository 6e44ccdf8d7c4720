"""Small helps of the bench: sine bar, chamfer by diameters, centre distance, a dial's tilt, what a gauge can prove."""

from __future__ import annotations

from math import asin, atan, cos, sin, sqrt

from calc.language.kinds import Expansion, Temperature
from calc.language.quantities import Angle, Diameter, Length, Ratio
from calc.language.working import formula

TENTH = 10.0
"""A gauge's spread is at most a tenth of the tolerance: common practice, no source."""
FIFTH = 5.0
"""Where a tenth cannot be had, a fifth is the least that still proves most parts: common practice, no source."""


@formula(means="stack under the sine bar", source="definition of the sine", result="H")
def sine_stack(L: Length, alpha: Angle) -> Length:
    """Height (mm) of gauge blocks under a sine bar of length L (mm) between rollers for the angle alpha (rad).

    Source: definition of the sine.

    >>> round(sine_stack(100.0, 0.5235987755982988), 9)
    50.0
    """
    return L * sin(alpha)


@formula(means="angle of the sine bar", source="definition of the sine", result="alpha")
def sine_angle(H: Length, L: Length) -> Angle:
    """Angle (rad) of a sine bar of length L (mm) on a stack H (mm).

    Source: definition of the sine.

    >>> round(sine_angle(50.0, 100.0), 9)
    0.523598776
    """
    return asin(H / L)


@formula(means="error of the angle from that of the stack", source="derivative of the sine", result="dalpha")
def angle_error(e: Length, L: Length, alpha: Angle) -> Angle:
    """Error (rad) of the angle alpha when the stack of a bar of length L is off by e (mm).

    Source: derivative of the sine.

    >>> angle_error(0.01, 100.0, 0.0)
    0.0001
    """
    return e / (L * cos(alpha))


@formula(means="leg of the chamfer along X", source="difference of the radii", result="a")
def leg_across(D: Diameter, d: Diameter) -> Length:
    """Leg (mm) along X of a chamfer that runs from the diameter d to D (mm).

    Source: difference of the radii.

    >>> leg_across(20.0, 18.0)
    1.0
    """
    return (D - d) / 2


@formula(means="angle of the chamfer to the axis", source="definition of the tangent", result="alpha")
def chamfer_angle(a: Length, c: Length) -> Angle:
    """Angle (rad) to the axis of a chamfer with legs a along X and c along Z (mm).

    Source: definition of the tangent.

    >>> chamfer_angle(1.0, 1.0) == atan(1.0)
    True
    """
    return atan(a / c)


@formula(means="width of the chamfer", source="Pythagoras", result="w")
def chamfer_width(a: Length, c: Length) -> Length:
    """Width (mm) of the flat of a chamfer with legs a and c (mm), as it is seen square on.

    Source: Pythagoras.

    >>> chamfer_width(3.0, 4.0)
    5.0
    """
    return sqrt(a**2 + c**2)


@formula(means="centre distance from the size over both", source="definition", result="C")
def centres_from_over(M: Length, d_1: Diameter, d_2: Diameter) -> Length:
    """Distance (mm) of two centres: M over both pins or holes of d_1 and d_2.

    Source: definition.

    >>> centres_from_over(60.0, 10.0, 20.0)
    45.0
    """
    return M - (d_1 + d_2) / 2


@formula(means="centre distance from the size between", source="definition", result="C")
def centres_from_between(m: Length, d_1: Diameter, d_2: Diameter) -> Length:
    """Distance (mm) of two centres: m between both pins or holes of d_1 and d_2.

    Source: definition.

    >>> centres_from_between(30.0, 10.0, 20.0)
    45.0
    """
    return m + (d_1 + d_2) / 2


@formula(means="travel that is true where the dial stands askew", source="cosine of the tilt", result="M_0")
def true_travel(M: Length, phi: Angle) -> Length:
    """True travel (mm) where a dial that stands phi (rad) askew shows M (mm).

    Source: projection of the travel.

    >>> round(true_travel(1.0, 1.0471975511965976), 9)
    0.5
    """
    return M * cos(phi)


@formula(means="growth by warmth", source="linear expansion; ISO 1 fixes 20 °C", result="Delta_T")
def warm_error(L: Length, a_p: Expansion, T_p: Temperature, a_g: Expansion, T_g: Temperature) -> Length:
    """By how much (mm) a gauge of a_g (1/K) at T_g shows a part L of a_p (1/K) at T_p too large; both in °C.

    Source: linear expansion.

    >>> round(warm_error(100.0, 23.5e-6, 30.0, 11.5e-6, 20.0), 6)
    0.0235
    """
    return L * (a_p * (T_p - 20) - a_g * (T_g - 20))


@formula(means="largest spread of the gauge", source="common practice: a tenth of the tolerance", result="u_10")
def wanted_spread(T: Length) -> Length:
    """Half width (mm) of the gauge's spread that makes sense for a tolerance T (mm) between its limits.

    Source: common practice, a tenth of the tolerance.

    >>> wanted_spread(0.1)
    0.01
    """
    return T / 10


@formula(means="how much finer than the tolerance the gauge is", source="definition", result="n")
def fineness(T: Length, u: Length) -> Ratio:
    """How many spreads u (mm) the tolerance T (mm) holds.

    Source: definition.

    >>> fineness(0.1, 0.02)
    5.0
    """
    return T / u
