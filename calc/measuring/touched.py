"""A point of an arc or slope that a probe or a dial with a ball touched: where it is, and what is read there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from calc.contour import Arc, Chain, Element, Side, Vector
from calc.measuring.causes import State
from calc.measuring.places import ALONG_R, ALONG_Z, STEEPEST, Place, What, size

Along = Literal["x", "z"]


def find_point(
    chain: Chain, side: Side, along: Along, at: float, ball: float = 0.0, wanted: float | None = None
) -> Place | None:
    """Where a ball of radius `ball` (mm, 0: a point of the surface) touches the contour, read at its centre.

    Read `along` Z it stands at the radius `at` and gives the depth of its centre, along X at the z `at` the diameter on
    which its centre is (all mm). Of several places the one nearest the `wanted` size, or else the squarest; None where
    there is none, or where the ball is larger than a hollow arc.

    >>> from calc.contour import Arc, Point
    >>> dish = Chain((Arc(Point(-5.0, 0.0), Point(0.0, 15.0), Point(20.0, 0.0), "cw"),))
    >>> size(find_point(dish, "right", "z", 0.0, 2.0), State(), 3)
    3.0
    """
    found = [place for element in chain for place in _on(element, side, along, at, ball)]
    if not found:
        return None
    gauge = ALONG_Z if along == "z" else ALONG_R
    return min(
        found,
        key=lambda place: (
            0.0 if wanted is None else abs(size(place, State(), 0) - wanted),
            -abs(place.normal.dot(gauge)),
        ),
    )


def _on(element: Element, side: Side, along: Along, at: float, ball: float) -> Iterator[Place]:
    """The places of one element: the ball's centre stands on its parallel."""
    if ball and isinstance(element, Arc) and _is_hollow(element, side) and ball >= element.radius:
        return
    centres = element.offset(ball, side) if ball else element
    what: What = "point" if along == "z" else "diameter"
    for spot in centres.points_at_r(at) if along == "z" else centres.points_at_z(at):
        left = centres.tangent_at(centres.locate(spot)).left()
        normal = left if side == "left" else left.times(-1.0)
        if abs(normal.dot(ALONG_Z if along == "z" else ALONG_R)) > STEEPEST:
            yield replace(Place(what, spot, normal, element), ball=ball)


def _is_hollow(arc: Arc, side: Side) -> bool:
    left: Vector = arc.tangent_at(0.0).left()
    normal = left if side == "left" else left.times(-1.0)
    return arc.start.to(arc.centre).dot(normal) > 0.0
