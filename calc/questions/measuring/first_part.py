"""The first part measured: readings go in, what to change comes out, with how sure that is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import cast

from calc.answer.drawing import Drawing
from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Chain, Side
from calc.contour.text import ContourGiven
from calc.cutting import nouns
from calc.language.checks import require
from calc.language.fields import choice, contour, flag, given, needed, part, result, rows, word
from calc.language.kinds import EXPANSION, FINE_RATIO, TEMPERATURE
from calc.language.known import Known
from calc.language.limited import limited
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Missing, OutOfRange, Problem
from calc.language.quantities import LENGTH, RADIUS, X, Z
from calc.measuring.causes import CAUSES, State
from calc.measuring.estimate import Measured
from calc.measuring.first_part import FirstPart, change, deviation, first_part
from calc.measuring.limits import Limits, read_limits
from calc.measuring.places import Place, What, faced_for_it, find, size, spring_share, tool_side, turned_for_it
from calc.measuring.temperature import COEFFICIENTS, MATERIALS, REFERENCE, at_twenty
from calc.measuring.verdict import SCRAP, verdict
from calc.questions.measuring.first_part_words import AdviceRow, advice_rows, cautions_of, notes_of
from calc.shapes.chosen import OWN, SHAPES, shape_chain

WHATS = {
    "diameter": "diameter",
    "length": "length from Z 0",
    "depth": "depth from Z 0",
    "radius": "radius by gauge",
    "over_wires": "over wires or pins",
    "runout": "runout",
}
PARTS = {"first": "first", "second": "second, turned after it"}
SIDES = {"": "by its tool point", "left": "left of travel", "right": "right of travel"}
ROW_HINT = (
    "The print's size with its limits (24 g6, 28 +0.1/0), or with upper and lower apart. Spread: half width at 95 % of "
    "this gauge. The gauge's error is taken off."
)
USUAL_SPREAD, FINEST = 0.005, 1e-6
"""mm: a micrometer in a shop (common practice), and the least that a spread of 0 is taken as."""
ANOTHER_PLACE = 0.5
"""mm: a nominal size that is farther than this from the contour's belongs to another place."""


@dataclass(frozen=True, kw_only=True)
class Reading:
    """One check of the part: what, where, the print's size with its limits, what the gauge showed."""

    what: str = choice("What", WHATS, "diameter")
    at: float | None = given(Z, "At Z", least=-10_000.0)
    nominal: float | None = given(LENGTH, "Size on the print", least=-10_000.0)
    upper: float | None = given(LENGTH, "Upper limit", least=-10_000.0)
    lower: float | None = given(LENGTH, "Lower limit", least=-10_000.0)
    measured: float = needed(LENGTH, "Measured", least=-10_000.0)
    spread: float | None = given(LENGTH, "Spread", least=0.0)
    gauge_offset: float | None = given(LENGTH, "Gauge's error", least=-10_000.0)
    part: str = choice("On part", PARTS, "first")


@dataclass(frozen=True, kw_only=True)
class TemperatureInputs:
    """Temperatures of part and gauge; blank: 20 °C."""

    part_temperature: float | None = given(TEMPERATURE, "Part", "T_p", least=-50.0, most=300.0, brief="part")
    gauge_temperature: float | None = given(TEMPERATURE, "Gauge", "T_g", least=-50.0, most=300.0, brief="gauge")
    material: str = choice("Material of the part", MATERIALS, "steel", hint="expansion in µm/(m K)")
    part_expansion: float | None = given(EXPANSION, "Expansion of the part", least=0.0, most=1e-4, hint="own value")
    gauge_expansion: float | None = given(EXPANSION, "Expansion of the gauge", least=0.0, most=1e-4, blank="steel")


@dataclass(frozen=True, kw_only=True)
class FirstPartInputs:
    """The contour as it was programmed, the tool that turned it, the readings."""

    shape: str = choice("Contour", SHAPES, OWN)
    contour: ContourGiven | None = contour("Contour", hint="my own, in the direction of travel")
    nose_radius: float | None = given(RADIUS, "Nose radius", "r", above=0.0, hint="as the control has it")
    tool_point: str = nouns.TOOL_POINT.chosen()
    side: str = choice("Tool stands", SIDES, "")
    readings: tuple[Reading, ...] = rows(Reading, "Readings", one="Reading", begin=3, most=60, hint=ROW_HINT)
    held_at: float | None = given(
        Z, "Held at Z", least=-10_000.0, hint="where the free length ends: asks whether the work springs away"
    )
    usual_spread: float | None = given(
        LENGTH, "Spread of the others", above=0.0, hint="for readings without their own", blank="0.005 mm"
    )
    temperature: TemperatureInputs = part(TemperatureInputs, "Temperature")


@dataclass(frozen=True, kw_only=True)
class FirstPartResults:
    """What to change, each with its spread; what is blank these readings do not tell."""

    offset_x: float | None = result(X, "Add to X wear", "X")
    offset_z: float | None = result(Z, "Add to Z wear", "Z")
    nose_radius_change: float | None = result(LENGTH, "Nose radius off by", hint="true less believed")
    true_nose: float | None = result(RADIUS, "True nose radius", "r")
    centre_height: float | None = result(LENGTH, "Tool off centre height by", hint="above or below: see the notes")
    taper: float | None = result(FINE_RATIO, "Taper of the work", hint="diameter per length; + grows toward +Z")
    deflection: float | None = result(LENGTH, "Work springs away by", hint="per side, at Z 0, its free end")
    growth: float | None = result(LENGTH, "Growth between the parts", hint="the second part’s faces stand out by this")
    not_told_apart: str | None = word("Cannot be told apart", hint="by the names of the call")
    state: str = word("The part")


@dataclass(frozen=True, kw_only=True)
class ReadingRow:
    """One reading judged: sizes in mm at 20 °C."""

    what: str = word("What")
    at: float | None = result(Z, "at Z")
    wanted: float | None = result(LENGTH, "contour")
    measured: float = result(LENGTH, "measured", hint="at 20 °C")
    deviation: float | None = result(LENGTH, "off by")
    residual: float | None = result(LENGTH, "unexplained")
    after_change: float | None = result(LENGTH, "after the change")
    verdict: str | None = word("verdict")
    in_doubt: bool | None = flag("in doubt")


def solve(inputs: FirstPartInputs) -> Answer[FirstPartResults]:
    """What to change. Raises Missing, OutOfRange and what the contour raises, at the fields' names.

    >>> from calc.shapes.chosen import given_by
    >>> readings = tuple(Reading(at=z, nominal=18.0, measured=18.04, spread=0.004) for z in (-5.0, -25.0))
    >>> found = solve(FirstPartInputs(contour=given_by("s_x18_z0*t_z-30"), readings=readings)).results
    >>> round(found.offset_x, 6), round(found.offset_x.spread, 3), found.offset_z
    (-0.02, 0.004, None)
    """
    require(inputs)
    if not inputs.readings:
        raise Missing(Fault("readings", Message("Give a reading: what was measured, where, what the gauge showed.")))
    chain = shape_chain(inputs.shape, inputs.contour)
    number = int(inputs.tool_point)
    side = cast("Side", inputs.side or tool_side(chain, number))
    _require_room(inputs)
    places = [
        replace(place, spring=_spring(place, inputs.held_at), late=float(reading.part == "second"))
        for place, reading in zip(_places(chain, side, number, inputs.readings), inputs.readings, strict=True)
    ]
    measured = [
        _measured(inputs, number, *pair) for number, pair in enumerate(zip(inputs.readings, places, strict=True), 1)
    ]
    used = [each for each in measured if each.place.what != "runout"]
    made = first_part(chain, side, used, number)
    return answer_of(inputs, chain, measured, made)


def _require_room(inputs: FirstPartInputs) -> None:
    if inputs.held_at is not None and inputs.held_at >= 0.0:
        text = "The work is held behind Z 0, its free end: give a Z on the chuck’s side."
        raise OutOfRange(Fault("held_at", Message(text)))


def _spring(place: Place, held_at: float | None) -> float:
    return 0.0 if held_at is None else spring_share(place.spot.z, held_at)


def _places(chain: Chain, side: Side, number: int, readings: Sequence[Reading]) -> list[Place]:
    """Where each reading was taken. Raises OutOfRange for all whose place the contour does not have."""
    faults: list[Fault] = []
    places = []
    for index, reading in enumerate(readings):
        try:
            places.append(_place(chain, side, number, reading))
        except Problem as problem:
            faults += [Fault(f"readings.{index}.{fault.field}", fault.message) for fault in problem.faults]
    if faults:
        raise OutOfRange(*faults)
    return places


def _place(chain: Chain, side: Side, number: int, reading: Reading) -> Place:
    nominal = limited(reading.nominal)
    wanted = nominal.aimed if nominal else reading.nominal
    what = cast("What", reading.what)
    if what == "over_wires" and wanted is None:
        raise Missing(Fault("nominal", Message("Give the size over wires that the print's thread has.")))
    found = find(chain, side, what, reading.at, wanted)
    if found is None and what == "diameter" and reading.at is not None and wanted is not None:
        found = turned_for_it(wanted / 2.0, reading.at, number)
    if found is None and what == "length" and wanted is not None:
        found = faced_for_it(-wanted if reading.at is None else reading.at, chain.bounds.r_max, number)
    if found is None:
        text = "The contour has no place for a {what} there: give the Z where it is measured, or the print's size."
        raise OutOfRange(Fault("at", Message(text, {"what": reading.what})))
    off = 0.0 if wanted is None or what == "runout" else abs(_wanted(found) - wanted)
    if off > ANOTHER_PLACE:
        text = "The contour has {size} there, {off} from the print's size: is the Z right, or the contour?"
        values = {"size": Quantity(_wanted(found), LENGTH), "off": Quantity(off, LENGTH)}
        raise OutOfRange(Fault("nominal", Message(text, values)))
    return found


def _wanted(place: Place) -> float:
    """The size (mm) that the contour has at a place."""
    return size(place, State(), 0)


def _measured(inputs: FirstPartInputs, number: int, reading: Reading, place: Place) -> Measured:
    value = reading.measured - (0.0 if reading.gauge_offset is None else reading.gauge_offset)
    warm = inputs.temperature
    if warm.part_temperature is not None or warm.gauge_temperature is not None:
        own = warm.part_expansion if warm.part_expansion is not None else COEFFICIENTS[warm.material]
        gauge = warm.gauge_expansion if warm.gauge_expansion is not None else COEFFICIENTS["steel"]
        at = REFERENCE if warm.part_temperature is None else warm.part_temperature
        shown_at = at if warm.gauge_temperature is None else warm.gauge_temperature
        value = at_twenty.at(f"reading {number}")(value, own, at, gauge, shown_at)
    spread = reading.spread if reading.spread is not None else inputs.usual_spread or USUAL_SPREAD
    return Measured(place, value, max(spread, FINEST))


def answer_of(
    inputs: FirstPartInputs, chain: Chain, measured: Sequence[Measured], made: FirstPart
) -> Answer[FirstPartResults]:
    """The answer from what was found."""
    table = _rows(inputs.readings, measured, made)
    results = _results(inputs, made, table)
    return Answer(
        results=results,
        headline=_headline(made),
        cautions=tuple(cautions_of(made, measured, table)),
        notes=(*_apart(chain, measured), *notes_of(made, inputs.readings, USUAL_SPREAD, inputs.usual_spread)),
        tables={"readings": table, "not_told_apart": advice_rows(made.confused), "not_found": advice_rows(made.unseen)},
        drawing=partial(_drawing, chain, measured),
    )


def _headline(made: FirstPart) -> str:
    """The change to key in; where there is none, how the part stands."""
    keys = {"offset_x": made.key_x, "offset_z": made.key_z, "nose_radius_change": made.key_nose}
    return next((name for name, key in keys.items() if key is not None), "state")


def _apart(chain: Chain, measured: Sequence[Measured]) -> Iterator[Message]:
    """What is said of readings that are not on the contour."""
    for number, each in enumerate(measured, 1):
        if each.place.element is not None and each.place.element not in chain.elements:
            kind = "cylinder" if each.place.what == "diameter" else "face"
            text = "Reading {number} is not on the contour: taken as a {kind} that this tool turned."
            yield Message(text, {"number": number, "kind": kind})


def _results(inputs: FirstPartInputs, made: FirstPart, table: Sequence[ReadingRow]) -> FirstPartResults:
    found = made.found
    told = {
        cause.name: (value, spread)
        for cause, value, spread, yes in zip(CAUSES, found.state, found.spreads, found.told, strict=True)
        if yes
    }
    nose = told.get("nose_radius_change")
    believed = inputs.nose_radius
    return FirstPartResults(
        offset_x=_opposite(told.get("offset_x"), "along X, per side"),
        offset_z=_opposite(told.get("offset_z"), "along Z"),
        nose_radius_change=Known(*nose) if nose else None,
        true_nose=Known(believed + nose[0], nose[1]) if nose and believed is not None else None,
        centre_height=_height(told.get("centre_height")),
        taper=Known(*told["taper"]) if "taper" in told else None,
        deflection=Known(*told["deflection"]) if "deflection" in told else None,
        growth=Known(*told["growth"]) if "growth" in told else None,
        not_told_apart="; ".join(", ".join(group) for group in found.together) or None,
        state=_state(table),
    )


def _opposite(told: tuple[float, float] | None, where: str) -> Known | None:
    return Known(change.at(where)(told[0]), told[1]) if told else None


def _height(told: tuple[float, float] | None) -> Known | None:
    """The height from its square: the spread reaches from the least to the largest height that the square allows."""
    if told is None:
        return None
    square, spread = max(told[0], 0.0), told[1]
    height = square**0.5
    return Known(height, max((square + spread) ** 0.5 - height, height - max(square - spread, 0.0) ** 0.5))


def _state(table: Sequence[ReadingRow]) -> str:
    verdicts = [row.verdict for row in table if row.verdict]
    if not verdicts:
        return "no limits were given"
    bad = [word_ for word_ in ("rework", SCRAP, "out of limits") if word_ in verdicts]
    return ", ".join(f"{verdicts.count(each)} {each}" for each in bad) or "all within limits"


def _rows(readings: Sequence[Reading], measured: Sequence[Measured], made: FirstPart) -> list[ReadingRow]:
    found = zip(made.found.residuals, made.after, strict=True)
    return [
        _row(number, reading, each, None if each.place.what == "runout" else next(found))
        for number, (reading, each) in enumerate(zip(readings, measured, strict=True), 1)
    ]


def _row(number: int, reading: Reading, measured: Measured, found: tuple[float, float] | None) -> ReadingRow:
    place, limits = measured.place, _limits(reading, measured.place)
    wanted = None if found is None else _wanted(place)
    return ReadingRow(
        what=WHATS[reading.what],
        at=reading.at if reading.at is not None or found is None else place.spot.z,
        wanted=wanted,
        measured=measured.value,
        deviation=None if wanted is None else deviation.at(f"reading {number}")(measured.value, wanted),
        residual=found and found[0],
        after_change=found and found[1],
        verdict=verdict(place, measured.value, limits),
        in_doubt=None if limits == Limits() else limits.in_doubt(measured.value, measured.spread),
    )


def _limits(reading: Reading, place: Place) -> Limits:
    both = limited(reading.nominal)
    if both is not None and reading.upper is None and reading.lower is None:
        return Limits(both.lower, both.upper)
    nominal = both.value if both else reading.nominal
    return read_limits(_wanted(place) if nominal is None else nominal, reading.lower, reading.upper)


def _drawing(chain: Chain, measured: Sequence[Measured]) -> Drawing:
    spots = [(index, each.place) for index, each in enumerate(measured, 1) if each.place.element is not None]
    return Drawing(
        title="Where the part was measured",
        description="The contour with the axis across the page; the numbers are those of the readings.",
        part=chain,
        spots=tuple((f"{index}", place.spot) for index, place in spots),
    )


FEATURE = Feature(
    path="measure/first-part",
    page="/first-part",
    title="First part",
    summary="From readings of the first part to what to change: offsets, nose, centre height, taper, how sure each is.",
    inputs=FirstPartInputs,
    results=FirstPartResults,
    solve=solve,
    supporting=("offset_x", "offset_z", "nose_radius_change", "centre_height", "taper", "state"),
    rows={
        "readings": Rows(ReadingRow, "The readings"),
        "not_told_apart": Rows(AdviceRow, "Causes that these readings cannot tell apart"),
        "not_found": Rows(AdviceRow, "Causes of which these readings say too little"),
    },
    example={
        "shape": "seat",
        "nose_radius": "6mm",
        "readings": "what:depth~at:-4.5mm~nominal:4.5 ±0.05 mm~measured:4.501mm~spread:0.003mm"
        "*what:depth~at:-3mm~nominal:3mm~measured:2.979mm~spread:0.003mm"
        "*what:depth~at:-1.5mm~nominal:1.5mm~measured:1.471mm~spread:0.003mm"
        "*what:diameter~at:-10mm~nominal:60 ±0.05 mm~measured:60.021mm~spread:0.004mm",
    },
)
