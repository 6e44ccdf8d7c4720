"""A turning bar that bends out: its critical speed is that of its first vibration, and its bow grows toward it."""

from __future__ import annotations

from math import sqrt

from calc.language.kinds import Deflection
from calc.language.quantities import Diameter, Length, Ratio, SpindleSpeed
from calc.language.working import formula

SHAFT = "critical speed of a shaft; handbooks of machine dynamics"


@formula(source=SHAFT, means="share of the critical speed", result="q_n")
def share_of_critical(n: SpindleSpeed, n_c: SpindleSpeed) -> Ratio:
    """The speed `n` as a share of the critical one `n_c` [1/min]. Source: definition.

    >>> share_of_critical(500.0, 1000.0)
    0.5
    """
    return n / n_c


@formula(source="the critical speed falls with the square of the length", means="free length allowed", result="L_n")
def free_length(L: Length, q: Ratio, q_n: Ratio) -> Length:
    """Free length [mm] at which a speed is the share `q` of the critical one, when at `L` [mm] it is `q_n` of it.

    Source: first bending vibration of a beam.

    >>> free_length(1000.0, 0.5, 2.0)
    500.0
    """
    return L * sqrt(q / q_n)


@formula(source=SHAFT, means="bow at this speed", result="e_n")
def bow_at_speed(e: Deflection, q_n: Ratio) -> Deflection:
    """What a bow `e` [mm] at rest grows to at the share `q_n` of the critical speed, below 1. Source: Jeffcott rotor.

    >>> round(bow_at_speed(0.3, 0.5), 6)
    0.4
    """
    return e / (1 - q_n**2)


@formula(source="difference of the diameters", means="play in the liner", result="s_l")
def liner_play(D_l: Diameter, D: Diameter) -> Length:
    """Play [mm] of a bar `D` in a liner `D_l` [mm] on the diameter. Source: definition.

    >>> liner_play(43.0, 42.0)
    1.0
    """
    return D_l - D
