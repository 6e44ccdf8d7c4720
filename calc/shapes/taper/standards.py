"""Standard tapers by name, from `data/tapers.toml`."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

from calc.language.messages import Message
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import DIAMETER, LENGTH, METRIC
from calc.language.reading import read
from calc.language.tables import read_table

TABLE = Path(__file__).parent.parent / "data" / "tapers.toml"


@dataclass(frozen=True, slots=True)
class StandardTaper:
    """A taper of a standard, on diameter per length and known within `slack`; gauge diameter and length (mm), if any.

    A taper per foot is printed with so many decimals; half of the last one is its slack.
    """

    name: str
    aliases: tuple[str, ...]
    ratio: float
    slack: float
    gauge: float | None
    length: float | None
    source: str


@cache
def standard_tapers() -> tuple[StandardTaper, ...]:
    """Every standard taper of the table, in its order; read on first use.

    >>> [taper.name for taper in standard_tapers()][:2]
    ['Morse 0', 'Morse 1']
    """
    return tuple(_taper(row) for row in read_table(TABLE)["taper"])


def standard_taper(name: str) -> StandardTaper:
    """The standard taper that somebody means. Raises `OutOfRange` with the nearest names for one that is unknown.

    Source: ISO 296, ISO 1119, ISO 7388-1, ASME B5.10 by the table.

    >>> standard_taper("mt 3").name, round(standard_taper("Morse 3").gauge, 3)
    ('Morse 3', 23.825)
    """
    found = _by_key().get(_key(name))
    if found is not None:
        return found
    names = [taper.name for taper in standard_tapers()]
    near = difflib.get_close_matches(name.strip().lower(), [each.lower() for each in names], 3, 0.3)
    offered = [each for each in names if each.lower() in near] or ["Morse 3", "7/24 40", "1:10"]
    values = {"typed": name.strip()[:40], "near": ", ".join(offered)}
    text = "“{typed}” is not a taper that is listed here. Near it: {near}."
    raise OutOfRange(Fault("standard", Message(text, values)))


@cache
def _by_key() -> dict[str, StandardTaper]:
    found: dict[str, StandardTaper] = {}
    for taper in standard_tapers():
        for name in (taper.name, *taper.aliases):
            found.setdefault(_key(name), taper)
    return found


def _key(name: str) -> str:
    return re.sub(r"\b(no|nr|number|size|taper|cono)\b|(kegel|konus)|[\s.,_#-]", "", name.lower())


def _taper(row: dict[str, str | list[str]]) -> StandardTaper:
    per_foot = row.get("per_foot")
    ratio = Fraction(str(per_foot)) / 12 if per_foot else Fraction(str(row["ratio"]))
    decimals = len(str(per_foot).partition(".")[2])
    gauge, length = row.get("gauge"), row.get("length")
    return StandardTaper(
        name=str(row["name"]),
        aliases=tuple(row.get("aliases", ())),
        ratio=float(ratio),
        slack=0.5 * 10.0**-decimals / 12 if per_foot else 5e-6,
        gauge=read(str(gauge), DIAMETER, METRIC) if gauge else None,
        length=read(str(length), LENGTH, METRIC) if length else None,
        source=str(row["source"]),
    )
