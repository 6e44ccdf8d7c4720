"""The first part measured: readings go in, what to change comes out, with how sure that is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from calc.answer.drawing import Drawing
from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Chain
from calc.language.checks import require
from calc.language.known import Known
from calc.language.messages import Message, Phrase, joined
from calc.language.problems import Fault, Missing, OutOfRange
from calc.measuring.causes import CAUSES
from calc.measuring.estimate import Measured
from calc.measuring.first_part import FirstPart, Turned, change, deviation, first_parts
from calc.measuring.limits import Limits
from calc.measuring.places import Place, tool_side
from calc.measuring.runout import Runout
from calc.measuring.temperature import COEFFICIENTS, REFERENCE, at_twenty
from calc.measuring.verdict import OUT, REWORK, SCRAP, verdict
from calc.questions.measuring.first_part_fields import (
    WHATS,
    FirstPartInputs,
    FirstPartResults,
    Reading,
    ReadingRow,
)
from calc.questions.measuring.first_part_places import limits_of, places_of, size_wanted
from calc.questions.measuring.first_part_words import AdviceRow, advice_rows, cautions_of, notes_of
from calc.questions.measuring.runout_rows import RunoutRow, runout_rows
from calc.questions.shapes.contour_so_far import asked_chain, showing_contour

USUAL_SPREAD, FINEST = 0.005, 1e-6
"""mm: a micrometer in a shop (common practice), and the least that a spread of 0 is taken as."""


@showing_contour()
def solve(inputs: FirstPartInputs) -> Answer[FirstPartResults]:
    """What to change. Raises Missing, OutOfRange and what the contour raises, at the fields' names.

    >>> from calc.shapes.chosen import given_by
    >>> readings = tuple(Reading(at=z, nominal=18.0, measured=18.04, spread=0.004) for z in (-5.0, -25.0))
    >>> found = solve(FirstPartInputs(contour=given_by("s_x18_z0*t_z-30"), readings=readings)).results
    >>> round(found.offset_x, 6), round(found.offset_x.spread, 3), found.offset_z
    (-0.02, 0.004, None)
    """
    asked = prepared(inputs)
    return answer_of(asked, first_parts([asked.turned])[0])


@dataclass(frozen=True, slots=True)
class Prepared:
    """The readings of one tool at their places, ready to be solved, alone or with those of other tools."""

    inputs: FirstPartInputs
    chain: Chain
    measured: Sequence[Measured]
    turned: Turned

    @property
    def runouts(self) -> list[tuple[int, Runout]]:
        """The runouts among the readings, with their numbers from 1 (mm)."""
        return [
            (number, Runout(reading.at, each.value, each.spread, reading.surface))
            for number, (reading, each) in enumerate(zip(self.inputs.readings, self.measured, strict=True), 1)
            if reading.what == "runout"
        ]


def prepared(inputs: FirstPartInputs, round_at: float | None = None, turned: Chain | None = None) -> Prepared:
    """The readings at their places, mm at 20 °C; where work turned round at `round_at` (mm) is held counts from there.

    `turned` is the contour where that is not the print's, since something is left on it. Raises what `solve` does.
    """
    require(inputs)
    if not inputs.readings:
        raise Missing(Fault("readings", Message("Give a reading: what was measured, where, what the gauge showed.")))
    chain = asked_chain(inputs) if turned is None else turned
    number = int(inputs.tool_point)
    side = inputs.side or tool_side(chain, number)
    _require_room(inputs)
    places = [
        place.standing(inputs.held_at, float(reading.part == "second"), round_at)
        for place, reading in zip(places_of(chain, side, number, inputs.readings), inputs.readings, strict=True)
    ]
    measured = [
        _measured(inputs, number, *pair) for number, pair in enumerate(zip(inputs.readings, places, strict=True), 1)
    ]
    used = [each for each in measured if each.place.follows_offsets]
    return Prepared(inputs, chain, measured, Turned(chain, side, used, number))


def _require_room(inputs: FirstPartInputs) -> None:
    if inputs.held_at is not None and inputs.held_at >= 0.0:
        text = "The work is held behind Z 0, its free end: give a Z on the chuck’s side."
        raise OutOfRange(Fault("held_at", Message(text)))


def _measured(inputs: FirstPartInputs, number: int, reading: Reading, place: Place) -> Measured:
    value = reading.measured - reading.gauge_offset
    warm = inputs.temperature
    if warm.part_temperature is not None or warm.gauge_temperature is not None:
        own = warm.part_expansion if warm.part_expansion is not None else COEFFICIENTS[warm.material]
        gauge = warm.gauge_expansion if warm.gauge_expansion is not None else COEFFICIENTS["steel"]
        at = REFERENCE if warm.part_temperature is None else warm.part_temperature
        shown_at = at if warm.gauge_temperature is None else warm.gauge_temperature
        value = at_twenty.at(Phrase("reading {number}", number=number))(value, own, at, gauge, shown_at)
    spread = reading.spread if reading.spread is not None else inputs.usual_spread or USUAL_SPREAD
    return Measured(place, value, max(spread, FINEST))


def answer_of(asked: Prepared, made: FirstPart) -> Answer[FirstPartResults]:
    """The answer from what was found."""
    inputs, measured = asked.inputs, asked.measured
    table = _rows(inputs.readings, measured, made)
    results = _results(inputs, made, table)
    return Answer(
        results=results,
        headline=_headline(made),
        cautions=tuple(cautions_of(made, measured, table, inputs.pip)),
        notes=(
            *_apart(asked.chain, measured),
            *notes_of(made, inputs.readings, USUAL_SPREAD, inputs.usual_spread, inputs.pip),
        ),
        tables={
            "readings": table,
            "runouts": runout_rows(asked.runouts),
            "not_told_apart": advice_rows(made.confused),
            "not_found": advice_rows(made.unseen),
        },
        drawing=partial(_drawing, asked.chain, measured),
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
        centre_height=_height(told.get("centre_height"), inputs.pip),
        taper=Known(*told["taper"]) if "taper" in told else None,
        deflection=Known(*told["deflection"]) if "deflection" in told else None,
        growth=Known(*told["growth"]) if "growth" in told else None,
        not_told_apart="; ".join(", ".join(group) for group in found.together) or None,
        state=state_of([row.verdict for row in table]),
    )


def _opposite(told: tuple[float, float] | None, where: str) -> Known | None:
    return Known(change.at(where)(told[0]), told[1]) if told else None


def _height(told: tuple[float, float] | None, pip: str) -> Known | None:
    """The height from its square, its sign from the `pip`; the spread reaches as far as the square allows."""
    if told is None:
        return None
    square, spread = max(told[0], 0.0), told[1]
    height = square**0.5
    sign = -1.0 if pip == "stub" else 1.0
    return Known(sign * height, max((square + spread) ** 0.5 - height, height - max(square - spread, 0.0) ** 0.5))


_BAD = {REWORK: "to rework", SCRAP: "scrap", OUT: "out of limits"}


def state_of(verdicts: Sequence[str | None]) -> str:
    """How a part stands by the verdicts on its readings, in words.

    >>> state_of([None, "within limits"]), state_of(["rework", "within limits"]), state_of([None])
    ('all within limits', '1 to rework', 'no limits were given')
    """
    given = [each for each in verdicts if each]
    if not given:
        return "no limits were given"
    bad = [(given.count(each), words) for each, words in _BAD.items() if each in given]
    return joined(Phrase("{count} {words}", count=count, words=words) for count, words in bad) or "all within limits"


def _rows(readings: Sequence[Reading], measured: Sequence[Measured], made: FirstPart) -> list[ReadingRow]:
    found = zip(made.found.residuals, made.after, strict=True)
    return [
        _row(number, reading, each, next(found) if each.place.follows_offsets else None)
        for number, (reading, each) in enumerate(zip(readings, measured, strict=True), 1)
    ]


def _row(number: int, reading: Reading, measured: Measured, found: tuple[float, float] | None) -> ReadingRow:
    place, limits = measured.place, limits_of(reading, measured.place)
    wanted = None if place.what == "runout" else size_wanted(place)
    return ReadingRow(
        what=WHATS[reading.what],
        at=reading.at if reading.at is not None or found is None else place.spot.z,
        wanted=wanted,
        measured=measured.value,
        deviation=None
        if wanted is None
        else deviation.at(Phrase("reading {number}", number=number))(measured.value, wanted),
        residual=found and found[0],
        after_change=found and found[1],
        verdict=verdict(place, measured.value, limits),
        in_doubt=None if limits == Limits() else limits.in_doubt(measured.value, measured.spread),
    )


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
    solve=solve,
    supporting=("offset_x", "offset_z", "nose_radius_change", "centre_height", "taper", "state"),
    rows={
        "readings": Rows(ReadingRow, "The readings"),
        "runouts": Rows(RunoutRow, "What the runouts mean"),
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
