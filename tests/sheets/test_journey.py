"""The journey in a real browser: a lead plans the seat and hands it on, a trainee practises it on a phone."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

import pytest
from playwright.sync_api import Browser, Page, StorageState, expect

from server.settings import Settings
from tests.sheets.serving import Serving, served
from tests.ui.browser import SIZES, faint, overflow, violations

pytestmark = pytest.mark.browser

SEAT = "/dish?radius=75&depth=4.5&nose_radius=6&tool_point=3"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    folder = tmp_path_factory.mktemp("journey")
    with served(Settings(data=folder / "data"), folder / "log") as server:
        yield server


def begin(page: Page, server: Serving) -> str:
    """Put the seat on a new sheet, mark the step for practice, fill the rest; give the reading address."""
    page.goto(server.address + SEAT)
    page.locator("#section-share > summary").click()
    page.get_by_role("button", name="Put on a sheet").click()
    page.get_by_role("textbox", name="Part", exact=True).fill("Seat")
    page.get_by_label("Machine").fill("Lathe 2")
    page.get_by_role("button", name="Begin a sheet with this").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Seat")
    page.get_by_label("Practise this step").check()
    page.get_by_label("Seed of the practice numbers").fill("17")
    page.get_by_label("Work zero").fill("Finished face, on the axis")
    page.get_by_role("button", name="One more check").click()
    page.get_by_role("textbox", name="Measure").fill("Depth of the dish")
    page.get_by_label("Nominal").fill("4.5")
    page.get_by_role("button", name="Save").first.click()
    page.get_by_role("link", name="Read and print").click()
    expect(page.get_by_role("heading", name="First part: measure")).to_be_visible()
    return page.url


@pytest.mark.parametrize("scripting", [True, False])
def test_a_lead_hands_the_seat_on_and_a_trainee_sends_the_result_back(
    browser: Browser, server: Serving, scripting: bool
) -> None:
    lead = browser.new_context(viewport={"width": 820, "height": 1180}, java_script_enabled=scripting)
    address = begin(lead.new_page(), server)
    trainee = browser.new_context(viewport={"width": 390, "height": 844}, java_script_enabled=scripting)
    page = trainee.new_page()
    page.goto(address)
    assert page.get_by_role("link", name="Change this sheet").count() == 0
    page.get_by_role("link", name="Practise this step").click()
    expect(page.get_by_text("numbers 17")).to_be_visible()
    page.get_by_role("link", name="The sheet's own numbers").click()
    page.get_by_label("Mouth diameter").fill("25.588")
    page.get_by_role("button", name="Check my answers").click()
    verdict, typed = page.locator(".verdict").first, page.get_by_label("Mouth diameter")
    expect(verdict).to_contain_text("that is the radius; the diameter is asked")
    for seen_at_once in (typed, verdict):
        expect(seen_at_once).to_be_in_viewport(ratio=1)
    assert typed.get_attribute("aria-describedby") == verdict.evaluate("it => it.parentElement.id")
    page.get_by_role("link", name="Hint: which formula for Mouth diameter").click()
    expect(page.locator("math").first).to_be_visible()
    page.get_by_label("Mouth diameter").fill("51.18")
    page.get_by_role("button", name="Check my answers").click()
    expect(page.locator(".verdict").first).to_have_text("Right.")
    result = page.locator(".address").inner_text()
    seen = lead.new_page()
    seen.goto(result)
    expect(seen.get_by_role("heading", name="1 of 4 right, 1 hint")).to_be_visible()
    lead.close()
    trainee.close()


@pytest.fixture(scope="module")
def owned(browser: Browser, server: Serving) -> tuple[str, StorageState]:
    """A sheet's address, and what a browser keeps that owns it."""
    context = browser.new_context()
    address = begin(context.new_page(), server)
    state = context.storage_state()
    context.close()
    return address, state


@pytest.mark.parametrize(
    ("size", "scheme"),
    [("phone", "light"), ("phone", "dark"), ("tablet upright", "light"), ("tablet on its side", "dark")],
)
def test_every_page_can_be_read_and_touched_by_everybody(
    browser: Browser, server: Serving, owned: tuple[str, StorageState], size: str, scheme: Literal["light", "dark"]
) -> None:
    width, height = SIZES[size]
    address, state = owned
    context = browser.new_context(
        viewport={"width": width, "height": height}, color_scheme=scheme, bypass_csp=True, storage_state=state
    )
    page = context.new_page()
    page.goto(address)
    step = page.locator(".step").first.get_attribute("id") or ""
    practise = f"{address}/practise/{step.removeprefix('step-')}?seed=own&a.mouth_diameter=25.588&h.mouth_diameter=3"
    for each in (address, f"{address}/edit", f"{address}/revisions", practise, f"{server.address}/sheet?put=/dish"):
        page.goto(each)
        whole = (size, scheme) == (
            "phone",
            "light",
        )  # what the document decides; colours and widths are seen to at each
        assert (violations if whole else faint)(page) == [], each
        assert overflow(page) <= 0, each
        small = page.evaluate(
            "[...document.querySelectorAll('.act, main button, main select, .box input:not([type=hidden])')]"
            ".filter(e => e.getClientRects().length && e.getBoundingClientRect().height < 48).map(e => e.outerHTML)"
        )
        assert small == [], each
    context.close()


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_sheet_prints_on_one_page_or_two(browser: Browser, owned: tuple[str, StorageState], paper: str) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(owned[0])
    printed = page.pdf(format=paper)
    assert printed.count(b"/Type /Page\n") in (1, 2)
    context.close()
