"""Checking a thread: over wires, what a measure means for the pitch diameter, how far to move X, what gauges allow."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, pi, sin
from typing import Literal, NamedTuple

from calc.language.limited import Limited, aimed
from calc.language.messages import Digits, Message, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import LENGTH, Angle, Diameter, Length, Ratio
from calc.language.working import formula, recording
from calc.threads import wires as formulas
from calc.threads.profile import sharp_height
from calc.threads.sizes import Diameters, Sizes
from calc.threads.thread import Thread

WireCount = Literal["three", "two", "one"]
COUNTS: dict[WireCount, str] = {
    "three": "three, two of them on one side",
    "two": "two, held square",
    "one": "one, against the crest",
}
FITS = "in its limits"
ROUNDS = 4  # of solving for the pitch diameter that a measure means; each one is 1e-3 or less of the one before


@dataclass(frozen=True, slots=True)
class Wires:
    """Wires for a thread [mm]: used, best, the range that works; the measure over them, what it is above the best's."""

    wire: float
    best: float
    smallest: float
    largest: float
    over: Diameters
    simple: Diameters
    correction: float


@formula(source="on diameter, straight in", means="change of X on diameter", result="Delta_X")
def change_of_x(d_2a: Diameter, d_2: Diameter) -> Length:
    """How far to move X on diameter [mm] from the measured pitch diameter `d_2` to the aimed `d_2a` [mm].

    Source: definition; straight in, X and pitch diameter go together.

    >>> round(change_of_x(21.903, 22.05), 3)
    -0.147
    """
    return d_2a - d_2


@formula(
    source="a turn of the gauge moves it one lead along the cone", means="change of X on diameter", result="Delta_X"
)
def change_by_turns(n: Ratio, P: Length, C: Ratio, s: Ratio) -> Length:
    """How far to move X on diameter [mm] when the gauge of a taper thread stands `n` turns short of its plane.

    `P` is the pitch [mm], `C` the taper, `s` 1 outside and -1 inside. Source: definition.

    >>> round(change_by_turns(1.0, 1.814286, 1 / 16, 1.0), 4)
    -0.1134
    """
    return -s * n * P * C


@formula(source="plating square to the flank", means="growth of the pitch diameter by plating", result="Delta_d2")
def plating_on_pitch(t: Length, alpha: Angle) -> Length:
    """How much [mm] plating `t` thick [mm] adds to the pitch diameter, flanks at `alpha` [rad]: 4 t at 60 degrees.

    Source: geometry.

    >>> from math import radians
    >>> round(plating_on_pitch(0.008, radians(30.0)), 4)
    0.032
    """
    return 2 * t / sin(alpha)


def wires_for(thread: Thread, wire: float | None, pitch: Diameters, count: str, crest: float | None) -> Wires | None:
    """The wires for an outside parallel `thread` with the pitch diameter `pitch`; None for the others.

    `wire` is the diameter at hand (None: the best), `count` one of `COUNTS`, `crest` the measured major diameter for
    one wire. Raises Impossible at `wire` for one that does not work.

    >>> from calc.threads.thread import thread_of
    >>> thread = thread_of("M24x3-6g")
    >>> found = wires_for(thread, None, thread.sizes.pitch, "three", None)
    >>> round(found.best, 4), round(found.over.upper, 4)
    (1.7321, 24.6034)
    """
    sizes = thread.sizes
    if not sizes.outside or thread.plane is not None:
        return None
    best = formulas.best_wire(sizes.pitch_length, sizes.alpha)
    tip = aimed(pitch) / 2 - sharp_height.function(sizes.pitch_length, sizes.alpha) / 2
    low, high = (sizes.major.lower, sizes.major.upper) if isinstance(sizes.major, Limited) else (sizes.major,) * 2
    smallest = formulas.smallest_wire(high / 2 - tip, sizes.alpha)
    largest = formulas.largest_wire(low / 2 - tip, sizes.alpha)
    used = best if wire is None else wire
    if wire is not None and not smallest < wire < largest:
        raise _does_not_work(wire, smallest, largest, best)
    simple = _simple(sizes, used, pitch)
    over = _over(thread, used, pitch, count, crest)
    with recording():
        more = aimed(over) - aimed(_over(thread, best, pitch, count, crest))
    return Wires(used, best, smallest, largest, over, simple, more)


def _does_not_work(wire: float, smallest: float, largest: float, best: float) -> Impossible:
    values: dict[str, Value] = {
        "wire": Quantity(wire, LENGTH),
        "low": Quantity(smallest, LENGTH),
        "high": Quantity(largest, LENGTH),
        "best": Quantity(best, LENGTH),
    }
    text = "A wire of {wire} rides on the crests: between {low} and {high} works here, {best} is best."
    if wire <= smallest:
        text = "A wire of {wire} sinks below the crests: between {low} and {high} works here, {best} is best."
    return Impossible(Fault("wire", Message(text, values)))


def _simple(sizes: Sizes, wire: float, pitch: Diameters) -> Diameters:
    """Over three wires [mm] without the helix, at the limits and the basic size as the other one; shown for the aim."""
    at_aim = formulas.over_wires_simple(aimed(pitch), wire, sizes.pitch_length, sizes.alpha)
    if not isinstance(pitch, Limited):
        return at_aim
    away = at_aim - pitch.aimed  # the same at every pitch diameter
    return Limited.between(pitch.lower + away, pitch.upper + away, pitch.value + away)


def _over(thread: Thread, wire: float, pitch: Diameters, count: str, crest: float | None) -> Diameters:
    if not isinstance(pitch, Limited):
        return _one_measure(thread, wire, pitch, count, crest)
    lower, upper, basic = (
        _one_measure(thread, wire, at, count, crest, where)
        for at, where in (
            (pitch.lower, "at the lower limit"),
            (pitch.upper, "at the upper limit"),
            (pitch.value, "at the basic size"),
        )
    )
    return Limited.between(lower, upper, basic)


def _one_measure(thread: Thread, wire: float, pitch: float, count: str, crest: float | None, where: str = "") -> float:
    sizes, lead = thread.sizes, thread.lead
    rest = formulas.contact_rest(pitch, wire, sizes.pitch_length, sizes.alpha, lead)
    phi = atan(lead / (pi * pitch))
    over = formulas.over_wires_helix.at(where)(pitch, wire, sizes.pitch_length, sizes.alpha, phi, rest)
    if count != "one":
        return over
    return formulas.over_one_wire.at(where)(over, aimed(sizes.major) if crest is None else crest)


def pitch_measured(thread: Thread, wire: float, measured: float, count: str, crest: float | None) -> float:
    """The pitch diameter [mm] of a thread that measures `measured` over wires `wire` [mm].

    `count` and `crest` as for `wires_for`. Raises Impossible at `over_wires_measured` for a measure that cannot be.

    >>> from calc.threads.thread import thread_of
    >>> round(pitch_measured(thread_of("M24x3-6g"), 1.75, 24.6572, "three", None), 3)
    22.003
    """
    sizes = thread.sizes
    over = (
        formulas.three_from_one(measured, aimed(sizes.major) if crest is None else crest)
        if count == "one"
        else measured
    )
    P, alpha, lead = sizes.pitch_length, sizes.alpha, thread.lead
    found = sizes.basic.pitch
    for _ in range(ROUNDS):
        if abs(found - sizes.basic.pitch) > P:
            raise _cannot_be(measured)
        rest = formulas.contact_rest(found, wire, P, alpha, lead)
        phi = atan(lead / (pi * found))
        found = formulas.pitch_from_wires.function(over, wire, P, alpha, phi, rest)
    if abs(found - sizes.basic.pitch) > P:
        raise _cannot_be(measured)
    return formulas.pitch_from_wires(over, wire, P, alpha, phi, rest)


def _cannot_be(measured: float) -> Impossible:
    text = (
        "{measured} over these wires would put the pitch diameter more than a pitch away from this thread: check the "
        "reading, the wire and the units."
    )
    return Impossible(Fault("over_wires_measured", Message(text, {"measured": Quantity(measured, LENGTH)})))


class Verdict(NamedTuple):
    """A measured pitch diameter against its limits: in a word or two, and with the amount and what follows."""

    word: str
    sentence: Message


def verdict(pitch: Diameters, measured: float, *, outside: bool) -> Verdict | None:
    """What a `measured` pitch diameter [mm] means against the limits of `pitch`; None where there are none.

    >>> found = verdict(Limited.between(21.803, 22.003, 22.051), 22.05, outside=True)
    >>> found.word, found.sentence.say()
    ('too large', 'The pitch diameter is too large by 0.047 mm: the GO ring will not go on. Cut deeper.')
    """
    if not isinstance(pitch, Limited):
        return None
    over, under = measured - pitch.upper, pitch.lower - measured
    if over > 0.0:
        text = "The pitch diameter is too large by {by}: the NO-GO plug goes in. The part is scrap."
        if outside:
            text = "The pitch diameter is too large by {by}: the GO ring will not go on. Cut deeper."
        return Verdict("too large", Message(text, _by(over)))
    if under > 0.0:
        text = "The pitch diameter is too small by {by}: the GO plug will not go in. Cut deeper."
        if outside:
            text = "The pitch diameter is too small by {by}: the NO-GO ring goes on. The part is scrap."
        return Verdict("too small", Message(text, _by(under)))
    text = "The pitch diameter is in its limits, {by} from the nearer one."
    return Verdict(FITS, Message(text, _by(min(-over, -under))))


def _by(amount: float) -> dict[str, Value]:
    return {"by": Quantity(amount, LENGTH)}


def turns_verdict(thread: Thread, short: float) -> Verdict | None:
    """What it means that the gauge stands `short` turns before its plane; None for a parallel thread.

    >>> from calc.threads.thread import thread_of
    >>> turns_verdict(thread_of("NPT 1/2"), 1.5).word, turns_verdict(thread_of("NPT 1/2"), -0.5).word
    ('too large', 'in its limits')
    """
    if thread.plane is None:
        return None
    values: dict[str, Value] = {"turns": Digits(f"{abs(short):g}"), "most": Digits(f"{thread.plane.turns:g}")}
    if abs(short) <= thread.plane.turns:
        text = "The gauge plane is in its limits: {turns} of {most} turns off."
        return Verdict(FITS, Message(text, values))
    if short > 0.0:
        word = "too large" if thread.sizes.outside else "too small"
        text = "The gauge stands {turns} turns short, more than {most}: the thread is {size}. Cut deeper."
        return Verdict(word, Message(text, {**values, "size": word}))
    word = "too small" if thread.sizes.outside else "too large"
    text = "The gauge goes {turns} turns too far, more than {most}: the thread is {size}, and cut too deep."
    return Verdict(word, Message(text, {**values, "size": word}))
