"""The real server for tests in a browser, on a free port."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import uvicorn
from fastapi import FastAPI

from server.app import create_app
from server.connections import Bounded
from server.settings import Settings

SECONDS_TO_END = 45.0
"""More than the half minute that a client amid a request is given by HTTPS to say good-bye."""


class _Server(uvicorn.Server):
    """A server that tells when it is ready."""

    def __init__(self, config: uvicorn.Config) -> None:
        super().__init__(config)
        self.ready = threading.Event()

    async def startup(self, sockets: list[object] | None = None) -> None:  # type: ignore[override]
        await super().startup(sockets)  # type: ignore[arg-type]
        self.ready.set()


@contextmanager
def live(data: Path, app: FastAPI | None = None, *, port: int = 0, certificate: Path | None = None) -> Iterator[str]:
    """The address of a running server whose saved work lies in `data`, or of one that runs an `app`.

    It speaks HTTPS with a `certificate` and its key in one file.
    """
    app = app or create_app(Settings(data=data))
    config = uvicorn.Config(app, host="127.0.0.1", port=port, log_level="error", http=Bounded)
    if certificate is not None:
        config.ssl_certfile = config.ssl_keyfile = str(certificate)
    server = _Server(config)
    thread = threading.Thread(target=server.run)
    thread.start()
    try:
        assert server.ready.wait(30)
        scheme = "http" if certificate is None else "https"
        yield f"{scheme}://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}"
    finally:
        server.should_exit = True
        thread.join(SECONDS_TO_END)
        assert not thread.is_alive(), "a client that keeps its connection must not hold up the end"
