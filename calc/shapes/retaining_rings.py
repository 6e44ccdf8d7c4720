"""Grooves for retaining rings in shafts and in bores, from `data/retaining_rings.toml`."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import pi
from pathlib import Path
from typing import Any, Literal

from calc.language.fits import Limits, limits, read_class
from calc.language.messages import Listed, Message, Quantity, Value
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import DIAMETER, Area, Diameter, Force, Pressure, Ratio
from calc.language.tables import read_table
from calc.language.working import formula

TABLE = Path(__file__).parent / "data" / "retaining_rings.toml"
WIDTH_CLASS = "H13"
SHEAR_FACTOR = 1.2
"""For an edge margin of about three groove depths, which is what the standards print."""
STANDARD_YIELD = 200.0
"""N/mm2: the yield strength for which the standards print their loads."""

Where = Literal["outside", "inside"]
_ROWS: dict[Where, str] = {"outside": "shaft", "inside": "bore"}


@dataclass(frozen=True, slots=True)
class RingGroove:
    """The groove for one nominal diameter (mm): ring thickness, groove diameter and width with limits, edge margin."""

    nominal: float
    ring_thickness: float
    diameter: float
    diameter_class: str
    width: float
    edge_margin: float
    standard: str

    @property
    def diameter_limits(self) -> Limits:
        """The deviations of the groove's diameter, mm."""
        return limits(self.diameter, read_class(self.diameter_class))

    @property
    def width_limits(self) -> Limits:
        """The deviations of the groove's width, mm."""
        return limits(self.width, read_class(WIDTH_CLASS))

    @property
    def depth(self) -> float:
        """The groove's depth, mm."""
        return abs(self.nominal - self.diameter) / 2


@cache
def _table() -> dict[str, Any]:
    return read_table(TABLE)


@cache
def ring_grooves(where: Where) -> dict[float, RingGroove]:
    """The grooves of the table by nominal diameter (mm), read on first use.

    >>> ring_grooves("outside")[20.0].diameter, ring_grooves("inside")[62.0].width
    (19.0, 2.15)
    """
    table = _table()[_ROWS[where]]
    return {float(row[0]): _groove(row, where, table["standard"]) for row in table["rows"]}


def _groove(row: list[float], where: Where, standard: str) -> RingGroove:
    nominal, thickness, diameter, width, margin = map(float, row)
    classes = _table()["classes"][_ROWS[where]]
    of_diameter = next(name for most, name in classes if nominal <= most)
    return RingGroove(nominal, thickness, diameter, of_diameter, width, margin, standard)


def ring_groove(where: Where, diameter: float) -> RingGroove:
    """The groove for a shaft or bore of `diameter` (mm). Raises `OutOfRange` for one that the standard does not list.

    Source: DIN 471 (shafts), DIN 472 (bores), normal type.

    >>> groove = ring_groove("outside", 20.0)
    >>> groove.diameter, groove.diameter_limits.lower, groove.width, groove.edge_margin
    (19.0, -0.13, 1.3, 1.5)
    """
    rows = ring_grooves(where)
    found = next((row for size, row in rows.items() if abs(size - diameter) < 1e-6), None)
    if found is not None:
        return found
    near = sorted(rows, key=lambda size: abs(size - diameter))[:2]
    text = "{standard} lists no ring for {diameter}: the nearest are {near}."
    values: dict[str, Value] = {
        "standard": next(iter(rows.values())).standard,
        "diameter": Quantity(diameter, DIAMETER, brief=True),
        "near": Listed(tuple(Quantity(size, DIAMETER, brief=True) for size in sorted(near))),
    }
    raise OutOfRange(Fault("diameter", Message(text, values)))


@formula(means="groove wall that carries", source="ring of the groove's depth", result="A_N")
def wall_area(d_1: Diameter, d_2: Diameter) -> Area:
    """Area (mm2) of the groove's wall between the nominal diameter d_1 and the groove's d_2 (mm).

    Source: area of a ring.

    >>> round(wall_area(20.0, 19.0), 2)
    30.63
    """
    return pi / 4 * abs(d_1**2 - d_2**2)


@formula(means="load that the groove carries", source="DIN 471 and DIN 472, load of the groove", result="F_N")
def groove_load(sigma: Pressure, A_N: Area, q: Ratio) -> Force:
    """Load (N) of a groove wall A_N (mm2) in material of yield strength sigma (N/mm2); q is 1.2 for a margin of 3 t.

    Source: DIN 471, DIN 472: sharp-edged contact, no dynamic load.

    >>> round(groove_load(200.0, 30.6305, 1.2))
    5105
    """
    return sigma * A_N / q
