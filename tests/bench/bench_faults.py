"""A full disk, a database that is restarted amid saves: `python -m tests.bench.bench_faults`, as root on Linux.

Prints a line for each; the exit status tells whether anything acknowledged was lost, torn, or refused without words.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from tests.sheets import cluster
from tests.sheets.conftest import SEAT
from tests.sheets.faults import Found, database_restarted, disk_filled

TIMES = 5


def main() -> int:
    """Run them and print what came of each."""
    found: dict[str, Found] = {}
    with tempfile.TemporaryDirectory() as folder, cluster.running("-c shared_buffers=32MB") as postgres:
        found["full disk"] = disk_filled(Path(folder) / "full", SEAT)
        for how in ("fast", "immediate"):
            log = Path(folder) / how
            found[f"{TIMES} restarts, {how}"] = database_restarted(postgres, how, log, SEAT, TIMES)
    for name, each in found.items():
        print(f"{'  ' if each.well else '! '}{name}: {each.verdict}, {dict(each.statuses)}, {each.during} {each.after}")
    return 0 if all(each.well for each in found.values()) else 1


if __name__ == "__main__":
    sys.exit(main())
