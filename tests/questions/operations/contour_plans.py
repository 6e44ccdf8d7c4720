"""What is asked of the plan of a contour, and how it is asked."""

from typing import Any

from calc.answer.feature import Answer
from calc.language.problems import OutOfRange
from calc.language.quantities import View
from calc.questions.operations.contour_plan.feature import FEATURE, solve
from calc.questions.operations.contour_plan.inputs import ContourPlanInputs
from server.query import read_query
from tests.questions.operations.reader import read_words

SEAT = {"shape": "seat", "where": "face", "bar_diameter": "60", "face_stock": "1", "nose_radius": "6",
        "roughing": "contour", "pass_depth": "1", "allowance_z": "0.3", "feed": "0.2", "rough_feed": "0.25",
        "surface_speed": "220", "rough_surface_speed": "180", "max_rpm": "2000", "tool_point": "3"}  # fmt: skip
PAD = {**SEAT, "shape": "pad", "where": "outside", "bar_diameter": "57.15", "nose_radius": "0.8", "allowance_x": "0.2",
       "roughing": "along z", "pass_depth": "1.5"}  # fmt: skip


def asked(texts: dict[str, str]) -> ContourPlanInputs:
    query = read_query(list(texts.items()), FEATURE.inputs)
    if query.faults:
        raise OutOfRange(*query.faults)
    inputs: ContourPlanInputs = query.inputs(FEATURE.inputs)
    return inputs


def plan(texts: dict[str, str]) -> Answer[Any]:
    return solve(asked(texts))


ORDINARY = {"shape": "own", "bar_diameter": "42", "face_stock": "1", "insert": "DCMT 11T304", "holder": "SDJCR 2020K11",
            "pass_depth": "1.5", "lead_in": "2", "feed": "0.12", "rough_feed": "0.25", "surface_speed": "180",
            "max_rpm": "2500"}  # fmt: skip


def own(contour: str, **texts: str) -> Answer[Any]:
    return plan({**ORDINARY, "contour": contour, **texts})


def motions_of(answer: Answer[Any]) -> list[Any]:
    assert answer.words is not None
    return list(read_words(answer.words(View())))
