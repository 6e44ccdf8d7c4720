#!/usr/bin/env python3
"""Makes the two lock files anew from pyproject.toml: `python3 deploy/lock.py [--upgrade]`. Needs the program `uv`.

Without `--upgrade` the versions already locked stay where pyproject.toml still allows them. One lock serves every
system and every Python from 3.11 on; the checks' lock is held to the versions that are served.
"""

import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
RUN, CHECK = "deploy/requirements.lock", "deploy/requirements-check.lock"
# No index is written down: whoever installs uses their own. The hashes are what is trusted.
COMPILE = (
    *("pip", "compile", "pyproject.toml", "--quiet", "--universal", "--generate-hashes", "--python-version", "3.11"),
    *("--no-emit-index-url", "--custom-compile-command", "python3 deploy/lock.py"),
)


def main(arguments: list[str]) -> int:
    """Make both locks and return the exit status."""
    uv = shutil.which("uv")
    if uv is None:
        print("Making the locks needs the program uv: python3 -m pip install uv")
        return 1
    for target, limits in ((RUN, []), (CHECK, ["--extra", "test", "--constraints", RUN])):
        done = subprocess.run([uv, *COMPILE, *limits, "--output-file", target, *arguments], cwd=ROOT, check=False)
        if done.returncode != 0:
            return done.returncode
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
