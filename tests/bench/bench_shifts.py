"""What shifts, by the browser's strictest count, while every field is typed in: right, wrong, blank, too large.

`python -m tests.bench.bench_shifts [/dish ...]` walks the pages that are named, or all, on a phone and on an upright
tablet.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from urllib.parse import urlencode

from playwright.sync_api import Page, Route

from server.catalogue import PAGES
from tests.ui.browser import SIZES, chromium
from tests.ui.hand import SHIFTS
from tests.ui.live import live

TEXTS = ["*", "1/2", "", "abc", "99999999"]
FELT = 0.005
"""A number that grows by a digit pushes its unit by less."""
UPRIGHT = ("phone", "tablet upright")
TYPE_EVERYWHERE = (Path(__file__).parent / "type_everywhere.js").read_text(encoding="utf-8")


def main() -> None:
    """Print each page with more than `FELT` and the worst that was typed, then a line for each size."""
    paths = sys.argv[1:] or [path for path, feature in PAGES.items() if feature.example]
    with tempfile.TemporaryDirectory() as folder, live(Path(folder)) as site, chromium() as browser:
        for size in UPRIGHT:
            width, height = SIZES[size]
            page = browser.new_page(base_url=site, viewport={"width": width, "height": height})
            page.add_init_script(SHIFTS)
            page.route("**/*", _at_once)
            worst = {path: _worst(page, path) for path in paths}
            page.close()
            over = {path: one for path, one in worst.items() if one[2] > FELT}
            for path, (field, text, amount, sources) in over.items():
                print(f"{size} {path} {amount:.4f} {field}={text!r}", sources[:4])
            largest = max(one[2] for one in worst.values())
            print(f"{size}: {len(over)} of {len(paths)} pages over {FELT}, the largest {largest:.4f}", flush=True)


def _at_once(route: Route) -> None:
    """Let a page ask without the pause that spares a server whoever goes on typing."""
    if route.request.resource_type != "document":
        return route.continue_()
    answer = route.fetch()
    return route.fulfill(response=answer, body=answer.text().replace("delay:400ms", "delay:1ms"))


def _worst(page: Page, path: str) -> tuple[str, str, float, list[str]]:
    """What shifted most on a page's example: the field, what was typed, how much, what it was."""
    page.goto(f"{path}?{urlencode(PAGES[path].example)}")
    page.wait_for_load_state("networkidle")
    found = [(name, text, amount, sources) for name, text, amount, sources in page.evaluate(TYPE_EVERYWHERE, TEXTS)]
    return max(found, key=lambda one: one[2], default=("", "", 0.0, []))


if __name__ == "__main__":
    main()
