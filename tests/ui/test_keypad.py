"""Number keys of our own: they type what a field takes, lead on, and give way to the device's keyboard."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.ui.browser import violations
from tests.ui.hand import SEEN

pytestmark = pytest.mark.browser


def touching(browser: Browser, site: str, size: tuple[int, int]) -> Page:
    context = browser.new_context(
        base_url=site, viewport={"width": size[0], "height": size[1]}, has_touch=True, is_mobile=True
    )
    return context.new_page()


@pytest.fixture
def page(browser: Browser, site: str) -> Iterator[Page]:
    opened = touching(browser, site, (390, 844))
    yield opened
    opened.context.close()


def pad(page: Page) -> Locator:
    return page.locator(".pad")


def press(page: Page, *names: str) -> None:
    for name in names:
        pad(page).get_by_role("button", name=name, exact=True).tap()


def test_a_size_with_limits_is_typed_and_next_leads_to_the_next_field(page: Page) -> None:
    page.goto("/spindle?diameter=60")
    page.locator("#surface_speed").tap()
    press(page, "2", "2", "0", "5", "delete", "Next field")
    expect(page.locator(".headline .value")).to_contain_text("1167")  # 1000 x 220 / (pi 60)
    expect(page.locator("#diameter")).to_be_focused()
    expect(pad(page)).to_have_attribute("aria-label", re.compile("Number keys for .*iameter"))
    press(page, "5", "0", "space", "plus or minus", "0", "decimal mark", "1")
    expect(page.locator("#diameter")).to_have_value("50 ±0.1")
    expect(page.locator(".headline .value")).to_contain_text("1401")  # 1000 x 220 / (pi 50)
    expect(page.locator("#diameter")).to_be_focused()
    assert page.locator("#diameter").evaluate("it => it.inputMode") == "none"
    assert violations(page) == []


@pytest.mark.parametrize("size", [(390, 844), (820, 1180), (1180, 820)])
def test_keys_are_large_and_leave_the_field_and_the_number_in_sight(
    browser: Browser, site: str, size: tuple[int, int]
) -> None:
    page = touching(browser, site, size)
    page.goto("/dish?radius=75&depth=4.5&stock_diameter=60")
    page.locator("#depth").tap()
    expect(pad(page)).to_be_visible()
    expect(pad(page).locator("button").first).to_have_css("touch-action", "manipulation")
    top = pad(page).evaluate("it => it.getBoundingClientRect().top")
    keys = pad(page).locator("button").evaluate_all("all => all.map(it => it.getBoundingClientRect().height)")
    assert min(keys) >= (56 if size[0] < 600 else 88)
    seen = page.evaluate(SEEN)
    assert seen["field"]
    assert seen["headline"]
    assert page.locator("#depth").evaluate("it => it.getBoundingClientRect().bottom") <= top
    assert page.locator(".headline .value").evaluate("it => it.getBoundingClientRect().bottom") <= top
    page.context.close()


def test_the_devices_own_keyboard_comes_back_at_a_key_and_stays(page: Page) -> None:
    page.goto("/dish")
    page.locator("#radius").tap()
    pad(page).get_by_role("button", name="abc: the device's own keyboard").tap()
    expect(pad(page)).to_have_count(0)
    page.reload()
    page.locator("#depth").tap()
    expect(page.locator("#depth")).to_be_focused()
    assert page.locator("#depth").evaluate("it => it.inputMode") != "none"
    expect(pad(page)).to_have_count(0)
    switch = page.get_by_role("button", name="Number keys")
    expect(switch).to_have_attribute("aria-pressed", "false")
    switch.tap()
    page.locator("#depth").tap()
    expect(pad(page)).to_be_visible()
    page.keyboard.press("Escape")
    expect(pad(page)).to_have_count(0)


def test_a_mouse_never_sees_them_and_no_field_hides_a_character(browser: Browser, site: str) -> None:
    page = browser.new_page(base_url=site)
    page.goto("/dish")
    page.locator("#radius").click()
    page.locator("#radius").press_sequentially("75")
    expect(pad(page)).to_have_count(0)
    expect(page.get_by_role("button", name="Number keys")).to_be_hidden()
    assert page.locator("#ask input[inputmode]").count() == 0
    page.close()
