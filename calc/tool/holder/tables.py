"""The tables of ISO 5608, ISO 6261 and ANSI B212.5, from `data/iso5608.toml`; read on first use."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any, Literal

from calc.language.tables import read_table

TABLE = Path(__file__).parent / "data" / "iso5608.toml"
Cuts = Literal["side", "end", "both"]


@dataclass(frozen=True, slots=True)
class Style:
    """A style letter: entering angle, rad (None: special), and with which side of the shank it cuts."""

    letter: str
    words: str
    angle: float | None
    cuts: Cuts
    neutral: bool


@cache
def table() -> Mapping[str, Any]:
    """The whole file.

    >>> table()["clamping"]["S"], table()["length"]["M"]
    ('screw through the hole', 150)
    """
    return read_table(TABLE)


@cache
def styles() -> Mapping[str, Style]:
    """The styles by letter.

    >>> round(math.degrees(styles()["J"].angle)), styles()["U"].cuts
    (93, 'end')
    """
    return {
        letter: Style(
            letter,
            row["words"],
            math.radians(row["angle"]) if "angle" in row else None,
            row.get("cuts", "side"),
            row.get("neutral", False),
        )
        for letter, row in table()["style"].items()
    }


def usual_offset(size: float, *, bar: bool) -> float:
    """The f dimension (mm) that is usual for a shank width or a bar diameter (mm), between two of the list by share.

    >>> usual_offset(25.0, bar=False), usual_offset(16.0, bar=True), round(usual_offset(25.4, bar=False), 3)
    (32.0, 11.0, 32.457)
    """
    rows = sorted(
        (float(key), float(value)) for key, value in table()["offset_of_bar" if bar else "offset_of_width"].items()
    )
    if size <= rows[0][0]:
        return size * rows[0][1] / rows[0][0]
    for (low, f_low), (high, f_high) in pairwise(rows):
        if size <= high:
            return f_low + (f_high - f_low) * (size - low) / (high - low)
    return size * rows[-1][1] / rows[-1][0]
