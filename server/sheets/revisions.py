"""What is kept of a sheet, as its readers get it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Revision:
    """One revision as it is kept; `saved_at` in milliseconds since 1970, UTC."""

    sheet: str
    number: int
    based_on: int
    document: str
    saved_at: int
    ended: bool = False


@dataclass(frozen=True, slots=True)
class Created:
    """A new sheet, and the one time that its secret is given."""

    sheet: str
    secret: str
    revision: Revision
