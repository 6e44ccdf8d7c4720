"""Why an operation is proposed: sentences with values, kept as a short code that each reader's language says anew."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from calc.language.messages import Message, Quantity, Typed, Value
from calc.language.quantities import DIAMETER, LENGTH, RADIUS, Kind

REASONS: Mapping[str, str] = {
    "face-to-finish": ("The stock stands {front} in front of the face: face it first, leaving {keep} for the finish."),
    "face": "The stock stands {front} in front of the face: face it first, so that lengths have a clean zero.",
    "rough": "Rough from this end to the largest diameter, {x} on the radius and {z} along Z left to finish.",
    "rough-rest": "What the first tool cannot reach, with {tool}: only what is left there is cut.",
    "finish": "Finish in one direction from the face, with a nose of {nose}.",
    "dish": "The dish along its contour with a round insert, {nose}: no edge stands in the way.",
    "dish-finish": "Over the dish once, from the mouth to the axis, with the same insert.",
    "ream": "Ream {d}: a straight bore whose limits are {w} apart, which a reamer for them makes in one pass.",
    "tap": "Tap {thread}, after its hole is drilled.",
    "bore": "Bore after the outside is roughed, so that the part is still stiff; {x} on the radius is left.",
    "bore-finish": "Bore to size in one pass.",
    "measure": "Stop and measure: {d} allows {width}. Correct the offset by what is found, then finish.",
    "groove": "A groove that no turning tool gets into: plunge with {width}, after its diameter is finished.",
    "face-groove": (
        "A groove in the face: plunge with {width}. See that the insert is made for a first plunge at {d} outside."
    ),
    "thread": "{thread} last of what is turned at this end, after its relief.",
    "thread-runs-out": (
        "{thread} to {rest} before the shoulder, where the tool comes out: the print has no relief there."
    ),
    "knurl": "The knurl is rolled on its blank when all beside it is turned; it takes nothing off.",
    "part-off": "Part off last, {width} wide.",
    "part-off-to-face": "Part off last, {width} wide, with {rest} left to face the second end.",
    "spot": "Spot the middle, so that the drill of {d} starts on the axis; leave this out for one that centres itself.",
    "spot-chamfer": "Spot the middle, so that the drill of {d} starts on the axis; the same tool makes the chamfer.",
    "pilot": (
        "A pilot a little wider than the web of the drill of {d}, which then pushes less and keeps to the axis; leave "
        "this out for a drill with inserts or one of solid carbide."
    ),
    "drill": "There is no hole yet: drill {d} from the solid, {rest} below the bore, first.",
    "drill-to-parting": (
        "There is no hole yet: drill {d} from the solid, {rest} below the bore, through to where it is parted."
    ),
    "drill-blind": (
        "There is no hole yet: drill {d} from the solid, {rest} below the bore; its point stays above the bottom."
    ),
    "drill-flat": (
        "Drill {d} with inserts, {rest} below the bore: it leaves the bottom flat, where a twist drill leaves a cone "
        "that no bar gets into."
    ),
    "drill-to-size": "Drill {d} to size: no common boring bar goes in, and the print gives no close limits.",
    "drill-to-tap": "Drill {d} from the solid, the hole for {thread}.",
}
"""Each reason by what it is kept as."""

PLACES: Mapping[str, Kind] = {
    **dict.fromkeys(("front", "keep", "x", "z", "w", "width", "rest"), LENGTH),
    "d": DIAMETER,
    "nose": RADIUS,
}
"""What the numbers of a reason are; other places hold designations."""

IN_FULL = ("w",)
"""Places whose numbers keep the zeros at their end."""

SEPARATOR = "_"


@dataclass(frozen=True, slots=True)
class Reason:
    """A reason and its values: lengths in mm, a nose's radius in mm, designations."""

    key: str
    values: Mapping[str, float | str] = field(default_factory=dict)

    @property
    def message(self) -> Message:
        """The sentence.

        >>> Reason("part-off", {"width": 3.0}).message.say()
        'Part off last, 3 mm wide.'
        """
        return Message(REASONS[self.key], {name: _said(name, value) for name, value in self.values.items()})

    @property
    def code(self) -> str:
        """The reason as an address keeps it.

        >>> Reason("part-off-to-face", {"width": 3.0, "rest": 0.5}).code
        'part-off-to-face_width3_rest0.5'
        """
        parts = [name + (value if isinstance(value, str) else f"{value:.6g}") for name, value in self.values.items()]
        return SEPARATOR.join([self.key, *parts])


def reason_of(code: str | None) -> Message | None:
    """The sentence of a reason's code; None for what is none.

    >>> reason_of("part-off_width3") == Reason("part-off", {"width": 3.0}).message, reason_of("by hand")
    (True, None)
    """
    key, *parts = (code or "").split(SEPARATOR)
    places = sorted((*PLACES, "tool", "thread"), key=len, reverse=True)
    values: dict[str, float | str] = {}
    for part in parts:
        name = next((each for each in places if part.startswith(each)), None)
        if name is None:
            return None
        values[name] = part.removeprefix(name)
    if key not in REASONS or any("{" + name + "}" not in REASONS[key] for name in values):
        return None
    return _complete(key, values)


def _complete(key: str, values: dict[str, float | str]) -> Message | None:
    """The sentence where it has all that it needs."""
    try:
        numbers = {name: float(value) for name, value in values.items() if name in PLACES}
        found = Reason(key, {**values, **numbers}).message
        found.say()
    except (KeyError, ValueError):
        return None
    return found


def _said(name: str, value: float | str) -> Value:
    if isinstance(value, str):
        return Typed(value)
    return Quantity(value, PLACES[name], brief=name not in IN_FULL)
