"""The contour page in a real browser: a print entered row by row on a phone, with and without a script, by keyboard."""

from __future__ import annotations

import re
from collections.abc import Iterator
from urllib.parse import parse_qs, urlencode, urlsplit

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from calc.questions.shapes.contour import FEATURE
from tests.ui.browser import faint, faultless, overflow, violations, wrong_at_any_size

pytestmark = pytest.mark.browser

STEM = "/contour?" + urlencode(FEATURE.example)
TWO = "/contour?contour=s_x20_z0*l_z-10_x20*a_r10_x30_z-14"
MOVING = "/contour?contour=s_x0_z0*f_x20*c1*t_dz-10*a_r5"
WRONG = "/contour?contour=s_x0_z0*f_x20*t_z-10*f_x30*t_z-20_dz-12"
STATES = {"empty": "/contour", "stem": STEM, "several": TWO, "moving": MOVING, "wrong": WRONG}
OPEN_ALL = "() => document.querySelectorAll('details').forEach(fold => { fold.open = true; })"


@pytest.fixture
def phone(browser: Browser, site: str) -> Iterator[Page]:
    with faultless(browser, site, (390, 844), touch=True) as page:
        yield page


def field(row: int, name: str) -> str:
    return f'[id="rows.{row}.{name}"]'


def add(page: Page, kind: str) -> None:
    """Tap a kind below the rows; the new row's first field has the focus."""
    expect(page.locator("#ask.stale")).to_have_count(0)  # on a busy machine the answer to the last key is still coming
    rows = page.locator(".rows > li").count()
    page.get_by_role("group", name="Add to the end").get_by_role("button", name=kind, exact=True).tap()
    expect(page.locator(".rows > li")).to_have_count(rows + 1)
    expect(page.locator(f'[id="rows.{rows}"] input:not([type=hidden])').first).to_be_focused()


def type_in(page: Page, row: int, name: str, text: str) -> None:
    page.locator(field(row, name)).tap()
    page.keyboard.type(text)


def wait_for_contour(page: Page, text: str) -> None:
    """The address is that of a contour: it follows the answer."""
    page.wait_for_url(lambda url: parse_qs(urlsplit(url).query).get("contour", [""])[0] == text)


def enter_stem(page: Page) -> None:
    """The stem of the levelling foot, from its free end, as its print gives it."""
    page.goto("/contour")
    add(page, "Face")
    add(page, "Chamfer")
    page.keyboard.type("1")
    add(page, "Line")
    page.keyboard.type("22")
    type_in(page, 3, "z", "-22")
    page.locator('[id="rows.3"]').get_by_text("Other dimensions").tap()
    type_in(page, 3, "tp", "1:10")
    add(page, "Face")
    page.keyboard.type("24 g6")
    add(page, "Cylinder")
    type_in(page, 5, "dz", "-38")
    add(page, "Face")
    page.keyboard.type("31")
    add(page, "Cylinder")
    add(page, "Arc")
    page.keyboard.type("8")
    page.locator(field(8, "smooth")).tap()
    add(page, "Line")
    page.keyboard.type("41")
    type_in(page, 9, "z", "-90")
    type_in(page, 9, "ha", "30")
    page.locator(field(9, "smooth")).tap()


def test_a_setter_enters_the_stem_on_a_phone_and_reads_what_the_print_leaves_out(phone: Page) -> None:
    """Taper 1:10 over 22 from Ø22: Ø19.8 at the small end; 24 g6 at mid-limit, ISO 286-1; R 8 between Ø31 and 30°."""
    enter_stem(phone)
    expect(phone.locator(".headline .value")).to_contain_text("10 points, 3 solved")
    expect(phone.locator(".headline .value")).to_be_in_viewport()
    expect(phone.locator('[id="rows.7"] summary .solved').first).to_contain_text("Z -79.196")
    expect(phone.locator('[id="rows.8"] summary .solved').first).to_contain_text("X 33.144, Z -83.196")
    expect(phone.locator('[id="rows.4.x-note"]')).to_contain_text("X23.986 mm")
    expect(phone.locator(".sketches svg")).to_be_visible()
    wait_for_contour(phone, FEATURE.example["contour"])
    phone.reload()
    expect(phone.locator(".headline .value")).to_contain_text("10 points, 3 solved")
    assert overflow(phone) == 0


def test_a_row_that_a_busy_server_refuses_is_added_when_it_is_asked_again(phone: Page) -> None:
    phone.goto("/contour")
    refused: list[str] = []

    def refuse_once(route: Route) -> None:
        if refused:
            route.fallback()
        else:
            refused.append(route.request.url)
            route.fulfill(status=503, headers={"Retry-After": "1"})

    phone.route("**/contour?*", refuse_once)
    add(phone, "Face")
    assert "do=" in refused[0]


def test_the_sketch_grows_with_the_rows(phone: Page) -> None:
    phone.goto("/contour")
    add(phone, "Face")
    phone.keyboard.type("20")
    expect(phone.locator(".sketches svg")).to_contain_text("P2")
    add(phone, "Arc")
    expect(phone.locator('[id="rows.2"] .moves')).to_contain_text("Element 2 can still move")
    expect(phone.locator(".sketches svg")).to_contain_text("P2")


def test_nine_rows_are_scanned_on_two_screens_of_a_phone_and_each_is_a_thumb_high(phone: Page) -> None:
    phone.goto(STEM)
    rows = phone.locator(".rows").bounding_box()
    assert rows is not None
    assert rows["height"] < 2 * (844 - 150)
    heights = phone.eval_on_selector_all(
        ".rows > li > details > summary", "all => all.map(it => it.getBoundingClientRect().height)"
    )
    assert min(heights) >= 56


def test_what_is_touched_is_56_pixels_high(phone: Page) -> None:
    phone.goto(STEM)
    phone.evaluate(OPEN_ALL)
    low = phone.eval_on_selector_all(
        ".rows summary, .rows .box, .rows .mark, .rows label:has([type=radio]), .rows button, .acts-row button",
        """all => all.filter(it => it.checkVisibility() && it.getBoundingClientRect().height < 54)
        .map(it => it.outerHTML.slice(0, 80))""",
    )
    assert low == []


def test_limits_of_size_can_be_read_in_their_field(phone: Page) -> None:
    phone.goto("/contour?contour=s_x0_z0*f_x24%20-0.007/-0.020*t_z-38")
    phone.locator('[id="rows.1"] summary').first.tap()
    cut = phone.eval_on_selector(field(1, "x"), "it => it.scrollWidth - it.clientWidth")
    assert cut <= 0


def test_solved_values_are_not_cut_off_in_their_fields(phone: Page) -> None:
    phone.goto(STEM)
    phone.evaluate(OPEN_ALL)
    cut = phone.eval_on_selector_all(
        ".rows output", "all => all.filter(it => it.scrollWidth > it.clientWidth).map(it => it.textContent)"
    )
    assert cut == []


def test_on_paper_nothing_of_the_contour_is_cut_off(phone: Page) -> None:
    phone.set_viewport_size({"width": 680, "height": 1000})  # A4 less its margins
    phone.goto(STEM)
    phone.emulate_media(media="print")
    assert overflow(phone) == 0


def test_back_takes_an_action_back_and_forward_does_it_again(phone: Page) -> None:
    phone.goto("/contour?contour=s_x0_z0*f_x20*t_z-10*f_x30")
    phone.locator('[id="rows.2"] summary').first.tap()
    phone.locator('[id="rows.2"]').get_by_text("Move, remove").tap()
    phone.get_by_role("button", name="Remove of Cylinder 2").tap()
    expect(phone.locator(".rows > li")).to_have_count(3)
    wait_for_contour(phone, "s_x0_z0*f_x20*f_x30")
    phone.go_back()
    expect(phone.locator(".rows > li")).to_have_count(4)
    expect(phone.locator(field(2, "z"))).to_have_value("-10")
    phone.go_forward()
    expect(phone.locator(".rows > li")).to_have_count(3)


def test_moving_and_inserting_take_the_focus_along_and_keep_every_value(phone: Page) -> None:
    phone.goto("/contour?contour=s_x0_z0*f_x20*t_z-10*f_x30")
    phone.locator('[id="rows.2"] summary').first.tap()
    phone.locator('[id="rows.2"]').get_by_text("Move, remove").tap()
    phone.get_by_role("button", name="Down of Cylinder 2").tap()
    expect(phone.locator(field(3, "z"))).to_be_focused()
    wait_for_contour(phone, "s_x0_z0*f_x20*f_x30*t_z-10")
    expect(phone.locator(field(3, "z"))).to_have_value("-10")
    phone.locator('[id="rows.2"] summary').first.tap()
    phone.locator('[id="rows.2"]').get_by_text("Move, remove").tap()
    phone.get_by_role("group", name="Insert after Face 2").get_by_role("button", name="Chamfer").tap()
    expect(phone.locator(field(3, "size"))).to_be_focused()
    phone.keyboard.type("0.5")
    expect(phone.locator(".headline .value")).to_be_visible()
    wait_for_contour(phone, "s_x0_z0*f_x20*f_x30*c0.5*t_z-10")


def test_the_stem_is_entered_by_keyboard_alone(browser: Browser, site: str) -> None:
    page = browser.new_page(base_url=site, viewport={"width": 1180, "height": 820})
    page.goto("/contour")

    def press(name: str) -> None:
        button = page.get_by_role("group", name="Add to the end").get_by_role("button", name=name, exact=True)
        for _ in range(60):
            if button.evaluate("it => it === document.activeElement"):
                break
            page.keyboard.press("Tab")
        page.keyboard.press("Enter")

    press("Face")
    expect(page.locator(field(1, "x"))).to_be_focused()
    page.keyboard.type("20")
    press("Cylinder")
    expect(page.locator(field(2, "z"))).to_be_focused()
    page.keyboard.type("-10")
    page.keyboard.press("Enter")
    expect(page.locator(".headline .value")).to_contain_text("3 points")
    expect(page.locator("#section-points")).to_contain_text("20.000")
    wait_for_contour(page, "s_x0_z0*f_x20*t_z-10")
    page.close()


def test_enter_in_a_field_works_it_out_and_does_nothing_else(phone: Page) -> None:
    phone.goto("/contour?contour=s_x0_z0*f_x20*t_z-10")
    phone.locator('[id="rows.2"] summary').first.tap()
    phone.locator(field(2, "z")).fill("-12")
    phone.keyboard.press("Enter")
    expect(phone.locator("#answer")).to_contain_text("12.000 mm")
    expect(phone.locator(".rows > li")).to_have_count(3)
    wait_for_contour(phone, "s_x0_z0*f_x20*t_z-12")


def test_without_a_script_rows_are_added_filled_and_answered(browser: Browser, site: str) -> None:
    context = browser.new_context(base_url=site, viewport={"width": 390, "height": 844}, java_script_enabled=False)
    page = context.new_page()
    page.goto("/contour")
    page.get_by_role("group", name="Add to the end").get_by_role("button", name="Face").click()
    page.fill(field(1, "x"), "20")
    page.get_by_role("group", name="Add to the end").get_by_role("button", name="Cylinder").click()
    page.fill(field(2, "z"), "-10")
    page.press(field(2, "z"), "Enter")
    expect(page.locator(".headline .value")).to_contain_text("3 points")
    expect(page.locator("#section-points")).to_contain_text("20.000")
    wait_for_contour(page, "s_x0_z0*f_x20*t_z-10")
    page.locator('[id="rows.2"] summary').first.click()
    page.locator('[id="rows.2"]').get_by_text("Move, remove").click()
    page.get_by_role("button", name="Up of Cylinder 2").click()
    wait_for_contour(page, "s_x0_z0*t_z-10*f_x20")
    page.wait_for_url(lambda url: urlsplit(url).fragment == "rows.1")
    context.close()


def test_another_solution_is_drawn_by_one_tap_and_stays_with_the_address(phone: Page) -> None:
    phone.goto(TWO)
    first = phone.locator(".sketches svg").inner_html()
    phone.locator(".solutions a").nth(1).tap()
    expect(phone.locator(".solutions a").nth(1)).to_have_attribute("aria-current", "true")
    phone.wait_for_function("it => (document.querySelector('.sketches svg') ?? {}).innerHTML !== it", arg=first)
    expect(phone).to_have_url(re.compile("chosen="))
    phone.reload()
    expect(phone.locator(".solutions a").nth(1)).to_have_attribute("aria-current", "true")
    phone.locator('[id="rows.2"] summary').first.tap()
    phone.locator(field(2, "z")).fill("-14.01")
    expect(phone.locator(".solutions a").nth(1)).to_have_attribute("aria-current", "true")
    phone.go_back()


def test_what_is_half_typed_is_not_wrong_yet_and_what_is_submitted_is(phone: Page) -> None:
    phone.goto("/contour?contour=s_x0_z0*f_x20*t_z-10")
    phone.locator('[id="rows.1"] summary').first.tap()
    phone.locator(field(1, "x")).fill("")
    phone.locator(field(1, "x")).type("1/")
    expect(phone.locator(".prompt")).to_contain_text("waiting while you type")
    expect(phone.locator('[id="rows.1"] .wrong')).to_have_count(0)
    phone.keyboard.press("Enter")
    expect(phone.locator('[id="rows.1"] .wrong')).to_have_count(1)
    expect(phone.locator("#errors")).to_be_focused()
    phone.locator("#errors a").first.tap()
    expect(phone.locator(field(1, "x"))).to_be_in_viewport()


@pytest.mark.parametrize("size", [(820, 1180), (1180, 820)], ids=["upright", "on its side"])
def test_the_sketch_stays_in_view_on_a_tablet_and_covers_nothing_that_the_keyboard_reaches(
    browser: Browser, site: str, size: tuple[int, int]
) -> None:
    page = browser.new_page(base_url=site, viewport={"width": size[0], "height": size[1]})
    page.goto(STEM)
    page.locator('[id="rows.9"] summary').first.click()
    page.locator(field(9, "x")).focus()
    for key in ["Tab"] * 6 + ["Shift+Tab"] * 18:
        page.keyboard.press(key)
        expect(page.locator(".sketches svg").first).to_be_in_viewport(ratio=0.9)
        covered = page.evaluate(
            """() => { const it = document.activeElement.getBoundingClientRect();
            const sketch = document.querySelector('.sketches').getBoundingClientRect();
            const beside = it.left >= sketch.right || it.right <= sketch.left;
            const apart = beside || it.top >= sketch.bottom || it.bottom <= sketch.top;
            return !apart && !document.querySelector('.sketches').contains(document.activeElement); }"""
        )
        assert not covered
    page.close()


@pytest.mark.parametrize("state", STATES)
def test_no_state_breaks_a_rule_of_accessibility(browser: Browser, site: str, state: str) -> None:
    page = browser.new_page(base_url=site)
    page.goto(STATES[state])
    page.evaluate(OPEN_ALL)
    assert wrong_at_any_size(page) == []
    page.emulate_media(color_scheme="dark")
    assert faint(page) == []
    page.close()


def test_a_swap_breaks_no_rule_either(phone: Page) -> None:
    phone.goto(STEM)
    phone.get_by_role("group", name="Add to the end").get_by_role("button", name="Arc", exact=True).tap()
    expect(phone.locator(".rows > li")).to_have_count(11)
    assert violations(phone) == []


@pytest.mark.parametrize("state", STATES)
def test_320_pixels_and_text_of_twice_the_size_need_no_sideways_scroll(phone: Page, state: str) -> None:
    phone.set_viewport_size({"width": 320, "height": 640})
    phone.goto(STATES[state])
    phone.evaluate(OPEN_ALL)
    assert overflow(phone) == 0
    phone.set_viewport_size({"width": 390, "height": 844})
    phone.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
    assert overflow(phone) == 0


def test_the_files_are_linked_where_the_part_is_shared(phone: Page) -> None:
    phone.goto(STEM)
    phone.locator("#section-share summary").tap()
    with phone.expect_download() as given:
        phone.get_by_role("link", name="Points as CSV").tap()
    assert re.fullmatch(r"contour-points\.csv", given.value.suggested_filename)


def test_a_tapped_dimension_leads_to_the_field_of_its_row_and_back(browser: Browser, site: str) -> None:
    page = browser.new_page(base_url=site)
    page.goto("/contour?contour=s_x0_z0*f_x20*t_z-30*f_x40*t_dz-20")
    page.locator('.sketch .dim[data-field="rows.2.z"] text').click()
    expect(page.locator('[name="rows.2.z"]')).to_be_focused()
    expect(page.locator(".sketch .dim.lit text")).to_have_text("30")
    page.close()
