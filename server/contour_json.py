"""Contours in JSON: a body becomes what a print gives; what is wrong is said at its field."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from typing import Any, cast

from calc.contour.callouts import from_datum, negative, plain_size
from calc.contour.solving import GivenCorner, GivenElement, Start
from calc.contour.solving.given import MOST_ELEMENTS, faults_of_size
from calc.language.fields import Code
from calc.language.given import LEAST, LEAST_SLACK, Given
from calc.language.messages import Message
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import ANGLE, LENGTH, RADIUS, Kind, View, X, Z
from calc.language.reading import ReadingError, read
from calc.threads.on_print import NAMES
from server.json_bodies import can_be_said

MOST = 1e300  # beyond it a change of units has no end
MOST_SHOWN = 40  # letters of what was sent that are said back
NUMBERS: Mapping[str, tuple[str, Kind]] = {
    "x": ("r", X),
    "z": ("z", Z),
    "dx": ("dr", X),
    "dz": ("dz", Z),
    "angle": ("angle", ANGLE),
    "length": ("length", LENGTH),
    "radius": ("radius", RADIUS),
    "centre_x": ("centre_r", X),
    "centre_z": ("centre_z", Z),
}
KEYS = {*NUMBERS, "kind", "turn", "tangent", "corner"}
OF_GROOVE: Mapping[str, Kind] = {"x": X, "depth": LENGTH, "width": LENGTH, "radius": RADIUS}
GROOVE_KEYS = {*OF_GROOVE, "kind", "designation", "outward", "corner"}


class GivenElements(list[GivenElement]):
    """The elements that a body gives; a groove in it is three of them, a wall, the bottom, a wall.

    `places` are the numbers, in the body, of what each came from.
    """

    def __init__(self) -> None:
        super().__init__()
        self.places: list[int] = []

    def take(self, place: int, elements: Sequence[GivenElement]) -> None:
        """Add what the body gives at a place."""
        self.extend(elements)
        self.places += [place] * len(elements)

    def field(self, solver_field: str) -> str:
        """The name in the body of what the solver calls `elements.2.radius`.

        >>> given = GivenElements()
        >>> given.take(0, [GivenElement("line")] * 3)
        >>> given.take(1, [GivenElement("line")])
        >>> given.field("elements.3.x"), given.field("elements.1.z"), given.field("start.x")
        ('elements.1.x', 'elements.0', 'start.x')
        """
        where, _, rest = solver_field.partition(".")
        number, _, name = rest.partition(".")
        if where != "elements" or not number.isdigit() or int(number) >= len(self.places):
            return solver_field
        place = self.places[int(number)]
        return f"elements.{place}.{name}" if name and self.places.count(place) == 1 else f"elements.{place}"


def read_body(body: bytes) -> dict[str, Any]:
    """The object of a request's body. Raises `OutOfRange` for anything else.

    >>> read_body(b'{"nose_radius": 0.8}')
    {'nose_radius': 0.8}
    """
    try:
        found = json.loads(body.decode(), parse_constant=_no_constant)
    except (UnicodeDecodeError, ValueError, RecursionError):
        raise OutOfRange(Fault("", Message("The body must be JSON: an object in UTF-8."))) from None
    if not isinstance(found, dict):
        raise OutOfRange(Fault("", Message("The body must be a JSON object.")))
    if not can_be_said(body, found):
        raise OutOfRange(Fault("", Message("The body holds half of a pair of characters; leave it out.")))
    return found


def given_or(value: Any, blank: Any) -> Any:
    """What is given for a name; `blank` where it is left out or null, and only there: 0, false and [] are given.

    >>> given_or(None, {}), given_or(0, {}), given_or([], {})
    ({}, 0, [])
    """
    return blank if value is None else value


def _no_constant(name: str) -> float:
    raise ValueError(f"{name} is no JSON")


class BodyReader:
    """Reads the values of one body in a reader's conventions and collects what is wrong."""

    def __init__(self, view: View) -> None:
        self.view = view
        self.faults: list[Fault] = []

    def number(self, value: Any, kind: Kind, field: str) -> float | None:
        """A number in the reader's unit, or typed text with its own; None for null or what is wrong."""
        if value is None:
            return None
        if isinstance(value, str):
            return self._typed(value, kind, field)
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            self.fault(field, "This must be a number.")
            return None
        if not (abs(value) < MOST and (value == 0 or abs(value) > LEAST)):
            typed = {"typed": repr(value)[:MOST_SHOWN]}
            self.faults.append(Fault(field, Message("“{typed}” is too large or too small to compute with.", typed)))
            return None
        return Given(kind.internal(float(value), self.view), self._rounding(value, kind))

    def _rounding(self, value: float, kind: Kind) -> float:
        """Half of the last decimal that the number was written with; a whole number has the least."""
        least = LEAST_SLACK[self.view.units] if kind.dimension == "length" else Given(0.0).slack
        place = cast("int", Decimal(repr(value)).as_tuple().exponent)
        one = abs(kind.internal(1.0, self.view) - kind.internal(0.0, self.view))
        return max(10.0**place * one / 2.0, least) if -12 < place < 0 else least

    def _typed(self, text: str, kind: Kind, field: str) -> float | None:
        try:
            turned = NAMES.turned(text) if kind is X else None
            return (
                from_datum(read(plain_size(text, kind), kind, self.view), kind, self.view) if turned is None else turned
            )
        except ReadingError as error:
            self.faults.append(Fault(field, error.message))
        return None

    def named(self, value: Any, names: Sequence[str], field: str) -> dict[str, Any]:
        """An object with no names but these. Raises `OutOfRange` for anything else."""
        if not isinstance(value, dict):
            self.fault(field, "Give this as an object.")
            self.done()
        for name in value:
            if name not in names:
                self.fault(f"{field}.{name[:40]}".lstrip("."), "There is no such name here.")
        return cast("dict[str, Any]", value)

    def blank_or_named(self, of: Mapping[str, Any], name: str, names: Sequence[str], field: str) -> dict[str, Any]:
        """The object of that name with no names but these, empty where it is left out or null. Raises `OutOfRange`."""
        return self.named(given_or(of.get(name), {}), names, field)

    def positive(
        self, of: Mapping[str, Any], name: str, kind: Kind, field: str, *, zero: bool = False, most: float = MOST
    ) -> float | None:
        """A number above 0 (or from 0 on), a length at most `most` (mm); None for null or what is wrong."""
        place = f"{field}.{name}"
        value = self.number(of.get(name), kind, place)
        if value is not None and (value < 0.0 or (value == 0.0 and not zero)):
            self.fault(place, "This must not be negative." if zero else "This must be more than 0.")
        if value is not None and kind.dimension == "length" and value > most:
            self.fault(place, "This is larger than any part: see that no decimal point is missing.")
        return value

    def one_of(self, value: Any, allowed: Sequence[Code], field: str) -> Code | None:
        """A word among those allowed, `bore` as `inside` where a side is named; None for null or what is wrong."""
        if value == "bore" and field.endswith("where") and "inside" in allowed:
            value = "inside"
        if value is None or value in allowed:
            return cast("Code | None", value)
        self.fault(field, f"This must be one of: {', '.join(allowed)}.")
        return None

    def word(self, value: Any, field: str) -> str | None:
        """A text; None for null, a blank one or what is wrong."""
        if value is None or isinstance(value, str):
            return value or None
        self.fault(field, "This must be a text.")
        return None

    def check(self, reading: Callable[[str], object], text: str) -> None:
        """Note what `reading` finds wrong with a text."""
        try:
            reading(text)
        except OutOfRange as problem:
            self.faults.extend(problem.faults)

    def fault(self, field: str, sentence: str) -> None:
        """Note what is wrong at a field."""
        self.faults.append(Fault(field, Message(sentence)))

    def done(self) -> None:
        """Raise `OutOfRange` if anything was wrong."""
        if self.faults:
            raise OutOfRange(*self.faults)


def read_contour(contour: Any, reader: BodyReader, prefix: str = "") -> tuple[Start, GivenElements]:
    """What a contour's JSON gives: `start` and `elements`, fields named from `prefix`; faults go to the reader.

    >>> reader = BodyReader(View())
    >>> body = {"start": {"x": 20, "z": 0}, "elements": [{"kind": "line", "x": 20, "z": -5}]}
    >>> start, elements = read_contour(body, reader)
    >>> start.r, elements[0].z, reader.faults
    (10.0, -5.0, [])
    """
    if not isinstance(contour, dict):
        reader.fault(prefix.rstrip("."), "A contour is an object with start and elements.")
        return Start(), GivenElements()
    begin = given_or(contour.get("start"), {})
    if not isinstance(begin, dict):
        reader.fault(f"{prefix}start", "The start is an object with x and z.")
        begin = {}
    start = Start(
        reader.number(begin.get("z"), Z, f"{prefix}start.z"), reader.number(begin.get("x"), X, f"{prefix}start.x")
    )
    elements = contour.get("elements")
    if not isinstance(elements, list) or not 0 < len(elements) <= MOST_ELEMENTS:
        reader.fault(f"{prefix}elements", f"A contour has at least one element and at most {MOST_ELEMENTS}.")
        return start, GivenElements()
    given, radius = GivenElements(), start.r
    for index, each in enumerate(elements):
        field = f"{prefix}elements.{index}"
        if isinstance(each, dict) and each.get("kind") == "groove":
            given.take(index, groove_of(each, radius, reader, field))
        else:
            given.take(index, [_element(each, reader, field)])
        radius = given[-1].r if given[-1].r is not None else radius if given[-1].dr == 0.0 else None
    reader.faults += [Fault(prefix + given.field(fault.field), fault.message) for fault in faults_of_size(start, given)]
    return start, given


def groove_of(value: Mapping[str, Any], radius: float | None, reader: BodyReader, field: str) -> list[GivenElement]:
    """A groove of a body: down to its bottom, along it toward the chuck, and back up to the cylinder of `radius`.

    >>> reader = BodyReader(View())
    >>> walls = groove_of({"kind": "groove", "width": 3, "depth": 2}, 12.5, reader, "elements.1")
    >>> [(each.dr, each.dz) for each in walls]
    [(-2.0, 0.0), (0.0, -3.0), (2.0, 0.0)]
    """
    for name in value:
        if name not in GROOVE_KEYS:
            reader.fault(f"{field}.{name[:40]}", "A groove has nothing of this name.")
    outward = value.get("outward") is True
    sizes = {name: reader.number(value.get(name), kind, f"{field}.{name}") for name, kind in OF_GROOVE.items()}
    sizes |= _called(value, radius, outward, reader, field)
    width, bottom, depth = sizes["width"], sizes["x"], sizes["depth"]
    if width is None or (bottom is None and depth is None):
        reader.fault(field, "A groove needs its width and its depth or bottom x, or its designation, as DIN 471.")
        return [GivenElement("line")]
    if width <= 0.0 or (depth is not None and depth <= 0.0):
        reader.fault(field, "A groove's width and depth must be more than 0.")
    into = None if depth is None else depth if outward else negative(depth)
    corner = None if not sizes["radius"] else GivenCorner("radius", sizes["radius"])
    top = radius if into is None else None
    edge = _corner(value.get("corner"), reader, f"{field}.corner")
    return [
        GivenElement("line", dz=0.0, r=bottom, dr=into, corner=corner),
        GivenElement("line", dr=0.0, dz=negative(width), corner=corner),
        GivenElement("line", dz=0.0, r=top, dr=None if into is None else negative(into), corner=edge),
    ]


def _called(
    value: Mapping[str, Any], radius: float | None, outward: bool, reader: BodyReader, field: str
) -> dict[str, float | None]:
    """The sizes that a groove's designation gives; none without one, or where it is wrong."""
    named = reader.word(value.get("designation"), f"{field}.designation")
    if named is None:
        return {}
    try:
        found = NAMES.groove(named, radius, outward=outward)
    except ReadingError as error:
        reader.faults.append(Fault(f"{field}.designation", error.message))
        return {"width": 1.0, "x": 1.0}
    return {"width": found.width, "x": found.bottom, "radius": found.corner or None}


def _element(value: Any, reader: BodyReader, field: str) -> GivenElement:
    if not isinstance(value, dict):
        reader.fault(field, "An element is an object with its kind.")
        return GivenElement("line")
    for name in value:
        if name not in KEYS:
            reader.fault(f"{field}.{name[:40]}", "An element has nothing of this name.")
    kind = reader.one_of(value.get("kind"), ("line", "arc", "groove"), f"{field}.kind")
    if value.get("kind") is None:
        reader.fault(f"{field}.kind", "An element is a line, an arc or a groove.")
    numbers = {own: reader.number(value.get(name), kind_, f"{field}.{name}") for name, (own, kind_) in NUMBERS.items()}
    tangent = value.get("tangent")
    if tangent not in (None, True, False):
        reader.fault(f"{field}.tangent", "This must be true or false.")
    return GivenElement(
        "arc" if kind == "arc" else "line",
        **numbers,
        turn=cast("Any", reader.one_of(value.get("turn"), ("cw", "ccw"), f"{field}.turn")),
        tangent=tangent is True,
        corner=_corner(value.get("corner"), reader, f"{field}.corner"),
    )


def _corner(value: Any, reader: BodyReader, field: str) -> GivenCorner | None:
    if value is None:
        return None
    if not isinstance(value, dict):
        reader.fault(field, "A corner is an object with kind and size.")
        return None
    kind = reader.one_of(value.get("kind"), ("chamfer", "radius", "undercut", "relief"), f"{field}.kind")
    if kind in ("undercut", "relief"):
        return _undercut(value, kind, reader, f"{field}.designation")
    size = reader.number(value.get("size"), LENGTH, f"{field}.size")
    angle = reader.number(value.get("angle"), ANGLE, f"{field}.angle")
    along = reader.one_of(value.get("along"), ("z", "element"), f"{field}.along")
    if kind is None or size is None:
        reader.fault(field, "A corner needs its kind, chamfer or radius, and its size.")
        return None
    return GivenCorner(cast("Any", kind), size, angle, cast("Any", along or "z"))


def _undercut(value: dict[str, Any], kind: str, reader: BodyReader, field: str) -> GivenCorner | None:
    named = reader.word(value.get("designation"), field)
    if named is None:
        reader.fault(field, "Which one is it? F 0.8x0.3 of an undercut, A M24x2-6g of a thread relief.")
        return None
    try:
        found = NAMES.undercut(named) if kind == "undercut" else NAMES.relief(named, "")
    except ReadingError as error:
        reader.faults.append(Fault(field, error.message))
        return None
    return GivenCorner("undercut", found.profile.start.z, undercut=found)
