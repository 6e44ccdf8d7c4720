"""Opens the store when the server starts, beside the first requests, and tries again while it cannot be had.

The database's packages are imported here and not before: the pages answer while they load.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager, contextmanager, suppress
from typing import TYPE_CHECKING

from server.settings import Settings
from server.sheets.refusals import Unavailable

if TYPE_CHECKING:
    from server.sheets.store import Store

log = logging.getLogger("chuckside.sheets")


class Opening:
    """The one store of this process, once there is one."""

    def __init__(self, settings: Settings) -> None:
        self.settings = settings
        self._lock = threading.Lock()
        self._store: Store | None = None

    @contextmanager
    def store(self) -> Iterator[Store]:
        """The store, for one use. Raises `Unavailable` when the database cannot be reached or does not answer."""
        from sqlalchemy.exc import InterfaceError, OperationalError, TimeoutError  # noqa: A004, PLC0415 - see above

        store = self._opened()
        try:
            yield store
        except (InterfaceError, OperationalError, TimeoutError) as error:
            log.error("saved work cannot be reached: %s", _reason(error))
            raise Unavailable from error

    @asynccontextmanager
    async def lifespan(self, _app: object) -> AsyncIterator[None]:
        """Open the store beside the start of the server, and close it at its end."""
        thread = threading.Thread(target=self._try, name="opening the store")
        thread.start()
        yield
        thread.join()
        if self._store is not None:
            self._store.engine.dispose()
            self._store = None

    def _opened(self) -> Store:
        with self._lock:
            if self._store is None:
                try:
                    self._store = open_store(self.settings)
                except Exception as error:
                    log.error("saved work cannot be reached: %s", _reason(error))
                    raise Unavailable from error
            return self._store

    def _try(self) -> None:
        with suppress(Unavailable):  # it is in the log; the pages go on without, and the next use tries again
            self._opened()


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
