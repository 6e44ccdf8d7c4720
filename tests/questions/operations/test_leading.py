"""The plan of a contour with its finish led otherwise: on arcs, along its ends, away from the chuck, on a kept chip."""

from __future__ import annotations

from typing import Any

import pytest

from calc.answer.feature import Answer
from calc.language.problems import Problem
from calc.questions.operations.contour_plan.feature import FEATURE
from calc.questions.operations.contour_plan.inputs import ContourPlanInputs
from server.query import read_query


def plan(**texts: str) -> Answer[Any]:
    """The example's answer with other texts."""
    query = read_query({**FEATURE.example, **texts}.items(), ContourPlanInputs)
    assert query.faults == ()
    return FEATURE.answer(query.inputs(ContourPlanInputs))[0]


@pytest.mark.parametrize("lead", ["arc", "tangent"])
@pytest.mark.parametrize("direction", ["in", "back"])
def test_what_is_left_does_not_depend_on_how_the_finish_is_led(lead: str, direction: str) -> None:
    plain, led = plan(), plan(lead_form=lead, lead_size="1", cut_direction=direction)
    assert led.results.left.proud_most == pytest.approx(plain.results.left.proud_most, abs=5e-3)
    assert not [each for each in led.cautions if "runs into" in each.message.text or "too deep" in each.message.text]
    assert any("cut in that direction" in each.say() for each in led.notes) == (direction == "back")


def test_an_edge_that_is_not_round_keeps_its_feed() -> None:
    with pytest.raises(Problem, match="Only a round insert") as caught:
        plan(feed_rule="chip")
    assert caught.value.faults[0].field == "feed_rule"


def test_a_round_nose_is_fed_faster_in_its_shallow_passes() -> None:
    nose = {"insert": "", "holder": "", "nose_radius": "4", "pass_depth": "2", "pass_split": "rest"}
    feeds, kept = ([each.feed for each in plan(**nose, feed_rule=rule).tables["passes"]] for rule in ("given", "chip"))
    assert all(a >= b for a, b in zip(kept, feeds, strict=True))
    assert max(kept) > max(feeds)
    assert max(kept) <= 0.5
