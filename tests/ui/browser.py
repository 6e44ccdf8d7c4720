"""A headless browser for tests: found or named by CHUCKSIDE_BROWSER, never downloaded, and never skipped over."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, sync_playwright

from deploy import browser

LEFT_OUT = ("WebUIOmniboxPopup", "WebUIOmniboxAimPopup")
"""Pages of the browser's own, one made for every window: they would cost more than ours."""
USUALLY_LEFT_OUT = (
    "AvoidUnnecessaryBeforeUnloadCheckSync",
    "DestroyProfileOnBrowserClose",
    "HttpsUpgrades",
    "MediaRouter",
    "OptimizationHints",
    "PaintHolding",
    "ThirdPartyStoragePartitioning",
)
"""What is left out for tests anyhow, said again because only the last list counts."""
ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--disable-site-isolation-trials",
    "--js-flags=--single-threaded",  # what threads do ahead is seldom used by pages that are opened once
    "--renderer-process-limit=1",  # a process for every page opened costs more than most pages
    f"--disable-features={','.join((*LEFT_OUT, *USUALLY_LEFT_OUT))}",
)
AXE = Path(__file__).parent / "vendor" / "axe-4.14.1.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
CONTRAST = {"type": "rule", "values": ["color-contrast"]}
_NOT_FAINT: set[str] = set()
LEAST_WORK = {"resultTypes": ["violations"], "selectors": False, "preload": False}
TOLD = "f => f.violations.map(each => `${each.id}: ${each.nodes[0].html.slice(0, 200)}`)"
# The first element with words of each make: the classes and grounds of all that it stands in, and what it came out as.
MAKES = """() => {
    const met = new Map(), grounds = new Map(), words = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const ground = at => {
        if (at && !grounds.has(at)) {
            const {backgroundColor, backgroundImage, opacity} = getComputedStyle(at);
            const own = [at.tagName, at.getAttribute("class"), backgroundColor, backgroundImage, opacity];
            grounds.set(at, `${own} ${ground(at.parentElement)}`);
        }
        return grounds.get(at);
    };
    const meet = element => {
        const {color, fill, fontSize, fontWeight, textShadow} = getComputedStyle(element);
        const state = [element.matches(":disabled"), element.matches(":checked"), element.getAttribute("aria-invalid")];
        const make = `${[color, fill, fontSize, fontWeight, textShadow, ...state]} ${ground(element)}`;
        if (!met.has(make)) met.set(make, element);
    };
    while (words.nextNode()) if (words.currentNode.data.trim()) meet(words.currentNode.parentElement);
    document.querySelectorAll("input, select, button").forEach(meet);
    window.ofEachMake = [...met.values()];
    return [...met.keys()];
}"""
LEAST = 12.0
"""px: the smallest text that anything on a page may have."""
SMALL = """least => [...document.querySelectorAll('svg.sketch[role=img] text')]
  .filter(it => it.checkVisibility())
  .map(it => {
    const map = it.getScreenCTM(), scale = Math.hypot(map.a, map.b);
    const sizes = [it, ...it.children].map(each => scale * parseFloat(getComputedStyle(each).fontSize));
    return [Math.min(...sizes), it.textContent];
  })
  .filter(([size]) => size < least - 0.05)"""
SMALL_SIGNS = """least => [...document.querySelectorAll(':is(msub, msup, mfrac) :is(mi, mn, mo)')]
  .map(it => [parseFloat(getComputedStyle(it).fontSize), `${it.textContent} in ${it.closest('math').textContent}`])
  .filter(([size]) => size < least - 0.05)"""
CUT = """() => [...document.querySelectorAll('.sketches svg[role=img]')]
  .filter(it => it.checkVisibility())
  .filter(it => {
    const own = it.getBoundingClientRect(), slot = it.closest('.sketches > *').getBoundingClientRect();
    return Math.max(slot.top - own.top, own.bottom - slot.bottom, slot.left - own.left, own.right - slot.right) > 1;
  })
  .map(it => it.querySelector('title').textContent)"""
SIZES = {"phone": (390, 844), "tablet upright": (820, 1180), "tablet on its side": (1180, 820)}


@contextmanager
def chromium() -> Iterator[Browser]:
    """A running browser; fails with advice where there is none."""
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=program(), args=list(ARGUMENTS))
        try:
            yield running
        finally:
            running.close()


def program() -> str:
    """The browser's program; fails with advice where there is none."""
    found = os.environ.get(browser.VARIABLE) or browser.find()
    assert found, f"These tests need a browser. {browser.advice()}"
    return str(found)


def violations(page: Page, alike: Sequence[str] = (), known: Sequence[str] = ()) -> list[str]:
    """What axe finds wrong with the page: the rule and the first element that breaks it.

    Elements that are `alike`, and rules whose answer is `known`, are left out.
    """
    left_out = ("color-contrast", *known)
    rules = {"runOnly": RULES, "rules": {each: {"enabled": False} for each in left_out}}
    return _found(page, json.dumps({"exclude": [[each] for each in alike]}), rules) + faint(page)


def faint(page: Page) -> list[str]:
    """Words of too little contrast, in the colours that the page has now.

    Each make of words is looked at once, on whatever page: what it stands in and the colours decide. That is most of
    what axe has to do.
    """
    makes = page.evaluate(MAKES)
    fresh = [index for index, make in enumerate(makes) if make not in _NOT_FAINT]
    found = _found(page, f"{{include: {fresh}.map(each => ofEachMake[each])}}", {"runOnly": CONTRAST}) if fresh else []
    if not found:
        _NOT_FAINT.update(makes)
    return found


def _found(page: Page, context: str, options: dict[str, Any]) -> list[str]:
    """What a run of axe finds. What passes is not asked for: it would be most of the work, and all of the answer.

    Nor are selectors, since the element itself is told, and files that only rules on media and orientation would read.
    """
    if page.evaluate("typeof axe === 'undefined'"):
        page.evaluate(AXE.read_text(encoding="utf-8"))
    run = f"options => axe.run({context}, options).then({TOLD})"
    found: list[str] = page.evaluate(run, {**options, **LEAST_WORK})
    return found


def wrong_at_any_size(page: Page) -> list[str]:
    """What is wrong with the page at each size: what axe finds, words of too little contrast, what is too wide.

    All rules of axe but those of contrast and of targets look at the document, whatever the window: they run once.
    """
    found = []
    for name, (width, height) in SIZES.items():
        page.set_viewport_size({"width": width, "height": height})
        told = violations(page) if name == "phone" else faint(page)
        wider = overflow(page)
        found += [f"{name}: {each}" for each in told] + ([f"{name}: {wider} px too wide"] if wider > 0 else [])
    return found


def overflow(page: Page) -> int:
    """By how many pixels the page is wider than its window."""
    width: int = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    return width


def small_words(page: Page) -> list[list[Any]]:
    """Words of sketches that cannot be read wherever the sketch stands: their size and text."""
    found: list[list[Any]] = page.evaluate(SMALL, LEAST)
    return found


def small_signs(page: Page) -> list[list[Any]]:
    """Signs of formulas that are too small, opened or not: their size and where they stand."""
    found: list[list[Any]] = page.evaluate(SMALL_SIGNS, LEAST)
    return found


def cut_sketches(page: Page) -> list[str]:
    """Sketches of which a part is cut off, by their titles."""
    found: list[str] = page.evaluate(CUT)
    return found


@contextmanager
def faultless(
    browser: Browser, site: str, size: tuple[int, int] = (820, 1180), *, touch: bool = False
) -> Iterator[Page]:
    """A page whose scripts have no fault until it is closed, on an upright tablet where no other size is given."""
    width, height = size
    context = browser.new_context(base_url=site, viewport={"width": width, "height": height}, has_touch=touch)
    opened = context.new_page()
    faults: list[str] = []
    opened.on("pageerror", lambda error: faults.append(str(error)))
    yield opened
    context.close()
    assert faults == []
