"""The radius of an arc measured with two rollers."""

from __future__ import annotations

from math import nan

from calc.answer.feature import Answer, Feature
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, needed, result
from calc.language.messages import Message
from calc.language.problems import Fault, Impossible
from calc.language.quantities import DIAMETER, LENGTH, RADIUS
from calc.measuring.balls import concave_under_rollers, convex_over_rollers
from calc.measuring.deviation import Surface

SURFACES: dict[Surface, str] = {
    "convex": "crowned, standing on a plate between two rollers",
    "concave": "hollow, two rollers lie in it",
}


class RollersInputs(Declared):
    """The rollers and what was read."""

    surface: Surface = choice("Arc", SURFACES, "convex")
    roller: float = needed(DIAMETER, "Roller diameter", "d", above=0.0, hint="both alike")
    over: float | None = given(
        LENGTH, "Size over both rollers", "M", above=0.0, hint="crowned: all three touch the plate"
    )
    step: float | None = given(
        LENGTH, "Step", "s", above=0.0, hint="hollow: two side by side stand higher than one alone by this"
    )


class RollersResults(Declared):
    """The radius."""

    radius: float = result(RADIUS, "Radius", "R")


def solve(inputs: RollersInputs) -> Answer[RollersResults]:
    """The radius. Raises Missing, OutOfRange; Impossible where the rollers cannot lie so.

    >>> solve(RollersInputs(roller=10.0, over=90.0)).results.radius
    80.0
    """
    require(inputs, "over" if inputs.surface == "convex" else "step")
    if inputs.surface == "convex":
        over = inputs.over or nan
        if over <= 2.0 * inputs.roller:
            text = (
                "Two rollers side by side already measure {count} diameters: give the size over both with the part "
                "between them."
            )
            raise Impossible(Fault("over", Message(text, {"count": 2})))
        return Answer(results=RollersResults(radius=convex_over_rollers(over, inputs.roller)), headline="radius")
    step = inputs.step or nan
    if step >= inputs.roller / 2.0:
        text = "In an arc with room for both rollers the step is less than half their diameter."
        raise Impossible(Fault("step", Message(text)))
    return Answer(results=RollersResults(radius=concave_under_rollers(step, inputs.roller)), headline="radius")


FEATURE = Feature(
    path="measure/radius-by-rollers",
    page="/radius-by-rollers",
    title="Radius by rollers",
    summary="Radius of a crowned arc between two rollers on a plate, or of a hollow one with two rollers in it.",
    solve=solve,
    supporting=(),
    example={"surface": "convex", "roller": "10", "over": "90"},
)
