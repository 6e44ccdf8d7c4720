"""Areas and volumes of a contour turned about the axis, in closed form.

Every arc is taken as its chord and the circular segment on it. The segment's share is found by Pappus' theorem from
its own small area and moment, so that a shallow arc of large radius (R 100000 mm, 0.001 mm deep) loses no digits.

Integrals run along the direction of travel: a path toward +Z with r > 0 counts positive.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from calc.contour.arc import Arc
from calc.contour.elements import Element
from calc.contour.errors import NotClosed
from calc.contour.points import Point
from calc.contour.tolerance import GAP


@dataclass(frozen=True)
class Moments:
    """Area (mm2) between a path and the axis and its moments (mm3) about the axis and about z = 0, signed."""

    area: float
    about_axis: float
    about_origin: float

    @property
    def centroid(self) -> Point:
        """Centre of the area. Raises ZeroDivisionError for a path that encloses no area with the axis."""
        return Point(self.about_origin / self.area, self.about_axis / self.area)


def plane_area(elements: Iterable[Element]) -> float:
    """Area between the path and the axis, the integral of r dz, mm2: signed, positive toward +Z.

    Of a closed path it is the enclosed area, positive when it is travelled clockwise.

    >>> half_disc = Arc(Point(-3.0, 0.0), Point(3.0, 0.0), Point(0.0, 0.0), "cw")
    >>> round(plane_area([half_disc]), 9)
    14.137166941
    """
    return math.fsum(_moments(element).area for element in elements)


def moments(elements: Iterable[Element]) -> Moments:
    """Area between the path and the axis with its moments, signed as `plane_area`.

    >>> half_disc = Arc(Point(-3.0, 0.0), Point(3.0, 0.0), Point(0.0, 0.0), "cw")
    >>> round(moments([half_disc]).centroid.r, 9)
    1.273239545
    """
    parts = [_moments(element) for element in elements]
    return Moments(
        math.fsum(part.area for part in parts),
        math.fsum(part.about_axis for part in parts),
        math.fsum(part.about_origin for part in parts),
    )


def volume_of_revolution(elements: Iterable[Element]) -> float:
    """Volume between the path turned about the axis and the axis, pi times the integral of r squared dz, mm3.

    Signed, positive toward +Z. By Pappus it is 2 pi times the moment of the area about the axis; of a closed path it is
    the volume of the ring, positive when it is travelled clockwise.

    >>> ball = Arc(Point(-3.0, 0.0), Point(3.0, 0.0), Point(0.0, 0.0), "cw")
    >>> round(volume_of_revolution([ball]) / math.pi, 9)
    36.0
    """
    return math.tau * math.fsum(_moments(element).about_axis for element in elements)


def surface_of_revolution(elements: Iterable[Element]) -> float:
    """Area of the surface that the path makes about the axis, 2 pi times the integral of r ds, mm2.

    What lies beyond the axis (r < 0) counts negative.

    >>> ball = Arc(Point(-3.0, 0.0), Point(3.0, 0.0), Point(0.0, 0.0), "cw")
    >>> round(surface_of_revolution([ball]) / math.pi, 9)
    36.0
    """
    return math.tau * math.fsum(element.length * _path_centroid(element).r for element in elements)


def enclosed_volume(elements: Iterable[Element]) -> float:
    """Volume of the ring that a closed path on one side of the axis makes, mm3. Raises `NotClosed`.

    Pappus: 2 pi times the radius of the centroid times the enclosed area.

    >>> left, right, centre = Point(-1.0, 5.0), Point(1.0, 5.0), Point(0.0, 5.0)
    >>> ring = enclosed_volume([Arc(left, right, centre, "cw"), Arc(right, left, centre, "cw")])
    >>> round(ring / math.pi**2, 9)
    10.0
    """
    return abs(volume_of_revolution(_closed(elements)))


def _closed(elements: Iterable[Element]) -> list[Element]:
    path = list(elements)
    gap = path[0].start.distance_to(path[-1].end)
    if gap > GAP * max(element.size for element in path):
        raise NotClosed(gap)
    return path


def _moments(element: Element) -> Moments:
    chord = _moments_of_chord(element.start, element.end)
    if not isinstance(element, Arc):
        return chord
    area, centre = _segment(element)
    return Moments(chord.area + area, chord.about_axis + area * centre.r, chord.about_origin + area * centre.z)


def _moments_of_chord(start: Point, end: Point) -> Moments:
    dz, r0, r1 = end.z - start.z, start.r, end.r
    return Moments(
        dz * (r0 + r1) / 2.0,
        dz * (r0 * r0 + r0 * r1 + r1 * r1) / 6.0,
        dz * (start.z * (2.0 * r0 + r1) + end.z * (r0 + 2.0 * r1)) / 6.0,
    )


def _segment(arc: Arc) -> tuple[float, Point]:
    """Area (mm2; positive on a clockwise arc) and centroid of the circular segment between an arc and its chord."""
    half, R = arc.angle / 2.0, arc.radius
    area = R * R * _segment_area(half)
    height = R * _segment_moment(half) / _segment_area(half)
    return (-area if arc.sweep > 0.0 else area), _from_chord(arc, height)


def _path_centroid(element: Element) -> Point:
    if not isinstance(element, Arc):
        return element.start.midway_to(element.end)
    half = element.angle / 2.0
    return _from_chord(element, element.radius * _rise(half) / half)


def _from_chord(arc: Arc, height: float) -> Point:
    """The point ``height`` mm from the middle of the chord toward the middle of the arc."""
    to_left = -height if arc.sweep > 0.0 else height
    return arc.start.midway_to(arc.end).moved(arc.tangent_at(arc.length / 2.0).left(), to_left)


_SMALL = 0.5  # rad: below this the closed forms lose digits and the series need few terms


def _segment_area(half: float) -> float:
    """Area of the segment of a circle of radius 1 over the angle 2 ``half``: half - sin half cos half."""
    if half > _SMALL:
        return half - math.sin(half) * math.cos(half)
    return _odd_series(half, lambda n: 2.0 ** (n - 1))


def _segment_moment(half: float) -> float:
    """Moment of that area about its chord: 2/3 sin^3 half - area * cos half, positive toward the arc."""
    if half > _SMALL:
        return 2.0 / 3.0 * math.sin(half) ** 3 - _segment_area(half) * math.cos(half)
    return -_odd_series(half, lambda n: 3.0 / 4.0 + 3.0**n / 12.0 - n)


def _rise(half: float) -> float:
    """Moment of the arc of radius 1 about its chord, halved: sin half - half cos half."""
    if half > _SMALL:
        return math.sin(half) - half * math.cos(half)
    return _odd_series(half, lambda n: n - 1.0)


def _odd_series(x: float, coefficient: Callable[[int], float]) -> float:
    """Sum of c(n) x^n / n! over n = 3, 5, 7 ... with alternating signs, the first positive."""
    return math.fsum((-1.0) ** (n // 2 + 1) * coefficient(n) * x**n / math.factorial(n) for n in range(3, 31, 2))
