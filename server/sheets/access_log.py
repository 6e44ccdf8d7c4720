"""Keeps owners' secrets out of the server's access log, which writes down every address."""

from __future__ import annotations

import logging
import re

_SECRET = re.compile(r"(/own/)[^/?\s]+", re.IGNORECASE)
_LOGGERS = ("uvicorn.access", "uvicorn.error")


class WithoutSecrets(logging.Filter):
    """A filter that lets every record pass, with the secrets in its texts blotted out."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Blot out what stands where a secret stands in an address."""
        record.msg = _blotted(record.msg)
        if isinstance(record.args, tuple):
            record.args = tuple(map(_blotted, record.args))
        return True


def guard_logs() -> None:
    """Put the filter on the loggers of the server, once."""
    for name in _LOGGERS:
        logger = logging.getLogger(name)
        if not any(isinstance(each, WithoutSecrets) for each in logger.filters):
            logger.addFilter(WithoutSecrets())


def _blotted(value: object) -> object:
    return _SECRET.sub(r"\1...", value) if isinstance(value, str) else value
