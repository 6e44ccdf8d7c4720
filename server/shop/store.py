"""The shop's lists in the database. Every method is one transaction; a revision, once written, is never changed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, func, insert, select, update

from server.sheets import keys
from server.sheets.counting import count
from server.sheets.database import reading, writing
from server.sheets.limits import MIB
from server.sheets.store import Store, TornRevision, text_digest
from server.sheets.tables import SHOP, SHOP_ENTRIES, SHOP_REVISIONS
from server.shop.entry import Entry, read_document, written
from server.shop.model import LISTS, Listed
from server.shop.refusals import Begun, ListFull, NoSuchEntry, NotBegun
from server.shop.rows import Settled

THE_ONE = 1
MOST_BYTES = 256 * MIB
MOST_REMOVED = 10  # times as many entries as stand in a list are kept when they are removed


class StaleEntry(Exception):
    """A save that was based on an older revision than the newest; nothing was written."""

    def __init__(self, base: Entry, current: Entry) -> None:
        super().__init__(f"based on {base.revision}, current is {current.revision}")
        self.base, self.current = base, current


class ShopStore:
    """The one pair of lists of a server. `who` marks the client whose saves are counted."""

    def __init__(self, store: Store) -> None:
        self.engine, self.limits, self.now = store.engine, store.limits, store.now

    def begin(self, who: str) -> str:
        """Begin the lists, and give the owner's secret the one time that it is given. Raises `Begun`, `TooOften`."""
        secret, now = keys.new_secret(), self._milliseconds()
        with writing(self.engine) as connection:
            if _whole(connection) is not None:
                raise Begun
            values = {"id": THE_ONE, "secret_digest": keys.digest(secret), "change": 1, "bytes": 0, "created_at": now}
            connection.execute(insert(SHOP).values(values))
            count(connection, "create", who, self.limits.creating, self.now())
        return secret

    def owned_anew(self) -> str:
        """A new owner's secret; the one before no longer opens. Raises `NotBegun`."""
        secret = keys.new_secret()
        with writing(self.engine) as connection:
            done = connection.execute(update(SHOP).values(secret_digest=keys.digest(secret)))
            if done.rowcount != 1:
                raise NotBegun
        return secret

    def owns(self, secret: str) -> bool:
        """Whether the secret is the owner's. Raises `NotBegun`."""
        with reading(self.engine) as connection:
            whole = _whole(connection)
        if whole is None:
            raise NotBegun
        return keys.matches(secret, whole.secret_digest)

    def change(self) -> int:
        """How often the lists were changed; 0 before they are begun."""
        with reading(self.engine) as connection:
            whole = _whole(connection)
        return 0 if whole is None else int(whole.change)

    def entries(self) -> tuple[int, list[Entry]]:
        """How often the lists were changed, and every entry in its newest revision, removed ones too, oldest first."""
        newest = (SHOP_REVISIONS.c.entry_key == SHOP_ENTRIES.c.key) & (
            SHOP_REVISIONS.c.number == SHOP_ENTRIES.c.revision
        )
        query = select(SHOP_ENTRIES, SHOP_REVISIONS).join(SHOP_REVISIONS, newest)
        with reading(self.engine) as connection:
            whole = _whole(connection)
            rows = connection.execute(query.order_by(SHOP_ENTRIES.c.created_at, SHOP_ENTRIES.c.key)).all()
        return (0 if whole is None else int(whole.change)), [_entry(row) for row in rows]

    def entry(self, listed: Listed, key: str) -> Entry:
        """An entry in its newest revision. Raises `NoSuchEntry`."""
        with reading(self.engine) as connection:
            return _current(connection, listed, key)

    def revisions(self, listed: Listed, key: str, most: int) -> list[Entry]:
        """The newest revisions of an entry, newest first. Raises `NoSuchEntry`."""
        with reading(self.engine) as connection:
            _current(connection, listed, key)
            query = _of_entry(key).order_by(SHOP_REVISIONS.c.number.desc()).limit(most)
            return [_entry(row) for row in connection.execute(query)]

    def revision(self, listed: Listed, key: str, number: int) -> Entry:
        """One revision of an entry. Raises `NoSuchEntry`, for a revision that never was too."""
        with reading(self.engine) as connection:
            _current(connection, listed, key)
            return _revision(connection, key, number)

    def save(self, listed: Listed, saves: Sequence[Settled], who: str) -> list[Entry]:
        """Keep entries, all of them or none; the same content again, as after an answer that was lost, changes nothing.

        Raises `StaleEntry` when somebody saved in between, `NoSuchEntry`, `ListFull`, `TooOften`.
        """
        with writing(self.engine) as connection:
            size = sum(len(written(listed, one.content).encode()) for one in saves)
            now = self._changed(connection, size, who)
            kept = [_saved(connection, listed, one, now + index) for index, one in enumerate(saves)]
            _check_room(connection, listed)
        return kept

    def remove(self, listed: Listed, key: str, based_on: int, who: str) -> Entry:
        """Take an entry out of its list. Raises `StaleEntry` when somebody changed it in between, `NoSuchEntry`."""
        with writing(self.engine) as connection:
            now = self._changed(connection, 0, who)
            current = _current(connection, listed, key)
            if current.revision != based_on:
                raise StaleEntry(_revision(connection, key, based_on), current)
            if current.removed_at is None:
                _mark(connection, key, now)
            return _current(connection, listed, key)

    def bring_back(self, listed: Listed, key: str, who: str) -> Entry:
        """Put a removed entry into its list again. Raises `NoSuchEntry`, `ListFull`."""
        with writing(self.engine) as connection:
            self._changed(connection, 0, who)
            _current(connection, listed, key)
            _mark(connection, key, None)
            _check_room(connection, listed)
            return _current(connection, listed, key)

    def _milliseconds(self) -> int:
        return int(self.now() * 1000)

    def _changed(self, connection: Connection, size: int, who: str) -> int:
        """Count one change, before anything else is read, so that changes follow each other; the time of it."""
        whole = SHOP.c.change + 1, SHOP.c.bytes + size
        done = connection.execute(update(SHOP).values(change=whole[0], bytes=whole[1]))
        if done.rowcount != 1:
            raise NotBegun
        count(connection, "shop", who, self.limits.saving, self.now())
        held = connection.execute(select(SHOP.c.bytes)).scalar_one()
        if held > MOST_BYTES:
            raise ListFull(sum(listed.most for listed in LISTS.values()))
        return self._milliseconds()


def _saved(connection: Connection, listed: Listed, one: Settled, now: int) -> Entry:
    if not one.key:
        return _added(connection, listed, one, now)
    current = _current(connection, listed, one.key)
    if current.content == one.content and current.removed_at is None:
        return current
    if one.based_on != current.revision:
        raise StaleEntry(_revision(connection, one.key, one.based_on), current)
    number = current.revision + 1
    # one changed what another removed: it is kept, as in a sheet
    advanced = update(SHOP_ENTRIES).where(SHOP_ENTRIES.c.key == one.key).values(revision=number, removed_at=None)
    connection.execute(advanced)
    return _write(connection, listed, one, one.key, number, now)


def _added(connection: Connection, listed: Listed, one: Settled, now: int) -> Entry:
    key = keys.new_key()
    values = {"key": key, "list": listed.name, "revision": 1, "created_at": now, "removed_at": None}
    connection.execute(insert(SHOP_ENTRIES).values(values))
    return _write(connection, listed, one, key, 1, now)


def _write(connection: Connection, listed: Listed, one: Settled, key: str, number: int, now: int) -> Entry:
    document = written(listed, one.content)
    values = {"entry_key": key, "number": number, "based_on": number - 1, "saved_at": now}
    connection.execute(insert(SHOP_REVISIONS).values(document=document, digest=text_digest(document), **values))
    return Entry(key, listed, number, one.content, now)


def _mark(connection: Connection, key: str, removed_at: int | None) -> None:
    connection.execute(update(SHOP_ENTRIES).where(SHOP_ENTRIES.c.key == key).values(removed_at=removed_at))


def _check_room(connection: Connection, listed: Listed) -> None:
    """Raise `ListFull` where a list has more entries than fit, or too many that were removed."""
    of_list = SHOP_ENTRIES.c.list == listed.name
    query = select(func.count(), func.count(SHOP_ENTRIES.c.removed_at)).where(of_list)
    every, removed = connection.execute(query).one()
    if every - removed > listed.most or removed > MOST_REMOVED * listed.most:
        raise ListFull(listed.most)


def _whole(connection: Connection) -> Any:
    return connection.execute(select(SHOP).where(SHOP.c.id == THE_ONE)).first()


def _of_entry(key: str) -> Any:
    joined = select(SHOP_ENTRIES, SHOP_REVISIONS).join(SHOP_REVISIONS, SHOP_REVISIONS.c.entry_key == SHOP_ENTRIES.c.key)
    return joined.where(SHOP_ENTRIES.c.key == key)


def _current(connection: Connection, listed: Listed, key: str) -> Entry:
    newest = SHOP_REVISIONS.c.number == SHOP_ENTRIES.c.revision
    row = connection.execute(_of_entry(key).where(newest, SHOP_ENTRIES.c.list == listed.name)).first()
    if row is None:
        raise NoSuchEntry
    return _entry(row)


def _revision(connection: Connection, key: str, number: int) -> Entry:
    row = connection.execute(_of_entry(key).where(SHOP_REVISIONS.c.number == number)).first()
    if row is None:
        raise NoSuchEntry
    return _entry(row)


def _entry(row: Any) -> Entry:
    if text_digest(row.document) != row.digest:
        raise TornRevision
    content = read_document(row.document)
    return Entry(row.key, LISTS[row.list], row.number, content, row.saved_at, row.removed_at)
