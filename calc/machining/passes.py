"""A pass of the tool along a chain: what the nose touches, where its centre goes, how long it takes.

A pass is a run of *pieces*. Each piece says what the nose touches (an element of the contour, or a corner that it
swings round) and the path of the nose centre meanwhile (unknown without a nose). From the pieces follow the paths that
govern spindle and feed: at the contact or at the tool point, along the contour or along the nose centre.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise
from typing import NamedTuple

from calc.contour import Chain, Element, Line, Point, Vector
from calc.cutting.nouns import FeedAt, SpeedAt, Split
from calc.cutting.speed import spindle_at
from calc.cutting.time import CuttingTime, Leg, total_time
from calc.language.fields import Declared, result, word
from calc.language.messages import Message
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import FEED, LENGTH, SPINDLE_SPEED, SURFACE_SPEED, TIME, Time, X, Z
from calc.language.working import formula
from calc.machining.roughing.formulas import eased_count, equal_depth, first_eased, pass_count
from calc.tool.point import STEPS

LEAST_RUN_IN = 1e-6  # mm

SLIP = 1e-9
"""What is to take may miss a whole number of passes by this share, for rounding."""

MOST_PASSES = 200
"""So many passes one above the other are planned at most."""

COUNTLESS = 1e6
"""More passes than this are not counted for a reader."""

MOST_IN_ALL = 600
"""So many passes a plan has at most, each stretch of a level counted."""


class Spindle(NamedTuple):
    """Surface speed (mm/min) and spindle limit (1/min, None without one) of a pass."""

    surface_speed: float
    max_rpm: float | None


@dataclass(frozen=True, slots=True)
class Referral:
    """Where the control holds the surface speed and the feed, for a nose of `nose_radius` (mm) and a tool point.

    Without a nose both are referred to the contour.
    """

    nose_radius: float | None = None
    number: int = 3
    speed_at: SpeedAt = "contact"
    feed_at: FeedAt = "contour"

    @property
    def step(self) -> Vector:
        """From the nose centre to the tool point, mm."""
        return Vector(0.0, 0.0) if self.nose_radius is None else STEPS[self.number].times(self.nose_radius)


@dataclass(frozen=True, slots=True)
class Piece:
    """One stretch of a pass: what is touched, the nose centre's path meanwhile, the feed (mm/rev), whether in air."""

    contact: Element | Point
    centre: Element | None
    feed: float
    in_air: bool = False

    @property
    def path(self) -> Element:
        """The nose centre's path. Raises `ValueError` for a piece without a nose."""
        if self.centre is None:
            raise ValueError("a pass without a nose has no path of its centre")
        return self.centre

    @property
    def contact_length(self) -> float:
        """Length along the contour, mm; 0 while the nose swings round a corner."""
        return 0.0 if isinstance(self.contact, Point) else self.contact.length

    def split_at_contact_r(self, r: float) -> list[Piece]:
        """The piece cut where the contact passes the radius r (mm); the centre's path is cut in proportion."""
        if isinstance(self.contact, Point):
            return [self]
        whole = self.contact.length
        cuts = [self.contact.locate(point) / whole for point in self.contact.points_at_r(r)]
        return self._split(cuts)

    def split_at_centre_r(self, r: float) -> list[Piece]:
        """The piece cut where the nose centre passes the radius r (mm)."""
        path = self.path
        return self._split([path.locate(point) / path.length for point in path.points_at_r(r)])

    def _split(self, cuts: Iterable[float]) -> list[Piece]:
        shares = [0.0, *sorted(share for share in cuts if 1e-12 < share < 1 - 1e-12), 1.0]
        return [self.between(low, high) for low, high in pairwise(shares)]

    def between(self, low: float, high: float) -> Piece:
        """The piece between two shares of its length; round a corner only the centre's path gets shorter."""
        if (low, high) == (0.0, 1.0):
            return self
        contact = self.contact
        if not isinstance(contact, Point):
            contact = contact.between(low * contact.length, high * contact.length)
        centre = self.centre and self.centre.between(low * self.centre.length, high * self.centre.length)
        return replace(self, contact=contact, centre=centre)


def trace(chain: Chain, nose_radius: float | None, feed: float) -> list[Piece]:
    """The pieces of a nose that follows a chain on the left of travel, swings round its corners included.

    >>> corner = Chain((Line(Point(0.0, 20.0), Point(0.0, 10.0)), Line(Point(0.0, 10.0), Point(-5.0, 10.0))))
    >>> [piece.contact_length for piece in trace(corner, 0.8, 0.2)]
    [10.0, 0.0, 5.0]
    """
    if nose_radius is None:
        return [Piece(element, None, feed) for element in chain]
    parallels = chain.offset_elements(nose_radius, "left")
    return [Piece(parallel.around or chain.elements[parallel.of], parallel.element, feed) for parallel in parallels]


def approach(pieces: Sequence[Piece], length: float, along: Vector | None = None) -> list[Piece]:
    """The pieces with a straight run in air of `length` mm before them; none for a length that is practically zero.

    It goes along the unit vector `along`, or along the first tangent.
    """
    first = pieces[0]
    if length < LEAST_RUN_IN or isinstance(first.contact, Point):
        return list(pieces)
    back = (along or first.contact.tangent_at(0.0)).times(-length)
    contact = _run_in(first.contact.start, back)
    centre = first.centre and _run_in(first.centre.start, back)
    return [Piece(contact, centre, first.feed, in_air=True), *pieces]


def _run_in(end: Point, back: Vector) -> Line:
    return Line(end.moved(back), end)


def slowed_inside(pieces: Iterable[Piece], diameter: float | None, feed: float | None) -> list[Piece]:
    """The pieces with `feed` (mm/rev) wherever the contact lies inside `diameter` (mm); unchanged if either is None."""
    if not diameter or not feed:
        return list(pieces)
    parts = [part for piece in pieces for part in piece.split_at_contact_r(diameter / 2)]
    return [replace(part, feed=feed) if _middle(part.contact).r < diameter / 2 else part for part in parts]


def _middle(contact: Element | Point) -> Point:
    return contact if isinstance(contact, Point) else contact.point_at(contact.length / 2)


def legs(pieces: Iterable[Piece], referral: Referral) -> list[Leg]:
    """What governs spindle and feed along each piece, for the time."""
    return [Leg(_speed_path(piece, referral), _fed_length(piece, referral), piece.feed) for piece in pieces]


def _speed_path(piece: Piece, referral: Referral) -> Element | Point:
    if referral.speed_at == "contact" or piece.centre is None:
        return piece.contact
    return piece.centre.shifted(referral.step.z, referral.step.r)


def _fed_length(piece: Piece, referral: Referral) -> float:
    if referral.feed_at == "contour" or piece.centre is None:
        return piece.contact_length
    return piece.centre.length


def pass_time(pieces: Iterable[Piece], referral: Referral, spindle: Spindle) -> CuttingTime:
    """Time (min) of the pieces at the surface speed and at the spindle limit, closed form.

    >>> facing = [Piece(Line(Point(0.0, 50.0), Point(0.0, 0.0)), None, 0.2)]
    >>> round(60 * pass_time(facing, Referral(), Spindle(200_000.0, 3000.0)).total, 6)
    12.311489
    """
    return total_time(legs(pieces, referral), spindle.surface_speed, spindle.max_rpm)


@formula(
    means="time of the pass: all of it at surface speed and all at the limit", source="sum of its pieces", result="t"
)
def whole_time(t_v: Time, t_n: Time) -> Time:
    """Time (min) of a pass from what its pieces take at constant surface speed and at the spindle limit (min).

    Source: sum of the pieces.

    >>> whole_time(0.25, 0.5)
    0.75
    """
    return t_v + t_n


class Pass(Declared):
    """One pass as it stands in the plan: where the tool point starts and ends (without a nose: the contact)."""

    name: str = word("Pass")
    start_x: float = result(X, "from X")
    start_z: float = result(Z, "from Z")
    end_x: float = result(X, "to X")
    end_z: float = result(Z, "to Z")
    depth: float = result(LENGTH, "Deepest cut", hint="along the normal")
    feed: float = result(FEED, "Feed")
    surface_speed: float = result(SURFACE_SPEED, "Surface speed")
    rpm_start: float | None = result(SPINDLE_SPEED, "Spindle at the start")
    rpm_end: float | None = result(SPINDLE_SPEED, "at the end")
    length: float = result(LENGTH, "Length fed")
    engaged_length: float = result(LENGTH, "of it in the cut")
    time: float = result(TIME, "Time")


def pass_row(name: str, pieces: Sequence[Piece], referral: Referral, spindle: Spindle, depth: float) -> Pass:
    """The plan's row for a run of pieces, called `name`, with its deepest cut `depth` (mm)."""
    start, end = _stands(pieces[0], referral)[0], _stands(pieces[-1], referral)[1]
    fed = [_fed_length(piece, referral) for piece in pieces]
    return Pass(
        name=name,
        start_x=start.r,
        start_z=start.z,
        end_x=end.r,
        end_z=end.z,
        depth=depth,
        feed=max(piece.feed for piece in pieces),
        surface_speed=spindle.surface_speed,
        rpm_start=_rpm(_speed_path(pieces[0], referral), 0, spindle),
        rpm_end=_rpm(_speed_path(pieces[-1], referral), 1, spindle),
        length=sum(fed),
        engaged_length=sum(length for length, piece in zip(fed, pieces, strict=True) if not piece.in_air),
        time=whole_time(*pass_time(pieces, referral, spindle)),
    )


def _stands(piece: Piece, referral: Referral) -> tuple[Point, Point]:
    """Where the tool point (without a nose: the contact) is at the start and at the end of a piece."""
    if piece.centre is None:
        return _ends(piece.contact)
    step = referral.step
    start, end = _ends(piece.centre)
    return start.moved(step), end.moved(step)


def _ends(path: Element | Point) -> tuple[Point, Point]:
    return (path, path) if isinstance(path, Point) else (path.start, path.end)


def _rpm(path: Element | Point, end: int, spindle: Spindle) -> float | None:
    """Spindle speed at an end of the governing path; None where nothing limits it on the axis."""
    diameter = 2 * abs(_ends(path)[end].r)
    if spindle.max_rpm is None and diameter <= 1e-9 * _size(path):
        return None
    where = "where the pass begins" if end == 0 else "where the pass ends"
    return spindle_at(diameter, spindle.surface_speed, spindle.max_rpm, where).rpm


def _size(path: Element | Point) -> float:
    return max(abs(value) for point in _ends(path) for value in point)


def depths(total: float, most: float, split: Split, where: str = "") -> list[float]:
    """How deep (mm) the tool stands after each pass, none of them taking more than `most`; `where` is for the working.

    "equal" shares the total evenly, "rest" takes full passes and leaves the rest to the last one, "easing" takes less
    with each, half of the first in the end. Raises `OutOfRange` for more than `MOST_PASSES`, before any is listed.

    >>> [round(depth, 2) for depth in depths(4.2, 1.0, "equal")]
    [0.84, 1.68, 2.52, 3.36, 4.2]
    >>> [round(depth, 2) for depth in depths(4.2, 1.0, "rest")]
    [1.0, 2.0, 3.0, 4.0, 4.2]
    >>> [round(depth, 2) for depth in depths(4.2, 1.0, "easing")]
    [0.93, 1.77, 2.52, 3.17, 3.73, 4.2]
    """
    if total <= 0.0:
        return []
    if split == "easing":
        return _easing(total, most, where)
    not_too_many(total / most * (1.0 - SLIP))
    count = max(1, int(pass_count.at(where)(total * (1.0 - SLIP), most)))
    step = equal_depth.at(where)(total, count) if split == "equal" else most
    return [step * number for number in range(1, count)] + [total]


def _easing(total: float, most: float, where: str) -> list[float]:
    not_too_many(4.0 / 3.0 * total / most * (1.0 - SLIP))
    count = max(1, int(eased_count.at(where)(total * (1.0 - SLIP), most)))
    if count == 1:
        return [total]
    first = first_eased.at(where)(total, count)
    taken = (first * (1.0 - number / (2.0 * (count - 1))) for number in range(count - 1))
    return [*accumulate(taken), total]


def not_too_many(count: float) -> None:
    """Raise `OutOfRange` at the depth of a pass for a `count` above `MOST_PASSES`."""
    if count > MOST_PASSES:
        text = "That would be {count} passes; at most {most} are planned. Take a larger depth per pass."
        shown = "more than a million" if count > COUNTLESS else math.ceil(count)
        raise OutOfRange(Fault("pass_depth", Message(text, {"count": shown, "most": MOST_PASSES})))


def not_too_many_in_all(count: int, made: int = 0) -> None:
    """Raise `OutOfRange` at the depth of a pass where `count` passes beside those `made` are above `MOST_IN_ALL`."""
    if made + count > MOST_IN_ALL:
        text = (
            "Each stretch of each level counted that would be {count} passes or more; at most {most} are planned. Take "
            "a larger depth per pass."
        )
        raise OutOfRange(Fault("pass_depth", Message(text, {"count": made + count, "most": MOST_IN_ALL})))
