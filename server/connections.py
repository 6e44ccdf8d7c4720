"""Connections within bounds: a request's head has its time, so has a client that does not read, and there are fewer
connections than descriptors. When it is full, the connection that has waited longest without a request makes room.
"""

from __future__ import annotations

import asyncio
from typing import Any, ClassVar

from uvicorn.protocols.http.h11_impl import H11Protocol

SECONDS_FOR_A_HEAD = 10.0
SECONDS_TO_READ = 30.0
MOST = 1000
APART = 200  # descriptors for the database, files, processes, and what is accepted before it is counted
TOO_LATE = b"HTTP/1.1 408 Request Timeout\r\nConnection: close\r\nContent-Length: 0\r\n\r\n"


def room() -> int:
    """How many connections this process may have: fewer than the descriptors that the system gives it."""
    try:
        import resource  # noqa: PLC0415 - not on Windows
    except ImportError:
        return MOST
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wished = MOST + APART
    if soft != resource.RLIM_INFINITY and soft < wished:
        soft = wished if hard == resource.RLIM_INFINITY else min(wished, hard)
        resource.setrlimit(resource.RLIMIT_NOFILE, (soft, hard))
    return MOST if soft == resource.RLIM_INFINITY else max(8, min(MOST, soft - APART))


class Bounded(H11Protocol):
    """The server's protocol with deadlines and a bound on connections."""

    most: ClassVar[int] = MOST
    waiting: ClassVar[dict[Bounded, None]] = {}  # without a whole request, the longest waiting first

    def __init__(self, *arguments: Any, **named: Any) -> None:
        super().__init__(*arguments, **named)
        self._head: asyncio.TimerHandle | None = None
        self._reading: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]  # as its base has it
        """Take the connection, and let another go when there are too many."""
        super().connection_made(transport)
        if len(self.connections) > self.most:
            next(iter(self.waiting), self).transport.abort()
        self._wait()
        self._head = self.loop.call_later(SECONDS_FOR_A_HEAD, self._late)

    def connection_lost(self, exc: Exception | None) -> None:
        """Forget it."""
        self.waiting.pop(self, None)
        self._head = _without(self._head)
        self._reading = _without(self._reading)
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Read on; the time for a head runs from its first byte to its last."""
        if self._is_waiting() and self._head is None:
            self._head = self.loop.call_later(SECONDS_FOR_A_HEAD, self._late)
        super().data_received(data)
        if not self._is_waiting():
            self._head = _without(self._head)
            self.waiting.pop(self, None)

    def on_response_complete(self) -> None:
        """Wait for the next request."""
        super().on_response_complete()
        if self._is_waiting():
            self._wait()

    def shutdown(self) -> None:
        """Let an idle connection go at once: by HTTPS its client would be waited for, half a minute if it is asleep."""
        idle = self._is_waiting() and not self.transport.get_write_buffer_size()
        super().shutdown()
        if idle:
            self.transport.abort()

    def pause_writing(self) -> None:
        """The client reads slower than we write; it has its time."""
        super().pause_writing()
        if self._reading is None:
            self._reading = self.loop.call_later(SECONDS_TO_READ, self.transport.abort)

    def resume_writing(self) -> None:
        """It has read what was written."""
        self._reading = _without(self._reading)
        super().resume_writing()

    def _is_waiting(self) -> bool:
        return self.cycle is None or self.cycle.response_complete

    def _wait(self) -> None:
        self.waiting.pop(self, None)
        self.waiting[self] = None

    def _late(self) -> None:
        self._head = None
        if not self.transport.is_closing() and self._is_waiting():
            self.transport.write(TOO_LATE)
            self.transport.close()


def _without(timer: asyncio.TimerHandle | None) -> asyncio.TimerHandle | None:
    """Cancel a timer; none stands in its place."""
    if timer is not None:
        timer.cancel()
    return None
