"""Holding the work: the grip that a drill needs, which turns the work and pushes it along the axis at once."""

from __future__ import annotations

from math import sqrt

from calc.language.quantities import Diameter, Force, Ratio, Torque
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
