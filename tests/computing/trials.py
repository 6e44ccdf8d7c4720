"""Questions that no page asks: to wait, to take memory, to die. Stands in for `Answering` in the tests' processes."""

from __future__ import annotations

import os
import time
from pathlib import Path

from starlette.responses import PlainTextResponse, Response


class Trials:
    """Answers as `Answering` does, by names of methods."""

    def __init__(self, templates: Path, static: Path) -> None:
        self.made_with = templates, static

    def say(self, word: str) -> Response:
        return PlainTextResponse(f"{word} {os.getpid()} {os.nice(0) if hasattr(os, 'nice') else 0}")

    def wait(self, seconds: float) -> Response:
        """Keep the processor busy, as a computation does."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            pass
        return PlainTextResponse("waited")

    def fill(self, megabytes: int) -> Response:
        held = bytearray(megabytes * 1024 * 1024)
        return PlainTextResponse(str(len(held)))

    def die(self) -> Response:
        os._exit(3)

    def fail(self) -> Response:
        raise ValueError("a fault of the program")


class Prompt(Trials):
    """Every question of the server is answered at once."""

    def named(self, *_: object) -> Response:
        return self.say("prompt")
