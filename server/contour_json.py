"""Contours in JSON: a body becomes what a print gives, or a chain; what is wrong is said at its field."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from typing import Any, cast

from calc.contour import Arc, Chain, ContourError, Element, Line, Point
from calc.contour.callouts import from_datum, plain_size
from calc.contour.solving import GivenCorner, GivenElement, Start, solve
from calc.contour.solving.given import MOST_ELEMENTS, faults_of_size
from calc.language.fields import Code
from calc.language.given import LEAST_SLACK, Given
from calc.language.messages import Message
from calc.language.problems import Fault, Impossible, Missing, OutOfRange, Problem
from calc.language.quantities import ANGLE, LENGTH, RADIUS, Kind, View, X, Z
from calc.language.reading import ReadingError, read
from calc.shapes.chosen import sound
from calc.threads.on_print import NAMES
from server.json_bodies import can_be_said

MOST = 1e300  # beyond it a change of units has no end
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
OF_LINE, OF_ARC = {"z", "r"}, {"z", "r", "radius", "centre_z", "centre_r"}


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
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not abs(value) < MOST:
            self.fault(field, "This must be a number.")
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
        """A word among those allowed; None for null or what is wrong."""
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


def read_contour(contour: Any, reader: BodyReader, prefix: str = "") -> tuple[Start, list[GivenElement]]:
    """What a contour's JSON gives: `start` and `elements`, fields named from `prefix`; faults go to the reader.

    >>> reader = BodyReader(View())
    >>> body = {"start": {"x": 20, "z": 0}, "elements": [{"kind": "line", "x": 20, "z": -5}]}
    >>> start, elements = read_contour(body, reader)
    >>> start.r, elements[0].z, reader.faults
    (10.0, -5.0, [])
    """
    if not isinstance(contour, dict):
        reader.fault(prefix.rstrip("."), "A contour is an object with start and elements.")
        return Start(), []
    begin = contour.get("start") or {}
    if not isinstance(begin, dict):
        reader.fault(f"{prefix}start", "The start is an object with x and z.")
        begin = {}
    start = Start(
        reader.number(begin.get("z"), Z, f"{prefix}start.z"), reader.number(begin.get("x"), X, f"{prefix}start.x")
    )
    elements = contour.get("elements")
    if not isinstance(elements, list) or not 0 < len(elements) <= MOST_ELEMENTS:
        reader.fault(f"{prefix}elements", f"A contour has at least one element and at most {MOST_ELEMENTS}.")
        return start, []
    given = [_element(each, reader, f"{prefix}elements.{index}") for index, each in enumerate(elements)]
    reader.faults += [Fault(prefix + fault.field, fault.message) for fault in faults_of_size(start, given)]
    return start, given


def _element(value: Any, reader: BodyReader, field: str) -> GivenElement:
    if not isinstance(value, dict):
        reader.fault(field, "An element is an object with its kind.")
        return GivenElement("line")
    for name in value:
        if name not in KEYS:
            reader.fault(f"{field}.{name[:40]}", "An element has nothing of this name.")
    kind = reader.one_of(value.get("kind"), ("line", "arc"), f"{field}.kind")
    if value.get("kind") is None:
        reader.fault(f"{field}.kind", "An element is a line or an arc.")
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


def chain_of(start: Start, elements: Sequence[GivenElement], prefix: str = "") -> Chain:
    """The one chain that has these dimensions (mm).

    An arc that is given by its end, radius and turn alone is the one of at most half a turn. Raises what the solver
    raises, with fields named from `prefix`; `Impossible` if several contours have them, or the contour meets itself.

    >>> chain_of(Start(0.0, 10.0), [GivenElement("line", z=-5.0, r=10.0)]).length
    5.0
    """
    try:
        return sound(_plain(start, elements) or _solved(start, elements))
    except ContourError as error:
        raise Impossible(Fault(prefix.rstrip("."), error.message)) from None
    except Problem as problem:
        kind = type(problem) if type(problem) in (Missing, OutOfRange) else Impossible
        faults = (Fault(f"{prefix}{fault.field}".rstrip("."), fault.message) for fault in problem.faults)
        raise kind(*faults) from None


def _solved(start: Start, elements: Sequence[GivenElement]) -> Chain:
    found = solve(start, elements)
    if len(found.solutions) > 1:
        text = "More than one contour has these dimensions: give one more, so that it is unique."
        raise Impossible(Fault("elements", Message(text)))
    solution = found.solutions[0]
    return Chain(solution.contour, solution.names)


def _plain(start: Start, elements: Sequence[GivenElement]) -> Chain | None:
    """The elements of a contour that is given in full; None where anything is left to solve."""
    if start.z is None or start.r is None:
        return None
    here, made = Point(start.z, start.r), []
    for index, given in enumerate(elements):
        if given.z is None or given.r is None or given.corner is not None or given.tangent:
            return None
        end = Point(given.z, given.r)
        try:
            element = _full(here, end, given)
        except ContourError as error:
            raise Impossible(Fault(f"elements.{index}", error.message)) from None
        if element is None:
            return None
        made.append(element)
        here = end
    return Chain(tuple(made))


def _full(start: Point, end: Point, given: GivenElement) -> Element | None:
    told = {name for name, _ in NUMBERS.values() if getattr(given, name) is not None}
    if given.kind == "line":
        return Line(start, end) if told <= OF_LINE else None
    if given.turn is None or not told <= OF_ARC:
        return None
    if given.centre_z is not None and given.centre_r is not None and given.radius is None:
        return Arc(start, end, Point(given.centre_z, given.centre_r), given.turn)
    if given.radius is not None and given.centre_z is None and given.centre_r is None:
        return Arc.from_radius(start, end, given.radius, given.turn)
    return None
