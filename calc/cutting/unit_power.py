"""Power from the volume removed: the handbook's unit power, with its factors for feed and wear."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Annotated, Any, Literal

from calc.cutting.materials import Material
from calc.cutting.tables import source, table
from calc.language.factor import HORSEPOWER, INCH, THOUSAND
from calc.language.quantities import Kind, Power, Ratio, RemovalRate
from calc.language.unit import Unit
from calc.language.working import formula

UNIT_POWER = Kind(
    "unit power",
    "unit power",
    Unit("kW/(cm3/s)", "kW/(cm³/s)", THOUSAND, decimals=2),
    Unit("hp/(in3/min)", "hp/(in³/min)", HORSEPOWER / INCH**3, decimals=2, leading_zero=False),
)
UnitPower = Annotated[float, UNIT_POWER]
IN_HANDBOOK = HORSEPOWER / INCH**3

EdgeState = Literal["sharp", "finish", "normal", "heavy"]
WEAR: dict[EdgeState, str] = {
    "sharp": "sharp",
    "finish": "turning, light cuts",
    "normal": "turning, ordinary cuts",
    "heavy": "turning, heavy cuts",
}


@formula(source="Machinery's Handbook 31, machining power", means="power at the spindle by unit power", result="P_u")
def power_by_volume(K_p: UnitPower, C: Ratio, Q: RemovalRate, W: Ratio) -> Power:
    """Power [N mm/min] at the spindle for removing `Q` [mm3/min] at the unit power `K_p` [N/mm2].

    `C` is the factor for the feed, `W` that for the wear. Source: Machinery's Handbook 31, machining power.

    >>> round(power_by_volume(1692.8, 0.94, 110121.0, 1.3) / HORSEPOWER.times(1.0), 2)
    5.09
    """
    return K_p * C * Q * W


@formula(source="comparison", means="unit power against Kienzle's force", result="d")
def difference(P_u: Power, P: Power) -> Ratio:
    """By how much `P_u` is above `P` [both N mm/min], as a share of `P`. Source: definition.

    >>> round(difference(5.5, 5.0), 3)
    0.1
    """
    return P_u / P - 1


@dataclass(frozen=True, slots=True)
class UnitPowers:
    """Unit powers [N/mm2] over a range of hardness: lowest, at the middle, highest; the class they are of."""

    low: float
    usual: float
    high: float
    title: str
    source: str


def unit_power_of(work: Material, brinell: float | None = None) -> UnitPowers | None:
    """The handbook's unit power of a material, over its hardness or at `brinell`; None where the handbook has none.

    Beyond a class's rows the nearest row counts. Source: Machinery's Handbook 31, Tables 1a and 1b.

    >>> from calc.cutting.materials import material
    >>> found = unit_power_of(material("AISI 4130"), 190.0)
    >>> round(IN_HANDBOOK.over(found.usual), 2)
    0.62
    """
    if work.unit_power is None:
        return None
    row = _classes()[work.unit_power]
    low, high = (work.hardness.low, work.hardness.high) if brinell is None else (brinell, brinell)
    soft, middle, hard = (IN_HANDBOOK.times(_at(row["rows"], at)) for at in (low, (low + high) / 2, high))
    return UnitPowers(soft, middle, hard, row["title"], source(row["source"]))


def feed_factor(feed: float) -> float:
    """The factor C for a feed [mm/rev]: between two rows in proportion, beyond them the last one.

    Source: Machinery's Handbook 31, Table 2, from memory.

    >>> round(feed_factor(0.016 * 25.4), 3), feed_factor(0.001), feed_factor(10.0)
    (0.94, 1.6, 0.72)
    """
    rows = table("unit_power")["feed_factor"]["rows"]
    inches = INCH.over(feed)
    if inches <= rows[0][0]:
        return float(rows[0][1])
    for (start, first), (end, last) in pairwise(rows):
        if inches <= end:
            return float(first + (last - first) * (inches - start) / (end - start))
    return float(rows[-1][1])


def wear_factor(name: str) -> float:
    """The factor W for the wear of the edge ("sharp", "finish", "normal", "heavy"); raises KeyError for another.

    Source: Machinery's Handbook 31, Table 3, from memory.

    >>> wear_factor("normal")
    1.3
    """
    return float(table("unit_power")["wear_factor"][name])


@cache
def _classes() -> Mapping[str, Mapping[str, Any]]:
    return {row["name"]: row for row in table("unit_power")["class"]}


def _at(rows: Sequence[Sequence[float]], brinell: float) -> float:
    """The value of the row that has this hardness, or of the nearest."""
    return min(rows, key=lambda row: (max(row[0] - brinell, brinell - row[1], 0.0), row[0]))[2]
