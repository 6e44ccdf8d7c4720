"""The inside of a computing process: its limits, and its life of one question after the other.

`Answering` and the templates are made once, in the process from which the others are forked, so that a process that was
ended is followed by another within some 20 ms.
"""

from __future__ import annotations

import contextlib
import gc
import os
import signal
import sys
import traceback
from collections.abc import Callable
from functools import cache
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from starlette.responses import Response

from server.answering import Answering, PageAsked
from server.catalogue import PAGES
from server.computing import workers
from server.settings import STATIC, TEMPLATES

MEMORY = 200 * 1024 * 1024
KINDLY = 5  # how far a computing process stands back behind the one that answers everybody
_TYPICAL = "/plan"  # a page whose example takes all that heavy questions take: areas, arrays, pictures
SELDOM = 20_000
"""Objects more than are gone before a look for those that hold each other: a question leaves few, in 2 MB or so."""
LONGEST = 8  # seconds of the processor; the server ends a process sooner, this is for one that has lost its server

Answer = tuple[int, list[tuple[bytes, bytes]], bytes]


@cache
def made(made_by: Callable[[Path, Path], Any], templates: Path, static: Path) -> Any:
    """What answers in this process: an `Answering`, made by its class."""
    return made_by(templates, static)


def warm() -> None:
    """Make ready what every process needs, before they are forked."""
    answering: Answering = made(workers.answering, TEMPLATES, STATIC)
    answering.compile_templates()
    example = PAGES[_TYPICAL].example
    answering.named("page", _TYPICAL, PageAsked(tuple(example.items()), ""))
    gc.freeze()  # what is there now is shared with all forks, and stays so if nothing counts it again
    gc.set_threshold(SELDOM)


def live(connection: Connection, made_by: Callable[[Path, Path], Any], templates: Path, static: Path) -> None:
    """Answer questions until the other end closes."""
    _limit()
    with contextlib.suppress(EOFError, OSError):
        while True:
            name, arguments = connection.recv()
            _end_after(LONGEST)
            connection.send(_answered(made(made_by, templates, static), name, arguments))
            _end_after(0)


def _answered(answering: Any, name: str, arguments: tuple[Any, ...]) -> Answer | str:
    """The answer, or the name of what went wrong; the text of an error stays here, for it holds what was typed."""
    try:
        response: Response = getattr(answering, name)(*arguments)
    except MemoryError:
        return "MemoryError"
    except Exception as error:
        traceback.print_exc(file=sys.stderr)
        return type(error).__name__
    return response.status_code, response.raw_headers, bytes(response.body)


def _limit() -> None:
    """Set the limits that the system has: memory, standing back. Ctrl-C is the server's, which first answers."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if hasattr(os, "nice"):
        with contextlib.suppress(OSError):
            os.nice(KINDLY)
    try:
        import resource  # noqa: PLC0415 - not on Windows
    except ImportError:
        return
    with contextlib.suppress(OSError, ValueError):
        resource.setrlimit(resource.RLIMIT_DATA, (MEMORY, MEMORY))


def _end_after(seconds: int) -> None:
    """End this process once it has computed so long; 0 is never."""
    if hasattr(signal, "setitimer"):
        signal.setitimer(signal.ITIMER_PROF, seconds)
