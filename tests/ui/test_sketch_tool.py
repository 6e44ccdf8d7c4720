"""A sketch as a control: over the whole screen at a tap, zoomed, moved, layers switched, dimensions that lead on."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.ui.browser import overflow, violations

pytestmark = pytest.mark.browser

SEAT = "/dish?radius=75&depth=4.5&bar_diameter=60&nose_radius=6"
VIEW = "() => document.querySelector('.large svg').getAttribute('viewBox').split(' ').map(Number)"


@pytest.fixture(params=[(390, 844), (820, 1180), (1180, 820)], ids=["phone", "upright", "on its side"])
def page(browser: Browser, site: str, request: pytest.FixtureRequest) -> Iterator[Page]:
    width, height = request.param
    context = browser.new_context(base_url=site, viewport={"width": width, "height": height}, has_touch=True)
    yield context.new_page()
    context.close()


def test_a_tap_fills_the_screen_and_buttons_and_keys_zoom_and_move(page: Page) -> None:
    page.goto(SEAT)
    assert page.evaluate(
        "() => performance.getEntriesByType('resource').every(it => !it.name.includes('tools/sketch'))"
    )
    page.get_by_role("button", name="The sketch over the whole screen").tap()
    large = page.get_by_role("dialog", name="The sketch over the whole screen")
    expect(large).to_be_visible()
    expect(large).to_have_css("display", "flex")  # its styles come with its script
    filled = large.bounding_box()
    assert filled is not None
    assert filled["width"] == page.evaluate("innerWidth")
    whole = page.evaluate(VIEW)
    large.get_by_role("button", name="Larger").tap()
    larger = page.evaluate(VIEW)
    assert larger[2] == pytest.approx(whole[2] / 1.4)
    large.get_by_role("button", name="Move right").tap()
    assert page.evaluate(VIEW)[0] > larger[0]
    page.keyboard.press("0")
    assert page.evaluate(VIEW) == whole
    page.keyboard.press("+")
    page.keyboard.press("ArrowLeft")
    assert page.evaluate(VIEW)[0] == pytest.approx(whole[0], abs=0.2 * whole[2])
    assert violations(page) == []
    assert overflow(page) <= 0
    assert smallest_button(large) >= 55.9
    page.keyboard.press("Escape")
    expect(large).to_have_count(0)


def smallest_button(large: Locator) -> float:
    boxes = [button.bounding_box() for button in large.get_by_role("button").all()]
    return min(min(box["width"], box["height"]) if box else 0.0 for box in boxes)


def test_layers_are_switched_and_a_tapped_dimension_leads_to_its_field(page: Page) -> None:
    page.goto(SEAT)
    page.get_by_role("button", name="The sketch over the whole screen").tap()
    large = page.get_by_role("dialog", name="The sketch over the whole screen")
    paths = large.get_by_role("button", name="Nose path")
    paths.tap()
    expect(paths).to_have_attribute("aria-pressed", "false")
    expect(large.locator(".nc").first).to_be_hidden()
    large.locator("[data-field=depth] text").tap()
    expect(large).to_have_count(0)
    expect(page.locator("#depth")).to_be_focused()
    expect(page.locator(".sketches [data-field=depth]")).to_have_class("dim lit")


def test_two_fingers_make_it_larger(page: Page) -> None:
    page.goto(SEAT)
    page.get_by_role("button", name="The sketch over the whole screen").tap()
    expect(page.locator(".large")).to_have_css("display", "flex")
    whole = page.evaluate(VIEW)
    page.evaluate(
        """() => {
        const svg = document.querySelector('.large svg'), { left, top, width, height } = svg.getBoundingClientRect();
        const finger = (type, pointerId, share) => svg.dispatchEvent(new PointerEvent(type, {
          pointerId, bubbles: true, clientX: left + share * width, clientY: top + height / 2 }));
        finger('pointerdown', 1, .4); finger('pointerdown', 2, .6);
        finger('pointermove', 1, .3); finger('pointermove', 2, .7);
        finger('pointerup', 1, .3); finger('pointerup', 2, .7);
      }"""
    )
    assert page.evaluate(VIEW)[2] == pytest.approx(whole[2] / 2.0, rel=0.02)
