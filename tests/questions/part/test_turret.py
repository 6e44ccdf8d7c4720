"""A tool has one number: in the part's table of cuts, in its words, in its list of tools."""

from __future__ import annotations

import re

import pytest

from calc.language.quantities import View
from calc.questions.part.examples import EXAMPLES
from calc.questions.part.feature import FEATURE
from server.query import read_query


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_table_the_words_and_the_list_number_the_tools_alike(name: str) -> None:
    query = read_query(EXAMPLES[name].items(), FEATURE.inputs)
    answer, _ = FEATURE.answer(query.inputs(FEATURE.inputs))
    assert answer.words is not None
    in_words = re.findall(r"^(T\d+)$", answer.words(View()), re.MULTILINE)
    assert in_words == [row.tool for row in answer.tables["cuts"]]
    listed = {number: row.place for row in answer.tables["tools"] for number in row.operations.split(", ")}
    assert in_words == [listed[str(number)] for number in range(1, len(in_words) + 1)]
