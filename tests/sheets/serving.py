"""Real server processes on one database, as a shop or a cluster runs them."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

import httpx

from server.settings import ROOT, Settings

SECONDS_TO_START = 30.0


@dataclass
class Serving:
    """One process and its address; `log` is what it wrote, requests included."""

    process: subprocess.Popen[bytes]
    address: str
    log: Path

    def kill(self) -> None:
        """End it as a power cut would: without a chance to do anything."""
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()


def start(settings: Settings, log: Path, **environment: str) -> Serving:
    """Start a server on a port of its own and wait until it answers."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    told = {
        "CHUCKSIDE_DATA": str(settings.data),
        "CHUCKSIDE_DATABASE": settings.database,
        "CHUCKSIDE_SAVES_PER_MINUTE": "1000000",
        "CHUCKSIDE_SHEETS_PER_HOUR": "1000000",
    }
    command = [sys.executable, "-m", "server", "--port", str(port), "--log-level", "info"]
    with log.open("ab") as written:
        process = subprocess.Popen(
            command, cwd=ROOT, env={**os.environ, **told, **environment}, stdout=written, stderr=subprocess.STDOUT
        )
    serving = Serving(process, f"http://127.0.0.1:{port}", log)
    _wait(serving)
    return serving


@contextmanager
def served(settings: Settings, log: Path, **environment: str) -> Iterator[Serving]:
    """A server for the time of a block."""
    serving = start(settings, log, **environment)
    try:
        yield serving
    finally:
        serving.kill()


def _wait(serving: Serving) -> None:
    """Ask until it answers; a process that ended, or a minute without an answer, is a failure."""
    end = time.monotonic() + SECONDS_TO_START
    with httpx.Client(timeout=1) as client:  # one, since each reads the certificates of all authorities
        while time.monotonic() < end:
            if serving.process.poll() is not None:
                break
            try:
                client.get(f"{serving.address}/health").raise_for_status()
            except httpx.HTTPError:
                with suppress(subprocess.TimeoutExpired):  # not a sleep: it ends at once if the process does
                    serving.process.wait(0.02)
                continue
            return
    serving.kill()
    raise AssertionError(f"the server did not start:\n{serving.log.read_text(errors='replace')}")
