"""Roughing level by level: straight passes along Z or along X, each as far as the nose may go."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Literal, NamedTuple

import numpy as np

from calc.contour import Chain, Element, Line, Point, Side, Vector
from calc.cutting.nouns import Split
from calc.language.working import Formula
from calc.machining.job import Where
from calc.machining.passes import depths
from calc.machining.removal.polygons import Area, disc, polygon
from calc.machining.removal.region import led_on, tool_side
from calc.machining.removal.stock import Stock
from calc.machining.removal.sweep import Outline, round_nose, slot, swept
from calc.machining.roughing.formulas import level_along_x, level_in_bore, level_outside, run_in_start

Axis = Literal["z", "x"]

SLIVER = 1e-4
"""mm2: less than this is nothing to take."""

WORTH = 0.02
"""A stretch that takes less than this share of the depth squared is left to the pass along the allowances."""

TOUCH = 1e-6
"""mm: levels keep so far off a surface along which they run."""

THINNEST_KEPT = TOUCH / 2.0
"""mm: the rectangle of one allowance is so thin: a level that leaves nothing still lies above it."""

MOST_STEPS = 60
"""How often a path is looked at from nearer for where it begins to cut."""

TOUCHED = 1e-3
"""mm: a nose that is as near as this to what it will take begins to cut."""

NEAR, NEARBY = 1e-4, 1e-2
"""mm: a line begins at a flank that is as near; so far beside its start the flank's direction is taken."""

BESIDE = 2e-3
"""mm: a line so far off a flank is clear of it though that is made of chords."""

FARTHEST = 500.0
"""mm: no flank is followed farther."""

SHORT = 1e-3
"""mm: a stretch of a level shorter than this is left out."""


@dataclass(frozen=True, slots=True)
class Keeping:
    """What is kept for finishing (mm): along Z and, of a radius, along X, on every side of the contour."""

    along_z: float = 0.0
    along_x: float = 0.0

    @property
    def corners(self) -> tuple[Point, ...]:
        """The rectangle that keeps both, counter-clockwise; a point when nothing is kept."""
        if not (self.along_z or self.along_x):
            return (Point(0.0, 0.0),)
        z, x = max(self.along_z, THINNEST_KEPT), max(self.along_x, THINNEST_KEPT)
        return (Point(-z, -x), Point(z, -x), Point(z, x), Point(-z, x))


@dataclass(frozen=True, slots=True)
class Ground:
    """Where the nose centre may not be (an area), and what there is to take down to the allowances, for a nose (mm)."""

    forbidden: Area
    to_take: Stock
    nose: float


def ground_of(to_take: Stock, reach: float, chain: Chain, side: Side, nose: float, keeping: Keeping) -> Ground:
    """The ground for roughing a contour with a nose (mm) that keeps the allowances; `reach` (mm) is how far all goes.

    >>> from calc.machining.removal.region import Bar, work_of
    >>> from calc.machining.removal.stock import stock_of
    >>> turned = Chain((Line(Point(0.0, 6.0), Point(-3.0, 6.0)),))
    >>> work = work_of(Bar(10.0, 0.0, -8.0).area(), turned, "right", 0.8)
    >>> round(ground_of(stock_of(work.to_remove), 10.0, turned, "right", 0.8, Keeping()).to_take.area, 6)
    15.2
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    beyond = tool_side(chain, side, 4.0 * reach)
    near = swept(Outline(keeping.corners, nose), list(led_on(chain, side, reach + nose)))
    whole = shapely.box(*(sign * 8.0 * (reach + nose) for sign in (-1.0, -1.0, 1.0, 1.0)))
    return Ground(whole.difference(beyond).union(near), to_take, nose)


def level_depths(ground: Ground, axis: Axis, most: float, split: Split) -> list[float]:
    """How deep (mm) each level lies below the outside of what is to take, none taking more than `most` (mm).

    Raises `OutOfRange` for too many.
    """
    return depths(_thickness(ground, axis), most, split, "for roughing")


class Level(NamedTuple):
    """The stretches that the nose centre goes on one level, in order, and what is left to take after them."""

    lines: list[Line]
    left: Stock


def levels(ground: Ground, axis: Axis, where: Where, steps: Sequence[float], before: float) -> Iterator[Level]:
    """The levels on which there is anything to take, from the outside of that inward.

    Stretches that would cut nothing are left out. `steps` (mm) is how deep each level lies, `before` (mm) how far off
    the stock a stretch begins that is open to where the tool comes from.
    """
    left = ground.to_take
    for depth, level in zip(_each(steps), _across(ground, axis, where, steps, before), strict=True):
        lines = []
        for part in _straight(level.difference(ground.forbidden)):
            cut = slot(round_nose(ground.nose), part)
            common = left.common_at(cut)
            taken = list(common.values())
            if sum(each.area for each in taken) > WORTH * depth * depth:
                inward = where != "face" or axis == "z"
                line = part if inward else _from_a_hole(part, left, taken, Reach(ground.nose, before))
                lines.append(_to_where_it_cuts(line, taken, ground.nose))
                left = left.less(cut, at=common)
        if lines:
            yield Level(lines, left)


def stretch_count(ground: Ground, axis: Axis, where: Where, steps: Sequence[float]) -> int:
    """About how many stretches all levels have: of what there is to take, those in the middle of each level.

    >>> import shapely
    >>> from calc.machining.removal.stock import stock_of
    >>> two = shapely.union(shapely.box(0.0, 5.0, 1.0, 9.0), shapely.box(2.0, 7.0, 3.0, 9.0))
    >>> stretch_count(Ground(shapely.Polygon(), stock_of(two), 0.4), "z", "outside", [1.0, 2.0, 3.0, 4.0])
    6
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    z_low, r_low, z_high, r_high = ground.to_take.bounds
    middles = [(above + below) / 2.0 for above, below in pairwise([0.0, *steps])]
    if axis == "z":
        rows = [r_low + middle if where == "bore" else r_high - middle for middle in middles]
        lines = [[(z_low, r), (z_high, r)] for r in rows]
    else:
        lines = [[(z_high - middle, r_low), (z_high - middle, r_high)] for middle in middles]
    common = shapely.intersection(shapely.linestrings(lines), ground.to_take.whole)
    return int(shapely.get_num_geometries(common[~shapely.is_empty(common)]).sum())


def _thickness(ground: Ground, axis: Axis) -> float:
    z_low, r_low, z_high, r_high = ground.to_take.bounds
    return r_high - r_low if axis == "z" else z_high - z_low


def _each(steps: Sequence[float]) -> list[float]:
    """How much (mm) each level takes."""
    return [deep - above for above, deep in pairwise([0.0, *steps])]


def _across(ground: Ground, axis: Axis, where: Where, steps: Sequence[float], before: float) -> Iterator[Area]:
    """The line of each level from where the tool comes; the working shows how the first one is found."""
    import shapely  # noqa: PLC0415 - loaded on first use

    z_low, r_low, z_high, r_high = ground.to_take.bounds
    nose = ground.nose
    if axis == "z":
        start, off = run_in_start.at("along Z")(z_high, before, nose), -TOUCH if where == "bore" else TOUCH
        lies, surface = (level_in_bore, r_low) if where == "bore" else (level_outside, r_high)
        for place in _places(lies, surface, steps, nose):
            yield shapely.LineString([(start, place + off), (z_low - nose, place + off)])
        return
    start = run_in_start.at("along X")(r_high, before, nose)
    for place in _places(level_along_x, z_high, steps, nose):
        ends = [(place + TOUCH, start), (place + TOUCH, min(r_low, 0.0))]
        yield shapely.LineString(ends[::-1] if where == "bore" else ends)


def _places(lies: Formula[float, float, float], surface: float, steps: Sequence[float], nose: float) -> Iterator[float]:
    """Where the nose's centre goes on each level below a surface (mm)."""
    for number, step in enumerate(steps):
        yield (lies.function if number else lies)(surface, step, nose)


def _straight(parts: Area) -> list[Line]:
    lines = (part for part in getattr(parts, "geoms", [parts]) if part.length > SHORT)
    return [Line(Point(*part.coords[0]), Point(*part.coords[-1])) for part in lines]


def flank_at(ground: Ground, line: Line, away: Vector) -> Line | None:
    """The line up the flank that a level's line begins at, as far as it is clear of it; None where there is none.

    `away` (unit) is off the surface.

    >>> import shapely
    >>> from calc.machining.removal.stock import stock_of
    >>> bank = Ground(shapely.Polygon([(0.0, 0.0), (0.0, 9.0), (-9.0, 0.0)]), stock_of(shapely.box(-9, 0, 0, 9)), 0.4)
    >>> flank = flank_at(bank, Line(Point(-5.0, 4.0), Point(-9.0, 4.0)), Vector(0.0, 1.0))
    >>> round(flank.direction.z, 6), round(flank.direction.r, 6)
    (0.707107, 0.707107)
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    edge, start = ground.forbidden.boundary, line.start
    if shapely.distance(edge, shapely.Point(start)) > NEAR:
        return None
    along = shapely.line_locate_point(edge, shapely.Point(start))
    beside = [shapely.line_interpolate_point(edge, along + step) for step in (-NEARBY, NEARBY)]
    up = max((start.to(Point(place.x, place.y)) for place in beside), key=lambda each: -each.dot(line.direction))
    length = math.hypot(*up)
    if length <= NEAR or up.dot(line.direction) >= 0.0:
        return None
    whole = Line(start, start.moved(up, FARTHEST / length))
    shifted = whole.shifted(away.z * BESIDE, away.r * BESIDE)
    inside = ground.forbidden.intersection(shapely.LineString([shifted.start, shifted.end]))
    free = whole.length if inside.is_empty else float(shapely.distance(inside, shapely.Point(shifted.start)))
    return whole.between(0.0, free) if free > NEARBY else None


def _to_where_it_cuts(line: Line, taken: list[Area], nose: float) -> Line:
    """The line ended one nose behind the last place where there is anything to take."""
    import shapely  # noqa: PLC0415 - loaded on first use

    places = shapely.get_coordinates(taken) - (line.start.z, line.start.r)
    last = float((places @ (line.direction.z, line.direction.r)).max())
    return line.between(0.0, last + nose) if last + nose < line.length else line


class Reach(NamedTuple):
    """A nose and how far off the stock it begins (mm)."""

    nose: float
    before: float


def _from_a_hole(line: Line, left: Stock, taken: list[Area], reach: Reach) -> Line:
    """The line outward where the nose is free at its inner end, as in a hole that holds it; else the line itself."""
    nose = reach.nose
    if left.meets(polygon(disc(complex(*line.end), nose + reach.before))):
        return line
    back = line.reversed()
    return back.between(max(first_touch(back, taken, nose) - reach.before, 0.0), back.length)


def first_touch(path: Element, taken: Sequence[Area], nose: float) -> float:
    """How far (mm) along a path a nose (mm) first touches the areas, found from the path's start on.

    A step as long as the gap cannot lead past the place.

    >>> import shapely
    >>> round(first_touch(Line(Point(0.0, 0.0), Point(9.0, 0.0)), [shapely.box(5.0, 0.0, 6.0, 1.0)], 2.0), 2)
    3.0
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    areas: Any = np.array(taken, dtype=object)
    along = 0.0
    for _ in range(MOST_STEPS):
        gap = min(shapely.distance(areas, shapely.points(path.point_at(along))).tolist()) - nose
        if gap <= TOUCHED or along + gap >= path.length:
            break
        along += gap
    return along
