"""Distances of many points from many elements at once."""

from __future__ import annotations

import math
from collections.abc import Sequence
from copy import copy
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from calc.contour import Arc, Element, Line
from calc.contour.boxes import box_of, grown, overlapping

Floats = NDArray[np.float64]

AT_ONCE = 20_000
"""So many distances are worked out at once without a look at which elements are near: more take memory."""

NEIGHBOURS = 256
"""Places that are held at once to the elements around them."""


class Distances:
    """The elements (mm) of a contour as arrays, to be asked how far points are from the nearest of them.

    >>> from calc.contour import Point
    >>> far = Distances([Line(Point(0.0, 5.0), Point(-9.0, 5.0))])
    >>> far.nearest_at(np.array([-3.0 + 7.0j, 3.0 + 9.0j])).tolist()
    [2.0, 5.0]
    """

    def __init__(self, elements: Sequence[Element]) -> None:
        order = sorted(range(len(elements)), key=lambda at: isinstance(elements[at], Arc))
        self._elements = [elements[at] for at in order]
        self._indices = np.array(order)
        self._lines = _rows([_of_line(element) for element in elements if isinstance(element, Line)], 3)
        self._arcs = _rows([_of_arc(element) for element in elements if isinstance(element, Arc)], 6)

    @cached_property
    def _boxes(self) -> Floats:
        """The bounds of the elements, for those who ask so much that only elements near by are looked at."""
        return np.array([element.bounds() for element in self._elements])

    def nearest_at(self, places: NDArray[np.complex128]) -> Floats:
        """The distance, mm, of each place (z + i r) from the nearest element."""
        return self.nearest_with_index_at(places)[0]

    def nearest_with_index_at(self, places: NDArray[np.complex128]) -> tuple[Floats, NDArray[np.intp]]:
        """The distance, mm, of each place (z + i r) from the nearest element, and that element's index.

        Places that follow each other had better lie close together: many are held to the elements near by alone.
        """
        if len(places) * len(self._indices) <= AT_ONCE:
            return self._nearest(places)
        parts = np.array_split(places, math.ceil(len(places) / NEIGHBOURS))
        found = [self.around(part)._nearest(part) for part in parts]
        return np.concatenate([distance for distance, _ in found]), np.concatenate([index for _, index in found])

    def _nearest(self, places: NDArray[np.complex128]) -> tuple[Floats, NDArray[np.intp]]:
        parts = [self._from_lines(places)] if self._lines.size else []
        parts += [self._from_arcs(places)] if self._arcs.size else []
        every = np.concatenate(parts, axis=1)
        best = every.argmin(axis=1)
        return every[np.arange(len(places)), best], self._indices[best]

    def around(self, places: NDArray[np.complex128]) -> Distances:
        """Those of the elements that can be the nearest of any place within the bounds of these (z + i r).

        >>> from calc.contour import Point
        >>> lines = [Line(Point(0.0, 5.0), Point(-9.0, 5.0)), Line(Point(-9.0, 5.0), Point(-9.0, 90.0))]
        >>> near = Distances(lines).around(np.array([-8.0 + 40j, -7.0 + 42j]))
        >>> near.nearest_with_index_at(np.array([-8.0 + 41j]))
        (array([1.]), array([1]))
        """
        here = within(self._boxes, places, float(self._nearest(places[:1])[0][0]))
        near, lines = copy(self), self._lines.shape[1]
        near._indices, near._boxes = self._indices[here], self._boxes[here]
        near._lines, near._arcs = self._lines[:, here[here < lines]], self._arcs[:, here[here >= lines] - lines]
        return near

    def _from_lines(self, places: NDArray[np.complex128]) -> Floats:
        starts, directions, lengths = self._lines
        turned = (places[..., None] - starts) * directions.conj()
        beyond = turned.real - np.minimum(np.maximum(turned.real, 0.0), lengths.real)
        distance: Floats = np.hypot(beyond, turned.imag)
        return distance

    def _from_arcs(self, places: NDArray[np.complex128]) -> Floats:
        centres, first, last, radii, signs, angles = self._arcs
        ray = places[..., None] - centres
        turned = np.mod(signs.real * np.angle(ray * (first - centres).conj()), 2.0 * np.pi)
        from_ends = np.minimum(np.abs(places[..., None] - first), np.abs(places[..., None] - last))
        nearest: Floats = np.where(turned <= angles.real, np.abs(np.abs(ray) - radii.real), from_ends)
        return nearest


def within(boxes: Floats, places: NDArray[np.complex128], off: float) -> NDArray[np.intp]:
    """Which boxes (mm) lie no farther from the box around places (z + i r) than its diagonal and `off` (mm) together.

    >>> within(np.array([[9.0, 9.5, 0.0, 1.0], [11.0, 12.0, 0.0, 1.0]]), np.array([0j, 3 + 4j]), 2.0)
    array([0])
    """
    around = box_of(places)
    size = float(np.hypot(around[0, 1] - around[0, 0], around[0, 3] - around[0, 2]))
    return overlapping(grown(around, off + size), boxes)[1]


def _rows(columns: Sequence[tuple[complex, ...]], count: int) -> NDArray[np.complex128]:
    """An array of a row for each of `count` values, of as many columns as there are elements."""
    return np.ascontiguousarray(np.array(columns, dtype=complex).reshape(-1, count).T)


def _of_line(line: Line) -> tuple[complex, complex, float]:
    return complex(*line.start), complex(*line.direction), line.length


def _of_arc(arc: Arc) -> tuple[complex, complex, complex, float, float, float]:
    sign = 1.0 if arc.turn == "ccw" else -1.0
    return complex(*arc.centre), complex(*arc.start), complex(*arc.end), arc.radius, sign, arc.angle
