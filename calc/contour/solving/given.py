"""What a print gives of a contour: every value may be blank (None)."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from calc.contour.arc import Turn
from calc.contour.corner import Along
from calc.contour.undercut import Undercut
from calc.language.given import Given, slack_of
from calc.language.messages import Capital, Message, Phrase, Quantity, Value
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import ANGLE, LENGTH, RADIUS, Kind, X, Z

MOST_ELEMENTS = 1000
SMALLEST = 1e-9
"""mm: radii and lengths are larger; a coordinate below it is 0."""

LARGEST = 1e7
"""mm: nothing turned is larger, and squares of it still have all their digits."""

LONGEST = 3000.0
"""mm: no part here is longer or larger; asked of what people give."""

FARTHEST = 100_000.0
"""mm: no radius is larger, no centre farther away."""

_LEAST_ANGLE_SLACK = math.radians(0.0005)


@dataclass(frozen=True, slots=True)
class Start:
    """Where the contour starts: z and r (a radius), mm."""

    z: float | None = None
    r: float | None = None


@dataclass(frozen=True, slots=True)
class GivenCorner:
    """What breaks the corner at the end of an element; size in mm: the radius, or the leg from the sharp corner.

    A chamfer with an ``angle`` (rad) is as the print has it, 1x45°: its size measured ``along`` Z or the element. An
    ``undercut`` stands between a cylinder and a face; its size is its length on the cylinder.
    """

    kind: Literal["chamfer", "radius", "undercut"]
    size: float
    angle: float | None = None
    along: Along = "z"
    undercut: Undercut | None = None

    @property
    def count(self) -> int:
        """How many elements it puts between the two."""
        return 1 if self.undercut is None else len(self.undercut.profile)


@dataclass(frozen=True, slots=True)
class GivenElement:
    """What a print gives of one element.

    Its end: ``z``, ``r`` (mm, a radius), or ``dz``, ``dr`` from the point before (of radii, too). Of a line: ``angle``
    (rad from +Z, counter-clockwise positive) and ``length`` (mm). Of an arc: ``radius``, ``centre_z``, ``centre_r``
    (mm) and ``turn``. ``tangent`` says that it joins the element before smoothly; ``corner`` stands at its end.
    """

    kind: Literal["line", "arc"]
    z: float | None = None
    r: float | None = None
    dz: float | None = None
    dr: float | None = None
    angle: float | None = None
    length: float | None = None
    radius: float | None = None
    centre_z: float | None = None
    centre_r: float | None = None
    turn: Turn | None = None
    tangent: bool = False
    corner: GivenCorner | None = None


class Name(NamedTuple):
    """How a dimension is called: in a field, in a sentence, and what kind of quantity it is."""

    field: str
    words: str
    kind: Kind


NAMES = {
    "z": Name("z", "the end's Z", Z),
    "r": Name("x", "the end's X", X),
    "dz": Name("dz", "the step in Z", Z),
    "dr": Name("dx", "the step in X", X),
    "angle": Name("angle", "the angle", ANGLE),
    "length": Name("length", "the length", LENGTH),
    "radius": Name("radius", "the radius", RADIUS),
    "centre_z": Name("centre_z", "the centre's Z", Z),
    "centre_r": Name("centre_x", "the centre's X", X),
}
"""Every dimension of an element; fields are named as pages and API name them (x, not r)."""

OF_LINE = ("z", "r", "dz", "dr", "angle", "length")
OF_ARC = ("z", "r", "dz", "dr", "radius", "centre_z", "centre_r")


def dimensions_of(kind: str) -> tuple[str, ...]:
    """The dimensions that an element of this kind may be given.

    >>> dimensions_of("line")
    ('z', 'r', 'dz', 'dr', 'angle', 'length')
    """
    return OF_LINE if kind == "line" else OF_ARC


def field_of(index: int, name: str) -> str:
    """The name of a field; index -1 is the start.

    >>> field_of(2, "radius"), field_of(-1, "r")
    ('elements.2.radius', 'start.x')
    """
    owner = "start" if index < 0 else f"elements.{index}"
    return f"{owner}.{NAMES[name].field if name in NAMES else name}"


def words_for(index: int, name: str) -> str:
    """The dimension in a sentence; elements are counted from 1 there.

    >>> words_for(2, "radius"), words_for(-1, "z")
    ('the radius of element 3', "the start's Z")
    """
    if index < 0:
        return Phrase("the start's Z") if name == "z" else Phrase("the start's X")
    return Phrase("{words} of element {number}", words=NAMES[name].words, number=index + 1)


def slack_for(name: str, value: float) -> float:
    """By how much a redundant value may differ and still agree, in its own unit (mm or rad).

    >>> slack_for("z", 3.0)
    0.0005
    """
    if name == "angle" and not isinstance(value, Given):
        return _LEAST_ANGLE_SLACK
    return slack_of(value)


def require_sound(start: Start, elements: Sequence[GivenElement]) -> None:
    """Raise `OutOfRange` with a fault for each value that cannot be meant.

    >>> require_sound(Start(0.0, 5.0), [GivenElement("line", radius=3.0)])
    Traceback (most recent call last):
    calc.language.problems.OutOfRange: elements.0.radius: A line has no radius.
    """
    if not 0 < len(elements) <= MOST_ELEMENTS:
        text = "Give at least one element and at most {most}."
        raise OutOfRange(Fault("elements", Message(text, {"most": MOST_ELEMENTS})))
    faults = [*_faults_of_start(start)]
    for index, element in enumerate(elements):
        faults += _faults_of(index, element, is_last=index == len(elements) - 1)
    if faults:
        raise OutOfRange(*faults)


def _faults_of_start(start: Start) -> Iterator[Fault]:
    for name in ("z", "r"):
        yield from _faults_of_number(-1, name, getattr(start, name))


def _faults_of(index: int, element: GivenElement, *, is_last: bool) -> Iterator[Fault]:
    if element.kind not in ("line", "arc"):
        yield Fault(field_of(index, "kind"), Message("An element is a line or an arc."))
        return
    own = dimensions_of(element.kind)
    for name, called in NAMES.items():
        value = getattr(element, name)
        if value is not None and name not in own:
            text = "A line has no {name}." if element.kind == "line" else "An arc has no {name} of its own."
            yield Fault(field_of(index, name), Message(text, {"name": called.words.removeprefix("the ")}))
        else:
            yield from _faults_of_number(index, name, value)
    yield from _faults_of_joints(index, element, is_last=is_last)


def _faults_of_joints(index: int, element: GivenElement, *, is_last: bool) -> Iterator[Fault]:
    if element.turn is not None and element.kind == "line":
        yield Fault(field_of(index, "turn"), Message("A line does not turn."))
    elif element.turn not in (None, "cw", "ccw"):
        yield Fault(field_of(index, "turn"), Message("An arc turns clockwise (cw) or counter-clockwise (ccw)."))
    if element.tangent and index == 0:
        yield Fault(field_of(0, "tangent"), Message("The first element has none before it to join smoothly."))
    if element.corner is not None:
        yield from _faults_of_corner(index, element.corner, is_last=is_last)


def _faults_of_corner(index: int, corner: GivenCorner, *, is_last: bool) -> Iterator[Fault]:
    if is_last:
        text = "Nothing follows the last element: there is no corner at its end."
        yield Fault(field_of(index, "corner"), Message(text))
    elif corner.kind not in ("chamfer", "radius", "undercut") or (corner.kind == "undercut") != bool(corner.undercut):
        yield Fault(field_of(index, "corner.kind"), Message("A corner gets a chamfer, a radius or an undercut."))
    elif not SMALLEST <= corner.size < LARGEST:
        yield Fault(field_of(index, "corner.size"), Message("The size of the corner must be above zero."))
    elif corner.angle is not None and corner.kind == "radius":
        yield Fault(field_of(index, "corner.angle"), Message("A radius has no angle."))
    elif corner.angle is not None and not 0.0 < corner.angle < math.pi / 2.0:
        yield Fault(field_of(index, "corner.angle"), Message("The angle of a chamfer lies between 0° and 90°."))


def _faults_of_number(index: int, name: str, value: float | None) -> Iterator[Fault]:
    if value is None:
        return
    field, words = field_of(index, name), words_for(index, name)
    if not math.isfinite(value):
        yield Fault(field, Message("Give a number for {name}.", {"name": words}))
    elif name in ("radius", "length") and value <= 0.0:
        yield Fault(field, Message("{name} must be above zero.", {"name": Capital(words)}))
    elif name in ("radius", "length") and value < SMALLEST:
        yield Fault(field, Message("{name} is too small to be meant.", {"name": Capital(words)}))
    elif abs(value) > (100.0 if name == "angle" else LARGEST):
        values: dict[str, Value] = {"name": Capital(words), "value": Quantity(value, NAMES[name].kind)}
        yield Fault(field, Message("{name} is {value}: too large for a turned part.", values))


def faults_of_size(start: Start, elements: Sequence[GivenElement]) -> Iterator[Fault]:
    """A fault for each length that no part here has, with the limit.

    >>> [fault.message.say() for fault in faults_of_size(Start(0.0, 5.0), [GivenElement("line", z=-1e5)])]
    ["The end's Z of element 1 is beyond what a part here can have: at most 3000 mm."]
    """
    owners: list[tuple[int, Start | GivenElement]] = [(-1, start), *enumerate(elements)]
    for index, owner in owners:
        for name in NAMES if index >= 0 else ("z", "r"):
            value = getattr(owner, name)
            most = FARTHEST if name in ("radius", "centre_z", "centre_r") else LONGEST
            if value is not None and name != "angle" and not abs(value) <= most:
                text = "{name} is beyond what a part here can have: at most {most}."
                named = Capital(words_for(index, name))
                yield Fault(
                    field_of(index, name), Message(text, {"name": named, "most": Quantity(most, LENGTH, brief=True)})
                )
