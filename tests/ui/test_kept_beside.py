"""Two answers stand side by side; parts on the device have names, and a pinned one its place."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.ui.browser import faultless, overflow, violations

pytestmark = pytest.mark.browser

SEAT = "/dish?radius=75&depth=4.5"


@pytest.fixture
def page(browser: Browser, site: str) -> Iterator[Page]:
    with faultless(browser, site, touch=True) as opened:
        yield opened


def type_in(page: Page, field: str, text: str) -> None:
    page.fill(f"#{field}", text)
    page.wait_for_function(
        "text => location.search.includes(text) && !document.querySelector('#ask.stale')", arg=f"{field}={text}"
    )


def test_an_answer_kept_beside_stands_by_the_present_one_with_the_difference(page: Page) -> None:
    page.goto(SEAT)
    page.get_by_role("button", name="Keep beside").tap()
    expect(page.locator("#status")).to_have_text("Kept beside. Change the question to compare.")
    type_in(page, "radius", "80")
    row = page.locator("#beside").get_by_role("row", name="Mouth diameter")
    expect(row.locator("td")).to_have_text(["Ø51.176 mm", "Ø52.906 mm", "+1.730"])
    expect(page.locator("#beside").get_by_role("row", name="Dish radius").locator("td").first).to_have_text("75")
    expect(page.locator(".headline .note")).to_have_text("Kept beside: Ø51.176 mm")
    assert violations(page) == []
    page.get_by_role("link", name="Open the one kept").tap()
    expect(page.locator("#radius")).to_have_value("75")


def test_the_sketches_of_both_answers_stand_side_by_side_at_one_scale(page: Page) -> None:
    page.goto(SEAT)
    page.get_by_role("button", name="Keep beside").tap()
    expect(page.locator("#status")).to_have_text("Kept beside. Change the question to compare.")
    bars = page.locator("#beside svg .sb")
    shown = {}
    for radius in ("150", "20"):  # the mouth is twice as wide, and half
        type_in(page, "radius", radius)
        expect(bars).to_have_count(2)
        said = float((page.locator(".sketches .main .sb + text").text_content() or "").removesuffix(" mm"))
        kept, now = bars.evaluate_all("bars => bars.map(bar => bar.getBBox().width * bar.getScreenCTM().a)")
        shown[radius] = said, kept / 10.0, now / said
    assert {said for said, _, _ in shown.values()} != {10.0}
    for _, kept_mm, now_mm in shown.values():
        assert abs(kept_mm - now_mm) < 0.02 * now_mm
    expect(page.locator("#beside")).to_contain_text("at one scale")


def test_answers_in_two_units_are_not_taken_from_each_other(page: Page) -> None:
    page.goto(SEAT)
    page.get_by_role("button", name="Keep beside").tap()
    expect(page.locator("#status")).to_have_text("Kept beside. Change the question to compare.")
    page.get_by_role("link", name="inch").tap()
    row = page.locator("#beside").get_by_role("row", name="Mouth diameter")
    expect(row.locator("td")).to_have_text(["Ø51.176 mm", "Ø2.0148 in", ""])


def test_without_an_answer_there_is_nothing_to_keep(page: Page) -> None:
    page.goto("/dish?radius=75")
    page.get_by_role("button", name="Keep beside").tap()
    expect(page.locator("#status")).to_have_text("There is no answer to keep yet.")
    expect(page.locator("#beside")).to_be_empty()


def test_a_pinned_part_stands_first_keeps_its_name_and_is_never_pushed_out(page: Page) -> None:
    page.goto(SEAT)
    page.goto("/")
    page.get_by_role("button", name="Name Dish").tap()
    page.get_by_label("Name of Dish").fill("Seat of the foot")
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Pin Seat of the foot").tap()
    for radius in range(30, 44):
        page.goto(f"/dish?radius={radius}&depth=4.5")
    page.goto("/")
    expect(page.locator("#recent a").first).to_have_text("Seat of the foot")
    expect(page.locator("#recent li")).to_have_count(13)
    assert violations(page) == []
    page.set_viewport_size({"width": 320, "height": 640})
    assert overflow(page) == 0
    page.get_by_role("button", name="Unpin Seat of the foot").tap()
    expect(page.locator("#status")).to_have_text("Not pinned any more.")
