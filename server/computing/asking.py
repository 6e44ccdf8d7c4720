"""How a request gets its answer: a light question at once, a heavy one from a process, in time or not at all."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from server.answering import Answering
from server.computing.refused import SECONDS, Stopped
from server.computing.workers import Job, Workers, workers_for
from server.settings import Settings

Refusing = Callable[[str], Response]


class Asking:
    """Asks for answers, here or in a process."""

    def __init__(self, settings: Settings) -> None:
        self.answering = Answering(settings.templates, settings.static)
        self.workers: Workers = workers_for(settings.templates, settings.static)

    async def heavy(self, request: Request, refusing: Refusing, name: str, *arguments: Any) -> Response:
        """The answer of a method of `Answering`, from a process; what `refusing` makes of the sentence when stopped."""
        try:
            status, headers, body = await self._computed(request, Job(name, arguments, time.monotonic() + SECONDS))
        except Stopped as stopped:
            response = refusing(stopped.sentence)
            response.headers["Retry-After"] = str(stopped.wait)
            response.headers["Cache-Control"] = "no-store"
            return response
        response = Response(body, status)
        response.raw_headers = headers
        return response

    def close(self) -> None:
        """End the processes."""
        self.workers.close()

    async def _computed(self, request: Request, job: Job) -> tuple[int, list[tuple[bytes, bytes]], bytes]:
        """What the process answers. The question ends with its time, and when its asker leaves.

        Its time stands still while the first process starts: a first question on a loaded machine waits for it.
        """
        self.workers.submit(job)
        answer = asyncio.wrap_future(job.future)
        leaving = asyncio.ensure_future(_left(request))
        both: list[asyncio.Future[Any]] = [answer, leaving]
        try:
            while not (answer.done() or leaving.done()) and (left := job.left()) > 0.0:
                await asyncio.wait(both, timeout=left, return_when=asyncio.FIRST_COMPLETED)
            if answer.done():
                return answer.result()
            raise job.why()
        finally:
            leaving.cancel()
            if not answer.done():
                self.workers.stop(job)
                answer.add_done_callback(_seen)


async def _left(request: Request) -> None:
    """Wait until the client closes the connection."""
    while (await request.receive())["type"] != "http.disconnect":
        pass


def _seen(answer: asyncio.Future[Any]) -> None:
    """Nobody waits for what becomes of it."""
    if not answer.cancelled():
        answer.exception()
