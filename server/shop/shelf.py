"""The shop's lists as the pages offer them: kept in the process, asked for anew when they may have changed.

A page never waits long for them: while the database does not answer, the lists are those that were last read.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable

from server.sheets.lanes import READING
from server.sheets.refusals import Refusal
from server.shop.desk import ShopDesk
from server.shop.entry import Whole

FRESH = 2.0
"""Seconds: so long the lists are taken to be as they were, though another server may have changed them."""

PATIENCE = 0.25
"""Seconds that a page waits for them."""


class Shelf:
    """The lists as they were last read."""

    def __init__(self, desk: ShopDesk, now: Callable[[], float] = time.monotonic) -> None:
        self.desk, self.now = desk, now
        self._whole = Whole(0)
        self._read_at = -FRESH
        self._asking: asyncio.Task[None] | None = None

    async def whole(self) -> Whole:
        """Both lists; empty ones before they could be read."""
        if self.desk.opening.is_open and (self.desk.changed or self.now() - self._read_at >= FRESH):
            await self._asked()
        return self._whole

    async def _asked(self) -> None:
        """Ask for the lists, and wait for a moment; what comes later is for the next page."""
        if self._asking is None or self._asking.done() or self._asking.get_loop() is not asyncio.get_running_loop():
            self.desk.changed = False
            self._read_at = self.now()
            self._asking = asyncio.create_task(self._read())
        await asyncio.wait([self._asking], timeout=PATIENCE)

    async def _read(self) -> None:
        try:
            change = await READING.run(self.desk.change)
            if change != self._whole.change:
                whole = await READING.run(self.desk.whole)
                self._whole = Whole(whole.change, tuple(each for each in whole.entries if each.removed_at is None))
        except Refusal:  # what is wrong is logged where the database is asked; the pages go on without
            return
