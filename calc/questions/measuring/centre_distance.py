"""The distance of two pins or holes from what was measured over or between them."""

from __future__ import annotations

from calc.answer.feature import Answer, Feature
from calc.language.checks import require
from calc.language.fields import Declared, given, needed, result
from calc.language.given import slack_of
from calc.language.messages import Message, Quantity
from calc.language.problems import Contradiction, Fault, Impossible, Missing
from calc.language.quantities import DIAMETER, LENGTH
from calc.measuring.bench import centres_from_between, centres_from_over


class CentresInputs(Declared):
    """Both diameters, and the size over or between."""

    first_diameter: float = needed(DIAMETER, "First diameter", "d_1", least=0.0, hint="of pin or hole")
    second_diameter: float = needed(DIAMETER, "Second diameter", "d_2", least=0.0)
    over: float | None = given(LENGTH, "Size over both", "M", above=0.0, hint="holes: across their far walls")
    between: float | None = given(LENGTH, "Size between them", "m", above=0.0, hint="holes: across their near walls")


class CentresResults(Declared):
    """The distance of the centres."""

    distance: float = result(LENGTH, "Centre distance", "C")


def solve(inputs: CentresInputs) -> Answer[CentresResults]:
    """The distance. Raises Missing, OutOfRange, Impossible; Contradiction where both sizes disagree.

    >>> solve(CentresInputs(first_diameter=10.0, second_diameter=20.0, over=60.0)).results.distance
    45.0
    """
    require(inputs)
    d_1, d_2 = inputs.first_diameter, inputs.second_diameter
    found = []
    if inputs.over is not None:
        found.append(centres_from_over(inputs.over, d_1, d_2))
    if inputs.between is not None:
        found.append(centres_from_between(inputs.between, d_1, d_2))
    if not found:
        raise Missing(Fault("over", Message("Give the size over both, or between them.")))
    if found[0] <= 0.0:
        raise Impossible(Fault("over", Message("Over both is more than half of both diameters together.")))
    _require_agreement(inputs, found)
    return Answer(results=CentresResults(distance=sum(found) / len(found)), headline="distance")


def _require_agreement(inputs: CentresInputs, found: list[float]) -> None:
    if len(found) < 2:
        return
    off = abs(found[0] - found[1])
    if off > sum(slack_of(each) for each in (inputs.over, inputs.between) if each is not None):
        text = "Over and between give centres that differ by {off}: one of them, or a diameter, is off."
        fault = Fault("between", Message(text, {"off": Quantity(off, LENGTH)}))
        raise Contradiction(fault, fields=("over", "between", "first_diameter", "second_diameter"))


FEATURE = Feature(
    path="measure/centre-distance",
    page="/centre-distance",
    title="Centre distance",
    summary="Distance of two pins or holes from what was measured over or between them.",
    solve=solve,
    supporting=(),
    example={"first_diameter": "10", "second_diameter": "12", "over": "61"},
)
