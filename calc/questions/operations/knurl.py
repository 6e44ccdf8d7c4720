"""Knurling: the blank to turn, the teeth that close round it, the diameter that comes out."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi, radians
from typing import Literal

from calc.answer.feature import Answer, Feature
from calc.language.checks import require
from calc.language.fields import Declared, choice, needed, result
from calc.language.messages import Caution, Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import COUNT, DIAMETER, LENGTH
from calc.shapes.knurls import (
    blank_for,
    blank_of_teeth,
    finished_over,
    forms,
    pitch_around,
    pitches,
    teeth_on,
)

FORMS = {name: f"{form.title} ({form.code})" for name, form in forms().items()}
MADE: dict[Made, str] = {"formed": "by rolls, formed", "cut": "by milling knurls, cut"}
FEWEST = 8
"""Teeth: fewer do not make a knurl that rolls on (common practice, no source)."""

Made = Literal["formed", "cut"]


class KnurlInputs(Declared):
    """The knurl on the print (mm)."""

    diameter: float = needed(DIAMETER, "Diameter over the knurl", "d_1", above=0.0, hint="over the finished crests")
    pitch: float = needed(LENGTH, "Pitch", "t", above=0.0, most=5.0, hint="square to the teeth")
    form: str = choice("Form", FORMS, "straight")
    made: Made = choice("Made", MADE, "formed")


class KnurlResults(Declared):
    """The blank and what comes of it."""

    teeth: float = result(COUNT, "Teeth round the work", "z")
    diameter_before: float = result(DIAMETER, "Turn to", "d_z", hint="the teeth close on it")
    diameter_after: float = result(DIAMETER, "Over the knurl then", "d_1z")
    diameter_before_standard: float = result(DIAMETER, "Blank by the standard", "d_2", hint="before closing")
    smaller_blank: float = result(DIAMETER, "One tooth fewer")
    larger_blank: float = result(DIAMETER, "One tooth more")


def solve(inputs: KnurlInputs) -> Answer[KnurlResults]:
    """The blank. Raises Missing, OutOfRange; Impossible where the pitch is too coarse for the diameter.

    >>> found = solve(KnurlInputs(diameter=42.0, pitch=1.0, form="crossed")).results
    >>> found.teeth, round(found.diameter_before, 3), round(found.diameter_after, 3)
    (130, 41.38, 42.05)
    """
    require(inputs)
    diameter, pitch = inputs.diameter, inputs.pitch
    form = forms()[inputs.form]
    grows = form.grows if inputs.made == "formed" else 0.0
    nominal = blank_for(diameter, grows, pitch)
    around = pitch_around(pitch, radians(form.angle))
    teeth = teeth_on(max(nominal, 0.0), around)
    if teeth < FEWEST:
        raise Impossible(Fault("pitch", _too_coarse(pitch, diameter, teeth)))
    blank = blank_of_teeth(teeth, around)
    after = finished_over(blank, grows, pitch)
    return Answer(
        results=KnurlResults(
            teeth=teeth,
            diameter_before=blank,
            diameter_after=after,
            diameter_before_standard=nominal,
            smaller_blank=blank - around / pi,
            larger_blank=blank + around / pi,
        ),
        headline="diameter_before",
        cautions=tuple(_cautions(inputs, pitch, diameter, after)),
        notes=(_note(inputs.made),),
    )


def _too_coarse(pitch: float, diameter: float, teeth: float) -> Message:
    text = "A pitch of {pitch} gives only {teeth} teeth on {diameter}: take a finer knurl."
    values = {
        "pitch": Quantity(pitch, LENGTH),
        "teeth": Quantity(teeth, COUNT),
        "diameter": Quantity(diameter, DIAMETER),
    }
    return Message(text, values)


def _cautions(inputs: KnurlInputs, pitch: float, diameter: float, after: float) -> Iterator[Caution]:
    if min(abs(pitch - each) for each in pitches()) > 1e-6:
        near = min(pitches(), key=lambda each: abs(each - pitch))
        text = "A pitch of {pitch} is not a standard roll: the nearest is {near}."
        yield Caution(Message(text, {"pitch": Quantity(pitch, LENGTH), "near": Quantity(near, LENGTH)}), 1, "pitch")
    if abs(after - diameter) > pitch / 100.0:
        text = (
            "The teeth close at {after} over the knurl, {off} from the print: if that is out of its limits, change "
            "the pitch, or let the rolls be fed in until they fall into step."
        )
        off = Quantity(abs(after - diameter), LENGTH)
        yield Caution(Message(text, {"after": Quantity(after, DIAMETER), "off": off}), 1, "diameter_after")
    if inputs.made == "formed":
        text = "Rolls press hard on one side: support work that is longer than three diameters, and mind thin walls."
        yield Caution(Message(text), 1, "form")


def _note(made: str) -> Message:
    if made == "cut":
        return Message("A cut knurl does not grow: turn the blank to the finished diameter, closed round the teeth.")
    return Message(
        "How far the crests grow depends on material and rolls: knurl a short length first, measure, and correct the "
        "blank by the difference."
    )


FEATURE = Feature(
    path="geometry/knurl",
    page="/knurl",
    title="Knurl",
    summary="The blank for a knurl of DIN 82, with teeth that close round the work, and the diameter that comes out.",
    solve=solve,
    supporting=("teeth", "diameter_after", "diameter_before_standard"),
    example={"diameter": "42", "pitch": "1.0", "form": "crossed"},
)
