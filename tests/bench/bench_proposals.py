"""Operations proposed for random prints, each proposal run as it stands: what is hit, cut too deep, left and unnamed.

Run from the checkout with the check environment's Python: `python -m tests.bench.bench_proposals [count] [first]`.
"""

from __future__ import annotations

import sys

from tests.bench.random_prints import proposed_for


def main() -> int:
    """Try the prints, and print what is wrong with their proposals."""
    count, first = (int(text) for text in (sys.argv[1:] + ["300", "0"][len(sys.argv) - 1 :])[:2])
    refused = operations = wrong = 0
    for seed in range(first, first + count):
        found = proposed_for(seed)
        if found is None:
            refused += 1
            continue
        operations += found.operations
        wrong += bool(found.faults)
        for fault in found.faults[:3]:
            print(f"{seed}: {fault}", flush=True)
    print(f"{count} prints, {refused} refused: {operations} operations, {wrong} proposals with a fault")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
