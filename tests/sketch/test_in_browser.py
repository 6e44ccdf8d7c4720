"""What a real browser makes of the sketches: its own font measures the words, its own engine resolves the styles."""

from collections.abc import Iterator
from itertools import combinations
from pathlib import Path

import pytest
from playwright.sync_api import Page, sync_playwright

from calc.language.quantities import METRIC, View
from deploy import browser
from server.sketch import draw, draw_details
from tests.sketch.drawings import CASES, SEAT

pytestmark = pytest.mark.browser

STYLE = Path(__file__).parents[2] / "static" / "sketch.css"
TOKENS = ":root{--card:#fff;--ink:#1b1e23;--muted:#4a5058;--plum:#5e2b6e;--answer:#efe6f2;--hatch:#7a8088}"
BOXES = """() => [...document.querySelectorAll("svg")].map(svg => {
    const size = svg.viewBox.baseVal, map = svg.getScreenCTM().inverse();
    return {size: [size.width, size.height], words: [...svg.querySelectorAll("text")].map(text => {
        const box = text.getBoundingClientRect();
        const a = new DOMPoint(box.left, box.top).matrixTransform(map);
        const b = new DOMPoint(box.right, box.bottom).matrixTransform(map);
        return [text.textContent, a.x, a.y, b.x, b.y];
    })};
})"""
LINE_GAP = 4.0
"""A browser's box of a text is the whole line's; this much of it above and below the signs is empty, px."""


@pytest.fixture(scope="module")
def page() -> Iterator[Page]:
    with sync_playwright() as driver:
        chromium = driver.chromium.launch(executable_path=str(browser.ensure()), args=["--no-sandbox"])
        yield chromium.new_page(viewport={"width": 800, "height": 600})
        chromium.close()


def show(page: Page, *markups: str) -> None:
    page.set_content(f"<!doctype html><style>{TOKENS}{STYLE.read_text()}</style>{''.join(markups)}")


@pytest.mark.parametrize("name", CASES)
def test_words_as_the_browser_sets_them_stay_inside_and_apart(page: Page, name: str) -> None:
    drawing = CASES[name].drawing()
    views = [draw(drawing, METRIC), draw(drawing, View("inch"), key="inch"), *draw_details(drawing, METRIC)]
    show(page, *views)
    for sketch in page.evaluate(BOXES):
        width, height = sketch["size"]
        for text, left, top, right, bottom in sketch["words"]:
            assert min(left, top + LINE_GAP, width - right, height - bottom + LINE_GAP) >= -0.5, text
        for (a, *p), (b, *q) in combinations(sketch["words"], 2):
            across = min(p[2], q[2]) - max(p[0], q[0])
            down = min(p[3], q[3]) - max(p[1], q[1])
            assert across <= LINE_GAP or down <= LINE_GAP, (a, b)


def test_a_lit_dimension_turns_plum_and_wide(page: Page) -> None:
    show(page, draw(SEAT.drawing(), METRIC))
    style = """field => {
        const shown = getComputedStyle(document.querySelector(`[data-field=${field}] .t`));
        return [shown.stroke, shown.strokeWidth];
    }"""
    before = page.evaluate(style, "depth")
    page.evaluate("document.querySelector('[data-field=depth]').classList.add('lit')")
    assert before == ["rgb(27, 30, 35)", "1.25px"]
    assert page.evaluate(style, "depth") == ["rgb(94, 43, 110)", "2.5px"]
    assert page.evaluate(style, "radius") == before


def test_the_section_is_hatched(page: Page) -> None:
    show(page, draw(SEAT.drawing(), METRIC))
    assert page.evaluate("getComputedStyle(document.querySelector('.f')).fill") == 'url("#sketch-h")'
