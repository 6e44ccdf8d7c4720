"""A chamfer by its two diameters, and the distance of two centres by what was measured over or between them."""

from __future__ import annotations

from math import inf, nan, pi, tan

from calc.answer.feature import Answer, Feature
from calc.language.checks import require
from calc.language.fields import Declared, given, needed, result
from calc.language.messages import Message
from calc.language.problems import Fault, Impossible, Missing
from calc.language.quantities import ANGLE, DIAMETER, LENGTH
from calc.measuring.bench import chamfer_angle, chamfer_width, leg_across


class ChamferInputs(Declared):
    """Both diameters, and its length or its angle."""

    large_diameter: float = needed(DIAMETER, "Larger diameter", "D", above=0.0)
    small_diameter: float = needed(DIAMETER, "Smaller diameter", "d", least=0.0)
    length: float | None = given(LENGTH, "Length along Z", "c", above=0.0)
    angle: float | None = given(ANGLE, "Angle to the axis", "α", above=0.0, most=pi / 2 * 0.99)


class ChamferResults(Declared):
    """The chamfer."""

    leg_x: float = result(LENGTH, "Leg along X", "a", hint="per side")
    leg_z: float = result(LENGTH, "Leg along Z", "c")
    angle: float = result(ANGLE, "Angle to the axis", "α")
    width: float = result(LENGTH, "Width of the flat", "w", hint="as seen square on")


def solve(inputs: ChamferInputs) -> Answer[ChamferResults]:
    """The legs. Raises Missing, OutOfRange, Impossible.

    >>> solve(ChamferInputs(large_diameter=20.0, small_diameter=18.0, length=1.0)).results.leg_x
    1.0
    """
    require(inputs)
    if inputs.small_diameter >= inputs.large_diameter:
        raise Impossible(Fault("small_diameter", Message("The smaller diameter must be less than the larger one.")))
    if (inputs.length is None) == (inputs.angle is None):
        neither = inputs.length is None
        text = "Give the length or the angle." if neither else "Give the length or the angle, not both."
        raise (Missing if neither else Impossible)(Fault("length", Message(text)))
    across = leg_across(inputs.large_diameter, inputs.small_diameter)
    along = inputs.length if inputs.length is not None else across / tan(inputs.angle or nan)
    if along == inf:
        raise Impossible(Fault("angle", Message("At this angle the chamfer has no end.")))
    return Answer(
        results=ChamferResults(
            leg_x=across, leg_z=along, angle=chamfer_angle(across, along), width=chamfer_width(across, along)
        ),
        headline="leg_x",
    )


FEATURE = Feature(
    path="measure/chamfer",
    page="/chamfer-by-diameters",
    title="Chamfer by diameters",
    summary="Legs, angle and width of a chamfer from its two diameters and its length or angle.",
    solve=solve,
    supporting=("leg_z", "angle", "width"),
    example={"large_diameter": "22", "small_diameter": "20", "length": "1"},
)
