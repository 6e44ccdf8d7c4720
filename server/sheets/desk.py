"""What can be done with sheets, whoever asks: the API and the pages both come here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from server.sheets import keys
from server.sheets.answers import Overtaken
from server.sheets.model import Sheet
from server.sheets.opening import Opening
from server.sheets.reading import Json, read_sheet, stored_sheet, written
from server.sheets.refusals import Ended, Fault, Invalid, NoSuchSheet, NotOwner
from server.sheets.revisions import Created, Revision

if TYPE_CHECKING:
    from server.sheets.store import Store


class Desk:
    """One method for each thing to do; what is not allowed or not there raises a `Refusal`."""

    def __init__(self, opening: Opening) -> None:
        self.opening = opening

    def create(self, document: Json, client: str) -> Created:
        """Keep a new sheet, or one that was exported."""
        text = written(read_sheet(document))
        with self.opening.store() as store:
            return store.create(text, client)

    def read(self, typed_id: str, secret: str) -> tuple[Revision, bool]:
        """The newest revision, and whether the secret is the owner's. An ended sheet is the owner's alone."""
        with self.opening.store() as store:
            revision = store.read(_id(typed_id))
            owner = bool(secret) and store.owns(revision.sheet, secret)
        if revision.ended and not owner:
            raise Ended
        return revision, owner

    def save(self, typed_id: str, secret: str, based_on: int, document: Json, client: str) -> Revision:
        """Keep a further revision. Raises `Overtaken` when somebody saved in between."""
        with self.opening.store() as store:
            current = _own(store, typed_id, secret)
            known = {step.address for step in stored_sheet(current.document).steps}
            return _save(store, current.sheet, based_on, read_sheet(document, known), client)

    def restore(self, typed_id: str, secret: str, number: int, based_on: int, client: str) -> Revision:
        """Make an older revision the newest one."""
        with self.opening.store() as store:
            current = _own(store, typed_id, secret)
            older = store.revision(current.sheet, number)
            return _save(store, current.sheet, based_on, stored_sheet(older.document), client)

    def revision(self, typed_id: str, secret: str, number: int) -> Revision:
        """One revision, for the owner."""
        with self.opening.store() as store:
            return store.revision(_own(store, typed_id, secret).sheet, number)

    def history(self, typed_id: str, secret: str, before: int, most: int) -> list[Revision]:
        """At most `most` + 1 revisions below `before`, newest first, for the owner."""
        with self.opening.store() as store:
            return store.revisions(_own(store, typed_id, secret).sheet, before, most + 1)

    def copy(self, typed_id: str, secret: str, client: str) -> Created:
        """Keep a copy as a sheet of its own, with an owner of its own."""
        revision, _ = self.read(typed_id, secret)
        with self.opening.store() as store:
            return store.create(revision.document, client)

    def end(self, typed_id: str, secret: str) -> None:
        """End the link for all readers."""
        with self.opening.store() as store:
            store.end(_own(store, typed_id, secret).sheet)

    def own(self, typed_id: str, secret: str) -> str:
        """The id of a sheet in its one spelling, if the secret is its owner's."""
        with self.opening.store() as store:
            return _own(store, typed_id, secret).sheet


def _own(store: Store, typed_id: str, secret: str) -> Revision:
    revision = store.read(_id(typed_id))
    if not store.owns(revision.sheet, secret):
        raise Ended if revision.ended else NotOwner
    return revision


def _save(store: Store, sheet: str, based_on: int, content: Sheet, client: str) -> Revision:
    from server.sheets.store import Stale  # noqa: PLC0415 - the database's packages are loaded late, see opening.py

    try:
        return store.save(sheet, based_on, written(content), client)
    except Stale as stale:
        raise Overtaken(stale.base, stale.current, content) from None


def _id(typed: str) -> str:
    found = keys.read_id(typed)
    if found is None:
        raise NoSuchSheet
    return found


def whole_number(value: Json, field: str) -> int:
    """A number of a revision that came with a request.

    >>> whole_number("3", "revision"), whole_number(3, "revision")
    (3, 3)
    """
    text = str(value) if isinstance(value, (int, str)) and not isinstance(value, bool) else ""
    if not (text.isascii() and text.isdecimal() and len(text) < 9):
        raise Invalid([Fault(field, "This must be the number of a revision.")])
    return int(text)
