"""The spindle along a contour: speed, true surface speed and what the spindle must do to keep up, place by place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, pi
from typing import NamedTuple

from calc.contour import Element, Point
from calc.cutting.speed import spindle_at
from calc.language.kinds import Acceleration
from calc.language.quantities import SpindleSpeed, Time
from calc.language.working import formula
from calc.machining.passes import Piece, Referral, Spindle, legs

RUN_UP = "definition of acceleration; the spindle is taken to gain speed evenly"


class Station(NamedTuple):
    """A place on the path: contact, feed, length fed so far [mm], spindle [1/min], true speed [mm/min]."""

    contact: Point
    feed: float
    fed: float
    rpm: float
    true_speed: float


@formula(source=RUN_UP, means="acceleration of the spindle", result="alpha_n", symbols={"t_up": "t_up"})
def spindle_acceleration(n_max: SpindleSpeed, t_up: Time) -> Acceleration:
    """Acceleration [1/min2] of a spindle that reaches `n_max` [1/min] from rest in `t_up` [min]. Source: definition.

    >>> spindle_acceleration(2000.0, 2.0 / 60) / 60
    1000.0
    """
    return n_max / t_up


@formula(source=RUN_UP, means="time to run the spindle up or down", result="t_n")
def time_to_change_speed(n_1: SpindleSpeed, n_2: SpindleSpeed, alpha_n: Acceleration) -> Time:
    """Time [min] from `n_1` to `n_2` [1/min] at an even acceleration [1/min2]. Source: definition.

    >>> round(60 * time_to_change_speed(0.0, 1000.0, 60_000.0), 6)
    1.0
    """
    return abs(n_2 - n_1) / alpha_n


def stations(pieces: Sequence[Piece], referral: Referral, spindle: Spindle, count: int) -> list[Station]:
    """About `count` places along the pieces, the ends of each piece among them, in the order of travel.

    The spindle follows the path that the referral names (contact or tool point); the true surface speed is that at
    the contact. Raises Impossible where the path reaches the axis and nothing limits the spindle. Source: definitions.

    >>> from calc.contour import Line
    >>> facing = [Piece(Line(Point(0.0, 50.0), Point(0.0, 10.0)), None, 0.2)]
    >>> [round(station.rpm) for station in stations(facing, Referral(), Spindle(200_000.0, 3000.0), 3)]
    [637, 1061, 3000]
    """
    paths = legs(pieces, referral)
    whole = sum(leg.length for leg in paths) or 1.0
    found: list[Station] = []
    fed = 0.0
    for piece, leg in zip(pieces, paths, strict=True):
        steps = max(1, ceil((count - 1) * leg.length / whole))
        for share in (index / steps for index in range(steps + 1)):
            contact, governing = _at(piece.contact, share), _at(leg.speed_path, share)
            rpm = spindle_at(2 * abs(governing.r), spindle.surface_speed, spindle.max_rpm).rpm
            true = 2 * pi * abs(contact.r) * rpm
            found.append(Station(contact, leg.feed, fed + share * leg.length, rpm, true))
        fed += leg.length
    return found


def _at(path: Element | Point, share: float) -> Point:
    return path if isinstance(path, Point) else path.point_at(share * path.length)


def accelerations(found: Sequence[Station]) -> Iterator[tuple[Point, float]]:
    """How fast the spindle must change its speed between neighbouring stations [1/min2], and where.

    >>> from calc.contour import Line
    >>> facing = [Piece(Line(Point(0.0, 50.0), Point(0.0, 10.0)), None, 0.2)]
    >>> places = stations(facing, Referral(), Spindle(200_000.0, 4000.0), 400)
    >>> round(max(needed for _, needed in accelerations(places)) / 60, -2)
    3300.0
    """
    for before, after in pairwise(found):
        length = after.fed - before.fed
        if length > 0.0:
            time = length / after.feed * (1 / before.rpm + 1 / after.rpm) / 2
            yield after.contact, abs(after.rpm - before.rpm) / time
