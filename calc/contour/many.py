"""Many lines and arcs as arrays: places on them, their boxes, where pairs of them meet, by the rules of single ones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from calc.contour.arc import Arc, Turn
from calc.contour.elements import Element
from calc.contour.line import Line
from calc.contour.points import Point
from calc.contour.tolerance import GAP, ROUNDING

Floats = NDArray[np.float64]
Places = NDArray[np.complex128]
Indices = NDArray[np.intp]
Flags = NDArray[np.bool_]
SHORTEST = 1e-300
"""mm: a line no longer than this has no direction of its own; dividing by its length would overflow."""


@dataclass(frozen=True, slots=True)
class Many:
    """Lines and arcs; a place is z + i r (mm).

    `sign` is 1 for a counter-clockwise arc, -1 for a clockwise one, 0 for a line, whose `centre`, `radius` and `angle`
    are 0. `direction` is that of travel at the start, a unit.
    """

    start: Places
    end: Places
    centre: Places
    radius: Floats
    sign: Floats
    angle: Floats
    length: Floats
    direction: Places

    def __len__(self) -> int:
        return len(self.start)

    @property
    def is_arc(self) -> Flags:
        """Which of them are arcs."""
        return np.asarray(self.sign != 0.0)

    @property
    def end_direction(self) -> Places:
        """The directions of travel at the ends, units."""
        turned: Places = self.direction * np.exp(1j * self.sign * self.angle)
        return turned

    def __getitem__(self, chosen: Indices | Flags | slice) -> Many:
        return Many(*(getattr(self, name)[chosen] for name in _ARRAYS))

    def joined(self, other: Many) -> Many:
        """These and the others, in that order."""
        pairs = ((getattr(self, name), getattr(other, name)) for name in _ARRAYS)
        return Many(*(np.concatenate(pair) for pair in pairs))

    def at(self, s: Floats) -> Places:
        """The place after `s` mm of travel on each."""
        if not self.sign.any():
            return np.asarray(self.start + s * self.direction)
        half = np.divide(s, 2.0 * self.radius, out=np.zeros_like(s), where=self.is_arc)
        chord = np.where(self.is_arc, 2.0 * self.radius * np.sin(half), s)
        place: Places = self.start + chord * self.direction * np.exp(1j * self.sign * half)
        return place

    def onto(self, places: Places) -> Places:
        """Places beside arcs on their circles; the ends of an arc may be a hair nearer or farther than its radius."""
        out = np.where(self.is_arc, places - self.centre, 1.0)
        return np.where(self.is_arc, self.centre + self.radius * out / np.abs(out), places)

    def locate(self, places: Places) -> Floats:
        """The position (mm) of the nearest point of each, prolonged both ways; below 0 before the start."""
        step = places - self.start
        if not self.sign.any():
            return _dot(self.direction, step)
        out = self.start - self.centre
        across = self.sign * _cross(out, step)
        turned = np.arctan2(across, _dot(out, places - self.centre))
        turned = np.where(turned < self.angle / 2.0 - np.pi, turned + 2.0 * np.pi, turned)
        located: Floats = np.where(self.is_arc, turned * self.radius, _dot(self.direction, step))
        return located

    def spans(self, places: Places, near: float) -> Flags:
        """Whether a place of each carrier lies between its start and end, or within `near` (mm) of them."""
        s = self.locate(places)
        inside: Flags = (s >= -near) & (s <= self.length + near)
        return inside

    def distance(self, places: Places) -> Floats:
        """The distance (mm) of a place from each."""
        s = np.clip(self.locate(places), 0.0, self.length)
        inside = (s > 0.0) & (s < self.length)
        from_ends = np.minimum(np.abs(places - self.start), np.abs(places - self.end))
        square = np.abs(_cross(self.direction, places - self.start))
        if self.sign.any():
            square = np.where(self.is_arc, np.abs(np.abs(places - self.centre) - self.radius), square)
        found: Floats = np.where(inside, square, from_ends)
        return found

    def boxes(self) -> Floats:
        """The smallest upright rectangle around each: z_min, z_max, r_min, r_max (mm)."""
        low = np.minimum(self.start.real, self.end.real), np.minimum(self.start.imag, self.end.imag)
        high = np.maximum(self.start.real, self.end.real), np.maximum(self.start.imag, self.end.imag)
        z_min, r_min, z_max, r_max = *low, *high
        for quarter in (1.0, 1j, -1.0, -1j):
            place = self.centre + self.radius * quarter
            s = self.locate(place)
            on = self.is_arc & (s > 0.0) & (s < self.length)
            z_min, z_max = (
                np.where(on, f(edge, place.real), edge) for f, edge in ((np.minimum, z_min), (np.maximum, z_max))
            )
            r_min, r_max = (
                np.where(on, f(edge, place.imag), edge) for f, edge in ((np.minimum, r_min), (np.maximum, r_max))
            )
        return np.stack([z_min, z_max, r_min, r_max], axis=1)

    def element(self, index: int) -> Element:
        """One of them as an element."""
        start, end = as_point(self.start[index]), as_point(self.end[index])
        return element_between(start, end, self.centre[index], self.sign[index])


_ARRAYS = tuple(each.name for each in fields(Many))


def many_of(elements: Sequence[Element]) -> Many:
    """The elements as arrays.

    >>> many_of([Line(Point(0.0, 5.0), Point(0.0, 9.0))]).at(np.array([2.5])).tolist()
    [7.5j]
    """
    start = np.array([complex(*each.start) for each in elements], dtype=complex)
    end = np.array([complex(*each.end) for each in elements], dtype=complex)
    arcs = [(index, each) for index, each in enumerate(elements) if isinstance(each, Arc)]
    centre, sign = np.zeros(len(elements), dtype=complex), np.zeros(len(elements))
    for index, arc in arcs:
        centre[index] = complex(*arc.centre)
        sign[index] = 1.0 if arc.turn == "ccw" else -1.0
    return many(start, end, centre, sign)


def many(start: Places, end: Places, centre: Places, sign: Floats) -> Many:
    """Lines (`sign` 0) and arcs between places (mm) about their centres, with what follows from that.

    >>> quarter = many(np.array([5.0 + 0j]), np.array([5j]), np.array([0j]), np.array([1.0]))
    >>> quarter.radius.tolist(), np.degrees(quarter.angle).round(6).tolist()
    ([5.0], [90.0])
    """
    is_arc = sign != 0.0
    out = np.where(is_arc, start - centre, 1.0)
    radius = np.where(is_arc, (np.abs(start - centre) + np.abs(end - centre)) / 2.0, 0.0)
    turned = np.arctan2(sign * _cross(out, end - start), _dot(out, end - centre))
    angle = np.where(is_arc, np.where(turned > 0.0, turned, turned + 2.0 * np.pi), 0.0)
    step = end - start
    chord = np.abs(step)
    along = np.divide(step, chord, out=np.ones_like(step), where=chord > SHORTEST)
    direction = np.where(is_arc, 1j * sign * out / np.abs(out), along)
    return Many(start, end, centre, radius, sign, angle, np.where(is_arc, radius * angle, chord), direction)


def element_between(start: Point, end: Point, centre: complex, sign: float) -> Element:
    """The line (sign 0) or the arc about a centre between two points (mm), counterclockwise above 0.

    >>> element_between(Point(0.0, 0.0), Point(-5.0, 0.0), 0j, 0.0).length
    5.0
    """
    if not sign:
        return Line(start, end)
    return arc_about(as_point(centre), start, end, "ccw" if sign > 0.0 else "cw")


def arc_about(centre: Point, start: Point, end: Point, turn: Turn) -> Arc:
    """The arc about a centre between ends (mm) that may have moved a hair: the centre follows where an arc needs it.

    >>> centre = arc_about(Point(0.0, 0.0), Point(5.0, 0.0), Point(0.0, 5.000001), "ccw").centre
    >>> round(centre.z, 9), round(centre.r, 9)
    (-5e-07, 5e-07)
    """
    off = centre.distance_to(start) - centre.distance_to(end)
    if abs(off) > GAP / 2.0 * max(start.size, end.size, centre.size):
        along = start.to(end).unit()
        centre = centre.moved(along, centre.to(start.midway_to(end)).dot(along))
    return Arc(start, end, centre, turn)


def as_point(place: complex) -> Point:
    """The place z + i r as a point.

    >>> as_point(2.0 + 5.0j)
    Point(z=2.0, r=5.0)
    """
    return Point(float(place.real), float(place.imag))


def meeting(some: Many, others: Many) -> tuple[Places, Flags]:
    """Where the carriers of each pair meet: two places a pair, and which of them there are.

    As `meet`: a touch is one place; carriers that coincide, or are parallel, have none.
    """
    places, there = np.zeros((len(some), 2), dtype=complex), np.zeros((len(some), 2), dtype=bool)
    for first, second, rule in ((False, False, _lines), (False, True, _line_circle), (True, True, _circles)):
        straight = (some.is_arc == first) & (others.is_arc == second)
        places[straight], there[straight] = rule(some[straight], others[straight])
    swapped = some.is_arc & ~others.is_arc
    places[swapped], there[swapped] = _line_circle(others[swapped], some[swapped])
    return places, there


def _lines(a: Many, b: Many) -> tuple[Places, Flags]:
    sine = _cross(a.direction, b.direction)
    cross = np.abs(sine) > ROUNDING / 64
    along = np.divide(_cross(b.start - a.start, b.direction), sine, out=np.zeros_like(sine), where=cross)
    place = a.start + along * a.direction
    return np.stack([place, place], axis=1), np.stack([cross, np.zeros_like(cross)], axis=1)


def _line_circle(line: Many, circle: Many) -> tuple[Places, Flags]:
    out = circle.centre - line.start
    distance = np.abs(_cross(line.direction, out))
    foot = line.start + _dot(line.direction, out) * line.direction
    room = circle.radius - distance
    tolerance = ROUNDING * np.maximum(np.maximum(_size(circle.centre), circle.radius), _size(foot))
    half = np.sqrt(np.maximum(room * (circle.radius + distance), 0.0))
    return _one_or_two(foot, half * line.direction, touch=np.abs(room) <= tolerance, cross=room > tolerance)


def _circles(a: Many, b: Many) -> tuple[Places, Flags]:
    """Heron's product form keeps the half chord exact where the circles nearly touch."""
    swap = a.radius > b.radius
    small, large = (np.where(swap, b.centre, a.centre), np.where(swap, a.centre, b.centre))
    r, R = np.minimum(a.radius, b.radius), np.maximum(a.radius, b.radius)
    step = large - small
    apart = np.abs(step)
    tolerance = ROUNDING * np.maximum(np.maximum(_size(small), r), np.maximum(_size(large), R))
    apart_safe = np.where(apart > tolerance, apart, 1.0)
    outside, inside = apart - R - r, R - r - apart
    meets = (apart > tolerance) & (np.maximum(outside, inside) <= tolerance)
    toward = step / apart_safe
    from_outside, from_inside = meets & (np.abs(outside) <= tolerance), meets & (np.abs(inside) <= tolerance)
    along = ((apart - R) * (apart + R) + r * r) / (2.0 * apart_safe)
    product = (apart + R + r) * (R + r - apart) * (apart - R + r) * (apart + R - r)
    half = np.sqrt(np.maximum(product, 0.0)) / (2.0 * apart_safe)
    along = np.where(from_outside, r, np.where(from_inside, -r, along))
    touch = from_outside | from_inside
    return _one_or_two(np.asarray(small + along * toward), 1j * half * toward, touch=touch, cross=meets & ~touch)


def _one_or_two(foot: Places, step: Places, *, touch: Flags, cross: Flags) -> tuple[Places, Flags]:
    first = np.where(touch, foot, foot - step)
    return np.stack([first, foot + step], axis=1), np.stack([touch | cross, cross], axis=1)


def _size(places: Places) -> Floats:
    return np.maximum(np.abs(places.real), np.abs(places.imag))


def _cross(a: Places, b: Places) -> Floats:
    return np.asarray(a.real * b.imag - a.imag * b.real)


def _dot(a: Places, b: Places) -> Floats:
    return np.asarray(a.real * b.real + a.imag * b.imag)
