"""A bar in the spindle: the speed at which it whips, what the liner leaves it, how far it may stand free."""

from __future__ import annotations

from collections.abc import Iterator

from calc.answer.feature import Answer, Feature
from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import Machine
from calc.cutting.stiffness import WORK, Beam, Held, WorkOf
from calc.cutting.whip import bow_at_speed, free_length, liner_play, share_of_critical
from calc.language.checks import require, require_wall
from calc.language.fields import Declared, choice, given, needed, part, result
from calc.language.kinds import DEFLECTION, ESTIMATED_LENGTH
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import DIAMETER, LENGTH, RATIO, SPINDLE_SPEED

SUPPORTED: dict[Held, str] = {
    "chuck": "held at one end, the other free",
    "tailstock": "held at one end, guided at the other",
    "centres": "guided at both ends",
}
USUAL_SHARE = 0.5  # of the critical speed; common practice, no source
LOOSE = 2.0  # mm on the diameter, of a bar in its liner; common practice, no source


class BarWhipInputs(Declared):
    """The stretch of bar that nothing guides, and the speed that is wanted."""

    stock_diameter: float = needed(DIAMETER, "Stock diameter", "D", above=0.0)
    free_length: float = needed(LENGTH, "Length that nothing guides", "L", above=0.0, hint="in or behind the spindle")
    supported: Held = choice("This stretch is", SUPPORTED, "chuck")
    stock_bore: float = given(DIAMETER, "Bore of the stock", "d", least=0.0, hint="a tube", blank="solid", default=0.0)
    rpm: float | None = given(SPINDLE_SPEED, "Spindle speed", "n", above=0.0, least=1.0)
    share_allowed: float = given(
        RATIO, "Share of the critical speed allowed", "q", above=0.0, most=0.9, blank="0.5", default=USUAL_SHARE
    )
    bow: float | None = given(LENGTH, "Bow of the bar at rest", "e", above=0.0, hint="from its line, at most")
    liner_bore: float | None = given(DIAMETER, "Bore of the liner", "D_l", above=0.0)
    work_material: WorkOf = choice("Work", {code: work.words for code, work in WORK.items()}, "steel")
    machine: Machine = part(Machine, "Machine and chuck")


class BarWhipResults(Declared):
    """The speed to stay below."""

    allowed_rpm: float = result(SPINDLE_SPEED, "Turn at most", hint="by whip alone")
    critical_rpm: float = result(SPINDLE_SPEED, "Critical speed", "n_c")
    share: float | None = result(RATIO, "Share of it at this speed", "q_n")
    longest: float | None = result(ESTIMATED_LENGTH, "Free length allowed at this speed", "L_n")
    bow_at_speed: float | None = result(DEFLECTION, "Bow at this speed", "e_n")
    liner_play: float | None = result(LENGTH, "Play in the liner", hint="on the diameter")


def solve(inputs: BarWhipInputs) -> Answer[BarWhipResults]:
    """The bar's critical speed. Raises Missing, OutOfRange; Impossible for a bore without a wall or a tight liner.

    >>> found = solve(BarWhipInputs(stock_diameter=25.0, free_length=1000.0)).results
    >>> round(found.critical_rpm), round(found.allowed_rpm)
    (1085, 543)
    """
    require(inputs)
    d, bore = inputs.stock_diameter, inputs.stock_bore
    require_wall("stock_bore", bore, d)
    beam = Beam(inputs.free_length, d, WORK[inputs.work_material], bore)
    critical = beam.frequency(inputs.supported, beam.section())
    rpm = inputs.rpm
    share = None if rpm is None else share_of_critical(rpm, critical)
    bow = None
    if share is not None and share < 1.0 and inputs.bow is not None:
        bow = bow_at_speed(inputs.bow, share)
    results = BarWhipResults(
        allowed_rpm=inputs.share_allowed * critical,
        critical_rpm=critical,
        share=share,
        longest=None if share is None else free_length(inputs.free_length, inputs.share_allowed, share),
        bow_at_speed=bow,
        liner_play=_play(inputs),
    )
    case = Case(running=None if rpm is None else Running(rpm, rpm))
    return Answer(
        results=results,
        headline="allowed_rpm",
        cautions=(
            *_cautions(inputs, results),
            *limits(case, inputs.machine),
        ),
        notes=(Message(_ASSUMED),),
    )


def _play(inputs: BarWhipInputs) -> float | None:
    if inputs.liner_bore is None:
        return None
    if inputs.liner_bore <= inputs.stock_diameter:
        values = {"stock": Quantity(inputs.stock_diameter, DIAMETER), "liner": Quantity(inputs.liner_bore, DIAMETER)}
        raise Impossible(Fault("liner_bore", Message("A bar of {stock} does not go into a liner of {liner}.", values)))
    return liner_play(inputs.liner_bore, inputs.stock_diameter)


def _cautions(inputs: BarWhipInputs, found: BarWhipResults) -> Iterator[Caution]:
    if inputs.supported == "chuck":
        yield Caution(Message(_GUARD), 3, "free_length")
    if inputs.rpm is not None and inputs.rpm > found.allowed_rpm:
        values: dict[str, Value] = {
            "rpm": Quantity(inputs.rpm, SPINDLE_SPEED),
            "most": Quantity(found.allowed_rpm, SPINDLE_SPEED),
            "critical": Quantity(found.critical_rpm, SPINDLE_SPEED),
        }
        if found.longest is not None:
            values["length"] = Quantity(found.longest, ESTIMATED_LENGTH)
        yield Caution(Message(_WHIPS, values), 3, "rpm")
    if found.liner_play is not None and found.liner_play > LOOSE:
        values = {"play": Quantity(found.liner_play, LENGTH), "most": Quantity(LOOSE, LENGTH)}
        yield Caution(Message(_LOOSE, values), 2, "liner_bore")


_ASSUMED = (
    "A straight bar of one section, held as rigidly as said; clamping that gives, a bow, a weight at its end lower the "
    "critical speed. The share allowed is there for that."
)
_GUARD = (
    "A bar that stands free behind the spindle bends out at speed and strikes whoever is near: cut it to the spindle's "
    "length, or guide it in a fixed tube over its whole length before the spindle turns."
)
_WHIPS = (
    "At {rpm} the bar is above the {most} allowed, its critical speed is {critical}: it bends out and whips. Turn "
    "slower, or guide it so that no more than {length} is free."
)
_LOOSE = (
    "The bar has {play} of play in its liner, more than {most}: it knocks and shakes the work. Take a closer liner."
)

FEATURE = Feature(
    path="speed-feed/bar-whip",
    title="Bar in the spindle",
    summary="The speed at which a bar whips in or behind the spindle, and how much of it may be free at a speed.",
    solve=solve,
    page="/bar-whip",
    supporting=("critical_rpm", "share", "longest", "liner_play"),
    example={
        "stock_diameter": "42",
        "free_length": "800",
        "rpm": "1500",
        "liner_bore": "43",
        "max_rpm": "2000",
        "chuck_limit": "3200",
    },
)
