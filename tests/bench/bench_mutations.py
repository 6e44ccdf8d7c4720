"""Which changes of the code the quick tests notice: `python3 -m tests.bench.bench_mutations [mutants [room ...]]`.

`--seed N` draws another sample.

Each room's modules are changed in one place at a time by the operators of a mutation tool, in memory alone, and the
room's own quick tests are run. A change is killed when a test fails, or does not end in its time. The sample of a seed
is the same each time. What survives is printed with its line: read it, and write the test that it lacks, or leave out
what no answer depends on. The tool has an environment of its own, made on first use.
"""

from __future__ import annotations

import argparse
import importlib.util
import os
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))
EACH_ROOM = 60


def main(arguments: list[str]) -> int:
    """Make the tool's environment where this Python lacks it, then measure; 1 when a room is below its share."""
    if importlib.util.find_spec("cosmic_ray") is None:
        from deploy import environment  # noqa: PLC0415 - whoever has the tool needs it not

        lock = ROOT / "deploy" / "requirements-bench.lock"
        python = str(environment.ensure("bench", lock, environment.default_homes()))
        os.execv(python, [python, "-m", "tests.bench.bench_mutations", *arguments])
    from tests.bench import mutant_runs, mutants  # noqa: PLC0415 - needs that environment

    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("mutants", nargs="?", type=int, default=EACH_ROOM)
    asked.add_argument("room", nargs="*", default=list(mutants.ROOMS))
    asked.add_argument("--seed", type=int, default=mutants.SEED)
    given = asked.parse_args(arguments)
    return mutant_runs.measured(given.mutants, given.room, given.seed)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
