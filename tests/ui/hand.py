"""The page under a hand: what moves and what is in sight while a field is typed in with the keyboard up."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from playwright.sync_api import Page

from calc.answer.feature import Feature

# What the on-screen keyboard leaves of the window: 400 px of an upright tablet, 410 of a lying one, 336 of a phone.
KEYBOARD_UP = {"upright tablet": (820, 780), "lying tablet": (1180, 410), "phone": (390, 508)}
SEEN = """() => {
  const field = document.activeElement.getBoundingClientRect(), panel = document.querySelector('#answer');
  const said = document.querySelector('.headline .value, .prompt, #errors a').getBoundingClientRect();
  const bar = panel.getBoundingClientRect(), pinned = getComputedStyle(panel).position !== 'static';
  const over = pinned && field.bottom > bar.top + 1 && field.top < bar.bottom - 1;
  return { top: field.top, field: field.top >= -1 && field.bottom <= innerHeight + 1 && !over,
           headline: said.top >= -1 && said.bottom <= innerHeight + 1 };
}"""
NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?(?![/0-9-])")
ANSWERED = "() => !document.querySelector('#ask.stale')"
FIELDS = """() => [...document.querySelectorAll('#ask input:not([type=hidden], [type=radio], [type=checkbox])')]
  .filter(field => field.value && field.checkVisibility()).map(field => field.name)"""
SHIFTS = """new PerformanceObserver(list => list.getEntries().forEach(it => (window.shifts ??= []).push(it)))
  .observe({ type: "layout-shift", buffered: true })"""
"""A page's first script, for `shifted`."""
SHIFTED = """() => { const all = window.shifts ?? []; window.shifts = [];
  const named = ({ node: it }) => it ? `${it.nodeName}.${it.className}#${it.id} ${it.textContent.slice(0, 30)}` : "";
  return [all.reduce((sum, it) => sum + it.value, 0), all.flatMap(it => it.sources.map(named))]; }"""
TYPE = "(it, text) => { it.focus(); it.value = text; it.dispatchEvent(new Event('input', { bubbles: true })); }"
FACTORS = (0.3, 4.0)
"""A first field's value times these: answers that bring or take cautions, or none at all."""
WRONG = ("abc", "")
"""What is typed then: a sentence comes at the field, and goes."""
FAULTS = (Path(__file__).parent / "faults.js").read_text(encoding="utf-8")


@dataclass(frozen=True, slots=True)
class Felt:
    """What happened while a value was typed: how far its field moved (px), whether it and the headline are in sight."""

    field: str
    moved: float
    field_seen: bool
    headline_seen: bool


def typed_last(page: Page, path: str, feature: Feature[Any, Any]) -> Felt | None:
    """Type the last visible value of the page's example into it; None where no field is open to be typed in."""
    page.goto(f"{path}?{urlencode(feature.example)}")
    names = [name for name in page.evaluate(FIELDS) if name in feature.example]
    if not names:
        return None
    name = names[-1]
    page.goto(f"{path}?{urlencode({key: text for key, text in feature.example.items() if key != name})}")
    page.focus(f'[name="{name}"]')
    before = page.evaluate(SEEN)
    with page.expect_response(lambda answer: f"{name}=" in answer.url):
        page.keyboard.insert_text(feature.example[name])
    page.wait_for_function(ANSWERED)
    after = page.evaluate(SEEN)
    return Felt(name, after["top"] - before["top"], after["field"], after["headline"])


def shifted(page: Page) -> tuple[float, list[str]]:
    """What of the page has shifted by itself since this was last asked, as the browser counts it, and what it was."""
    amount, sources = page.evaluate(SHIFTED)
    return amount, sources


def shifts(page: Page, path: str, feature: Feature[Any, Any]) -> dict[str, tuple[float, list[str]]]:
    """What shifts while the page's example is loaded, and while its first number is changed (`FACTORS`, `WRONG`)."""
    page.goto(f"{path}?{urlencode(feature.example)}")
    page.wait_for_load_state("networkidle")
    found = {"load": shifted(page)}
    numbers = {name: NUMBER.match(feature.example.get(name, "")) for name in page.evaluate(FIELDS)}
    name, number = next(((name, match) for name, match in numbers.items() if match), ("", None))
    if number is None:
        return found
    others = [f"{float(number[0]) * factor:.4g}{feature.example[name][number.end() :]}" for factor in FACTORS]
    for text in (*others, *WRONG):
        page.locator(f'[name="{name}"]').evaluate(TYPE, text)
        page.wait_for_function(ANSWERED)
        page.evaluate("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
        found[f"{name} {text}"] = shifted(page)
    return found


def faults(page: Page) -> list[str]:
    """What of the page as it stands is too small, cut off, or over something else."""
    found: list[str] = page.evaluate(FAULTS)
    return found
