"""Distances of many points from many elements at once."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from calc.contour import Arc, Element, Line, Point
from calc.contour.boxes import box_of, grown, overlapping

Floats = NDArray[np.float64]


class Distances:
    """The elements (mm) of a contour as arrays, to be asked how far points are from the nearest of them.

    >>> far = Distances([Line(Point(0.0, 5.0), Point(-9.0, 5.0))])
    >>> far.nearest_at(np.array([-3.0 + 7.0j, 3.0 + 9.0j])).tolist()
    [2.0, 5.0]
    """

    def __init__(self, elements: Sequence[Element], numbers: Sequence[int] | None = None) -> None:
        """Elements, and the numbers that they are known by if those are not their indices."""
        self._elements = elements
        lines = [element for element in elements if isinstance(element, Line)]
        arcs = [element for element in elements if isinstance(element, Arc)]
        known = range(len(elements)) if numbers is None else numbers
        self._indices = np.array(
            [
                number
                for kind in (Line, Arc)
                for number, one in zip(known, elements, strict=True)
                if isinstance(one, kind)
            ]
        )
        self._starts = _complex([line.start for line in lines])
        self._directions = np.array([complex(*line.direction) for line in lines], dtype=complex)
        self._lengths = np.array([line.length for line in lines])
        self._centres = _complex([arc.centre for arc in arcs])
        self._radii = np.array([arc.radius for arc in arcs])
        self._first = _complex([arc.start for arc in arcs])
        self._last = _complex([arc.end for arc in arcs])
        self._signs = np.array([1.0 if arc.turn == "ccw" else -1.0 for arc in arcs])
        self._angles = np.array([arc.angle for arc in arcs])
        self._out = self._first - self._centres

    def nearest_at(self, places: NDArray[np.complex128]) -> Floats:
        """The distance, mm, of each place (z + i r) from the nearest element."""
        return self.nearest_with_index_at(places)[0]

    def nearest_with_index_at(self, places: NDArray[np.complex128]) -> tuple[Floats, NDArray[np.intp]]:
        """The distance, mm, of each place (z + i r) from the nearest element, and that element's index."""
        parts = [self._from_lines(places)] if self._lengths.size else []
        parts += [self._from_arcs(places)] if self._radii.size else []
        every = np.concatenate(parts, axis=1)
        best = every.argmin(axis=1)
        return every[np.arange(len(places)), best], self._indices[best]

    def around(self, places: NDArray[np.complex128]) -> Distances:
        """Those of the elements that can be the nearest of any place within the bounds of these (z + i r).

        >>> lines = [Line(Point(0.0, 5.0), Point(-9.0, 5.0)), Line(Point(-9.0, 5.0), Point(-9.0, 90.0))]
        >>> near = Distances(lines).around(np.array([-8.0 + 40j, -7.0 + 42j]))
        >>> near.nearest_with_index_at(np.array([-8.0 + 41j]))
        (array([1.]), array([1]))
        """
        near = within(self._boxes, places, float(self.nearest_at(places[:1])[0])).tolist()
        return Distances([self._elements[index] for index in near], near)

    @cached_property
    def _boxes(self) -> Floats:
        return np.array([element.bounds() for element in self._elements])

    def _from_lines(self, places: NDArray[np.complex128]) -> Floats:
        turned = (places[..., None] - self._starts) * self._directions.conj()
        beyond = turned.real - np.clip(turned.real, 0.0, self._lengths)
        distance: Floats = np.hypot(beyond, turned.imag)
        return distance

    def _from_arcs(self, places: NDArray[np.complex128]) -> Floats:
        ray = places[..., None] - self._centres
        turned = np.mod(self._signs * np.angle(ray * self._out.conj()), 2.0 * np.pi)
        from_ends = np.minimum(np.abs(places[..., None] - self._first), np.abs(places[..., None] - self._last))
        nearest: Floats = np.where(turned <= self._angles, np.abs(np.abs(ray) - self._radii), from_ends)
        return nearest


def within(boxes: Floats, places: NDArray[np.complex128], off: float = 0.0) -> NDArray[np.intp]:
    """Which boxes (mm) lie no farther from the box around places (z + i r) than its diagonal and `off` (mm) together.

    >>> within(np.array([[9.0, 9.5, 0.0, 1.0], [11.0, 12.0, 0.0, 1.0]]), np.array([0j, 3 + 4j]), 2.0)
    array([0])
    """
    around = box_of(places)
    size = float(np.hypot(around[0, 1] - around[0, 0], around[0, 3] - around[0, 2]))
    return overlapping(grown(around, off + size), boxes)[1]


def _complex(points: Sequence[Point]) -> NDArray[np.complex128]:
    return np.array([complex(point.z, point.r) for point in points], dtype=complex)
