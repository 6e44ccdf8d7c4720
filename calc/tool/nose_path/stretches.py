"""Which stretches of the raw way the nose centre can stand on: nowhere nearer to the contour than its radius."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from calc.contour import Chain, Circle, Element, Line, Point, Straight, Vector, meet
from calc.tool.nose_path.distances import Distances
from calc.tool.nose_path.raw import Raw

NEAR = 1e-9
"""Cuts nearer than this, as a share of the contour's size, are one."""

CLEAR = 1e-10
"""By how much, as a share of the contour's size, a place may be too near and still count as clear."""

AXIS = Straight(Point(0.0, 0.0), Vector(1.0, 0.0))


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of the raw piece with index `piece` that the nose centre can stand on, from `start` to `end`."""

    piece: int
    raw: Raw
    start: Point
    end: Point

    @property
    def element(self) -> Element:
        """The stretch as an element."""
        whole = self.raw.element
        if (self.start, self.end) == (whole.start, whole.end):
            return whole
        return whole.with_ends(self.start, self.end)


def clear_stretches(
    raws: Sequence[Raw], behind: Sequence[Raw], chain: Chain, nose: float, distances: Distances
) -> list[Stretch]:
    """The stretches of the raw way (in order of travel) that keep the nose's radius (mm) from the whole contour.

    `behind` is the raw way on the other side: a contour that comes back may be met from behind.

    On a part that turns, a place beyond the axis is nearer to the far wall than to the contour, so it is not clear
    either, unless the contour itself runs beyond the axis.
    """
    size = max(chain.bounds.size, nose)
    cuts = _cuts(raws, behind, chain, nose, NEAR * size)
    parts = [part for index in range(len(raws)) for part in _parts(index, raws[index], cuts[index], NEAR * size)]
    if not parts:
        return []
    middles = [_middle(part) for part in parts]
    clear = distances.nearest(middles) >= nose - CLEAR * size
    if chain.bounds.r_min >= -NEAR * size:
        clear &= np.array([middle.r >= -CLEAR * size for middle in middles])
    return _merged([part for part, is_clear in zip(parts, clear, strict=True) if is_clear])


def _middle(part: Stretch) -> Point:
    element = part.element
    return element.point_at(element.length / 2.0)


def _merged(parts: list[Stretch]) -> list[Stretch]:
    """Neighbours on one raw piece become one stretch."""
    merged: list[Stretch] = []
    for part in parts:
        last = merged[-1] if merged else None
        if last is not None and last.piece == part.piece and last.end == part.start:
            merged[-1] = Stretch(part.piece, part.raw, last.start, part.end)
        else:
            merged.append(part)
    return merged


def _cuts(raws: Sequence[Raw], behind: Sequence[Raw], chain: Chain, nose: float, near: float) -> list[list[Point]]:
    """For each raw piece the points at which it meets others, the axis, or comes near to an end of the contour."""
    everything = [*raws, *behind]
    found_on: list[list[Point]] = [[] for _ in everything]
    for i, j in _close_pairs(everything, len(raws), near):
        for point in shared_points(everything[i].element, everything[j].element, near):
            found_on[i].append(point)
            found_on[j].append(point)
    cuts = found_on[: len(raws)]
    borders: list[Straight | Circle] = [AXIS]
    if not chain.is_closed:
        borders += [Circle(chain.start, nose), Circle(chain.end, nose)]
    for raw, found in zip(raws, cuts, strict=True):
        for border in borders:
            found += [point for point in meet(raw.element.carrier, border) if _spans(raw.element, point, near)]
    return cuts


def _close_pairs(raws: Sequence[Raw], first: int, near: float) -> list[tuple[int, int]]:
    """The pairs of pieces, one of the `first` ones among them, whose bounds overlap, but for neighbours in one line."""
    boxes = np.array([raw.element.bounds() for raw in raws])
    low, high = boxes[:, [0, 2]] - near, boxes[:, [1, 3]]
    meets = (low[:, None, :] <= high[None, :, :]).all(-1)
    pairs = np.argwhere(np.triu(meets & meets.T, 1)[:first])
    return [(i, j) for i, j in pairs.tolist() if not (j == i + 1 and _goes_on(raws[i], raws[j], near))]


def _goes_on(a: Raw, b: Raw, near: float) -> bool:
    """Whether two neighbours meet in their joint alone: one of them a line, joined smoothly."""
    before, after = a.element, b.element
    if before.end.distance_to(after.start) > near or not (isinstance(before, Line) or isinstance(after, Line)):
        return False
    return (
        before.tangent_at(before.length).dot(after.tangent_at(0.0)) > 1.0 - 1e-12
        and max(abs(before.sweep), abs(after.sweep)) < 3.0
    )


def shared_points(a: Element, b: Element, near: float) -> list[Point]:
    """Where two elements meet; of two that lie on each other the ends. `near` (mm) is what counts as meeting.

    >>> shared_points(Line(Point(0.0, 0.0), Point(4.0, 0.0)), Line(Point(1.0, 0.0), Point(9.0, 0.0)), 1e-9)
    [Point(z=1.0, r=0.0), Point(z=4.0, r=0.0)]
    """
    met = meet(a.carrier, b.carrier)
    if met:
        return [point for point in met if _spans(a, point, near) and _spans(b, point, near)]
    ends = [(point, a) for point in (b.start, b.end)] + [(point, b) for point in (a.start, a.end)]
    return [point for point, other in ends if other.distance_to(point) <= near]


def _spans(element: Element, point: Point, near: float) -> bool:
    return -near <= element.locate(point) <= element.length + near


def _parts(index: int, raw: Raw, cuts: list[Point], near: float) -> list[Stretch]:
    """The piece cut at the points; cuts at its very ends, or where there is one already, are none."""
    element = raw.element
    if element.length <= near:
        return []
    placed = sorted((element.locate(point), point) for point in cuts)
    kept: list[tuple[float, Point]] = [(0.0, element.start)]
    for s, point in placed:
        if s - kept[-1][0] > near and element.length - s > near:
            kept.append((s, point))
    kept.append((element.length, element.end))
    return [Stretch(index, raw, a[1], b[1]) for a, b in pairwise(kept)]
