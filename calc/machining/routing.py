"""How the tool comes and goes: rapid moves, paths in and paths out that the sweep has proved to be in air.

Rapid moves run along X or along Z, one axis at a time: what two axes do at once differs between controls. Insert and
holder are both looked at, on both sides of the axis.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise, takewhile

import numpy as np
from numpy.typing import NDArray

from calc.contour import Bounds, Element, Line, Point, Vector
from calc.machining.job import Move, Where, Why
from calc.machining.leads import smooth_in, smooth_out
from calc.machining.removal.polygons import Places, parts_of, polygons
from calc.machining.removal.stock import Stock
from calc.machining.removal.sweep import Outline, bodies, body_parts, boxes, far_off, folded
from calc.machining.roughing.planning import PLUNGE_SHARE, Leading, Planned

CLEAR = 0.1
"""mm: rapid moves keep so far off the stock where there is room."""

TOUCHING = 5e-4
"""mm: a tool that comes off a surface or goes along it is taken for so much smaller, so that it touches nothing."""

LONGER = 1.6
"""A path in that is not in air is tried longer by this factor, so many times."""

TRIES = 12

FEW_TRIES = 2
"""So often before another direction is tried."""

SAME = 1e-9
"""mm: places nearer than this are one."""

OUTWARD = 5.0
"""mm: so far out at a time a place to wait is looked for."""

MOST_OUTWARD = 80

HIGHEST = 1000.0
"""mm: what reaches farther out is never passed over."""

SHALLOWEST = 0.01
"""A flank that rises by less of its length leads from nowhere."""

ACROSS = 0.5
"""A path in whose direction has more than this share across the surface is a plunge."""


@dataclass(frozen=True)
class Air:
    """The stock of a moment, and the tool that is to move through what is free of it and of what stands `around` it."""

    stock: Stock
    outline: Outline
    around: Stock | None = None

    def free(self, path: Element, clear: float = -TOUCHING) -> bool:
        """Whether the whole tool goes along a line or an arc without touching stock, with `clear` (mm) to spare.

        >>> import shapely
        >>> from calc.machining.removal.stock import stock_of
        >>> air = Air(stock_of(shapely.box(-9.0, 0.0, 0.0, 5.0)), Outline((Point(0.0, 0.0),), 0.8))
        >>> air.free(Line(Point(2.0, 6.0), Point(-5.0, 6.0))), air.free(Line(Point(2.0, 5.7), Point(-5.0, 5.7)))
        (True, False)
        """
        return self._clear_of(self.stock, path, clear) and self.clear_around(path, clear)

    def clear_around(self, path: Element, clear: float = -TOUCHING) -> bool:
        """The same of what stands around the stock alone."""
        return self.around is None or self._clear_of(self.around, path, clear)

    def _clear_of(self, there: Stock, path: Element, clear: float) -> bool:
        within = path.bounds()
        for number, (body, box) in enumerate(zip(bodies(self.outline, clear), boxes(self.outline, clear), strict=True)):
            if far_off(box, within, there):
                continue
            beyond = box[1] + within.r_min < 0.0 and (bool(number) or self.outline.crosses(path))
            if any(there.meets(folded(ran) if beyond else ran) for ran in body_parts(body, path)):
                return False
        return True

    def free_at(self, places: Sequence[Point], clear: float = -TOUCHING) -> list[bool]:
        """The same where the tool stands still, for each of several places.

        >>> import shapely
        >>> from calc.machining.removal.stock import stock_of
        >>> air = Air(stock_of(shapely.box(-9.0, 0.0, 0.0, 5.0)), Outline((Point(0.0, 0.0),), 0.8))
        >>> air.free_at([Point(-2.0, 6.0), Point(-2.0, 5.7)])
        [True, False]
        """
        hit = np.zeros(len(places), dtype=bool)
        stocks = [there for there in (self.stock, self.around) if there is not None]
        for body, box in zip(bodies(self.outline, clear), boxes(self.outline, clear), strict=True):
            for there in stocks:
                near = [at for at, place in enumerate(places) if not far_off(box, Bounds.around(place), there)]
                if near:
                    hit[near] |= _met(there, body, [places[at] for at in near])
        return [not each for each in hit.tolist()]


def _met(there: Stock, body: Places, places: Sequence[Point]) -> NDArray[np.bool_]:
    """At which of several places a body meets what is there, on this side of the axis or beyond it."""
    rims = np.array([complex(*place) for place in places])[:, None] + body
    met = there.met_by(polygons(rims))
    return met | there.met_by(polygons(rims.conj())) if rims.imag.min() < 0.0 else met


def home_of(bounds: tuple[float, float, float, float], where: Where, leading: Leading, outline: Outline) -> Point:
    """Where the tool may wait: clear in front of the stock's `bounds` (mm) and, but for a bore, outside of them."""
    _, r_low, z_high, r_high = bounds
    around = bodies(outline, 0.0)
    behind = max(leading.nose, *(-float(body.real.min()) for body in around))
    below = max(leading.nose, *(-float(body.imag.min()) for body in around))
    front = z_high + leading.before + behind
    return Point(front, max(r_low - leading.nose, 0.0) if where == "bore" else r_high + leading.before + below)


class Router:
    """Leads a tool from pass to pass through what is free, from where it waits and back."""

    def __init__(
        self,
        home: Point,
        where: Where,
        leading: Leading,
        outline: Outline,
        guard: Stock,
        around: Stock | None = None,
    ) -> None:
        self.around = around
        home = home if around is None or where == "bore" else _clear_home(home, Air(around, outline))
        self.home, self.where, self.leading = home, where, leading
        self.outline = outline
        self.guard = guard
        self._here = home
        self._led: tuple[Element, ...] = ()
        self._feed: float | None = None

    def way_in(self, planned: Planned, stock: Stock) -> list[Move] | None:
        """Moves from where the tool stands to where the pass begins to cut; None where there is no clear path."""
        for air in self._airs(stock):
            for lead in self._leads(planned, air):
                if lead is not None and not air.clear_around(lead):
                    continue
                start = lead.start if lead else planned.pieces[0].path.start
                rapids = self._rapids(start, air)
                if rapids is not None:
                    return [*rapids, *self._lead_moves(planned, lead, air)]
        return None

    def _airs(self, stock: Stock) -> Iterator[Air]:
        """What is free of all; then, so that a hit is found and said, what is free of the stock alone."""
        if self.around is not None:
            yield Air(stock, self.outline, self.around)
        yield Air(stock, self.outline)

    def way_off(self, planned: Planned, moves: Sequence[Move], stock: Stock) -> list[Move]:
        """The path off the surface after the `moves` of a pass: the first free one, else back along the pass."""
        led = _fed_without_a_break(moves)
        last, air, self._feed = led[-1], Air(stock, self.outline, self.around), planned.feed
        for off in self._paths_off(planned, last):
            if air.free(off):
                self._here, self._led = off.end, (*led, off)
                return [Move((off,), planned.feed, "feed", "retract")]
        self._here, self._led = led[0].start, ()
        return [Move(_back_along(led), planned.feed, "feed", "retract")]

    def path_to(self, place: Point, stock: Stock) -> list[Move] | None:
        """Moves to a place from where the tool stands; None where there is no clear path."""
        paths = (self._rapids(place, air) for air in self._airs(stock))
        return next((path for path in paths if path is not None), None)

    def way_home(self, stock: Stock) -> list[Move] | None:
        """Moves back to where the tool waits; None where there is no clear path."""
        paths = (self._rapids(self.home, air, "return") for air in self._airs(stock))
        return next((path for path in paths if path is not None), None)

    def _rapids(self, end: Point, air: Air, why: Why = "approach") -> list[Move] | None:
        direct = self._route(self._here, end, air)
        if direct is not None:
            return [Move(tuple(direct), None, "rapid", why)] if direct else []
        if not self._led:
            return None
        onward = self._route(self._led[0].start, end, air)
        if onward is None:
            return None
        back = Move(_back_along(self._led), self._feed, "feed", "retract")
        return [back, Move(tuple(onward), None, "rapid", why)] if onward else [back]

    def _route(self, a: Point, b: Point, air: Air) -> list[Line] | None:
        for clear in (CLEAR, -TOUCHING):
            for corners in self._routes(a, b, air) if all(air.free_at([a, b], clear)) else ():
                lines = [Line(p, q) for p, q in pairwise(corners) if p.distance_to(q) > SAME]
                if all(air.free(line, clear) for line in lines):
                    return lines
        return None

    def _routes(self, a: Point, b: Point, air: Air) -> Iterator[list[Point]]:
        """Ways along the axes; with something around, out over that in X, along Z, and in."""
        yield from _corners(a, b, self.home, self.where)
        if air.around is not None and self.where != "bore":
            yield from ([a, Point(a.z, r), Point(b.z, r), b] for r in self._heights)

    @cached_property
    def _heights(self) -> list[float]:
        """The radii at which the tool passes over what stands around, mm; none over what has no end."""
        below = max(-float(body.imag.min()) for body in bodies(self.outline, 0.0))
        tops = set() if self.around is None else {float(part.bounds[3]) for part in parts_of(self.around.whole)}
        return [top + below + self.leading.before for top in sorted(tops) if top < HIGHEST]

    def _leads(self, planned: Planned, air: Air) -> Iterator[Element | None]:
        """Ways onto the first element, each from where it is in air; None where that begins in air itself."""
        first = planned.pieces[0].path
        if planned.kind == "finish" and not planned.opens:
            for smooth in smooth_in(self.leading.lead, first, planned.away, self.leading.lead_size):
                if (
                    smooth.bounds().r_min >= 0.0
                    and all(air.free_at([smooth.start], CLEAR))
                    and not self._gouges(smooth)
                ):
                    yield smooth
        if planned.opens and all(air.free_at([first.start], CLEAR)):
            yield None
        ways = dict.fromkeys(self._ways_to_lead(planned, first))
        for way in (*self._down_the_flank(planned, first, air), *ways):
            lead = self._straight_in(first, way, air)
            if lead is not None and not self._gouges(lead):
                yield lead

    def _straight_in(self, first: Element, way: tuple[Vector, float, int], air: Air) -> Line | None:
        """A line onto the first element from the nearest place in air in a direction, tried so often, longer."""
        away, least, tries = way
        starts = [first.start.moved(away, least * LONGER**tried) for tried in range(tries)]
        in_air = [start for start, free in zip(starts, air.free_at(starts, CLEAR), strict=True) if free]
        return next((Line(start, first.start) for start in in_air if start.r >= 0.0), None)

    def _down_the_flank(self, planned: Planned, first: Element, air: Air) -> Iterator[tuple[Vector, float, int]]:
        """The path down the flank where a level begins inside the stock: no edge cuts deeper there than the level."""
        led, flank = self.leading, planned.flank
        steep = 0.0 if flank is None else flank.direction.dot(planned.away)
        if flank is None or steep <= SHALLOWEST:
            return
        before = first.start.moved(first.tangent_at(0.0), -led.before)
        least = (led.depth + led.lift) / steep
        tries = sum(least * LONGER**tried <= flank.length for tried in range(FEW_TRIES))
        if tries and not air.free(Line(before, first.start)):
            yield flank.direction, least, tries

    def _ways_to_lead(self, planned: Planned, first: Element) -> Iterator[tuple[Vector, float, int]]:
        """Directions to lead in from, the least length (mm), how often it is tried longer.

        Along the element, at half a right angle onto it, off the surface, along the axes.
        """
        led, back = self.leading, first.tangent_at(0.0).times(-1.0)
        if led.before > SAME:
            yield back, led.before, FEW_TRIES
            yield _between(back, planned.away), led.before, FEW_TRIES
            yield back, led.before * LONGER**FEW_TRIES, TRIES - FEW_TRIES
        yield planned.away, led.depth + led.lift, TRIES
        yield Vector(0.0, -1.0 if self.where == "bore" else 1.0), led.depth + led.lift, TRIES
        yield Vector(1.0, 0.0), led.before + led.lift, TRIES

    def _gouges(self, path: Element) -> bool:
        body = bodies(self.outline, 0.0)[0]
        return any(self.guard.meets(folded(ran)) for ran in body_parts(body, path))

    def _lead_moves(self, planned: Planned, lead: Element | None, air: Air) -> list[Move]:
        """The path in as an approach in air, or as a plunge that cuts, at less feed."""
        if lead is None:
            return []
        if air.free(lead):
            return [Move((lead,), planned.feed, "feed", "approach")]
        plunges = abs(lead.tangent_at(lead.length).dot(planned.away)) > ACROSS
        feed = planned.feed * PLUNGE_SHARE if planned.feed is not None and plunges else planned.feed
        return [Move((lead,), feed, "feed", "cut")]

    def _paths_off(self, planned: Planned, last: Element) -> Iterator[Element]:
        """Ways off the end of a pass: as its lead wants it, away from the surface and a little back, along an axis."""
        ahead = last.tangent_at(last.length)
        on_left = planned.pieces[0].path.tangent_at(0.0).left().dot(planned.away) > 0.0
        normal = ahead.left() if on_left else ahead.left().times(-1.0)
        if planned.kind == "finish" and not planned.opens:
            yield from smooth_out(self.leading.lead, last, normal, self.leading.lead_size)
        for way in dict.fromkeys(self._straight_off(last, ahead, normal)):
            yield Line(last.end, last.end.moved(way, self.leading.lift))

    def _straight_off(self, last: Element, ahead: Vector, normal: Vector) -> Iterator[Vector]:
        if last.end.r <= self.leading.nose:
            yield Vector(1.0, 0.0)
        yield Vector(normal.z - ahead.z, normal.r - ahead.r)
        yield normal
        yield Vector(0.0, -1.0 if self.where == "bore" else 1.0)
        yield Vector(1.0, 0.0)


def _fed_without_a_break(moves: Sequence[Move]) -> list[Element]:
    """What is fed after the last rapid move: back along it the tool comes without a gap."""
    fed = takewhile(lambda move: move.kind == "feed", reversed(moves))
    return [element for move in reversed(list(fed)) for element in move.elements]


def _back_along(led: Sequence[Element]) -> tuple[Element, ...]:
    return tuple(element.reversed() for element in reversed(led))


def _clear_home(home: Point, air: Air) -> Point:
    """Where the tool waits, moved out along X until it is clear of what stands around; as it was if it never is."""
    places = [Point(home.z, home.r + step * OUTWARD) for step in range(MOST_OUTWARD)]
    free = air.free_at(places, CLEAR)
    return next((place for place, is_free in zip(places, free, strict=True) if is_free), home)


def _between(a: Vector, b: Vector) -> Vector:
    """The direction half way between two that are not opposite."""
    middle = Vector(a.z + b.z, a.r + b.r)
    length = math.hypot(*middle)
    return middle.times(1.0 / length) if length > SAME else a


def _corners(a: Point, b: Point, home: Point, where: Where) -> Iterator[list[Point]]:
    """Ways from one place to another along the axes, the shortest first, then over what may be between."""
    by_z, by_x = [a, Point(b.z, a.r), b], [a, Point(a.z, b.r), b]
    yield from ((by_x, by_z) if where == "face" else (by_z, by_x))
    front, out = Point(home.z, a.r), Point(a.z, home.r)
    over = [a, out, Point(b.z, home.r), b]
    before = [a, front, Point(home.z, b.r), b]
    out_and_round = [a, out, home, Point(home.z, b.r), b]
    front_and_round = [a, front, home, Point(b.z, home.r), b]
    outer, inner = (over, out_and_round), (before, front_and_round)
    yield from ((*outer, *inner) if where == "outside" else (*inner, *outer))
