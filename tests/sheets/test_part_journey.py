"""A whole part as saved work on a phone, in a real browser: saved, opened by its link, changed, saved again, told."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from calc.questions.part.examples import SLEEVE
from server.links import address
from server.settings import Settings
from tests.sheets.serving import Serving, served
from tests.sheets.whole_sleeve import WHOLE_SLEEVE
from tests.ui.browser import overflow, violations

pytestmark = pytest.mark.browser
HARD = 20_000
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True}


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    folder = tmp_path_factory.mktemp("part")
    with served(Settings(data=folder / "data"), folder / "log") as server:
        yield server


@pytest.mark.parametrize("scripting", [True, False])
def test_a_part_is_saved_opened_changed_and_saved_again(browser: Browser, server: Serving, scripting: bool) -> None:
    lead = browser.new_context(**PHONE, java_script_enabled=scripting)  # type: ignore[arg-type]  # sizes and marks
    page = lead.new_page()
    page.set_default_timeout(HARD)
    expect.set_options(timeout=HARD)
    page.goto(server.address + address("/part", SLEEVE))
    page.get_by_role("button", name="Save this part").tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Sleeve, plain")
    opened_in_time(page)
    expect(page.get_by_role("heading", name="Tools in turret order")).to_be_visible()
    link = page.url
    trainee = browser.new_context(**PHONE, java_script_enabled=scripting)  # type: ignore[arg-type]
    reader = trainee.new_page()
    reader.goto(link, timeout=HARD)
    opened_in_time(reader)
    expect(reader.get_by_role("heading", name="How each operation cuts")).to_be_visible()
    expect(reader.get_by_role("link", name="Change this part")).to_have_count(0)
    page.goto(link)
    opened_in_time(page)
    change_the_feed_of_the_third_operation(page)
    expect(page).to_have_url(link)
    page.get_by_role("link", name="Revisions").tap()
    expect(page.get_by_text("operation 3 finishing: feed 0.15 (was 0.12)")).to_be_visible()
    if scripting:
        reader.reload()
        expect(reader.get_by_text("revision 2", exact=False).first).to_be_visible()
        assert overflow(reader) <= 0
        assert violations(reader) == []
    lead.close()
    trainee.close()


def change_the_feed_of_the_third_operation(page: Page) -> None:
    page.get_by_role("link", name="Change this part").tap()
    page.locator('[id="operations.2"] summary').first.tap()
    page.locator('[id="operations.2.feed"]').fill("0.15")
    page.get_by_role("button", name="Work it out").last.tap()
    expect(page.locator("#ask.stale")).to_have_count(0)
    expect(page.locator('[id="operations.2.feed"]')).to_have_value("0.15")
    page.get_by_role("button", name="Save as the next revision").tap()


def opened_in_time(page: Page) -> None:
    """A busy machine may answer a step too late, which the sheet says; a person then opens it again."""
    for _ in range(8):
        expect(page.get_by_role("heading", name="1. ")).to_be_visible()
        if not page.get_by_text("takes longer than a sheet waits for").count():
            return
        page.reload()


def test_the_whole_sleeve_goes_from_the_bar_to_its_sheet_and_to_practice(browser: Browser, server: Serving) -> None:
    """Both ends, knurl, grooves, undercut and thread: worked out, saved, read and practised by a trainee."""
    lead = browser.new_context(**PHONE)  # type: ignore[arg-type]  # sizes and marks
    page = lead.new_page()
    page.set_default_timeout(HARD)
    expect.set_options(timeout=HARD)
    page.goto(server.address + address("/part", WHOLE_SLEEVE))
    expect(page.locator(".headline .value").first).to_contain_text("min")
    assert "Do not run it" not in page.locator("#answer").inner_text()
    page.get_by_role("button", name="Save this part").tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Sleeve")
    opened_in_time(page)
    sheet = page.locator("body")
    for words in ("knurl, first end", "thread, first end", "part-off, first end", "finish, second end", "M30x1.5-6H"):
        expect(sheet).to_contain_text(words)
    trainee = browser.new_context(**PHONE)  # type: ignore[arg-type]
    reader = trainee.new_page()
    reader.set_default_timeout(HARD)
    reader.goto(page.url)
    opened_in_time(reader)
    expect(reader.get_by_role("heading", name="How each operation cuts")).to_be_visible()
    reader.get_by_role("link", name="Practise this step").tap()
    expect(reader.get_by_role("button", name="Check my answers")).to_be_visible()
    assert overflow(reader) <= 0
    lead.close()
    trainee.close()
