"""The sine bar: stack for an angle, angle of a stack."""

from __future__ import annotations

from math import nan, pi

from calc.answer.feature import Answer, Feature
from calc.language.checks import require
from calc.language.fields import Declared, given, needed, result
from calc.language.messages import Caution, Message
from calc.language.problems import Fault, Impossible, Missing
from calc.language.quantities import ANGLE, LENGTH
from calc.measuring.bench import angle_error, sine_angle, sine_stack

STEEP = pi / 4
"""Above it the bar is poor: common practice, no source."""


class SineBarInputs(Declared):
    """The bar, and the angle wanted or the stack that is under it."""

    bar_length: float = needed(
        LENGTH, "Length between the rollers", "L", above=0.0, hint="of the sine bar: 100, 200, 5 in, 10 in"
    )
    angle: float | None = given(ANGLE, "Angle", "α", above=0.0, most=pi / 2 * 0.99)
    stack: float | None = given(LENGTH, "Stack", "H", above=0.0)
    stack_error: float | None = given(LENGTH, "Spread of the stack", "e", above=0.0, hint="half width at 95 %")


class SineBarResults(Declared):
    """Stack and angle."""

    stack: float = result(LENGTH, "Stack", "H")
    angle: float = result(ANGLE, "Angle", "α")
    angle_spread: float | None = result(ANGLE, "Spread of the angle")


def solve(inputs: SineBarInputs) -> Answer[SineBarResults]:
    """Stack or angle. Raises Missing, OutOfRange, Impossible.

    >>> round(solve(SineBarInputs(bar_length=100.0, angle=0.5235987755982988)).results.stack, 6)
    50.0
    """
    require(inputs)
    length, angle, stack = inputs.bar_length, inputs.angle, inputs.stack
    if (angle is None) == (stack is None):
        text = "Give the angle or the stack." if angle is None else "Give the angle or the stack, not both."
        raise (Missing if angle is None else Impossible)(Fault("angle", Message(text)))
    if stack is not None and stack >= length:
        raise Impossible(Fault("stack", Message("A stack as high as the bar is long stands it upright.")))
    found = sine_angle(stack, length) if stack is not None else angle or nan
    return Answer(
        results=SineBarResults(
            stack=stack if stack is not None else sine_stack(length, found),
            angle=found,
            angle_spread=None if inputs.stack_error is None else angle_error(inputs.stack_error, length, found),
        ),
        headline="angle" if stack is not None else "stack",
        cautions=(_steep(),) if found > STEEP else (),
    )


def _steep() -> Caution:
    text = (
        "Above 45° an error of the stack turns the bar more and more, and it may tip: clamp it to an angle plate, or "
        "set the complement from the other face."
    )
    return Caution(Message(text), 2, "angle")


FEATURE = Feature(
    path="measure/sine-bar",
    page="/sine-bar",
    title="Sine bar",
    summary="Stack of gauge blocks for an angle, or the angle of a stack, and how the stack's error turns the bar.",
    solve=solve,
    supporting=("angle", "angle_spread"),
    example={"bar_length": "100", "angle": "7°30'", "stack_error": "0.001"},
)
