"""What a thick finger and an eye a metre away need: targets, sizes of text, nothing cut off or laid over another."""

from __future__ import annotations

from urllib.parse import urlencode

import pytest
from playwright.sync_api import Browser

from server.catalogue import PAGES
from tests.ui.browser import SIZES
from tests.ui.hand import faults

pytestmark = pytest.mark.browser

# Limits beside values, cautions above rows and short ones, words as a headline, long names of twins, texts with limits.
# `python -m tests.bench.bench_hand` goes through all pages.
SAMPLE = (
    "/thread", "/bar", "/reach-contour", "/contour", "/force", "/shoulder", "/o-ring-groove", "/how-far-out",
    "/first-part",
)  # fmt: skip


@pytest.mark.parametrize("size", SIZES.values(), ids=SIZES)
def test_nothing_is_too_small_to_hit_or_read_nor_cut_off_nor_over_another(
    browser: Browser, site: str, size: tuple[int, int]
) -> None:
    context = browser.new_context(base_url=site, viewport={"width": size[0], "height": size[1]})
    page = context.new_page()
    found = {}
    for path in SAMPLE:
        page.goto(f"{path}?{urlencode(PAGES[path].example)}")
        found[path] = faults(page)
    context.close()
    assert {path: these for path, these in found.items() if these} == {}


def test_the_button_that_enlarges_a_sketch_stays_on_it(browser: Browser, site: str) -> None:
    """On a phone it lay over a field lower down: what it belongs to has no box of its own there."""
    page = browser.new_page(base_url=site, viewport={"width": 390, "height": 844})
    page.goto(f"/dish?{urlencode(PAGES['/dish'].example)}")
    sketch, button = (page.locator(f".sketches {each}").bounding_box() for each in (".main", ".grow"))
    page.close()
    assert sketch is not None
    assert button is not None
    assert sketch["y"] <= button["y"] <= sketch["y"] + sketch["height"] - button["height"]


@pytest.mark.parametrize("size", ["phone", "tablet upright"])
def test_the_button_that_enlarges_a_sketch_does_not_cover_the_bar_of_its_scale(
    browser: Browser, site: str, size: str
) -> None:
    """On the tablet it lay over most of a ball's bar, which then said nothing."""
    width, height = SIZES[size]
    page = browser.new_page(base_url=site, viewport={"width": width, "height": height})
    covered = []
    for path in ("/ball", "/dish", "/crown", "/taper", "/contour"):
        page.goto(f"{path}?{urlencode(PAGES[path].example)}")
        bar, button = (page.locator(f".sketches {each}").first.bounding_box() for each in (".main .sb", ".grow"))
        if bar and button and bar["x"] < button["x"] + button["width"] and bar["y"] + bar["height"] > button["y"]:
            covered.append((path, bar, button))
    page.close()
    assert covered == []
