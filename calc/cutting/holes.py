"""What a hole on the axis needs beside its drill, from `data/holes.toml`: drills on the shelf, allowances, pecks."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import floor
from typing import Any

from calc.cutting.tables import source, table
from calc.language.quantities import Diameter, Length
from calc.language.working import formula

_SLIP = 1e-9  # mm: a diameter on a step may miss it by rounding
LONG_CHIPS = ("M", "S", "plastic")  # groups of material whose chips do not break

DRILL_MAKES = 0.1
"""mm on the diameter: what a twist drill holds, about IT11 to IT12 (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Allowance:
    """What is left for a finishing tool [mm], on the diameter for a reamer, and where the range is from."""

    low: float
    usual: float
    high: float
    source: str


@dataclass(frozen=True, slots=True)
class Runs:
    """How a tool of a hole runs: its speed over that of a drill of high-speed steel, its feed over a drill's."""

    speed: float
    feed: float
    source: str


@dataclass(frozen=True, slots=True)
class PeckRule:
    """Deeper than `deep` diameters a drill pecks, `first` diameters deep and then `following` each time."""

    deep: float
    first: float
    following: float
    source: str


@cache
def _table() -> dict[str, Any]:
    return table("holes")


def drill_below(diameter: float) -> float:
    """The largest drill on the shelf [mm] that is not above `diameter` [mm]. Source: DIN 338, DIN 345, from memory.

    >>> drill_below(11.75), drill_below(15.8), drill_below(2.97)
    (11.7, 15.75, 2.95)
    """
    rows = _table()["stock"]
    step = next((row["step"] for row in rows if diameter <= row["to"]), rows[-1]["step"])
    return float(round(floor(diameter / step + _SLIP) * step, 3))


def ream_allowance(group: str, diameter: float) -> Allowance:
    """What a drill leaves for a reamer of `diameter` [mm] on the diameter, by ISO 513 `group` of the material.

    Source: trade handbook tables, from memory.

    >>> ream_allowance("P", 12.0).usual, ream_allowance("N", 25.0).usual
    (0.25, 0.45)
    """
    told = _table()["ream"]
    row = _row_for(told[told["groups"][group]], diameter)
    low, usual, high = row["left"]
    return Allowance(low, usual, high, source(told["source"]))


def bore_allowance(diameter: float) -> float:
    """What a drill leaves per side [mm] for a boring bar in a hole of `diameter` [mm]. Source: common practice.

    >>> bore_allowance(25.0)
    0.75
    """
    left: float = _row_for(_table()["bore"], diameter)["left"]
    return left


def _row_for(rows: list[dict[str, Any]], diameter: float) -> dict[str, Any]:
    return next((row for row in rows if diameter <= row["to"]), rows[-1])


@cache
def runs(tool: str) -> Runs:
    """How a `tool` ("spot", "ream", "countersink", "counterbore") runs. Source: the table's.

    >>> runs("ream").speed
    0.5
    """
    row = _table()["runs"][tool]
    return Runs(row["speed"], row["feed"], source(row["source"]))


def peck_rule(drill: str, group: str, *, flooded: bool) -> PeckRule:
    """When and how a `drill` ("HSS", "coated carbide", "indexable") pecks in a material `group`; `flooded`: through it.

    Source: common practice.

    >>> peck_rule("HSS", "P", flooded=False).deep, peck_rule("HSS", "M", flooded=False).following
    (3.0, 0.5)
    """
    told = _table()["peck"]
    row = told[drill]
    shorter = told["long_chips"] if group in LONG_CHIPS else 1.0
    deep = row["from_flooded"] if flooded else row["from"]
    return PeckRule(deep, row["first"], shorter * row["following"], source(told["source"]))


def pilot_for(diameter: float) -> float | None:
    """The pilot [mm] before a drill of high-speed steel of `diameter` [mm]; None where none is usual.

    Source: common practice: a little wider than the drill's web.

    >>> pilot_for(20.0) is None, pilot_for(40.0)
    (True, 12.0)
    """
    told = _table()["pilot"]
    return drill_below(told["share"] * diameter) if diameter > told["from"] else None


def insert_drill() -> tuple[float, float]:
    """Of a drill with inserts: its feed over that of a twist drill, and the smallest usual one [mm].

    Source: common practice.

    >>> insert_drill()
    (0.35, 12.0)
    """
    told = _table()["inserts"]
    return told["feed"], told["smallest"]


@formula(source="what the reamer takes off on the diameter", means="drill before reaming, at most", result="d_max")
def drill_before_reaming(D: Diameter, c: Length) -> Diameter:
    """Largest drill [mm] before a reamer `D` [mm] that is left `c` [mm] on the diameter. Source: definition.

    >>> drill_before_reaming(12.0, 0.25)
    11.75
    """
    return D - c


@formula(source="what the bar takes off per side", means="drill before boring, at most", result="d_max")
def drill_before_boring(D: Diameter, c: Length) -> Diameter:
    """Largest drill [mm] before boring to `D` [mm] that leaves `c` [mm] per side. Source: definition.

    >>> drill_before_boring(25.0, 0.75)
    23.5
    """
    return D - 2 * c


@formula(source="half the difference of the diameters", means="left on each side", result="c_s")
def left_per_side(D: Diameter, d: Diameter) -> Length:
    """What a hole `d` leaves on each side up to `D` [mm]. Source: definition.

    >>> left_per_side(25.0, 23.5)
    0.75
    """
    return (D - d) / 2
