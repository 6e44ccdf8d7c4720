"""What is printed, in a real browser: pages and size of the operator's sheet in every language; pages of questions."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser

from calc.questions.part.examples import EXAMPLES
from server.catalogue import PAGES
from server.links import address
from tests.sheets.whole_sleeve import WHOLE_SLEEVE
from tests.ui.browser import overflow, small_words

pytestmark = pytest.mark.browser
POINT = 96 / 72
"""CSS pixels of a printer's point, by the definition of both."""

SMALLEST = """() => {
  const texts = document.createTreeWalker(document.querySelector('.operator'), NodeFilter.SHOW_TEXT);
  let least = Infinity;
  while (texts.nextNode()) {
    const around = texts.currentNode.parentElement;
    if (texts.currentNode.data.trim() && !around.closest('svg, .unseen') && around.offsetParent !== null)
      least = Math.min(least, parseFloat(getComputedStyle(around).fontSize));
  }
  return least;
}"""
SCROLLED = """() => [...document.querySelectorAll('.scroll, .scroll table')]
  .filter(it => it.scrollWidth > it.clientWidth)
  .map(it => [it.textContent.slice(0, 30), it.scrollWidth, it.clientWidth])"""


PARTS = {**EXAMPLES, "Whole sleeve": WHOLE_SLEEVE}
FITS = [
    ("Seat", "en", {"A4": 1, "Letter": 1}),
    ("Pad", "de", {"A4": 1, "Letter": 1}),
    ("Pad", "es", {"Letter": 1}),
    ("Stem", "es", {"A4": 2, "Letter": 2}),
    ("Sleeve", "en", {"A4": 2, "Letter": 2}),
    ("Whole sleeve", "de", {"A4": 3, "Letter": 3}),
    ("Whole sleeve", "es", {"A4": 3, "Letter": 3}),
]
BESIDE_MARGINS = 210 - 2 * 8
"""mm: the width of A4 between the margins; what is wider makes a browser print all of it smaller."""


@pytest.mark.parametrize(("name", "language", "most"), FITS)
def test_a_sheet_fits_its_pages_in_print_of_12_points(
    browser: Browser, site: str, name: str, language: str, most: dict[str, int]
) -> None:
    page = browser.new_context(base_url=site, locale=language).new_page()
    page.goto(address("/part/operator", PARTS[name]), timeout=30_000)
    for size, pages in most.items():
        assert len(re.findall(rb"/Type\s*/Page\b", page.pdf(format=size))) <= pages, size
    page.emulate_media(media="print")
    assert page.evaluate(SMALLEST) >= 12 * POINT
    page.set_viewport_size({"width": int(BESIDE_MARGINS / 25.4 * 96), "height": 400})
    assert overflow(page) <= 0
    if name == "Seat":  # one full page of A4: 281 mm between the margins, most of it used
        assert page.evaluate("document.documentElement.scrollHeight") > 0.85 * 281 / 25.4 * 96
    page.context.close()


@pytest.mark.parametrize("language", ["en", "de", "es"])
def test_no_table_of_a_sheet_is_scrolled_sideways_on_a_phone_or_an_upright_tablet(
    browser: Browser, site: str, language: str
) -> None:
    page = browser.new_context(base_url=site, locale=language).new_page()
    page.goto(address("/part/operator", PARTS["Whole sleeve"]), timeout=30_000)
    for width in (390, 320, 600, 750, 820):
        page.set_viewport_size({"width": width, "height": 844})
        assert page.locator(".operator .scroll").count() == 4
        assert page.evaluate(SCROLLED) == []
        assert overflow(page) <= 0
    page.context.close()


@pytest.mark.parametrize("path", ["/part", "/nose", "/contour", "/corner"])
def test_a_printed_page_has_sketches_of_9_points_and_no_buttons(browser: Browser, site: str, path: str) -> None:
    """A4 less 12 mm on each side; as high as on an upright tablet, sketches were cut and their words 7 points."""
    page = browser.new_context(base_url=site).new_page()
    page.goto(address(path, PAGES[path].example), timeout=30_000)
    page.emulate_media(media="print")
    page.set_viewport_size({"width": int((210 - 2 * 12) / 25.4 * 96), "height": 900})
    assert small_words(page) == []
    assert page.locator(".act:visible").count() == 0
    assert page.evaluate("(it => it.scrollHeight - it.clientHeight)(document.querySelector('#answer'))") <= 1
    page.context.close()
