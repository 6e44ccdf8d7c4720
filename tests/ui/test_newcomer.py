"""What somebody who has never been here needs for a task, counted: lines typed, taps, screens scrolled."""

from __future__ import annotations

import math

import pytest
from playwright.sync_api import Browser, ViewportSize, expect

from server.catalogue import PAGES
from server.links import address

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


def test_the_points_to_key_in_are_reached_within_one_screen_of_scrolling(browser: Browser, site: str) -> None:
    page = browser.new_page(base_url=site, viewport=PHONE)
    page.goto("/ask?q=R90+4.5+deep")
    page.locator(".readings a").first.click()
    expect(page.locator(".headline .value")).to_contain_text("56.205")
    points = page.locator("#section-points")
    expect(points).to_be_attached()
    top = points.evaluate("it => it.getBoundingClientRect().top + scrollY")
    page.close()
    assert top <= 2 * PHONE["height"]


def test_a_spindle_limit_and_its_reason_are_read_after_two_values_and_no_scrolling(browser: Browser, site: str) -> None:
    page = browser.new_page(base_url=site, viewport=PHONE)
    page.goto("/spindle")
    keys = {"#surface_speed": "220", "#diameter": "20", "#max_rpm": "4000", "#chuck_limit": "3200"}
    for field, text in keys.items():
        page.locator(field).fill(text)
    caution = page.locator("#answer .caution").first
    expect(caution).to_contain_text("3200 1/min marked on the chuck")
    expect(caution).to_be_in_viewport()
    expect(page.locator(".headline .value")).to_be_in_viewport()
    page.close()


def test_a_step_of_the_working_leads_to_the_field_it_came_from(browser: Browser, site: str) -> None:
    page = browser.new_page(base_url=site, viewport=PHONE)
    page.goto("/spindle?surface_speed=220&diameter=60")
    page.locator("#section-working summary").click()
    page.locator("#section-working .from").first.get_by_role("link", name="Diameter").click()
    expect(page.locator("#diameter")).to_be_focused()
    page.close()


def test_a_long_working_is_found_by_its_heads(browser: Browser, site: str) -> None:
    page = browser.new_page(base_url=site, viewport=PHONE)
    page.goto(address("/boring-cut", PAGES["/boring-cut"].example))
    working = page.locator("#section-working")
    working.locator("summary").click()
    working.get_by_role("link", name="Deflection").click()
    head = working.get_by_role("heading", name="Deflection")
    expect(head).to_be_in_viewport()
    expect(working.locator("h3:text-is('Deflection') + ol")).to_contain_text("second moment of area")
    page.close()


SMALLEST = (
    "() => Math.min(...[...document.querySelectorAll('mn, mi')].map(it => parseFloat(getComputedStyle(it).fontSize)))"
)


def test_the_words_of_a_formula_and_what_leads_to_its_fields_are_large_enough(browser: Browser, site: str) -> None:
    """Fractions stand at full size: within a line they shrank to 11 px, and what is raised there to 8."""
    page = browser.new_page(base_url=site, viewport=PHONE)
    page.goto(address("/dovetail", PAGES["/dovetail"].example))
    page.locator("#section-working summary").click()
    links = page.locator("#section-working .from a")
    expect(links.first).to_be_visible()
    assert page.evaluate(SMALLEST) >= 12.0
    assert min(min(box["width"], box["height"]) for link in links.all() if (box := link.bounding_box())) >= 48.0
    page.close()
