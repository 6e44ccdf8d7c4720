"""What a phone shows of tables and of the pinned answer, what forced colours leave, and the way past a page's head."""

from __future__ import annotations

from collections.abc import Iterator
from urllib.parse import urlencode

import pytest
from playwright.sync_api import Browser, Page, expect

from server.catalogue import PAGES
from tests.ui.browser import overflow, violations

pytestmark = pytest.mark.browser

# Pages with points, and with the widest of the other tables.
TABLES = ("/dish", "/contour", "/plan", "/reach", "/nose", "/thread-passes", "/first-part", "/how-far-out", "/material")
CUT = """() => [...document.querySelectorAll('.scroll')]
  .filter(it => it.checkVisibility() && it.scrollWidth > it.clientWidth + 1 && !it.querySelector('math'))
  .map(it => `${it.querySelector('caption').textContent}: ${it.scrollWidth - it.clientWidth}`)"""
OPEN = "() => document.querySelectorAll('main details').forEach(fold => { fold.open = true; })"
UNSEEN = """() => [...document.querySelectorAll('.cards tbody :is(th, td:not(:empty))')]
  .filter(it => it.checkVisibility() && (it.getBoundingClientRect().right > innerWidth || !it.offsetWidth)).length"""


@pytest.fixture
def page(browser: Browser, site: str) -> Iterator[Page]:
    context = browser.new_context(base_url=site, viewport={"width": 390, "height": 844}, has_touch=True)
    yield context.new_page()
    context.close()


def example(path: str) -> str:
    return f"{path}?{urlencode(PAGES[path].example)}"


@pytest.mark.parametrize("path", [path for path in TABLES if path in PAGES])
@pytest.mark.parametrize("language", ["en", "de"])
def test_a_table_is_read_without_scrolling_sideways_on_a_phone_on_tablets_and_in_half_a_window(
    browser: Browser, site: str, path: str, language: str
) -> None:
    context = browser.new_context(base_url=site, has_touch=True, locale=language)
    page = context.new_page()
    page.goto(example(path))
    page.evaluate(OPEN)
    for width, height in ((390, 844), (320, 844), (700, 844), (820, 1180), (1180, 820)):
        page.set_viewport_size({"width": width, "height": height})
        assert page.evaluate(CUT) == []
        assert page.evaluate(UNSEEN) == 0
        assert overflow(page) <= 0
    context.close()


@pytest.mark.parametrize("path", ["/nose", "/crown"])
def test_points_to_key_in_fit_an_upright_tablet(page: Page, path: str) -> None:
    """The most columns, and the longest names."""
    page.set_viewport_size({"width": 820, "height": 1180})
    page.goto(example(path))
    page.evaluate(OPEN)
    assert [each for each in page.evaluate(CUT) if each.startswith("Points")] == []
    assert page.locator("caption").filter(has_text="Points").count() == 1


def test_both_meanings_of_a_number_with_a_point_are_whole_in_the_panel(browser: Browser, site: str) -> None:
    context = browser.new_context(base_url=site, viewport={"width": 390, "height": 844}, has_touch=True, locale="de")
    page = context.new_page()
    page.goto("/spindle?surface_speed=200&diameter=50&max_rpm=2.500&typed=de")
    offers = page.locator("#errors .offer")
    expect(offers).to_have_text(["2,500", "2500"])
    for offer in offers.all():
        expect(offer).to_be_in_viewport(ratio=1)
    context.close()


def test_a_row_on_a_phone_says_which_value_is_which_and_stays_a_row_of_a_table(page: Page) -> None:
    page.goto(example("/dish"))
    table = page.locator("#section-points table")
    row = table.get_by_role("row", name="P2")
    heads = [cell.get_attribute("data-head") for cell in row.get_by_role("cell").all()]
    assert heads[:6] == ["X", "Z", "", "R", "I", "K"]
    expect(table.get_by_role("columnheader").nth(1)).to_have_text("X (Ø), mm")
    expect(table.get_by_role("columnheader").nth(1)).to_be_visible()
    row.get_by_role("button", name="copy").scroll_into_view_if_needed()
    expect(row.get_by_role("button", name="copy")).to_be_in_viewport(ratio=1)
    assert violations(page) == []


def test_the_points_to_key_in_fit_one_screen_of_a_phone(page: Page) -> None:
    page.goto(example("/dish"))
    box = page.locator("#section-points table").bounding_box()
    assert box is not None
    assert box["height"] <= 844 * 2 / 3


def test_of_many_tools_the_first_are_seen_and_the_others_by_a_tap(page: Page) -> None:
    page.goto(example("/tool-finder"))
    rows = page.locator("#section-tools tbody tr")
    assert rows.count() > 12
    expect(rows.nth(5)).to_be_visible()
    expect(rows.nth(6)).to_be_hidden()
    page.locator("#section-tools").get_by_text(f"Show all ({rows.count()})").tap()
    expect(rows.last).to_be_visible()


def test_the_whole_table_is_copied_at_one_tap_with_its_heads(page: Page) -> None:
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.goto(example("/dish"))
    head = page.locator("#section-points th").first
    head.evaluate("it => { it.textContent = 'Po\u00adint'; }")  # as long words of other languages may break
    page.get_by_role("button", name="Copy all of Points to key in").tap()
    expect(page.locator("#status")).to_have_text("Copied the table (rows: 3)")
    lines = [line.split("\t") for line in page.evaluate("navigator.clipboard.readText()").split("\n")]
    assert lines[0] == ["Point", "X (Ø), mm", "Z, mm", "Move", "R", "I (radius)", "K"]
    assert [line[0] for line in lines[1:]] == ["P1 edge begins on the face", "P2 edge meets the dish", "P3 axis"]
    assert {len(line) for line in lines} == {7}


BROKEN = """() => {
  const found = [], range = document.createRange();
  const texts = document.createTreeWalker(document.querySelector('.headline'), NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const text = texts.currentNode, line = 1.9 * parseFloat(getComputedStyle(text.parentElement).fontSize);
    for (const word of text.data.matchAll(/[^\\s\u00ad]+/g)) {
      range.setStart(text, word.index);
      range.setEnd(text, word.index + word[0].length);
      if (range.getBoundingClientRect().height > line) found.push(word[0]);
    }
  }
  return found;
}"""
"""The words of the headline that stand on more than one line without a hyphen."""


@pytest.mark.parametrize("path", ["/dish", "/limits", "/thread-passes", "/bar-whip"])
def test_with_text_of_twice_the_size_the_bar_leaves_two_thirds_of_a_phone_and_shows_the_number(
    browser: Browser, site: str, path: str
) -> None:
    """In German, whose words are long."""
    context = browser.new_context(base_url=site, viewport={"width": 390, "height": 844}, has_touch=True, locale="de")
    page = context.new_page()
    page.goto(example(path))
    page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
    bar, headline = page.locator("#answer").bounding_box(), page.locator(".headline").bounding_box()
    assert bar is not None
    assert headline is not None
    assert bar["height"] <= 844 / 3 + 1
    assert headline["y"] >= bar["y"]
    assert headline["y"] + headline["height"] <= 844
    assert page.evaluate(BROKEN) == []
    context.close()


def test_with_text_of_twice_the_size_no_button_of_the_head_is_broken_letter_by_letter(
    browser: Browser, site: str
) -> None:
    context = browser.new_context(base_url=site, viewport={"width": 390, "height": 844}, locale="es")
    page = context.new_page()
    page.goto(example("/spindle"))
    heights = (
        "[...document.querySelectorAll('.line > *')].filter(it => it.checkVisibility()).map(it => it.offsetHeight)"
    )
    usual = page.evaluate(heights)
    assert len(usual) == 3
    page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
    assert max(page.evaluate(heights)) <= 2 * max(usual) + 1
    assert overflow(page) <= 0
    context.close()


def test_the_first_key_leads_past_the_head_of_the_page(page: Page) -> None:
    page.goto("/dish")
    page.keyboard.press("Tab")
    link = page.get_by_role("link", name="Skip to the content")
    expect(link).to_be_focused()
    box = link.bounding_box()
    assert box is not None
    assert box["y"] >= 0
    page.keyboard.press("Enter")
    expect(page.locator("main")).to_be_focused()


def test_forced_colours_keep_the_triangle_the_copy_sign_and_the_chosen_switch(browser: Browser, site: str) -> None:
    context = browser.new_context(base_url=site, viewport={"width": 820, "height": 1180}, forced_colors="active")
    page = context.new_page()
    page.goto(example("/dish"))
    behind = page.evaluate("getComputedStyle(document.querySelector('#answer')).backgroundColor")
    for mark in ("'.caution strong'), '::before'", "'.headline .value'), '::after'"):
        colour = page.evaluate(f"getComputedStyle(document.querySelector({mark}).backgroundColor")
        assert colour not in (behind, "rgba(0, 0, 0, 0)")
    chosen, other = ("#switches [aria-current]", "#switches a:not([aria-current])")
    style = "it => getComputedStyle(document.querySelector(it)).outlineStyle"
    assert (page.evaluate(style, chosen), page.evaluate(style, other)) == ("solid", "none")
    context.close()


# A number that is cut off reads as another one: nothing that holds one may be clipped, or end in dots.
CLIPPED = """() => [...document.querySelectorAll('#answer .caution, #answer .value, output, .field .box > span')]
  .filter(it => it.checkVisibility() && it.textContent.trim())
  .filter(it => it.scrollWidth > it.clientWidth + 1 && getComputedStyle(it).overflowX !== 'visible')
  .map(it => `${it.tagName}.${it.className}: ${it.textContent.trim().slice(0, 80)}`)"""
BROKEN = """() => [...document.querySelectorAll('#answer .caution')].filter(it => it.checkVisibility())
  .filter(it => getComputedStyle(it).textOverflow === 'ellipsis' || getComputedStyle(it).wordBreak === 'break-all')
  .map(it => it.textContent.slice(0, 80))"""
WARNED = (
    "/spindle?surface_speed=220&diameter=20&max_rpm=4000&chuck_limit=3200&length_out=200",
    "/boring-cut?material=6061-T6&bore_diameter=20&depth=0.5&feed=5&nose_radius=0.4&chuck_limit=3200",
    "/force?material=C45&depth=2&feed=1.6&surface_speed=200&nose_radius=0.8&entering_angle=95&grip_force=2000",
    "/dish?radius=89.9876&depth=4.5123",
    "/taper?large_diameter=31.26712&small_diameter=25.9123&length=102.5",
)


@pytest.mark.parametrize("address", [*WARNED, *map(example, ("/dish", "/thread-passes", "/first-part"))])
@pytest.mark.parametrize("width", [390, 320])
def test_no_number_in_a_caution_or_an_answer_is_cut_off_on_a_phone(page: Page, address: str, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 844})
    page.goto(address)
    for _ in ("folded", "open"):
        assert page.evaluate(CLIPPED) == []
        assert page.evaluate(BROKEN) == []
        page.evaluate(OPEN)


def test_all_cautions_of_a_case_stand_on_its_page_one_tap_away(page: Page) -> None:
    page.goto(WARNED[1])
    folded = page.locator("#cautions")
    worst = folded.locator("summary")
    expect(worst).to_contain_text("5.000 mm")
    worst.click()
    expect(folded.locator("li").first).to_be_visible()
