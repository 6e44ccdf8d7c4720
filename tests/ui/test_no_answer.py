"""What a page shows when no answer comes: a fault, a refusal, no connection; and that it asks again by itself."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, Route, expect

from tests.ui.browser import faultless
from tests.ui.serving import served

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def site() -> Iterator[str]:
    with served() as address:
        yield address


@pytest.fixture
def page(browser: Browser, site: str) -> Iterator[Page]:
    """A dish that was answered, on a page whose scripts have no faults."""
    with faultless(browser, site) as opened:
        opened.goto("/dish")
        opened.fill("#radius", "75")
        opened.fill("#depth", "4.5")
        expect(number(opened)).to_contain_text("75/4.5")
        yield opened


def number(page: Page) -> Locator:
    return page.locator(".headline .value")


def test_the_answer_stays_marked_when_the_server_fails(page: Page) -> None:
    page.fill("#radius", "500")
    expect(page.locator(".old")).to_have_text("Not current: the server could not answer. Try again.")
    expect(page.locator("#status")).to_contain_text("could not answer")
    expect(number(page)).to_contain_text("75/4.5")


def test_a_refusal_that_says_when_is_asked_again_once_by_itself(page: Page) -> None:
    asked: list[str] = []

    def refuse(route: Route) -> None:
        asked.append(route.request.url)
        if "radius=80" in route.request.url and len(asked) == 2:
            route.fallback()
        else:
            route.fulfill(status=503, headers={"Retry-After": "1"})

    page.route("**/dish?*radius=8*", refuse)
    page.fill("#radius", "80")
    expect(page.locator(".old")).to_have_text(
        "Not current: the question takes too long, or the server is busy. It is asked again in 1 s."
    )
    expect(number(page)).to_contain_text("80/4.5")
    expect(page.locator(".old")).to_be_hidden()
    page.fill("#radius", "81")
    expect(page.locator(".old")).to_contain_text("asked again in 1 s")
    expect(page.locator(".old")).to_have_text(
        "Not current: the question takes too long, or the server is busy. Try again."
    )
    assert [url.partition("radius=")[2][:2] for url in asked] == ["80", "80", "81", "81"]


def test_the_answer_stays_marked_without_a_connection_and_recovers(page: Page) -> None:
    page.context.set_offline(True)
    page.fill("#radius", "80")
    expect(page.locator(".old")).to_have_text("Not current: no connection to the server. Try again.")
    page.context.set_offline(False)
    page.fill("#radius", "81")
    expect(number(page)).to_contain_text("81/4.5")
    expect(page.locator(".old")).to_be_hidden()
