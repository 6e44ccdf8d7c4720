"""A label's words break where a phone's column ends: two of them stand side by side there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import pytest

from calc.language.fields import specs
from calc.language.spec import Spec
from server.catalogue import FEATURES
from tests.texts.keeping import OTHERS, translations

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
