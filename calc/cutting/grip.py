"""The grip of a chuck and what the speed takes from it: the jaws are thrown outward.

Formulas as in VDI 3106 (permissible speed of lathe chucks): the centrifugal force of all jaws together is taken from
the grip that was set at rest, where the jaws hold from outside; where they hold in a bore it is added.
"""

from __future__ import annotations

from math import pi, sqrt

from calc.language.kinds import InertMass, MassMoment
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import FORCE, Count, Diameter, Force, Radius, Ratio, SpindleSpeed
from calc.language.working import formula

VDI = "VDI 3106, as in printed manuals of lathe chucks"
LARGEST_LOSS: Ratio = 0.67  # share of the grip at rest that the jaws' throw may take; EN 1550


@formula(source=VDI, means="centrifugal moment of the jaws", result="M_c", symbols={"M_base": "M_base"})
def moment_of_jaws(i: Count, M_base: MassMoment, m: InertMass, r_s: Radius) -> MassMoment:
    """Mass times radius of all jaws [N min2]: `i` jaws, each with a base jaw of `M_base` and a top jaw `m` at `r_s`.

    `M_base` [N min2] is in the chuck's manual, `m` [N min2/mm] the mass of a top jaw, `r_s` [mm] the radius on which
    its centre of mass turns. Source: VDI 3106.

    >>> from calc.language.kinds import INERT_MASS, MASS_MOMENT
    >>> round(MASS_MOMENT.shown(moment_of_jaws(1, 0.0, INERT_MASS.internal(5.33), 107.0)), 5)
    0.57031
    """
    return i * (M_base + m * r_s)


@formula(source=VDI, means="grip that the speed takes away", result="F_loss")
def grip_loss(M_c: MassMoment, n: SpindleSpeed) -> Force:
    """Centrifugal force [N] of jaws with the moment `M_c` [N min2] at `n` [1/min]. Source: VDI 3106.

    >>> from calc.language.kinds import MASS_MOMENT
    >>> round(grip_loss(MASS_MOMENT.internal(2.668), 1200.0), 2)
    42131.37
    """
    return M_c * (2 * pi * n) ** 2


@formula(source=VDI, means="grip left, held from outside", result="F_left")
def grip_left_outside(F_0: Force, F_loss: Force) -> Force:
    """Grip [N] left of `F_0` at rest when the jaws hold from outside. Source: VDI 3106.

    >>> grip_left_outside(70_000.0, 42_000.0)
    28000.0
    """
    return F_0 - F_loss


@formula(source=VDI, means="grip, held in a bore", result="F_left")
def grip_left_inside(F_0: Force, F_loss: Force) -> Force:
    """Grip [N] when the jaws hold in a bore: the throw is added. Source: VDI 3106.

    >>> grip_left_inside(70_000.0, 42_000.0)
    112000.0
    """
    return F_0 + F_loss


@formula(
    source="moment of the cut against friction at the jaws; VDI 3106", means="grip that the cut needs", result="F_need"
)
def grip_for_cut(F_c: Force, D: Diameter, mu: Ratio, D_g: Diameter) -> Force:
    """Grip [N] that holds cutting force `F_c` [N] at diameter `D` [mm] by friction `mu` on the diameter `D_g` [mm].

    Source: VDI 3106, the turning moment alone.

    >>> grip_for_cut(3000.0, 60.0, 0.1, 120.0)
    15000.0
    """
    return F_c * D / (mu * D_g)


@formula(source=VDI, means="grip to set at rest", result="F_set")
def grip_to_set(S_s: Ratio, F_need: Force, S_z: Ratio, F_loss: Force) -> Force:
    """Grip [N] to set at rest for a needed `F_need` [N] and a loss `F_loss` [N], held from outside.

    `S_z` is the safety on what the cut needs, `S_s` that on the whole, both 1.5 or more. Source: VDI 3106.

    >>> round(grip_to_set(1.5, 3000.0, 1.5, 42_131.37), 2)
    69947.06
    """
    return S_s * (F_need * S_z + F_loss)


@formula(source=VDI, means="speed up to which the grip holds", result="n_grip")
def speed_for_grip(F_0: Force, S_s: Ratio, F_need: Force, S_z: Ratio, M_c: MassMoment) -> SpindleSpeed:
    """Speed [1/min] up to which `F_0` [N] at rest still holds what the cut needs, with both safeties.

    Source: VDI 3106, `grip_to_set` solved for the speed.

    >>> from calc.language.kinds import MASS_MOMENT
    >>> round(speed_for_grip(69_947.05, 1.5, 3000.0, 1.5, MASS_MOMENT.internal(2.668)), 3)
    1200.0
    """
    return sqrt((F_0 / S_s - F_need * S_z) / M_c) / (2 * pi)


@formula(
    source="EN 1550: at most 67 % of the grip at rest may be lost",
    means="speed at the largest loss",
    result="n_loss",
    symbols={"LARGEST_LOSS": "q_loss"},
)
def speed_at_largest_loss(F_0: Force, M_c: MassMoment) -> SpindleSpeed:
    """Speed [1/min] at which the jaws' throw takes the largest share of the grip `F_0` [N] that may be lost.

    Source: EN 1550.

    >>> from calc.language.kinds import MASS_MOMENT
    >>> round(speed_at_largest_loss(69_947.05, MASS_MOMENT.internal(2.668)))
    1266
    """
    return sqrt(LARGEST_LOSS * F_0 / M_c) / (2 * pi)


def speed_limit_of_grip(grip: float, safety: float, needed: float, safety_of_cut: float, moment: float) -> float:
    """The speed [1/min] up to which the grip holds, by the cut's need and by the largest loss: the lower one.

    `grip` and `needed` [N], `moment` [N min2]. Raises Impossible when even at rest the grip is too little.

    >>> from calc.language.kinds import MASS_MOMENT
    >>> round(speed_limit_of_grip(69_947.05, 1.5, 3000.0, 1.5, MASS_MOMENT.internal(2.668)))
    1200
    """
    if grip <= safety * safety_of_cut * needed:
        least = Quantity(safety * safety_of_cut * needed, FORCE)
        said = Message(_TOO_LITTLE, {"grip": Quantity(grip, FORCE), "least": least})
        raise Impossible(Fault("grip", said))
    by_cut = speed_for_grip(grip, safety, needed, safety_of_cut, moment)
    return min(by_cut, speed_at_largest_loss(grip, moment))


_TOO_LITTLE = (
    "Even at rest the grip of {grip} is no more than the {least} that the cut needs with its safety factors: "
    "grip harder or cut less."
)
