"""What holds for each formula of the calculation package."""

from __future__ import annotations

import importlib
import pkgutil
from itertools import product
from typing import get_args

import calc
from calc.language.quantities import UnitSystem, View, XMeans, ZPlus
from calc.language.working import Formula, all_formulas
from tests.many import for_each

for _found in pkgutil.walk_packages(calc.__path__, "calc."):
    importlib.import_module(_found.name)

FORMULAS = [formula for formula in all_formulas() if formula.name.startswith("calc.")]
EACH = for_each(FORMULAS, lambda formula: formula.name)
VIEWS = [View(units, x, zplus) for units, x, zplus in product(get_args(UnitSystem), get_args(XMeans), get_args(ZPlus))]


def test_there_are_formulas() -> None:
    assert len(FORMULAS) > 10


@EACH
def test_a_formula_can_be_shown_to_every_reader(formula: Formula[...]) -> None:
    for view in VIEWS:
        assert formula.layout(view).plain.formula
        assert formula.layout(view).mathml.formula


@EACH
def test_a_formula_says_what_it_means_and_where_it_comes_from(formula: Formula[...]) -> None:
    assert formula.source.strip()
    assert formula.means.strip()
    assert formula.symbols[0]
    assert ">>> " in (formula.__doc__ or "")
