"""Sketches on their pages: words large enough to be read wherever a sketch stands, and none of them cut off."""

from __future__ import annotations

from urllib.parse import urlencode

import pytest
from playwright.sync_api import Browser

from server.catalogue import PAGES
from tests.ui.browser import SIZES

pytestmark = pytest.mark.browser

LEAST = 12.0
"""px: the smallest text that anything on a page may have."""
SMALL = """least => [...document.querySelectorAll('svg.sketch[role=img] text')]
  .filter(it => it.checkVisibility())
  .map(it => {
    const map = it.getScreenCTM(), scale = Math.hypot(map.a, map.b);
    const sizes = [it, ...it.children].map(each => scale * parseFloat(getComputedStyle(each).fontSize));
    return [Math.min(...sizes), it.textContent];
  })
  .filter(([size]) => size < least - 0.05)"""
CUT = """() => [...document.querySelectorAll('.sketches svg[role=img]')]
  .filter(it => it.checkVisibility())
  .filter(it => {
    const own = it.getBoundingClientRect(), slot = it.closest('.sketches > *').getBoundingClientRect();
    return Math.max(slot.top - own.top, own.bottom - slot.bottom, slot.left - own.left, own.right - slot.right) > 1;
  })
  .map(it => it.querySelector('title').textContent)"""


@pytest.mark.parametrize("size", SIZES.values(), ids=SIZES)
def test_every_word_of_a_sketch_is_large_enough_and_none_is_cut_off(
    browser: Browser, site: str, size: tuple[int, int]
) -> None:
    page = browser.new_page(base_url=site, viewport={"width": size[0], "height": size[1]})
    small, cut = {}, {}
    for path, feature in PAGES.items():
        for address in dict.fromkeys((path, f"{path}?{urlencode(feature.example)}")):
            page.goto(address)
            small[address] = page.evaluate(SMALL, LEAST)
            cut[address] = page.evaluate(CUT)
    page.close()
    assert {address: found for address, found in small.items() if found} == {}
    assert {address: found for address, found in cut.items() if found} == {}
