"""Machine, chuck, work and tool entered once and kept on the device, in a real browser."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from calc.cutting.machine import Machine, ToolBar, Work
from calc.language.fields import specs
from tests.ui.browser import overflow, violations

pytestmark = pytest.mark.browser

MACHINE = "#fold-machine-and-chuck"
FIRST = {"max_rpm": "1800", "motor_power": "15", "rated_torque": "200"}
SECOND = {"max_rpm": "2500", "motor_power": "11", "chuck_limit": "3200"}


@pytest.fixture
def page(browser: Browser, site: str) -> Iterator[Page]:
    context = browser.new_context(base_url=site, viewport={"width": 820, "height": 1180}, has_touch=True)
    page = context.new_page()
    page.on("console", lambda said: pytest.fail(said.text) if "Content Security Policy" in said.text else None)
    yield page
    context.close()


def opened(page: Page, address: str) -> Page:
    """The page with its machine's group opened, once nothing is asked any more."""
    page.goto(address, wait_until="networkidle")
    page.locator(MACHINE).evaluate("it => { if (!it.open) it.querySelector('summary').click(); }")
    expect(page.locator(MACHINE)).to_have_attribute("open", "")
    return page


def keep(page: Page, address: str, name: str, values: dict[str, str]) -> None:
    opened(page, address)
    for field in (*FIRST, *SECOND):
        page.locator(f"#{field}").fill(values.get(field, ""))
    page.get_by_role("button", name="Keep for this device").tap()
    page.get_by_label("Name of the machine").fill(name)
    page.get_by_role("button", name="Keep", exact=True).tap()
    expect(page.locator("#kept-machine")).to_have_value(name)


def both(page: Page) -> None:
    keep(page, "/force?units=inch&zplus=in", "Lathe 1", FIRST)
    keep(page, "/force?units=mm", "Lathe 2", SECOND)


def test_a_page_without_a_question_begins_with_what_the_device_keeps_and_the_link_carries_it(page: Page) -> None:
    keep(page, "/force?units=mm", "Lathe 2", SECOND)
    opened(page, "/drilling")
    expect(page.locator("#chuck_limit")).to_have_value("3200")
    expect(page.locator("#motor_power-note")).to_contain_text("kept on this device")
    expect(page).to_have_url(re.compile("max_rpm=2500"))


def test_a_kept_value_stands_in_place_of_a_starting_one(page: Page) -> None:
    keep(page, "/force?units=mm", "Lathe 2", SECOND)
    opened(page, "/dish")
    expect(page.locator("#max_rpm")).to_have_value("2500")
    expect(page.locator("#max_rpm-note")).not_to_contain_text("starting value")
    expect(page.locator("#motor_power")).to_have_value("11")
    expect(page.locator("#feed-note")).to_contain_text("starting value")
    expect(page.get_by_role("link", name="Show an example")).to_be_visible()


def test_what_was_kept_in_inches_reads_right_on_a_page_in_millimetres(page: Page) -> None:
    keep(page, "/force?units=inch&zplus=in", "Lathe 1", FIRST)
    opened(page, "/force?units=mm")
    expect(page.locator("#motor_power")).to_have_value("15 hp")
    # 15 hp of 550 ft lbf/s are 11.186 kW (NIST SP 811)
    expect(page.locator("#motor_power-note")).to_contain_text("read as 11.2 kW")
    expect(page.locator("#rated_torque")).to_have_value("200 lbf ft")


def test_the_conventions_of_the_machine_are_those_of_a_page_that_asks_for_none(page: Page) -> None:
    keep(page, "/force?units=inch&zplus=in", "Lathe 1", FIRST)
    page.goto("/taper")
    expect(page).to_have_url(re.compile(r"/taper\?units=inch&x=diameter&zplus=in$"))
    page.goto("/taper?units=mm")
    expect(page).to_have_url(re.compile(r"/taper\?units=mm$"))


def test_a_shared_link_is_never_changed_by_what_its_receiver_keeps(page: Page) -> None:
    keep(page, "/force?units=inch&zplus=in", "Lathe 1", FIRST)
    address = "/force?material=C45&depth=2&feed=0.3&surface_speed=180&nose_radius=6&units=mm"
    opened(page, address)
    expect(page.locator("#max_rpm")).to_have_value("")
    expect(page.locator("#motor_power")).to_have_value("")
    assert page.url.endswith(address)


def test_another_machine_brings_its_values_its_conventions_and_nothing_of_the_one_before(page: Page) -> None:
    both(page)
    opened(page, "/force?material=C45&depth=2&feed=0.3&surface_speed=180&nose_radius=6&max_rpm=2500&chuck_limit=3200")
    page.locator("#kept-machine").select_option("Lathe 1")
    expect(page).to_have_url(re.compile("units=inch.*zplus=in"))
    expect(page.locator("#max_rpm")).to_have_value("1800")
    expect(page.locator("#chuck_limit")).to_have_value("")
    expect(page.locator("#depth")).to_have_value("2mm")  # the question itself keeps its meaning
    expect(page.locator("#motor_power-note")).to_contain_text("kept on this device")
    expect(page.locator("#kept-machine")).to_be_focused()


def test_what_another_page_knows_of_the_machine_joins_what_is_kept(page: Page) -> None:
    keep(page, "/force?units=mm", "Lathe 2", SECOND)
    page.goto("/boring-cut", wait_until="networkidle")
    page.locator("#fold-boring-bar > summary").tap()
    page.locator("#stick_out").fill("80")
    page.locator(f"{MACHINE} > summary").tap()
    page.get_by_role("button", name="Keep for this device").tap()
    page.get_by_role("button", name="Keep", exact=True).tap()
    page.goto("/boring-cut", wait_until="networkidle")
    expect(page.locator("#stick_out")).to_have_value("80")
    expect(page.locator("#max_rpm")).to_have_value("2500")


def test_forgetting_removes_one_machine_and_leaves_the_other(page: Page) -> None:
    both(page)
    page.get_by_role("button", name="Forget").tap()
    expect(page.locator("#kept-machine option")).to_have_text(["none chosen", "Lathe 1"])
    expect(page.locator(".kept")).to_have_count(0)
    opened(page, "/drilling")
    expect(page.locator("#max_rpm")).to_have_value("")


def test_escape_keeps_nothing(page: Page) -> None:
    opened(page, "/force?units=mm")
    page.get_by_role("button", name="Keep for this device").tap()
    page.get_by_label("Name of the machine").fill("Lathe 2")
    page.keyboard.press("Escape")
    expect(page.locator("#keep")).to_be_hidden()
    assert page.evaluate("localStorage.getItem('chuckside.machines')") is None


def test_enter_keeps_and_the_button_has_the_focus_again(page: Page) -> None:
    opened(page, "/force?units=mm")
    page.get_by_role("button", name="Keep for this device").tap()
    page.get_by_label("Name of the machine").fill("Lathe 2")
    page.keyboard.press("Enter")
    expect(page.locator("#status")).to_have_text("Kept as Lathe 2 on this device.")
    expect(page.get_by_role("button", name="Keep for this device")).to_be_focused()


@pytest.mark.parametrize("width", [820, 390, 320])
def test_group_and_dialog_break_no_rule_and_are_large_enough_to_touch(page: Page, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 844})
    keep(page, "/force?units=mm", "Lathe 2", SECOND)
    expect(page.locator("#ask.stale")).to_have_count(0)
    assert violations(page) == []
    for button in page.locator("#keeping :is(button, select)").all():
        assert (button.bounding_box() or {"height": 0})["height"] >= 54
    page.get_by_role("button", name="Keep for this device").tap()
    expect(page.locator("#keep")).to_be_visible()
    assert violations(page) == []
    assert overflow(page) == 0


def test_a_browser_that_refuses_storage_says_so_and_a_spoilt_memory_is_no_harm(page: Page) -> None:
    page.goto("/force?units=mm")
    page.evaluate("localStorage.setItem('chuckside.machines', '{\"list\": 3')")
    opened(page, "/force")
    page.evaluate("() => { Storage.prototype.setItem = () => { throw new Error('refused'); }; }")
    page.get_by_role("button", name="Keep for this device").tap()
    page.get_by_label("Name of the machine").fill("Lathe 2")
    page.get_by_role("button", name="Keep", exact=True).tap()
    expect(page.locator("#status")).to_have_text("This browser does not allow keeping.")


def test_without_scripts_nothing_of_it_is_seen(browser: Browser, site: str) -> None:
    context = browser.new_context(base_url=site, java_script_enabled=False)
    page = context.new_page()
    page.goto("/force")
    assert page.locator("#keeping").is_hidden()
    context.close()


def test_what_can_be_kept_is_what_machine_work_and_tool_declare(page: Page) -> None:
    page.goto("/force")
    names = (page.locator("#keeping").get_attribute("data-names") or "").split()
    assert set(names) == {spec.name for declared in (Machine, Work, ToolBar) for spec in specs(declared)}
    assert len(names) == len(set(names))
