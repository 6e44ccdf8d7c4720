"""A full disk, a database restarted or frozen amid saves, one of two servers killed, backups amid saves, a clock that
jumps by 40 days, orderly ends under load: `python -m tests.bench.bench_faults`, as root on Linux.

Prints a line for each; the exit status tells whether anything acknowledged was lost, torn, or refused without words.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from server.settings import Settings
from tests.sheets import cluster
from tests.sheets.conftest import SEAT
from tests.sheets.faults import Found, database_restarted, disk_filled
from tests.sheets.trials import (
    backed_up_amid_saves,
    clock_jumped,
    database_frozen,
    ended_under_load,
    one_of_two_killed,
)

TIMES = 5


def main() -> int:
    """Run them and print what came of each."""
    found: dict[str, Found] = {}
    with tempfile.TemporaryDirectory() as folder, cluster.running("-c shared_buffers=32MB") as postgres:
        found["full disk"] = disk_filled(Path(folder) / "full", SEAT)
        for how in ("fast", "immediate"):
            log = Path(folder) / how
            found[f"{TIMES} restarts, {how}"] = database_restarted(postgres, how, log, SEAT, TIMES)
        found["frozen for 30 s"], slowest = database_frozen(postgres, Path(folder) / "frozen", SEAT, 30.0)
        for kind, database in (("SQLite", ""), ("PostgreSQL", postgres.database())):
            log = Path(folder) / kind / "log"
            log.parent.mkdir()
            settings = Settings(data=log.with_name("data"), database=database)
            found[f"one of two servers killed, {TIMES} times, {kind}"] = one_of_two_killed(settings, log, SEAT, TIMES)
            for number, each in enumerate(backed_up_amid_saves(settings, log, SEAT, TIMES)):
                found[f"backup {number + 1} amid saves, restored, {kind}"] = each
            jumping = Settings(data=Path(folder) / "clock" / kind, database=postgres.emptied() if database else "")
            jumping.data.mkdir(parents=True)
            found[f"a clock that jumps, {kind}"], refused = clock_jumped(jumping, jumping.data / "log", SEAT)
            print(f"{kind}, 40 days ahead, back, right again; the keeper: {refused}")
        ends = [ended_under_load(Path(folder) / f"end{number}", SEAT) for number in range(TIMES)]
    found |= {f"end {number + 1} under load": each for number, (_, each) in enumerate(ends)}
    print(f"slowest light answer while the database was frozen: {slowest:.2f} s")
    for end, _ in ends:
        print(f"{'  ' if end.well else '! '}ended in {end.seconds:.1f} s: {dict(end.answered)}, cut off: {end.cut}")
    for name, each in found.items():
        print(f"{'  ' if each.well else '! '}{name}: {each.verdict}, {dict(each.statuses)}, {each.during} {each.after}")
    return 0 if all(each.well for each in found.values()) and all(end.well for end, _ in ends) else 1


if __name__ == "__main__":
    sys.exit(main())
