"""A material is found by taps alone; near twins keep what was typed, under the name that each has for it."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Locator, ViewportSize, expect

pytestmark = pytest.mark.browser

PHONE: ViewportSize = {"width": 390, "height": 844}
LEAST = 48.0


def height(target: Locator) -> float:
    """How high a target is, px."""
    return float(target.evaluate("it => it.getBoundingClientRect().height"))


def test_a_material_is_found_by_its_group_with_two_taps(browser: Browser, site: str) -> None:
    page = browser.new_page(base_url=site, viewport=PHONE, has_touch=True)
    page.goto("/material")
    group = page.locator(".picks").get_by_role("link", name="M", exact=True)
    expect(group).to_be_visible()
    assert height(group) >= LEAST
    group.tap()
    offers = page.locator(".offers a")
    expect(offers.filter(has_text="X5CrNi18-10").first).to_be_visible()
    heights = [height(offer) for offer in offers.all()]
    assert len(heights) > 10
    assert min(heights) >= LEAST
    page.locator("#section-given summary").tap()
    row = page.locator("tbody").get_by_role("link", name="X5CrNi18-10", exact=True)
    assert height(row) >= LEAST
    row.tap()
    expect(page.locator("#material")).to_have_value("X5CrNi18-10")
    expect(page.locator(".headline .value")).to_contain_text("m/min")
    page.close()


def test_a_groove_is_taken_to_its_cutting_and_back(browser: Browser, site: str) -> None:
    page = browser.new_page(base_url=site, viewport=PHONE, has_touch=True)
    page.goto("/groove?where=outside&diameter=40&bottom_diameter=32&width=8")
    page.locator("#family").get_by_role("link", name="Cutting it").tap()
    expect(page.locator("#start_diameter")).to_have_value("40")
    expect(page.locator("#bottom_diameter")).to_have_value("32")
    expect(page.locator("#groove_width")).to_have_value("8")
    page.locator("#family").get_by_role("link", name="Size").tap()
    expect(page.locator("#width")).to_have_value("8")
    expect(page.locator("#diameter")).to_have_value("40")
    page.close()
