"""Takes the ground from under a server that saves: a disk that is really full, a database that is restarted."""

from __future__ import annotations

import os
import subprocess
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import httpx

from server.settings import Settings
from tests.sheets.cluster import Cluster
from tests.sheets.killing import Tally, Verdict, look
from tests.sheets.serving import Serving, served

DISK_MB = 64  # more than the server wants to see free before it says that a disk is full
MOST_SECONDS = 120.0  # within which somebody can save again
KEPT_FREE = 400 * 1024  # bytes for some dozen saves


@dataclass
class Saver:
    """Saves one sheet over and over, whatever becomes of it, and keeps account."""

    client: httpx.Client
    document: dict[str, Any]
    tally: Tally = field(default_factory=Tally)
    statuses: Counter[int] = field(default_factory=Counter)

    def begin(self) -> None:
        """Make its sheet."""
        created = self.client.post("/api/sheets", json=self.document).raise_for_status().json()
        self.sheet, self.number = created["id"], 1
        self.tally.secrets[self.sheet] = created["secret"]
        self.tally.acknowledged[self.sheet] = {1: self.document["heading"]["title"]}

    def save(self) -> int:
        """Save once; the status. After an answer that leaves it open what was kept, look before the next one."""
        title = f"save {self.number + 1} of {self.sheet}"
        body = {
            "based_on": self.number,
            "sheet": {**self.document, "heading": {**self.document["heading"], "title": title}},
        }
        secret = {"Authorization": f"Bearer {self.tally.secrets[self.sheet]}"}
        status = self.client.put(f"/api/sheets/{self.sheet}", json=body, headers=secret).status_code
        self.statuses[status] += 1
        if status == 200:
            self.number += 1
            self.tally.acknowledged[self.sheet][self.number] = title
        elif status == 409:
            self.number = self.client.get(f"/api/sheets/{self.sheet}").raise_for_status().json()["revision"]
        return status


@dataclass(frozen=True)
class Found:
    """What came of a fault: what is kept, what was answered, what the server said of itself during it and after."""

    verdict: Verdict
    statuses: Counter[int]
    during: str
    after: str
    readable: bool

    @property
    def well(self) -> bool:
        """Nothing acknowledged is lost, nothing torn, every refusal in words, and all is well afterwards."""
        whole = (self.verdict.lost, self.verdict.torn) == (0, 0)
        return whole and self.readable and self.after == "ready" and set(self.statuses) <= {200, 409, 503, 507}


@contextmanager
def small_disk() -> Iterator[Path]:
    """A disk in memory of a few megabytes, which takes Linux and its root."""
    with tempfile.TemporaryDirectory() as folder:
        size = f"size={DISK_MB}m,mode=700"
        subprocess.run(["mount", "-t", "tmpfs", "-o", size, "chuckside", folder], check=True)
        try:
            yield Path(folder)
        finally:
            subprocess.run(["umount", folder], check=True)


def disk_filled(log: Path, document: dict[str, Any]) -> Found:
    """Let somebody save until the disk is full, look, make room, and let the same person go on."""
    with small_disk() as disk, served(Settings(data=disk / "data"), log) as serving:
        with httpx.Client(base_url=serving.address, timeout=30) as client:
            saver = Saver(client, document)
            saver.begin()
            ballast = disk / "ballast"
            with ballast.open("wb") as file:
                os.posix_fallocate(file.fileno(), 0, _free(disk) - KEPT_FREE)
            while saver.save() == 200:
                pass
            during = said(serving)
            readable = client.get(f"/sheet/{saver.sheet}").status_code == 200
            ballast.unlink()
            again = [saver.save() for _ in range(5)]
            readable = readable and again[-1] == 200
            after = said(serving)
        serving.kill()
        return Found(look(Settings(data=disk / "data"), [saver.tally]), saver.statuses, during, after, readable)


def database_restarted(
    cluster: Cluster, how: str, log: Path, document: dict[str, Any], times: int = 1, savers: int = 4
) -> Found:
    """Restart the database beneath a server while several people save; they go on until it is there again."""
    settings = Settings(data=log.parent / "data", database=cluster.emptied())
    over = threading.Event()
    with served(settings, log) as serving:
        clients = [httpx.Client(base_url=serving.address, timeout=30) for _ in range(savers)]
        people = [Saver(client, document) for client in clients]
        for person in people:
            person.begin()
        threads = [threading.Thread(target=on_and_on, args=(person, over)) for person in people]
        for thread in threads:
            thread.start()
        try:
            for _ in range(times):
                until_saved(people)
                cluster.restart(how)
            until_saved(people)
        finally:
            over.set()
            for thread in threads:
                thread.join()
        readable = all(person.client.get(f"/sheet/{person.sheet}").status_code == 200 for person in people)
        after = said(serving)
        for client in clients:
            client.close()
    statuses = sum((person.statuses for person in people), Counter[int]())
    return Found(look(settings, [person.tally for person in people]), statuses, "", after, readable)


def on_and_on(saver: Saver, over: threading.Event) -> None:
    """Save without a pause until it is over."""
    while not over.is_set():
        if saver.save() >= 500:
            over.wait(0.05)


def until_saved(people: list[Saver]) -> None:
    """Wait until each has saved five times more."""
    wanted, end = [person.tally.saves + 5 for person in people], time.monotonic() + MOST_SECONDS
    while any(person.tally.saves < least for person, least in zip(people, wanted, strict=True)):
        assert time.monotonic() < end, [person.statuses for person in people]
        threading.Event().wait(0.01)


def _free(disk: Path) -> int:
    free = os.statvfs(disk)
    return free.f_bavail * free.f_frsize


def said(serving: Serving) -> str:
    """What the server says of its saved work."""
    word: str = httpx.get(f"{serving.address}/ready", timeout=30).json()["status"]
    return word
