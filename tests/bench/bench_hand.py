"""Every page under a hand: what is too small, cut off or covered; what moves and shifts; what axe finds.

`python -m tests.bench.bench_hand [faults] [typed] [shifts] [axe]` does those that are named, or all.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable, Iterator
from itertools import product
from pathlib import Path
from urllib.parse import urlencode

from playwright.sync_api import Browser, Page

from server.catalogue import PAGES
from tests.ui.browser import SIZES, chromium, faint, overflow, violations
from tests.ui.hand import KEYBOARD_UP, SHIFTS, faults, shifts, typed_last
from tests.ui.live import live

ANSWERED = {path: feature for path, feature in PAGES.items() if feature.example}
UPRIGHT = ("phone", "tablet upright")


def main() -> None:
    """Print a row for whatever a hand or an eye would complain of, then a line for each measure."""
    wanted = sys.argv[1:] or list(MEASURES)
    with tempfile.TemporaryDirectory() as folder, live(Path(folder)) as site, chromium() as browser:
        for name in wanted:
            MEASURES[name](browser, site)


def _pages(browser: Browser, site: str, sizes: dict[str, tuple[int, int]]) -> Iterator[tuple[str, Page]]:
    """A page of each size, one after the other."""
    for name, (width, height) in sizes.items():
        context = browser.new_context(base_url=site, viewport={"width": width, "height": height})
        yield name, context.new_page()
        context.close()


def too_small(browser: Browser, site: str) -> None:
    """Targets, texts, what is cut off or covered, in every size."""
    for name, page in _pages(browser, site, SIZES):
        found = 0
        for path, feature in PAGES.items():
            page.goto(f"{path}?{urlencode(feature.example)}")
            for fault in faults(page):
                found += 1
                print(name, path, fault)
        print(f"{name}: {len(PAGES)} pages looked at, {found} faults", flush=True)


def moving(browser: Browser, site: str) -> None:
    """How far the last field of each page moves while it is typed in, with the keyboard up."""
    for name, page in _pages(browser, site, KEYBOARD_UP):
        felt = {path: typed_last(page, path, feature) for path, feature in ANSWERED.items()}
        asked = {path: one for path, one in felt.items() if one is not None}
        for path, one in asked.items():
            if abs(one.moved) > 1.0 or not (one.field_seen and one.headline_seen):
                print(name, path, one)
        largest = max(abs(one.moved) for one in asked.values())
        print(f"{name}: {len(asked)} pages typed in, largest movement {largest:.1f} px", flush=True)


def shifting(browser: Browser, site: str) -> None:
    """The browser's own count of what shifts while pages load and their answers change."""
    for name, page in _pages(browser, site, SIZES):
        page.add_init_script(SHIFTS)
        largest = 0.0
        for path, feature in ANSWERED.items():
            for when, (amount, sources) in shifts(page, path, feature).items():
                largest = max(largest, amount)
                if amount > 0.0:
                    print(name, path, when, f"{amount:.4f}", sources[:4])
        print(f"{name}: {len(ANSWERED)} pages, largest shift {largest:.4f}", flush=True)


def seen_by_axe(browser: Browser, site: str) -> None:
    """What axe finds: everything in light, contrast in dark, in both systems of units and two sizes."""
    for name, page in _pages(browser, site, {name: SIZES[name] for name in UPRIGHT}):
        found = 0
        for (path, feature), units in product(PAGES.items(), ("mm", "inch")):
            page.emulate_media(color_scheme="light")
            page.goto(f"{path}?{urlencode({**feature.example, 'units': units})}")
            these = violations(page)
            page.emulate_media(color_scheme="dark")
            these += [f"dark: {each}" for each in faint(page)]
            if overflow(page) > 0:
                these.append("sideways")
            found += len(these)
            for each in these:
                print(name, path, units, each)
        print(f"{name}: {2 * len(PAGES)} pages in light and dark, {found} found", flush=True)


MEASURES: dict[str, Callable[[Browser, str], None]] = {
    "faults": too_small,
    "typed": moving,
    "shifts": shifting,
    "axe": seen_by_axe,
}

if __name__ == "__main__":
    main()
