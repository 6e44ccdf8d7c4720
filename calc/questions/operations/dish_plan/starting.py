"""Feed and depth to start a dish with: the usual ranges for material and nose, with reasons, to tap where blank."""

from __future__ import annotations

from dataclasses import replace

from calc.answer.feature import Answer
from calc.cutting.materials import Material
from calc.cutting.offering import GROUP, offered
from calc.questions.operations.dish_plan.inputs import DishPlanInputs
from calc.questions.operations.dish_plan.results import DishPlanResults


def with_starting_values(
    answer: Answer[DishPlanResults], inputs: DishPlanInputs, work: Material | None
) -> Answer[DishPlanResults]:
    """The answer with the usual feed and depth for this work and nose, their reasons, and values to tap."""
    cut = inputs.cut
    given = {"rough_feed": cut.rough_feed, "pass_depth": inputs.passes.pass_depth, "feed": cut.feed}
    found = offered(work, inputs.tool.nose(), given)
    return replace(answer, sentences={**answer.sentences, GROUP: found.sentences}, picks=found.picks)
