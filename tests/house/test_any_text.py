"""Whatever people type or paste, into whichever field: an answer or a sentence, the same on the page and in JSON."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc.language.fields import specs
from server.answering import Answering
from tests.house.asking import BROKEN, PAGED, Asked, Shown, all_finite, api_of, page_of
from tests.tries import THOROUGH

PIECES = (
    *("0", "00", "1", "9.5", ",", ".", "-", "+", "/", " ", "1/2", "3-1/4", "1e400", "-0", "Ø", "R", "°", "'", '"'),
    *("mm", "in", "m/min", "rpm", "h9", "±", "+0.1/0", "%", "NaN", "inf", "é", "千", "\u202e", "\x00"),
    *("<b>", "&amp;", "{x}", "%s", "x" * 300),
)
TYPED = st.one_of(
    st.lists(st.sampled_from(PIECES), max_size=5).map("".join),
    st.text(max_size=12),
    st.floats(allow_nan=True, allow_infinity=True).map(repr),
    st.decimals(min_value=-1000, max_value=1000, places=4, allow_nan=False, allow_infinity=False).map(str),
)
CONVENTIONS = st.fixed_dictionaries(
    {},
    optional={
        "units": st.sampled_from(("mm", "inch")),
        "x": st.sampled_from(("diameter", "radius")),
        "zplus": st.sampled_from(("out", "in")),
    },
)
TRIES = 250 if THOROUGH else 8  # for each page
BOUNDED = settings(
    max_examples=TRIES, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)


def questions(feature: Asked) -> st.SearchStrategy[dict[str, str]]:
    """The example with up to three fields, or its conventions, turned into something else."""
    names = st.sampled_from([spec.name for spec in specs(feature.inputs)])
    changes = st.dictionaries(names, TYPED, max_size=3)
    return st.builds(lambda changed, view: {**feature.example, **changed, **view}, changes, CONVENTIONS)


@pytest.mark.parametrize("feature", PAGED, ids=lambda feature: feature.page)
def test_any_text_in_any_field_gets_an_answer_or_a_sentence(answering: Answering, feature: Asked) -> None:
    @BOUNDED
    @given(questions(feature))
    def answered(question: dict[str, str]) -> None:
        page = page_of(answering, feature, question)
        status, body = api_of(answering, feature, question)
        assert page.status in (200, 422)
        assert status in (200, 422)
        assert all_finite(body)
        assert says_nothing_of_the_inside(page, question)
        if page.status == 422:
            assert page.summarises([(error["field"], error["message"]) for error in body["errors"]])

    answered()


def says_nothing_of_the_inside(page: Shown, question: dict[str, str]) -> bool:
    """What people typed may stand on the page, whatever it is; nothing else that looks like the inside does."""
    typed = "".join(question.values())
    return all(found in typed for found in BROKEN.findall(page.words))
