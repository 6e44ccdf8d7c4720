"""How often a client did something, counted in the database, so that all replicas keep one limit together."""

from __future__ import annotations

from importlib import import_module
from typing import Any

from sqlalchemy import Connection, delete

from calc.language.messages import Phrase
from server.sheets.limits import Rate
from server.sheets.refusals import TooOften
from server.sheets.tables import COUNTS

EVERYBODY = ""


def count(connection: Connection, what: str, who: str, rate: Rate, now: float) -> None:
    """Count one more, in the caller's transaction. Raises `TooOften`, after which the caller must not commit."""
    ends_at = (int(now) // rate.seconds + 1) * rate.seconds
    wait = max(1, int(ends_at - now))
    if not _counted(connection, what, who, ends_at, rate.most):
        raise TooOften(
            Phrase("That was too often from this address. Wait {said}, then try again.", said=_said(wait)), wait
        )
    counted = _counted(connection, what, EVERYBODY, ends_at, rate.in_total)
    if not counted:
        raise TooOften(
            Phrase("Too many people are saving just now. Wait {said}, then try again.", said=_said(wait)), wait
        )
    if counted == 1:  # the first of a window sweeps the old ones out
        connection.execute(delete(COUNTS).where(COUNTS.c.what == what, COUNTS.c.ends_at < ends_at))


def _counted(connection: Connection, what: str, who: str, ends_at: int, most: int) -> int:
    """The count with this one, 0 when that would be more than `most`."""
    # Both databases have the same clause; SQLAlchemy gives it to their own statements alone.
    insert: Any = import_module(f"sqlalchemy.dialects.{connection.dialect.name}").insert(COUNTS)
    one_more = insert.values(what=what, who=who, ends_at=ends_at, count=1).on_conflict_do_update(
        index_elements=[COUNTS.c.what, COUNTS.c.who, COUNTS.c.ends_at],
        set_={"count": COUNTS.c.count + 1},
        where=COUNTS.c.count < most,
    )
    return int(connection.execute(one_more.returning(COUNTS.c.count)).scalar() or 0)


def _said(seconds: int) -> str:
    return f"{seconds} s" if seconds < 120 else f"{seconds // 60 + 1} min"
