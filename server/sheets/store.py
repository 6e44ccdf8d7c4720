"""The store: sheets and their revisions. A revision, once written, is never changed."""

from __future__ import annotations

import hashlib
import time
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path

from sqlalchemy import Connection, Engine, delete, func, insert, select, update

from server.sheets import keys
from server.sheets.counting import count
from server.sheets.database import hurried, reading, writing
from server.sheets.limits import Limits
from server.sheets.refusals import Ended, Full, NoSuchRevision, NoSuchSheet, TooLarge
from server.sheets.revisions import Created, Revision
from server.sheets.states import Damaged
from server.sheets.tables import COUNTS, REVISIONS, SHEETS


class Stale(Exception):
    """A save that was based on an older revision than the newest; nothing was written."""

    def __init__(self, base: Revision, current: Revision) -> None:
        super().__init__(f"based on {base.number}, current is {current.number}")
        self.base = base
        self.current = current


class TornRevision(Damaged, RuntimeError):
    """A revision that is not what was saved: its digest does not fit."""

    words = "This sheet is damaged where it is saved. Tell whoever runs this server: it can be put back from a backup."


def text_digest(document: str) -> bytes:
    """The digest that is kept beside a document, to tell a whole one from a torn one.

    >>> len(text_digest("{}"))
    32
    """
    return hashlib.blake2b(document.encode(), digest_size=32).digest()


class Store:
    """All that is saved. Every method is one transaction; `who` marks the client whose saves are counted."""

    def __init__(self, engine: Engine, limits: Limits, now: Callable[[], float] = time.time) -> None:
        self.engine = engine
        self.limits = limits
        self.now = now

    def create(self, document: str, who: str) -> Created:
        """Keep a new sheet. Raises `TooOften`, `Full`."""
        sheet, secret, now = keys.new_id(), keys.new_secret(), self._milliseconds()
        revision = Revision(sheet, 1, 0, document, now)
        with self._writing() as connection:
            self._room_for(connection, document)
            if connection.execute(select(func.count()).select_from(SHEETS)).scalar_one() >= self.limits.sheets:
                raise Full
            connection.execute(
                insert(SHEETS).values(
                    id=sheet,
                    secret_digest=keys.digest(secret),
                    revision=1,
                    bytes=_size(document),
                    created_at=now,
                    ended_at=None,
                )
            )
            _write(connection, revision)
            count(connection, "create", who, self.limits.creating, self.now())
        return Created(sheet, secret, revision)

    def read(self, sheet: str) -> Revision:
        """The newest revision, of an ended sheet too. Raises `NoSuchSheet`."""
        with self._reading() as connection:
            return _current(connection, sheet)

    def owns(self, sheet: str, secret: str) -> bool:
        """Whether the secret is the sheet's."""
        with self._reading() as connection:
            stored = connection.execute(select(SHEETS.c.secret_digest).where(SHEETS.c.id == sheet)).scalar()
        return keys.matches(secret, stored or bytes(32)) and stored is not None

    def save(self, sheet: str, based_on: int, document: str, who: str) -> Revision:
        """Keep a further revision. The same document again, as after an answer that was lost, gives the newest one.

        Raises `Stale` when somebody saved in between, `NoSuchRevision` for a base that never was, `Ended`, `TooLarge`,
        `Full`, `TooOften`.
        """
        with self._writing() as connection:
            current = _current(connection, sheet)
            if current.ended:
                raise Ended
            if current.document == document:
                return current
            if based_on != current.number:
                raise Stale(_revision(connection, sheet, based_on), current)
            self._may_grow(connection, sheet, document)
            revision = Revision(sheet, based_on + 1, based_on, document, self._milliseconds())
            _advance(connection, revision)
            _write(connection, revision)
            count(connection, "save", who, self.limits.saving, self.now())
        return revision

    def revision(self, sheet: str, number: int) -> Revision:
        """One revision. Raises `NoSuchSheet`, `NoSuchRevision`."""
        with self._reading() as connection:
            _current(connection, sheet)
            return _revision(connection, sheet, number)

    def revisions(self, sheet: str, before: int, most: int) -> list[Revision]:
        """At most `most` revisions below the number `before`, newest first."""
        with self._reading() as connection:
            query = select(REVISIONS).where(REVISIONS.c.sheet_id == sheet, REVISIONS.c.number < before)
            rows = connection.execute(query.order_by(REVISIONS.c.number.desc()).limit(most)).all()
        return [_read(row) for row in rows]

    def end(self, sheet: str) -> None:
        """End the link: readers find it gone from now on. Ending twice is ending once."""
        with self._writing() as connection:
            open_sheet = (SHEETS.c.id == sheet) & SHEETS.c.ended_at.is_(None)
            connection.execute(update(SHEETS).where(open_sheet).values(ended_at=self._milliseconds()))

    @property
    def folder(self) -> Path | None:
        """The folder of the database's file; None for a database that is elsewhere."""
        is_file = self.engine.dialect.name == "sqlite" and self.engine.url.database
        return Path(str(self.engine.url.database)).parent if is_file else None

    def probe(self) -> None:
        """Read, and write what is there already, and keep nothing of it. Raises what the database says."""
        with self._reading() as connection:
            connection.execute(select(SHEETS.c.id).limit(1)).all()
        with hurried(self.engine) as connection, connection.begin() as trial:
            connection.execute(delete(COUNTS).where(COUNTS.c.what == ""))
            trial.rollback()

    def _reading(self) -> AbstractContextManager[Connection]:
        return reading(self.engine)

    def _writing(self) -> AbstractContextManager[Connection]:
        return writing(self.engine)

    def _milliseconds(self) -> int:
        return int(self.now() * 1000)

    def _room_for(self, connection: Connection, document: str) -> None:
        held = connection.execute(select(func.coalesce(func.sum(SHEETS.c.bytes), 0))).scalar_one()
        if held + _size(document) > self.limits.total_bytes:
            raise Full

    def _may_grow(self, connection: Connection, sheet: str, document: str) -> None:
        revision, held = connection.execute(select(SHEETS.c.revision, SHEETS.c.bytes).where(SHEETS.c.id == sheet)).one()
        if revision >= self.limits.revisions or held + _size(document) > self.limits.sheet_bytes:
            raise TooLarge(
                f"This sheet has {revision} revisions; no more fit. Copy it and go on with the copy: the old one stays."
            )
        self._room_for(connection, document)


def _current(connection: Connection, sheet: str) -> Revision:
    newest = (REVISIONS.c.sheet_id == SHEETS.c.id) & (REVISIONS.c.number == SHEETS.c.revision)
    query = select(REVISIONS, SHEETS.c.ended_at).join(SHEETS, newest).where(SHEETS.c.id == sheet)
    row = connection.execute(query).first()
    if row is None:
        raise NoSuchSheet
    return _read(row, row.ended_at is not None)


def _revision(connection: Connection, sheet: str, number: int) -> Revision:
    query = select(REVISIONS).where(REVISIONS.c.sheet_id == sheet, REVISIONS.c.number == number)
    row = connection.execute(query).first()
    if row is None:
        raise NoSuchRevision(number)
    return _read(row)


def _read(row: object, ended: bool = False) -> Revision:
    document: str = row.document  # type: ignore[attr-defined]
    if text_digest(document) != row.digest:  # type: ignore[attr-defined]
        raise TornRevision
    return Revision(row.sheet_id, row.number, row.based_on, document, row.saved_at, ended)  # type: ignore[attr-defined]


def _write(connection: Connection, revision: Revision) -> None:
    connection.execute(
        insert(REVISIONS).values(
            sheet_id=revision.sheet,
            number=revision.number,
            based_on=revision.based_on,
            document=revision.document,
            digest=text_digest(revision.document),
            saved_at=revision.saved_at,
        )
    )


def _advance(connection: Connection, revision: Revision) -> None:
    """Move the sheet to its new revision, unless another process did so first."""
    unmoved = (SHEETS.c.id == revision.sheet) & (SHEETS.c.revision == revision.based_on) & SHEETS.c.ended_at.is_(None)
    size = SHEETS.c.bytes + _size(revision.document)
    done = connection.execute(update(SHEETS).where(unmoved).values(revision=revision.number, bytes=size))
    if done.rowcount != 1:
        raise _stale(connection, revision)


def _stale(connection: Connection, revision: Revision) -> Exception:
    current = _current(connection, revision.sheet)
    if current.ended:
        return Ended()
    return Stale(_revision(connection, revision.sheet, revision.based_on), current)


def _size(document: str) -> int:
    return len(document.encode())
