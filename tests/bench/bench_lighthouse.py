"""Lighthouse over pages of each make, as a phone sees them: scores, and whatever it finds to mend (a script).

`npm install lighthouse` in a folder of its own, then `python -m tests.bench.bench_lighthouse FOLDER [address ...]` on a
quiet machine: the scores of performance fall with whatever else runs.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from server.catalogue import PAGES
from server.links import address
from tests.ui.browser import program
from tests.ui.live import live

SCORED = ("performance", "accessibility", "best-practices")
FLAGS = "--headless=new --no-sandbox --disable-gpu"
MADE = ("/dish", "/taper", "/spindle", "/force", "/thread", "/contour", "/part")
SAMPLE = ("/", *(address(path, PAGES[path].example) for path in MADE))
MINUTES = 3


def main(folder: Path, asked: tuple[str, ...]) -> None:
    """Print the scores of each page and what is not perfect in it."""
    with tempfile.TemporaryDirectory() as data, live(Path(data)) as site:
        for each in asked:
            told = _looked_at(folder, site + each)
            scores = ", ".join(f"{name} {round(100 * told['categories'][name]['score'])}" for name in SCORED)
            print(each.partition("?")[0], scores, _shift(told), *_found(told), sep="; ", flush=True)


def _looked_at(folder: Path, url: str) -> dict[str, Any]:
    call = ["node", str(folder / "node_modules/lighthouse/cli/index.js"), url, "--quiet", "--output=json"]
    call += [f"--chrome-flags={FLAGS}", f"--only-categories={','.join(SCORED)}"]
    surroundings = {**os.environ, "CHROME_PATH": program()}
    done = subprocess.run(call, check=True, capture_output=True, timeout=60 * MINUTES, env=surroundings)
    told: dict[str, Any] = json.loads(done.stdout)
    return told


def _shift(told: dict[str, Any]) -> str:
    return f"layout shift {told['audits']['cumulative-layout-shift']['displayValue']}"


def _found(told: dict[str, Any]) -> list[str]:
    """What is wrong, or not as quick as it can be."""
    kinds = {"binary", "numeric"}
    found = (each for each in told["audits"].values() if each["scoreDisplayMode"] in kinds and each["score"] < 0.9)
    named = [f"{each['id']} {each.get('displayValue', '')}".strip() for each in found]
    return [each for each in named if not each.endswith("insight")]


if __name__ == "__main__":
    main(Path(sys.argv[1]), tuple(sys.argv[2:]) or SAMPLE)
