"""Everything that the check draws by chance, at full size: properties, random parts, contours, plans and wrong fields.

Run from the checkout with the check environment's Python: `python -m tests.bench.bench_tries [paths]`.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def main() -> int:
    """Run the tests, or those of some paths, with every case that they have."""
    command = [sys.executable, "-m", "pytest", "-n", "2", "--dist", "worksteal", *sys.argv[1:]]
    return subprocess.run(
        command, cwd=ROOT, env={**os.environ, "HYPOTHESIS_PROFILE": "thorough"}, check=False
    ).returncode


if __name__ == "__main__":
    sys.exit(main())
