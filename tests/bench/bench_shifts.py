"""What shifts, by the browser's strictest count, while every field is typed in: right, wrong, blank, too large.

`python -m tests.bench.bench_shifts [phone] [upright] [lying] [en] [de] [es] [/dish ...]` walks the pages that are
named, or all, at the sizes that are named, or all three, in the languages that are named, or in English.
"""

from __future__ import annotations

import sys
import tempfile
from itertools import product
from pathlib import Path
from urllib.parse import urlencode

from playwright.sync_api import Browser, Page, Route

from server.catalogue import PAGES
from tests.ui.browser import SIZES, chromium
from tests.ui.hand import SHIFTS
from tests.ui.live import live

TEXTS = ["*", "1/2", "", "abc", "99999999"]
FELT = 0.005
"""A number that grows by a digit pushes its unit by less."""
HELD = {"phone": "phone", "upright": "tablet upright", "lying": "tablet on its side"}
LANGUAGES = ("en", "de", "es")
TYPE_EVERYWHERE = (Path(__file__).parent / "type_everywhere.js").read_text(encoding="utf-8")


def main() -> None:
    """Print each page with more than `FELT` and the worst that was typed, then a line for each size and language."""
    asked = sys.argv[1:]
    paths = [each for each in asked if each.startswith("/")] or [each for each in PAGES if PAGES[each].example]
    sizes = [each for each in HELD if each in asked] or list(HELD)
    languages = [each for each in LANGUAGES if each in asked] or ["en"]
    with tempfile.TemporaryDirectory() as folder, live(Path(folder)) as site, chromium() as browser:
        for language, size in product(languages, sizes):
            _walk(browser, site, size, language, paths)


def _walk(browser: Browser, site: str, held: str, language: str, paths: list[str]) -> None:
    """Print what is felt at one size in one language."""
    width, height = SIZES[HELD[held]]
    page = browser.new_page(base_url=site, viewport={"width": width, "height": height}, locale=language)
    page.add_init_script(SHIFTS)
    page.route("**/*", _at_once)
    amounts = []
    for path in paths:
        field, text, amount, sources = _worst(page, path)
        amounts.append(amount)
        if amount > FELT:
            print(f"{held} {language} {path} {amount:.4f} {field}={text!r}", sources[:4], flush=True)
    page.close()
    over = sum(amount > FELT for amount in amounts)
    print(f"{held} {language}: {over} of {len(paths)} pages over {FELT}, the largest {max(amounts):.4f}", flush=True)


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
