"""In which state saved work is when a database refuses: each has words of its own, for the visitor and for the log."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

from server.sheets.refusals import Unavailable

if TYPE_CHECKING:
    from server.sheets.store import Store

LEAST_ROOM = 32 * 1024 * 1024  # bytes that a disk must have left for a save, its log and the log's clearing


class Busy(Unavailable):
    """Others are saving; it takes its turn."""

    state = "busy"
    words = "Many people are saving just now, so nothing was saved. Try again in a moment."


class Silent(Unavailable):
    """The database took the request and does not answer."""

    state = "silent"
    words = (
        "Saved work does not answer. If you were saving: whether that was kept is not known yet. "
        "Look at the sheet before you save again."
    )


class DiskFull(Unavailable):
    """No room is left where the saved work is."""

    status = 507
    state = "full"
    words = (
        "The server's disk is full, so nothing was saved. Keep what you typed, and tell whoever runs this server "
        "to make room. What was saved before can be read."
    )
    wait = 0


class ReadOnly(Unavailable):
    """Saved work may be read and not written."""

    state = "read-only"
    words = "Saved work can only be read just now, so nothing was saved. Tell whoever runs this server."
    wait = 0


class Damaged(Unavailable):
    """The database's file does not hold what it should."""

    status = 500
    state = "damaged"
    words = "The saved work is damaged. Tell whoever runs this server: it can be put back from a backup."
    wait = 0


class FromNewer(Unavailable):
    """The tables are from a newer program."""

    state = "too new"
    words = "The saved work is from a newer Chuckside than this server. Tell whoever runs it to bring it up to date."
    wait = 0


# The primary result codes of SQLite by its documentation, as numbers: its module is 1 MB that a server on PostgreSQL
# does not need; SQLSTATE of ISO 9075 with PostgreSQL's own classes 53, 57 and XX.
_SQLITE: dict[int, type[Unavailable]] = {5: Busy, 6: Busy, 8: ReadOnly, 11: Damaged, 13: DiskFull, 26: Damaged}
_SQLSTATES: dict[str, type[Unavailable]] = {
    "53100": DiskFull,
    "25006": ReadOnly,
    "55P03": Busy,
    "57014": Busy,
    "53300": Busy,
    "XX001": Damaged,
    "XX002": Damaged,
}


def state_of(error: BaseException) -> Unavailable:
    """What an error of the database means for a visitor.

    >>> state_of(ValueError("anything")).state
    'unreachable'
    """
    cause = getattr(error, "orig", None) or error
    code = getattr(cause, "sqlite_errorcode", None)
    if isinstance(code, int):
        return _SQLITE.get(code & 0xFF, Unavailable)()
    if type(error).__name__ == "TooNew":  # its module loads the database's packages
        return FromNewer()
    if isinstance(error, TimeoutError):
        return Busy()
    return _SQLSTATES.get(getattr(cause, "sqlstate", None) or "", Unavailable)()


def look(store: Store) -> Unavailable | None:
    """Try what a save and a read need, and change nothing. None when all is well; others saving is well."""
    try:
        store.probe()
    except Exception as error:
        state = state_of(error)
        return None if isinstance(state, Busy) else state
    folder = store.folder
    if folder is not None and shutil.disk_usage(folder).free < LEAST_ROOM:
        return DiskFull()
    return None
