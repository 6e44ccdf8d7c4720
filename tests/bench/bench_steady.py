"""Load and faults: `python -m tests.bench.bench_steady [requests]` against a server of its own on this machine alone.

Generated requests over pages, calls and bodies; light questions beside eight heavy clients; then a memory of all
processes. Prints figures and exits with 1 when one of them is beyond its bound. A short part of it, without times, runs
with the tests. Kills amid saves are `bench_killing`; full disk, locked, damaged and clock are tests of the sheets.
"""

from __future__ import annotations

import json
import math
import random
import statistics
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import httpx

from calc.language.fields import specs
from server.catalogue import FEATURES, POSTS
from server.computing.refused import MOST_STARTING, SECONDS
from server.computing.weight import is_heavy, is_heavy_body
from server.links import address
from server.settings import Settings
from tests.sheets.serving import Serving, served

LIGHT_SECONDS, HEAVY_SECONDS, LIGHT_P99 = 2.0, 5.5, 0.150
HEAVY_CLIENTS = 8
ODD = ("", "0", "-1", "1e308", "nan", "1/0", "3-1/4", "2,5", "25.4mm", "Ø60", "99999999", "\x00", "ü" * 50, "1:10")
MEMORY_MB = 600


@dataclass(frozen=True)
class Asked:
    """One request of the generator."""

    method: str
    address: str
    body: bytes = b""
    heavy: bool = False


@dataclass
class Tally:
    """What came of the requests."""

    statuses: Counter[int] = field(default_factory=Counter)
    light: list[float] = field(default_factory=list)
    heavy: list[float] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    @property
    def answered(self) -> float:
        """The share that got an answer with numbers."""
        return self.statuses[200] / max(1, self.statuses.total())


def generated(seed: int) -> Iterator[Asked]:
    """Requests without end: examples of all questions, some of their texts replaced, pages, calls and bodies."""
    chance = random.Random(seed)
    while True:
        feature = chance.choice(FEATURES)
        cases = [case for case in (feature.example, *feature.examples.values()) if case] or [{}]
        texts = dict(chance.choice(cases))
        if chance.random() < 0.35:
            names = [spec.name for spec in specs(feature.inputs)]
            texts[chance.choice(names)] = chance.choice(ODD)
        if chance.random() < 0.3:
            texts["units"] = chance.choice(("mm", "inch"))
        kind = chance.random()
        if kind < 0.15:
            yield _posted(chance)
            continue
        path = feature.page if kind < 0.55 and feature.page else f"/api/{feature.path}"
        yield Asked("GET", address(path, texts), heavy=is_heavy(feature.path, texts.items()))


def _posted(chance: random.Random) -> Asked:
    post = chance.choice(POSTS)
    x = chance.choice((20, 30, 1e6, -5, 10**310, "Ø40", None))
    elements = [{"kind": "line", "x": 20 + i, "z": -5.0 * i - 5} for i in range(chance.choice((1, 3, 40)))]
    contour = {"start": {"x": x, "z": 0}, "elements": elements}
    body = {"contour": contour, "nose_radius": 0.8, "bar_diameter": 150, "pass_depth": 1, "feed": 0.2}
    written = json.dumps(contour if post.path.endswith("geometry/contour") else body).encode()
    return Asked("POST", post.path, written, is_heavy_body(post.path.removeprefix("/api/"), written))


def ask(client: httpx.Client, asked: Asked, tally: Tally) -> None:
    """Ask, and note what came of it: the status, the time, JSON that is none."""
    begin = time.perf_counter()
    try:
        answer = client.request(asked.method, asked.address, content=asked.body)
    except httpx.HTTPError as error:
        tally.faults.append(f"{type(error).__name__} {error}: {asked.method} {asked.address[:200]}")
        return
    (tally.heavy if asked.heavy else tally.light).append(time.perf_counter() - begin)
    tally.statuses[answer.status_code] += 1
    if answer.status_code >= 500 and not (answer.status_code == 503 and "Retry-After" in answer.headers):
        tally.faults.append(f"{answer.status_code}: {asked.method} {asked.address[:300]} {asked.body[:200]!r}")
    if asked.address.startswith("/api/"):
        try:
            json.loads(answer.text, parse_constant=_no_constant)
        except ValueError:
            tally.faults.append(f"no JSON: {asked.address[:300]}")


def _no_constant(name: str) -> float:
    raise ValueError(name)


def flooded(serving: Serving, count: int, clients: int = 4) -> Tally:
    """So many generated requests, from a few clients at once."""
    tally = Tally()

    def run(seed: int) -> None:
        source = generated(seed)
        with httpx.Client(base_url=serving.address, timeout=30) as client:
            for _ in range(count // clients):
                ask(client, next(source), tally)

    with ThreadPoolExecutor(clients) as pool:
        list(pool.map(run, range(clients)))
    return tally


def first_heavy(serving: Serving) -> float:
    """Seconds until the first heavy question after the start is answered: what computes is loaded for it."""
    begin = time.perf_counter()
    httpx.get(serving.address + "/plan?shape=pad&example=1", timeout=60).raise_for_status()
    return time.perf_counter() - begin


def beside_heavy_clients(serving: Serving, seconds: float = 10.0) -> tuple[Tally, Tally]:
    """Light questions ten times a second, while eight clients ask for plans without a pause: light, heavy."""
    light, heavy, over = Tally(), Tally(), threading.Event()
    plan = next(feature for feature in FEATURES if feature.path == "plan/contour")
    asked = Asked("GET", address(plan.page, plan.example), heavy=True)

    def press() -> None:
        with httpx.Client(base_url=serving.address, timeout=30) as client:
            while not over.is_set():
                ask(client, asked, heavy)

    pressing = [threading.Thread(target=press) for _ in range(HEAVY_CLIENTS)]
    for each in pressing:
        each.start()
    begin = time.perf_counter()
    with httpx.Client(base_url=serving.address, timeout=30) as client:
        for number in range(int(seconds * 10)):
            time.sleep(max(0.0, begin + number / 10 - time.perf_counter()))
            ask(client, Asked("GET", "/spindle?surface_speed=220&diameter=56"), light)
    over.set()
    for each in pressing:
        each.join()
    return light, heavy


def memory(root: int) -> float:
    """Resident memory of a process and all below it, MB; pages that they share are counted once for each."""
    parents = {}
    for status in Path("/proc").glob("[0-9]*/stat"):
        try:
            parents[int(status.parent.name)] = int(status.read_text().rpartition(")")[2].split()[1])
        except OSError:
            continue
    family = {root}
    while True:
        more = {pid for pid, parent in parents.items() if parent in family} - family
        if not more:
            break
        family |= more
    return sum(_resident(pid) for pid in family)


def _resident(pid: int) -> float:
    try:
        lines = Path(f"/proc/{pid}/status").read_text().splitlines()
    except OSError:
        return 0.0
    return next((int(line.split()[1]) / 1024 for line in lines if line.startswith("VmRSS")), 0.0)


def p99(times: list[float]) -> float:
    """The time that 99 of 100 stay below."""
    return sorted(times)[max(0, math.ceil(0.99 * len(times)) - 1)] if times else 0.0


def main(arguments: list[str]) -> int:
    """Run it, print the figures, and return 1 when one is beyond its bound."""
    count = int(arguments[0]) if arguments else 20_000
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        with served(Settings(data=place / "data"), place / "log") as serving:
            first = first_heavy(serving)
            light, heavy = beside_heavy_clients(serving)
            tally = flooded(serving, count)
            held = memory(serving.process.pid)
    checks: list[tuple[str, Any, bool]] = [
        ("first heavy after the start, ms", round(first * 1000), first < SECONDS + MOST_STARTING + 0.5),
        ("light beside eight heavy clients, answered", len(light.light), len(light.light) >= 95),
        ("light beside them, p99 ms", round(p99(light.light) * 1000), p99(light.light) < LIGHT_P99),
        ("heavy answered, median ms", round(statistics.median(heavy.heavy) * 1000), True),
        ("heavy, most ms", round(max(heavy.heavy) * 1000), max(heavy.heavy) < HEAVY_SECONDS),
        ("generated requests", tally.statuses.total(), not tally.faults),
        ("of them with an answer, %", round(100 * tally.answered), tally.answered >= 0.5),
        ("light, most ms", round(max(tally.light) * 1000), max(tally.light) < LIGHT_SECONDS),
        ("heavy, most ms", round(max(tally.heavy) * 1000), max(tally.heavy) < HEAVY_SECONDS),
        ("memory of all processes, MB", round(held), held < MEMORY_MB),
    ]
    for name, value, well in checks:
        print(f"{'  ' if well else '! '}{name:45} {value}")
    print(dict(tally.statuses), *tally.faults[:20], sep="\n")
    return 0 if all(well for _, _, well in checks) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
