"""2,000 random first parts: how often what is found holds. `python -m tests.bench.bench_first_part [count]`."""

from __future__ import annotations

import sys

import numpy as np

from tests.measuring.test_first_part import recovered


def main(count: int) -> None:
    """Print, for each cause, how often it was told and how often the truth lay within the spread."""
    seen, kept = recovered(np.random.default_rng(1), count)
    for name, times in seen.items():
        print(f"{name:20} told {times:5} times, within its spread {100 * kept[name] / times:.1f} %")
    print(f"{'all':20} told {sum(seen.values()):5} times, within {100 * sum(kept.values()) / sum(seen.values()):.1f} %")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 2000)
