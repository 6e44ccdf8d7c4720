"""Feed and depth to start a dish with: the usual ranges for material and nose, with reasons, to tap where blank."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from calc.answer.feature import Answer
from calc.cutting.materials import Material
from calc.cutting.starting import Start, starting_cut
from calc.language.messages import Message, Quantity, Value
from calc.language.quantities import FEED, LENGTH, Kind
from calc.questions.operations.dish_plan.inputs import DishPlanInputs
from calc.questions.operations.dish_plan.results import DishPlanResults

GROUP = "Feed and depth to start with"


def with_starting_values(
    answer: Answer[DishPlanResults], inputs: DishPlanInputs, work: Material | None
) -> Answer[DishPlanResults]:
    """The answer with the usual feed and depth for this work and nose, their reasons, and values to tap."""
    found = offered(inputs, work)
    return replace(answer, sentences={**answer.sentences, GROUP: found.sentences}, picks=found.picks)


@dataclass(frozen=True, slots=True)
class Offered:
    """Sentences with the reasons, and values to tap for fields that are blank, as texts with their unit."""

    sentences: tuple[Message, ...] = ()
    picks: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def offered(inputs: DishPlanInputs, work: Material | None) -> Offered:
    """What roughing and finishing usually start with in this material with this nose; nothing where one is unknown."""
    nose = inputs.tool.nose()
    if work is None or nose is None:
        return Offered()
    rough, finish = (starting_cut(work, operation, nose) for operation in ("rough", "finish"))
    if rough is None or finish is None:
        return Offered()
    ranges = (
        ("rough_feed", rough.feed, inputs.cut.rough_feed),
        ("pass_depth", rough.depth, inputs.passes.pass_depth),
        ("feed", finish.feed, inputs.cut.feed),
    )
    said = (
        _range("Roughing feed", rough.feed, FEED),
        rough.feed.why,
        _range("Depth per pass", rough.depth, LENGTH),
        rough.depth.why,
        _range("Finishing feed", finish.feed, FEED),
        finish.feed.why,
    )
    return Offered(said, {name: (f"{start.usual:.2g}mm",) for name, start, given in ranges if given is None})


def _range(what: str, start: Start, kind: Kind) -> Message:
    values: dict[str, Value] = {
        "what": what,
        "low": Quantity(start.low, kind),
        "usual": Quantity(start.usual, kind),
        "high": Quantity(start.high, kind),
    }
    return Message("{what} to start with: {low} to {high}, usually {usual}.", values)
