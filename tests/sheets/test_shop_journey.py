"""The journey on a phone: a lead keeps a tool and a cut, and a part takes both with a tap each."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from server.settings import Settings
from tests.sheets.serving import Serving, served
from tests.ui.browser import overflow, violations

pytestmark = pytest.mark.browser

PART = "/part?outside=s_x0_z0*f_x42*t_z-40&material=42CrMo4&bar_diameter=45&operations=kind:rough~depth:2"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    folder = tmp_path_factory.mktemp("shop")
    with served(Settings(data=folder / "data"), folder / "log") as server:
        yield server


def keep_both(page: Page, server: Serving) -> None:
    """Begin the lists, with a tool and a proven cut."""
    page.goto(f"{server.address}/shop")
    page.get_by_label("These are our shop's lists").check()
    page.get_by_role("button", name="Begin the shop's list").tap()
    page.get_by_role("link", name="Add a tool").tap()
    page.get_by_label("Kind of tool").select_option("turning")
    page.get_by_label("Insert designation").fill("CNMG 120408")
    page.get_by_label("Holder or bar designation").fill("PCLNR 2525M12")
    page.get_by_label("Place in the turret").fill("3")
    page.get_by_role("button", name="Keep this tool").tap()
    expect(page.get_by_role("status")).to_contain_text("Added: T3, CNMG 120408")
    page.get_by_role("link", name="Add a proven cut").tap()
    page.get_by_label("Material", exact=True).fill("1.7225")
    page.get_by_label("Surface speed").fill("abc")
    page.get_by_role("button", name="Keep this proven cut").tap()
    expect(page.get_by_label("Surface speed")).to_have_attribute("aria-invalid", "true")
    assert (violations(page), overflow(page)) == ([], 0)
    page.get_by_label("Surface speed").fill("180")
    page.get_by_label("Feed", exact=False).first.fill("0.25")
    page.get_by_label("Proved on").fill("2026-11-03")
    page.get_by_role("button", name="Keep this proven cut").tap()
    expect(page.get_by_role("status")).to_contain_text("Added: 1.7225")


def test_a_part_takes_a_tool_and_a_proven_cut_with_a_tap_each(browser: Browser, server: Serving) -> None:
    phone = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    page = phone.new_page()
    keep_both(page, server)
    assert (violations(page), overflow(page)) == ([], 0)
    page.goto(server.address + PART)
    row = page.locator('[id="operations.0"]')
    expect(page.locator("#answer .picks")).to_contain_text("Proven 2026-11-03 on 1.7225: 180 m/min, 0.25 mm/rev")
    row.locator("summary").first.tap()
    row.get_by_role("button", name="T3, CNMG 120408, PCLNR 2525M12").tap()
    expect(page.locator('[id="operations.0.holder"]')).to_have_value("PCLNR 2525M12")
    row.get_by_role("button", name="Proven 2026-11-03").tap()
    expect(page.locator('[id="operations.0.surface_speed"]')).to_have_value("180")
    expect(page.locator("#answer .headline")).to_be_visible()
    assert (violations(page), overflow(page)) == ([], 0)
    row.get_by_role("button", name="Keep this as proven").tap()
    expect(page.get_by_label("Insert designation")).to_have_value("CNMG 120408")
    page.get_by_role("button", name="Keep this proven cut").tap()
    expect(row.locator("button", has_text="with CNMG 120408: 180 m/min")).to_have_count(1)
    phone.close()
