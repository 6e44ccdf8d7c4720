"""Centre holes of 60 degrees by their standard, and what a centre point in one carries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import pi, radians, tan
from pathlib import Path
from typing import Any, Literal

from calc.language.quantities import Angle, Diameter, Force, Length, Pressure, Ratio
from calc.language.tables import read_table
from calc.language.working import formula

TABLE = Path(__file__).parent / "data" / "centre_holes.toml"
POINT = radians(60.0)
PROTECTING = radians(120.0)
CONE = "right triangle in the cone"
CentreForm = Literal["A", "B", "C", "R"]
FORMS: Mapping[CentreForm, str] = {
    "A": "A, plain",
    "B": "B, with a protecting cone",
    "C": "C, with a protecting recess",
    "R": "R, with an arc",
}


@dataclass(frozen=True, slots=True)
class CentreHole:
    """A size [mm]: pilot, cone diameter, rim of the protecting cone, least pilot length, arc of form R, recess of C."""

    pilot: float
    cone: float
    protected: float
    pilot_length: float
    largest_arc: float
    smallest_arc: float
    recess_depth: float
    recess_floor: float
    recess_rim: float
    preferred: bool


@cache
def _table() -> dict[str, Any]:
    return read_table(TABLE)


def source() -> str:
    """Where the sizes are from.

    >>> source()
    'ISO 6411 and DIN 332-1, from memory'
    """
    return str(_table()["source"])


@cache
def centre_holes() -> dict[str, CentreHole]:
    """The sizes by their pilot as written, rising.

    >>> list(centre_holes())[:4], centre_holes()["4"].cone
    (['1', '1.25', '1.6', '2'], 8.5)
    """
    told = _table()
    return {f"{row['d']:g}": _hole(row, told["preferred"]) for row in told["row"]}


def _hole(row: dict[str, Any], preferred: list[float]) -> CentreHole:
    (largest, smallest), recess = row["r"], row["C"]
    return CentreHole(
        pilot=row["d"],
        cone=row["D2"],
        protected=row["D3"],
        pilot_length=row["t"],
        largest_arc=largest,
        smallest_arc=smallest,
        recess_depth=recess[0],
        recess_floor=recess[1],
        recess_rim=recess[2],
        preferred=row["d"] in preferred,
    )


@formula(source=CONE, means="depth of the cone", result="l_c")
def cone_depth(D: Diameter, d: Diameter, alpha: Angle) -> Length:
    """Depth [mm] of a cone of included angle `alpha` [rad] from the diameter `D` down to `d` [mm]. Source: geometry.

    >>> round(cone_depth(8.5, 4.0, POINT), 3)
    3.897
    """
    return (D - d) / (2 * tan(alpha / 2))


@formula(
    source="the point's cone turns a radial load into an axial one; no friction", means="keeps it in", result="F_k"
)
def force_to_keep(S: Ratio, F_r: Force, alpha: Angle) -> Force:
    """Axial force [N] that keeps a point of the included angle `alpha` [rad] seated under the radial load `F_r` [N].

    `S` is the safety. Source: equilibrium on the cone without friction.

    >>> round(force_to_keep(1.0, 1000.0, POINT), 1)
    577.4
    """
    return S * F_r * tan(alpha / 2)


@formula(source="force over the area of the cone seen along the axis", means="mean pressure on the cone", result="p")
def cone_pressure(F_a: Force, D: Diameter, d: Diameter) -> Pressure:
    """Mean pressure [N/mm2] of the axial force `F_a` [N] on a cone from `D` to `d` [mm]. Source: definition.

    >>> round(cone_pressure(1000.0, 8.5, 4.0), 2)
    22.64
    """
    return F_a / (pi / 4 * (D**2 - d**2))
