#!/usr/bin/env python3
"""Makes the three lock files anew from pyproject.toml: `python3 deploy/lock.py [--upgrade]`. Needs the program `uv`.

Without `--upgrade` the versions already locked stay where pyproject.toml still allows them. One lock serves every
system and every Python from 3.11 on; the checks' lock is held to the versions that are served, and that of the long
runs under tests/bench/ to the versions of the checks.
"""

import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
RUN, CHECK = "deploy/requirements.lock", "deploy/requirements-check.lock"
BENCH = "deploy/requirements-bench.lock"
LIMITS = (
    (RUN, ()),
    (CHECK, ("--extra", "test", "--constraints", RUN)),
    (BENCH, ("--extra", "test", "--extra", "bench", "--constraints", CHECK)),
)
# No index is written down: whoever installs uses their own. The hashes are what is trusted.
COMPILE = (
    *("pip", "compile", "pyproject.toml", "--quiet", "--universal", "--generate-hashes", "--python-version", "3.11"),
    *("--no-emit-index-url", "--custom-compile-command", "python3 deploy/lock.py"),
)


def main(arguments: list[str]) -> int:
    """Make all locks and return the exit status."""
    uv = shutil.which("uv")
    if uv is None:
        print("Making the locks needs the program uv: python3 -m pip install uv")
        return 1
    for target, limits in LIMITS:
        done = subprocess.run([uv, *COMPILE, *limits, "--output-file", target, *arguments], cwd=ROOT, check=False)
        if done.returncode != 0:
            return done.returncode
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
