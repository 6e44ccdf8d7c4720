"""A label's words break where a phone's column ends: two of them stand side by side there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import pytest

from calc.language.fields import specs
from calc.language.spec import Spec
from calc.machining.reach.findings import ORDER as VERDICTS
from server.catalogue import FEATURES
from tests.texts.keeping import OTHERS, translations

SIDE_WORDS = ("left", "right")
LONGEST = 16
"""Letters that fit into half of a phone 390 px wide in the labels' size, beside a symbol."""


def labels(declared: Iterable[Spec]) -> Iterator[str]:
    """The labels of fields, and of the fields of their rows."""
    for spec in declared:
        yield spec.label
        if spec.rows is not None:
            yield from labels(specs(spec.rows.row))


@pytest.mark.parametrize("language", OTHERS)
def test_a_long_word_of_a_label_says_where_it_may_break(language: str) -> None:
    said = translations(language)
    found = {said[label] for feature in FEATURES for label in labels(specs(feature.inputs)) if label in said}
    long = {text for text in found if any(len(word) > LONGEST for word in re.split(r"[\s\u00ad/-]+", text))}
    assert long == set()


def test_no_label_is_a_word_that_is_said_in_another_sense_elsewhere() -> None:
    """“left” is a side, “passes” what a tool does that fits: over a column they would be said so in other languages."""
    taken = {*SIDE_WORDS, *VERDICTS}
    declared = [
        (feature.inputs, feature.results, *(rows.row for rows in feature.rows.values())) for feature in FEATURES
    ]
    found = {label for each in declared for one in each for label in labels(specs(one))}
    assert found & taken == set()
