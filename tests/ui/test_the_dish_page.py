"""The dish page as the server gives it, in a real browser: what a setter does first, and what the page costs."""

from __future__ import annotations

import gzip
import re
import threading
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlencode

import httpx
import pytest
import uvicorn
from playwright.sync_api import Browser, Page, expect

from calc.questions.operations.dish_plan.dish import FEATURE
from server.app import create_app
from server.settings import Settings
from tests.ui.browser import overflow, wrong_at_any_size
from tests.ui.serving import ROOT

pytestmark = pytest.mark.browser

SEAT = "/dish?radius=75&depth=4.5&break_kind=radius&break_size=0.8"
PLAN = "/dish?" + urlencode(FEATURE.example)
CONTRADICTION = "/dish?radius=90&depth=4.5&mouth_diameter=60"


class _Server(uvicorn.Server):
    """A server that tells when it is ready."""

    def __init__(self, config: uvicorn.Config) -> None:
        super().__init__(config)
        self.ready = threading.Event()

    async def startup(self, sockets: list[object] | None = None) -> None:  # type: ignore[override]
        await super().startup(sockets)  # type: ignore[arg-type]
        self.ready.set()


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    app = create_app(Settings(data=tmp_path_factory.mktemp("data")))
    server = _Server(uvicorn.Config(app, host="127.0.0.1", port=0, log_level="error"))
    thread = threading.Thread(target=server.run)
    thread.start()
    assert server.ready.wait(30)
    yield f"http://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}"
    server.should_exit = True
    thread.join()


@pytest.fixture
def phone(browser: Browser, site: str) -> Iterator[Page]:
    context = browser.new_context(base_url=site, viewport={"width": 390, "height": 844}, has_touch=True)
    yield context.new_page()
    context.close()


def test_a_phone_gets_the_mouth_of_the_seat_from_two_typed_values(phone: Page) -> None:
    phone.goto("/")
    phone.get_by_text("What shape is it?").tap()
    phone.get_by_role("link", name=re.compile("^Dish")).tap()
    phone.locator("#radius").tap()
    phone.keyboard.type("75")
    phone.locator("#depth").tap()
    phone.keyboard.type("4.5")
    # 2 sqrt(2 R h - h^2) = 51.1762, the circular segment of any handbook
    expect(phone.locator(".headline .value")).to_contain_text("Ø51.176 mm")
    expect(phone.locator(".headline .value")).to_be_in_viewport()
    expect(phone.locator("output[for=mouth_diameter]")).to_have_text("51.176")


def test_a_third_value_that_disagrees_offers_to_let_one_go(phone: Page) -> None:
    phone.goto(CONTRADICTION)
    expect(phone.locator("#errors")).to_be_focused()
    expect(phone.locator("#errors")).to_contain_text("56.205")
    phone.get_by_role("link", name=re.compile("Let the mouth diameter go")).tap()
    expect(phone.locator(".headline .value")).to_contain_text("56.205")
    expect(phone.locator("#mouth_diameter")).to_have_value("")


def test_switching_to_inches_keeps_what_was_given_and_back_returns(phone: Page) -> None:
    phone.goto(SEAT)
    phone.locator("#switches summary").tap()
    phone.get_by_role("link", name="inch", exact=True).tap()
    expect(phone.locator(".headline .value")).to_contain_text("Ø2.0148 in")
    expect(phone.locator("#radius")).to_have_value("75mm")
    expect(phone.get_by_role("link", name="I meant inches")).to_be_visible()
    phone.go_back()
    expect(phone.locator(".headline .value")).to_contain_text("Ø51.176 mm")
    expect(phone.locator("#radius")).to_have_value("75")


def test_the_example_is_one_tap_away_marked_and_never_kept(phone: Page) -> None:
    phone.goto("/dish")
    phone.get_by_role("link", name="Show an example").tap()
    expect(phone.locator(".example")).to_be_visible()
    expect(phone).to_have_title(re.compile("^Example: "))
    phone.goto("/")
    expect(phone.locator("#recent")).to_be_hidden()


@pytest.mark.parametrize("address", ["/", "/dish", SEAT, CONTRADICTION, "/nowhere", "/terms"])
def test_the_pages_break_no_rule_of_accessibility(browser: Browser, site: str, address: str) -> None:
    context = browser.new_context(base_url=site)
    page = context.new_page()
    page.goto(address)
    page.evaluate("() => document.querySelectorAll('.fold').forEach(fold => { fold.open = true; })")
    assert wrong_at_any_size(page) == []
    context.close()


@pytest.mark.parametrize("address", ["/", "/dish"])
def test_a_first_visit_costs_little(site: str, address: str) -> None:
    html = httpx.get(site + address).text
    at_once = re.sub(r"<noscript>.*?</noscript>", "", html, flags=re.DOTALL)  # once it stands: what it is on paper
    linked = set(re.findall(r'(?:src|href)="(/static/[^"?]+)[^"]*"', at_once))
    sheets = [path for path in linked if path.endswith(".css")]
    assert sum(map(_weight, (html, *map(_text, sheets)))) <= 14_600
    assert _weight(html) + sum(_weight(_text(path)) for path in linked) <= 45_000
    assert 1 + len(linked) <= 6


def _weight(text: str) -> int:
    return len(gzip.compress(text.encode()))


def _text(path: str) -> str:
    return Path(ROOT / path[1:]).read_text("utf-8")


def test_on_paper_no_table_and_no_value_is_cut_off(browser: Browser, site: str) -> None:
    page = browser.new_page(base_url=site, viewport={"width": 680, "height": 1000})  # A4 less its margins
    page.goto(PLAN)
    page.emulate_media(media="print")
    cut = page.evaluate(
        """() => [...document.querySelectorAll('.scroll, .box input, output')]
        .filter(it => it.checkVisibility() && it.scrollWidth > it.clientWidth + 1)
        .map(it => it.outerHTML.slice(0, 80))"""
    )
    assert cut == []
    assert overflow(page) <= 0
    page.close()


@pytest.mark.parametrize("size", [(820, 1180), (1180, 820)], ids=["upright", "landscape"])
def test_a_tablet_shows_every_question_of_the_start_page_on_one_screen(
    browser: Browser, site: str, size: tuple[int, int]
) -> None:
    context = browser.new_context(base_url=site, viewport={"width": size[0], "height": size[1]})
    page = context.new_page()
    page.goto("/")
    lowest = page.evaluate("() => document.querySelector('.questions').getBoundingClientRect().bottom")
    assert lowest <= size[1]
    for tile in page.locator(".questions .first a").all():
        box = tile.bounding_box()
        assert box is not None
        assert box["height"] >= 64
    context.close()


def test_near_twins_stand_behind_one_switch_that_takes_what_was_typed_along(phone: Page) -> None:
    phone.goto("/finish?feed=0.2&nose_radius=0.8")
    phone.locator("#nose_radius").fill("1.2")
    expect(phone.locator("#family a[href*='nose_radius=1.2']").first).to_be_attached()
    phone.get_by_role("link", name="Feed for it").tap()
    expect(phone.locator("#nose_radius")).to_have_value("1.2")
    expect(phone.locator("#family [aria-current]")).to_have_text("Feed for it")
