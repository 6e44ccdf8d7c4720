"""What holds for every page, asked bare, with its example, in every convention, and with each field wrong in turn."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from urllib.parse import parse_qsl, urlsplit

import pytest
from starlette.testclient import TestClient

from calc.language.fields import flat, specs
from server.answering import Answering
from server.query import read_query
from tests.house.asking import (
    BROKEN,
    HEAD,
    PAGED,
    VIEWS,
    Asked,
    Shown,
    all_finite,
    api_of,
    page_of,
    served_api,
    served_page,
)
from tests.tries import some

WRONG = ("abc", "0", "-1", "1e9", "NaN", "1,500")
APART, LONG = 3, 20
"""Each page gets every wrong text, each field two of the six, one on a long page; a long run gives every field all."""
NO_VALUE = ("abc", "NaN")
SWITCHES = {"units": ("units-2", "units-1"), "x": ("x-2", "x-1"), "zplus": ("zplus-2", "zplus-1")}
EVERY = pytest.mark.parametrize("feature", PAGED, ids=lambda feature: feature.page)


def is_sound(page: Shown, body: Any, typed: str = "") -> bool:
    """Nothing of the inside shows, whatever was typed."""
    shown = page.words.replace(typed, "") if typed else page.words
    assert BROKEN.search(shown) is None, BROKEN.findall(shown)
    return page.status in (200, 422) and all_finite(body)


def agrees(page: Shown, status: int, body: Any) -> None:
    """The page and the JSON answer say the same of what is missing, wrong, or found."""
    if status == 200:
        assert (page.status, page.errors) == (200, [])
        return
    said = [(error["field"], error["message"]) for error in body["errors"]]
    if page.status == 422:
        assert page.summarises(said)
        assert page.leads_somewhere()
        assert page.title.startswith("Error: ")
        for field, sentence in said:
            assert stands_beside(page, field, sentence), (field, sentence)
    else:
        # what lacks is asked for in one sentence: each value's own words stand in it
        assert all(sentence.removeprefix("Give ").rstrip(".") in page.words for _, sentence in said)
        assert not page.title.startswith("Error: ")


def stands_beside(page: Shown, field: str, sentence: str) -> bool:
    """At the field itself; what belongs to a row or to the text of a contour is told at its row and in the summary."""
    of_a_row = field.startswith(("rows.", "inside.")) and field not in page.notes
    if of_a_row or f'id="{field}{HEAD}"' in page.body:
        return page.words.count(sentence) >= 2
    return sentence in page.notes[field]


@EVERY
def test_a_bare_page_waits_and_says_for_what(client: TestClient, feature: Asked) -> None:
    page = served_page(client, feature, {})
    status, body = served_api(client, feature, {})
    assert page.title == f"{feature.title} – Chuckside" or status == 200
    assert is_sound(page, body)
    agrees(page, status, body)


@EVERY
@pytest.mark.parametrize("view", VIEWS)
def test_the_example_is_answered_or_refused_in_words_in_every_convention(
    client: TestClient, feature: Asked, view: str
) -> None:
    """The texts of the example as they are, so that an inch page is asked for a dish of 75 in: a question too."""
    question = {**feature.example, **VIEWS[view], "example": "1"}
    page = served_page(client, feature, question)
    status, body = served_api(client, feature, question)
    assert "Example: " in page.title
    assert is_sound(page, body)
    agrees(page, status, body)


@EVERY
def test_the_example_is_answered_with_the_same_numbers_on_the_page_and_in_json(
    answering: Answering, feature: Asked
) -> None:
    for view in ("mm", "inch"):
        question = in_view(answering, feature, VIEWS[view])
        page = page_of(answering, feature, question)
        status, body = api_of(answering, feature, question)
        assert (page.status, status) == (200, 200)
        copied = [number for text in page.copied if (number := number_of(text)) is not None]
        for name, value in body["results"].items():
            if isinstance(value, dict):
                set_to = (
                    value["aimed"] if "aimed" in value else value["value"]
                )  # what a hand sets is the middle of the limits
                assert any(is_shown(set_to, *number) for number in copied), (name, value)
            elif isinstance(value, str):
                assert value in page.words or name in chosen(feature), (name, value)


def chosen(feature: Asked) -> set[str]:
    """The results that are told by the words of a choice rather than by its code."""
    return {spec.name for spec in specs(feature.results) if spec.choices}


# What people write very large and very small values in, in the unit of the JSON answer; ksi is 1000 lbf/in2.
BEYOND = {"": 1.0, "kN": 1e3, "klbf": 1e3, "ksi": 1e3, "cm³": 1e3, "cm⁴": 1e4, "µm": 1e-3, "µin": 1e-6}

ESTIMATED = {"µm", "µin"}  # deflections, which are worth one figure


def number_of(text: str) -> tuple[float, float] | None:
    """A copied number in the unit of the JSON answer, and how far its rounding may have moved it."""
    digits, _, unit = text.partition(" ")
    try:
        number, times = float(digits), BEYOND[unit]
    except (ValueError, KeyError):
        return None
    decimals = len(digits.partition(".")[2])
    if unit in ESTIMATED:
        decimals = -int(f"{number:e}".partition("e")[2])
    return number * times, 0.5000001 * 10.0**-decimals * times


def is_shown(value: float, number: float, rounding: float) -> bool:
    return abs(value - number) <= max(rounding, 0.005 * abs(value))


def in_view(answering: Answering, feature: Asked, view: Mapping[str, str]) -> dict[str, str]:
    """The example as the page's own switches bring it into a view."""
    question = dict(feature.example)
    for name in view:
        question = switched(page_of(answering, feature, question), SWITCHES[name][0])
    return question


def switched(page: Shown, link: str) -> dict[str, str]:
    return dict(parse_qsl(urlsplit(page.switches[link]).query, strict_parsing=True))


def answered(feature: Asked, question: Mapping[str, str]) -> dict[str, Any]:
    query = read_query(list(question.items()), feature.inputs)
    assert query.faults == ()
    return flat(feature.answer(query.inputs(feature.inputs))[0].results)


@EVERY
@pytest.mark.parametrize("name", SWITCHES)
def test_a_switch_there_and_back_keeps_the_meaning_of_what_was_typed(
    answering: Answering, feature: Asked, name: str
) -> None:
    there, back = SWITCHES[name]
    before = answered(feature, feature.example)
    turned = switched(page_of(answering, feature, feature.example), there)
    returned = switched(page_of(answering, feature, turned), back)
    for question in (turned, returned):
        for result, value in answered(feature, question).items():
            expected = pytest.approx(before[result], rel=1e-9, abs=1e-9) if isinstance(value, float) else before[result]
            assert value == expected, (result, question)


@EVERY
@pytest.mark.parametrize("typed", WRONG)
def test_each_field_wrong_in_turn_has_its_sentence_and_nothing_breaks(
    answering: Answering, feature: Asked, typed: str
) -> None:
    fields = list(specs(feature.inputs))
    for spec in some(fields, APART if len(fields) <= LONG else 2 * APART, WRONG.index(typed)):
        question = {**feature.example, spec.name: typed}
        page = page_of(answering, feature, question)
        status, body = api_of(answering, feature, question)
        assert is_sound(page, body, typed), spec.name
        agrees(page, status, body)
        if typed in NO_VALUE and spec.role in ("quantity", "choice"):
            assert spec.name in [field for field, _ in page.errors]
