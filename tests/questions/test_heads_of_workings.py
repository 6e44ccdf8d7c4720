"""Heads in a long working: each formula stands under one, every head gathers something, nothing is lost."""

from __future__ import annotations

import importlib
import pkgutil

import pytest

import calc
from calc.answer.heads import FEW_STEPS, all_heads, head_of, headed
from calc.language.working import Step, all_formulas
from server.catalogue import PAGES
from server.query import read_query

for module in pkgutil.walk_packages(calc.__path__, "calc."):
    importlib.import_module(module.name)
FORMULAS = tuple(formula for formula in all_formulas() if formula.name.startswith("calc."))


def step(name: str, where: str = "") -> Step:
    """A step of the formula of that name; its numbers are of no meaning here."""
    formula = next(each for each in FORMULAS if each.name == f"calc.{name}")
    return Step(formula, (), 0.0, where, formula.symbols)


def test_every_formula_stands_under_a_head() -> None:
    assert len(FORMULAS) > 200
    for formula in FORMULAS:
        assert head_of(Step(formula, (), 0.0, "", formula.symbols)).title


def test_every_name_of_the_table_is_of_a_formula() -> None:
    names = [f"{formula.name}." for formula in FORMULAS]
    listed = [each for head in all_heads() for each in head.of]
    assert [each for each in listed if not any(name.startswith(f"calc.{each}.") for name in names)] == []
    assert len(listed) == len(set(listed))
    assert len({head.title for head in all_heads()}) == len(all_heads())


@pytest.mark.parametrize(
    ("name", "where", "title"),
    [
        ("shapes.dish.formulas.mouth_slope", "", "Dish"),
        ("shapes.dish.formulas.cap_volume", "", "Arc length and volume"),
        ("cutting.force.cutting_force", "", "Force"),
        ("cutting.force.cutting_power", "where it is hardest", "Power and torque"),
        ("cutting.speed.spindle_speed", "", "Spindle speed"),
        ("cutting.speed.spindle_speed", "spot, 90°", "Spotting"),
        ("cutting.speed.spindle_speed", "reamer", "Reaming"),
    ],
)
def test_a_step_stands_where_one_looks_for_it(name: str, where: str, title: str) -> None:
    assert head_of(step(name, where)).title == title


@pytest.mark.parametrize("path", ["/dish", "/force", "/thread-passes", "/hole", "/spindle", "/boring-cut"])
def test_a_working_keeps_every_step_under_its_heads(path: str) -> None:
    feature = PAGES[path]
    _, steps = feature.answer(read_query(list(feature.example.items()), feature.inputs).inputs(feature.inputs))
    lists = headed(steps)
    assert sorted(map(str, steps)) == sorted(str(each) for part in lists for each in part.steps)
    assert (len(lists) > 1) == (len(steps) > FEW_STEPS)
    assert all(part.title for part in lists) == (len(steps) > FEW_STEPS)
