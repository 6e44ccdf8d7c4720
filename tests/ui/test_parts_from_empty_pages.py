"""The scenario's parts from an empty page on a phone, in a real browser: print, bar, machine, operations, the sheet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.tries import some
from tests.ui.browser import overflow

pytestmark = pytest.mark.browser
HARD = 30_000

Texts = Mapping[str, str]
Rows = Sequence[tuple[str, Texts]]


@dataclass(frozen=True)
class Part:
    """What a lead types: the rows of both contours, bar and machine, and what stands on the page afterwards."""

    outside: Rows
    bar: Texts
    machine: Texts
    inside: Rows = ()
    units: str = ""
    says: Sequence[str] = field(default_factory=tuple)


LATHE_2 = {"max_rpm": "2500", "motor_power": "11", "chuck_limit": "3200"}
PAD = Part(
    (
        ("", {"x": "0", "z": "0"}),
        ("Arc", {"r": "2.9375", "x": "2", "cx": "0"}),
        ("Edge or fillet", {"size": "1/32"}),
        ("Cylinder", {"dz": "-0.75"}),
    ),
    {"material": "6061-T6", "bar_diameter": "2.25", "face_stock": "0.04"},
    {"max_rpm": "1800", "motor_power": "15"},
    units="inch",
    says=("1 face, first end", "finish, first end"),
)
STEM = Part(
    (
        ("", {"x": "0", "z": "0"}),
        ("Face", {}),
        ("Chamfer", {"size": "1"}),
        ("Line", {"x": "22", "z": "-22", "tp": "1:10"}),
        ("Face", {"x": "24 g6"}),
        ("Cylinder", {"dz": "-38"}),
        ("Undercut", {"named": "F 0.8x0.3"}),
        ("Face", {"x": "31"}),
        ("Cylinder", {}),
        ("Arc", {"r": "8", "smooth": "yes"}),
        ("Line", {"x": "41", "z": "-90", "ha": "30", "smooth": "yes"}),
    ),
    {"material": "42CrMo4", "bar_diameter": "42", "face_stock": "1"},
    LATHE_2,
    says=("1 face, first end", "rough, first end", "finish, first end"),
)
PLAIN = Part(
    (
        ("", {"x": "0", "z": "0"}),
        ("Face", {}),
        ("Chamfer", {"size": "1"}),
        ("Cylinder", {"x": "42", "z": "-28"}),
        ("Face", {"x": "36 h9"}),
        ("Cylinder", {"z": "-40"}),
        ("Chamfer", {"size": "1"}),
        ("Face", {"x": "25"}),
    ),
    {"material": "C45", "bar_diameter": "45", "face_stock": "1"},
    LATHE_2,
    (
        ("", {"x": "28.4", "z": "0"}),
        ("Cylinder", {"z": "-19"}),
        ("Face", {"x": "25 H7"}),
        ("Cylinder", {"z": "-40"}),
    ),
    says=("drill, first end", "bore, first end", "part-off, first end", "finish, second end"),
)
WHOLE = Part(
    (
        ("", {"x": "0", "z": "0"}),
        ("Face", {}),
        ("Chamfer", {"size": "1"}),
        ("Cylinder", {"x": "42", "z": "-3"}),
        ("Cylinder", {"x": "42 DIN 82-RKE 1", "z": "-13"}),
        ("Cylinder", {"z": "-19.2"}),
        ("Groove", {"w": "3.6", "x": "38"}),
        ("Cylinder", {"z": "-28"}),
        ("Face", {"x": "36 h9"}),
        ("Undercut", {"named": "E 0.6x0.3"}),
        ("Cylinder", {"z": "-40"}),
        ("Chamfer", {"size": "1"}),
        ("Face", {"x": "25"}),
    ),
    PLAIN.bar,
    LATHE_2,
    (
        ("", {"z": "0"}),
        ("Thread", {"named": "M30x1.5-6H", "z": "-19", "relief": "D"}),
        ("Face", {"x": "25 H7"}),
        ("Cylinder", {"z": "-40"}),
    ),
    says=(
        "groove, first end",
        "thread, first end",
        "knurl, first end",
        "part-off, first end",
        "face, second end",
        "finish, second end",
    ),
)


@pytest.fixture
def phone(browser: Browser, site: str) -> Iterator[Page]:
    context = browser.new_context(base_url=site, viewport={"width": 390, "height": 844}, has_touch=True)
    page = context.new_page()
    page.set_default_timeout(HARD)
    expect.set_options(timeout=HARD)
    yield page
    context.close()


def settled(page: Page) -> None:
    """Wait for the answer; a busy machine may refuse a heavy question in words, then a person presses once more."""
    for _ in range(3):
        try:
            expect(page.locator("#ask.stale")).to_have_count(0, timeout=8_000)
        except AssertionError:
            page.get_by_role("button", name="Work it out").last.tap()
        else:
            return
    expect(page.locator("#ask.stale")).to_have_count(0)


def enter(page: Page, name: str, prefix: str, rows: Rows) -> None:
    """Add the rows of a contour one after the other, and fill in what the print gives of each."""
    section = page.locator(f'section[aria-labelledby="{name}-head"]')
    for index, (kind, texts) in enumerate(rows):
        row = page.locator(f'[id="{prefix}.{index}"]')
        if kind:
            settled(page)
            section.locator('[aria-label="Add to the end"]').get_by_role("button", name=kind, exact=True).tap()
            expect(row).to_have_count(1)
        for field_name, text in texts.items():
            asked = row.locator(f'[id="{prefix}.{index}.{field_name}"]')
            if not asked.is_visible():
                row.get_by_text("Other dimensions").first.tap()
            if text == "yes":
                asked.check()
            else:
                asked.fill(text)
    settled(page)


def fold(page: Page, key: str, texts: Texts) -> None:
    page.locator(f"#fold-{key} > summary").tap()
    for name, text in texts.items():
        page.locator(f'[id="{name}"]').fill(text)


# Of the sleeves the check takes the whole one, which has all rows of the plain one; a long run takes every part.
PARTS = {"whole sleeve": WHOLE, "plain sleeve": PLAIN, "pad": PAD, "stem": STEM}


@pytest.mark.parametrize("name", some(list(PARTS), 2))
def test_a_lead_enters_a_part_on_a_phone_and_hands_out_its_sheet(phone: Page, name: str) -> None:
    part = PARTS[name]
    phone.goto(f"/part?units={part.units}" if part.units else "/part")
    enter(phone, "outside", "rows", part.outside)
    enter(phone, "inside", "inside", part.inside)
    fold(phone, "part-material-and-bar", part.bar)
    fold(phone, "machine-and-chuck", part.machine)
    phone.get_by_role("button", name="Work it out").last.tap()
    settled(phone)
    phone.get_by_role("link", name="Start from a proposal").tap()
    expect(phone.locator(".headline .value")).to_contain_text("min")
    for words in part.says:
        expect(phone.locator("#section-operations")).to_contain_text(words)
    assert "Do not run it" not in phone.locator("#answer").inner_text()
    assert overflow(phone) <= 0
    phone.locator("#section-share > summary").tap()
    phone.get_by_role("link", name="Operator's sheet").tap()
    expect(phone.get_by_role("heading", name="Tools in turret order")).to_be_visible()
    phone.wait_for_load_state()  # its styles may come after its words
    assert overflow(phone) <= 0
