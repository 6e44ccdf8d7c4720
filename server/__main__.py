"""Serves the app with all its bounds: `python -m server --port 8000`."""

from __future__ import annotations

import argparse
import logging
import os
import sys
import threading

SECONDS_TO_FINISH = 7  # longer than the longest answer; with what comes after, the process ends within ten
AT_ONCE = 100  # connections that are accepted before the first of them is counted
MOST_HEAD = 48 * 1024  # bytes of a request's head: the longest question and its headers


def main(arguments: list[str]) -> int:
    """Serve until a signal says that it is enough; what runs then is finished first."""
    options = _parser().parse_args(arguments)
    os.environ.setdefault(
        "OPENBLAS_NUM_THREADS", "1"
    )  # before arrays are loaded: its threads keep memory and gain nothing
    import uvicorn  # noqa: PLC0415 - the processes that compute import this module too

    from server.connections import Bounded, room  # noqa: PLC0415
    from server.lean import build_models_late  # noqa: PLC0415

    build_models_late()  # before the framework declares them
    Bounded.most = room()
    uvicorn.run(
        "server.app:create_app",
        factory=True,
        host=options.host,
        port=options.port,
        workers=options.workers,
        log_level=options.log_level,
        http=Bounded,
        ws="none",
        backlog=AT_ONCE,
        h11_max_incomplete_event_size=MOST_HEAD,
        timeout_graceful_shutdown=SECONDS_TO_FINISH,
        server_header=False,
    )
    return 0


def leave(status: int) -> None:
    """End the process, though a thread may still wait for a database that does not answer."""
    logging.shutdown()
    sys.stdout.flush()
    sys.stderr.flush()
    others = [each for each in threading.enumerate() if each is not threading.main_thread() and not each.daemon]
    if others:
        os._exit(status)
    sys.exit(status)


def _parser() -> argparse.ArgumentParser:
    reader = argparse.ArgumentParser(prog="python -m server")
    reader.add_argument("--host", default="127.0.0.1")
    reader.add_argument("--port", type=int, default=8000)
    reader.add_argument("--workers", type=int, default=1)
    reader.add_argument("--log-level", default="warning")
    return reader


if __name__ == "__main__":
    leave(main(sys.argv[1:]))
