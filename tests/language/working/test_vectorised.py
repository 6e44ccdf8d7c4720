"""A formula over arrays gives, element by element and to the last bit, what it gives for each case alone."""

from __future__ import annotations

import importlib
import math
import pkgutil
from typing import Any

import numpy as np
import pytest

import calc
from calc.language.working import Formula, all_formulas, recording
from calc.language.working.vectorised import vectorised
from tests.language.working.written import formula_text, module
from tests.many import for_each

for _found in pkgutil.walk_packages(calc.__path__, "calc."):
    importlib.import_module(_found.name)

FORMULAS = [one for one in all_formulas() if one.name.startswith("calc.")]


def _cases(arity: int, seed: int) -> np.ndarray[Any, Any]:
    """Arguments of very different sizes, equal ones, zeros and negative ones among them."""
    random = np.random.default_rng(seed)
    cases = 10.0 ** random.uniform(-3, 3, (arity, 120))
    cases[:, ::7] = random.integers(-2, 4, cases[:, ::7].shape)
    cases[:, 1::5] = random.uniform(0.0, 1.0, cases[:, 1::5].shape)
    return cases


def _alone(one: Formula[...], arguments: list[float]) -> float:
    try:
        value = one.function(*arguments)
    except (ValueError, ZeroDivisionError, OverflowError):
        return math.nan
    return math.nan if isinstance(value, complex) else float(value)


@for_each(FORMULAS, lambda one: one.name)
def test_every_formula_over_arrays_equals_the_formula_case_by_case_to_the_last_bit(one: Formula[...]) -> None:
    cases = _cases(one.arity, 7)
    together = np.broadcast_to(vectorised(one)(*cases), cases.shape[1:])
    alone = [_alone(one, row.tolist()) for row in cases.T]
    compared = [(a, b) for a, b in zip(together.tolist(), alone, strict=True) if math.isfinite(b)]
    assert compared
    assert [pair for pair in compared if pair[0] != pair[1]] == []
    unanswered = [a for a, b in zip(together.tolist(), alone, strict=True) if math.isnan(b)]
    assert [a for a in unanswered if math.isfinite(a)] == []


STEPPED = "(min(a, b, 2 * a) if not a < b <= 3 or q == 0 else max(a, -b)) * hypot(3, 4) + abs(a) ** 0.5"


@pytest.fixture(scope="module")
def stepped(tmp_path_factory: pytest.TempPathFactory) -> Formula[...]:
    """A formula with every kind of syntax that there may be."""
    folder = tmp_path_factory.mktemp("formulas")
    made: Formula[...] = module(folder, formula_text(STEPPED, "a: Length, b: Length, q: Ratio", "Length")).f
    return made


def test_choices_comparisons_logic_and_extremes_hold_for_each_element(stepped: Formula[...]) -> None:
    a, b, q = (values.ravel() for values in np.meshgrid([-1.0, 0.5, 2.0], [0.5, 2.5, 4.0], [0.0, 1.0]))
    wanted = [_alone(stepped, list(row)) for row in zip(a.tolist(), b.tolist(), q.tolist(), strict=True)]
    assert vectorised(stepped)(a, b, q).tolist() == wanted


def test_arguments_are_broadcast_as_numpy_does_and_may_be_named(stepped: Formula[...]) -> None:
    across, up = np.linspace(0.1, 1.0, 5), np.linspace(1.0, 2.0, 3)[:, np.newaxis]
    found = vectorised(stepped)(across, q=1.0, b=up)
    assert found.shape == (3, 5)
    assert found[2, 4] == stepped.function(across[4], up[2, 0], 1.0)


def test_numbers_alone_give_the_number_and_nothing_is_recorded(stepped: Formula[...]) -> None:
    with recording() as steps:
        assert vectorised(stepped)(2.0, 4.0, 1.0) == stepped.function(2.0, 4.0, 1.0)
    assert steps == []
