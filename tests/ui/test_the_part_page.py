"""The page of a whole part in a real browser: the seat entered on a phone from an empty page, played, kept points."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from calc.questions.part.examples import SLEEVE
from server.links import address
from tests.ui.browser import SIZES, overflow, wrong_at_any_size

pytestmark = pytest.mark.browser
HARD = 20_000
KNURL = "kind:knurl~size:1~surface_speed:25~feed:0.2~from_row:2~to_row:2"
EVERY_CHOICE = {**SLEEVE, "operations": f"{SLEEVE['operations']}*kind:centre~size:4~use:off*{KNURL}"}
"""The sleeve with a centre drill and a knurl too, whose choices are the longest."""


# Asked by the page itself at each frame: a picture that is played stays for a moment only.
SEEN = """words => [...document.querySelectorAll('.stop figure')]
  .some(it => it.checkVisibility() && it.textContent.includes(words))"""


# The choices of opened operations that are wider than the box that shows the chosen one, its arrow (20 px) left out.
CUT_OFF = """() => {
  document.querySelectorAll('[id^="operations."] details').forEach(row => { row.open = true; });
  const pen = document.createElement('canvas').getContext('2d');
  return [...document.querySelectorAll('[id^="operations."] select')].flatMap(box => {
    const style = getComputedStyle(box);
    pen.font = style.font;
    const room = box.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - 20;
    return [...box.options].filter(it => pen.measureText(it.label).width > room).map(it => it.label);
  });
}"""


@pytest.fixture
def phone(browser: Browser, site: str) -> Iterator[Page]:
    context = browser.new_context(base_url=site, viewport={"width": 390, "height": 844}, has_touch=True)
    page = context.new_page()
    page.set_default_timeout(HARD)
    expect.set_options(timeout=HARD)
    yield page
    context.close()


def fill(page: Page, name: str, text: str) -> None:
    page.locator(f'[id="{name}"]').fill(text)


def add(page: Page, kind: str) -> None:
    """Add a row to the outside; its first field has the focus."""
    rows = page.locator('section[aria-labelledby="outside-head"] .rows > li')
    expect(page.locator("#ask.stale")).to_have_count(0)  # on a busy machine the answer to the last key is still coming
    count = rows.count()
    page.locator('section[aria-labelledby="outside-head"]').get_by_role("button", name=kind, exact=True).last.tap()
    expect(rows).to_have_count(count + 1)


def test_a_lead_enters_the_seat_on_a_phone_from_an_empty_page(phone: Page) -> None:
    """R 75, 4.5 deep, edge 0.8, bar 60: faced, and the time and the stock after it stand on the page."""
    phone.goto("/part")
    fill(phone, "rows.0.z", "-4.5")
    add(phone, "Arc")
    fill(phone, "rows.1.r", "75")
    fill(phone, "rows.1.z", "0")
    phone.locator('[id="rows.1"]').get_by_text("Other dimensions").tap()
    fill(phone, "rows.1.cx", "0")
    add(phone, "Edge or fillet")
    fill(phone, "rows.2.size", "0.8")
    add(phone, "Face")
    fill(phone, "rows.3.x", "60")
    add(phone, "Cylinder")
    fill(phone, "rows.4.z", "-20")
    phone.locator("#fold-part-material-and-bar summary").tap()
    for name, text in (("material", "C45"), ("bar_diameter", "60"), ("face_stock", "1")):
        fill(phone, name, text)
    phone.locator("#fold-machine-and-chuck summary").tap()
    fill(phone, "max_rpm", "2000")
    phone.locator('[id="operations.0.kind"]').select_option("face")
    cut = {"insert": "CNMG 120408", "holder": "PCLNR 2525M12", "surface_speed": "180", "feed": "0.25", "depth": "1"}
    for name, text in cut.items():
        fill(phone, f"operations.0.{name}", text)
    phone.get_by_role("button", name="Work it out").last.tap()
    expect(phone.locator(".headline .value")).to_contain_text("min")
    expect(phone.locator("#section-operations")).to_contain_text("1 face, first end")
    expect(phone.locator(".stop figure:visible figcaption")).to_contain_text("limit 2000 1/min")
    assert overflow(phone) <= 0


def test_an_operation_is_copied_moved_and_left_out_by_touch(phone: Page) -> None:
    phone.goto(address("/part", SLEEVE))
    heads = phone.locator('[id="operations"] > .rows > li summary h4')
    expect(heads).to_have_text(["1 facing", "2 roughing", "3 finishing", "4 boring", "5 boring"])
    phone.locator('[id="operations.2"] summary').tap()
    phone.locator('[id="operations.2"]').get_by_role("button", name="Copy").tap()
    expect(heads).to_have_text(["1 facing", "2 roughing", "3 finishing", "4 finishing", "5 boring", "6 boring"])
    phone.locator('[id="operations.3"]').get_by_role("button", name="Leave out").tap()
    expect(phone.locator('[id="operations.3"] .told')).to_contain_text("left out")
    phone.go_back()
    expect(phone.locator('[id="operations.3"] .told')).not_to_contain_text("left out")


def test_a_part_is_played_by_touch_and_the_step_stands_in_the_link(phone: Page) -> None:
    phone.goto(address("/part", {**SLEEVE, "shown_step": "2"}))
    shown = phone.locator(".stop figure:visible")
    expect(shown).to_contain_text("2 of 9")
    shown.get_by_text("Next").tap()
    expect(shown).to_contain_text("3 of 9")
    expect(phone).to_have_url(re.compile("shown_step=3"))
    phone.get_by_role("button", name="Play").tap()
    phone.wait_for_function(SEEN, arg="5 of 9")
    phone.get_by_role("button", name="Stop").tap()


def test_without_a_script_back_and_next_step_through(browser: Browser, site: str) -> None:
    context = browser.new_context(base_url=site, java_script_enabled=False)
    page = context.new_page()
    page.goto(address("/part", {**SLEEVE, "shown_step": "2"}), timeout=HARD)
    page.locator(".stop figure:visible").get_by_text("Back").click()
    expect(page.locator(".stop figure:visible")).to_contain_text("1 of 9")
    expect(page.get_by_role("button", name="Play")).to_be_hidden()
    context.close()


def test_points_that_were_ticked_are_so_after_a_reload(phone: Page) -> None:
    phone.goto("/dish/one-by-one?radius=75&depth=4.5")
    phone.locator(".point:visible .tick").tap()
    phone.locator(".point:visible").get_by_text("Next").tap()
    expect(phone.locator(".point:visible h2")).to_contain_text("2 of")
    phone.reload()
    expect(phone.locator(".point:visible h2")).to_contain_text("2 of")
    phone.locator(".point:visible").get_by_text("Back").tap()
    expect(phone.locator(".point:visible .tick input")).to_be_checked()


@pytest.mark.parametrize("layout", ["", "/operator", "/one-by-one"])
def test_every_layout_of_a_part_is_sound_at_every_size(browser: Browser, site: str, layout: str) -> None:
    context = browser.new_context(base_url=site, color_scheme="dark")
    page = context.new_page()
    page.goto(address(f"/part{layout}", EVERY_CHOICE), timeout=HARD)
    assert wrong_at_any_size(page) == []
    for width, height in SIZES.values() if not layout else ():
        page.set_viewport_size({"width": width, "height": height})
        expect(page.locator(".headline .value")).to_be_in_viewport(ratio=1)
        assert page.evaluate(CUT_OFF) == []
    context.close()
