"""What somebody who has never been here needs for a task, counted: lines typed, taps, screens scrolled."""

from __future__ import annotations

import math

import pytest
from playwright.sync_api import Browser, ViewportSize, expect

pytestmark = pytest.mark.browser

PHONE: ViewportSize = {"width": 390, "height": 844}


def test_the_mouth_of_a_dish_is_read_after_one_line_and_one_tap(browser: Browser, site: str) -> None:
    page = browser.new_page(base_url=site, viewport=PHONE)
    page.goto("/")
    page.get_by_label("Ask in one line").fill("R90 4.5 deep")
    page.get_by_role("button", name="Ask").click()
    mouth = 2.0 * math.sqrt(4.5 * (2.0 * 90.0 - 4.5))  # the chord at a depth, from the right-angled triangle
    expect(page.locator(".found").first).to_contain_text(f"{mouth:.3f}")
    expect(page.locator(".found").first).to_be_in_viewport()
    page.close()
