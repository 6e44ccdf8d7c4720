"""Each change of a question is a step back: by the browser's own key and by the button beside the line."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.ui.browser import violations

pytestmark = pytest.mark.browser

SEAT = "/dish?radius=75&depth=4.5"


@pytest.fixture
def page(browser: Browser, site: str) -> Iterator[Page]:
    context = browser.new_context(base_url=site, viewport={"width": 390, "height": 844}, has_touch=True)
    yield context.new_page()
    context.close()


def mouth(page: Page, diameter: str) -> None:
    """The answer has arrived: the mouth's diameter stands in the panel, and nothing is under way."""
    expect(page.locator(".headline .value")).to_contain_text(diameter)
    expect(page.locator("#answer")).not_to_have_attribute("aria-busy", "true")


def test_undo_takes_back_one_change_after_the_other_fields_too(page: Page) -> None:
    page.goto(SEAT)
    undo = page.get_by_role("button", name="Undo")
    expect(undo).to_be_disabled()
    page.fill("#radius", "90")
    mouth(page, "56.")
    page.fill("#depth", "5")
    mouth(page, "59.")
    undo.tap()
    expect(page.locator("#depth")).to_have_value("4.5")
    mouth(page, "56.")
    undo.tap()
    expect(page.locator("#radius")).to_have_value("75")
    mouth(page, "51.176")
    expect(undo).to_be_disabled()
    assert violations(page) == []


def test_typing_on_in_one_field_is_one_step_and_typing_there_again_another(page: Page) -> None:
    page.goto(SEAT)
    page.fill("#radius", "9")
    mouth(page, "15.588")
    page.fill("#radius", "90")
    mouth(page, "56.")
    page.locator("#depth").focus()
    page.fill("#radius", "95")
    mouth(page, "57.")
    page.go_back()
    expect(page.locator("#radius")).to_have_value("90")
    page.go_back()
    expect(page.locator("#radius")).to_have_value("75")
    mouth(page, "51.176")


def test_a_switch_of_units_is_taken_back_like_any_change(page: Page) -> None:
    page.goto(SEAT)
    page.locator("#units-2").evaluate("it => it.click()")
    expect(page.locator(".headline .value")).to_contain_text("2.0148")
    page.get_by_role("button", name="Undo").tap()
    mouth(page, "51.176")


def test_a_change_that_is_refused_is_taken_back_too(page: Page) -> None:
    page.goto(SEAT)
    page.fill("#depth", "500")
    page.press("#depth", "Enter")
    expect(page.locator("#errors")).to_be_visible()
    page.get_by_role("button", name="Undo").tap()
    expect(page.locator("#depth")).to_have_value("4.5")
    mouth(page, "51.176")


def test_without_a_script_there_is_no_button_that_does_nothing(browser: Browser, site: str) -> None:
    context = browser.new_context(base_url=site, java_script_enabled=False)
    page = context.new_page()
    page.goto(SEAT)
    expect(page.get_by_role("button", name="Undo")).to_have_count(0)
    context.close()
