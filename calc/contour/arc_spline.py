"""A table of points as few arcs and lines that join smoothly, within a tolerance.

Between two of the points stands a pair of arcs (a biarc) that leaves the first and enters the second along the curve;
from each point the pair reaches as far as every point between lies within the tolerance. Directions at the points are
those of the circle through each point and its neighbours. Where the points turn a sharp corner, the curve has one, too.
Source of the biarc with equal tangent lengths: Bolton, Biarc curves, Computer-Aided Design 7 (1975), from memory.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from calc.contour.arc import Arc
from calc.contour.elements import Element
from calc.contour.line import Line
from calc.contour.points import Point
from calc.language.messages import Message
from calc.language.problems import Fault, OutOfRange

Numbers: TypeAlias = NDArray[np.float64]
Complexes: TypeAlias = NDArray[np.complex128]

MOST_POINTS = 10_000
_CORNER = math.radians(20.0)
_SHARPER = 4.0
_STRAIGHTER = 1e-3
_RATIOS = (1.0, 0.6, 1.6)
_MOST_SWEEP = 0.9 * math.pi
_STRAIGHT = 1e-9
_SAME_CIRCLE = 1e-6


class Fitted(NamedTuple):
    """The elements in the order of the points, and how far the farthest point lies from them, mm."""

    elements: tuple[Element, ...]
    largest_error: float


def fit_curve(points: Sequence[Point], tolerance: float) -> Fitted:
    """Few arcs and lines through ``points`` (mm) that leave none farther away than ``tolerance`` (mm).

    The first and the last point are kept. Raises `OutOfRange` for fewer than two points, for two in one place after
    each other, and for a tolerance that is not above zero.

    >>> circle = [Point(10.0 * math.cos(0.02 * i), 10.0 * math.sin(0.02 * i)) for i in range(50)]
    >>> fitted = fit_curve(circle, 0.001)
    >>> len(fitted.elements), round(fitted.elements[0].radius, 9)
    (1, 10.0)
    """
    _require_sound(points, tolerance)
    spots = np.array([complex(point.z, point.r) for point in points])
    made: list[_Bow] = []
    for first, last in _smooth_stretches(spots):
        made += _Stretch(spots[first : last + 1], tolerance).bows()
    bows = _merged(made, tolerance)
    error = float(max(_distances(bows, spots), default=0.0))
    return Fitted(tuple(bow.element() for bow in bows), error)


def _require_sound(points: Sequence[Point], tolerance: float) -> None:
    if not 2 <= len(points) <= MOST_POINTS:
        raise OutOfRange(Fault("points", Message("Give at least 2 points and at most {most}.", {"most": MOST_POINTS})))
    if not (math.isfinite(tolerance) and tolerance > 0.0):
        raise OutOfRange(Fault("tolerance", Message("The tolerance must be more than 0.")))
    for index, (one, other) in enumerate(pairwise(points)):
        if one.distance_to(other) == 0.0:
            text = "Points {one} and {other} are in one place: leave one out."
            raise OutOfRange(Fault(f"points.{index + 1}", Message(text, {"one": index + 1, "other": index + 2})))


class _Bow(NamedTuple):
    """An arc from a to b that leaves a in a direction; straight where its curvature is 0."""

    a: complex
    b: complex
    heading: complex

    @property
    def half_turn(self) -> float:
        """Half the angle that the heading turns by, rad, counter-clockwise positive."""
        return float(np.angle((self.b - self.a) / self.heading))

    @property
    def is_straight(self) -> bool:
        return abs(self.half_turn) < _STRAIGHT

    @property
    def radius(self) -> float:
        """Signed, mm: positive for counter-clockwise."""
        return abs(self.b - self.a) / 2.0 / math.sin(self.half_turn)

    @property
    def centre(self) -> complex:
        return self.a + self.radius * 1j * self.heading

    @property
    def end_heading(self) -> complex:
        return complex(self.heading * np.exp(2j * self.half_turn))

    def distances(self, spots: Complexes) -> Numbers:
        """How far points are from the arc, its ends included, mm."""
        ends = np.minimum(abs(spots - self.a), abs(spots - self.b))
        if self.is_straight:
            along = (self.b - self.a) / abs(self.b - self.a)
            local = (spots - self.a) / along
            beside = (local.real >= 0.0) & (local.real <= abs(self.b - self.a))
            return np.where(beside, abs(local.imag), ends)
        centre, turn = self.centre, 2.0 * self.half_turn
        angle = np.angle((spots - centre) / (self.a - centre)) * math.copysign(1.0, turn)
        angle = np.where(angle < 0.0, angle + math.tau, angle)
        return np.where(angle <= abs(turn), abs(abs(spots - centre) - abs(self.radius)), ends)

    def element(self) -> Element:
        start, end = _point(self.a), _point(self.b)
        if self.is_straight:
            return Line(start, end)
        return Arc(start, end, _point(self.centre), "ccw" if self.half_turn > 0.0 else "cw")


def _point(spot: complex) -> Point:
    return Point(float(spot.real) + 0.0, float(spot.imag) + 0.0)


def _distances(bows: Sequence[_Bow], spots: Complexes) -> Numbers:
    """How far each point is from the nearest of the arcs that follow each other, mm."""
    found = np.full(len(spots), np.inf)
    place = [int(np.argmin(abs(spots - bow.a))) for bow in bows] + [len(spots) - 1]
    for bow, first, last in zip(bows, place, place[1:], strict=False):
        near = slice(max(first - 1, 0), last + 2)
        found[near] = np.minimum(found[near], bow.distances(spots[near]))
    return found


def _smooth_stretches(spots: Complexes) -> list[tuple[int, int]]:
    """The stretches between corners: points where the turn is sharp and much more than at both neighbours."""
    steps = np.diff(spots)
    turn = abs(np.angle(steps[1:] / steps[:-1]))
    beside = np.maximum(np.pad(turn, (1, 0))[:-1], np.pad(turn, (0, 1))[1:])
    sharp = (turn > _CORNER) & (turn > _SHARPER * beside)
    corners = [0, *(int(i) + 1 for i in np.flatnonzero(sharp)), len(spots) - 1]
    return list(pairwise(corners))


class _Stretch:
    """Points without a corner, and the direction of the curve at each."""

    def __init__(self, spots: Complexes, tolerance: float) -> None:
        self.spots, self.tolerance = spots, tolerance
        self.headings = _headings(spots)

    def bows(self) -> list[_Bow]:
        """From each point the pair of arcs that reaches farthest."""
        made: list[_Bow] = []
        first, last = 0, len(self.spots) - 1
        while first < last:
            first, pair = self._farthest(first, last)
            made += pair
        return made

    def _farthest(self, first: int, last: int) -> tuple[int, list[_Bow]]:
        """Doubled steps until a pair leaves the tolerance, then halved ones."""
        step, good, best = 1, first + 1, self._pair(first, first + 1)
        pair = best
        while pair and good < last:
            step *= 2
            tried = min(first + step, last)
            pair = self._pair(first, tried)
            good, best = (tried, pair) if pair else (good, best)
        bad = min(first + step, last)
        while bad - good > 1:
            middle = (good + bad) // 2
            pair = self._pair(first, middle)
            good, best, bad = (middle, pair, bad) if pair else (good, best, middle)
        return good, best or [_Bow(self.spots[first], self.spots[good], _unit(self.spots[good] - self.spots[first]))]

    def _pair(self, first: int, last: int) -> list[_Bow]:
        """The pair of arcs between two points; empty where it leaves the tolerance."""
        between = self.spots[first : last + 1]
        for ratio in _RATIOS:
            pair = _biarc(self.spots[first], self.headings[first], self.spots[last], self.headings[last], ratio)
            if pair and all(abs(bow.half_turn) <= _MOST_SWEEP / 2.0 for bow in pair) and self._holds(pair, between):
                return pair
        return []

    def _holds(self, pair: Sequence[_Bow], spots: Complexes) -> bool:
        nearest = np.minimum.reduce([bow.distances(spots) for bow in pair])
        return bool(nearest.max() <= self.tolerance)


def _headings(spots: Complexes) -> Complexes:
    """The direction of the circle through each point and its neighbours; at the ends that of the circle there.

    Where a straight stretch ends, its direction.
    """
    if len(spots) == 2:
        return np.full(2, _unit(spots[1] - spots[0]))
    steps = np.diff(spots)
    length, heading = abs(steps), steps / abs(steps)
    turn = np.angle(heading[1:] / heading[:-1])
    inner = heading[:-1] * np.exp(1j * turn * length[:-1] / (length[:-1] + length[1:]))
    before, after = np.pad(abs(turn), (1, 0), mode="edge")[:-1], np.pad(abs(turn), (0, 1), mode="edge")[1:]
    inner = np.where(before < _STRAIGHTER * after, heading[:-1], inner)
    inner = np.where(after < _STRAIGHTER * before, heading[1:], inner)
    start = heading[0] * (heading[0] / inner[0])
    end = heading[-1] * (heading[-1] / inner[-1])
    whole: Complexes = np.concatenate([[start], inner, [end]])
    return whole / abs(whole)


def _unit(step: complex) -> complex:
    return complex(step / abs(step))


def _biarc(a: complex, leave: complex, b: complex, arrive: complex, ratio: float) -> list[_Bow]:
    """Two arcs from a to b in given directions; their tangent lengths at a and b are in this ratio."""
    step = b - a
    t = leave * ratio + arrive
    # |step|^2 - 2 d step.t + 2 d^2 ratio (leave.arrive - 1) = 0 for the tangent length d at b
    square = 2.0 * ratio * ((leave * arrive.conjugate()).real - 1.0)
    linear = -2.0 * (step * t.conjugate()).real
    constant = abs(step) ** 2
    if abs(square) < 1e-14:
        d = -constant / linear if linear < 0.0 else 0.0
    else:
        root = math.sqrt(max(linear * linear - 4.0 * square * constant, 0.0))
        q = -(linear - root) / 2.0 if linear <= 0.0 else -(linear + root) / 2.0
        d = max(q / square, constant / q if q else 0.0)
    if d <= 0.0:
        return []
    one, other = a + ratio * d * leave, b - d * arrive
    joint = one + (other - one) * ratio / (1.0 + ratio)
    if min(abs(joint - a), abs(b - joint)) <= 1e-12 * abs(step):
        return []
    first = _Bow(a, joint, leave)
    return [first, _Bow(joint, b, first.end_heading)]


def _merged(bows: Sequence[_Bow], tolerance: float) -> list[_Bow]:
    """Neighbours that are one line or one circle as one element."""
    merged: list[_Bow] = []
    for bow in bows:
        if merged and _is_one(merged[-1], bow, tolerance):
            merged[-1] = _Bow(merged[-1].a, bow.b, merged[-1].heading)
        else:
            merged.append(bow)
    return merged


def _is_one(one: _Bow, other: _Bow, tolerance: float) -> bool:
    near = _SAME_CIRCLE * tolerance / 1e-3
    if abs(np.angle(other.heading / one.end_heading)) > _SAME_CIRCLE:
        return False
    if one.is_straight or other.is_straight:
        return one.is_straight and other.is_straight
    both = abs(one.half_turn + other.half_turn)
    return abs(one.centre - other.centre) <= near and one.radius * other.radius > 0.0 and both < _MOST_SWEEP
