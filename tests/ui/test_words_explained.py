"""A word of the trade in a label is explained where it stands; the label still leads to its field."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, ViewportSize, expect

pytestmark = pytest.mark.browser

PHONE: ViewportSize = {"width": 390, "height": 844}
LEAST_TARGET = 48
REQUESTS = 6


def test_a_word_of_a_label_explains_itself_in_place_and_is_no_stop_of_the_keyboard(browser: Browser, site: str) -> None:
    page = browser.new_page(base_url=site, viewport=PHONE)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto("/finish?feed=0.2&nose_radius=0.8", wait_until="networkidle")
    assert len(asked) <= REQUESTS, asked  # the explanations come with the first tap
    word = page.locator(".field a.term", has_text="Nose radius").first
    expect(word).to_be_visible()
    size = word.bounding_box()
    assert size is not None
    assert min(size["width"], size["height"]) >= LEAST_TARGET
    word.click()
    meaning = page.locator(".field .explained")
    expect(meaning).to_contain_text("leaves a smoother surface")
    expect(meaning.locator("svg.sketch")).to_have_count(1)
    assert page.url.endswith("/finish?feed=0.2&nose_radius=0.8")
    word.click()
    expect(meaning).to_have_count(0)
    page.get_by_label("Nose radius").first.fill("0.4")
    expect(page.locator("#nose_radius")).to_have_value("0.4")
    page.locator("#feed").focus()
    page.keyboard.press("Tab")
    expect(page.locator("#nose_radius")).to_be_focused()
    page.close()


def test_a_word_of_a_contours_row_and_one_of_several_that_a_term_names_are_explained(
    browser: Browser, site: str
) -> None:
    """The row of a line asks for its half angle; "Insert" leads to "Insert and holder designation"."""
    page = browser.new_page(base_url=site, viewport=PHONE)
    page.goto("/contour?contour=s_x30_z0*l_x40_z-10")
    page.locator("details").evaluate_all("all => all.forEach(each => each.open = true)")
    word = page.locator(".field a.term", has_text="Half angle").first
    word.click()
    expect(page.locator(".explained")).to_contain_text("half the included angle")
    page.goto("/dish?radius=75&depth=4.5")
    expect(page.locator('a.term[href$="#designation"]', has_text="Insert")).not_to_have_count(0)
    page.close()


def test_without_a_network_a_word_and_what_is_kept_say_so_in_place_and_the_page_stays(
    browser: Browser, site: str
) -> None:
    """The browser's own page for a lost network came in place of what was being typed."""
    context = browser.new_context(base_url=site, viewport=PHONE)
    page = context.new_page()
    page.goto("/spindle", wait_until="networkidle")
    typed = page.locator("#surface_speed")
    context.set_offline(True)
    typed.fill("200")
    word, keep = page.locator(".field a.term").first, page.locator("[data-kept=remember]")
    for pressed, said in ((word, ".field .note"), (keep, "#keeping .note")):
        pressed.click()
        expect(page.locator(said, has_text="No connection to the server.")).to_be_visible()
    expect(typed).to_have_value("200")
    context.set_offline(False)
    keep.click()
    expect(page.locator("dialog#keep")).to_be_visible()
    expect(page.locator("#keeping .note")).to_have_count(0)
    context.close()
