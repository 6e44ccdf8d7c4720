"""The stock and the finished part as areas of the half plane (z, r), and what lies between them."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

import numpy as np

from calc.contour import Chain, Element, Line, Point, Side, Vector, toward
from calc.language.messages import Message
from calc.language.problems import Fault, Impossible
from calc.machining.removal.polygons import Area, Places, only_areas, points_along, polygon
from calc.machining.removal.stock import Stock

FAR = 4.0
"""How far out the tool's side of a contour is closed, as a share of all that is looked at."""

ON_AXIS = 1e-9
"""mm: a contour that ends so near to the axis ends on it."""

NO_FRONT = 1e-3
"""mm: stock that stands no more than this in front of a Z is not in front of it."""

PARALLEL = math.cos(math.radians(2.0))
"""A contour that runs out toward the chuck at less than 2 degrees to the axis would never leave the bar by itself."""


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar (mm): its radius, the z of its raw face and of its end toward the chuck, the radius of a bore in it."""

    radius: float
    face: float
    back: float
    bore: float = 0.0
    bore_depth: float | None = None

    def area(self) -> Area:
        """The bar as an area.

        >>> Bar(10.0, 0.0, -5.0, 2.0).area().area
        40.0
        """
        import shapely  # noqa: PLC0415 - loaded on first use

        whole = shapely.box(self.back, 0.0, self.face, self.radius)
        if not self.bore:
            return whole
        bottom = self.back if self.bore_depth is None else self.face - self.bore_depth
        return whole.difference(shapely.box(bottom, 0.0, self.face, self.bore))


def tool_side(chain: Chain, side: Side, reach: float, beyond: float = 0.0) -> Area:
    """The area on the tool's side of a contour that is led on beyond its ends, out to some times `reach` (mm).

    An end on the axis is led on across it; one that runs along the axis toward the chuck is led on by `beyond` (mm),
    from where the tool leaves along X; any other is led straight on.
    """
    path = points_along(chain)
    start, end = chain.elements[0], chain.elements[-1]
    before = _led_on(start.tangent_at(0.0).times(-1.0), start.tangent_at(0.0), chain.start, side, beyond)
    after = _led_on(end.tangent_at(end.length), end.tangent_at(end.length), chain.end, side, beyond)
    middle = complex((chain.bounds.z_min + chain.bounds.z_max) / 2.0, 0.0)
    radius = FAR * (reach + chain.bounds.size)
    first, last = _out_to(*before, middle, radius), _out_to(*after, middle, radius)
    around = _around(last, first, middle, ccw=side == "left")
    return polygon(np.concatenate([[first, before[0]], path, [after[0], last], around]))


def led_on(chain: Chain, side: Side, length: float) -> Chain:
    """The contour led straight on by a length (mm) beyond the ends from which the tool leaves straight.

    >>> from calc.contour import Line
    >>> cone = Chain((Line(Point(0.0, 5.0), Point(-4.0, 8.0)),))
    >>> round(led_on(cone, "right", 5.0).end.r, 9)
    11.0
    """
    elements: list[Element] = list(chain)
    start, end = elements[0], elements[-1]
    for outward, ahead, spot in (
        (start.tangent_at(0.0).times(-1.0), start.tangent_at(0.0), chain.start),
        (end.tangent_at(end.length), end.tangent_at(end.length), chain.end),
    ):
        place, way = _led_on(outward, ahead, spot, side, 1.0)
        if spot.r <= ON_AXIS or place != complex(*spot):
            continue
        beyond = spot.shifted(length * way.real, length * way.imag)
        if spot == chain.start:
            elements.insert(0, Line(beyond, spot))
        else:
            elements.append(Line(spot, beyond))
    return Chain(tuple(elements))


def _led_on(outward: Vector, ahead: Vector, end: Point, side: Side, beyond: float) -> tuple[complex, complex]:
    """From where and in which direction a contour is led on beyond an end, outward there."""
    place = complex(*end)
    if abs(end.r) <= ON_AXIS:
        return place, -1j
    if outward.z < -PARALLEL:
        return place - beyond, 1j if toward(side) * ahead.left().r > 0.0 else -1j
    return place, complex(*outward)


def _out_to(place: complex, way: complex, middle: complex, radius: float) -> complex:
    """Where a ray leaves the circle about `middle`.

    >>> _out_to(3j, 1 + 0j, 0j, 5.0), _out_to(1 + 1j, 1j, 1 - 2j, 5.0)
    ((4+3j), (1+3j))
    """
    back = place - middle
    along = (back * way.conjugate()).real
    return place + way * (-along + math.sqrt(max(along * along - abs(back) ** 2 + radius * radius, 0.0)))


def _around(start: complex, end: complex, middle: complex, *, ccw: bool) -> Places:
    """Points on the far circle from one place to another."""
    turn = cmath.phase((end - middle) / (start - middle)) % math.tau
    turn = turn if ccw else turn - math.tau
    steps = 64
    return np.asarray(middle + (start - middle) * np.exp(1j * turn * np.arange(1, steps) / steps))


@dataclass(frozen=True, slots=True)
class Regions:
    """What is there, what shall become of it, and what is to be removed (areas of the half plane)."""

    stock: Area
    finished: Area
    to_remove: Area


def work_of(stock: Area, chain: Chain, side: Side, beyond: float = 0.0, *, faced: bool = False) -> Regions:
    """The finished part in a stock: all of it that is not on the tool's side of the contour.

    With `faced` nothing stays in front of the contour's foremost Z. Raises `Impossible` for a contour whose ends, led
    on straight, run into each other or into it.

    >>> from calc.contour import Line
    >>> turned = Chain((Line(Point(0.0, 6.0), Point(-3.0, 6.0)),))
    >>> work = work_of(Bar(10.0, 0.0, -8.0).area(), turned, "right")
    >>> round(work.to_remove.area, 9), round(work.finished.area, 9)
    (12.0, 68.0)
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    z_low, r_low, z_high, r_high = stock.bounds
    side_of_tool = tool_side(chain, side, max(abs(z_low), abs(z_high), abs(r_low), abs(r_high)), beyond)
    if not shapely.is_valid(side_of_tool):
        text = (
            "The contour's ends, led on straight at {start} and {end}, run into each other or into the contour: such "
            "a part cannot be turned. Add the elements that follow."
        )
        raise Impossible(Fault("contour", Message(text, {"start": chain.start, "end": chain.end})))
    if faced and z_high > chain.bounds.z_max:
        side_of_tool = side_of_tool.union(shapely.box(chain.bounds.z_max, r_low, z_high, r_high))
    return Regions(stock, only_areas(stock.difference(side_of_tool)), only_areas(stock.intersection(side_of_tool)))


def in_front_of(stock: Stock, z: float) -> tuple[float, float, float, float] | None:
    """The bounds (mm) of what of a stock is in front of a Z, None where that is nothing.

    >>> from calc.machining.removal.stock import stock_of
    >>> in_front_of(stock_of(Bar(10.0, 1.0, -8.0).area()), 0.0)
    (0.0, 0.0, 1.0, 10.0)
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    _, r_low, z_high, r_high = stock.bounds
    parts = stock.common(shapely.box(z, r_low, z_high + 1.0, r_high))
    rows = [part.bounds for part in parts if part.bounds[2] > z + NO_FRONT]
    if not rows:
        return None
    return min(r[0] for r in rows), min(r[1] for r in rows), max(r[2] for r in rows), max(r[3] for r in rows)


def on_the_wrong_side(chain: Chain, side: Side, where: str) -> bool:
    """Whether the tool would stand in the part: outside, in front or in the bore must be on its side of the contour.

    >>> from calc.contour import Line
    >>> turned = Chain((Line(Point(0.0, 6.0), Point(-3.0, 6.0)),))
    >>> on_the_wrong_side(turned, "right", "outside"), on_the_wrong_side(turned, "left", "outside")
    (False, True)
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    bounds, far = chain.bounds, chain.bounds.size
    middle = Point((bounds.z_min + bounds.z_max) / 2.0, (bounds.r_min + bounds.r_max) / 2.0)
    place = {
        "outside": Point(middle.z, bounds.r_max + far),
        "face": Point(bounds.z_max + far, middle.r),
        "bore": Point(bounds.z_max + far, 0.0),
    }[where]
    side_of_tool = tool_side(chain, side, far, far)
    return shapely.is_valid(side_of_tool) and not side_of_tool.contains(shapely.Point(place))
