"""What is long is fetched when it is opened, once, and follows the question; without a script a link leads to it."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Request, expect

from server.catalogue import PAGES
from server.links import address

DISH = PAGES["/dish"].example

pytestmark = pytest.mark.browser


def test_a_long_working_comes_when_it_is_opened_and_again_with_the_next_answer(browser: Browser, site: str) -> None:
    asked: list[str] = []

    def note(request: Request) -> None:
        if "/dish/shown?" in request.url:
            asked.append(request.url)

    page = browser.new_page(base_url=site)
    page.on("request", note)
    page.goto(address("/dish", DISH))
    working = page.locator("#section-working")
    expect(page.locator(".headline .value")).to_be_visible()
    assert asked == []
    working.locator("summary").click()
    expect(working.locator("math").first).to_be_visible()
    page.locator("#depth").fill("4")
    expect(page.locator("#ask.stale")).to_have_count(0)
    expect(working.locator("li", has_text="mouth diameter").locator("math").nth(1)).to_contain_text("4")
    assert len(asked) == 2
    page.close()


def test_without_a_script_a_link_leads_to_it(browser: Browser, site: str) -> None:
    context = browser.new_context(base_url=site, java_script_enabled=False)
    page = context.new_page()
    page.goto(address("/dish", DISH))
    page.locator("#section-working summary").click()
    page.locator("#section-working").get_by_role("link", name="Show").click()
    expect(page.locator("#section-working math").first).to_be_visible()
    page.get_by_role("link", name="Back to the page").click()
    expect(page.locator("#radius")).to_have_value(DISH["radius"])
    context.close()
