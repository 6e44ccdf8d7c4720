"""The tables of the standards in `data/`, read once, and what they need to be looked up in."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from calc.language.tables import read_table

DATA = Path(__file__).parent / "data"


@cache
def table(name: str) -> Mapping[str, Any]:
    """The table `name` of this room, read on first use.

    >>> table("metric")["pitches"]["24"][0]
    3
    """
    return read_table(DATA / f"{name}.toml")


def by_number(rows: Mapping[str, Any], value: float) -> Any:
    """The entry of a table whose key is the number `value`, None where it has none.

    >>> by_number({"1.5": 236, "2": 280}, 2.0)
    280
    """
    return rows.get(f"{value:g}")


def span(ranges: list[dict[str, Any]], diameter: float) -> dict[str, Any] | None:
    """The row of `ranges` over which and up to and including which `diameter` [mm] lies.

    >>> span([{"over": 1.4, "to": 2.8}, {"over": 2.8, "to": 5.6}], 2.8)["to"]
    2.8
    """
    return next((row for row in ranges if row["over"] < diameter <= row["to"]), None)


R40 = (
    1.00, 1.06, 1.12, 1.18, 1.25, 1.32, 1.40, 1.50, 1.60, 1.70, 1.80, 1.90, 2.00, 2.12, 2.24, 2.36, 2.50, 2.65, 2.80,
    3.00, 3.15, 3.35, 3.55, 3.75, 4.00, 4.25, 4.50, 4.75, 5.00, 5.30, 5.60, 6.00, 6.30, 6.70, 7.10, 7.50, 8.00, 8.50,
    9.00, 9.50, 10.0,
)  # fmt: skip
"""The R40 series of preferred numbers, ISO 3."""

_WHOLE = {21.2: 21, 22.4: 22, 23.6: 24, 26.5: 26, 31.5: 32, 33.5: 34, 35.5: 36, 37.5: 38, 42.5: 42, 47.5: 48}


def preferred(micrometres: float) -> float:
    """The number of the R40 series nearest to `micrometres`, as whole micrometres. Source: ISO 3, ISO 965-1.

    >>> preferred(233.3), preferred(37.0), preferred(78.3)
    (236, 38, 80)
    """
    scale = 1.0
    while micrometres >= 10.0 * scale:
        scale *= 10.0
    nearest = min((number * scale for number in R40), key=lambda number: abs(number - micrometres))
    return _WHOLE.get(round(nearest, 1), round(nearest))
