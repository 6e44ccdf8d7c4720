"""Spindle speed and true surface speed along a face, a dish or a chain of lines, with the time in closed form."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from calc.answer.feature import Answer, Feature, Rows
from calc.answer.plotting import Axis, Column, Curve, Level, Mark, Plot
from calc.contour import Chain, Point
from calc.contour.chain import heading_change
from calc.contour.tolerance import SMOOTH
from calc.cutting import nouns
from calc.cutting.chip import Edge
from calc.cutting.feeding import fed_edge, inside_cautions
from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import Machine
from calc.cutting.nouns import FeedAt, PointNumber, SpeedAt
from calc.cutting.speed import limit_diameter
from calc.cutting.time import CuttingTime
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, part, result
from calc.language.kinds import ACCELERATION, SECONDS
from calc.language.messages import Caution, Message, Quantity
from calc.language.problems import Fault, Missing
from calc.language.quantities import DIAMETER, FEED, SPINDLE_SPEED, SURFACE_SPEED, TIME, X, Z
from calc.language.working import recording
from calc.machining.passes import Referral, Spindle, pass_time, slowed_inside
from calc.machining.speed_along import Station, accelerations, spindle_acceleration, stations, time_to_change_speed
from calc.questions.cutting.tool_path import (
    SAME_PLACE,
    SHAPES,
    PathShape,
    PointsInputs,
    ShapeInputs,
    chain_of,
    is_on_the_left,
    require_fit,
    traced_on_its_side,
)

STATIONS = 160
ROWS = 9


class NoseInputs(Declared):
    """Where speed and feed are referred."""

    nose_radius: float | None = nouns.NOSE_RADIUS.given(blank="a sharp point")
    speed_at: SpeedAt = nouns.SPEED_AT.chosen()
    feed_at: FeedAt = nouns.FEED_AT.chosen()
    tool_point: PointNumber = nouns.TOOL_POINT.chosen()
    inside_diameter: float | None = given(DIAMETER, "Slower feed inside", above=0.0)
    inside_feed: float | None = given(FEED, "Feed inside it", above=0.0, least=0.001)
    run_up: float | None = given(
        SECONDS,
        "Run-up from rest to the limit",
        "t_up",
        above=0.0,
        most=10.0,
        hint="seconds; machine's manual, or timed",
    )
    chuck_limit: float | None = nouns.CHUCK_LIMIT.given()


class AlongInputs(Declared):
    """What is cut, and at what speed, limit and feed."""

    shape: PathShape = choice("Contour", SHAPES, "face")
    surface_speed: float = nouns.SURFACE_SPEED.needed()
    max_rpm: float = nouns.MAX_RPM.needed()
    feed: float = nouns.FEED_RATE.needed()
    sizes: ShapeInputs = part(ShapeInputs, "Face or dish")
    points: PointsInputs = part(PointsInputs, "Lines")
    nose: NoseInputs = part(NoseInputs, "Nose, feed inside, spindle")


class AlongResults(Declared):
    """Time and speeds along the path."""

    time: float = result(TIME, "Time in cut", "t")
    time_at_limit: float | None = result(TIME, "Time at the limit", "t_n")
    limit_diameter: float | None = result(DIAMETER, "Limit takes over at", "D_lim", hint="where the speed is held")
    rpm_start: float = result(SPINDLE_SPEED, "Spindle at the start")
    rpm_end: float = result(SPINDLE_SPEED, "at the end")
    fastest: float = result(SURFACE_SPEED, "Highest true surface speed", hint="at the contact")
    slowest: float = result(SURFACE_SPEED, "Lowest true surface speed", hint="at the contact")
    acceleration_needed: float = result(ACCELERATION, "Spindle must gain up to")
    acceleration: float | None = result(ACCELERATION, "Spindle gains", "α_n", hint="by its run-up")
    run_up_time: float | None = result(TIME, "Allowance for running up", "t_n", hint="from rest, before the cut")
    total_time: float | None = result(TIME, "Time with that allowance")


class PlaceRow(Declared):
    """One place along the contour."""

    x: float = result(X, "X of the contact")
    z: float = result(Z, "Z of the contact")
    rpm: float = result(SPINDLE_SPEED, "Spindle speed", "n")
    true_speed: float = result(SURFACE_SPEED, "True surface speed", "v")
    feed: float = result(FEED, "Feed", "f")


def solve(inputs: AlongInputs) -> Answer[AlongResults]:
    """Speeds and time along the contour. Raises Missing, OutOfRange, Impossible and what the dish raises.

    >>> found = solve(AlongInputs(surface_speed=200_000.0, max_rpm=3000.0, feed=0.2,
    ...     sizes=ShapeInputs(outer_diameter=100.0))).results
    >>> round(60 * found.time, 6)
    12.311489
    """
    require(inputs)
    chain = chain_of(inputs.shape, inputs.sizes, inputs.points)
    nose = inputs.nose.nose_radius
    require_fit(inputs.shape, inputs.sizes, nose)
    _require_both(inputs.nose)
    traced = traced_on_its_side(inputs.shape, chain, nose, inputs.feed)
    pieces = slowed_inside(traced, inputs.nose.inside_diameter, inputs.nose.inside_feed)
    spindle = Spindle(inputs.surface_speed, inputs.max_rpm)
    referral = Referral(inputs.nose.nose_radius, int(inputs.nose.tool_point), inputs.nose.speed_at, inputs.nose.feed_at)
    with recording():
        places = stations(pieces, referral, spindle, STATIONS)
        gains = list(accelerations(stations(pieces, referral, spindle, 5 * STATIONS)))
    results = _results(inputs, pass_time(pieces, referral, spindle), places, gains)
    return Answer(
        results=results,
        headline="time",
        contour=chain,
        notes=_notes(inputs, chain),
        cautions=(*_limits(inputs, places), *_cautions(inputs, results, gains)),
        tables={"places": [_place(station) for station in _rows(places)]},
        plots=tuple(_plots(inputs, places)),
    )


def _results(
    inputs: AlongInputs, time: CuttingTime, places: Sequence[Station], gains: Sequence[tuple[Point, float]]
) -> AlongResults:
    limit, run_up = inputs.max_rpm, inputs.nose.run_up
    acceleration = None if run_up is None else spindle_acceleration(limit, run_up)
    allowance = None if acceleration is None else time_to_change_speed(0.0, places[0].rpm, acceleration)
    return AlongResults(
        time=time.total,
        time_at_limit=time.at_limit,
        limit_diameter=limit_diameter(inputs.surface_speed, limit),
        rpm_start=places[0].rpm,
        rpm_end=places[-1].rpm,
        fastest=max(station.true_speed for station in places),
        slowest=min(station.true_speed for station in places),
        acceleration_needed=max((gain for _, gain in gains), default=0.0),
        acceleration=acceleration,
        run_up_time=allowance,
        total_time=None if allowance is None else time.total + allowance,
    )


def _require_both(nose: NoseInputs) -> None:
    if (nose.inside_diameter is None) != (nose.inside_feed is None):
        absent = "inside_feed" if nose.inside_feed is None else "inside_diameter"
        raise Missing(Fault(absent, Message("For a slower feed inside give both the diameter and the feed.")))


def _notes(inputs: AlongInputs, chain: Chain) -> tuple[Message, ...]:
    """What the path of a round nose leaves open at inside corners."""
    toward_nose = 1.0 if is_on_the_left(inputs.shape, chain) else -1.0
    inside = any(toward_nose * heading_change(before, after) > SMOOTH for before, after in pairwise(chain))
    return (Message(_INSIDE),) if inside and inputs.nose.nose_radius else ()


def _limits(inputs: AlongInputs, places: Sequence[Station]) -> Iterator[Caution]:
    nose, rpms = inputs.nose, [station.rpm for station in places]
    edge = None if nose.nose_radius is None else Edge(nose.nose_radius)
    case = Case(running=Running(min(rpms), max(rpms)), fed=(fed_edge(inputs.feed, edge=edge),))
    if nose.inside_feed is not None:
        yield from inside_cautions(nose.inside_feed, inputs.feed, "inside_feed")
    yield from limits(case, Machine(max_rpm=inputs.max_rpm, chuck_limit=nose.chuck_limit))


def _cautions(inputs: AlongInputs, found: AlongResults, gains: Sequence[tuple[Point, float]]) -> Iterator[Caution]:
    asked = inputs.surface_speed
    if found.fastest > 1.05 * asked:
        values = {"fastest": Quantity(found.fastest, SURFACE_SPEED), "asked": Quantity(asked, SURFACE_SPEED)}
        yield Caution(Message(_FASTER, values), 2, "fastest")
    if found.acceleration is not None and found.acceleration_needed > found.acceleration:
        gained = found.acceleration
        place = next(at for at, gain in gains if gain > gained)
        values = {
            "needed": Quantity(found.acceleration_needed, ACCELERATION),
            "gains": Quantity(found.acceleration, ACCELERATION),
            "x": Quantity(abs(place.r), X),
        }
        yield Caution(Message(_LAGS, values), 1, "acceleration_needed")
    if found.slowest < 0.5 * asked:
        values = {"slowest": Quantity(found.slowest, SURFACE_SPEED), "asked": Quantity(asked, SURFACE_SPEED)}
        yield Caution(Message(_SLOWER, values), 1, "slowest")


def _rows(places: Sequence[Station]) -> list[Station]:
    """A few of the stations, the ends of the elements among the first to be kept."""
    step = max(1, (len(places) - 1) // (ROWS - 1))
    return [*places[:-1:step], places[-1]]


def _place(station: Station) -> PlaceRow:
    return PlaceRow(
        x=abs(station.contact.r),
        z=station.contact.z,
        rpm=station.rpm,
        true_speed=station.true_speed,
        feed=station.feed,
    )


def _plots(inputs: AlongInputs, places: Sequence[Station]) -> Iterator[Plot]:
    """The true surface speed and the spindle speed against X; nothing along a cylinder, where X stays."""
    xs = [abs(station.contact.r) for station in places]
    if max(xs) - min(xs) >= SAME_PLACE:
        across = Axis("X of the contact", X, "X", (0.0,) if min(xs) < 0.4 * max(xs) else ())
        yield _surface_speed_plot(inputs.surface_speed, across, xs, places)
        yield _spindle_plot(inputs.max_rpm, across, xs, places)


def _surface_speed_plot(asked: float, across: Axis, xs: list[float], places: Sequence[Station]) -> Plot:
    columns = (
        Column(across.label, X),
        Column("Z", Z),
        Column("Spindle", SPINDLE_SPEED),
        Column("Surface speed", SURFACE_SPEED),
    )
    return Plot(
        key="surface-speed",
        title="True surface speed along X",
        description=Message("The surface speed at the contact against X; below the limit's diameter it falls."),
        x=across,
        y=Axis("Surface speed", SURFACE_SPEED, "v", (0.0,)),
        curves=(Curve("true surface speed", xs, [station.true_speed for station in places], "main"),),
        marks=(
            Mark(xs[0], places[0].true_speed, Message("start")),
            Mark(xs[-1], places[-1].true_speed, Message("end")),
        ),
        levels=(Level(asked, "y", Message("asked for")),),
        caption="Speeds along the contour",
        columns=columns,
        rows=tuple((abs(one.contact.r), one.contact.z, one.rpm, one.true_speed) for one in _rows(places)),
        note=Message("Asked for: {v}.", {"v": Quantity(asked, SURFACE_SPEED)}),
    )


def _spindle_plot(limit: float, across: Axis, xs: list[float], places: Sequence[Station]) -> Plot:
    return Plot(
        key="spindle-speed",
        title="Spindle speed along X",
        description=Message("The spindle speed against X, held by the limit toward the axis."),
        x=across,
        y=Axis("Spindle speed", SPINDLE_SPEED, "n", (0.0,)),
        curves=(Curve("spindle speed", xs, [station.rpm for station in places], "main"),),
        levels=(Level(limit, "y", Message("limit")),),
        caption="Spindle speed along the contour",
        columns=(Column(across.label, X), Column("Spindle", SPINDLE_SPEED)),
        rows=tuple((abs(one.contact.r), one.rpm) for one in _rows(places)),
        note=Message("Limit: {n}.", {"n": Quantity(limit, SPINDLE_SPEED)}),
    )


_INSIDE = (
    "At an inside corner the nose turns before it reaches the corner and leaves its own radius there; the time is "
    "counted along what it touches."
)
_FASTER = (
    "The true surface speed reaches {fastest}, not the {asked} asked for: the control holds it at the tool point, and "
    "the nose touches farther out. Ask for less, so that the contact keeps within what the edge bears."
)
_LAGS = (
    "From {x} on the spindle would have to gain {needed}, but it gains {gains}: it lags, the surface speed falls and "
    "the cut takes longer than this. Lower the limit or the feed."
)
_SLOWER = (
    "Toward the axis the surface speed falls to {slowest} of the {asked} asked for: expect a rougher surface and a "
    "built-up edge there; feed less."
)

FEATURE = Feature(
    path="speed-feed/speed-along",
    page="/speed-along",
    title="Speed along a contour",
    summary="Spindle and true surface speed along a face, a dish or lines, the time, and what the spindle must do.",
    solve=solve,
    supporting=("rpm_start", "rpm_end", "fastest", "limit_diameter"),
    rows={"places": Rows(PlaceRow, "Speeds along the contour")},
    example={
        "shape": "dish",
        "surface_speed": "220",
        "max_rpm": "2000",
        "feed": "0.2",
        "radius": "75",
        "depth": "4.5",
        "nose_radius": "6",
        "speed_at": "point",
        "inside_diameter": "8",
        "inside_feed": "0.1",
        "run_up": "2",
        "chuck_limit": "3200",
    },
)
