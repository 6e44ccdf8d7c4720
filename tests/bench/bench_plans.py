"""Random plans, each swept again independently: nothing is touched in air, nothing gouged unnamed, volumes agree.

Run from the checkout with the check environment's Python: `python -m tests.bench.bench_plans [count] [first]`.
"""

from __future__ import annotations

import sys
import time
from collections import Counter

from tests.bench.random_plans import tried


def main() -> int:
    """Try the plans and print what was wrong."""
    count, first = (int(text) for text in (sys.argv[1:] + ["1000", "0"][len(sys.argv) - 1 :])[:2])
    kinds: Counter[str] = Counter()
    refused: Counter[str] = Counter()
    wrong = 0
    begin = time.process_time()
    for seed in range(first, first + count):
        kind, report = tried(seed)
        kinds[kind] += 1
        if report is None:
            refused[kind] += 1
        elif report.faults:
            wrong += 1
            print(seed, kind, "; ".join(report.faults[:3]))
    print(f"{count} plans: {dict(kinds)}, refused {dict(refused)}, wrong {wrong}, {time.process_time() - begin:.0f} s")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
