"""Kills the server amid a thousand saves, twenty times on each database: `python -m tests.bench.bench_killing`.

PostgreSQL keeps its own flush at every commit here, which the tests turn off for speed.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from server.settings import Settings
from tests.sheets import cluster
from tests.sheets.conftest import SEAT
from tests.sheets.killing import Verdict, killed_in_the_middle

TIMES, SAVES, SAVERS = 20, 1000, 4


def main() -> int:
    """Print a line for each kill and the sums; the exit status tells whether anything was lost or torn."""
    verdicts: list[Verdict] = []
    with cluster.running("-c shared_buffers=32MB") as postgres:
        for kind in ("sqlite", "postgresql"):
            of_kind = [_kill(kind, postgres, number) for number in range(TIMES)]
            print(f"{kind}, {TIMES} kills: {_sums(of_kind)}", flush=True)
            verdicts += of_kind
    return 1 if any(verdict.lost or verdict.torn for verdict in verdicts) else 0


def _kill(kind: str, postgres: cluster.Cluster, number: int) -> Verdict:
    with tempfile.TemporaryDirectory() as folder:
        database = postgres.emptied() if kind == "postgresql" else ""
        settings = Settings(data=Path(folder) / "data", database=database)
        start = time.monotonic()
        verdict = killed_in_the_middle(settings, Path(folder) / "log", SEAT, SAVES, SAVERS, seed=number)
        print(f"{kind} {number + 1}: {verdict} in {time.monotonic() - start:.1f} s", flush=True)
        return verdict


def _sums(verdicts: list[Verdict]) -> str:
    names = ("acknowledged", "unanswered", "kept", "lost", "torn")
    return ", ".join(f"{sum(getattr(verdict, name) for verdict in verdicts)} {name}" for name in names)


if __name__ == "__main__":
    sys.exit(main())
