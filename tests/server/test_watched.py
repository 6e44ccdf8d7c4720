"""The service manager hears that the server is ready, alive and ending, in the words of sd_notify(3)."""

from __future__ import annotations

import asyncio
import socket
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from deploy.environment import ROOT
from server.app import create_app
from server.settings import Settings
from server.watched import watched

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such manager")
USEC = "3000"  # a word each millisecond


class Manager:
    """What systemd does with its end: it reads one word after the other."""

    def __init__(self, address: str, bound: str) -> None:
        self.address = address
        self.line = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
        self.line.bind(bound)
        self.line.settimeout(30)

    def heard(self) -> str:
        return self.line.recv(100).decode()


@pytest.fixture(params=["path", "name"])
def manager(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Manager]:
    if request.param == "name" and sys.platform != "linux":
        pytest.skip("names that stand in no folder are Linux's")
    name = f"chuckside-{tmp_path.name}"
    path = str(tmp_path / "notify")
    made = Manager(path, path) if request.param == "path" else Manager(f"@{name}", f"\0{name}")
    yield made
    made.line.close()


def test_it_is_ready_then_alive_again_and_again_then_ending(manager: Manager) -> None:
    async def serve() -> list[str]:
        async with watched({"NOTIFY_SOCKET": manager.address, "WATCHDOG_USEC": USEC}):
            return [await asyncio.to_thread(manager.heard) for _ in range(5)]

    assert asyncio.run(serve()) == ["READY=1", *["WATCHDOG=1"] * 4]
    rest = manager.heard()
    while rest == "WATCHDOG=1":
        rest = manager.heard()
    assert rest == "STOPPING=1"


def test_a_loop_that_stands_still_is_silent(manager: Manager) -> None:
    async def serve() -> None:
        async with watched({"NOTIFY_SOCKET": manager.address, "WATCHDOG_USEC": USEC}):
            await asyncio.sleep(0)
            assert [manager.heard(), manager.heard()] == ["READY=1", "WATCHDOG=1"]
            manager.line.settimeout(0.1)  # time for a hundred words
            with pytest.raises(TimeoutError):
                manager.heard()

    asyncio.run(serve())


def test_another_process_that_is_watched_is_not_spoken_for(manager: Manager) -> None:
    async def serve() -> None:
        told = {"NOTIFY_SOCKET": manager.address, "WATCHDOG_USEC": USEC, "WATCHDOG_PID": "1"}
        async with watched(told):
            await asyncio.sleep(0.05)

    asyncio.run(serve())
    assert [manager.heard(), manager.heard()] == ["READY=1", "STOPPING=1"]


def test_where_nobody_listens_nothing_is_said() -> None:
    async def serve() -> None:
        async with watched({}):
            await asyncio.sleep(0)

    asyncio.run(serve())


def test_a_server_speaks_while_it_serves(manager: Manager, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("NOTIFY_SOCKET", manager.address)
    with TestClient(create_app(Settings(data=tmp_path))):
        assert manager.heard() == "READY=1"
    assert manager.heard() == "STOPPING=1"


def test_the_unit_watches_one_process_and_waits_for_the_first_start() -> None:
    unit = (ROOT / "deploy" / "chuckside.service").read_text(encoding="utf-8")
    assert "\nType=notify\nNotifyAccess=main\n" in unit
    assert "\nWatchdogSec=" in unit
    assert "--workers" not in unit
    assert "AF_UNIX" in unit
