"""A field that is typed in keeps its place, and both it and the number stay in sight with the keyboard up."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, expect

from server.catalogue import PAGES
from server.links import address
from tests.ui.browser import SIZES
from tests.ui.hand import ANSWERED, KEYBOARD_UP, SHIFTS, TYPE, shifted, shifts, typed_last

pytestmark = pytest.mark.browser

MOST = 8.0
"""px: more is felt."""

# One page of each make: a panel with many values, with cautions, with plots, with choices, with nothing but the fields.
# `python -m tests.bench.bench_hand` goes through all of them.
SAMPLE = ("/dish", "/taper", "/spindle", "/force", "/work-stiffness", "/grip", "/tool-life", "/compare")


@pytest.mark.parametrize("size", KEYBOARD_UP.values(), ids=KEYBOARD_UP)
def test_what_is_typed_in_stays_under_the_finger_and_the_number_in_sight(
    browser: Browser, site: str, size: tuple[int, int]
) -> None:
    context = browser.new_context(base_url=site, viewport={"width": size[0], "height": size[1]})
    page = context.new_page()
    felt = {path: typed_last(page, path, PAGES[path]) for path in SAMPLE}
    context.close()
    assert None not in felt.values()
    assert {path: one for path, one in felt.items() if one and abs(one.moved) > MOST} == {}
    assert {path: one for path, one in felt.items() if one and not (one.field_seen and one.headline_seen)} == {}


@pytest.mark.parametrize("size", [(390, 844), (820, 1180)], ids=["phone", "tablet"])
def test_no_layout_shifts_while_a_page_loads_and_while_its_answer_changes(
    browser: Browser, site: str, size: tuple[int, int]
) -> None:
    """As the browser counts it: 0, also while the answer says that it is not current."""
    page = browser.new_page(base_url=site, viewport={"width": size[0], "height": size[1]})
    page.add_init_script(SHIFTS)
    page.goto("/dish?radius=75&depth=4.5")
    page.locator("#radius").evaluate(
        "it => { it.focus(); it.value = 80; it.dispatchEvent(new Event('input', { bubbles: true })); }"
    )
    expect(page.locator(".headline .value")).to_contain_text("52.906")  # 2 √(4.5 (160 − 4.5))
    expect(page.locator(".headline .old")).to_be_hidden()
    assert shifted(page)[0] == 0
    page.close()


FELT = 0.005
"""As the browser counts it: a unit behind its number moves by a digit. A panel that grew by a caution made 0.04."""


@pytest.mark.parametrize("size", SIZES.values(), ids=SIZES)
def test_a_caution_or_a_sentence_at_a_field_that_comes_or_goes_moves_nothing(
    browser: Browser, site: str, size: tuple[int, int]
) -> None:
    """A hole too deep for its drill, a speed over the spindle's limit, no number: panel, number and fields stay."""
    page = browser.new_page(base_url=site, viewport={"width": size[0], "height": size[1]})
    page.add_init_script(SHIFTS)
    found = {path: shifts(page, path, PAGES[path]) for path in ("/hole", "/spindle")}
    page.close()
    assert {path: these for path, these in found.items() if max(amount for amount, _ in these.values()) > FELT} == {}


def test_a_closed_group_says_that_a_field_in_it_is_wrong_and_opens_for_who_goes_there(
    browser: Browser, site: str
) -> None:
    """Not while somebody types elsewhere: everything below it would move."""
    page = browser.new_page(base_url=site, viewport={"width": 820, "height": 1180})
    page.goto(address("/parting", PAGES["/parting"].example))
    fold = page.locator("#fold-edge-path-chamfers")
    page.locator("#outer_diameter").evaluate(TYPE, "1/2")
    page.wait_for_function(ANSWERED)
    expect(fold.locator("summary .error")).to_be_visible()
    expect(fold).not_to_have_attribute("open", "")
    page.locator("#errors a[href='#part_chamfer']").click()
    expect(page.locator("#part_chamfer")).to_be_in_viewport()
    page.close()


WHOLE = "it => it.scrollHeight <= it.clientHeight"
"""Whether nothing of a sentence is cut off."""


def test_a_sentence_that_is_cut_off_at_its_field_is_whole_by_a_tap_a_key_and_for_who_has_it_read_out(
    browser: Browser, site: str
) -> None:
    context = browser.new_context(base_url=site, viewport={"width": 390, "height": 844}, has_touch=True)
    page = context.new_page()
    page.goto(address("/parting", {**PAGES["/parting"].example, "outer_diameter": "1/2"}))
    sentence, field = page.locator("#part_chamfer-note .error"), page.locator("#part_chamfer")
    assert not sentence.evaluate(WHOLE)
    sentence.tap()
    assert sentence.evaluate(WHOLE)
    page.locator("#errors").focus()
    assert not sentence.evaluate(WHOLE)
    field.focus()
    assert sentence.evaluate(WHOLE)
    expect(field).to_have_accessible_description(re.compile("1.000 mm is half of the 0.250 mm"))
    context.close()


@pytest.mark.parametrize(
    ("size", "language", "path"),
    [(SIZES["tablet on its side"], "de", "/finish-feed"), (SIZES["phone"], "en", "/hole")],
    ids=["lying tablet", "phone"],
)
def test_a_caution_of_five_lines_is_whole_above_its_number(
    browser: Browser, site: str, size: tuple[int, int], language: str, path: str
) -> None:
    """On the lying tablet what it needs is taken from the values below: the panel keeps its height."""
    page = browser.new_page(base_url=site, viewport={"width": size[0], "height": size[1]}, locale=language)
    page.goto(address(path, PAGES[path].example))
    assert page.locator("#answer > .first").evaluate(WHOLE)
    assert page.locator("#answer").evaluate("it => it.offsetHeight") == {390: 200, 1180: 446}[size[0]]
    page.close()


@pytest.mark.parametrize("size", [(820, 1180), (1180, 820)], ids=["upright", "lying"])
def test_the_pinned_panel_of_a_part_has_one_height_with_its_number_below_its_caution(
    browser: Browser, site: str, size: tuple[int, int]
) -> None:
    page = browser.new_page(base_url=site, viewport={"width": size[0], "height": size[1]})
    heights = []
    for name, text in (("motor_power", "0.5"), ("bar_diameter", "abc")):
        page.goto(address("/part", {**PAGES["/part"].example, name: text}))
        heights.append(page.locator("#answer").evaluate("it => it.offsetHeight"))
        if name == "motor_power":
            caution, number = (page.locator(each).bounding_box() for each in ("#answer > .first", ".headline"))
            assert caution is not None
            assert number is not None
            assert caution["y"] + caution["height"] <= number["y"]
            assert number["y"] + number["height"] <= size[1]
    assert heights == [192, 192]
    page.close()
