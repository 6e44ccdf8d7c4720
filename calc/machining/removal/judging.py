"""The part against the print: what is left on it and what was cut too deep, the worst place beside each element."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from calc.contour import Chain, Element, Point
from calc.machining.removal.polygons import FINE, Area, Places, disc, parts_of, polygon, valid
from calc.machining.removal.region import ON_AXIS, Regions
from calc.tool.nose_path.distances import Distances

END_SHARE = 1.5
"""Around the ends of a contour that are off the axis so many nose radii are not judged: the tool comes and goes."""

BEYOND = 1e-6
"""mm: a place that is as near to an end of the contour as to the contour lies beyond it."""

THIN = 4e-4
"""mm: half of how thick a rest must be to count."""

LEFT_FROM = 2e-3
"""mm: what is left counts from here on."""

DEEP_FROM = 9e-4
"""mm: what is cut too deep counts from here on; chords of arcs make half of it at most."""

DENSE = 32
"""Places along each edge of what is left, among which the worst is looked for; then `DENSE` about the worst."""

ABOUT = np.linspace(-1.0, 1.0, 2 * DENSE + 1)

TIED = 1e-6
"""mm: depths that differ by less than this tie, and the first along the contour is named."""


class Nose(NamedTuple):
    """The nose that came last over the contour: its radius (mm) and its centre's path."""

    radius: float
    path: Sequence[Element]


@dataclass(frozen=True, slots=True)
class Place:
    """Where too much or too little is left beside the element `of` of the contour: the worst spot, its distance (mm).

    `corner` is the distance from there to the nearest joint of the contour: in a sharp inside corner, what the nose
    leaves measured to the corner itself.
    """

    of: int
    spot: Point
    depth: float
    corner: float


@dataclass(frozen=True)
class Judged:
    """What is `rest` of the stock held to the print, each answer worked out where somebody asks for it.

    Depths are square to the nearest wall; `path` is that of the centre of the nose (mm) that came last. Source: largest
    distance from the contour over the outline of what is left.
    """

    work: Regions
    rest: Area
    chain: Chain
    nose: float
    path: Sequence[Element] = ()

    @cached_property
    def left(self) -> tuple[Place, ...]:
        """The worst place beside each element on which something is left."""
        return tuple(self._worst.places(self.over, LEFT_FROM))

    @cached_property
    def too_deep(self) -> tuple[Place, ...]:
        """The worst place beside each element that was cut too deep."""
        return tuple(self._worst.places(self.under, DEEP_FROM))

    @cached_property
    def over(self) -> Area:
        """All that is left on the print."""
        return self._judged(self.rest.intersection(self.work.to_remove))

    @cached_property
    def under(self) -> Area:
        """All of the print that is cut away."""
        return self._judged(self.work.finished.difference(self.rest))

    @cached_property
    def _worst(self) -> _Worst:
        return _Worst(self.chain, self._ends, Nose(self.nose, self.path))

    @property
    def _ends(self) -> list[Point]:
        return [end for end in (self.chain.start, self.chain.end) if end.r > ON_AXIS]

    def _judged(self, area: Area) -> Area:
        """What counts of an area: not slivers, nor what is around the ends of the contour."""
        area = valid(area)
        thick = area.buffer(-THIN, join_style="mitre")
        if thick.is_empty:
            return thick
        for end in self._ends:
            area = area.difference(polygon(disc(complex(*end), END_SHARE * self.nose)))
        return without_slivers(area)


def worst_of(places: Sequence[Place]) -> Place | None:
    """The worst place, of several that tie the first along the contour; None of none.

    >>> a, b = Place(0, Point(0.0, 2.0), 0.1, 0.2), Place(1, Point(0.0, 2.0), 0.1 + 1e-12, 0.2)
    >>> worst_of([a, b]).of
    0
    """
    most = max((place.depth for place in places), default=0.0)
    return next((place for place in places if place.depth > most - TIED), None)


def without_slivers(area: Area) -> Area:
    """The area without what is thinner than chords for arcs may leave beside a surface."""
    return area if area.is_empty else area.buffer(-THIN, join_style="mitre").buffer(THIN, join_style="mitre")


class _Edge(NamedTuple):
    """An edge of what differs, and the share of it that is looked at."""

    start: complex
    step: complex
    share: float


class _Worst:
    def __init__(self, chain: Chain, ends: Sequence[Point], nose: Nose) -> None:
        self.distances = Distances(chain.elements)
        self.ends = np.array([complex(*end) for end in ends])
        self.joints = np.array([complex(*element.start) for element in chain] + [complex(*chain.end)])
        self.nose = nose
        self.path = Distances(nose.path) if nose.path else None

    def places(self, area: Area, least: float) -> Iterator[Place]:
        """Element by element, where the area is farthest off the print by `least` (mm) or more."""
        worst: dict[int, Place] = {}
        for part in parts_of(area):
            for of, spot, depth in self._worst_of(part):
                if depth > (worst[of].depth + TIED if of in worst else least):
                    corner = float(np.abs(self.joints - spot).min())
                    worst[of] = Place(of, Point(spot.real, spot.imag), depth, corner)
        return iter(sorted(worst.values(), key=lambda place: place.of))

    def _worst_of(self, part: Area) -> Iterator[tuple[int, complex, float]]:
        """Beside each element the worst place on the outline of a part: sampled along its edges, then refined."""
        rows = np.asarray(part.exterior.coords)
        ring = rows[:, 0] + 1j * rows[:, 1]
        starts, steps, near = ring[:-1], np.diff(ring), self.distances.around(ring)
        share = np.linspace(0.0, 1.0, DENSE, endpoint=False)
        depth, of = self._off(np.asarray(starts[:, None] + steps[:, None] * share, dtype=complex), near)
        for element in np.unique(of):
            here = np.where(of == element, depth, -1.0)
            edge, number = np.unravel_index(int(here.argmax()), here.shape)
            place = _Edge(starts[edge], steps[edge], float(share[number]))
            yield (int(element), *self._refined(place, int(element), near))

    def _refined(self, edge: _Edge, element: int, near: Distances) -> tuple[complex, float]:
        width, share = 1.0 / DENSE, edge.share
        for _ in range(4):
            shares = np.minimum(np.maximum(share + width * ABOUT, 0.0), 1.0)
            depth, of = self._off(np.asarray(edge.start + edge.step * shares, dtype=complex), near)
            share = float(shares[int(np.where(of == element, depth, -1.0).argmax())])
            width /= DENSE
        spot = self._on_the_nose(complex(edge.start + edge.step * share))
        return spot, float(self._off(np.array([spot]), self.distances)[0][0])

    def _off(self, places: Places, near: Distances) -> tuple[NDArray[np.float64], NDArray[np.intp]]:
        """How far places are off the print, 0 beyond its ends, and the element of those `near` that is nearest."""
        flat = places.ravel()
        depth, of = near.nearest_with_index_at(flat)
        if len(self.ends):
            from_end = np.abs(flat[:, None] - self.ends).min(axis=1)
            depth = np.where(from_end <= depth + BEYOND, 0.0, depth)
        return depth.reshape(places.shape), of.reshape(places.shape)

    def _on_the_nose(self, spot: complex) -> complex:
        """A spot on a chord of what the nose has left, moved onto its arc."""
        if self.path is None:
            return spot
        away, of = self.path.nearest_with_index_at(np.array([spot]))
        if abs(float(away[0]) - self.nose.radius) > 2.0 * FINE:
            return spot
        near = complex(*self.nose.path[int(of[0])].nearest(Point(spot.real, spot.imag)))
        return near + (spot - near) / abs(spot - near) * self.nose.radius
