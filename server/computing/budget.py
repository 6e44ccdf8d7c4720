"""The time of several computations together: each has its share, and what is late is left out, not waited for."""

from __future__ import annotations

import signal
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any


class OutOfTime(BaseException):
    """A computation had no time left. No handler of `Exception` on its way may take it for an ordinary error."""


class Budget:
    """So many seconds together, and at most so many for each."""

    def __init__(self, seconds: float, each: float) -> None:
        self.each = each
        self._ends = time.monotonic() + seconds

    @contextmanager
    def share(self) -> Iterator[None]:
        """One computation. Raises `OutOfTime` when there is no time left, or once it has had its share.

        >>> with Budget(1.0, 1.0).share():
        ...     2 + 2
        4
        """
        left = min(self.each, self._ends - time.monotonic())
        if left <= 0:
            raise OutOfTime
        with _interrupted_after(left):
            yield


@contextmanager
def _interrupted_after(seconds: float) -> Iterator[None]:
    """Interrupt what runs in a process's first thread; elsewhere, and where there are no timers, let it run."""
    if threading.current_thread() is not threading.main_thread() or not hasattr(signal, "setitimer"):
        yield
        return

    def ring(_number: int, _frame: Any) -> None:
        raise OutOfTime

    before = signal.signal(signal.SIGALRM, ring)
    signal.setitimer(signal.ITIMER_REAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)
