"""The operator's sheet on paper, in a real browser: how many pages it takes, and how large its print is."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser

from calc.questions.part.examples import EXAMPLES
from server.links import address

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


@pytest.mark.parametrize(("name", "most"), [("Seat", 1), ("Pad", 1), ("Stem", 2), ("Sleeve", 2)])
def test_a_sheet_fits_its_pages_in_print_of_12_points(browser: Browser, site: str, name: str, most: int) -> None:
    page = browser.new_page(base_url=site)
    page.goto(address("/part/operator", EXAMPLES[name]), timeout=30_000)
    for size in ("A4", "Letter"):
        assert len(re.findall(rb"/Type\s*/Page\b", page.pdf(format=size))) <= most, size
    page.emulate_media(media="print")
    assert page.evaluate(SMALLEST) >= 12 * POINT
    if name == "Seat":  # one full page of A4: 277 mm between the margins, most of it used
        page.set_viewport_size({"width": 718, "height": 400})
        assert page.evaluate("document.documentElement.scrollHeight") > 0.85 * 277 / 25.4 * 96
    page.close()
