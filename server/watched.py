"""Reports to the service manager that the server is up, and goes on saying so: the protocol of `sd_notify(3)`.

The word is sent from the loop that answers everybody, so a server whose loop stands still falls silent and is started
again. Where nobody wants to know, which is everywhere but in a systemd unit with `Type=notify`, nothing is sent.
"""

from __future__ import annotations

import asyncio
import contextlib
import os
import socket
from collections.abc import AsyncIterator, Mapping

EACH_TIME = 3  # words within the time that the manager allows, so that one may be late
READY, ALIVE, ENDING = b"READY=1", b"WATCHDOG=1", b"STOPPING=1"


@contextlib.asynccontextmanager
async def watched(environment: Mapping[str, str] = os.environ) -> AsyncIterator[None]:
    """Say that the server is ready, then that it is alive for as long as the block runs, then that it ends."""
    place = _place(environment.get("NOTIFY_SOCKET", ""))
    if not place:
        yield
        return
    with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as line:
        line.setblocking(False)
        line.connect(place)
        line.send(READY)
        alive = asyncio.ensure_future(_alive(line, pause(environment)))
        try:
            yield
        finally:
            alive.cancel()
            _told(line, ENDING)


def pause(environment: Mapping[str, str]) -> float | None:
    """Seconds between two words; None when this process is not watched.

    >>> pause({"WATCHDOG_USEC": "30000000"}), pause({}), pause({"WATCHDOG_USEC": "30000000", "WATCHDOG_PID": "1"})
    (10.0, None, None)
    """
    microseconds = environment.get("WATCHDOG_USEC", "")
    meant = environment.get("WATCHDOG_PID") or str(os.getpid())
    if not microseconds.isdecimal() or int(microseconds) == 0 or meant != str(os.getpid()):
        return None
    return int(microseconds) / 1e6 / EACH_TIME


def _place(address: str) -> str:
    """The manager's socket: a path, or with a leading @ a name that stands in no folder; other kinds are not ours."""
    if address.startswith("@"):
        return "\0" + address[1:]
    return address if address.startswith("/") else ""


async def _alive(line: socket.socket, seconds: float | None) -> None:
    while seconds is not None:
        _told(line, ALIVE)
        await asyncio.sleep(seconds)


def _told(line: socket.socket, word: bytes) -> None:
    """Send a word; a manager that is restarted or has no room for it hears the next one."""
    with contextlib.suppress(OSError):
        line.send(word)
