"""Holding the work: the grip against being turned, pushed along the axis, and tilted out of the jaws."""

from __future__ import annotations

from math import sqrt

from calc.language.quantities import Diameter, Force, Length, Ratio, Torque
from calc.language.working import formula

_FRICTION = "friction at the jaws, which holds the resultant of both forces; as VDI 3106 for the torque alone"


@formula(source="definition of torque", means="force of the torque at the jaws", result="F_t")
def force_at_jaws(M: Torque, D_w: Diameter) -> Force:
    """Force [N] around the work with which the torque `M` [N mm] pulls at the jaws on `D_w` [mm]. Source: definition.

    >>> force_at_jaws(30_000.0, 60.0)
    1000.0
    """
    return 2 * M / D_w


@formula(source=_FRICTION, means="grip against torque and thrust together", result="F_g")
def grip_against_both(S: Ratio, F_t: Force, F_a: Force, mu: Ratio) -> Force:
    """Grip [N, all jaws] that holds `F_t` [N] around the work and `F_a` [N] along the axis by friction `mu`.

    `S` is the safety. Source: friction holds the resultant; VDI 3106 has the torque alone.

    >>> round(grip_against_both(1.5, 3000.0, 4000.0, 0.1), 6)
    75000.0
    """
    return S * sqrt(F_t**2 + F_a**2) / mu


@formula(
    source="statics of three jaws whose pressure shifts to the ends of what they hold; common practice, no source",
    means="grip against tilting",
    result="F_tilt",
)
def grip_against_tilt(S: Ratio, F_c: Force, L_w: Length, l_g: Length, mu: Ratio, D_w: Diameter) -> Force:
    """Grip [N, all jaws] that holds work against `F_c` [N] at its free end, `L_w` [mm] out of three jaws.

    The jaws hold it over `l_g` [mm] on `D_w` [mm] with the friction `mu`; `S` is the safety. Weakest is the tilt
    about a jaw's own direction: there the two others hold, by half the root of 3 of pressure and friction each.
    Source: statics.

    >>> round(grip_against_tilt(1.5, 2000.0, 60.0, 20.0, 0.1, 60.0))
    23982
    """
    return S * 2 * sqrt(3) * F_c * L_w / (l_g + mu * D_w)
