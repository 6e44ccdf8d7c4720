"""A lock between processes that the operating system takes back when its holder ends, however it ends."""

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

if sys.platform == "win32":
    import msvcrt

    def _try_lock(file: IO[str]) -> bool:
        file.seek(0)
        try:
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _try_lock(file: IO[str]) -> bool:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


SECONDS_BETWEEN_TRIES = 0.2


@contextmanager
def exclusive(path: Path, on_wait: Callable[[], None] = lambda: None) -> Iterator[None]:
    """Hold the lock of a file, which is made when missing; `on_wait` is called once when somebody else holds it."""
    with path.open("a") as file:
        if not _try_lock(file):
            on_wait()
            while not _try_lock(file):
                time.sleep(SECONDS_BETWEEN_TRIES)
        yield
