"""A contour is solved once for an answer, whatever page asks about it; of several the likeliest, the others named."""

from __future__ import annotations

from typing import Any

import pytest

from calc.answer.feature import Answer, Feature, Unfinished
from calc.contour.solving import solve, solver
from calc.contour.solving.attempt import Attempt
from calc.questions.measuring import error_by_cause
from calc.questions.operations.contour_plan import feature as contour_plan
from calc.questions.part import feature as part
from calc.questions.shapes import contour
from calc.questions.tools import nose_contour, reach_contour, tool_finder
from server.query import read_query

BLANK = "s_x20_z0*a_r12_z-8_cz-8_cw*t_z-20"
"""The X of the arc's end is left out."""

SEVERAL = "s_x20_z0*a_x40_z-8_r12_ccw*t_z-20"
"""Two arcs of R12 lead from one place to the other in this direction: the shorter and the longer."""

OWN = {"shape": "own", "side": "right"}
ASKED: dict[str, tuple[Feature[Any, Any], dict[str, str]]] = {
    "/plan": (contour_plan.FEATURE, {**OWN, "where": "outside", "bar_diameter": "80", "nose_radius": "0.8",
                                     "pass_depth": "1.2"}),
    "/nose": (nose_contour.FEATURE, {**OWN, "nose_radius": "0.8"}),
    "/reach-contour": (reach_contour.FEATURE, {**OWN, "insert": "DCMT 11T304", "holder": "SDJCR 2020K11"}),
    "/tool-finder": (tool_finder.FEATURE, {"shape": "own"}),
    "/errors": (error_by_cause.FEATURE, {**OWN, "nose_radius": "0.8", "x_off": "0.01"}),
    "/contour": (contour.FEATURE, {}),
}  # fmt: skip


def answered(page: str, text: str, field: str = "contour") -> Answer[Any]:
    feature, more = ASKED[page]
    query = read_query({**more, field: text}.items(), feature.inputs)
    assert not query.faults
    return feature.solve(query.inputs(feature.inputs))


@pytest.fixture
def solved(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How many elements each contour has that the solver works on, none of them known from before."""
    found: list[int] = []

    def counting(unknowns: Any, *others: Any) -> Any:
        found.append(len(unknowns.elements))
        return Attempt(unknowns, *others)

    monkeypatch.setattr(solver, "Attempt", counting)
    solver._solved.cache_clear()
    return found


@pytest.mark.parametrize("page", ASKED)
def test_a_contour_is_solved_once_for_its_page(page: str, solved: list[int]) -> None:
    answered(page, BLANK)
    assert solved == [2]


def test_both_contours_of_a_part_are_solved_once(solved: list[int]) -> None:
    query = read_query(part.FEATURE.example.items(), part.FEATURE.inputs)
    inputs = query.inputs(part.FEATURE.inputs)
    part.FEATURE.solve(inputs)
    asked = [given for given in (inputs.outside, inputs.inside) if given is not None]
    assert sorted(solved) == sorted(len(given.elements) for given in asked)


def test_what_lacks_a_dimension_is_tried_once(solved: list[int]) -> None:
    with pytest.raises(Unfinished):
        answered("/nose", "s_x20_z0*a_x40_r12_ccw*t_z-20")
    assert solved.count(2) == 1


def test_other_limits_and_decimals_are_another_contour(solved: list[int]) -> None:
    for text in ("s_x20_z0*t_z-10", "s_x20_z0*t_z-10.0", "s_x20_z0*t_z-10±0.1", "s_x20_z0*t_z-10"):
        answered("/contour", text)
    assert len(solved) == 3


@pytest.mark.parametrize("page", [page for page in ASKED if page != "/contour"])
def test_of_several_contours_a_page_takes_the_likeliest_and_names_the_other(page: str) -> None:
    answer = answered(page, SEVERAL)
    named = [each.message.say() for each in answer.cautions if "contours have these dimensions" in each.message.say()]
    assert named == [
        "2 contours have these dimensions, the likeliest is taken: The shorter arc 1. If the print shows another "
        "(The longer arc 1), give one dimension more."
    ]
    assert answer.contour is not None
    assert answer.contour.elements[0].length == pytest.approx(min(
        each.contour[0].length for each in _all_contours()))  # fmt: skip


def _all_contours() -> Any:
    query = read_query({"contour": SEVERAL}.items(), contour.FEATURE.inputs)
    given = query.inputs(contour.FEATURE.inputs).contour
    return solve(given.start, given.elements).solutions
