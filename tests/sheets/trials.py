"""Trials of real processes while several people save: a database that is frozen, two servers of which one is killed,
backups in the middle, an orderly end under load.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import httpx

from server.catalogue import PAGES
from server.links import address
from server.settings import ROOT, Settings
from server.sheets.backup import check_backup
from tests.sheets.clock import Clock, built
from tests.sheets.cluster import Cluster
from tests.sheets.faults import Found, Saver, on_and_on, said, until_saved
from tests.sheets.killing import Tally, look
from tests.sheets.serving import Serving, served

LIGHT = "/spindle?surface_speed=220&diameter=56"
HEAVY = "/api" + address("/plan/contour", PAGES["/plan"].example)
SECONDS_TO_END = 10.0
SETTLED = 0.3  # seconds after which a question that was sent has surely been read


@contextmanager
def saving(addresses: list[str], document: dict[str, Any]) -> Iterator[list[Saver]]:
    """People who save without a pause for the time of the block, one at each of the addresses."""
    over = threading.Event()
    with ExitStack() as stack:
        clients = [stack.enter_context(httpx.Client(base_url=address, timeout=60)) for address in addresses]
        people = [Saver(client, document) for client in clients]
        for person in people:
            person.begin()
        threads = [threading.Thread(target=on_and_on, args=(person, over)) for person in people]
        for thread in threads:
            thread.start()
        try:
            yield people
        finally:
            over.set()
            for thread in threads:
                thread.join()


def database_frozen(cluster: Cluster, log: Path, document: dict[str, Any], seconds: float) -> tuple[Found, float]:
    """Freeze the database beneath people who save, ask what needs none, thaw it; what was found, the slowest answer."""
    settings = Settings(data=log.parent / "data", database=cluster.emptied())
    slowest = 0.0
    with served(settings, log) as serving, saving([serving.address] * 3, document) as people:
        until_saved(people)
        cluster.signal(signal.SIGSTOP)
        try:
            end = time.monotonic() + seconds
            while time.monotonic() < end:
                begin = time.monotonic()
                httpx.get(serving.address + LIGHT, timeout=60).raise_for_status()
                httpx.get(serving.address + "/health", timeout=60).raise_for_status()
                slowest = max(slowest, time.monotonic() - begin)
            during = said(serving)
        finally:
            cluster.signal(signal.SIGCONT)
        until_saved(people)
        after = said(serving)
        readable = all(person.client.get(f"/sheet/{person.sheet}").status_code == 200 for person in people)
    return _found(settings, people, during, after, readable=readable), slowest


def one_of_two_killed(settings: Settings, log: Path, document: dict[str, Any], times: int) -> Found:
    """Two servers on one database, people at both; one is killed again and again, and its people go to the other."""
    tallies: list[Saver] = []
    with served(settings, log) as staying:
        for number in range(times):
            with served(settings, log.with_name(f"{log.name}{number}")) as ending:
                with saving([staying.address] * 2, document) as people:
                    leaving = Saver(httpx.Client(base_url=ending.address, timeout=60), document)
                    leaving.begin()
                    thread = threading.Thread(target=_until_gone, args=(leaving,))
                    thread.start()
                    until_saved([*people, leaving])
                    ending.kill()
                    thread.join()
                    leaving.client = people[0].client
                    leaving.number = leaving.client.get(f"/api/sheets/{leaving.sheet}").json()["revision"]
                    assert leaving.save() == 200
                tallies += [*people, leaving]
        after = said(staying)
    return _found(settings, tallies, "", after, readable=True)


def backed_up_amid_saves(settings: Settings, log: Path, document: dict[str, Any], times: int) -> list[Found]:
    """Backups by the command while people save; each is restored, and holds all that was acknowledged before it."""
    found = []
    with served(settings, log) as serving, saving([serving.address] * 3, document) as people:
        for number in range(times):
            until_saved(people)
            before = [_copied(person.tally) for person in people]
            file, folder = log.with_name(f"backup{number}"), log.with_name(f"restored{number}")
            _command(settings, "backup", str(file))
            check_backup(file)
            restored = Settings(data=folder)
            _command(restored, "restore", str(file))
            statuses = sum((person.statuses for person in people), Counter[int]())
            found.append(Found(look(restored, before), statuses, "", said(serving), readable=True))
    return found


def clock_jumped(settings: Settings, log: Path, document: dict[str, Any]) -> tuple[Found, list[str]]:
    """Let the clock of a server jump 40 days ahead, 40 back and right again while people save; what was found, and what
    the keeper said each time when everything that has ended was to expire: a sheet that ended this minute stays.
    """
    clock, said_of_expiring = built(log.parent), []
    with served(settings, log, **clock.environment) as serving, saving([serving.address] * 3, document) as people:
        until_saved(people)
        ended = Saver(people[0].client, document)
        ended.begin()
        secret = {"Authorization": f"Bearer {ended.tally.secrets[ended.sheet]}"}
        ended.client.delete(f"/api/sheets/{ended.sheet}", headers=secret).raise_for_status()
        for days in (40, -40, 0):
            clock.jump(days * 24 * 3600)
            until_saved(people)
            said_of_expiring.append(_expiring(settings, clock))
        after = said(serving)
        gone = ended.client.get(f"/api/sheets/{ended.sheet}").status_code == 410
    return _found(settings, [*people, ended], "", after, readable=gone), said_of_expiring


def _expiring(settings: Settings, clock: Clock) -> str:
    command = [sys.executable, "-m", "server.sheets.keeping", "expire", "--sure"]
    environ = {"CHUCKSIDE_DATA": str(settings.data), "CHUCKSIDE_DATABASE": settings.database, **clock.environment}
    done = subprocess.run(command, cwd=ROOT, env={**os.environ, **environ}, capture_output=True, text=True, check=False)
    return done.stdout + done.stderr


@dataclass
class Ended:
    """How a server ended while questions came: seconds until it was gone, what was answered, what was cut off."""

    seconds: float = 0.0
    status: int | None = None
    answered: Counter[int] = field(default_factory=Counter)
    cut: list[str] = field(default_factory=list)

    @property
    def well(self) -> bool:
        """It ended by itself and in time, and every question that it had read got its whole answer."""
        return self.seconds <= SECONDS_TO_END and not self.cut and self.answered.total() > 0


def ended_under_load(log: Path, document: dict[str, Any]) -> tuple[Ended, Found]:
    """SIGTERM while heavy and light questions are asked and people save, each question on a connection of its own."""
    settings, ended = Settings(data=log.parent / f"{log.name}-data"), Ended()
    with served(settings, log) as serving:
        httpx.get(serving.address + HEAVY, timeout=60).raise_for_status()
        told = threading.Event()
        people = [Saver(httpx.Client(base_url=serving.address, timeout=60), document) for _ in range(2)]
        for person in people:
            person.begin()
        threads = [threading.Thread(target=_ask_on, args=(serving, path, told, ended)) for path in [HEAVY, LIGHT] * 4]
        threads += [threading.Thread(target=_until_gone, args=(person,)) for person in people]
        for thread in threads:
            thread.start()
        until_saved(people)
        told.set()
        time.sleep(SETTLED)
        begin = time.monotonic()
        serving.process.send_signal(signal.SIGTERM)
        try:
            ended.status = serving.process.wait(3 * SECONDS_TO_END)
        except subprocess.TimeoutExpired:
            ended.cut.append("it did not end")
        ended.seconds = time.monotonic() - begin
        for thread in threads:
            thread.join()
    return ended, _found(settings, people, "", "ready", readable=True)


def _ask_on(serving: Serving, path: str, told: threading.Event, ended: Ended) -> None:
    """Ask until the end is told; what the server has taken by then has to be answered whole."""
    with httpx.Client(timeout=60, headers={"Connection": "close"}) as client:
        while True:
            last = told.is_set()
            try:
                answer = client.get(serving.address + path)
            except httpx.ConnectError:
                return  # it never reached the server, which takes no more
            except httpx.TransportError as error:
                ended.cut.append(f"{type(error).__name__}: {path}")
                return
            ended.answered[answer.status_code] += 1
            if last or told.is_set():
                return


def _until_gone(saver: Saver) -> None:
    try:
        while saver.save() in (200, 409, 503, 507):
            pass
    except httpx.TransportError:
        saver.tally.unanswered += 1


def _command(settings: Settings, *arguments: str) -> None:
    environ = {"CHUCKSIDE_DATA": str(settings.data), "CHUCKSIDE_DATABASE": settings.database}
    command = [sys.executable, "-m", "server.sheets.backup", *arguments]
    subprocess.run(command, cwd=ROOT, env={**os.environ, **environ}, capture_output=True, check=True)


def _copied(tally: Tally) -> Tally:
    return Tally({sheet: dict(titles) for sheet, titles in tally.acknowledged.items()}, dict(tally.secrets))


def _found(settings: Settings, people: list[Saver], during: str, after: str, *, readable: bool) -> Found:
    statuses = sum((person.statuses for person in people), Counter[int]())
    return Found(look(settings, [person.tally for person in people]), statuses, during, after, readable)
