"""A taper measured over balls in a bore, or over rollers outside."""

from __future__ import annotations

from math import tan
from typing import Literal

from calc.answer.feature import Answer, Feature
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, result
from calc.language.kinds import FINE_RATIO
from calc.language.messages import Message
from calc.language.problems import Fault, Impossible
from calc.language.quantities import ANGLE, DIAMETER, LENGTH
from calc.measuring.balls import (
    bore_at_face,
    centre_distance,
    diameter_at_rollers,
    half_angle_by_balls,
    half_angle_by_rollers,
)

TaperAt = Literal["bore", "outside"]
WHERE: dict[TaperAt, str] = {"bore": "in a bore, by two balls", "outside": "outside, by two rollers at two heights"}


class TaperByBallsInputs(Declared):
    """What was measured: in a bore the depths of two balls, outside the sizes over two rollers."""

    where: TaperAt = choice("Taper", WHERE, "bore")
    large_ball: float | None = given(DIAMETER, "Larger ball diameter", "D", above=0.0, hint="bore")
    large_depth: float | None = given(
        LENGTH, "Depth of the larger ball", "h_D", least=-10_000.0, hint="bore: its top below the face; above: negative"
    )
    small_ball: float | None = given(DIAMETER, "Smaller ball diameter", "d", above=0.0, hint="bore")
    small_depth: float | None = given(LENGTH, "Depth of the smaller ball", "h_d", least=-10_000.0, hint="bore")
    roller: float | None = given(DIAMETER, "Roller diameter", "d_r", above=0.0, hint="outside")
    over_low: float | None = given(LENGTH, "Over rollers, low", "M_1", above=0.0, hint="outside, on the plate")
    over_high: float | None = given(LENGTH, "Over rollers, high", "M_2", above=0.0, hint="outside, on blocks")
    height: float | None = given(LENGTH, "Height of the blocks", "H", above=0.0, hint="outside")


class TaperByBallsResults(Declared):
    """The taper that was measured."""

    half_angle: float = result(ANGLE, "Half angle", "α")
    included_angle: float = result(ANGLE, "Included angle")
    taper_ratio: float = result(FINE_RATIO, "Taper on diameter", "C", hint="diameter per length")
    face_diameter: float = result(DIAMETER, "Diameter", "D_f", hint="bore: at the face; outside: on the plate")


BORE = ("large_ball", "large_depth", "small_ball", "small_depth")
OUTSIDE = ("roller", "over_low", "over_high", "height")


def solve(inputs: TaperByBallsInputs) -> Answer[TaperByBallsResults]:
    """The taper. Raises Missing, OutOfRange; Impossible for balls that cannot rest so.

    >>> found = solve(TaperByBallsInputs(large_ball=30.0, large_depth=5.0, small_ball=20.0, small_depth=60.0)).results
    >>> round(found.half_angle, 6)
    0.100167
    """
    require(inputs, *(BORE if inputs.where == "bore" else OUTSIDE))
    alpha, diameter = _bore(inputs) if inputs.where == "bore" else _outside(inputs)
    return Answer(
        results=TaperByBallsResults(
            half_angle=alpha, included_angle=2.0 * alpha, taper_ratio=2.0 * tan(alpha), face_diameter=diameter
        ),
        headline="half_angle",
    )


def _numbers(inputs: TaperByBallsInputs, names: tuple[str, ...]) -> list[float]:
    return [float(getattr(inputs, name)) for name in names]


def _bore(inputs: TaperByBallsInputs) -> tuple[float, float]:
    large, large_depth, small, small_depth = _numbers(inputs, BORE)
    if small >= large:
        raise Impossible(Fault("small_ball", Message("The smaller ball must be smaller than the larger one.")))
    apart = centre_distance(small_depth, small, large_depth, large)
    if apart <= (large - small) / 2.0:
        text = (
            "The balls are too close together to touch a taper: was a depth read from another face, or are they "
            "swapped?"
        )
        raise Impossible(Fault("small_depth", Message(text)))
    alpha = half_angle_by_balls(large, small, apart)
    return alpha, bore_at_face(large, large_depth, alpha)


def _outside(inputs: TaperByBallsInputs) -> tuple[float, float]:
    roller, low, high, height = _numbers(inputs, OUTSIDE)
    alpha = half_angle_by_rollers(high, low, height)
    diameter = diameter_at_rollers(low, roller, alpha)
    if diameter <= 0.0:
        text = "Over these rollers nothing is left for the taper: give the size over both rollers."
        raise Impossible(Fault("over_low", Message(text)))
    return alpha, diameter


FEATURE = Feature(
    path="measure/taper-by-balls",
    page="/taper-by-balls",
    title="Taper by balls",
    summary="Half angle and diameter of a taper from two balls in a bore, or from rollers at two heights outside.",
    solve=solve,
    supporting=("included_angle", "taper_ratio", "face_diameter"),
    example={"large_ball": "20", "large_depth": "2.5", "small_ball": "16", "small_depth": "46.46"},
)
