"""What can be done with the shop's lists, whoever asks: the API and the pages both come here."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from typing import TYPE_CHECKING

from server.sheets.opening import Opening
from server.shop.entry import Content, Entry, Given, Whole, checked
from server.shop.joining import joined
from server.shop.model import LISTS, Listed
from server.shop.refusals import EntryOvertaken, NoSuchEntry, NotBegun, NotShopOwner
from server.shop.rows import Settled, settled_rows

if TYPE_CHECKING:
    from server.shop.store import ShopStore

MOST_REVISIONS = 50


class ShopDesk:
    """One method for each thing to do; what is not allowed or not there raises a `Refusal`."""

    def __init__(self, opening: Opening) -> None:
        self.opening = opening
        self.changed = True
        """Whether something may have changed since the lists were last read for the pages."""

    @contextmanager
    def _store(self) -> Iterator[ShopStore]:
        from server.shop.store import ShopStore  # noqa: PLC0415 - the database's packages are loaded late, see opening.py

        with self.opening.store() as store:
            yield ShopStore(store)

    @contextmanager
    def _writing(self) -> Iterator[ShopStore]:
        """The store for a change, of which whoever keeps the lists learns."""
        with self._store() as store:
            yield store
        self.changed = True

    def begin(self, client: str) -> str:
        """Begin the shop's lists, and give their owner's secret."""
        with self._writing() as store:
            return store.begin(client)

    def whole(self) -> Whole:
        """Both lists as they stand."""
        with self._store() as store:
            change, entries = store.entries()
        return Whole(change, tuple(entries))

    def change(self) -> int:
        """How often the lists were changed."""
        with self._store() as store:
            return store.change()

    def is_owner(self, secret: str) -> bool:
        """Whether the secret is the owner's; nobody's before the lists are begun."""
        try:
            self.own(secret)
        except (NotBegun, NotShopOwner):
            return False
        return True

    def own(self, secret: str) -> None:
        """Raise `NotShopOwner` unless the secret is the owner's, `NotBegun` while there is none."""
        with self._store() as store:
            _own(store, secret)

    def entry(self, listed: Listed, key: str) -> Entry:
        """An entry in its newest revision."""
        with self._store() as store:
            return store.entry(listed, key)

    def revisions(self, listed: Listed, key: str) -> list[Entry]:
        """The revisions of an entry, newest first."""
        with self._store() as store:
            return store.revisions(listed, key, MOST_REVISIONS)

    def save(self, listed: Listed, given: Given, secret: str, client: str) -> Entry:
        """Keep one entry. Raises `Invalid`, and `EntryOvertaken` when somebody changed it in between."""
        from server.shop.store import StaleEntry  # noqa: PLC0415 - see above

        with self._writing() as store:
            _own(store, secret)
            content = checked(listed, given, _today())
            try:
                return store.save(listed, [Settled(content, given.key, given.based_on)], client)[0]
            except StaleEntry as stale:
                raise _overtaken(stale.base, stale.current, content) from None

    def take_in(self, listed: Listed, rows: Sequence[Given], secret: str, client: str) -> int:
        """Keep the rows of a whole list, all of them or none, and say how many were new or changed.

        A row that somebody changed in between is joined with that; where both changed one field, nothing is kept.
        """
        from server.shop.store import StaleEntry  # noqa: PLC0415 - see above

        with self._writing() as store:
            _own(store, secret)
            _, entries = store.entries()
            standing = {each.key: each for each in entries if each.listed == listed}
            settled = settled_rows(listed, rows, standing, partial(store.revision, listed), _today())
            try:
                return len(store.save(listed, settled, client)) if settled else 0
            except StaleEntry as stale:  # in this very moment: what was read is old already
                raise _overtaken(stale.base, stale.current, stale.base.content) from None

    def remove(self, listed: Listed, key: str, based_on: int, secret: str, client: str) -> Entry:
        """Take an entry out of its list; it can be brought back."""
        from server.shop.store import StaleEntry  # noqa: PLC0415 - see above

        with self._writing() as store:
            _own(store, secret)
            try:
                return store.remove(listed, key, based_on, client)
            except StaleEntry as stale:
                raise _overtaken(stale.base, stale.current, stale.base.content) from None

    def bring_back(self, listed: Listed, key: str, secret: str, client: str) -> Entry:
        """Put a removed entry into its list again."""
        with self._writing() as store:
            _own(store, secret)
            return store.bring_back(listed, key, client)

    def restore(self, listed: Listed, key: str, number: int, based_on: int, secret: str, client: str) -> Entry:
        """Make an older revision of an entry the newest one."""
        with self._store() as store:
            _own(store, secret)
            older = store.revision(listed, key, number).content
        return self.save(listed, Given(older.texts, older.units, key, based_on), secret, client)


def list_named(name: str) -> Listed:
    """The list of that name. Raises `NoSuchEntry`.

    >>> list_named("tools").one
    'tool'
    """
    if name not in LISTS:
        raise NoSuchEntry
    return LISTS[name]


def _own(store: ShopStore, secret: str) -> None:
    if not store.owns(secret):
        raise NotShopOwner


def _overtaken(base: Entry, current: Entry, mine: Content) -> EntryOvertaken:
    return EntryOvertaken(current, joined(current.listed, base.content, current.content, mine))


def _today() -> datetime.date:
    return datetime.datetime.now(datetime.UTC).date()
