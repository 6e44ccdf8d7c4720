"""Corrections of Kienzle's cutting force for rake, surface speed and wear, as their source states them.

The tables hold for a rake of 6 degrees (2 on cast iron), about 100 m/min, and a sharp edge.
"""

from __future__ import annotations

from math import radians
from typing import Literal

from calc.language.quantities import Angle, Ratio, SurfaceSpeed
from calc.language.working import formula

v0: SurfaceSpeed = 100_000.0  # the surface speed that the tables belong to [mm/min]
gamma_1: Angle = radians(200 / 3)  # the rake that would take the whole force away: 1.5 % for each degree

RAKE_OF_TABLES = radians(6.0)
RAKE_OF_TABLES_ON_CAST_IRON = radians(2.0)
Wear = Literal["sharp", "worn", "blunt"]
WEAR: dict[Wear, str] = {"sharp": "sharp", "worn": "worn, due for a change", "blunt": "blunt"}
WEAR_FACTORS = {"sharp": 1.0, "worn": 1.3, "blunt": 1.5}
"""Praxis der Zerspantechnik, from memory: 1.3 to 1.5 at the end of an edge's life."""

_RAKE = "Praxis der Zerspantechnik, from memory: 1.5 % for each degree of rake"
_SPEED = "Zerspantechnik, from memory: for carbide from 20 to 600 m/min"


@formula(source=_RAKE, means="factor for the rake", result="K_gamma", symbols={"gamma": "gamma", "gamma_0": "gamma_0"})
def rake_factor(gamma: Angle, gamma_0: Angle) -> Ratio:
    """Factor on the force for a rake `gamma` [rad] where the tables hold for `gamma_0` [rad].

    Source: Praxis der Zerspantechnik, from memory.

    >>> from math import radians
    >>> round(rake_factor(radians(-6.0), radians(6.0)), 6), round(rake_factor(radians(16.0), radians(6.0)), 6)
    (1.18, 0.85)
    """
    return 1 - (gamma - gamma_0) / gamma_1


@formula(source=_SPEED, means="factor for the surface speed", result="K_v")
def speed_factor(v: SurfaceSpeed) -> Ratio:
    """Factor on the force for a surface speed `v` [mm/min]; 1 at 100 m/min, more below, less above.

    The source writes 2.023 / v^0.153 below 100 m/min and 1.380 / v^0.07 above; both are 1 there.
    Source: Zerspantechnik, from memory.

    >>> round(speed_factor(50_000.0), 4), speed_factor(100_000.0), round(speed_factor(200_000.0), 4)
    (1.1119, 1.0, 0.9526)
    """
    return (v / v0) ** -0.07 if v > v0 else (v / v0) ** -0.153  # type: ignore[no-any-return]  # a broken power


@formula(source="all corrections at once", means="correction of the force", result="K")
def correction(K_gamma: Ratio, K_v: Ratio, K_w: Ratio, K_o: Ratio) -> Ratio:
    """Product of the factors for rake, speed, wear and operation. Source: Praxis der Zerspantechnik, from memory.

    >>> round(correction(1.18, 1.0, 1.3, 1.0), 3)
    1.534
    """
    return K_gamma * K_v * K_w * K_o


def rake_of_tables(group: str) -> float:
    """The rake [rad] that the tables of force hold for, by ISO 513 group.

    >>> from math import degrees
    >>> round(degrees(rake_of_tables("P"))), round(degrees(rake_of_tables("K")))
    (6, 2)
    """
    return RAKE_OF_TABLES_ON_CAST_IRON if group == "K" else RAKE_OF_TABLES
