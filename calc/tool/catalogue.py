"""Inserts with their holders and bars by designation, as shops have them: what a search for a tool goes through."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal

from calc.language.tables import read_table
from calc.tool.holder import Holder, read_holder
from calc.tool.insert import Insert, read_insert

TABLE = Path(__file__).parent / "data" / "catalogue.toml"
Place = Literal["outside", "bore"]


@dataclass(frozen=True, slots=True)
class Pair:
    """A holder or bar with the inserts that it takes, the largest nose first; each by its designation and as read."""

    holder_name: str
    holder: Holder
    inserts: tuple[tuple[str, Insert], ...]


@cache
def pairs(place: Place) -> tuple[Pair, ...]:
    """All pairs for outside turning or for a bore, right and left hand and neutral.

    >>> [pair.holder_name for pair in pairs("bore")][:2], pairs("bore")[0].inserts[0][0]
    (['A25T-PCLNR12', 'A25T-PCLNL12'], 'CNMG 120412')
    """
    rows = read_table(TABLE)[place]
    return tuple(pair for row in rows for text in row["holders"] for pair in _of(row["insert"], row["noses"], text))


def _of(insert: str, noses: list[str], holder: str) -> Iterator[Pair]:
    names = [f"{insert}{nose}" for nose in sorted(noses, reverse=True)]
    inserts = tuple((name, read_insert(name, "insert")) for name in names)
    for hand in ("R", "L") if "*" in holder else ("",):
        name = holder.replace("*", hand)
        yield Pair(name, read_holder(name), inserts)
