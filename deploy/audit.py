#!/usr/bin/env python3
"""Asks for known weaknesses of the locked packages: `python3 deploy/audit.py [LOCK]`. Needs pip and its package index.

The index that pip is set up with describes each package as JSON, with the advisories against its newest release. A
package that is locked at that release is audited by it. One that lies behind is named, since the description says
nothing of older releases; `deploy/lock.py --upgrade` brings it up. Exits with 1 when there is anything to do.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
import urllib.request
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

ROOT = Path(__file__).resolve().parent.parent
LOCK = ROOT / "deploy" / "requirements.lock"
SECONDS = 20
USUAL_INDEX = "from pip._internal.models.index import PyPI; print(PyPI.simple_url)"

Describe = Callable[[str], dict[str, Any]]


@dataclass(frozen=True)
class Audited:
    """What the index says of one locked package: its newest release, and the advisories against that one."""

    name: str
    locked: str
    newest: str
    advisories: tuple[str, ...]

    @property
    def words(self) -> str:
        """The line to print, "" when there is nothing to do."""
        if self.newest != self.locked:
            return f"{self.name} {self.locked}: {self.newest} is newer; not audited"
        return f"{self.name} {self.locked}: {', '.join(self.advisories)}" if self.advisories else ""


def main(arguments: list[str]) -> int:
    """Audit the lock, print what is to be done and how many packages were looked at, and return the exit status."""
    lock = Path(arguments[0]) if arguments else LOCK
    try:
        describe = described_by(index_address())
        found = [audited(name, version, describe) for name, version in locked(lock.read_text(encoding="utf-8"))]
    except (OSError, ValueError, KeyError, subprocess.SubprocessError) as error:
        print(f"Nothing was audited: {error}")
        return 1
    lines = [one.words for one in found if one.words]
    print(*lines, f"{len(found)} packages of {lock.name}, {len(lines)} with something to do.", sep="\n")
    return 1 if lines or not found else 0


def locked(text: str) -> Iterator[tuple[str, str]]:
    """The packages of a lock with their versions.

    >>> list(locked("jinja2==3.1.6 \\\\\\n    --hash=sha256:ab\\ncolorama==0.4.6 ; sys_platform == 'win32' \\\\\\n"))
    [('jinja2', '3.1.6'), ('colorama', '0.4.6')]
    """
    yield from re.findall(r"^([A-Za-z0-9._-]+)==([^\s;\\]+)", text, flags=re.MULTILINE)


def audited(name: str, version: str, describe: Describe) -> Audited:
    """What the index says of a package. Raises KeyError for a description that lacks it: then nothing is known."""
    described = describe(name)
    advisories = (
        f"{one['id']} ({one.get('summary') or one.get('link') or 'no summary'})"
        for one in described["vulnerabilities"]
        if not one.get("withdrawn")
    )
    return Audited(name, version, described["info"]["version"], tuple(advisories))


def index_address() -> str:
    """The index that pip is set up with here, or the one that it uses when nothing is set."""
    for asked in (("-m", "pip", "config", "get", "global.index-url"), ("-c", USUAL_INDEX)):
        done = subprocess.run([sys.executable, *asked], capture_output=True, text=True, check=False)
        if done.returncode == 0 and done.stdout.strip():
            return done.stdout.strip()
    raise ValueError("pip is not here, or says no index")


def described_by(index: str) -> Describe:
    """How that index describes a package: the JSON beside its simple pages."""
    parts = urlsplit(index)
    if parts.scheme != "https":
        raise ValueError(f"the index {parts.hostname} is not reached by HTTPS")

    def describe(name: str) -> dict[str, Any]:
        address = parts._replace(path=parts.path.rstrip("/").removesuffix("/simple") + f"/pypi/{name}/json").geturl()
        with urllib.request.urlopen(address, timeout=SECONDS) as answer:
            described: dict[str, Any] = json.load(answer)
        return described

    return describe


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
