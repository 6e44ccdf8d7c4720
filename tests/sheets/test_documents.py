"""A document is taken whole and given back the same; what it must not hold is told at its field."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.language.spec import Spec
from server.sheets.fields import declarations
from server.sheets.keys import ALPHABET
from server.sheets.model import Sheet
from server.sheets.reading import read_json, read_sheet, stored_sheet, written
from server.sheets.refusals import Invalid
from tests.tries import tries

ADDRESSES = (
    "/dish?radius=75&depth=4.5",
    "/dish?radius=3-1/4&depth=1/16&units=inch",
    "/taper?large_diameter=22&length=22",
)


def records(of: type[Any]) -> st.SearchStrategy[Any]:
    """Any valid instance of a declared class."""
    return st.builds(of, **{each.name: values(each) for each in declarations(of)})


def values(declared: Spec) -> st.SearchStrategy[Any]:
    if declared.role == "rows":
        return st.lists(records(declared.repeated.row), max_size=4, unique_by=lambda row: row.key).map(tuple)
    if declared.role == "part":
        return records(declared.repeated.row)
    shown = st.text(st.characters(blacklist_categories=("Cc", "Cs"), blacklist_characters="\u202d\u202e"), max_size=40)
    return {
        "key": st.text(ALPHABET, min_size=6, max_size=6),
        "word": shown.map(str.strip),
        "lines": st.lists(shown, max_size=3).map("\n".join).map(str.strip),
        "address": st.sampled_from(ADDRESSES),
        "length": st.sampled_from(("", "60", "2-1/4", "60mm")),
        "choice": st.sampled_from(sorted(declared.choices)),
        "flag": st.booleans(),
        "quantity": st.none() | st.integers(0, int(declared.most or 0)),
    }["lines" if declared.lines else declared.written or declared.role]


@settings(max_examples=tries(60), deadline=None)
@given(records(Sheet))
def test_what_was_exported_is_imported_the_same(sheet: Sheet) -> None:
    text = written(sheet)
    again = read_sheet(read_json(text.encode()))
    assert again == sheet
    assert written(again) == text
    assert stored_sheet(text) == sheet


def test_a_document_that_is_as_short_as_can_be_is_a_sheet() -> None:
    assert read_sheet({"format": "chuckside sheet", "version": 1}) == Sheet()


def faults(document: Any) -> dict[str, str]:
    with pytest.raises(Invalid) as refusal:
        read_sheet(document)
    return {fault.field: fault.message for fault in refusal.value.faults}


@pytest.mark.parametrize("version", [0, 2, 99, "1", None, True, 1.5, [1]])
def test_an_unknown_version_is_refused_in_a_sentence(seat: dict[str, Any], version: Any) -> None:
    seat["version"] = version
    assert faults(seat)["version"].startswith("This server reads version 1 of a sheet, not the version ")


def test_something_else_is_no_sheet(seat: dict[str, Any]) -> None:
    assert "no job sheet" in faults({**seat, "format": "something"})["format"]
    others: tuple[Any, ...] = ([], "sheet", 3, None)
    for other in others:
        assert faults(other) == {"": "A sheet is a JSON object."}


def put(document: dict[str, Any], where: str, value: Any) -> dict[str, Any]:
    target: Any = document
    *way, last = [int(part) if part.isdecimal() else part for part in where.split(".")]
    for part in way:
        target = target[part]
    target[last] = value
    return document


@pytest.mark.parametrize(
    ("where", "value", "said"),
    [
        ("heading.part", "x" * 121, "too long: 121 characters; at most 120"),
        ("heading.part", "two\nlines", "one line"),
        ("heading.part", "nothing\0here", "U+0000"),
        ("heading.part", "5.7 \u202e7.5", "U+202E"),
        ("heading.part", "half a pair \ud83d", "U+D83D"),
        ("heading.part", 7, "must be a text"),
        ("heading.units", "cm", "one of: mm, inch"),
        ("heading", [], "must be an object"),
        ("steps", {}, "must be a list"),
        ("steps.0.practice", "yes", "true or false"),
        ("steps.0.seed", -1, "from 0 to 999999"),
        ("steps.0.seed", True, "from 0 to 999999"),
        ("steps.0.seed", 1.5, "from 0 to 999999"),
        ("steps.0.note", "x" * 2001, "at most 2000"),
        ("steps.0.key", "A!", "small letters"),
        ("setup.touches.0.tool_point", 10, "from 0 to 9"),
        ("setup.soft_jaw_diameter", "about 60", "does not begin with a number"),
        ("setup.soft_jaw_diameter", "-60", "more than 0"),
        ("setup.colour", "red", "no such field"),
        ("checks.0.price", 3, "no such field"),
    ],
)
def test_what_a_field_must_not_hold_is_told_there(seat: dict[str, Any], where: str, value: Any, said: str) -> None:
    found = faults(put(seat, where, value))
    assert list(found) == [where]
    assert said in found[where]


@pytest.mark.parametrize(
    ("address", "said"),
    [
        ("", "address of a page here"),
        ("dish?radius=75", "address of a page here"),
        ("//elsewhere.example/dish?radius=75", "address of a page here"),
        ("https://elsewhere.example/dish", "address of a page here"),
        ("javascript:alert(1)", "address of a page here"),
        ("/\\elsewhere.example", "no page"),
        ("/dish/../api/sheets", "no page"),
        ("/static/app.js", "no page"),
        ("/sheet/k7mp-3wxz-9dqr", "no page"),
        ("/dish?radius=75#top", "address of a page here"),
        ("/dish?radius=75&surprise=1", "does not know"),
        ("/dish?" + "radius=1&" * 200, "cannot be read"),
        ("/dish?radius=%ff", "cannot be read"),
        ("/dish?radius=-3", "more than 0"),
        ("/dish?radius=75&radius=80", "given twice"),
        ("/dish?radius=" + "9" * 4000, "too long"),
        ("/dish?radius=75\n&depth=4", "one line"),
        ("//[", "address of a page here"),
    ],
)
def test_a_step_takes_nothing_but_a_question_on_a_page_of_ours(seat: dict[str, Any], address: str, said: str) -> None:
    found = faults(put(seat, "steps.0.address", address))
    assert said in found["steps.0.address"]


def test_a_step_that_still_waits_for_a_dimension_is_taken(seat: dict[str, Any]) -> None:
    put(seat, "steps.0.address", "/dish?radius=75")
    assert read_sheet(seat).steps[0].address == "/dish?radius=75"


def test_an_address_is_kept_in_the_spelling_of_our_links(seat: dict[str, Any]) -> None:
    put(seat, "steps.0.address", "/dish?radius=3%201%2F4&depth=&was=mm&units=inch")
    assert read_sheet(seat).steps[0].address == "/dish?radius=3%201/4&units=inch"


def test_a_step_that_was_saved_once_never_keeps_the_rest_from_being_saved(seat: dict[str, Any]) -> None:
    put(seat, "steps.0.address", "/gone?radius=75")
    assert "steps.0.address" in faults(seat)
    assert read_sheet(seat, {"/gone?radius=75"}).steps[0].address == "/gone?radius=75"


def test_too_many_rows_are_refused(seat: dict[str, Any]) -> None:
    seat["steps"] = seat["steps"][:1] * 61
    assert "61 of these; at most 60" in faults(seat)["steps"]


def test_a_row_without_a_key_or_with_anothers_gets_one_of_its_own(seat: dict[str, Any]) -> None:
    seat["steps"] = [seat["steps"][0], seat["steps"][0], {**seat["steps"][0], "key": ""}]
    keys = [step.key for step in read_sheet(seat).steps]
    assert keys[0] == "dsh222"
    assert len(set(keys)) == 3


def test_no_more_faults_are_told_than_a_person_reads(seat: dict[str, Any]) -> None:
    seat["checks"] = [{"what": 1} for _ in range(60)]
    assert len(faults(seat)) == 20


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"\xff\xfe",
        b'{"a": NaN}',
        b'{"a": -Infinity}',
        b'{"a": 1, "a": 2}',
        b"[" * 100_000,
        b'{"a":' * 50_000,
        b"9" * 5000,
        b"{'a': 1}",
    ],
    ids=lambda body: body[:12].decode("latin-1"),
)
def test_what_is_not_strict_json_is_refused(body: bytes) -> None:
    with pytest.raises(Invalid):
        read_json(body)
