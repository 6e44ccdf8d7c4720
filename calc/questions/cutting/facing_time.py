"""Time to face from an outer to an inner diameter at constant surface speed, with the spindle limit."""

from __future__ import annotations

from dataclasses import dataclass

from calc.answer.feature import Answer, Feature
from calc.contour import Line, Point
from calc.cutting.cautions import chuck_caution
from calc.cutting.speed import limit_diameter
from calc.cutting.time import Leg, cutting_time
from calc.language.checks import require
from calc.language.fields import given, result
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import DIAMETER, FEED, SPINDLE_SPEED, SURFACE_SPEED, TIME


@dataclass(frozen=True, kw_only=True)
class FacingTimeInputs:
    """A facing cut between two diameters."""

    surface_speed: float | None = given(SURFACE_SPEED, "Surface speed", "v", above=0.0, least=1000.0)
    outer_diameter: float | None = given(DIAMETER, "Outer diameter", "D_1", above=0.0, least=0.001)
    inner_diameter: float | None = given(DIAMETER, "Inner diameter", "D_2", least=0.0, blank="to the axis")
    feed: float | None = given(FEED, "Feed", "f", above=0.0, least=0.001)
    max_rpm: float | None = given(SPINDLE_SPEED, "Spindle limit", "n_max", above=0.0, least=1.0)
    chuck_limit: float | None = given(SPINDLE_SPEED, "Chuck's marked limit", above=0.0, hint="as marked on the chuck")


@dataclass(frozen=True, kw_only=True)
class FacingTimeResults:
    """The time in cut, and how much of it the limit holds the spindle."""

    time: float = result(TIME, "Time in cut", "t")
    limit_diameter: float | None = result(DIAMETER, "Limit takes over at", "D_lim")
    time_at_limit: float | None = result(TIME, "of it at the limit", "t_n")


def solve(inputs: FacingTimeInputs) -> Answer[FacingTimeResults]:
    """The time in cut. Raises Missing, OutOfRange; Impossible when the inner diameter is not the smaller one.

    >>> found = solve(FacingTimeInputs(surface_speed=200_000.0, outer_diameter=100.0, feed=0.2, max_rpm=3000.0)).results
    >>> round(60 * found.time, 6)
    12.311489
    """
    require(inputs, "surface_speed", "outer_diameter", "feed")
    v, feed, max_rpm = inputs.surface_speed or 0.0, inputs.feed or 0.0, inputs.max_rpm
    outer, inner = inputs.outer_diameter or 0.0, inputs.inner_diameter or 0.0
    if inner >= outer:
        raise Impossible(Fault("inner_diameter", _not_smaller(outer, inner)))
    limit = None if max_rpm is None else limit_diameter(v, max_rpm)
    leg = Leg(Line(Point(0.0, outer / 2), Point(0.0, inner / 2)), (outer - inner) / 2, feed)
    time = cutting_time(leg, v, max_rpm, limit=limit)
    caution = chuck_caution(max_rpm, inputs.chuck_limit)
    return Answer(
        results=FacingTimeResults(
            time=time.total, limit_diameter=limit, time_at_limit=None if max_rpm is None else time.at_limit
        ),
        headline="time",
        cautions=() if caution is None else (caution,),
    )


def _not_smaller(outer: float, inner: float) -> Message:
    return Message(
        "The inner diameter {inner} must be smaller than the outer one, {outer}.",
        {"inner": Quantity(inner, DIAMETER), "outer": Quantity(outer, DIAMETER)},
    )


FEATURE = Feature(
    path="speed-feed/facing-time",
    title="Facing time",
    summary="Time to face between two diameters at constant surface speed, and how much of it at the spindle limit.",
    inputs=FacingTimeInputs,
    results=FacingTimeResults,
    solve=solve,
    page="/facing-time",
    supporting=("time_at_limit", "limit_diameter"),
    example={
        "surface_speed": "180",
        "outer_diameter": "60",
        "inner_diameter": "0",
        "feed": "0.25",
        "max_rpm": "2000",
        "chuck_limit": "3200",
    },
)
