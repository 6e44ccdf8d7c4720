"""A thin ring under equal forces of the jaws around it: how far it is pressed in and bulges out, what that costs.

Roark's Formulas for Stress and Strain, table of circular rings, case of equal radial loads equally spaced, for a thin
ring of uniform section that bends and does not stretch; the grip acts as one point at each jaw and along the whole
width of the ring.
"""

from __future__ import annotations

from math import cos, pi, sin, tan

from calc.language.kinds import Deflection, SecondMoment
from calc.language.quantities import Angle, Count, Diameter, Force, Length, Pressure, Radius
from calc.language.working import formula

ROARK = "Roark's Formulas for Stress and Strain, circular rings, equal radial loads equally spaced; thin ring"


@formula(source="mean of both diameters", means="mean radius of the ring", result="R")
def mean_radius(D_1: Diameter, D_2: Diameter) -> Radius:
    """Mean radius [mm] of a ring of the diameters `D_1` and `D_2` [mm]. Source: definition.

    >>> mean_radius(100.0, 90.0)
    47.5
    """
    return (D_1 + D_2) / 4


@formula(source="handbooks of mechanics: rectangle", means="second moment of area of its section", result="I")
def ring_section(L: Length, D_1: Diameter, D_2: Diameter) -> SecondMoment:
    """Second moment [mm4] of the section of a ring `L` [mm] wide of the diameters `D_1` and `D_2` [mm].

    Source: handbooks of mechanics.

    >>> round(ring_section(20.0, 100.0, 90.0), 3)
    208.333
    """
    return L * ((D_1 - D_2) / 2) ** 3 / 12


@formula(source="equal spacing", means="half the angle between jaws", result="theta")
def half_spacing(i: Count) -> Angle:
    """Half the angle [rad] between two of `i` jaws. Source: definition.

    >>> round(half_spacing(3) * 180 / pi)
    60
    """
    return pi / i


@formula(source=ROARK, means="pressed in at each jaw", result="delta_i")
def pressed_in(W: Force, R: Radius, E: Pressure, I: SecondMoment, theta: Angle) -> Deflection:  # noqa: E741 (handbooks call it I)
    """How far [mm] a ring of mean radius `R` [mm] is pressed in at each jaw by `W` [N]. Source: Roark's, rings.

    `E` [N/mm2], `I` [mm4]; `theta` [rad] is half the angle between jaws.

    >>> round(pressed_in(1.0, 1.0, 1.0, 1.0, pi / 2), 4)
    0.0744
    """
    return W * R**3 / (2 * E * I) * ((theta + sin(theta) * cos(theta)) / (2 * sin(theta) ** 2) - 1 / theta)


@formula(source=ROARK, means="bulges out between the jaws", result="delta_o")
def bulges_out(W: Force, R: Radius, E: Pressure, I: SecondMoment, theta: Angle) -> Deflection:  # noqa: E741 (handbooks call it I)
    """How far [mm] a ring bulges out halfway between two jaws. Source: Roark's, rings; arguments as `pressed_in`.

    `W` [N], `R` [mm], `E` [N/mm2], `I` [mm4], `theta` [rad].

    >>> round(bulges_out(1.0, 1.0, 1.0, 1.0, pi / 2), 4)
    0.0683
    """
    return W * R**3 / (2 * E * I) * (1 / theta - (sin(theta) + theta * cos(theta)) / (2 * sin(theta) ** 2))


@formula(source="the ring springs back: high and low change places", means="out of round", result="delta_r")
def out_of_round(delta_i: Deflection, delta_o: Deflection) -> Deflection:
    """Roundness error [mm, radial] of what is turned round under the jaws, after the ring is let go.

    `delta_i` and `delta_o` [mm] are how far it is pressed in and bulges out. Source: superposition.

    >>> out_of_round(0.5, 0.25)
    0.75
    """
    return delta_i + delta_o


@formula(source=ROARK, means="bending stress at a jaw", result="sigma_b")
def bending_stress(W: Force, R: Radius, L: Length, t: Length, theta: Angle) -> Pressure:
    """Largest bending stress [N/mm2] of the ring, under a jaw. Source: Roark's, rings: M = W R (1/theta - cot) / 2.

    `W` [N], mean radius `R`, width `L`, wall `t` [mm], `theta` [rad] half the angle between jaws.

    >>> round(bending_stress(1.0, 1.0, 6.0, 1.0, pi / 2), 4)
    0.3183
    """
    return 3 * W * R * (1 / theta - 1 / tan(theta)) / (L * t**2)


@formula(source="grip of all jaws shared evenly", means="force of each jaw", result="W")
def force_of_a_jaw(F_g: Force, i: Count) -> Force:
    """Force [N] of each of `i` jaws that grip with `F_g` [N] together. Source: definition.

    >>> force_of_a_jaw(30_000.0, 3)
    10000.0
    """
    return F_g / i
