"""The pages in a real browser, against the tests' own server: typing, switching, losing the connection, copying."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, Route, expect

from tests.ui import pages
from tests.ui.browser import SIZES, faint, faultless, overflow, wrong_at_any_size
from tests.ui.serving import served

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def site() -> Iterator[str]:
    with served() as address:
        yield address


@pytest.fixture
def page(browser: Browser, site: str) -> Iterator[Page]:
    with faultless(browser, site) as opened:
        yield opened


def number(page: Page) -> Locator:
    return page.locator(".headline .value")


def answer_seat(page: Page) -> None:
    page.goto("/dish")
    page.fill("#radius", "75")
    page.fill("#depth", "4.5")
    expect(number(page)).to_contain_text("75/4.5")


@pytest.mark.parametrize("address", ["/", "/gone", *(f"/state/{state}" for state in pages.STATES)])
def test_no_page_breaks_a_rule_of_accessibility_or_is_wider_than_its_window(
    browser: Browser, site: str, address: str
) -> None:
    context = browser.new_context(base_url=site, color_scheme="light")
    page = context.new_page()
    page.goto(address)
    page.evaluate("() => document.querySelectorAll('.fold').forEach(fold => { fold.open = true; })")
    assert wrong_at_any_size(page) == []
    page.emulate_media(color_scheme="dark")
    assert faint(page) == []
    assert overflow(page) == 0
    context.close()


def test_a_window_of_320_pixels_needs_no_sideways_scroll(page: Page) -> None:
    page.set_viewport_size({"width": 320, "height": 640})
    for state in pages.STATES:
        page.goto(f"/state/{state}")
        assert overflow(page) == 0, state


@pytest.mark.parametrize("size", SIZES.values(), ids=SIZES)
def test_text_of_twice_the_size_stays_within_the_window(page: Page, size: tuple[int, int]) -> None:
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.goto("/state/seat")
    page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
    assert overflow(page) == 0


def test_sketch_answer_and_the_prints_fields_fit_an_upright_tablet(page: Page) -> None:
    page.goto("/state/seat")
    for part in (".sketches", "#answer", ".print"):
        box = page.locator(part).bounding_box()
        assert box is not None
        assert box["y"] + box["height"] <= 1180


def test_sketch_and_answer_stay_in_view_on_a_tablet_on_its_side(page: Page) -> None:
    page.set_viewport_size({"width": 1180, "height": 820})
    page.goto("/state/seat")
    page.mouse.wheel(0, 400)
    expect(number(page)).to_be_in_viewport()
    expect(page.locator(".sketches")).to_be_in_viewport()


def test_the_answer_stays_in_view_on_a_phone_and_opens_upward(page: Page) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto("/state/seat")
    expect(number(page)).to_be_in_viewport()
    expect(page.locator("#more dl")).to_be_hidden()
    page.click("#more summary")
    values, bar = page.locator("#more dl").bounding_box(), number(page).bounding_box()
    assert values is not None
    assert bar is not None
    assert 0 <= values["y"] < bar["y"]


def test_what_the_keyboard_reaches_is_never_under_the_bar_of_a_phone(page: Page) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto("/state/seat")
    page.keyboard.press("Tab")
    reached = 0
    while not page.evaluate("document.activeElement === document.body"):
        covered = page.evaluate(
            """() => { const it = document.activeElement, bar = document.querySelector('#answer');
            return !bar.contains(it) && it.getBoundingClientRect().bottom > bar.getBoundingClientRect().top; }"""
        )
        assert not covered
        reached += 1
        page.keyboard.press("Tab")
    assert reached > 20


def test_typing_brings_the_answer_and_the_address_follows(page: Page) -> None:
    answer_seat(page)
    expect(page).to_have_url(re.compile(r"radius=75&.*depth=4\.5"))
    page.reload()
    expect(number(page)).to_contain_text("75/4.5")
    expect(page.locator("#radius")).to_have_value("75")


def test_the_field_in_hand_keeps_text_caret_and_focus_through_a_swap(page: Page) -> None:
    answer_seat(page)
    page.focus("#depth")
    page.keyboard.press("Home")
    page.keyboard.type("1")
    expect(number(page)).to_contain_text("75/14.5")
    expect(page.locator("#depth")).to_be_focused()
    page.wait_for_function("() => document.activeElement.selectionStart === 1")


def test_an_edit_marks_the_answer_as_old_at_once(page: Page) -> None:
    answer_seat(page)
    page.focus("#depth")
    held: list[Route] = []
    page.route("**/dish?*", lambda route: held.append(route))  # noqa: PLW0108  # a builtin will not do
    with page.expect_request("**/dish?*"):
        marked = page.evaluate(
            """() => { const field = document.activeElement;
            field.dispatchEvent(new Event('input', { bubbles: true }));
            return document.querySelector('#answer').getAttribute('aria-busy'); }"""
        )
    assert marked == "true"
    expect(page.get_by_text("Not current")).to_be_visible()
    held[0].continue_()
    expect(page.get_by_text("Not current")).to_be_hidden()


def test_an_answer_that_was_overtaken_by_an_edit_is_not_shown(page: Page) -> None:
    answer_seat(page)
    held: list[Route] = []
    page.route("**/dish?*radius=80*", lambda route: held.append(route))  # noqa: PLW0108  # a builtin will not do
    with page.expect_request("**/dish?*radius=80*"):
        page.fill("#radius", "80")
    page.fill("#radius", "82")
    expect(number(page)).to_contain_text("82/4.5")
    assert len(held) == 1


def test_half_typed_text_waits_and_leaving_the_field_tells_what_is_wrong(page: Page) -> None:
    answer_seat(page)
    page.focus("#depth")
    page.keyboard.press("End")
    page.keyboard.type("x")
    expect(page.locator(".prompt")).to_have_text("Depth: waiting while you type.")
    expect(page.locator("#depth")).not_to_have_attribute("aria-invalid", "true")
    page.keyboard.press("Tab")
    expect(page.locator("#errors")).to_be_visible()
    expect(page.locator("#depth")).to_have_attribute("aria-invalid", "true")
    expect(page).to_have_title(re.compile("^Error: "))
    expect(page.locator("#mouth_diameter")).to_be_focused()


def test_enter_on_a_wrong_text_takes_the_reader_to_the_summary(page: Page) -> None:
    page.goto("/dish?radius=75")
    page.fill("#depth", "abc")
    page.press("#depth", "Enter")
    expect(page.locator("#errors")).to_be_focused()
    page.click("#errors a")
    expect(page.locator("#depth")).to_be_focused()


def test_the_status_line_is_the_same_element_after_a_swap(page: Page) -> None:
    page.goto("/dish")
    line = page.query_selector("#status")
    page.fill("#radius", "75")
    page.fill("#depth", "4.5")
    expect(page.locator("#status")).to_contain_text("Mouth diameter 75/4.5 mm.")
    assert page.evaluate("line => line === document.querySelector('#status')", line)


def test_a_fold_that_was_opened_stays_open_through_a_swap(page: Page) -> None:
    answer_seat(page)
    page.click("#fold-cut > summary")
    page.fill("#radius", "76")
    expect(number(page)).to_contain_text("76/4.5")
    expect(page.locator("#fold-cut")).to_have_attribute("open", "")


def test_a_convention_switches_in_place_and_back_restores_the_whole_page(page: Page) -> None:
    page.goto("/dish?radius=75&depth=4.5")
    page.click("#units-2")
    page.wait_for_url("**/dish?units=inch")
    expect(page.locator("#radius")).to_have_value("")
    page.go_back()
    expect(number(page)).to_contain_text("75/4.5")
    expect(page.locator("#radius")).to_have_value("75")
    expect(page.locator("header")).to_have_count(1)


def test_a_switch_waits_for_the_answer_to_an_edit(page: Page) -> None:
    answer_seat(page)
    with page.expect_request("**/dish?units=inch"):
        page.fill("#radius", "77")
        page.evaluate("document.querySelector('#units-2').click()")
        expect(page.locator("#radius")).to_have_value("")
    page.go_back()
    expect(page.locator("#radius")).to_have_value("77")


def test_focus_lights_the_dimension_of_its_field(page: Page) -> None:
    page.goto("/state/seat")
    page.focus("#depth")
    expect(page.locator("svg [data-field=depth]")).to_have_class("lit")
    page.focus("#radius")
    expect(page.locator("svg [data-field=depth]")).not_to_have_class("lit")


def test_one_tap_copies_a_result_and_says_so(page: Page) -> None:
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.goto("/state/seat")
    number(page).click()
    expect(page.locator("#status")).to_have_text("Copied 51.176")
    assert page.evaluate("navigator.clipboard.readText()") == "51.176"
    page.click("#section-points tbody tr:nth-child(4) button")
    expect(page.locator("#status")).to_contain_text("Copied Axis")
    assert page.evaluate("navigator.clipboard.readText()").split("\t")[:3] == ["Axis", "0.000", "-4.500"]


def test_copying_works_where_the_browser_has_no_clipboard(page: Page) -> None:
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.goto("/state/seat")
    page.evaluate("() => { navigator.clipboard.writeText = () => Promise.reject(new Error('insecure')); }")
    number(page).click()
    expect(page.locator("#status")).to_have_text("Copied 51.176")
    assert page.evaluate("navigator.clipboard.readText()") == "51.176"
    expect(number(page)).to_be_focused()


def test_the_colours_a_person_chose_stay_on_the_device(page: Page) -> None:
    page.goto("/")
    page.get_by_role("button", name="Dark").click()
    page.goto("/dish")
    assert page.evaluate("document.documentElement.dataset.theme") == "dark"
    expect(page.get_by_role("button", name="Dark")).to_have_attribute("aria-pressed", "true")
    page.get_by_role("button", name="As the device").click()
    page.reload()
    assert page.evaluate("document.documentElement.dataset.theme") is None


def test_the_part_last_worked_on_is_listed_once_and_can_be_removed(page: Page) -> None:
    answer_seat(page)
    page.fill("#radius", "78")
    expect(number(page)).to_contain_text("78/4.5")
    page.goto("/")
    expect(page.locator("#recent a")).to_have_text(["Dish: radius 78, depth 4.5"])
    page.click("#recent a")
    expect(number(page)).to_contain_text("78/4.5")
    page.goto("/")
    page.get_by_role("button", name="Remove").click()
    expect(page.locator("#recent")).to_be_hidden()


def test_an_example_is_not_listed_among_the_parts(page: Page) -> None:
    page.goto("/state/example")
    page.goto("/")
    expect(page.locator("#recent")).to_be_hidden()


def test_a_browser_that_refuses_storage_still_answers(page: Page) -> None:
    page.add_init_script("Object.defineProperty(window, 'localStorage', { get() { throw new Error('refused'); } })")
    answer_seat(page)


def test_without_scripts_enter_gives_the_same_answer(browser: Browser, site: str) -> None:
    context = browser.new_context(base_url=site, java_script_enabled=False)
    page = context.new_page()
    page.goto("/dish")
    page.fill("#radius", "75")
    page.fill("#depth", "4.5")
    page.press("#depth", "Enter")
    expect(number(page)).to_contain_text("75/4.5")
    expect(page.locator("#more dl")).to_be_visible()
    expect(page.get_by_role("button", name="As the device")).to_be_hidden()
    context.close()


def test_a_printed_page_shows_inputs_answer_cautions_opened_working_address_and_date(page: Page) -> None:
    page.goto("/state/seat")
    page.emulate_media(media="print")
    for part in ("#radius", ".headline", ".working math >> nth=0", ".address", ".share img", ".paper"):
        expect(page.locator(part)).to_be_visible()
    expect(page.locator("#cautions .cautions")).to_be_visible()
    expect(page.get_by_role("button", name="Work it out")).to_be_hidden()


def test_the_page_hardly_shifts_while_it_loads(page: Page) -> None:
    page.goto("/state/seat")
    page.wait_for_load_state("load")
    shift = page.evaluate(
        """() => new Promise(done => new PerformanceObserver(list =>
        done(list.getEntries().reduce((sum, entry) => sum + entry.value, 0)))
        .observe({ type: 'layout-shift', buffered: true }) || setTimeout(() => done(0), 300))"""
    )
    assert shift <= 0.02


def test_words_that_are_too_faint_are_found_in_whichever_place_they_stand(page: Page) -> None:
    page.goto("/state/seat")
    assert faint(page) == []
    page.locator("main label span:visible").last.evaluate("span => { span.style.color = '#bbb'; }")
    assert [each.partition(":")[0] for each in faint(page)] == ["color-contrast"]
