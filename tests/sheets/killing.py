"""Ends a server in the middle of saves, again and again, and looks afterwards at what was acknowledged."""

from __future__ import annotations

import itertools
import random
import threading
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import httpx

from server.settings import Settings
from server.sheets.opening import open_store
from server.sheets.reading import stored_sheet
from tests.sheets.serving import start


@dataclass
class Tally:
    """What one saver was told: the newest acknowledged number of each of its sheets, and all acknowledged texts."""

    acknowledged: dict[str, dict[int, str]] = field(default_factory=dict)
    secrets: dict[str, str] = field(default_factory=dict)
    unanswered: int = 0

    @property
    def saves(self) -> int:
        """How many saves were acknowledged."""
        return sum(map(len, self.acknowledged.values()))


@dataclass(frozen=True)
class Verdict:
    """What was found after a kill."""

    acknowledged: int
    unanswered: int
    kept: int
    lost: int
    torn: int


def killed_in_the_middle(
    settings: Settings, log: Path, document: dict[str, Any], saves: int, savers: int, seed: int
) -> Verdict:
    """Let `savers` save at once; kill the server when about half of `saves` are through; start it again and look."""
    serving = start(settings, log)
    tallies = [Tally() for _ in range(savers)]
    half = threading.Semaphore(0)
    threads = [
        threading.Thread(target=_save, args=(serving.address, tally, document, saves // savers, half))
        for tally in tallies
    ]
    for thread in threads:
        thread.start()
    for _ in range(random.Random(seed).randrange(saves // 4, 3 * saves // 4)):
        half.acquire()
    serving.kill()
    for thread in threads:
        thread.join()
    again = start(settings, log)  # what a start does after a crash is part of the trial
    try:
        return look(settings, tallies)
    finally:
        again.kill()


def _save(address: str, tally: Tally, document: dict[str, Any], saves: int, half: threading.Semaphore) -> None:
    """Create a sheet and save it over and over until the server is gone."""
    try:
        with httpx.Client(base_url=address, timeout=30) as client:
            created = client.post("/api/sheets", json=document).raise_for_status().json()
            sheet, secret = created["id"], created["secret"]
            tally.secrets[sheet], tally.acknowledged[sheet] = secret, {1: document["heading"]["title"]}
            for number in itertools.islice(itertools.count(2), saves - 1):
                title = f"save {number} of {sheet}"
                body = {
                    "based_on": number - 1,
                    "sheet": {**document, "heading": {**document["heading"], "title": title}},
                }
                answer = client.put(f"/api/sheets/{sheet}", json=body, headers={"Authorization": f"Bearer {secret}"})
                answer.raise_for_status()
                tally.acknowledged[sheet][number] = title
                half.release()
    except httpx.TransportError:
        tally.unanswered += 1
    finally:
        for _ in range(saves):  # never keep the killer waiting
            half.release()


def look(settings: Settings, tallies: list[Tally]) -> Verdict:
    """What of that which was acknowledged is there, and whether all that is there is whole."""
    store = open_store(settings)
    lost = torn = kept = 0
    try:
        for tally in tallies:
            for sheet, titles in tally.acknowledged.items():
                found: dict[int, str] = {}
                for revision in store.revisions(sheet, 10**8, 10**6):  # raises for a document that is not whole
                    title = stored_sheet(revision.document).heading.title
                    found[revision.number] = title
                    torn += revision.number > 1 and title != f"save {revision.number} of {sheet}"
                torn += sorted(found) != list(range(1, len(found) + 1)) or store.read(sheet).number != len(found)
                lost += sum(found.get(number) != title for number, title in titles.items())
                lost += not store.owns(sheet, tally.secrets[sheet])
                kept += len(found)
    finally:
        store.engine.dispose()
    acknowledged, unanswered = sum(tally.saves for tally in tallies), sum(tally.unanswered for tally in tallies)
    return Verdict(acknowledged, unanswered, kept, lost, torn)
