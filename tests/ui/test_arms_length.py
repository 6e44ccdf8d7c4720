"""The numbers to set at arm's length: large, with their caution, in three lights, left by Escape and by Back."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.ui.browser import violations

pytestmark = pytest.mark.browser

WARNED = "/spindle?surface_speed=220&diameter=20&max_rpm=4000&chuck_limit=3200&length_out=200"
OVER = """() => [...document.querySelectorAll('.arm-values .number')].filter(it => it.checkVisibility())
  .some(it => it.getBoundingClientRect().right > innerWidth || it.getBoundingClientRect().bottom > innerHeight)"""


@pytest.fixture
def page(browser: Browser, site: str) -> Iterator[Page]:
    context = browser.new_context(base_url=site, viewport={"width": 820, "height": 1180})
    opened = context.new_page()
    opened.add_init_script(
        "window.held = 0; Object.defineProperty(navigator, 'wakeLock', { value: {"
        " request: async () => { held += 1; return { release: () => { held -= 1; } }; } } });"
    )
    yield opened
    context.close()


def opened(page: Page, address: str) -> Locator:
    page.goto(address)
    page.get_by_role("button", name="Arm's length").click()
    box = page.get_by_role("dialog", name="The numbers to set, at arm's length")
    expect(box).to_be_visible()
    return box


def test_the_numbers_fill_the_screen_with_their_caution_and_keep_it_on(page: Page) -> None:
    box = opened(page, WARNED)
    expect(box.locator(".main .number")).to_contain_text("3501")
    expect(box.locator(".caution")).to_contain_text("Caution")
    for width, height, least in ((820, 1180, 96), (1180, 820, 96), (390, 844, 56)):
        page.set_viewport_size({"width": width, "height": height})
        page.wait_for_function(f"() => !({OVER})()")
        size = box.locator(".main .number").evaluate("it => parseFloat(getComputedStyle(it).fontSize)")
        assert size >= least
    page.wait_for_function("() => held === 1")
    for light in ("Day", "Night", "Sunlight"):
        box.get_by_role("button", name=light).click()
        expect(box.get_by_role("button", name=light)).to_have_attribute("aria-pressed", "true")
        assert violations(page) == []


def test_escape_and_back_leave_it_and_the_question_as_it_was(page: Page) -> None:
    page.goto("/dish?radius=75&depth=5")
    for leave in (lambda: page.keyboard.press("Escape"), page.go_back):
        box = opened(page, "/dish?radius=75&depth=4.5")
        leave()
        expect(box).to_have_count(0)
        expect(page.locator("#depth")).to_have_value("4.5")
        expect(page.locator("#ask")).not_to_have_class("stale")
        page.wait_for_function("() => held === 0")


def test_a_designation_among_the_numbers_covers_none_of_them(page: Page) -> None:
    """An undercut's designation is the longest value that any page shows there."""
    box = opened(page, "/shoulder?diameter=24&shoulder_diameter=31&form=F")
    for width, height in ((390, 844), (820, 1180), (1180, 820)):
        page.set_viewport_size({"width": width, "height": height})
        page.wait_for_function(f"() => !({OVER})()")
        expect(box.locator(".number", has_text="DIN 509")).to_be_visible()
        wider = "all => all.filter(it => it.scrollWidth > it.clientWidth).map(it => it.textContent)"
        assert box.locator(".arm-values > *").evaluate_all(wider) == []
