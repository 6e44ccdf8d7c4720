"""Every page with its example in a real browser: accessible, its sketches legible, no wider than its window."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any
from urllib.parse import urlencode

import pytest
from playwright.sync_api import Browser, Page

from tests.house.asking import PAGED, Asked
from tests.ui.browser import SIZES, cut_sketches, faint, overflow, small_signs, small_words, violations
from tests.ui.hand import faults

pytestmark = pytest.mark.browser

UNFOLD = "() => document.querySelectorAll('details').forEach(each => { each.open = true; })"
ADDRESSES = {"/": "/", **{feature.page: f"{feature.page}?{urlencode(feature.example)}" for feature in PAGED}}
# Steps, rows and drawn words are made alike by the hundred: the first few stand for the others.
ALIKE = [".working li:nth-child(n+3)", "tbody tr:nth-child(n+4)", "select option:nth-child(n+3)"]


@pytest.fixture(scope="module")
def complaints() -> list[str]:
    """What the browser complained of since a test last looked."""
    return []


@pytest.fixture(scope="module")
def page(browser: Browser, site: str, complaints: list[str]) -> Iterator[Page]:
    """One tab for all pages."""
    context = browser.new_context(base_url=site)
    opened = context.new_page()
    opened.on("pageerror", lambda error: complaints.append(str(error)))
    opened.on("console", lambda told: complaints.append(told.text) if told.type in ("error", "warning") else None)
    yield opened
    context.close()


@pytest.mark.parametrize("name", ADDRESSES)
def test_a_page_is_accessible_fits_its_window_and_makes_no_complaint(
    page: Page, complaints: list[str], name: str
) -> None:
    complaints.clear()
    page.emulate_media(color_scheme="light")
    sized(page, "phone")
    page.goto(ADDRESSES[name])
    assert faults(page) == []  # targets among them: larger than axe asks for
    page.evaluate(UNFOLD)
    assert (badly_drawn(page), violations(page, ALIKE, ["target-size"]), overflow(page)) == ([], [], 0)
    assert small_signs(page) == []
    page.emulate_media(color_scheme="dark")
    sized(page, "tablet upright")
    assert (badly_drawn(page), faint(page), overflow(page)) == ([], [], 0)
    sized(page, "tablet on its side")
    assert badly_drawn(page) == []
    page.set_viewport_size({"width": 320, "height": 640})
    assert overflow(page) == 0
    assert complaints == []


def test_a_bare_page_of_each_feature_loads_without_complaint_and_its_sketches_can_be_read(
    page: Page, complaints: list[str]
) -> None:
    complaints.clear()
    found = {feature.page: bare(page, feature) for feature in PAGED}
    assert {address: told for address, told in found.items() if told} == {}
    assert complaints == []


def bare(page: Page, feature: Asked) -> dict[str, Any]:
    """Open the page without a question; what is badly drawn there."""
    page.goto(feature.page)
    if page.title() != f"{feature.title} – Chuckside":  # one that needs nothing typed has its answer there already
        assert page.title().startswith(f"{feature.title}, ")
        assert page.locator(".headline .value").count() == 1
    found = {}
    for size in SIZES:
        sized(page, size)
        if told := badly_drawn(page):
            found[size] = told
    return found


def sized(page: Page, name: str) -> None:
    """Give the page a window of one of the sizes."""
    width, height = SIZES[name]
    page.set_viewport_size({"width": width, "height": height})


def badly_drawn(page: Page) -> list[Any]:
    """Words of sketches too small to be read, and sketches cut off."""
    return [*small_words(page), *cut_sketches(page)]
