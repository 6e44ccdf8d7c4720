"""Limits of size: a diameter or length with a tolerance class, and what it makes with its mate."""

from __future__ import annotations

from calc.answer.feature import Answer, Feature
from calc.language.checks import require
from calc.language.fields import Declared, given, needed, result, word
from calc.language.limited import Limited, limited
from calc.language.messages import Message
from calc.language.problems import Fault, Missing
from calc.language.quantities import DIAMETER, LENGTH


class LimitsInputs(Declared):
    """A size as the print has it, and the size that it goes with."""

    size: float = needed(DIAMETER, "Size with its limits", "D", above=0.0, hint="24 g6, 36 H7, 28 +0.1/0")
    hole_size: float | None = given(DIAMETER, "Hole that it goes into", "D_h", above=0.0, hint="24 H7", blank="none")


class LimitsResults(Declared):
    """What to turn, and how it fits."""

    size: Limited = result(DIAMETER, "Size", "D", hint="aim at the middle")
    lower: float = result(DIAMETER, "Lower limit")
    upper: float = result(DIAMETER, "Upper limit")
    tolerance: float = result(LENGTH, "Tolerance")
    lower_deviation: float = result(LENGTH, "Lower deviation")
    upper_deviation: float = result(LENGTH, "Upper deviation")
    least_clearance: float | None = result(LENGTH, "Least clearance", hint="negative: interference")
    most_clearance: float | None = result(LENGTH, "Most clearance")
    fit: str | None = word("Fit")


def solve(inputs: LimitsInputs) -> Answer[LimitsResults]:
    """The limits. Raises `Missing` for a size without any, `OutOfRange` for one that cannot be meant.

    >>> from calc.language.given import Given
    >>> shaft = Given(23.9865, 0.0065, 24.0, (23.98, 23.993))
    >>> round(solve(LimitsInputs(size=shaft)).results.tolerance, 6)
    0.013
    """
    require(inputs)
    size = _limits_of(inputs.size, "size")
    hole = None if inputs.hole_size is None else _limits_of(inputs.hole_size, "hole_size")
    least = None if hole is None else hole.lower - size.upper
    most = None if hole is None else hole.upper - size.lower
    return Answer(
        results=LimitsResults(
            size=size,
            lower=size.lower,
            upper=size.upper,
            tolerance=size.upper - size.lower,
            lower_deviation=size.lower - size.value,
            upper_deviation=size.upper - size.value,
            least_clearance=least,
            most_clearance=most,
            fit=None if least is None or most is None else _fit(least, most),
        ),
        headline="size",
    )


def _limits_of(value: float, field: str) -> Limited:
    found = limited(value)
    if found is None:
        text = "Give the size with its tolerance class or its deviations: 24 g6, 36 H7, 28 +0.1/0."
        raise Missing(Fault(field, Message(text)))
    return found


def _fit(least: float, most: float) -> str:
    """Source: ISO 286-1, clearance, transition and interference fit."""
    if least >= 0.0:
        return "clearance fit"
    return "transition fit" if most > 0.0 else "interference fit"


FEATURE = Feature(
    path="geometry/limits-of-size",
    page="/limits",
    title="Limits of size",
    summary="Limits, tolerance and middle of a size such as 24 g6, and the clearance with the hole that it goes into.",
    solve=solve,
    supporting=("upper", "lower", "tolerance", "fit"),
    example={"size": "24 g6", "hole_size": "24 H7"},
)
