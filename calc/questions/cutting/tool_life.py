"""How long an edge lasts, and the surface speeds that cost least and give most parts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from calc.answer.feature import Answer, Feature, Rows
from calc.cutting import nouns
from calc.cutting.feeding import fed_edge
from calc.cutting.life import (
    Economy,
    Taylor,
    Turned,
    edge_life,
    exponent_of_lives,
    life_for_lowest_cost,
    life_for_most_parts,
    one_minute_speed,
    speed_for_life,
    speed_for_parts,
    time_over_life,
)
from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import Machine
from calc.cutting.speed import spindle_speed
from calc.language.checks import require
from calc.language.fields import Declared, given, needed, part, result
from calc.language.kinds import COST, COST_RATE
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Contradiction, Fault, Missing, OutOfRange
from calc.language.quantities import COUNT, RATIO, SPINDLE_SPEED, SURFACE_SPEED, TIME
from calc.questions.cutting.tool_life_plots import OverSpeed, Question, SpeedRow

ROUNDING = 1e-9  # share by which a spindle may be above its limit and still be at it
AGREES = 0.005  # two exponents that differ by no more are one
FARTHEST = 2.5  # times the speed of the known life: beyond, Taylor's straight line is a guess; common practice


class PartInputs(Declared):
    """The cut of one part, along a cylinder."""

    diameter: float = nouns.DIAMETER_OF_CUT.needed()
    cut_length: float = nouns.CUT_LENGTH.needed()
    feed: float = nouns.FEED_RATE.needed()
    batch: float | None = nouns.BATCH.given()
    max_rpm: float | None = nouns.MAX_RPM.given()
    chuck_limit: float | None = nouns.CHUCK_LIMIT.given()


class CostInputs(Declared):
    """What a part takes beside the cut."""

    change_time: float = needed(TIME, "Time to change an edge", "t_t", above=0.0, least=0.001)
    handling_time: float = given(TIME, "Handling for a part", "t_h", least=0.0, blank="none", default=0.0)
    machine_rate: float | None = given(COST_RATE, "Machine and operator", "c_m", above=0.0, hint="in your money")
    edge_cost: float | None = given(COST, "Cost of an edge", "c_e", least=0.0, hint="insert over its edges")


class LifeInputs(Declared):
    """One known life, Taylor's exponent, and the speed asked for."""

    known_speed: float = nouns.KNOWN_SPEED.needed()
    known_life: float = nouns.KNOWN_LIFE.needed(hint="1 min: Taylor's C")
    exponent: float | None = nouns.LIFE_EXPONENT.given()
    second_speed: float | None = given(
        SURFACE_SPEED, "Second speed seen", "v_2", above=0.0, least=1000.0, hint="two lives give the exponent"
    )
    second_life: float | None = given(TIME, "Edge life seen there", "T_2", above=0.0, least=0.01)
    parts_wanted: float | None = given(
        COUNT, "Parts wanted from one edge", "K", above=0.0, most=10_000_000.0, hint="the batch, for no change in it"
    )
    surface_speed: float | None = nouns.SURFACE_SPEED.given(blank="the best one")
    cut: PartInputs = part(PartInputs, "The cut")
    costs: CostInputs = part(CostInputs, "Times and costs")


class LifeResults(Declared):
    """The two best speeds, and what the speed asked for comes to."""

    speed_lowest_cost: float | None = result(SURFACE_SPEED, "Speed for the lowest cost", "v_cost")
    life_lowest_cost: float | None = result(TIME, "Edge lasts there", "T_cost")
    speed_most_parts: float = result(SURFACE_SPEED, "Speed for most parts", "v_most")
    life_most_parts: float = result(TIME, "Edge lasts there", "T_most")
    one_minute_speed: float = result(SURFACE_SPEED, "Speed for one minute", "C")
    exponent_seen: float | None = result(RATIO, "Exponent from the two lives", "n")
    speed_for_parts: float | None = result(SURFACE_SPEED, "Speed for the parts wanted", "v_K")
    life_for_parts: float | None = result(TIME, "Edge life for the parts wanted", "T_K")
    parts_per_edge: float = result(RATIO, "Parts for one edge", "N", hint="at the speed asked for")
    time_per_part: float = result(TIME, "Time for a part", "t_part")
    cost_per_part: float | None = result(COST, "Cost of a part", "c_part")
    edges: float | None = result(COUNT, "Edges for the batch")
    rpm: float = result(SPINDLE_SPEED, "Spindle speed", "n", hint="at the speed asked for")


def solve(inputs: LifeInputs) -> Answer[LifeResults]:
    """The best speeds. Raises Missing and OutOfRange.

    >>> found = solve(LifeInputs(known_speed=70_000.0, known_life=1.0, exponent=0.125, surface_speed=42_000.0,
    ...     cut=PartInputs(diameter=100.0, cut_length=500.0, feed=0.25),
    ...     costs=CostInputs(change_time=2.0, handling_time=5.0, machine_rate=0.5, edge_cost=3.0))).results
    >>> round(found.speed_lowest_cost), round(found.speed_most_parts), round(found.cost_per_part, 3)
    (42323, 50331, 11.313)
    """
    require(inputs)
    seen = _exponent_seen(inputs)
    asked = _question(inputs, inputs.exponent if seen is None else seen)
    most, cheapest = _most_parts(asked), _lowest_cost(asked)
    best, lowest = cheapest or most, cheapest.speed if cheapest else None
    judged = asked.row("to judge", asked.reached(inputs.surface_speed or best.speed))
    judged_rows = () if inputs.surface_speed is None else (judged,)
    shown = OverSpeed.around(asked, judged, lowest, most.speed)
    return Answer(
        results=LifeResults(
            speed_lowest_cost=lowest,
            life_lowest_cost=cheapest.life if cheapest else None,
            speed_most_parts=most.speed,
            life_most_parts=most.life,
            one_minute_speed=asked.taylor.speed,
            exponent_seen=seen,
            **_for_parts(inputs, asked),
            parts_per_edge=judged.parts_per_edge,
            time_per_part=judged.time,
            cost_per_part=judged.cost,
            edges=judged.edges,
            rpm=spindle_speed(judged.surface_speed, inputs.cut.diameter),
        ),
        headline="speed_most_parts" if lowest is None else "speed_lowest_cost",
        cautions=(*_cautions(inputs, judged, best), *_limits(inputs, asked, judged)),
        notes=(Message(_SPREAD),),
        tables={"speeds": (*judged_rows, *asked.best_rows(lowest, most.speed))},
        plots=(*((shown.cost(),) if cheapest else ()), shown.time()),
    )


def _exponent_seen(inputs: LifeInputs) -> float | None:
    """The exponent from two lives that were seen; None when the second is blank.

    Raises OutOfRange where the slower edge did not last longer, Contradiction where another exponent is given.
    """
    v_1, t_1, v_2, t_2 = inputs.known_speed, inputs.known_life, inputs.second_speed, inputs.second_life
    if v_2 is None and t_2 is None:
        return None
    if v_2 is None:
        raise Missing(
            Fault("second_speed", Message("Give the surface speed at which the second edge lasted that long."))
        )
    if t_2 is None:
        raise Missing(Fault("second_life", Message("Give how long the edge lasted at the second surface speed.")))
    if (v_1 - v_2) * (t_2 - t_1) <= 0.0:
        raise OutOfRange(Fault("second_life", Message(_NOT_LONGER)))
    found = exponent_of_lives(v_1, t_1, v_2, t_2)
    least, most = nouns.EXPONENTS
    if not least <= found <= most:
        values: dict[str, Value] = {"found": f"{found:.2f}", "least": f"{least:g}", "most": f"{most:g}"}
        raise OutOfRange(Fault("second_life", Message(_ODD_EXPONENT, values)))
    if inputs.exponent is not None and abs(inputs.exponent - found) > AGREES:
        values = {"found": f"{found:.3f}", "given": f"{inputs.exponent:g}"}
        said = Message("The two lives give the exponent {found}, not {given}: leave one of them blank.", values)
        raise Contradiction(Fault("exponent", said), fields=("exponent", "second_life"))
    return found


def _for_parts(inputs: LifeInputs, asked: Question) -> dict[str, float]:
    """The speed at which one edge makes the parts that are wanted, and its life there, by the names of the results."""
    if inputs.parts_wanted is None:
        return {}
    taylor = asked.taylor
    times = time_over_life(inputs.parts_wanted, asked.cut.time(taylor.speed))
    v = speed_for_parts(taylor.speed, times, taylor.exponent)
    life = edge_life.at("for the parts wanted", v="v_K", result="T_K")(taylor.speed, v, taylor.exponent)
    return {"speed_for_parts": v, "life_for_parts": life}


def _question(inputs: LifeInputs, known_exponent: float | None) -> Question:
    if known_exponent is None:
        raise Missing(Fault("exponent", Message(_NO_EXPONENT)))
    costs, cut, exponent = inputs.costs, inputs.cut, known_exponent
    if (costs.machine_rate is None) != (costs.edge_cost is None):
        absent = "machine_rate" if costs.machine_rate is None else "edge_cost"
        raise Missing(
            Fault(absent, Message("For the lowest cost give both the machine's rate and the cost of an edge."))
        )
    speed = one_minute_speed.at("", v="v_1", T="T_1")(inputs.known_speed, inputs.known_life, exponent)
    return Question(
        Taylor(speed, exponent),
        Turned(cut.diameter, cut.cut_length, cut.feed),
        Economy(costs.handling_time, costs.change_time, costs.machine_rate, costs.edge_cost),
        cut.batch,
        cut.max_rpm,
    )


class _Best(NamedTuple):
    """A best surface speed [mm/min] that the spindle reaches, its edge life [min], and the best one without a limit."""

    speed: float
    life: float
    unlimited: float


def _most_parts(asked: Question) -> _Best:
    life = life_for_most_parts(asked.taylor.exponent, asked.economy.change)
    return _best(asked, "for most parts", ("T_most", "v_most"), life)


def _lowest_cost(asked: Question) -> _Best | None:
    """The cheapest speed; None where rate and cost of an edge are not known."""
    economy = asked.economy
    if economy.rate is None or economy.edge is None:
        return None
    life = life_for_lowest_cost(asked.taylor.exponent, economy.change, economy.edge, economy.rate)
    return _best(asked, "for the lowest cost", ("T_cost", "v_cost"), life)


def _best(asked: Question, place: str, names: tuple[str, str], life: float) -> _Best:
    """The surface speed for a `life` [min]; what the spindle reaches, with its life, where it is less."""
    taylor = asked.taylor
    best = speed_for_life.at(place, T=names[0], result=names[1])(taylor.speed, life, taylor.exponent)
    reached = asked.reached(best)
    if reached == best:
        return _Best(best, life, best)
    return _Best(reached, edge_life.at("with the limit")(taylor.speed, reached, taylor.exponent), best)


def _limits(inputs: LifeInputs, asked: Question, judged: SpeedRow) -> Iterator[Caution]:
    rpm = spindle_speed.function(judged.surface_speed, asked.cut.diameter)
    machine = Machine(max_rpm=asked.max_rpm, chuck_limit=inputs.cut.chuck_limit)
    yield from limits(Case(running=Running(rpm, rpm), fed=(fed_edge(asked.cut.feed),)), machine)


def _cautions(inputs: LifeInputs, judged: SpeedRow, best: _Best) -> Iterator[Caution]:
    known = inputs.known_speed
    if judged.parts_per_edge < 1.0:
        values = {"life": Quantity(judged.life, TIME), "cut": Quantity(judged.in_cut, TIME)}
        yield Caution(Message(_NOT_ONE, values), 3, "surface_speed")
    limit, wanted = inputs.cut.max_rpm, inputs.surface_speed or best.unlimited
    rpm = spindle_speed.function(wanted, inputs.cut.diameter)
    if limit is not None and rpm > limit * (1 + ROUNDING):
        values = {
            "wanted": Quantity(wanted, SURFACE_SPEED),
            "rpm": Quantity(rpm, SPINDLE_SPEED),
            "limit": Quantity(limit, SPINDLE_SPEED),
            "reached": Quantity(judged.surface_speed, SURFACE_SPEED),
        }
        yield Caution(Message(_ABOVE_LIMIT, values), 2, "surface_speed")
    far = [v for v in (judged.surface_speed, best.speed) if not known / FARTHEST <= v <= known * FARTHEST]
    if far and inputs.known_life != 1.0:
        values = {"speed": Quantity(far[0], SURFACE_SPEED), "known": Quantity(known, SURFACE_SPEED)}
        yield Caution(Message(_FAR, values), 2, "surface_speed")


_SPREAD = (
    "Edge lives scatter: even in one batch half or twice the life is common. Start slower than the best speed and let "
    "measured wear correct the exponent."
)
_NOT_ONE = (
    "An edge lasts {life}, less than the {cut} in cut of one part: it would have to be changed within the cut. Turn "
    "slower, feed more, or take a tougher grade."
)
_ABOVE_LIMIT = (
    "{wanted} takes {rpm} on this diameter, above the spindle limit of {limit}: everything is calculated at {reached}, "
    "which it reaches."
)
_FAR = (
    "{speed} is far from the {known} at which the life is known: Taylor's line is not straight that far. Take the "
    "result as a trend, not as a value."
)

_NO_EXPONENT = "Give the life exponent, or a second speed with the life seen there."
_NOT_LONGER = "At the slower of the two speeds the edge must last longer: check which life belongs to which speed."
_ODD_EXPONENT = (
    "The two lives give an exponent of {found}; Taylor's lies between {least} and {most}. One of the edges did not "
    "wear out, or the speeds are too close together."
)

FEATURE = Feature(
    path="speed-feed/tool-life",
    page="/tool-life",
    title="Tool life and cost",
    summary="How long an edge lasts, the speeds for the lowest cost and for most parts, edges for a batch.",
    solve=solve,
    supporting=("speed_most_parts", "life_lowest_cost", "cost_per_part", "edges"),
    rows={"speeds": Rows(SpeedRow, "What each speed comes to, edges changed after whole parts")},
    example={
        "known_speed": "220",
        "known_life": "15",
        "exponent": "0.25",
        "surface_speed": "220",
        "diameter": "42",
        "cut_length": "90",
        "feed": "0.2",
        "batch": "200",
        "max_rpm": "2500",
        "change_time": "2",
        "handling_time": "1.5",
        "machine_rate": "60",
        "edge_cost": "2.5",
    },
)
