"""Opens the store when the server starts, beside the first requests, and tries again while it cannot be had.

The database's packages are imported here and not before: the pages answer while they load.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager, contextmanager
from typing import TYPE_CHECKING

from server.settings import Settings
from server.sheets.refusals import Unavailable
from server.sheets.states import look, state_of

if TYPE_CHECKING:
    from server.sheets.store import Store

log = logging.getLogger("chuckside.sheets")
SECONDS_FOR_ANOTHER = 2.0  # how long a request waits for another one that opens the database
SECONDS_TO_LEAVE = 1.0


class Opening:
    """The one store of this process, once there is one."""

    def __init__(self, settings: Settings) -> None:
        self.settings = settings
        self._lock = threading.Lock()
        self._store: Store | None = None

    @property
    def is_open(self) -> bool:
        """Whether the store was had already, so that asking it is quick."""
        return self._store is not None

    @contextmanager
    def store(self) -> Iterator[Store]:
        """The store, for one use. Raises `Unavailable` when the database cannot be reached or does not answer."""
        from sqlalchemy.exc import DatabaseError, InterfaceError, TimeoutError  # noqa: A004, PLC0415 - see above

        store = self._opened()
        try:
            yield store
        except (InterfaceError, DatabaseError, TimeoutError) as error:
            state = state_of(error)
            log.error("saved work is %s: %s", state.state, _reason(error))
            raise state from error

    def look(self) -> Unavailable | None:
        """In which state saved work is; None when all is well."""
        try:
            with self.store() as store:
                return look(store)
        except Unavailable as state:
            return state

    @asynccontextmanager
    async def lifespan(self, _app: object) -> AsyncIterator[None]:
        """Open the store beside the start of the server, and close it at its end."""
        thread = threading.Thread(target=self._try, name="opening the store", daemon=True)
        thread.start()
        yield
        thread.join(SECONDS_TO_LEAVE)
        if self._store is not None:
            self._store.engine.dispose()
            self._store = None

    def _opened(self) -> Store:
        if self._store is not None:
            return self._store
        if not self._lock.acquire(timeout=SECONDS_FOR_ANOTHER):
            raise Unavailable  # a database that does not answer keeps the one who opens it, and nobody else
        try:
            if self._store is None:
                self._store = open_store(self.settings)
            return self._store
        except Exception as error:
            state = state_of(error)
            log.error("saved work is %s: %s", state.state, _reason(error))
            raise state from error
        finally:
            self._lock.release()

    def _try(self) -> None:
        state = self.look()  # the pages go on without, and the next use tries again
        if state is not None:
            log.warning("saved work is %s. %s", state.state, state)


def open_store(settings: Settings) -> Store:
    """The store of the settings, its tables brought to the present version."""
    from server.sheets.database import engine_for  # noqa: PLC0415 - see above
    from server.sheets.migrating import migrate  # noqa: PLC0415
    from server.sheets.store import Store  # noqa: PLC0415

    engine = engine_for(settings.database, settings.data)
    try:
        migrate(engine)
    except BaseException:
        engine.dispose()
        raise
    return Store(engine, settings.limits)


def _reason(error: Exception) -> str:
    """The first line alone: what follows in a database's error is the statement with the texts that were saved."""
    return f"{type(error).__name__}: {str(error).splitlines()[0] if str(error) else ''}"
