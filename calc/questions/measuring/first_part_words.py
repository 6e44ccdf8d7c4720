"""What is said of a measured first part: cautions, where to key what, which reading to take next."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from calc.language.fields import Declared, result, word
from calc.language.messages import Caution, Message, Quantity, Value, joined
from calc.language.quantities import LENGTH, X, Z
from calc.measuring.causes import CAUSES
from calc.measuring.estimate import Measured
from calc.measuring.first_part import Advice, FirstPart
from calc.measuring.places import Place
from calc.measuring.verdict import SCRAP

WORDS = {cause.name: cause.words for cause in CAUSES}
HEIGHT = [cause.name for cause in CAUSES].index("centre_height")
LARGE = 0.5
"""mm: an offset that is off by more is seldom wear; something else is wrong."""


class AdviceRow(Declared):
    """Causes that stay open, by the names of the results, and the one reading that would settle them."""

    causes: str = word("Causes", written="key")
    in_words: str = word("Causes, in words")
    what: str | None = word("one more reading")
    at: float | None = result(Z, "at Z")
    sentence: str = word("which helps")


def advice_rows(advices: Sequence[Advice]) -> list[AdviceRow]:
    """The advices as rows."""
    return [
        AdviceRow(
            causes=", ".join(advice.causes),
            in_words=in_words(advice),
            what=None if advice.place is None else advice.place.what,
            at=None if advice.place is None else advice.place.spot.z,
            sentence=on_what(advice.place),
        )
        for advice in advices
    ]


def in_words(advice: Advice) -> str:
    """The causes of an advice as people call them.

    >>> in_words(Advice(("offset_x", "nose_radius_change"), None))
    'X offset and nose radius'
    """
    return joined((WORDS[name] for name in advice.causes), last=" and ")


def on_what(place: Place | None) -> str:
    """What to measure there, in words."""
    if place is None:
        return "no single reading on this contour; take several more, with a finer gauge"
    if place.what == "diameter" and abs(place.normal.z) < LEVEL:
        return "a diameter on a cylinder turned with this tool"
    return {
        "diameter": "a diameter on the slope or arc",
        "length": "the length to a face",
        "depth": "a depth on the slope or arc",
        "radius": "the radius of an arc, by gauge",
    }[place.what]


LEVEL = 0.05


def cautions_of(made: FirstPart, measured: Sequence[Measured], table: Sequence[Any], pip: str) -> Iterator[Caution]:
    """What to be careful about before anything is keyed in; `pip` is what facing to the axis left."""
    height = made.found.state.height_squared
    if pip == "none" and "centre_height" in made.found.told_names and height > made.found.spreads[HEIGHT]:
        text = (
            "The diameters say that the tool is off centre height, a face without a pip that it is not: measure the "
            "smallest and the largest diameter again before you move the tool."
        )
        yield Caution(Message(text), 2, "centre_height")
    for number, row in enumerate(table, 1):
        if row.verdict == SCRAP:
            text = "Reading {number} ({what}) is past its limit where the metal is gone: this part is scrap."
            yield Caution(Message(text, {"number": number, "what": row.what}), 3, "state")
    if made.found.scatter > 1.0 and made.found.has_worst:
        yield Caution(_scatter(made, measured), 3, "readings")
    for advice in made.confused:
        text = "Cannot be told apart: {causes}. Do not key in any of them; measure {reading} too."
        values: dict[str, Value] = {"causes": in_words(advice), "reading": on_what(advice.place)}
        yield Caution(Message(text, values), 2, "offset_x")
    for key, name in ((made.key_x, "X"), (made.key_z, "Z")):
        if key is not None and abs(key) > LARGE:
            text = (
                "A change of {key} in {name} is not wear: check tool number, offset page, gauge zero, and whether X "
                "was taken as radius or diameter, before you key it in."
            )
            shown = Quantity(key, X if name == "X" else Z)
            yield Caution(Message(text, {"key": shown, "name": name}), 3, f"offset_{name.lower()}")


def _scatter(made: FirstPart, measured: Sequence[Measured]) -> Message:
    """The reading that fits least; spreads were widened."""
    used = [number for number, each in enumerate(measured, 1) if each.place.follows_offsets]
    spreads = [each.spread for each in measured if each.place.follows_offsets]
    off = [abs(residual) / spread for residual, spread in zip(made.found.residuals, spreads, strict=True)]
    worst = off.index(max(off))
    text = (
        "The readings disagree by more than their spreads allow, reading {number} most: measure it again, look for a "
        "burr, a wrong Z or a wrong nominal size. All spreads here were widened."
    )
    return Message(text, {"number": used[worst]})


def notes_of(made: FirstPart, readings: Sequence[Any], usual: float, own: float | None, pip: str) -> Iterator[Message]:
    """Where to key what; how the readings were understood: `usual` (mm) is their spread unless there is an `own`.

    `pip` is what facing to the axis left, "" where nobody looked.
    """
    yield from _keys(made)
    if "centre_height" in made.found.told_names and pip in ("stub", "cone"):
        yield Message(_BELOW if pip == "stub" else _ABOVE)
    elif "centre_height" in made.found.told_names and not pip:
        yield Message(
            "Diameters do not show whether the tool is above or below centre. Face to the axis and look at the pip: a "
            "stub that was not cut means below, a cone that was pushed off means above (common practice, no source)."
        )
    if "growth" in made.found.told_names:
        yield Message(
            "Between the two parts Z has moved: let the machine run warm before you correct Z, and measure again."
        )
    if "deflection" in made.found.told_names:
        yield Message("Offsets do not cure work that springs away: support its end, or take a lighter finishing cut.")
    if any(reading.spread is None for reading in readings):
        told = Quantity(own or usual, LENGTH)
        yield Message("Readings without a spread are taken as good to ±{spread}.", {"spread": told})


_BELOW = "The tool stands below centre: a stub was left on the face. Raise it by what is shown, then touch off again."
_ABOVE = "The tool stands above centre: it pushed a cone off. Lower it by what is shown, then touch off again."


def _keys(made: FirstPart) -> Iterator[Message]:
    wear = "Add {key} to the {name} wear of this tool (to what stands there, not in its place)."
    if made.key_x is not None:
        yield Message(wear, {"key": Quantity(made.key_x, X), "name": "X"})
    if made.key_z is not None:
        yield Message(wear, {"key": Quantity(made.key_z, Z), "name": "Z"})
    if made.key_nose is not None:
        text = "Correct the nose radius by {key} where the control or the calculation has it, then touch off again."
        yield Message(text, {"key": Quantity(made.key_nose, LENGTH)})
    told = made.found.told_names
    small = [name for name, key in (("offset_x", made.key_x), ("offset_z", made.key_z)) if name in told and key is None]
    if small:
        named = joined((WORDS[name] for name in small if name in WORDS), " and ")
        yield Message("Leave as it is: {named}. What is left is within the spread of the readings.", {"named": named})
