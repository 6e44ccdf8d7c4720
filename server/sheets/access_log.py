"""Keeps owners' secrets out of the server's log, which writes down every address, and one fault from filling it."""

from __future__ import annotations

import logging
import re
import time
from collections.abc import Callable

_SECRET = re.compile(r"(/own/)[^/?\s]+", re.IGNORECASE)
_LOGGERS = ("uvicorn.access", "uvicorn.error")
_REPEATING = ("uvicorn.error", "asyncio", "chuckside.sheets")
_SAME, _MINUTE, _MOST_KINDS = 80, 60.0, 200
MOST_ALIKE = 5


class WithoutSecrets(logging.Filter):
    """A filter that lets every record pass, with the secrets in its texts blotted out."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Blot out what stands where a secret stands in an address."""
        record.msg = _blotted(record.msg)
        if isinstance(record.args, tuple):
            record.args = tuple(map(_blotted, record.args))
        return True


class Seldom(logging.Filter):
    """A filter that lets a few of the same line pass in each minute, and then says how many it kept back."""

    def __init__(self, now: Callable[[], float] = time.monotonic) -> None:
        super().__init__()
        self.now = now
        self._seen: dict[tuple[int, str], tuple[float, int]] = {}

    def filter(self, record: logging.LogRecord) -> bool:
        """Whether the line is among the first of its kind in this minute."""
        kind = (record.levelno, str(record.msg)[:_SAME])
        begun, count = self._seen.get(kind, (self.now(), 0))
        if self.now() - begun >= _MINUTE:
            kept_back = count - MOST_ALIKE
            begun, count = self.now(), 0
            if kept_back > 0:
                record.msg = f"{record.msg} (and {kept_back} more like this before)"
        if len(self._seen) > _MOST_KINDS:
            self._seen.clear()
        self._seen[kind] = (begun, count + 1)
        return count < MOST_ALIKE


def guard_logs() -> None:
    """Put the filters on the loggers of the server, once."""
    for name in _LOGGERS:
        _add(name, WithoutSecrets())
    for name in _REPEATING:
        _add(name, Seldom())


def _add(name: str, guard: logging.Filter) -> None:
    logger = logging.getLogger(name)
    if not any(isinstance(each, type(guard)) for each in logger.filters):
        logger.addFilter(guard)


def _blotted(value: object) -> object:
    return _SECRET.sub(r"\1...", value) if isinstance(value, str) else value
