"""How far work may stand out: by the shop's guide and by what it deflects, alone, on a centre, or through a steady."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calc.answer.feature import Answer, Feature, Rows
from calc.cutting import nouns
from calc.cutting.limits import LONGEST_OVERHANG, overhang_cautions
from calc.cutting.stiffness import WORK, Beam, Held, WorkOf, deflection, diameter_error, weakest_place
from calc.cutting.unsupported import (
    deflection_beyond_steady,
    length_by_guide,
    length_for_deflection,
    load_on_steady,
    steadies,
)
from calc.language.checks import require, require_wall
from calc.language.fields import Declared, choice, given, part, result, word
from calc.language.kinds import DEFLECTION, ESTIMATED_LENGTH
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import COUNT, DIAMETER, FORCE, LENGTH
from calc.language.working import recording
from calc.questions.cutting.work_deflection import HELD, LONGEST_SUPPORTED

GUIDES: dict[Held, float] = {
    "chuck": LONGEST_OVERHANG,
    "tailstock": LONGEST_SUPPORTED,
    "centres": LONGEST_SUPPORTED,
}


class SteadyInputs(Declared):
    """A steady that holds the work near its free end, without a tailstock."""

    steady_at: float | None = given(LENGTH, "Steady, from the chuck", "c", above=0.0)
    beyond_steady: float | None = given(LENGTH, "Cut beyond the steady, at most", "b", least=0.0)
    steady_allowed: float | None = given(FORCE, "Load allowed on the steady", above=0.0, hint="its maker's table")


class HowFarOutInputs(Declared):
    """The work, the force that pushes it away, what may come of it."""

    held: Held = nouns.HELD.chosen()
    work_diameter: float = nouns.WORK_DIAMETER.needed(symbol="D", hint="its slenderest long stretch")
    passive_force: float = nouns.PASSIVE_FORCE.needed(
        hint="square to the axis; roughly a third to half the cutting force"
    )
    tolerance: float = nouns.TOLERANCE.needed(hint="what the diameter may come out larger by")
    length_out: float | None = nouns.LENGTH_OUT.given(symbol="L", hint="as it is meant to stand out")
    work_bore: float = given(DIAMETER, "Bore through it", "d", least=0.0, blank="solid", default=0.0)
    work_material: WorkOf = choice("Work", {code: work.words for code, work in WORK.items()}, "steel")
    steady: SteadyInputs = part(SteadyInputs, "A steady instead of the tailstock")


class HeldRow(Declared):
    """How far out the same work may stand, held so."""

    held: str = word("Held")
    guide: float = result(ESTIMATED_LENGTH, "By the rule of thumb")
    kept: float = result(ESTIMATED_LENGTH, "By the deflection")


class HowFarOutResults(Declared):
    """How far, why, and what holds it beyond that."""

    longest: float = result(ESTIMATED_LENGTH, "Stand out at most", "L_max")
    by: str = word("because of")
    by_guide: float = result(
        ESTIMATED_LENGTH, "By the rule of thumb", "L_g", hint="3 diameters in the chuck alone, 10 supported"
    )
    by_deflection: float = result(ESTIMATED_LENGTH, "By the deflection", "L_d", hint="where it deflects most")
    diameter_error: float | None = result(DEFLECTION, "Comes out larger by", "dD", hint="at the length given")
    steadies: float | None = result(COUNT, "Steadies needed", "i_s", hint="evenly spaced")
    beyond_error: float | None = result(DEFLECTION, "Larger at the end beyond the steady", "dD_b")
    steady_load: float | None = result(FORCE, "Load on the steady", "F_l", hint="from the passive force")


def solve(inputs: HowFarOutInputs) -> Answer[HowFarOutResults]:
    """How far the work may stand out. Raises Missing, OutOfRange; Impossible for a bore that leaves no wall.

    >>> found = solve(HowFarOutInputs(work_diameter=20.0, passive_force=200.0, tolerance=0.02)).results
    >>> round(found.by_deflection, 1), found.longest, found.by
    (62.8, 60.0, 'the rule of thumb')
    """
    require(inputs)
    diameter, bore = inputs.work_diameter, inputs.work_bore
    require_wall("work_bore", bore, diameter)
    beam = Beam(diameter, diameter, WORK[inputs.work_material], bore)
    section = beam.section()
    guide = length_by_guide(GUIDES[inputs.held], diameter)
    kept = _kept(replace(beam, length=guide), inputs, inputs.held, section)
    longest = min(guide, kept)
    beyond, load = _beyond(inputs, beam, section)
    results = HowFarOutResults(
        longest=longest,
        by="the rule of thumb" if guide <= kept else "the deflection",
        by_guide=guide,
        by_deflection=kept,
        diameter_error=_error(inputs, beam, section),
        steadies=_steadies(inputs, longest),
        beyond_error=beyond,
        steady_load=load,
    )
    return Answer(
        results=results,
        headline="longest",
        tables={"by_held": tuple(_rows(inputs, beam, section))},
        cautions=tuple(_cautions(inputs, results)),
        notes=(Message(_ASSUMED), *(() if guide > kept else (Message(_GUIDE_ONLY),))),
    )


def _kept(beam: Beam, inputs: HowFarOutInputs, held: Held, section: float) -> float:
    """The length [mm] at which the diameter comes out larger by what is allowed, from `beam` of any length."""
    given_way = deflection(beam, inputs.passive_force, weakest_place(beam, held), held, section)
    return length_for_deflection(beam.length, inputs.tolerance / 2, given_way)


def _rows(inputs: HowFarOutInputs, beam: Beam, section: float) -> Iterator[HeldRow]:
    for held, most in GUIDES.items():
        guide = most * beam.diameter
        own = replace(beam, length=guide)
        with recording():
            kept = _kept(own, inputs, held, section)
        yield HeldRow(held=HELD[held], guide=guide, kept=kept)


def _error(inputs: HowFarOutInputs, beam: Beam, section: float) -> float | None:
    if inputs.length_out is None:
        return None
    own = replace(beam, length=inputs.length_out)
    return diameter_error(deflection(own, inputs.passive_force, weakest_place(own, inputs.held), inputs.held, section))


def _steadies(inputs: HowFarOutInputs, longest: float) -> float | None:
    """How many steadies the length needs; in the chuck alone a tailstock or one steady comes first."""
    if inputs.length_out is None or inputs.held == "chuck":
        return None
    return steadies(inputs.length_out, longest)


def _beyond(inputs: HowFarOutInputs, beam: Beam, section: float) -> tuple[float | None, float | None]:
    """What the end beyond a steady comes out larger by [mm], and the load on the steady [N]."""
    at, beyond = inputs.steady.steady_at, inputs.steady.beyond_steady
    if at is None or beyond is None:
        return None, None
    given_way = deflection_beyond_steady(inputs.passive_force, at, beyond, beam.material.modulus, section)
    return diameter_error.at("beyond the steady", result="dD_b")(given_way), load_on_steady.at("", F="F_p")(
        inputs.passive_force, beyond, at
    )


def _cautions(inputs: HowFarOutInputs, found: HowFarOutResults) -> Iterator[Caution]:
    values: dict[str, Value] = {"allowed": Quantity(inputs.tolerance, LENGTH)}
    if found.diameter_error is not None and found.diameter_error > inputs.tolerance:
        values |= {
            "error": Quantity(found.diameter_error, DEFLECTION),
            "longest": Quantity(found.longest, ESTIMATED_LENGTH),
        }
        yield Caution(Message(_BEYOND, values), 2, "diameter_error")
    if inputs.held == "chuck":
        yield from overhang_cautions(inputs.length_out, inputs.work_diameter)
    if found.steadies:
        values["count"] = int(found.steadies)
        yield Caution(Message(_STEADY, values), 2, "steadies")
    if found.beyond_error is not None and found.beyond_error > inputs.tolerance:
        values["beyond"] = Quantity(found.beyond_error, DEFLECTION)
        yield Caution(Message(_BEYOND_STEADY, values), 2, "beyond_error")
    most = inputs.steady.steady_allowed
    if found.steady_load is not None and most is not None and found.steady_load > most:
        values = {"load": Quantity(found.steady_load, FORCE), "most": Quantity(most, FORCE)}
        yield Caution(Message(_STEADY_LOAD, values), 3, "steady_load")


_ASSUMED = (
    "The rule of thumb is what shops keep to, no law of mechanics: 3 diameters in the chuck alone, 10 with a centre. "
    "The deflection is that of a rigid chuck, spindle and centre: take it as the least, and the length as the most."
)
_BEYOND = (
    "At this length the diameter comes out {error} larger, {allowed} is allowed: stand it out {longest} at most, "
    "support it, or take a lighter last cut."
)
_STEADY = (
    "Longer than work should stand between its supports. Steady rests needed, evenly spaced: {count}, each on a turned "
    "place that runs true; or a follow rest behind the tool."
)
_BEYOND_STEADY = (
    "Beyond the steady the diameter comes out {beyond} larger, {allowed} is allowed: move the steady nearer to the cut."
)
_STEADY_LOAD = "The steady carries {load} and is marked for {most}: move it nearer to the cut, or cut less."
_GUIDE_ONLY = (
    "By its deflection alone the work could stand out further; it may still chatter, whip and climb out, so keep to "
    "the rule of thumb unless the shop knows better."
)

FEATURE = Feature(
    path="speed-feed/how-far-out",
    title="How far out",
    summary="How far work may stand out of the chuck or between its supports, by guide and by deflection; steadies.",
    solve=solve,
    page="/how-far-out",
    rows={"by_held": Rows(HeldRow, "The same work, held otherwise")},
    supporting=("by", "by_guide", "by_deflection", "diameter_error", "steadies"),
    example={
        "held": "tailstock",
        "work_diameter": "20",
        "passive_force": "250",
        "tolerance": "0.02",
        "length_out": "260",
    },
)
