"""A headless browser for tests: found or named by CHUCKSIDE_BROWSER, never downloaded, and never skipped over."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, sync_playwright

from deploy import browser

ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
)
AXE = Path(__file__).parent / "vendor" / "axe-4.14.1.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
SIZES = {"phone": (390, 844), "tablet upright": (820, 1180), "tablet on its side": (1180, 820)}


@contextmanager
def chromium() -> Iterator[Browser]:
    """A running browser; fails with advice where there is none."""
    program = os.environ.get(browser.VARIABLE) or browser.find()
    assert program, f"These tests need a browser. {browser.advice()}"
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=str(program), args=list(ARGUMENTS))
        try:
            yield running
        finally:
            running.close()


def violations(page: Page) -> list[str]:
    """What axe finds wrong with the page: the rule and the first element that breaks it."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found: dict[str, Any] = page.evaluate("rules => axe.run({runOnly: rules})", RULES)
    return [f"{each['id']}: {each['nodes'][0]['html'][:200]}" for each in found["violations"]]


def overflow(page: Page) -> int:
    """By how many pixels the page is wider than its window."""
    width: int = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    return width
