"""The tables of ISO 1832 and ANSI B212.4, from `data/iso1832.toml`; read on first use."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from calc.language.tables import read_table

TABLE = Path(__file__).parent / "data" / "iso1832.toml"
SIXTY_FOURTH = 25.4 / 64


@dataclass(frozen=True, slots=True)
class Shape:
    """A shape letter: `angle` is the included angle of its corner, rad (None: round); `corners` of a regular one."""

    letter: str
    words: str
    kind: str
    angle: float | None
    corners: int = 0

    @property
    def is_round(self) -> bool:
        """Whether the insert has no corner."""
        return self.angle is None

    @property
    def included(self) -> float:
        """The included angle of its corner, rad; a TypeError for a round one."""
        if self.angle is None:
            raise TypeError(f"an insert of shape {self.letter} has no corner")
        return self.angle


@dataclass(frozen=True, slots=True)
class Clearance:
    """A clearance letter: `angle` is the clearance at the cutting edge, rad (None: special)."""

    letter: str
    words: str
    angle: float | None


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Deviations to either side, mm: on the inscribed circle, the thickness and the nose height; None: not listed."""

    size: float | None
    thickness: float | None
    nose_height: float | None


@cache
def table() -> Mapping[str, Any]:
    """The whole file.

    >>> table()["type"]["G"]
    'cylindrical hole, chip breakers on both faces'
    """
    return read_table(TABLE)


@cache
def shapes() -> Mapping[str, Shape]:
    """The shapes by letter.

    >>> shapes()["D"].words, round(math.degrees(shapes()["D"].angle))
    ('rhombus, 55°', 55)
    """
    return {
        letter: Shape(letter, row["words"], row["kind"], _radians(row.get("angle")), row.get("corners", 0))
        for letter, row in table()["shape"].items()
    }


@cache
def clearances(*, inch: bool = False) -> Mapping[str, Clearance]:
    """The clearances by letter; the inch form has some of its own.

    >>> round(math.degrees(clearances()["C"].angle)), "M" in clearances(), "M" in clearances(inch=True)
    (7, False, True)
    """
    rows = table()["clearance"] | (table()["clearance_inch"] if inch else {})
    return {letter: Clearance(letter, row["words"], _radians(row.get("angle"))) for letter, row in rows.items()}


def tolerance_of(letter: str, shape: Shape | None, size: float | None) -> Tolerance:
    """The deviations of a class for an insert of inscribed circle `size`, mm; those that hang on an unknown size None.

    >>> tolerance_of("M", shapes()["C"], 12.7)
    Tolerance(size=0.08, thickness=0.13, nose_height=0.13)
    >>> tolerance_of("G", None, None)
    Tolerance(size=0.025, thickness=0.13, nose_height=0.025)
    """
    row = table()["tolerance"][letter]
    if "by_size" not in row:
        return Tolerance(row["d"], row["s"], row["m"])
    found = next((each for each in table()["tolerance_by_size"] if size is not None and size <= each["to"]), None)
    if found is None:
        return Tolerance(None, row["s"], row.get("m"))
    column = found[row["by_size"]]
    if row.get("d_only"):
        return Tolerance(column["d"], row["s"], row["m"])
    return Tolerance(column["d"], row["s"], _nose_height(column, shape, row["by_size"]))


def _nose_height(column: Mapping[str, float], shape: Shape | None, by_size: str) -> float | None:
    """Class M has its own values for sharp rhombi, and none where the table has none."""
    if by_size == "M" and shape is not None and shape.letter in ("D", "V"):
        return column.get(f"m_{shape.letter}")
    return column["m"]


def _radians(degrees: float | None) -> float | None:
    return None if degrees is None else math.radians(degrees)
