"""The pages with plots in a real browser: its font measures the words, axe looks for barriers, nothing is too wide."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route
from starlette.testclient import TestClient

from server.app import create_app
from server.links import address
from server.plots import draw_plot
from tests.plots.pages import CASES, PLOTTED, plots_of, query_of
from tests.ui.browser import SIZES, faint, overflow, violations

pytestmark = pytest.mark.browser

HOST = "http://shop.example"
STATIC = Path(__file__).parents[2] / "static"
STYLE = "".join((STATIC / name).read_text() for name in ("sketch.css", "plots.css"))
BOXES = """() => [...document.querySelectorAll("svg text")].map(text => {
    const box = text.getBoundingClientRect();
    return [text.textContent, box.left, box.top, box.right, box.bottom];
})"""
LINE_GAP = 5.0
"""A browser's box of a text is the whole line's; this much of it above and below the signs is empty, px."""


@pytest.fixture(scope="module")
def client() -> Iterator[TestClient]:
    with TestClient(create_app(), base_url=HOST) as client:
        yield client


def opened(browser: Browser, client: TestClient, name: str) -> Page:
    """The page of a case on a phone, answered in process."""
    width, height = SIZES["phone"]
    context = browser.new_context(viewport={"width": width, "height": height}, color_scheme="light")

    def answer(route: Route) -> None:
        got = client.get(route.request.url.removeprefix(HOST))
        headers = {
            key: value for key, value in got.headers.items() if key not in ("content-encoding", "content-length")
        }
        route.fulfill(status=got.status_code, headers=headers, body=got.content)

    context.route("**/*", answer)
    page = context.new_page()
    key, texts = CASES[name]
    page.goto(HOST + address(PLOTTED[key].page, texts))
    return page


@pytest.mark.parametrize("name", CASES)
def test_words_as_the_browser_sets_them_stay_inside_and_apart(browser: Browser, name: str) -> None:
    page = browser.new_page(viewport={"width": 370, "height": 330})
    for plot in plots_of(name):
        tokens = ":root{--card:#fff;--ink:#1b1e23}body{margin:0}"
        page.set_content(f"<!doctype html><style>{tokens}{STYLE}</style>{draw_plot(plot, query_of(name).view)}")
        boxes = page.evaluate(BOXES)
        for text, left, top, right, bottom in boxes:
            assert min(left, top + LINE_GAP, 370 - right, 320 - bottom + LINE_GAP) >= -0.5, text
        for (a, *p), (b, *q) in combinations(boxes, 2):
            across = min(p[2], q[2]) - max(p[0], q[0])
            down = min(p[3], q[3]) - max(p[1], q[1])
            assert across <= LINE_GAP or down <= LINE_GAP, (a, b)
    page.close()


@pytest.mark.parametrize("key", PLOTTED)
def test_a_page_with_a_plot_breaks_no_rule_of_accessibility_fits_and_is_read_at_arms_length(
    browser: Browser, client: TestClient, key: str
) -> None:
    page = opened(browser, client, key)
    assert page.locator(".plots svg[role=img]").count() >= 1
    assert violations(page) == []
    page.emulate_media(color_scheme="dark")
    assert faint(page) == []
    for size, least in (("phone", 15.0), ("tablet upright", 16.0)):  # px: the look's caption, a little less on a phone
        page.set_viewport_size(dict(zip(("width", "height"), SIZES[size], strict=True)))  # type: ignore[arg-type]
        assert overflow(page) <= 0
        assert 18 * page.evaluate("document.querySelector('.plots svg').getScreenCTM().a") >= least
    page.context.close()
