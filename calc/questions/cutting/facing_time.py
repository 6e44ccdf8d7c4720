"""Time to face from an outer to an inner diameter at constant surface speed, with the spindle limit."""

from __future__ import annotations

from calc.answer.feature import Answer, Feature
from calc.contour import Line, Point
from calc.cutting import nouns
from calc.cutting.feeding import fed_edge
from calc.cutting.limits import Case, limits, running
from calc.cutting.machine import Machine
from calc.cutting.speed import limit_diameter
from calc.cutting.time import Leg, cutting_time
from calc.language.checks import require
from calc.language.fields import Declared, result
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import DIAMETER, TIME


class FacingTimeInputs(Declared):
    """A facing cut between two diameters."""

    surface_speed: float = nouns.SURFACE_SPEED.needed()
    outer_diameter: float = nouns.OUTER_DIAMETER.needed()
    inner_diameter: float = nouns.INNER_DIAMETER.given(default=0.0, blank="to the axis")
    feed: float = nouns.FEED_RATE.needed()
    max_rpm: float | None = nouns.MAX_RPM.given()
    chuck_limit: float | None = nouns.CHUCK_LIMIT.given()


class FacingTimeResults(Declared):
    """The time in cut, and how much of it the limit holds the spindle."""

    time: float = result(TIME, "Time in cut", "t")
    limit_diameter: float | None = result(DIAMETER, "Limit takes over at", "D_lim")
    time_at_limit: float | None = result(TIME, "Time at the limit", "t_n")


def solve(inputs: FacingTimeInputs) -> Answer[FacingTimeResults]:
    """The time in cut. Raises Missing, OutOfRange; Impossible when the inner diameter is not the smaller one.

    >>> found = solve(FacingTimeInputs(surface_speed=200_000.0, outer_diameter=100.0, feed=0.2, max_rpm=3000.0)).results
    >>> round(60 * found.time, 6)
    12.311489
    """
    require(inputs)
    v, feed, max_rpm = inputs.surface_speed, inputs.feed, inputs.max_rpm
    outer, inner = inputs.outer_diameter, inputs.inner_diameter
    if inner >= outer:
        raise Impossible(Fault("inner_diameter", _not_smaller(outer, inner)))
    limit = None if max_rpm is None else limit_diameter(v, max_rpm)
    leg = Leg(Line(Point(0.0, outer / 2), Point(0.0, inner / 2)), (outer - inner) / 2, feed)
    time = cutting_time(leg, v, max_rpm)
    case = Case(running=running(v, outer, inner, max_rpm), fed=(fed_edge(feed),))
    return Answer(
        results=FacingTimeResults(
            time=time.total, limit_diameter=limit, time_at_limit=None if max_rpm is None else time.at_limit
        ),
        headline="time",
        cautions=tuple(limits(case, Machine(max_rpm=max_rpm, chuck_limit=inputs.chuck_limit))),
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
