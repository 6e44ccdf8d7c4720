"""An O-ring that is warm, swollen or stretched, and the surfaces it needs; data in `data/o_rings.toml`."""

from __future__ import annotations

from math import sqrt

from calc.language.kinds import Expansion, Temperature
from calc.language.quantities import Length, Ratio
from calc.language.working import formula
from calc.shapes.o_rings import Duty, table

MICROMETRE = 1e-3  # mm


def rubbers() -> dict[str, str]:
    """The ring materials by their code, in words.

    >>> rubbers()["NBR"]
    'NBR, nitrile'
    """
    return {code: row["words"] for code, row in table()["rubber"].items()}


def expansion_of(rubber: str) -> float:
    """Linear expansion [1/K] of a ring material. Source: data sheets, from memory.

    >>> round(expansion_of("NBR") * 1e6)
    112
    """
    return float(table()["rubber"][rubber]["expansion"])


def surfaces(duty: Duty) -> tuple[float, float]:
    """Ra [mm] of the surface sealed against and of the groove. Source: ISO 3601-2, from memory.

    >>> [round(1000 * each, 3) for each in surfaces("moving")]
    [0.4, 1.6]
    """
    mating, groove = table()["surface"][duty]
    return mating * MICROMETRE, groove * MICROMETRE


@formula(
    source="the ring grows in all directions, by heat and by what it takes up; the metal's growth left out",
    means="fill of the groove, warm and swollen",
    result="phi_w",
)
def fill_when_warm(phi: Ratio, alpha: Expansion, dT: Temperature, q_v: Ratio) -> Ratio:
    """Fill of a groove that is filled `phi` cold, `dT` [K] warmer and swollen by the share `q_v` of its volume.

    `alpha` [1/K] is the linear expansion of the ring. Source: growth in three directions.

    >>> round(fill_when_warm(0.8, 112e-6, 80.0, 0.10), 4)
    0.9039
    """
    return phi * (1 + alpha * dT) ** 3 * (1 + q_v)


@formula(source="a stretched ring keeps its volume", means="section of the stretched ring", result="w_s")
def stretched_section(w: Length, e: Ratio) -> Length:
    """Section [mm] of a ring `w` [mm] that is stretched by the share `e`. Source: constant volume.

    >>> round(stretched_section(2.65, 0.05), 4)
    2.5861
    """
    return w / sqrt(1 + e)
