"""What a plan of a dish says in words, to those who would be misled without them."""

from __future__ import annotations

from typing import Any

import pytest

from calc.language.messages import Message
from calc.questions.operations.dish_plan.dish import FEATURE, solve
from calc.questions.operations.dish_plan.inputs import DishPlanInputs
from server.query import read_query

SEAT = dict(FEATURE.example)


def plan(**texts: str) -> Any:
    query = read_query({**SEAT, **texts}.items(), DishPlanInputs)
    assert not query.faults
    return solve(query.inputs(DishPlanInputs))


def said(messages: Any) -> str:
    return " ".join((m if isinstance(m, Message) else m.message).say() for m in messages)


def test_a_rounded_third_dimension_that_changes_another_one_is_told() -> None:
    """R 75 under a mouth of 51 is 75 - sqrt(75^2 - 25.5^2) = 4.468 deep, which a print rounds to 4.5."""
    notes = said(plan(mouth_diameter="51").notes)
    assert "the depth is 4.468 mm" in notes


@pytest.mark.parametrize("mouth", ["", "51.176"])
def test_dimensions_that_close_need_no_word(mouth: str) -> None:
    assert "rounding" not in said(plan(mouth_diameter=mouth).notes)


def test_zero_on_a_raw_face_that_is_not_given_is_told() -> None:
    assert "no stock on the face is given" in said(plan(z_zero="raw", face_stock="").notes)
    assert "no stock" not in said(plan(z_zero="raw").notes)
    assert "no stock" not in said(plan(face_stock="").notes)


def test_the_list_of_passes_says_whose_coordinates_it_gives() -> None:
    assert "X and Z of tool point 3" in said(plan().sentences["Passes and time"])
    assert "where the edge touches" in said(plan(nose_radius="").sentences["Passes and time"])


def test_only_levels_are_said_to_be_entered_by_a_ramp() -> None:
    assert "entered by a ramp" in said(plan(roughing="facing").sentences["Passes and time"])
    assert "ramp" not in said(plan().sentences["Passes and time"])


@pytest.mark.parametrize(
    ("number", "words"),
    [
        ("3", "Past the axis by 6.000 mm: the insert and the tool point."),
        ("2", "Past the axis by 6.000 mm: the insert, not the tool point."),
    ],
)
def test_the_caution_about_the_axis_begins_with_by_how_much_and_says_what_passes_it(number: str, words: str) -> None:
    assert words in said(plan(tool_point=number).cautions)


def test_an_uncompensated_mouth_that_is_wider_than_the_bar_is_told() -> None:
    """Point 3 puts the wall of R 81 about (6, 76.5): 2 (6 + sqrt(81^2 - 76.5^2)) = 65.245 on a bar of 60."""
    assert "wider than the bar" in said(plan().sentences["Without compensation"])
    assert "wider than the bar" not in said(plan(tool_point="2").sentences["Without compensation"])
