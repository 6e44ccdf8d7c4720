"""Rows of published tables, asked through the calls: each line names a call, what is given, what must come out.

The comments of the file name the source of the lines below; a value stands with the tolerance of its last digit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

Ask = Callable[..., Any]
Row = tuple[str, dict[str, str], str]


def sections() -> Iterator[tuple[str, list[Row]]]:
    """Each source with its rows: call, fields, what is expected."""
    source, rows = "", list[Row]()
    for line in Path(__file__).with_name("published_rows.txt").read_text(encoding="utf-8").splitlines():
        if line.startswith("#"):
            if rows:
                yield source, rows
            source, rows = line.removeprefix("# "), []
        else:
            call, given, expected = line.split(" | ")
            fields = dict(each.split("=", 1) for each in given.split())
            rows.append((call, {name: text.replace("_", " ") for name, text in fields.items()}, expected))
    yield source, rows


SECTIONS = dict(sections())


@pytest.mark.parametrize("source", SECTIONS, ids=lambda source: source.split(":")[0][:40])
def test_rows_of_a_published_table_are_answered(ask: Ask, source: str) -> None:
    assert SECTIONS[source]
    wrong = [told for row in SECTIONS[source] for told in differences(ask, *row)]
    assert wrong == []


def differences(ask: Ask, call: str, fields: dict[str, str], expected: str) -> Iterator[str]:
    """What of a row does not come out."""
    results = ask(call, **fields)["results"]
    for each in expected.split("; "):
        name, _, printed = each.partition(" ")
        found = value_of(results, name)
        text, _, within = printed.partition(" ±")
        right = found == pytest.approx(float(text), abs=float(within)) if within else found == text
        if not right:
            yield f"{call} {fields}: {name} is {found}, not {printed}"


def value_of(results: dict[str, Any], name: str) -> Any:
    """A result, or one of its limits: `pitch_diameter.upper`."""
    base, _, limit = name.partition(".")
    found = results[base]
    return found[limit or "value"] if isinstance(found, dict) else found


# ISO 1302:1992: the grades and their upper limits of Ra in micrometres and microinches.
GRADES = [
    *[("N1", 0.025, 1), ("N2", 0.05, 2), ("N3", 0.1, 4), ("N4", 0.2, 8), ("N5", 0.4, 16), ("N6", 0.8, 32)],
    *[("N7", 1.6, 63), ("N8", 3.2, 125), ("N9", 6.3, 250), ("N10", 12.5, 500), ("N11", 25, 1000), ("N12", 50, 2000)],
]


def test_the_grades_of_roughness_are_those_of_the_standard(ask: Ask) -> None:
    """With the largest feed of each: by the rule f = sqrt(31.177 r Ra), exactly a little less."""
    rows = ask("nose-radius/finish", feed="0.2", nose_radius="0.8")["grades"]
    found = [(row["grade"], float(row["micrometres"]), int(row["microinches"])) for row in rows]
    assert found == GRADES
    for row, (_, ra, _) in list(zip(rows, GRADES, strict=True))[:9]:
        assert row["feed"]["value"] == pytest.approx((31.177 * 0.8 * ra / 1000) ** 0.5, rel=0.03)
