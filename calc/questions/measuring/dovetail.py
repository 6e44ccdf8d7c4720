"""A dovetail measured over or between two rollers that lie in its corners."""

from __future__ import annotations

from math import pi
from typing import Literal

from calc.answer.feature import Answer, Feature
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, needed, result
from calc.language.messages import Message
from calc.language.problems import Fault, Impossible
from calc.language.quantities import ANGLE, DIAMETER, LENGTH
from calc.measuring.balls import dovetail_factor, slot_width, tongue_width, width_beyond

DovetailForm = Literal["tongue", "slot"]
FORMS: dict[DovetailForm, str] = {
    "tongue": "tongue, measured over the rollers",
    "slot": "slot, measured between the rollers",
}


class DovetailInputs(Declared):
    """The rollers, the angle, what was read."""

    form: DovetailForm = choice("Dovetail", FORMS, "tongue")
    measured: float = needed(LENGTH, "Size over or between the rollers", "M", above=0.0)
    roller: float = needed(DIAMETER, "Roller diameter", "d", above=0.0, hint="both alike")
    angle: float = needed(ANGLE, "Angle of the flank", "α", above=0.0, most=pi / 2, hint="from the base: 55°, 60°")
    height: float | None = given(LENGTH, "Height", "h", above=0.0, hint="for the width at the other end")


class DovetailResults(Declared):
    """Widths of the dovetail."""

    corner_width: float = result(LENGTH, "Width at the corners", "W", hint="sharp: foot of a tongue, bottom of a slot")
    other_width: float | None = result(LENGTH, "Width at the other end", "W_2", hint="sharp")
    factor: float = result(LENGTH, "Over the corners", "", hint="what both rollers add")


def solve(inputs: DovetailInputs) -> Answer[DovetailResults]:
    """The widths. Raises OutOfRange; Impossible where nothing is left.

    >>> found = solve(DovetailInputs(measured=80.0, roller=10.0, angle=1.0471975511965976)).results
    >>> round(found.corner_width, 5)
    52.67949
    """
    require(inputs)
    tongue = inputs.form == "tongue"
    factor = dovetail_factor(inputs.angle)
    width = (tongue_width if tongue else slot_width)(inputs.measured, inputs.roller, factor)
    if width <= 0.0:
        raise Impossible(Fault("measured", Message("The rollers alone measure more: give the size over both.")))
    other = None
    if inputs.height is not None:
        other = width_beyond(width, inputs.height, inputs.angle, 1.0 if tongue else -1.0)
        if other <= 0.0:
            raise Impossible(Fault("height", Message("At this height the flanks of the slot have met.")))
    return Answer(
        results=DovetailResults(corner_width=width, other_width=other, factor=abs(inputs.measured - width)),
        headline="corner_width",
    )


FEATURE = Feature(
    path="measure/dovetail",
    page="/dovetail",
    title="Dovetail over rollers",
    summary="Widths of a dovetail tongue or slot from the size over or between two rollers in its corners.",
    solve=solve,
    supporting=("other_width", "factor"),
    example={"form": "tongue", "measured": "80", "roller": "10", "angle": "60", "height": "12"},
)
