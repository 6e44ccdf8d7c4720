"""The start page on a tablet: the line, the parts last worked on and the questions, without a scroll."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, expect

from tests.ui.browser import SIZES

pytestmark = pytest.mark.browser

WORKED_ON = (
    "/dish?radius=90&depth=4.5",
    "/dish?radius=75&depth=4.5&break_kind=radius&break_size=0.8",
    "/spindle?surface_speed=220&diameter=60",
)
HEIGHT = "document.documentElement.scrollHeight"


@pytest.mark.parametrize("size", ["tablet upright", "tablet on its side"])
@pytest.mark.parametrize("language", ["en", "de", "es"])
def test_all_of_the_start_page_is_in_sight_on_a_tablet(browser: Browser, site: str, language: str, size: str) -> None:
    """At first with what this is and four pages of each question; later with three parts, and two pages of each."""
    width, height = SIZES[size]
    context = browser.new_context(base_url=site, locale=language, viewport={"width": width, "height": height})
    page = context.new_page()
    page.goto("/")
    assert page.evaluate(HEIGHT) <= height
    for address in WORKED_ON:
        page.goto(address)
    page.goto("/")
    expect(page.locator("#recent li")).to_have_count(len(WORKED_ON))
    assert page.evaluate(HEIGHT) <= height
    assert page.locator("footer button").last.is_visible()
    context.close()
