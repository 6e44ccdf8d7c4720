"""The working of the speed, finish and force questions: shown in both systems, its digits give the value shown."""

import math
from typing import Any

import pytest

from calc.answer.feature import Feature
from calc.language.quantities import View
from calc.questions.cutting.facing_time import FEATURE as FACING
from calc.questions.cutting.finish import FEATURE as FINISH
from calc.questions.cutting.finish_feed import FEATURE as FEED
from calc.questions.cutting.force import FEATURE as FORCE
from calc.questions.cutting.spindle import FEATURE as SPINDLE

SEAT: dict[str, Any] = {"nose_radius": 6.0, "surface": "concave", "surface_radius": 75.0}
CUT: dict[str, Any] = {"material": "1045", "depth": 0.84, "feed": 0.25, "surface_speed": 180_000.0}
QUESTIONS: list[tuple[Feature[Any, Any], dict[str, Any]]] = [
    (SPINDLE, {"surface_speed": 220_000.0, "diameter": 20.0, "max_rpm": 2000.0}),
    (FACING, {"surface_speed": 180_000.0, "outer_diameter": 60.0, "feed": 0.25, "max_rpm": 2000.0}),
    (FINISH, {"feed": 0.2, "nose_radius": 0.8}),
    (FINISH, {"feed": 0.2, **SEAT}),
    (FINISH, {"feed": 0.2, **SEAT, "surface": "convex"}),
    (FEED, {"ra": 0.0016, "nose_radius": 0.8}),
    (FEED, {"ra": 0.0004, "peak_height": 0.004, "depth": 0.15, **SEAT}),
    (FEED, {"ra": 0.0016, "peak_height": 0.004, "depth": 8.0, **SEAT, "surface": "convex"}),
    (FEED, {"peak_height": 0.004, "nose_radius": 0.8, "depth": 1.0, "entering_angle": math.radians(93.0)}),
    (FORCE, {**CUT, "nose_radius": 6.0, "diameter": 60.0}),
    (FORCE, {**CUT, "entering_angle": math.radians(95.0)}),
    (FORCE, {**CUT, "entering_angle": math.radians(95.0), "nose_radius": 0.8}),
]


@pytest.mark.parametrize("view", [View("mm"), View("inch")], ids=["mm", "inch"])
@pytest.mark.parametrize(("feature", "values"), QUESTIONS, ids=lambda part: getattr(part, "path", ""))
def test_the_digits_of_each_step_give_the_value_shown(feature: Feature[Any, Any], values: Any, view: View) -> None:
    _, steps = feature.answer(feature.inputs(**values))
    assert len(steps) > 1
    for step in steps:
        layout = step.formula.layout(view, step.symbols)
        assert layout.gives(layout.filled(step.arguments, step.value)), step.plain(view)
        assert step.formula.source


@pytest.mark.parametrize(
    ("view", "expected"),
    [(View("mm"), "n = 1000 v / (π D)"), (View("inch"), "n = 12 v / (π D)")],
    ids=["mm", "inch"],
)
def test_the_spindle_formula_reads_as_the_trade_writes_it(view: View, expected: str) -> None:
    _, steps = SPINDLE.answer(SPINDLE.inputs(surface_speed=220_000.0, diameter=60.0))
    assert steps[0].plain(view).formula == expected


@pytest.mark.parametrize(("feature", "values"), QUESTIONS, ids=lambda part: getattr(part, "path", ""))
def test_every_message_reads_in_inches_too(feature: Feature[Any, Any], values: Any) -> None:
    answer, _ = feature.answer(feature.inputs(**values))
    for message in (*answer.notes, *(caution.message for caution in answer.cautions)):
        assert not any(unit in message.say(View("inch")) for unit in (" mm", " µm", " N "))
