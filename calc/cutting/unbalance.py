"""What turns off its axis pulls outward: the sum of mass times radius, its force, and the weight against it."""

from __future__ import annotations

from math import hypot, pi

from calc.language.kinds import InertMass, MassMoment
from calc.language.quantities import Force, Length, SpindleSpeed
from calc.language.working import formula

ROTOR = "force on a mass that moves in a circle; handbooks of mechanics"


@formula(source="sum of mass times radius in two directions", means="out of balance", result="U")
def unbalance_of(U_x: MassMoment, U_y: MassMoment) -> MassMoment:
    """Mass times radius [N min2] of pieces with `U_x` and `U_y` [N min2] in two directions. Source: vector sum.

    >>> unbalance_of(3.0, 4.0)
    5.0
    """
    return hypot(U_x, U_y)


@formula(source=ROTOR, means="pull at this speed", result="F_u")
def pull_of(U: MassMoment, n: SpindleSpeed) -> Force:
    """Outward force [N] of `U` [N min2], mass times radius, at `n` [1/min]. Source: handbooks of mechanics.

    >>> from calc.language.kinds import MASS_MOMENT
    >>> round(pull_of(MASS_MOMENT.internal(0.2), 600.0), 1)
    789.6
    """
    return U * (2 * pi * n) ** 2


@formula(source="equal mass times radius on the other side", means="counterweight", result="m_c")
def counterweight(U: MassMoment, r_c: Length) -> InertMass:
    """Mass [N min2/mm] that balances `U` [N min2] at the radius `r_c` [mm]. Source: moments.

    >>> counterweight(10.0, 5.0)
    2.0
    """
    return U / r_c
