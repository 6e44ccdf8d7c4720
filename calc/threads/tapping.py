"""Tapping: how deep to drill, what turns the tap, how long it takes."""

from __future__ import annotations

from math import tan
from typing import Literal

from calc.language.quantities import Area, Count, Diameter, Feed, Length, Pressure, Ratio, SpindleSpeed, Time, Torque
from calc.language.working import formula
from calc.threads.thread import Thread

TapChamfer = Literal["A", "B", "C", "D", "E"]
CHAMFERS: dict[TapChamfer, tuple[float, str]] = {
    "A": (7.0, "A, 6 to 8 threads"),
    "B": (4.5, "B, 3.5 to 5.5 threads with a spiral point"),
    "C": (2.5, "C, 2 to 3 threads"),
    "D": (4.5, "D, 3.5 to 5 threads"),
    "E": (1.75, "E, 1.5 to 2 threads"),
}
"""Threads in the chamfer of a tap by its form; ISO 8830 and DIN 2197, from memory."""

SPEEDS = {"P": 12_000.0, "M": 6_000.0, "K": 12_000.0, "N": 20_000.0, "S": 3_000.0, "H": 2_000.0, "plastic": 20_000.0}
"""Surface speed [mm/min] to start a tap of high-speed steel with, by material group; common practice, no source."""

USUAL_FLUTES = 3.0
RESERVE = 1.0  # threads that the tap may run on below its chamfer; common practice, no source
WORN = 2.0  # times the torque of a sharp tap before a worn one is changed; common practice, no source
_DEPTHS = "thread, chamfer of the tap, and a reserve"


@formula(source=_DEPTHS, means="depth to drill at full diameter", result="t_d")
def drill_depth(t: Length, n_c: Ratio, n_r: Ratio, P: Length) -> Length:
    """Depth [mm] to drill for `t` [mm] of full thread, `n_c` threads of chamfer and `n_r` in reserve, pitch `P` [mm].

    Source: geometry of the tap.

    >>> drill_depth(20.0, 2.5, 1.0, 1.5)
    25.25
    """
    return t + (n_c + n_r) * P


@formula(source="depth of the thread shared among the chamfer's teeth", means="chip of a tooth", result="h")
def chip_of_tooth(a: Length, n_c: Ratio, z: Count) -> Length:
    """Chip thickness [mm] of a tooth: the depth `a` [mm] shared among `n_c` threads of chamfer with `z` flutes.

    Source: geometry of the chamfer.

    >>> round(chip_of_tooth(0.75, 2.5, 3.0), 6)
    0.1
    """
    return a / (n_c * z)


@formula(source="force of the thread's section at half the diameter", means="torque of a sharp tap", result="M")
def tap_torque(K: Ratio, k_c: Pressure, A: Area, D: Diameter) -> Torque:
    """Torque [N mm] of a tap `D` [mm] that takes the section `A` [mm2] at `k_c` [N/mm2], corrected by `K`.

    Source: trade handbooks have A = P^2 / 4, which gives P^2 D k_c / 8.

    >>> tap_torque(1.0, 2000.0, 0.5, 10.0)
    5000.0
    """
    return K * k_c * A * D / 2


@formula(source="in and out at the feed of one pitch", means="time in the hole", result="t")
def tapping_time(l: Length, f: Feed, n: SpindleSpeed) -> Time:  # noqa: E741 (the symbol of a length)
    """Time [min] to go `l` [mm] in and out again at `f` [mm/rev] and `n` [1/min]. Source: definition.

    >>> tapping_time(30.0, 1.5, 400.0)
    0.1
    """
    return 2 * l / (f * n)


def section_cut(thread: Thread, drilled: float) -> float:
    """The section [mm2] of one thread between the hole `drilled` [mm] and the major diameter.

    Source: geometry, root flat P/8.

    >>> from calc.threads.thread import thread_of
    >>> round(section_cut(thread_of("M10", "inside"), 8.5), 4)
    0.4654
    """
    sizes = thread.sizes
    depth = (thread.named.diameter - drilled) / 2
    return depth * (sizes.root_flat + depth * tan(sizes.alpha))
