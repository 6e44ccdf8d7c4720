"""By HTTPS pages that were opened before open without a network, and new numbers are asked for when it is back."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import httpx
import pytest
from playwright.sync_api import Browser, Page, expect

from server.catalogue import PAGES
from server.links import address
from tests.ui.browser import ARGUMENTS, program, violations
from tests.ui.live import live

pytestmark = pytest.mark.browser

PART = PAGES["/part"].example
SEAT = "/dish?radius=75&depth=4.5"
KEPT = "async it => Boolean(await (await caches.open('pages-1')).match(new URL(it, location.href).href))"


@pytest.fixture(scope="module")
def certificate(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A certificate that nobody has signed but itself, with its key in the same file."""
    file = tmp_path_factory.mktemp("certificate") / "own.pem"
    call = ["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj", "/CN=127.0.0.1"]
    subprocess.run([*call, "-keyout", str(file), "-out", str(file) + ".crt"], check=True, capture_output=True)
    file.write_bytes(file.read_bytes() + Path(f"{file}.crt").read_bytes())
    return file


@pytest.fixture(scope="module")
def trusting(browser: Browser) -> Iterator[Browser]:
    """A browser that takes a certificate which nobody has signed."""
    arguments = [*ARGUMENTS, "--ignore-certificate-errors"]
    running = browser.browser_type.launch(executable_path=program(), args=arguments)
    yield running
    running.close()


@pytest.fixture
def page(trusting: Browser) -> Iterator[Page]:
    context = trusting.new_context(ignore_https_errors=True, viewport={"width": 390, "height": 844}, has_touch=True)
    yield context.new_page()
    context.close()


def opened(page: Page, address: str) -> None:
    """Open a page and wait until the device keeps it."""
    page.goto(address)
    page.wait_for_function("() => navigator.serviceWorker.controller")
    page.wait_for_function(KEPT, arg=address)
    page.wait_for_load_state("networkidle")  # its files too


def test_open_lose_the_network_read_type_come_back_and_get_the_right_answer(
    page: Page, certificate: Path, tmp_path: Path
) -> None:
    with live(tmp_path, certificate=certificate) as site:
        opened(page, site + "/spindle")
        opened(page, site + SEAT)
        expect(page.locator(".headline .value")).to_contain_text("51.176")
    page.goto(site + SEAT)
    expect(page.locator(".offline")).to_contain_text("No network. This page is as it was on ")
    expect(page.locator(".headline .value")).to_contain_text("51.176")
    assert violations(page) == []
    page.locator("#depth").fill("5")
    expect(page.locator("#ask")).to_have_class("stale")
    expect(page.locator("#status")).to_contain_text("no connection to the server")
    expect(page.locator(".old").first).to_be_visible()
    with live(tmp_path, port=urlsplit(site).port or 0, certificate=certificate):
        expect(page.locator(".headline .value")).to_contain_text("53.852", timeout=20_000)
        expect(page.locator(".offline")).to_have_count(0)
        expect(page.locator("#ask")).not_to_have_class("stale")
        assert page.url.endswith("depth=5") or "depth=5&" in page.url


def test_another_question_is_never_shown_in_place_of_one_that_was_not_opened(
    page: Page, certificate: Path, tmp_path: Path
) -> None:
    with live(tmp_path, certificate=certificate) as site:
        opened(page, site + SEAT)
    page.goto(site + "/dish?radius=90&depth=4.5")
    expect(page.get_by_role("heading", level=1)).to_have_text("No network")
    expect(page.locator(".headline")).to_have_count(0)
    page.get_by_role("link", name="Dish").tap()
    expect(page.locator(".headline .value")).to_contain_text("51.176")


def test_a_sheet_that_was_opened_is_read_without_a_network_and_tells_its_time(
    page: Page, certificate: Path, tmp_path: Path
) -> None:
    form = {"heading.part": "Seat", "heading.units": "mm", "address": SEAT}
    with live(tmp_path) as plain:
        made = httpx.post(f"{plain}/sheet", data=form, headers={"Origin": plain})
    with live(tmp_path, certificate=certificate) as site:
        sheet = site + urlsplit(made.headers["location"]).path.removesuffix("/edit")
        opened(page, sheet)
    page.goto(sheet)
    expect(page.locator(".offline")).to_contain_text("No network. This page is as it was on ")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Seat")
    expect(page.locator("main")).to_contain_text("51.176")


def test_what_was_opened_with_a_page_is_there_and_what_was_not_says_that_it_needs_the_network(
    page: Page, certificate: Path, tmp_path: Path
) -> None:
    working, seat = page.locator("#section-working"), PAGES["/dish"].example
    read, unread = address("/dish", seat), address("/dish", {**seat, "depth": "4"})
    with live(tmp_path, certificate=certificate) as site:
        opened(page, site + unread)
        opened(page, site + read)
        working.locator("summary").tap()
        expect(working.locator("math").first).to_be_visible()
        page.wait_for_load_state("networkidle")
    page.goto(site + read)
    working.locator("summary").tap()
    expect(working.locator("math").first).to_be_visible()
    page.goto(site + unread)
    working.locator("summary").tap()
    expect(working.locator(".note").first).to_have_text(" What is not here yet needs the network.")
    page.goto(site + "/dish?radius=91&depth=4.5")
    expect(page.get_by_role("heading", level=1)).to_have_text("No network")
    expect(page.locator("#recent a")).to_have_count(2)


def test_a_saved_part_that_was_opened_is_read_without_a_network(page: Page, certificate: Path, tmp_path: Path) -> None:
    with live(tmp_path) as plain:
        made = httpx.post(f"{plain}/sheet/part", data={"address": address("/part", PART)}, headers={"Origin": plain})
    saved = urlsplit(made.headers["location"]).path.removesuffix("/edit")
    with live(tmp_path, certificate=certificate) as site:
        opened(page, site + saved)
    page.goto(site + saved)
    expect(page.locator(".offline")).to_contain_text("No network. This page is as it was on ")
    expect(page.get_by_role("heading", level=1)).to_contain_text(PART["part_name"])


def test_on_plain_http_the_page_is_whole_and_nothing_of_it_is_there(browser: Browser, site: str) -> None:
    page = browser.new_page(base_url=site)
    page.goto(SEAT)
    expect(page.locator(".headline .value")).to_contain_text("51.176")
    assert page.evaluate("async () => (await navigator.serviceWorker.getRegistrations()).length") == 0
    assert page.get_by_role("button", name="Keep the screen on").count() == 0
    page.close()


def test_the_screen_is_kept_on_by_a_switch_that_the_device_remembers(
    page: Page, certificate: Path, tmp_path: Path
) -> None:
    page.add_init_script(
        "window.held = 0;"
        "navigator.wakeLock.request = async () => { held += 1; return { release: () => { held -= 1; } }; };"
    )
    with live(tmp_path, certificate=certificate) as site:
        page.goto(site + "/dish")
        switch = page.get_by_role("button", name="Keep the screen on")
        switch.tap()
        expect(switch).to_have_attribute("aria-pressed", "true")
        assert page.evaluate("held") == 1
        page.reload()
        page.wait_for_function("() => held === 1")
        page.get_by_role("button", name="Keep the screen on").tap()
        page.wait_for_function("() => held === 0")


def test_it_can_be_installed_with_icons_of_the_sizes_it_says(site: str) -> None:
    answer = httpx.get(f"{site}/manifest.webmanifest")
    manifest = json.loads(answer.text)
    assert answer.headers["content-type"] == "application/manifest+json"
    assert (manifest["start_url"], manifest["display"]) == ("/", "standalone")
    for icon in manifest["icons"]:
        found = httpx.get(site + icon["src"])
        assert found.headers["content-type"] == icon["type"]
        if icon["type"] == "image/png":
            size = int.from_bytes(found.content[16:20], "big")  # PNG (ISO/IEC 15948), 11.2.2: width in the header
            assert icon["sizes"] == f"{size}x{size}"
