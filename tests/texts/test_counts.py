"""A sentence with a count is right for one too: no "1 passes", in any language, since it says "passes: 1"."""

from __future__ import annotations

import re

import pytest

from tests.texts.gathered import gathered
from tests.texts.keeping import OTHERS, translations

COUNTS = "cells|count|elements|hints|letters|more|n|parts|passes|plunges|readings|rows|solved|starts|teeth|words"
"""Places whose value is a whole number that can be 1."""

NOUN = {
    "en": r"(?!(?:is|was|does)\b)[a-z]+s|teeth",
    "de": "[A-ZÄÖÜ][a-zäöüß]+",
    "es": r"(?!(?:más|menos|es|tras)\b)[a-záéíóúñ]+s",
}
PLURAL = {
    language: re.compile(rf"\{{(?:{COUNTS})\}} (?:(?:more|inside|spring|weitere|más) )*(?:{noun})\b")
    for language, noun in NOUN.items()
}
"""A count with its noun behind it."""

SEVERAL = "said only of two or more"
LIMIT = "said only of more than a limit above 1"
ALLOWED = {
    "These are {count} points; at most {most} are fitted.": LIMIT,
    "{what} would help: {count} more dimensions are needed.": SEVERAL,
    "The insert is too narrow for this groove: it would take {count} plunges, at most {most} are planned.": LIMIT,
    "That would be {count} passes; at most {most} are planned. Take a larger depth per pass.": LIMIT,
    "Each stretch of each level counted that would be {count} passes or more; at most {most} are planned. Take a "
    "larger depth per pass.": LIMIT,
    "This contour has {count} elements; at most {most} are planned.": LIMIT,
    "A trend needs {n} readings after the last change; there are {count}.": "n is a fixed number above 1",
    "{count} readings in the order of the parts.": "a trend has at least three",
    "Two rollers side by side already measure {count} diameters: give the size over both with the part between "
    "them.": "it is 2",
    "{more} more inside corners keep as much or less.": "one has a text of its own",
    "{count} spring passes": "one has a text of its own",
    "Boring bar, {passes} passes": "one has a text of its own",
    "{right} of {asked} right, {hints} hints": "one has a text of its own",
    "{count} points, {solved} solved": "a contour has at least two points",
    "{count} points": "a contour has at least two points",
    "{count} more dimensions are needed: {who} can still move.": SEVERAL,
    "{count} contours have the dimensions of the {where}; the likeliest is drawn. Give one dimension more, or check "
    "every point.": SEVERAL,
    "{count} contours have these dimensions; number {number} is drawn. Choose the one that the print shows.": SEVERAL,
    "{count} contours have these dimensions, the likeliest is taken: {taken}. If the print shows another ({others}), "
    "give one dimension more.": SEVERAL,
    "{count} contours have these dimensions": SEVERAL,
    "These dimensions mean {count} contours ({labels}): give one more.": SEVERAL,
    "A pitch of {pitch} gives only {teeth} teeth on {diameter}: take a finer knurl.": "no whole number",
    "A contour has at most {rows} rows, and its text at most {letters} letters: leave some out.": LIMIT,
    "This is too long: {words} characters; at most {most} fit.": LIMIT,
}
"""Sentences whose count is never 1, with the reason."""


def test_no_count_stands_before_a_plural() -> None:
    found = {text for text in gathered() if PLURAL["en"].search(text)}
    assert found - ALLOWED.keys() == set()
    assert ALLOWED.keys() - found == set(), "allowed, and no longer there"


@pytest.mark.parametrize("language", OTHERS)
def test_nor_in_a_translation(language: str) -> None:
    found = {text: said for text, said in translations(language).items() if PLURAL[language].search(said)}
    assert {text: said for text, said in found.items() if text not in ALLOWED} == {}
