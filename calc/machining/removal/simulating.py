"""Pass by pass: what the tool's true outline takes from the stock, how thick the chip is, what is left and gouged."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from calc.contour import Chain, Element, Point
from calc.machining.removal.polygons import Area, disc, only_areas, parts_of, polygon, united, volume
from calc.machining.removal.region import ON_AXIS, Work
from calc.machining.removal.sweep import Outline, folded, swept, swept_holder
from calc.tool.nose_path.distances import Distances

SLIVER = 1e-6
"""mm2: areas below this are rounding."""

GRAZED = 1e-4
"""mm2: a tool that runs along a surface and takes no more than this off it has hit nothing."""

END_SHARE = 1.5
"""Around the ends of a contour that are off the axis so many nose radii are not judged: the tool comes and goes."""

BEYOND = 1e-6
"""mm: a place that is as near to an end of the contour as to the contour lies beyond it."""

STRETCH = 8.0
"""mm: a chip is told for every stretch of at most this length."""

THIN = 4e-4
"""mm: half of how thick a rest must be to count."""

SHAVED = 2e-3
"""mm: a gouge or a rest no thicker than this is what polygons for arcs may make."""


@dataclass(frozen=True, slots=True)
class Move:
    """A stretch of the nose centre's way: contiguous elements, fed at `feed` (mm/rev), or rapid with None."""

    elements: tuple[Element, ...]
    feed: float | None = None


@dataclass(frozen=True, slots=True)
class ToolPass:
    """A pass: its name, its moves in order, each starting where the one before ends."""

    name: str
    moves: tuple[Move, ...]

    @property
    def elements(self) -> list[Element]:
        """All elements of the way."""
        return [element for move in self.moves for element in move.elements]


@dataclass(frozen=True, slots=True)
class Chip:
    """What one stretch of a pass takes: at `place` (mm of feed from its start), width along the normal, and section.

    `width` (mm) is the mean over the stretch of the area taken per length of the nose centre's way;
    `section` (mm2) is that times the feed.
    """

    place: float
    length: float
    width: float
    section: float


@dataclass(frozen=True)
class Removal:
    """What one pass did: the area left of the stock, what it took (mm2, mm3), its chips, what it should not have hit.

    `rapid` is what a rapid move ran into, `holder` what the holder did, both areas (mm2), 0 as they should be.
    """

    name: str
    left: Area
    area: float
    volume: float
    chips: tuple[Chip, ...]
    gouged: float
    rapid: float
    holder: float
    tool_pass: ToolPass

    @property
    def thickest(self) -> float:
        """The greatest mean width of the chip, mm."""
        return max((chip.width for chip in self.chips), default=0.0)


@dataclass(frozen=True, slots=True)
class Place:
    """Where too much or too little is left beside the element `of` of the print: the worst spot, its distance (mm)."""

    of: int
    spot: Point
    depth: float


@dataclass(frozen=True)
class Simulation:
    """All passes, and what differs from the print in the end: what stands proud and what was gouged.

    `proud` and `gouged` tell the worst place beside each element that has one; `over` and `under` are the whole areas.
    """

    work: Work
    removals: tuple[Removal, ...]
    proud: tuple[Place, ...] = field(default=())
    gouged: tuple[Place, ...] = field(default=())
    over: Area = None
    under: Area = None

    @property
    def left(self) -> Area:
        """What is left of the stock."""
        return self.removals[-1].left if self.removals else self.work.stock


def simulate(
    work: Work, outline: Outline, passes: Sequence[ToolPass], chain: Chain, *, fold: bool = True
) -> Simulation:
    """Take the passes off the stock with the tool's outline, and hold what is left to the print (`chain`).

    With `fold` what lies beyond the axis cuts on this side too. Within 0.001 mm: arcs are chords of at most a quarter
    of that from them.
    """
    left = work.stock
    removals = []
    for each in passes:
        removal = _take(left, work, outline, each, fold)
        left = removal.left
        removals.append(removal)
    distances = Distances(chain.elements)
    over, under = only_areas(left.intersection(work.to_remove)), only_areas(work.finished.difference(left))
    ends = [end for end in (chain.start, chain.end) if end.r > ON_AXIS]
    for end in ends:
        aside = polygon(disc(complex(*end), END_SHARE * outline.nose))
        over, under = over.difference(aside), under.difference(aside)
    over, under = _without_slivers(over), _without_slivers(under)
    proud, gouged = (tuple(_places(area, distances, ends)) for area in (over, under))
    return Simulation(work, tuple(removals), proud, gouged, over, under)


def _take(left: Area, work: Work, outline: Outline, each: ToolPass, fold: bool) -> Removal:
    chips: list[Chip] = []
    rapid, rest, place = 0.0, left, 0.0
    for move in each.moves:
        stretches = list(_stretches(move))
        here = [folded(swept(outline, [part])) if fold else swept(outline, [part]) for part in stretches]
        whole = united(here)
        if move.feed is None:
            rapid += _hit(rest, whole)
        else:
            chips += _chips(only_areas(rest.intersection(whole)), stretches, here, move.feed, place)
            place += sum(element.length for element in move.elements)
        rest = rest.difference(whole)
    rest = only_areas(rest)
    taken = left.difference(rest) if left.intersects(work.finished) else left
    holder = _hit(rest, folded(swept_holder(outline, each.elements))) if outline.holders else 0.0
    return Removal(
        each.name,
        rest,
        left.area - rest.area,
        volume(left) - volume(rest),
        tuple(chips),
        _hit(work.finished, taken),
        rapid,
        holder,
        each,
    )


def _hit(area: Area, other: Area) -> float:
    """The area (mm2) that two have in common, but for what chords of arcs and a tool that grazes may make."""
    hit = area.intersection(other)
    return float(_without_slivers(hit).area) if hit.area > GRAZED else 0.0


def _stretches(move: Move) -> Iterator[Element]:
    """The elements of a move, long ones in parts if they are fed: for each part there is a chip."""
    for element in move.elements:
        count = math.ceil(element.length / STRETCH) if move.feed is not None else 1
        cuts = [element.length * index / count for index in range(1, count)]
        yield from element.split(*cuts)


def _chips(
    around: Area, stretches: Sequence[Element], swept_over: Sequence[Area], feed: float, place: float
) -> Iterator[Chip]:
    """The chips of a move, taken stretch by stretch from what it meets."""
    for element, here in zip(stretches, swept_over, strict=True):
        rest = around.difference(here) if around.area > SLIVER else around
        width = (around.area - rest.area) / element.length
        yield Chip(place, element.length, width, width * feed)
        around, place = rest, place + element.length


def _without_slivers(area: Area) -> Area:
    """The area without what is thinner than chords for arcs may leave beside a surface."""
    return area.buffer(-THIN, join_style="mitre").buffer(THIN, join_style="mitre")


def _places(area: Area, distances: Distances, ends: Sequence[Point]) -> Iterator[Place]:
    """Element by element, where the area is farthest off the print by more than rounding; none beyond its ends."""
    worst: dict[int, Place] = {}
    for part in parts_of(area):
        if part.area <= SLIVER:
            continue
        points = [Point(float(z), float(r)) for z, r in part.exterior.coords]
        away, nearest = distances.nearest_with_index(points)
        for end in ends:
            from_end = np.array([point.distance_to(end) for point in points])
            away[from_end <= away + BEYOND] = 0.0
        for point, depth, of in zip(points, away.tolist(), nearest.tolist(), strict=True):
            if depth > max(SHAVED, worst[of].depth if of in worst else 0.0):
                worst[of] = Place(of, point, depth)
    return iter(sorted(worst.values(), key=lambda place: place.of))
