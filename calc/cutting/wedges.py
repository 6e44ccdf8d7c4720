"""Collets and mandrels: a cone drawn along the axis presses outward or inward, and friction holds the work."""

from __future__ import annotations

from math import atan, pi, sqrt, tan

from calc.language.kinds import Deflection
from calc.language.quantities import Angle, Diameter, Force, Length, Pressure, Ratio, Torque
from calc.language.working import formula

WEDGE = "wedge with friction on its slope; handbooks of machine elements"
FRICTION = "friction between the holder and the work"
LAME = "thick cylinder under pressure (Lamé); handbooks of mechanics"


@formula(source="definition of the friction angle", means="friction angle of the cone", result="rho")
def friction_angle(mu_c: Ratio) -> Angle:
    """Friction angle [rad] of the friction `mu_c` on the cone. Source: definition.

    >>> round(friction_angle(0.1), 5)
    0.09967
    """
    return atan(mu_c)


@formula(source=WEDGE, means="grip on the work, all around", result="F_g")
def grip_of_cone(F_d: Force, theta: Angle, rho: Angle) -> Force:
    """Radial force [N] all around of a cone of half angle `theta` [rad] that `F_d` [N] draws in against friction.

    `rho` [rad] is the friction angle. Source: wedge with friction.

    >>> round(grip_of_cone(10_000.0, 0.2618, 0.0997))
    26447
    """
    return F_d / tan(theta + rho)


@formula(source=WEDGE, means="force that frees it", result="F_off")
def push_off(F_g: Force, theta: Angle, rho: Angle) -> Force:
    """Axial force [N] that pushes off again what sits with `F_g` [N] on a cone; not above 0 where it frees itself.

    `theta` [rad] is the cone's half angle, `rho` [rad] the friction angle. Source: wedge with friction.

    >>> round(push_off(10_000.0, 0.0, 0.0997))
    1000
    """
    return F_g * tan(rho - theta)


@formula(source=FRICTION, means="torque it holds", result="M_h")
def torque_held(mu: Ratio, F_g: Force, D: Diameter, S: Ratio) -> Torque:
    """Torque [N mm] that the grip `F_g` [N] all around holds on `D` [mm] by friction `mu`, with the safety `S`.

    Source: friction.

    >>> torque_held(0.1, 20_000.0, 30.0, 1.5)
    20000.0
    """
    return mu * F_g * D / (2 * S)


@formula(source=FRICTION, means="axial force it holds", result="F_h")
def axial_held(mu: Ratio, F_g: Force, S: Ratio) -> Force:
    """Force [N] along the axis that the grip `F_g` [N] all around holds by friction `mu`, with the safety `S`.

    Source: friction.

    >>> round(axial_held(0.1, 15_000.0, 1.5), 6)
    1000.0
    """
    return mu * F_g / S


@formula(source="friction holds the resultant of both forces", means="share of the friction used", result="q_h")
def share_of_friction(F_t: Force, F_a: Force, F_h: Force) -> Ratio:
    """Share of a friction of `F_h` [N] that `F_t` [N] around the work and `F_a` [N] along it use. Source: vector sum.

    >>> share_of_friction(300.0, 400.0, 1000.0)
    0.5
    """
    return sqrt(F_t**2 + F_a**2) / F_h


@formula(
    source="the cone's diameter grows by its taper", means="distance from the small end at which it seats", result="z_s"
)
def seat_on_taper(D: Diameter, D_s: Diameter, C: Ratio) -> Length:
    """Where [mm from the small end] a bore `D` [mm] meets a mandrel of the taper `C` with the small end `D_s` [mm].

    Source: definition of the taper, diameter over length.

    >>> round(seat_on_taper(25.0105, 24.99, 0.0005), 6)
    41.0
    """
    return (D - D_s) / C


@formula(source="definition of the taper", means="half angle of the cone", result="theta")
def half_angle_of_taper(C: Ratio) -> Angle:
    """Half angle [rad] of a cone of the taper `C`, diameter over length. Source: definition.

    >>> round(half_angle_of_taper(0.0005), 6)
    0.00025
    """
    return atan(C / 2)


@formula(source="force over the cylinder that it acts on", means="mean pressure in the bore", result="p")
def pressure_around(F_g: Force, D: Diameter, l_g: Length) -> Pressure:
    """Mean pressure [N/mm2] of a radial force `F_g` [N] all around on a cylinder `D` by `l_g` [mm]. Source: definition.

    >>> round(pressure_around(10_000.0, 25.0, 40.0), 3)
    3.183
    """
    return F_g / (pi * D * l_g)


@formula(source=LAME, means="hoop stress at the bore", result="sigma_t")
def hoop_stress(p: Pressure, D: Diameter, D_1: Diameter) -> Pressure:
    """Hoop stress [N/mm2] at the bore `D` [mm] of a sleeve `D_1` [mm] outside under the pressure `p`. Source: Lamé.

    >>> round(hoop_stress(10.0, 60.0, 80.0), 3)
    35.714
    """
    return p * (D_1**2 + D**2) / (D_1**2 - D**2)


@formula(source=LAME, means="outside is spread by, on the diameter", result="dD_1")
def outside_spread(p: Pressure, D: Diameter, D_1: Diameter, E: Pressure) -> Deflection:
    """How far [mm on the diameter] the outside `D_1` [mm] of a sleeve grows under `p` [N/mm2] in its bore `D` [mm].

    `E` [N/mm2] is its modulus. Source: Lamé, plane stress.

    >>> round(outside_spread(10.0, 60.0, 80.0, 210_000.0), 5)
    0.0098
    """
    return 2 * p * D**2 * D_1 / (E * (D_1**2 - D**2))
