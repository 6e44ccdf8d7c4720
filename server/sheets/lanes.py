"""Threads for the database, apart from each other and from all computing: a read never waits behind a save, and neither
is what a page without saved work waits for. Each lane is bounded in threads and in time.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import ParamSpec, TypeVar

from server.sheets.states import Busy, Silent

Arguments = ParamSpec("Arguments")
Result = TypeVar("Result")


class Lane:
    """A few threads for one kind of work; how long it may wait to be begun, and how long it may then take."""

    def __init__(self, name: str, threads: int, to_begin: float, to_end: float) -> None:
        self.to_begin, self.to_end = to_begin, to_end
        self._threads = ThreadPoolExecutor(threads, thread_name_prefix=name)

    async def run(
        self, function: Callable[Arguments, Result], *arguments: Arguments.args, **named: Arguments.kwargs
    ) -> Result:
        """What the function returns. Raises `Busy` when it was not begun in time, `Silent` when it does not end."""
        begun = self._threads.submit(function, *arguments, **named)
        answer = asyncio.wrap_future(begun)
        await asyncio.wait([answer], timeout=self.to_begin)
        if not answer.done() and begun.cancel():
            raise Busy
        await asyncio.wait([answer], timeout=self.to_end)
        if not answer.done():
            answer.cancel()
            raise Silent
        return answer.result()


# More threads than that would only wait in the database: SQLite has one writer, and readers take milliseconds.
READING = Lane("reading saved work", 8, 6.0, 2.0)
WRITING = Lane("writing saved work", 4, 10.0, 15.0)
PROBING = Lane("looking at saved work", 1, 2.0, 1.0)
COMPUTING = Lane("computing a sheet", 2, 4.0, 1.0)
