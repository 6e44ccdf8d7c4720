"""What a centre in the tailstock carries: its share of cut and weight, the push along the axis, its limits."""

from __future__ import annotations

from math import pi, sqrt

from calc.language.kinds import Gravity, SecondMoment
from calc.language.quantities import Force, Length, Mass, Pressure, Ratio
from calc.language.working import formula

BEAM = "beam theory (Euler and Bernoulli), as in handbooks of mechanics: table of reactions"
G: Gravity = 9.80665  # N/kg, standard gravity

FREE_ENDS: Ratio = 1.0  # of the length: both ends hinged, between centres
HELD_END: Ratio = 0.699  # of the length: one end held fast, the other hinged; Euler's second case, handbooks


@formula(source="both act at the edge, at right angles", means="force square to the axis", result="F_s")
def square_force(F_c: Force, F_p: Force) -> Force:
    """Force [N] square to the axis of the cutting force `F_c` and the passive force `F_p` [N]. Source: vector sum.

    >>> square_force(3000.0, 4000.0)
    5000.0
    """
    return sqrt(F_c**2 + F_p**2)


@formula(source=BEAM, means="the centre's share of the cut", result="F_r")
def reaction_with_chuck(F_s: Force, a: Length, L: Length) -> Force:
    """Reaction [N] of a centre at `L` [mm] from a chuck to `F_s` [N] at `a` [mm] from it. Source: beam theory.

    >>> reaction_with_chuck(1000.0, 100.0, 200.0), reaction_with_chuck(1000.0, 200.0, 200.0)
    (312.5, 1000.0)
    """
    return F_s * a**2 * (3 * L - a) / (2 * L**3)


@formula(source=BEAM, means="the centre's share of the cut", result="F_r")
def reaction_between_centres(F_s: Force, a: Length, L: Length) -> Force:
    """Reaction [N] of a centre `L` [mm] from the other one to `F_s` [N] at `a` [mm] from that. Source: the lever.

    >>> reaction_between_centres(1000.0, 50.0, 200.0)
    250.0
    """
    return F_s * a / L


@formula(source="standard gravity", means="weight of the work", result="F_w", symbols={"G": "g"})
def weight(m: Mass) -> Force:
    """Weight [N] of `m` [kg]. Source: standard gravity.

    >>> round(weight(10.0), 2)
    98.07
    """
    return m * G


@formula(source=BEAM, means="the centre's share of the weight", result="F_m")
def weight_with_chuck(F_w: Force) -> Force:
    """What [N] of the even weight `F_w` [N] a centre carries beside a chuck. Source: beam held at one end, hinged.

    >>> weight_with_chuck(80.0)
    30.0
    """
    return 3 * F_w / 8


@formula(source="the lever", means="the centre's share of the weight", result="F_m")
def weight_between_centres(F_w: Force) -> Force:
    """What [N] of the even weight `F_w` [N] one of two centres carries. Source: the lever.

    >>> weight_between_centres(80.0)
    40.0
    """
    return F_w / 2


@formula(source="weight and cut taken in one direction, the worst", means="load square to the axis", result="F_q")
def load_square(F_r: Force, F_m: Force) -> Force:
    """Load [N] on a centre square to the axis: `F_r` of the cut, `F_m` of the weight [N]. Source: the worst case.

    >>> load_square(900.0, 100.0)
    1000.0
    """
    return F_r + F_m


@formula(source="forces along the axis", means="load along the axis", result="F_x")
def load_along(F_a: Force, F_f: Force) -> Force:
    """Load [N] on a centre along the axis: the tailstock's force `F_a` and a feed force `F_f` [N] toward it.

    Source: sum of forces.

    >>> load_along(2000.0, 500.0)
    2500.0
    """
    return F_a + F_f


@formula(
    source="both shares added, on the safe side; common practice, no source", means="both loads together", result="q_b"
)
def load_together(q_q: Ratio, q_x: Ratio) -> Ratio:
    """Share used of a centre by what it carries square to the axis `q_q` and along it `q_x`. Source: common practice.

    >>> load_together(0.5, 0.25)
    0.75
    """
    return q_q + q_x


@formula(source="Euler's buckling load; handbooks of mechanics", means="force at which the work buckles", result="F_E")
def buckling_force(E: Pressure, I: SecondMoment, beta: Ratio, L: Length) -> Force:  # noqa: E741 (handbooks call it I)
    """Axial force [N] at which work of the modulus `E` [N/mm2] and section `I` [mm4] bends out by itself.

    `beta` is the share of its length `L` [mm] that counts, by how its ends are held. Source: Euler.

    >>> round(buckling_force(210_000.0, 490.8739, 1.0, 1000.0))
    1017
    """
    return pi**2 * E * I / (beta * L) ** 2
