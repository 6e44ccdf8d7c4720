"""How much one sheet, one address and all together may save."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

KIB, MIB, GIB = 1 << 10, 1 << 20, 1 << 30
MINUTE, HOUR = 60, 3600


@dataclass(frozen=True, slots=True)
class Rate:
    """At most `most` in each window of `seconds`, for one client address; `in_total` for all together."""

    most: int
    in_total: int
    seconds: int


@dataclass(frozen=True, slots=True)
class Limits:
    """The limits of a server. A class of thirty behind one address saves once in eight seconds each."""

    body: int = 256 * KIB
    revisions: int = 2000
    sheet_bytes: int = 16 * MIB
    sheets: int = 50_000
    total_bytes: int = 8 * GIB
    creating: Rate = Rate(120, 1200, HOUR)
    saving: Rate = Rate(240, 2400, MINUTE)


def limits_from(environment: Mapping[str, str]) -> Limits:
    """The limits, with the rates that whoever runs the server has set (for one address; ten times as many in total).

    >>> limits_from({"CHUCKSIDE_SAVES_PER_MINUTE": "12"}).saving
    Rate(most=12, in_total=120, seconds=60)
    """
    standing = Limits()
    return Limits(
        creating=_rate(environment.get("CHUCKSIDE_SHEETS_PER_HOUR", ""), standing.creating),
        saving=_rate(environment.get("CHUCKSIDE_SAVES_PER_MINUTE", ""), standing.saving),
    )


def _rate(text: str, standing: Rate) -> Rate:
    most = int(text) if text else 0
    return Rate(most, 10 * most, standing.seconds) if most > 0 else standing
