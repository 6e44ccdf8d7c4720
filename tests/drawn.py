"""Properties whose questions are mostly answered: one that refuses what it draws tests nothing."""

from __future__ import annotations

import functools
from collections.abc import Callable
from typing import Any

from hypothesis import strategies as st

from calc.language.problems import Problem

LEAST_SHARE = 0.5

SELDOM = 16
"""One value of so many is an odd one."""


def mostly(usual: st.SearchStrategy[Any], odd: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """What people type, and now and then what they do not."""
    return st.integers(1, SELDOM).flatmap(lambda number: odd if number == SELDOM // 2 else usual)


def mostly_answered(test: Callable[..., None]) -> Callable[..., None]:
    """Let a property end with a problem for some of what it draws, each with its sentences, but not for half of it."""
    inner = test.hypothesis.inner_test  # type: ignore[attr-defined]  # where plugins wrap what is run for each case
    answers: list[bool] = []

    @functools.wraps(inner)
    def counted(*arguments: Any, **named: Any) -> None:
        try:
            inner(*arguments, **named)
        except Problem as problem:
            assert problem.faults  # noqa: PT017 - a problem is one right answer of two
            assert all(fault.message.say() for fault in problem.faults)  # noqa: PT017
            answers.append(False)
        else:
            answers.append(True)

    test.hypothesis.inner_test = counted  # type: ignore[attr-defined]

    @functools.wraps(test)
    def whole(*arguments: Any, **named: Any) -> None:
        answers.clear()
        test(*arguments, **named)
        share = sum(answers) / len(answers)
        assert share >= LEAST_SHARE, f"only {share:.0%} of {len(answers)} questions are answered"

    return whole
