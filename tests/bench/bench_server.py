"""What the server costs: ratios against routes that compute nothing, start, memory, bytes of a first visit.

Run from the checkout with the check environment's Python: `python -m tests.bench.bench_server`. Prints a table.
Everything goes over loopback HTTP with keep-alive and the same compression, interleaved in one run.
"""

from __future__ import annotations

import gzip
import http.client
import os
import re
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import FastAPI, Query
from fastapi.responses import HTMLResponse

from calc.questions.operations.dish_plan.dish import FEATURE
from deploy import serve
from server.app import create_app
from server.catalogue import FEATURES, PAGES
from server.pages import Page
from server.query import read_query
from server.rendering import environment, rendered
from server.settings import STATIC, TEMPLATES
from tests.sheets import cluster

ROOT = Path(__file__).resolve().parents[2]
COMPILED = Path(tempfile.gettempdir()) / "chuckside-bench-compiled"
ROUNDS = 200
SEAT = "&".join(f"{name}={text}" for name, text in FEATURE.example.items())
DISH = "radius=90&depth=4.5&units=mm&break_kind=radius&break_size=0.8"


def create_bench_app() -> FastAPI:
    """The app with two more routes that compute nothing."""
    app = create_app()
    query = read_query([tuple(pair.split("=")) for pair in SEAT.split("&")], FEATURE.inputs)  # type: ignore[misc]
    view = replace(Page(FEATURE, query, "http://127.0.0.1", date(2026, 1, 1)).context(), partial=False)
    templates = environment(TEMPLATES, STATIC)

    async def constant_page() -> HTMLResponse:
        return HTMLResponse(rendered(templates, "feature.html", "en", page=view, back=view.back_address))

    async def nothing(
        radius: Annotated[str, Query()] = "",
        depth: Annotated[str, Query()] = "",
        mouth_diameter: Annotated[str, Query()] = "",
        break_kind: Annotated[str, Query()] = "none",
        break_size: Annotated[str, Query()] = "",
        break_angle: Annotated[str, Query()] = "",
        hole_diameter: Annotated[str, Query()] = "",
        units: Annotated[str, Query()] = "mm",
        x: Annotated[str, Query()] = "diameter",
        zplus: Annotated[str, Query()] = "out",
    ) -> dict[str, Any]:
        return {"radius": radius, "depth": depth, "mouth_diameter": mouth_diameter, "break_kind": break_kind,
                "break_size": break_size, "break_angle": break_angle, "hole_diameter": hole_diameter, "units": units,
                "x": x, "zplus": zplus}  # fmt: skip

    app.add_api_route("/bench/page", constant_page)
    app.add_api_route("/bench/json", nothing)
    return app


def surroundings(**more: str) -> dict[str, str]:
    """The environment of a process: compiled modules are kept, as on a machine that starts the server again."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "PYTHONPATH": str(ROOT), "PYTHONPYCACHEPREFIX": str(COMPILED), **more}


# The entry that everybody starts, and the same one with the two routes more.
REAL = ("-m", "server")
WITH_ROUTES = (
    "-c",
    "import sys, server.app, tests.bench.bench_server as bench; from server.__main__ import leave, main; "
    "server.app.create_app = bench.create_bench_app; leave(main(sys.argv[1:]))",
)


@contextmanager
def served(entry: tuple[str, ...] = REAL, database: str = "") -> Iterator[tuple[int, float, int]]:
    """A server of its own on a database of its own: its port, the seconds until it answered, its process number."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, *entry, "--port", str(port)]
    begin = time.perf_counter()
    folder = tempfile.TemporaryDirectory()
    environ = surroundings(CHUCKSIDE_DATA=folder.name, CHUCKSIDE_DATABASE=database, **serve.COMPACT)
    process = subprocess.Popen(command, cwd=ROOT, env=environ)
    try:
        while not _answers(port):
            time.sleep(0.02)
        yield port, time.perf_counter() - begin, process.pid
    finally:
        process.terminate()
        process.wait()
        folder.cleanup()


def _answers(port: int) -> bool:
    try:
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=1)
        connection.request("GET", "/health")
        return connection.getresponse().status == 200
    except OSError:
        return False


def medians(port: int, paths: dict[str, str]) -> dict[str, float]:
    """The median seconds of each path, asked in turn."""
    connection = http.client.HTTPConnection("127.0.0.1", port)
    times: dict[str, list[float]] = {name: [] for name in paths}
    for number in range(ROUNDS):
        for name, path in paths.items():
            begin = time.perf_counter()
            connection.request("GET", path, headers={"Accept-Encoding": "gzip"})
            answer = connection.getresponse()
            answer.read()
            assert answer.status == 200, (path, answer.status)
            if number >= 10:
                times[name].append(time.perf_counter() - begin)
    return {name: statistics.median(values) for name, values in times.items()}


def memory(pid: int) -> float:
    """Resident memory of a process, MB."""
    status = Path(f"/proc/{pid}/status").read_text()
    return int(re.search(r"VmRSS:\s+(\d+)", status)[1]) / 1024  # type: ignore[index]


def fetched(port: int, path: str) -> bytes:
    """The body as it crosses the wire."""
    connection = http.client.HTTPConnection("127.0.0.1", port)
    connection.request("GET", path, headers={"Accept-Encoding": "gzip"})
    return connection.getresponse().read()


def first_visit(port: int) -> tuple[int, int, int]:
    """Bytes of HTML and CSS, bytes in all, requests, for the empty dish page."""
    page = fetched(port, "/dish")
    html = gzip.decompress(page).decode()
    parts = re.findall(r'<(?:script|link|img)[^>]+(?:src|href)="(/static/[^"]+)"', html)
    sizes = {path: len(fetched(port, path)) for path in dict.fromkeys(parts)}
    css = sum(size for path, size in sizes.items() if ".css" in path)
    return len(page) + css, len(page) + sum(sizes.values()), 1 + len(sizes)


def import_seconds() -> float:
    """Seconds to import the calculation package with the dish's plan, less an empty interpreter; best of five."""

    def run(code: str) -> float:
        begin = time.perf_counter()
        subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=True, env=surroundings())
        return time.perf_counter() - begin

    return min(run("import calc.questions.operations.dish_plan.dish") for _ in range(5)) - min(
        run("pass") for _ in range(5)
    )


def loaded_memory(database: str = "") -> float:
    """MB of a server with its database that has answered every page's example in both systems, and every call's."""
    with served(database=database) as (port, _, pid):
        for feature in PAGES.values():
            for more in ({}, {"units": "inch"}):
                fetched(port, f"{feature.page}?{urlencode({**feature.example, **more})}")
        for feature in FEATURES:
            fetched(port, f"/api/{feature.path}?{urlencode(feature.example)}")
        return memory(pid)


def start_seconds() -> float:
    """Seconds from the start of the real entry to its first answer; the median of five."""

    def once() -> float:
        with served() as (_, seconds, _pid):
            return seconds

    return statistics.median(once() for _ in range(5))


def main() -> None:
    """Print the table."""
    print(f"load of the machine before: {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores\n")
    rows = []
    with served():
        pass  # whatever is not compiled yet is now
    with served(WITH_ROUTES) as (port, _, pid):
        found = medians(port, {
            "page": f"/dish?{SEAT}", "constant": "/bench/page", "json": f"/api/geometry/dish?{DISH}",
            "nothing": f"/bench/json?{DISH}", "plan": f"/api/plan/dish?{SEAT}",
        })  # fmt: skip
        rows.append(("plan page, ms", f"{found['page'] * 1000:.2f}", ""))
        rows.append(("same template with constants, ms", f"{found['constant'] * 1000:.2f}", ""))
        rows.append(("plan page / constants", f"{found['page'] / found['constant']:.2f}", "3"))
        rows.append(("dish as JSON, ms", f"{found['json'] * 1000:.2f}", ""))
        rows.append(("JSON route that computes nothing, ms", f"{found['nothing'] * 1000:.2f}", ""))
        rows.append(("dish as JSON / nothing", f"{found['json'] / found['nothing']:.2f}", "1.8"))
        rows.append(("plan as JSON, ms", f"{found['plan'] * 1000:.2f}", ""))
        styled, whole, requests = first_visit(port)
        rows.append(("first visit, HTML and CSS, bytes", str(styled), "14600"))
        rows.append(("first visit, all, bytes", str(whole), "45000"))
        rows.append(("first visit, requests", str(requests), "6"))
        rows.append(("memory after the run, MB", f"{memory(pid):.0f}", "110"))
    rows.append(("server start to first answer, s", f"{start_seconds():.2f}", "1.5"))
    with cluster.running() as postgres:
        rows.append(("memory after every page and call, SQLite, MB", f"{loaded_memory():.0f}", "110"))
        rows.append(("the same, PostgreSQL, MB", f"{loaded_memory(postgres.database()):.0f}", "110"))
    rows.append(("import of calc with the plan, s", f"{import_seconds():.2f}", "0.25"))
    print("| what | measured | at most |\n| --- | --- | --- |")
    for row in rows:
        print(f"| {row[0]} | {row[1]} | {row[2]} |")


if __name__ == "__main__":
    main()
